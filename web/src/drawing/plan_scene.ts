import type { PlanView } from '../ask/ask';
import { planWords } from '../words/plan';
import {
  type Axis, axisOf, dayOf, daysOn, minuteAt, minuteOf, piecesOf, type Snap, snapped, type Span,
  stepFor, stepped, xOf,
} from './plan_axis';
import { type By, type LaneRow, lanesOf, openOf, rowAt, rowsOf } from './plan_lanes';
import { arrivalStacks, type ArrivalStacks, levelCount, type Stacked, stackedPromises } from './plan_marks';
import { minutesOf, type Work, worksOf } from './plan_work';

/** All of a wall that is not paint: what lies where. */
export interface PlanScene {
  plan: PlanView;
  works: Work[];
  axis: Axis;
  by: By;
  rows: LaneRow[];
  arrivals: ArrivalStacks;
  promises: Stacked<PlanView['orders'][number]>[];
  arrivalsBottom: number;
  top: number;     // of the lanes
  bottom: number;  // of the lanes
  height: number;
}

export type Zoom = 'day' | 'week' | 'all';

export const kBar = 42;
export const kLane = 62;
const kLevelOfLane = 48;
export const kHead = 34;
export const kLevel = 22;
const kFoot = 22;

/** The widest day, and the widest seven days, of a paper of one pixel a minute. */
function widest(axis: Axis): { day: number; week: number } {
  const ofWeek = (first: Span) => axis.days
    .filter((d) => first.from <= d.from && d.from < first.from + 7 * 1440)
    .reduce((sum, d) => sum + d.width, 0);
  return { day: Math.max(1, ...axis.days.map((d) => d.width)), week: Math.max(1, ...axis.days.map(ofWeek)) };
}

/** Pixels a minute, so that a day, a week or everything is as wide as the wall. */
export function perMinuteOf(plan: PlanView, zoom: Zoom, wall: number): number {
  const whole = axisOf(openOf(plan), 1);
  const room = wall - 2;
  if (zoom === 'all') return Math.max(0.1, room / Math.max(1, whole.width));
  const { day, week } = widest(whole);
  return zoom === 'week' ? Math.max(0.25, room / week) : Math.min(3, Math.max(1.2, room / day));
}

/** What stands beside a flag. */
export const flagWords = (order: PlanView['orders'][number]) =>
  (order.late ? `${order.order} ${planWords.late}` : order.order);

export function planScene(plan: PlanView, by: By, perMinute: number): PlanScene {
  const works = worksOf(plan);
  const axis = axisOf(openOf(plan), perMinute);
  const arrivals = arrivalStacks(plan.arrivals, axis);
  const promises = stackedPromises(plan.orders, axis, flagWords);
  const arrivalsBottom = kHead + levelCount([...arrivals.shown, ...arrivals.more]) * kLevel + 8;
  const top = arrivalsBottom + levelCount(promises) * kLevel + 10;
  const rows = rowsOf(lanesOf(plan, works, by), works, top, { lane: kLane, level: kLevelOfLane });
  const last = rows.at(-1);
  const bottom = last ? last.y + last.height : top;
  return { plan, works, axis, by, rows, arrivals, promises, arrivalsBottom, top, bottom, height: bottom + kFoot };
}

export const yOf = (row: LaneRow, level = 0) => row.y + 8 + level * kLevelOfLane;

/** Days on which a lane's person does nothing while others work. */
export const daysAway = (scene: PlanScene, row: LaneRow) => scene.axis.days
  .filter((day) => !row.lane.open.some((span) => dayOf(span.from) === day.day));

// Where work that is moved may rest ----------------------------------------------------------------

/** Where a piece of work is held, or let down. */
export interface Place {
  person: string;
  start: number;  // minute
  stand: number;  // of the area of the work; 0: any
}

export const placeOf = (work: Work): Place =>
  ({ person: work.person, start: work.start, stand: work.stand });

export const samePlace = (a: Place, b: Place) =>
  a.person === b.person && a.start === b.start && a.stand === b.stand;

/** Rows on which the work could be let down: every person's, or the stands of its own area. */
const rowsFor = (scene: PlanScene, work: Work) => (scene.by === 'people'
  ? scene.rows
  : scene.rows.filter(({ lane }) => lane.area === work.area && lane.stand > 0));

export function rowOfPlace(scene: PlanScene, work: Work, place: Place): LaneRow | undefined {
  return scene.rows.find(({ lane }) => (scene.by === 'people'
    ? lane.person === place.person
    : lane.area === work.area && lane.stand === place.stand));
}

/** Another time or person asks for no stand in particular; the plan finds one. */
function placeOn(scene: PlanScene, work: Work, held: Place, row: LaneRow, start: number): Place {
  if (scene.by === 'stands') return { person: held.person, start, stand: row.lane.stand };
  const same = row.lane.person === work.person && start === work.start;
  return { person: row.lane.person, start, stand: same ? work.stand : 0 };
}

