import type { PlanView } from '../ask/ask';
import { minuteOf, type Span } from './plan_axis';
import type { Work } from './plan_work';

export type By = 'people' | 'stands';

/** A row of the wall: a person, or a stand of an area. Stand 0 takes what changes stands. */
export interface Lane {
  key: string;
  title: string;
  note: string;
  person: string;  // empty on a stand's lane
  area: string;    // empty on a person's lane
  stand: number;
  open: Span[];    // at work, ascending
}

const spans = (windows: { from: string; to: string }[]): Span[] =>
  windows.map((w) => ({ from: minuteOf(w.from), to: minuteOf(w.to) }));

/** When anybody at all is at work, ascending and apart. */
export function openOf(plan: PlanView): Span[] {
  const joined: Span[] = [];
  for (const span of plan.people.flatMap((p) => spans(p.windows)).sort((a, b) => a.from - b.from)) {
    const last = joined.at(-1);
    if (last && span.from <= last.to) last.to = Math.max(last.to, span.to);
    else joined.push({ ...span });
  }
  return joined;
}

const personLanes = (plan: PlanView): Lane[] => plan.people.map((person) => ({
  key: person.id, title: person.name, note: person.skills.join(' '),
  person: person.id, area: '', stand: 0, open: spans(person.windows),
}));

function standLanes(plan: PlanView, works: Work[]): Lane[] {
  const open = openOf(plan);
  return plan.areas.flatMap(({ id, stands }) => {
    const lane = (stand: number): Lane => ({
      key: `${id} ${stand}`, title: stand > 0 && stands > 1 ? `${id} ${stand}` : id, note: '', person: '', area: id, stand, open,
    });
    const lanes = Array.from({ length: stands }, (_, i) => lane(i + 1));
    return works.some((w) => w.area === id && w.stand === 0) ? [...lanes, lane(0)] : lanes;
  });
}

export function lanesOf(plan: PlanView, works: Work[], by: By): Lane[] {
  return by === 'people' ? personLanes(plan) : standLanes(plan, works);
}

export const isOn = (lane: Lane, work: Work) => (lane.person
  ? lane.person === work.person
  : lane.area === work.area && lane.stand === work.stand);

/** Whether the person of a lane lends a hand at it. */
export const lendsAt = (lane: Lane, work: Work) => lane.person !== '' && work.lending.includes(lane.person);

/** Work of one lane, each on a level where it covers nothing else. */
export interface Level {
  work: Work;
  level: number;
}

/** `work` must ascend by start. What goes on untouched takes neither a person nor a stand. */
export function levelsOf(work: Work[]): Level[] {
  const ends: number[] = [];
  return work.map((one) => {
    const free = ends.findIndex((end) => end <= one.start);
    const level = free < 0 ? ends.length : free;
    ends[level] = one.end;
    return { work: one, level };
  });
}

export interface LaneRow {
  lane: Lane;
  y: number;
  height: number;
  works: Level[];
  lent: Work[];  // at which the person of the lane lends a hand
}

/** Height of a lane with work on one level; every further level adds as much, less its head. */
export interface RowSizes {
  lane: number;
  level: number;
}

/** Lanes under one another from `top`; a lane is as high as its work stands upon itself. */
export function rowsOf(lanes: Lane[], works: Work[], top: number, sizes: RowSizes): LaneRow[] {
  let y = top;
  return lanes.map((lane) => {
    const on = works.filter((work) => isOn(lane, work));
    const levels = levelsOf(on);
    const most = levels.reduce((sum, { level }) => Math.max(sum, level + 1), 1);
    const row = { lane, y, height: sizes.lane + (most - 1) * sizes.level, works: levels, lent: works.filter((work) => lendsAt(lane, work)) };
    y += row.height;
    return row;
  });
}

/** The row under a height of the paper; above and below all of them the first and the last. */
export const rowAt = (rows: LaneRow[], y: number): LaneRow | undefined =>
  rows.findLast((row) => row.y <= y) ?? rows[0];

/** Work of one bike without a gap between, so that its number need be written only once. */
export interface Run {
  works: Work[];
  from: number;
  to: number;
  level: number;
}

/** The paper that a run really covers: from break to break. */
export function stretchesOf(run: Run): Span[] {
  const stretches: Span[] = [];
  for (const piece of run.works.flatMap((work) => work.pieces).sort((a, b) => a.from - b.from)) {
    const last = stretches.at(-1);
    if (last && piece.from <= last.to) last.to = Math.max(last.to, piece.to);
    else stretches.push({ from: piece.from, to: piece.to });
  }
  return stretches;
}

/** `gap`: minutes of other hours or of nothing that a run goes over, as over a break at noon. */
export function runsOf(levels: Level[], gap = 0): Run[] {
  const runs: Run[] = [];
  const last = new Map<number, Run>();
  for (const { work, level } of levels) {
    const before = last.get(level);
    if (before && work.start - before.to <= gap && before.works[0]?.order === work.order) {
      before.works.push(work);
      before.to = work.end;
    } else {
      const run = { works: [work], from: work.start, to: work.end, level };
      runs.push(run);
      last.set(level, run);
    }
  }
  return runs;
}
