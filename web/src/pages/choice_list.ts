import type { ChoiceView } from '../ask/ask';

/** By what the parts of a slot are put in order; what can be chosen comes first in any of them. */
export const kSorts = ['fit', 'price', 'mass', 'day'] as const;
export type Sort = (typeof kSorts)[number];

/** A choice with its words in small letters, made once so that typing stays quick for thousands. */
export interface SoughtChoice {
  choice: ChoiceView;
  text: string;
}

const wordsOf = ({ part, status, here, chosen }: ChoiceView) =>
  `${part.name} ${part.maker} ${part.id} ${status} ${here} ${chosen ? 'chosen' : ''}`;

export function soughtChoices(choices: ChoiceView[]): SoughtChoice[] {
  return choices.map((choice) => ({ choice, text: wordsOf(choice).toLowerCase() }));
}

/** The choices whose name, maker, article, status or place has every one of the words. */
export function choicesThatMatch(sought: SoughtChoice[], typed: string): ChoiceView[] {
  const words = typed.toLowerCase().split(/\s+/).filter(Boolean);
  return sought
    .filter(({ text }) => words.every((word) => text.includes(word)))
    .map(({ choice }) => choice);
}

/** The statuses from best to worst; a word that is not among them comes last. */
const kStatuses = [
  'open', 'open with adapter', 'open with care', 'not known', 'not proven', 'closed',
];

const rankOf = ({ status }: ChoiceView) => {
  const rank = kStatuses.indexOf(status);
  return rank < 0 ? kStatuses.length : rank;
};

export const isOpen = ({ status }: { status: string }) => status.startsWith('open');

type Figure = (choice: ChoiceView) => number | null;

const kFigures: Record<Exclude<Sort, 'fit'>, Figure> = {
  price: (choice) => choice.price_difference_cents,
  mass: (choice) => choice.mass_difference_kg,
  day: (choice) => choice.ready_difference_days,
};

/** Smaller first; what is not known comes after everything that is. */
function compareFigures(a: number | null, b: number | null): number {
  if (a === null || b === null) return Number(a === null) - Number(b === null);
  return a - b;
}

/** What is open first, then by the sort, then as the server gave it. */
export function sortedChoices(choices: ChoiceView[], sort: Sort): ChoiceView[] {
  const figure = kFigures[sort === 'fit' ? 'price' : sort];
  // By price a part with care may stand before one without; by fit it may not.
  const rank = (choice: ChoiceView) => (sort !== 'fit' && isOpen(choice) ? 0 : rankOf(choice));
  return choices.toSorted((a, b) =>
    rank(a) - rank(b) || compareFigures(figure(a), figure(b)));
}

/** Where each row begins in pixels, and after the last the height of all. */
export function rowTops(heights: number[]): number[] {
  const tops = [0];
  for (const height of heights) tops.push((tops.at(-1) ?? 0) + height);
  return tops;
}

/** The row that covers this height; the last one below everything. */
export function rowAt(tops: number[], height: number): number {
  let low = 0;
  let high = Math.max(0, tops.length - 2);
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if ((tops[middle] ?? 0) <= height) low = middle;
    else high = middle - 1;
  }
  return low;
}

export interface Sight {
  top: number;     // pixels that are scrolled away above
  height: number;  // of the box through which the list is seen
}

const kSpare = 6;  // rows drawn beyond each edge, so that scrolling finds them there

/** Rows worth drawing: [first, one past the last]. */
export function rowsInSight(tops: number[], sight: Sight): [number, number] {
  const count = tops.length - 1;
  const first = Math.max(0, rowAt(tops, sight.top) - kSpare);
  return [first, Math.min(count, rowAt(tops, sight.top + sight.height) + 1 + kSpare)];
}

/** How far the box has to be scrolled so that the row is seen whole; nothing moves needlessly. */
export function topToShow(tops: number[], row: number, sight: Sight): number {
  const [above, below] = [tops[row] ?? 0, tops[row + 1] ?? 0];
  if (above < sight.top) return above;
  return below > sight.top + sight.height ? Math.max(0, below - sight.height) : sight.top;
}

/** Where a key leads in a list of rows; undefined when the key does not move. */
export function rowAfterKey(key: string, now: number, tops: number[], sight: Sight) {
  const last = tops.length - 2;
  const page = (way: 1 | -1) => {
    const there = rowAt(tops, Math.max(0, (tops[now] ?? 0) + way * sight.height));
    return there === now ? now + way : there;
  };
  const to = {
    ArrowDown: now + 1, ArrowUp: now - 1, Home: 0, End: last, PageDown: page(1), PageUp: page(-1),
  }[key];
  return to === undefined || last < 0 ? undefined : Math.min(last, Math.max(0, to));
}

/** A key that writes something, and so belongs to the find field. Space chooses, "/" finds all. */
export function startsSearch(event: KeyboardEvent): boolean {
  if (event.ctrlKey || event.metaKey || event.altKey || event.isComposing) return false;
  return event.key.length === 1 && event.key !== ' ' && event.key !== '/';
}
