/**
 * The same amount in the unit of the other habit, for the bench: a wrench may be marked in N·m or
 * in-lb, a pump in bar or psi. Factors are exact by definition except where noted.
 */

interface UnitStep {
  own: string;      // unit the server counts in
  size: number;     // how many of the own unit make one of this
}

/** Units a sheet may show, and their size in the own unit of their dimension (units/unit_table). */
const kUnits: Record<string, UnitStep> = {
  'mm': { own: 'mm', size: 1 },
  'cm': { own: 'mm', size: 10 },
  'm': { own: 'mm', size: 1000 },
  'km': { own: 'mm', size: 1_000_000 },
  'in': { own: 'mm', size: 25.4 },
  'kg': { own: 'kg', size: 1 },
  'g': { own: 'kg', size: 0.001 },
  'lb': { own: 'kg', size: 0.45359237 },
  'N': { own: 'N', size: 1 },
  'kgf': { own: 'N', size: 9.80665 },
  'lbf': { own: 'N', size: 4.4482216152605 },
  'N·m': { own: 'N·m', size: 1 },
  'Nm': { own: 'N·m', size: 1 },
  'in-lb': { own: 'N·m', size: 0.1129848290276167 },
  'bar': { own: 'bar', size: 1 },
  'psi': { own: 'bar', size: 0.06894757293168361 },
  'km/h': { own: 'm/s', size: 1 / 3.6 },
  'mph': { own: 'm/s', size: 0.44704 },
  'm/s': { own: 'm/s', size: 1 },
  '°': { own: 'rad', size: Math.PI / 180 },
  'g/m': { own: 'kg/m', size: 0.001 },
  'h': { own: 'min', size: 60 },
};

const kOther: Record<string, string> = {
  'mm': 'in', 'cm': 'in', 'kg': 'lb', 'N': 'lbf', 'kgf': 'lbf', 'N·m': 'in-lb', 'Nm': 'in-lb',
  'bar': 'psi', 'km/h': 'mph',
};

/** A value counted in its own unit, in `unit`. An unknown unit is taken to be the own one. */
export function inUnit(own: number, unit: string): number {
  return own / (kUnits[unit]?.size ?? 1);
}

/** The US customary partner of a unit; empty when the same unit serves both (%, °C, V). */
export function usUnitOf(unit: string): string {
  return kOther[unit] ?? '';
}

/** How many decimals such an amount is worth at a bench. */
export function decimalsFor(unit: string, value: number): number {
  if (unit === 'in') return 3;
  if (unit === 'psi' || unit === 'in-lb' || unit === 'lbf') return Math.abs(value) < 10 ? 1 : 0;
  if (Number.isInteger(value)) return 0;
  return Math.abs(value) < 10 ? 2 : 1;
}
