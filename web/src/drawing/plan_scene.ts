import type { ArrivalView, BarView, PersonPlan, PlannedOrder, PlanView } from '../ask/ask';
import { dayNumber } from '../words/day';

/** Minutes since 1970 of a local time "2026-11-25T08:30"; a bare day is its midnight. */
export function minuteOf(local: string): number {
  const clock = local.length > 10 ? Number(local.slice(11, 13)) * 60 + Number(local.slice(14, 16)) : 0;
  return dayNumber(local) * 1440 + clock;
}

/** A stretch in which at least one person works, and where it begins on the folded paper. */
interface Stretch {
  from: number;
  to: number;
  offset: number;  // open minutes before it
}

/** Working time of anybody, closed hours left out. */
export function openStretches(people: PersonPlan[]): Stretch[] {
  const windows = people.flatMap((p) => p.windows)
    .map((w) => ({ from: minuteOf(w.from), to: minuteOf(w.to) }))
    .sort((a, b) => a.from - b.from);
  const merged: Stretch[] = [];
  for (const { from, to } of windows) {
    const last = merged.at(-1);
    if (last && from <= last.to) last.to = Math.max(last.to, to);
    else merged.push({ from, to, offset: 0 });
  }
  let offset = 0;
  for (const stretch of merged) {
    stretch.offset = offset;
    offset += stretch.to - stretch.from;
  }
  return merged;
}

/** Open minutes from the start of the paper to a moment; closed time takes no room. */
export function foldedMinute(stretches: Stretch[], minute: number): number {
  let open = 0;
  for (const { from, to, offset } of stretches) {
    if (minute < from) return open;
    if (minute <= to) return offset + minute - from;
    open = offset + to - from;
  }
  return open;
}

export interface DayColumn {
  day: string;
  x: number;
  width: number;
}

export interface PlanScene {
  width: number;
  x: (local: string) => number;
  days: DayColumn[];
  lanes: Map<string, { x: number; width: number }[]>;  // working time by person
}

export function planScene(plan: PlanView, pixelsPerMinute: number): PlanScene {
  const stretches = openStretches(plan.people);
  const at = (minute: number) => foldedMinute(stretches, minute) * pixelsPerMinute;
  const x = (local: string) => at(minuteOf(local));
  const names = [...new Set(plan.people.flatMap((p) => p.windows).map((w) => w.from.slice(0, 10)))].sort();
  const days = names.map((day) => {
    const start = dayNumber(day) * 1440;
    return { day, x: at(start), width: at(start + 1440) - at(start) };
  });
  const lanes = new Map(plan.people.map((p) => [
    p.id, p.windows.map((w) => ({ x: x(w.from), width: x(w.to) - x(w.from) })),
  ]));
  const last = days.at(-1);
  return { width: last ? last.x + last.width : 0, x, days, lanes };
}

/** One block on the wall: an operation, or all that follows one another for the same bike. */
export interface Block {
  key: string;
  person: string;
  order: string;
  rider: string;
  names: string[];
  from: string;
  to: string;
  frozen: boolean;
  late: boolean;
  x: number;
  width: number;
}

/** Blocks of a person. With `together`, neighbours of the same bike become one, as seen from afar. */
export function blocksOf(person: PersonPlan, scene: PlanScene, together: boolean): Block[] {
  const blocks: Block[] = [];
  const bars = [...person.bars].sort((a, b) => minuteOf(a.from) - minuteOf(b.from));
  for (const bar of bars) {
    const last = blocks.at(-1);
    const x = scene.x(bar.from);
    const end = scene.x(bar.to);
    if (together && last && last.order === bar.order && last.frozen === bar.frozen && x - (last.x + last.width) < 1) {
      last.names.push(bar.name);
      last.to = bar.to;
      last.width = end - last.x;
    } else {
      blocks.push(blockOf(bar, person.id, x, end));
    }
  }
  return blocks;
}

function blockOf(bar: BarView, person: string, x: number, end: number): Block {
  return {
    key: `${person} ${bar.order} ${bar.operation} ${bar.from}`, person, order: bar.order, rider: bar.rider,
    names: [bar.name], from: bar.from, to: bar.to, frozen: bar.frozen, late: bar.late,
    x, width: Math.max(3, end - x),
  };
}

export interface Stacked<T> {
  of: T;
  x: number;
  level: number;  // 0 is nearest to the people
  room: number;   // pixels for its words
}

/** Marks of the same day stand on top of one another. */
function stacked<T>(items: T[], dayOf: (item: T) => string, scene: PlanScene): Stacked<T>[] {
  const first = scene.days[0]?.day;
  const last = scene.days.at(-1)?.day;
  if (!first || !last) return [];
  const levels = new Map<string, number>();
  return items
    .filter((item) => dayOf(item) >= first && dayOf(item) <= last)
    .map((item) => {
      const day = dayOf(item);
      const level = levels.get(day) ?? 0;
      levels.set(day, level + 1);
      const column = scene.days.find((d) => d.day >= day);
      return { of: item, x: column?.x ?? scene.width, level, room: column?.width ?? 0 };
    });
}

/** What a wall has room for of one day's arrivals; the rest is counted, and stands in the list below. */
export const kArrivalsMost = 5;

export interface ArrivalStacks {
  shown: Stacked<ArrivalView>[];
  more: { x: number; level: number; count: number }[];
}

export function arrivalStacks(arrivals: ArrivalView[], scene: PlanScene): ArrivalStacks {
  const sureFirst = [...arrivals].sort((a, b) => Number(b.confirmed) - Number(a.confirmed));
  const all = stacked(sureFirst, (a) => a.day, scene);
  const most = new Map<number, number>();
  for (const { x, level } of all) most.set(x, Math.max(most.get(x) ?? 0, level + 1));
  const more = [...most].filter(([, count]) => count > kArrivalsMost + 1)
    .map(([x, count]) => ({ x, level: kArrivalsMost, count: count - kArrivalsMost }));
  const crowded = new Set(more.map(({ x }) => x));
  return { shown: all.filter(({ x, level }) => level < kArrivalsMost || !crowded.has(x)), more };
}

/** Flags stand at the end of the promised day. */
export function stackedPromises(orders: PlannedOrder[], scene: PlanScene): Stacked<PlannedOrder>[] {
  const promised = orders.filter((o) => o.promised !== null);
  return stacked(promised, (o) => o.promised ?? '', scene).map((s) => ({
    ...s, x: scene.x(`${s.of.promised}T23:59`),
  }));
}

export const levelsOf = (items: { level: number }[]) =>
  items.reduce((most, { level }) => Math.max(most, level + 1), 1);

/** What fits into `room` pixels when a letter takes about `letter` of them. */
export function fitted(text: string, room: number, letter = 7.2): string {
  const letters = Math.floor(room / letter);
  if (text.length <= letters) return text;
  return letters < 3 ? '' : `${text.slice(0, letters - 1).trimEnd()}…`;
}
