import type { PromiseView } from '../ask/ask';
import { dayNumber } from '../words/day';

export interface CurveScene {
  width: number;
  height: number;
  left: number;
  right: number;
  top: number;
  bottom: number;                    // y of zero
  x: (day: string) => number;
  y: (probability: number) => number;
  path: string;
  ticks: string[];                   // days that are named under the axis
}

const kLevels = [0.5, 0.8, 0.9, 0.95] as const;
export const levels: readonly number[] = kLevels;

/**
 * The days of the curve stand at equal steps (the server gives working days); a day between two of
 * them is placed between, one outside at the edge.
 */
export function placeOf(day: string, days: string[]): number {
  const wanted = dayNumber(day);
  const after = days.findIndex((d) => dayNumber(d) >= wanted);
  if (after === 0) return 0;
  if (after < 0) return days.length - 1;
  const from = dayNumber(days[after - 1] ?? day);
  const to = dayNumber(days[after] ?? day);
  return after - 1 + (to === from ? 0 : (wanted - from) / (to - from));
}

/** About `most` names, always the first and the last, at equal steps. */
export function namedDays(days: string[], most: number): string[] {
  if (days.length <= most) return days;
  const step = Math.ceil((days.length - 1) / (most - 1));
  const named = days.filter((_, i) => i % step === 0);
  return named;
}

export function curveScene(promise: PromiseView, width: number): CurveScene {
  const height = 250;
  const [left, right, top, bottom] = [38, width - 14, 30, height - 34];
  const days = promise.curve.map((point) => point.day);
  const last = Math.max(1, days.length - 1);
  const x = (day: string) => left + (placeOf(day, days) / last) * (right - left);
  const y = (probability: number) => bottom - probability * (bottom - top);
  const path = promise.curve
    .map((point, i) => `${i ? 'L' : 'M'}${x(point.day).toFixed(1)} ${y(point.probability).toFixed(1)}`)
    .join('');
  return { width, height, left, right, top, bottom, x, y, path, ticks: namedDays(days, Math.max(2, Math.floor((right - left) / 92) + 1)) };
}

/** Odds of the curve on one of its days; between days the last one before holds. */
export function oddsOn(promise: PromiseView, day: string): number {
  return promise.curve.filter((point) => point.day <= day).at(-1)?.probability ?? 0;
}

/** Heights for labels that belong at `wanted` but must stand `apart` from one another. */
export function spreadLabels(wanted: number[], apart: number): number[] {
  const order = wanted.map((y, i) => ({ y, i })).sort((a, b) => b.y - a.y);
  const placed: number[] = [];
  let floor = Infinity;
  for (const { y, i } of order) {
    const at = Math.min(y, floor - apart);
    placed[i] = at;
    floor = at;
  }
  return placed;
}
