import type { Limit, SheetValue } from '../ask/ask';
import { plain } from './amount';
import { say } from './say';
import { decimalsFor, inUnit, usUnitOf } from './unit';

const t = say.bench;

/** "1150 N" of an amount counted in its own unit, written in `unit`. */
export function amountIn(own: number, unit: string): string {
  const value = inUnit(own, unit);
  const text = plain(value, decimalsFor(unit, value));
  return unit ? `${text}\u00a0${unit}` : text;
}

function bounds(limit: Limit, unit: string): string {
  const { least, most } = limit;
  if (least !== null && most !== null) return t.between(amountIn(least, unit), amountIn(most, unit));
  if (least !== null) return t.least(amountIn(least, unit));
  if (most !== null) return t.most(amountIn(most, unit));
  return t.noLimit;
}

export interface Shown {
  metric: string;
  us: string;  // empty when the unit serves both habits
}

const both = (write: (unit: string) => string, unit: string): Shown => {
  const us = usUnitOf(unit);
  return { metric: write(unit), us: us ? write(us) : '' };
};

export const targetShown = (value: SheetValue): Shown | undefined => {
  const { target } = value;
  return target === null ? undefined : both((unit) => amountIn(target, unit), value.unit);
};

export const limitShown = (limit: Limit, unit: string): Shown => both((u) => bounds(limit, u), unit);

export const hasBounds = (limit: Limit) => limit.least !== null || limit.most !== null;
