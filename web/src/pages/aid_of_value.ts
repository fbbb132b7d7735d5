import type { SheetValue } from '../ask/ask';

export interface AidOfValue {
  aid: string;
  end: string;
}

/** Readings by the aid that shows where their value comes from; what follows "_" may be the end. */
const kAids: Record<string, string> = {
  tyre_pressure: 'tyre-pressure', belt_frequency: 'belt', chain_links: 'chain-length',
  saddle_height: 'saddle-height', saddle_over_pedal: 'saddle-height', wheel_circumference: 'gears',
  bike_mass: 'mass-limits', stopping_distance: 'stopping',
};

/** The bench aid for a value of the sheet; a torque's joint is the reading in words. */
export function aidOfValue(value: SheetValue): AidOfValue | undefined {
  if (value.pass_or_fail) return undefined;
  if (value.dimension === 'torque') return { aid: 'torque', end: value.reading.replaceAll('_', ' ') };
  const [, stem = value.reading, end = ''] = /^(.*)_(front|rear)$/.exec(value.reading) ?? [];
  const aid = kAids[stem];
  return aid ? { aid, end } : undefined;
}
