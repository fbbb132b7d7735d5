import type { BarView, PlanView } from '../ask/ask';
import { minuteOf, type Span } from './plan_axis';

/** One operation of one bike as it stands in a plan. */
export interface Work {
  key: string;  // "2041 A-20"
  order: string;
  rider: string;
  operation: string;
  name: string;
  person: string;
  area: string;
  stand: number;       // of the area, from 1; 0: more than one on the way
  start: number;       // minute
  end: number;         // of the work
  pieces: Span[];      // at work on it: what lies between is a break or a night
  waitsUntil: number;  // end of what goes on untouched after the work; `end` when nothing does
  frozen: boolean;
  pinned: boolean;
  late: boolean;
  cannot: string;      // why it cannot be done as agreed; empty when it can
  others: string[];    // names of those who lend a hand from start to end
  lending: string[];   // the same by id
}

export const keyOf = (order: string, operation: string) => `${order} ${operation}`;

export const minutesOf = (work: Work) =>
  work.pieces.reduce((sum, piece) => sum + piece.to - piece.from, 0);

function workOf(bar: BarView, person: string): Work {
  const end = minuteOf(bar.end);
  return {
    key: keyOf(bar.order, bar.operation), order: bar.order, rider: bar.rider,
    operation: bar.operation, name: bar.name, person, area: bar.area, stand: bar.stand,
    start: minuteOf(bar.start), end, pieces: [],
    waitsUntil: end + bar.unattended_minutes,
    frozen: bar.frozen, pinned: bar.pinned, late: bar.late, cannot: bar.cannot, others: bar.others, lending: [],
  };
}

/** All work on the wall by time; the pieces of an operation are put together again. */
export function worksOf(plan: PlanView): Work[] {
  const works = new Map<string, Work>();
  for (const person of plan.people) {
    for (const bar of person.bars) {
      if (bar.lends) continue;
      const key = keyOf(bar.order, bar.operation);
      const work = works.get(key) ?? workOf(bar, person.id);
      work.pieces.push({ from: minuteOf(bar.from), to: minuteOf(bar.to) });
      works.set(key, work);
    }
  }
  for (const person of plan.people) {
    for (const bar of person.bars) {
      if (bar.lends) works.get(keyOf(bar.order, bar.operation))?.lending.push(person.id);
    }
  }
  for (const work of works.values()) work.pieces.sort((a, b) => a.from - b.from);
  return [...works.values()].sort((a, b) => a.start - b.start || a.key.localeCompare(b.key));
}

/** The chain of one bike, first to last. */
export const chainOf = (works: Work[], order: string) => works.filter((work) => work.order === order);

/** Work of the plan looked at that stands elsewhere than in another plan. */
export function movedAgainst(works: Work[], before: Work[]): Set<string> {
  const was = new Map(before.map((work) => [work.key, work]));
  return new Set(works
    .filter((work) => {
      const old = was.get(work.key);
      return !old || old.person !== work.person || old.start !== work.start || old.stand !== work.stand;
    })
    .map((work) => work.key));
}
