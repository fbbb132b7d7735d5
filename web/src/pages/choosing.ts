import { useCallback, useRef, useState } from 'preact/hooks';
import { ask, type OrderView, type RepairView, Refusal } from '../ask/ask';

/** Parts for slots, to be chosen together; null leaves the slot empty. */
export type Choices = Record<string, string | null>;

/** One step of choosing: what was before and what is now, so that it can be taken back. */
export interface Step {
  before: Choices;
  after: Choices;
}

const partIn = (view: OrderView, slot: string) =>
  view.spec.slots.find((s) => s.slot === slot)?.part?.id ?? null;

/** The step from the order as it is to these choices. */
export function stepTo(view: OrderView, after: Choices): Step {
  const before: Choices = {};
  for (const slot of Object.keys(after)) before[slot] = partIn(view, slot);
  return { before, after };
}

/** Whether the order still is as the step left it, so that taking it back means what it says. */
export function canBeTakenBack(view: OrderView, { before, after }: Step): boolean {
  const slots = Object.keys(after);
  return slots.every((slot) => partIn(view, slot) === after[slot]) &&
    slots.some((slot) => before[slot] !== after[slot]);
}

/** What a repair chooses; an empty part is none. */
export const choicesOf = ({ changes }: Pick<RepairView, 'changes'>): Choices =>
  Object.fromEntries(changes.map(({ slot, to }) => [slot, to || null]));

export interface Choosing {
  busy: boolean;
  refusal: Refusal | undefined;
  last: Step | undefined;
  take: (choices: Choices) => void;
}

function tell(view: OrderView, after: Choices): Promise<OrderView> {
  const { line: { id }, revision } = view;
  const [only, ...more] = Object.entries(after);
  return only && more.length === 0
    ? ask.choose(id, only[0], { part: only[1], revision })
    : ask.chooseAll(id, { choices: after, revision });
}

/** Chooses parts with the revision that was looked at, and shows what came of it. */
export function useChoosing(
  view: OrderView, put: (view: OrderView) => void, again: () => void,
): Choosing {
  const [busy, setBusy] = useState(false);
  const [refusal, setRefusal] = useState<Refusal | undefined>(undefined);
  const [last, setLast] = useState<Step | undefined>(undefined);
  const now = useRef({ view, put, again, busy });
  now.current = { view, put, again, busy };
  const take = useCallback(async (after: Choices) => {
    const { view: before, busy: already } = now.current;
    if (already) return;
    now.current.busy = true;
    setBusy(true);
    setRefusal(undefined);
    try {
      const answer = await tell(before, after);
      now.current.put(answer);
      setLast(stepTo(before, after));
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      setRefusal(error);
      if (error.view.code === 'conflict') now.current.again();
    } finally {
      setBusy(false);
    }
  }, []);
  return { busy, refusal, last, take };
}
