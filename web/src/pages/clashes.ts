import { ask, type ChoiceView, type ClashView } from '../ask/ask';
import { hasPlaces, type Touch } from '../drawing/clash_places';

/** A part in a slot of an order as it was at some revision. */
export interface Wanted {
  order: string;
  revision: number;
  slot: string;
  part: string;
}

const kMost = 200;  // answers kept; beyond that the oldest goes
const answers = new Map<string, Promise<ClashView>>();
const arrived = new Map<string, ClashView>();
const keyOf = ({ order, revision, slot, part }: Wanted) => `${order} ${revision} ${slot} ${part}`;

/** For tests: forgets every answer kept. */
export function forgetClashes() {
  answers.clear();
  arrived.clear();
}

/** Why the part is closed; asked once for each revision of the order. */
export function askWhyNot(wanted: Wanted): Promise<ClashView> {
  const key = keyOf(wanted);
  const known = answers.get(key);
  if (known) return known;
  const answer = ask.whyNot(wanted.order, wanted.slot, wanted.part);
  answers.set(key, answer);
  const [oldest] = answers.keys();
  if (answers.size > kMost && oldest) {
    answers.delete(oldest);
    arrived.delete(oldest);
  }
  answer.then((clash) => arrived.set(key, clash), () => answers.delete(key));
  return answer;
}

export const clashKnown = (wanted: Wanted) => arrived.get(keyOf(wanted));

/** What a part of this status would be on the bike, in the words of a verdict. */
const kVerdicts: Record<string, string> = {
  'closed': 'does not fit', 'not known': 'not known', 'open with care': 'fits with care',
  'open with adapter': 'fits with',
};

const kToldMost = 2;  // rules marked on the drawing: the most telling

/** What would meet where with this part: from the answer to "why not?" once that is known. */
export function touchesOf(choice: ChoiceView, slot: string, clash?: ClashView): Touch[] {
  const verdict = kVerdicts[choice.status];
  if (!verdict || choice.chosen) return [];
  if (clash) {
    return clash.rules.slice(0, kToldMost).map(({ slots, sentence }) => (
      { verdict, sentence, slots: slots.includes(slot) ? slots : [slot, ...slots] }));
  }
  const touched = [...new Set([slot, ...choice.touches])];
  const slots = hasPlaces({ slots: touched }) ? touched : [slot];
  return [{ verdict, sentence: choice.note, slots }];
}
