import { useState } from 'preact/hooks';
import { ask, type PlanSettings, type PlanView, Refusal } from '../ask/ask';
import { Refused } from '../marks/waiting';
import { planWords } from '../words/plan';
import { TextField } from './field';
import { typedNumber } from './order_form';

const t = planWords.weights;
const kFields: (keyof PlanSettings)[] = ['frozen_days', 'day_late', 'moved', 'kit_day', 'last_day', 'uneven_hour'];
type Typed = Record<keyof PlanSettings, string>;

const typedOf = (settings: PlanSettings) =>
  Object.fromEntries(kFields.map((field) => [field, String(settings[field])])) as Typed;

/** What one of each costs: the shop's own judgement, changed here. */
export function PlanWeights({ plan, onPlan }: { plan: PlanView; onPlan: (plan: PlanView) => void }) {
  const [typed, setTyped] = useState<Partial<Typed>>({});
  const [wrong, setWrong] = useState<Partial<Typed>>({});
  const [refusal, setRefusal] = useState<Refusal | undefined>(undefined);
  const [done, setDone] = useState('');
  const shown = { ...typedOf(plan.settings), ...typed };

  const save = async (event: Event) => {
    event.preventDefault();
    const read = kFields.map((field) => [field, typedNumber(shown[field], 1)] as const);
    const bad = read.filter(([, value]) => value === undefined || value === null);
    setDone('');
    setRefusal(undefined);
    setWrong(Object.fromEntries(bad.map(([field]) => [field, t.no(shown[field].trim())])));
    if (bad.length > 0) return;
    try {
      onPlan(await ask.setPlan(Object.fromEntries(read) as unknown as PlanSettings));
      setTyped({});
      setDone(t.saved);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      const field = kFields.find((one) => error.view.field.startsWith(one));
      if (field) setWrong({ [field]: error.view.sentence });
      else setRefusal(error);
    }
  };
  return (
    <details class="plan-more">
      <summary>{t.title}</summary>
      <form onSubmit={save} noValidate>
        <p>{t.lead}</p>
        <div class="weights">
          {kFields.map((field) => (
            <TextField key={field} label={t[field]} number value={shown[field]}
              complaint={wrong[field]} onValue={(value) => setTyped((now) => ({ ...now, [field]: value }))} />
          ))}
        </div>
        {refusal && <Refused refusal={refusal} />}
        <p class="deeds"><button type="submit" class="do">{t.save}</button> <span role="status">{done}</span></p>
      </form>
    </details>
  );
}
