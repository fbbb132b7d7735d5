import type { PlanView } from '../ask/ask';
import { dayNumber } from '../words/day';

/** 1970-01-01 was a Thursday: weeks begin on Monday. */
const weekOf = (local: string) => Math.floor((dayNumber(local) + 3) / 7);

/** The plan cut at the weekends: one sheet for each week in which somebody works. */
export function weeksOf(plan: PlanView): PlanView[] {
  const weeks = new Set(plan.people.flatMap((p) => p.windows.map((w) => weekOf(w.from))));
  return [...weeks].sort((a, b) => a - b).map((week) => ({
    ...plan,
    arrivals: plan.arrivals.filter((one) => weekOf(one.day) === week),
    orders: plan.orders.filter((one) => one.promised !== null && weekOf(one.promised) === week),
    people: plan.people.map((person) => ({
      ...person,
      windows: person.windows.filter((w) => weekOf(w.from) === week),
      bars: person.bars.filter((bar) => weekOf(bar.from) === week),
    })),
  }));
}
