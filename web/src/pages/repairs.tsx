import { ask, type ChangeView, type OrderView, type RepairView } from '../ask/ask';
import { useAnswer, useFreshFor } from '../ask/use_answer';
import { useShop } from '../frame/shop';
import { Verdict } from '../marks/mark';
import { Refused, Waiting } from '../marks/waiting';
import { massDifference, moneyDifference } from '../words/amount';
import { say } from '../words/say';
import { type Choices, choicesOf } from './choosing';

const t = say.editor;

function Change({ change }: { change: ChangeView }) {
  return (
    <li>
      <span class="of-slot">{change.slot_name}</span> <b>{change.to_name || t.noPart}</b>{' '}
      <span class="quiet">{t.from} {change.from_name || t.noPart}</span>
    </li>
  );
}

function useCost({ price_difference_cents: cents, mass_difference_kg: kg }: RepairView): string {
  const { currency } = useShop();
  const price = cents === null ? ''
    : cents === 0 ? say.order.same : moneyDifference(cents, currency);
  const mass = kg === null ? say.order.massNotKnown
    : kg === 0 ? say.order.sameMass : massDifference(kg);
  return [price, mass].filter(Boolean).join(' · ');
}

interface RepairProps {
  repair: RepairView;
  deed: string;
  busy: boolean;
  onTake: (repair: RepairView) => void;
}

function Repair({ repair, deed, busy, onTake }: RepairProps) {
  const cost = useCost(repair);
  return (
    <li class="repair">
      <ul class="changes">{repair.changes.map((one) => <Change key={one.slot} change={one} />)}</ul>
      <p class="repair-cost"><span class="num">{cost}</span> <Verdict word={repair.verdict} /></p>
      <button type="button" class="do" disabled={busy} aria-label={`${deed}. ${repair.sentence}`}
        onClick={() => onTake(repair)}>
        {deed}
      </button>
    </li>
  );
}

/** Ways to mend, best first: what changes, what that costs, and the button that does it. */
export function RepairList({ repairs, ...rest }: Omit<RepairProps, 'repair'> & {
  repairs: RepairView[];
}) {
  if (repairs.length === 0) return null;
  return (
    <ol class="repairs">
      {repairs.map((repair) => <Repair key={repair.sentence} repair={repair} {...rest} />)}
    </ol>
  );
}

/** Whether the choices cannot all be part of one whole bike. */
export const isBroken = ({ spec }: OrderView) => spec.status === 'closed';

interface PanelProps {
  view: OrderView;
  busy: boolean;
  onTake: (choices: Choices) => void;
}

/** For a specification that clashes: the fewest changes after which a whole bike exists again. */
export function RepairsPanel({ view, busy, onTake }: PanelProps) {
  const { id } = view.line;
  const answered = useAnswer(`repairs ${id}`, () => ask.repairs(id), () => false);
  useFreshFor(view.revision, answered.now);
  const { value, refusal } = answered;
  return (
    <section class="mend" aria-labelledby="mend">
      <h2 id="mend">{t.repairs}</h2>
      {refusal ? <Refused refusal={refusal} again={answered.again} />
        : !value ? <Waiting words={t.searching} />
          : value.length === 0 ? <p>{t.repairsNone}</p> : <p class="quiet">{t.repairsLead}</p>}
      {value && !refusal && (
        <RepairList repairs={value} deed={t.takeRepair} busy={busy}
          onTake={(repair) => onTake(choicesOf(repair))} />
      )}
    </section>
  );
}
