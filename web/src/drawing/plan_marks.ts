import type { ArrivalView, PlannedOrder } from '../ask/ask';
import { type Axis, minuteOf, xOf } from './plan_axis';

/** Marks over the lanes: what arrives, and flags for the days promised. */
export interface Stacked<T> {
  of: T;
  x: number;
  level: number;  // 0 is nearest to the lanes
  room: number;   // pixels for its words
}

/** Marks of the same day stand on top of one another; those beyond the paper are left out. */
function stacked<T>(items: T[], dayOf: (item: T) => string, axis: Axis): Stacked<T>[] {
  const first = axis.days[0]?.day;
  const last = axis.days.at(-1)?.day;
  if (!first || !last) return [];
  const levels = new Map<string, number>();
  return items
    .filter((item) => dayOf(item) >= first && dayOf(item) <= last)
    .map((item) => {
      const column = axis.days.find((d) => d.day >= dayOf(item));
      const day = column?.day ?? last;
      const level = levels.get(day) ?? 0;
      levels.set(day, level + 1);
      return { of: item, x: column?.x ?? axis.width, level, room: column?.width ?? 0 };
    });
}

/** What a wall has room for of one day's arrivals; the rest is counted, and stands in the list. */
export const kArrivalsMost = 3;

export interface ArrivalStacks {
  shown: Stacked<ArrivalView>[];
  more: { x: number; level: number; count: number }[];
}

export function arrivalStacks(arrivals: ArrivalView[], axis: Axis): ArrivalStacks {
  const sureFirst = [...arrivals].sort((a, b) => Number(b.confirmed) - Number(a.confirmed));
  const all = stacked(sureFirst, (a) => a.day, axis);
  const most = new Map<number, number>();
  for (const { x, level } of all) most.set(x, Math.max(most.get(x) ?? 0, level + 1));
  const more = [...most].filter(([, count]) => count > kArrivalsMost + 1)
    .map(([x, count]) => ({ x, level: kArrivalsMost, count: count - kArrivalsMost }));
  const crowded = new Set(more.map(({ x }) => x));
  return { shown: all.filter(({ x, level }) => level < kArrivalsMost || !crowded.has(x)), more };
}

const kFlag = 24;    // pixels of cloth and pole
const kLetter = 9;

/** Flags stand at the end of the promised day, each beside or above those whose words it would hide. */
export function stackedPromises(
  orders: PlannedOrder[], axis: Axis, words: (order: PlannedOrder) => string,
): Stacked<PlannedOrder>[] {
  const ends: number[] = [];
  return stacked(orders.filter((o) => o.promised !== null), (o) => o.promised ?? '', axis)
    .map((s) => ({ ...s, x: xOf(axis, minuteOf(`${s.of.promised}T23:59`)) }))
    .sort((a, b) => a.x - b.x)
    .map((s) => {
      const from = s.x - kFlag - kLetter * words(s.of).length;
      const free = ends.findIndex((end) => end <= from);
      const level = free < 0 ? ends.length : free;
      ends[level] = s.x;
      return { ...s, level };
    });
}

export const levelCount = (items: { level: number }[]) =>
  items.reduce((most, { level }) => Math.max(most, level + 1), 1);

/** What fits into `room` pixels when a letter takes about `letter` of them. */
export function fitted(text: string, room: number, letter = 7.2): string {
  const letters = Math.floor(room / letter);
  if (text.length <= letters) return text;
  return letters < 3 ? '' : `${text.slice(0, letters - 1).trimEnd()}…`;
}