const kReach = 9;              // pixels
const kReachMost = 40;         // minutes

function snapOn(scene: PlanScene, work: Work, row: LaneRow): Snap {
  const others = row.works.filter((one) => one.work.key !== work.key);
  return {
    step: stepFor(scene.axis.perMinute),
    reach: Math.min(kReachMost, kReach / scene.axis.perMinute),
    magnets: [work.start, ...row.lane.open.map((span) => span.from),
      ...others.map((one) => (row.lane.person ? one.work.end : one.work.waitsUntil))],
  };
}

/** The place under a point of the paper; `x` is where the work would begin. */
export function placeUnder(scene: PlanScene, work: Work, held: Place, x: number, y: number): Place {
  const row = rowAt(rowsFor(scene, work), y);
  if (!row) return held;
  const start = snapped(scene.axis, minuteAt(scene.axis, x), snapOn(scene, work, row));
  return placeOn(scene, work, held, row, start);
}

/** The next place for a key: arrows a step or a lane, with Shift a day; undefined for other keys. */
export function placeByKey(
  scene: PlanScene, work: Work, held: Place, key: string, shift: boolean,
): Place | undefined {
  const rows = rowsFor(scene, work);
  const row = rowOfPlace(scene, work, held) ?? rows[0];
  if (!row) return undefined;
  if (key === 'ArrowLeft' || key === 'ArrowRight') {
    const way = key === 'ArrowRight' ? 1 : -1;
    const start = shift
      ? daysOn(scene.axis, held.start, way)
      : stepped(scene.axis, held.start, way, stepFor(scene.axis.perMinute));
    return placeOn(scene, work, held, row, start);
  }
  if (key !== 'ArrowUp' && key !== 'ArrowDown') return undefined;
  const next = rows[rows.indexOf(row) + (key === 'ArrowDown' ? 1 : -1)];
  return next ? placeOn(scene, work, held, next, held.start) : held;
}

/** Where the work would lie: as many minutes of that lane's hours. The server has the last word. */
export function ghostOf(scene: PlanScene, work: Work, place: Place): { row: LaneRow; pieces: Span[] } | undefined {
  const row = rowOfPlace(scene, work, place);
  if (!row) return undefined;
  const minutes = minutesOf(work);
  const hours = scene.plan.people.find((p) => p.id === place.person)?.windows ?? [];
  const open = hours.map((w) => ({ from: minuteOf(w.from), to: minuteOf(w.to) }));
  const at = open.some((span) => span.from <= place.start && place.start < span.to);
  const pieces = at ? piecesOf(open, place.start, minutes) : [];
  return { row, pieces: pieces.length > 0 ? pieces : [{ from: place.start, to: place.start + minutes }] };
}

// Walking from work to work ------------------------------------------------------------------------

/** The next work for an arrow key: along the lane, or the nearest in time above or below. */
export function neighbour(rows: LaneRow[], now: string, key: string): Work | undefined {
  const row = rows.findIndex((one) => one.works.some(({ work }) => work.key === now));
  const works = rows[row]?.works.map(({ work }) => work) ?? [];
  const at = works.findIndex((work) => work.key === now);
  if (key === 'ArrowRight') return works[at + 1];
  if (key === 'ArrowLeft') return works[at - 1];
  const step = key === 'ArrowDown' ? 1 : key === 'ArrowUp' ? -1 : 0;
  const start = works[at]?.start ?? 0;
  if (step === 0) return undefined;
  for (let to = row + step; rows[to]; to += step) {
    const near = [...(rows[to]?.works ?? [])]
      .sort((a, b) => Math.abs(a.work.start - start) - Math.abs(b.work.start - start))[0];
    if (near) return near.work;
  }
  return undefined;
}

/** Way from the end of each operation of a bike to the start of its next, as a path. */
export function chainPath(scene: PlanScene, order: string): string {
  const steps = scene.rows
    .flatMap((row) => row.works.map(({ work, level }) => ({ work, y: yOf(row, level) + kBar / 2 })))
    .filter(({ work }) => work.order === order)
    .sort((a, b) => a.work.start - b.work.start);
  return steps.slice(1).map((to, i) => {
    const from = steps[i];
    if (!from) return '';
    const [x0, x1] = [xOf(scene.axis, from.work.end), xOf(scene.axis, to.work.start)];
    const bend = Math.min(70, Math.max(14, Math.abs(x1 - x0) / 2));
    return `M${x0} ${from.y}C${x0 + bend} ${from.y} ${x1 - bend} ${to.y} ${x1} ${to.y}`;
  }).join('');
}
