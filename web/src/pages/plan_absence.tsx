import { useState } from 'preact/hooks';
import { ask, type PlanView, Refusal } from '../ask/ask';
import { Refused } from '../marks/waiting';
import { planWords } from '../words/plan';
import { ChoiceField, DayField, TickField } from './field';

const t = planWords.absence;

/** Tells the book that somebody is away, or back; the plan then says what of it no longer holds. */
export function PlanAbsence({ plan, onPlan }: { plan: PlanView; onPlan: (plan: PlanView) => void }) {
  const today = plan.now.slice(0, 10);
  const [person, setPerson] = useState(plan.people[0]?.id ?? '');
  const [from, setFrom] = useState(today);
  const [to, setTo] = useState(today);
  const [back, setBack] = useState(false);
  const [refusal, setRefusal] = useState<Refusal | undefined>(undefined);
  const [done, setDone] = useState('');

  const save = async (event: Event) => {
    event.preventDefault();
    setDone('');
    setRefusal(undefined);
    try {
      onPlan(await ask.tellAbsence(person, { from, to, is_back: back }));
      setDone(t.saved(plan.people.find((p) => p.id === person)?.name ?? person));
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      setRefusal(error);
    }
  };
  return (
    <details class="plan-more">
      <summary>{t.title}</summary>
      <form onSubmit={save} noValidate>
        <div class="move-fields">
          <ChoiceField label={t.person} value={person} onValue={setPerson} options={plan.people.map((p) => [p.id, p.name])} />
          <DayField label={t.from} value={from} onValue={setFrom} />
          <DayField label={t.to} value={to} onValue={setTo} />
        </div>
        <TickField label={t.back} value={back} onValue={setBack} />
        {refusal && <Refused refusal={refusal} />}
        <p class="deeds"><button type="submit" class="do">{t.save}</button> <span role="status">{done}</span></p>
      </form>
    </details>
  );
}
