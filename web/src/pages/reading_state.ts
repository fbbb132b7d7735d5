import type { BenchOperation, BenchReading, SheetValue, ToolView } from '../ask/ask';

/** Units in which a reading is typed and shown, in own units of their dimension. */
const kOwnUnits: Record<string, number> = {
  'in-lb': 0.1129848290276167,  // N·m: 25.4 mm by 4.4482216152605 N, exactly
  'km/h': 1 / 3.6, 'm': 1000, 'km': 1_000_000,
};
const kMostDigits = 7;
const kMinus = /[-−]/;

/** Units among which the pad can be switched. */
export const unitsOf = (value: SheetValue): string[] =>
  (value.dimension === 'torque' ? ['N·m', 'in-lb'] : [value.unit]);

/** Whether a number below zero can mean anything here. */
export function mayBeNegative({ strictest: { least, most }, stop_below: stop }: SheetValue): boolean {
  if (least !== null) return least < 0 || (stop !== null && stop < 0);
  return most === null || most < 0;
}

export type PadKey = '0' | '1' | '2' | '3' | '4' | '5' | '6' | '7' | '8' | '9' | '.' | ',' | 'sign' | 'erase';

/** What stands on the pad after one more key. */
export function withKey(text: string, key: PadKey): string {
  if (key === 'erase') return text.slice(0, -1);
  if (key === 'sign') return kMinus.test(text.charAt(0)) ? text.slice(1) : `-${text}`;
  const digits = text.replace(/[^0-9]/g, '').length;
  if (key === '.' || key === ',') return /[.,]/.test(text) ? text : `${/[0-9]/.test(text) ? text : `${text}0`}${key}`;
  return digits >= kMostDigits ? text : text + key;
}

/** Whether a text is what can be typed on the pad; anything else came from a scanner. */
export const isTyped = (text: string) =>
  /^[-−]?[0-9]*[.,]?[0-9]*$/.test(text) && text.replace(/[^0-9]/g, '').length <= kMostDigits;

/** The number that is typed, in own units of the dimension; undefined while it is none. */
export function typedValue(text: string, unit: string): number | undefined {
  const plain = text.replace('−', '-').replace(',', '.').trim();
  if (!/[0-9]/.test(plain)) return undefined;
  const number = Number(plain);
  return Number.isNaN(number) ? undefined : number * (kOwnUnits[unit] ?? 1);
}

/** As it is sent: with its unit, in the words it was typed in. */
export const sentValue = (text: string, unit: string) =>
  `${text.replace('−', '-').trim()}${unit ? ` ${unit}` : ''}`;

export type Verdict = 'pass' | 'fix' | 'stop';

/** How a number stands to the limits, to be shown while it is typed; what the server says counts. */
export function verdictOf(value: SheetValue, read: number): Verdict {
  const { least, most } = value.strictest;
  const isLow = least !== null && read < least;
  const isHigh = most !== null && read > most;
  if (!isLow && !isHigh) return 'pass';
  const { stop_below: low, stop_above: high } = value;
  if ((low !== null && read < low) || (high !== null && read > high)) return 'stop';
  const isStated = (isLow && low !== null) || (isHigh && high !== null);
  return value.stop && !isStated ? 'stop' : 'fix';
}

export interface ToolsFor {
  good: ToolView[];
  others: { tool: ToolView; why: string }[];
}

/** Tools that measure this and whose calibration holds; and the others, each with why not. */
export function toolsFor(value: SheetValue, tools: ToolView[]): ToolsFor {
  const measures = tools.filter((tool) => tool.measures === value.dimension);
  return {
    good: measures.filter((tool) => tool.good),
    others: [
      ...measures.filter((tool) => !tool.good).map((tool) => ({ tool, why: tool.sentence })),
      ...tools.filter((tool) => tool.measures !== value.dimension).map((tool) => ({ tool, why: `measures ${tool.measures}` })),
    ],
  };
}

export const isTaken = (reading: BenchReading) => reading.points.every((point) => point.outcome !== '');
export const isOutside = (reading: BenchReading) =>
  reading.points.some((point) => point.outcome === 'fix' || point.outcome === 'stop');

/** The first point that was not read yet, from 1; 0 when all were. */
export const nextPoint = (reading: BenchReading) => reading.points.findIndex((point) => point.outcome === '') + 1;

/** The next reading of the operation that is not whole yet, after this one and then from the start. */
export function nextReading(operation: BenchOperation, after: string): BenchReading | undefined {
  const at = operation.readings.findIndex((reading) => reading.value.reading === after);
  const around = [...operation.readings.slice(at + 1), ...operation.readings.slice(0, Math.max(0, at))];
  return around.find((reading) => !isTaken(reading));
}
