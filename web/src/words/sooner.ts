import { inHundred, plain } from './amount';
import { dayInWords } from './day';

/** Words of the ways to be sooner. */
const days = (n: number) => `${plain(Math.abs(n), 1)} days`;

export const soonerWords = {
  title: 'Sooner',
  lead: 'What would make this bike ready sooner, what it costs and what it does to the other promises.',
  ask: 'Look for ways',
  askAgain: 'Look again',
  waits: 'Running the shop once for each way …',
  stale: 'The order has changed since. Look again.',
  alone: 'Each alone',
  together: 'One on top of the other',
  noHelp: (n: number) => `${n} looked at, and not half a day sooner`,
  wins: (mean: number) => (mean < 0 ? `${days(mean)} later` : `${days(mean)} sooner`),
  onAverage: 'on average',
  readyBy: (day50: string | null, day90: string | null) =>
    `Ready by ${day50 ? dayInWords(day50) : 'a day beyond the plan'} in 50, by ` +
    `${day90 ? dayInWords(day90) : 'a day beyond the plan'} in 90 of 100.`,
  kept: (then: number, now: number) =>
    `Its promise is kept in ${inHundred(then)} instead of ${Math.round(now * 100)}.`,
  noCost: 'no extra cost',
  most: (amount: string) => `${amount} at most`,
  other: (order: string, rider: string, promised: string, before: number, after: number) =>
    `${order}, ${rider}, promised ${dayInWords(promised)}: kept in ${inHundred(after)} instead of ` +
    `${Math.round(before * 100)}.`,
  noOther: 'No other promise moves.',
  seeSlot: 'Open its place in the specification',
  seePlan: 'See the plan',
  seeBuy: 'See what to buy',
  runs: (runs: number, draws: number, seconds: number) =>
    `${runs} shops of ${draws} futures each, in ${seconds.toFixed(1)} s; the same luck for all.`,
};
