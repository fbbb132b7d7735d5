import { dayNumber } from '../words/day';

/** The plan's time, in minutes of the shop's own clock since 1970, and where it lies on the paper. */
export const kMinutesPerDay = 1440;

export interface Span {
  from: number;
  to: number;
}

/** A day on which somebody works, from the first to come until the last to go. */
export interface DayOnAxis extends Span {
  day: string;
  x: number;
  width: number;
}

/** Nights and closed days are folded away; breaks within a day keep their room. */
export interface Axis {
  days: DayOnAxis[];
  perMinute: number;  // pixels
  width: number;
}

/** Minute of a local time "2026-11-25T08:30"; a bare day is its midnight. */
export function minuteOf(local: string): number {
  const clock = local.length > 10 ? Number(local.slice(11, 13)) * 60 + Number(local.slice(14, 16)) : 0;
  return dayNumber(local) * kMinutesPerDay + clock;
}

/** "2026-11-25T08:30" of a minute; the other way round. */
export const localOf = (minute: number) => new Date(minute * 60_000).toISOString().slice(0, 16);

export const dayOf = (minute: number) => localOf(minute).slice(0, 10);

/** `hours`: at work, of anybody, in any order. */
export function axisOf(hours: Span[], perMinute: number): Axis {
  const open = new Map<string, Span>();
  for (const { from, to } of hours) {
    const day = dayOf(from);
    const known = open.get(day);
    open.set(day, { from: Math.min(from, known?.from ?? from), to: Math.max(to, known?.to ?? to) });
  }
  let x = 0;
  const days = [...open].sort(([a], [b]) => a.localeCompare(b)).map(([day, { from, to }]) => {
    const column = { day, from, to, x, width: (to - from) * perMinute };
    x += column.width;
    return column;
  });
  return { days, perMinute, width: x };
}

/** Where a minute lies; one that is folded away lies on the fold. */
export function xOf(axis: Axis, minute: number): number {
  for (const day of axis.days) {
    if (minute < day.from) return day.x;
    if (minute <= day.to) return day.x + (minute - day.from) * axis.perMinute;
  }
  return axis.width;
}

/** The minute that lies there; left and right of the paper its first and last. */
export function minuteAt(axis: Axis, x: number): number {
  const day = axis.days.findLast((one) => one.x <= x) ?? axis.days[0];
  if (!day) return 0;
  return Math.min(day.to, day.from + Math.max(0, x - day.x) / axis.perMinute);
}

/** Pixels that a step must have, so that a hand can aim at it. */
const kLeastStep = 5;

/** Minutes between the places where a moved piece of work comes to rest. */
export function stepFor(perMinute: number): number {
  return [15, 30, 60, 120].find((step) => step * perMinute >= kLeastStep) ?? 240;
}

export interface Snap {
  step: number;       // minutes
  magnets: number[];  // minutes that draw a place to themselves
  reach: number;      // from how many minutes away they do
}

/** The nearest place to rest: a magnet within reach, or a whole step of the clock on its day. */
export function snapped(axis: Axis, minute: number, { step, magnets, reach }: Snap): number {
  const day = axis.days.findLast((one) => one.from <= minute) ?? axis.days[0];
  if (!day) return minute;
  const inDay = Math.min(Math.max(minute, day.from), day.to - 1);
  const near = magnets
    .filter((magnet) => day.from <= magnet && magnet < day.to && Math.abs(magnet - inDay) <= reach)
    .sort((a, b) => Math.abs(a - inDay) - Math.abs(b - inDay))[0];
  if (near !== undefined) return near;
  const whole = Math.round(inDay / step) * step;
  const last = Math.floor((day.to - 1) / step) * step;
  return Math.max(day.from, Math.min(whole, last));
}

/** One step onward or back from a place, over a fold to the next day and back to the last. */
export function stepped(axis: Axis, minute: number, direction: 1 | -1, step: number): number {
  const at = axis.days.findLastIndex((one) => one.from <= minute);
  const day = axis.days[Math.max(0, at)];
  if (!day) return minute;
  const whole = direction > 0 ? Math.floor(minute / step) : Math.ceil(minute / step);
  const next = (whole + direction) * step;
  if (next < day.from) {
    if (minute > day.from) return day.from;
    const before = axis.days[at - 1];
    return before ? Math.floor((before.to - 1) / step) * step : day.from;
  }
  if (next < day.to) return next;
  return axis.days[at + 1]?.from ?? minute;
}

/** The same time of the day on the next day of the paper, or the last. */
export function daysOn(axis: Axis, minute: number, direction: 1 | -1): number {
  const at = axis.days.findLastIndex((one) => one.from <= minute);
  const [here, there] = [axis.days[Math.max(0, at)], axis.days[at + direction]];
  if (!here || !there) return minute;
  const clock = minute % kMinutesPerDay;
  const wanted = minuteOf(there.day) + clock;
  return Math.min(Math.max(wanted, there.from), there.to - 1);
}

/** The pieces of so many minutes of work begun at `start`, within hours and over their pauses. */
export function piecesOf(hours: Span[], start: number, minutes: number): Span[] {
  const pieces: Span[] = [];
  let left = minutes;
  for (const { from, to } of [...hours].sort((a, b) => a.from - b.from)) {
    if (left <= 0) break;
    if (to <= start) continue;
    const begin = Math.max(from, start);
    const end = Math.min(to, begin + left);
    pieces.push({ from: begin, to: end });
    left -= end - begin;
  }
  return pieces;
}
