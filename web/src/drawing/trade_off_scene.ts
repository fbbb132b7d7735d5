import type { CompletionView } from '../ask/ask';
import type { Spot } from './bike_scene';

export interface Tick {
  value: number;
  at: number;  // pixels
}

/** Room for the words of a point; they begin at `at`, or end there when they stand on its left. */
export interface Label extends Spot {
  at: number;
  onLeft: boolean;
}

/** Where the axes leave room, in pixels. */
interface Paper {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

export interface TradeOffScene extends Paper {
  width: number;
  height: number;
  spots: Spot[];     // one for each bike, in their order
  labels: Label[];   // where the words of each stand
  prices: Tick[];
  masses: Tick[];
}

/** Round steps that cut the range into at most `most` pieces: 1, 2 or 5 with noughts. */
export function roundStep(range: number, most: number): number {
  const rough = Math.max(range, 1e-9) / most;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].find((n) => n * power >= rough * 0.999999) ?? 10;
  return step * power;
}

interface Axis {
  least: number;
  most: number;
  step: number;
}

/** The range of the values with some room at both ends; never without any length. */
function axisOf(values: number[], pieces: number, smallest: number): Axis {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const step = Math.max(smallest, roundStep(high - low, pieces));
  const room = Math.max((high - low) * 0.08, step * 0.3);
  return { least: low - room, most: high + room, step };
}

/** The round values within the range. */
function ticksOf({ least, most, step }: Axis, place: (value: number) => number): Tick[] {
  const first = Math.ceil(least / step);
  const count = Math.floor(most / step) - first + 1;
  return Array.from({ length: Math.max(0, count) }, (_, i) => {
    const value = (first + i) * step;
    return { value, at: place(value) };
  });
}

const kLabel = { width: 80, height: 19 };  // pixels that the words of one point take

const overlap = (a: Spot, b: Spot) =>
  Math.abs(a.x - b.x) < kLabel.width && Math.abs(a.y - b.y) < kLabel.height;

/** Whether words that begin at `label`, on their line, cover a point. */
const covers = (label: Spot, point: Spot) =>
  point.x > label.x - 8 && point.x < label.x + kLabel.width && Math.abs(label.y - 5 - point.y) < 13;

/** Words beside their points: within the paper, where neither words nor another point stand. */
function placeLabels(spots: Spot[], { left, right, top, bottom }: Paper): Label[] {
  const placed: Label[] = [];
  for (const { x, y } of spots) {
    const tries = [0, -1, 1, -2, 2, -3, 3, -4, 4].flatMap((row) => {
      const line = y + 5 + row * kLabel.height;
      const ends = [x + 14, x - 14];
      return ends.map((end) => ({ x: end < x ? end - kLabel.width : end, y: line, end }));
    });
    const free = tries.find((label) =>
      label.x >= left + 4 && label.x + kLabel.width <= right &&
      label.y >= top + 8 && label.y <= bottom - 4 &&
      !placed.some((other) => overlap(label, other)) &&
      !spots.some((spot) => covers(label, spot)));
    const { x: from, y: line, end } = free ?? { x: x + 14, y: y + 5, end: x + 14 };
    placed.push({ x: from, y: line, at: end, onLeft: end < x });
  }
  return placed;
}

/** Bikes to scale: price across, mass up. */
export function tradeOffScene(bikes: CompletionView[], width: number): TradeOffScene {
  const height = 280;
  const [left, right, top, bottom] = [54, width - 8, 30, height - 46];
  const price = axisOf(bikes.map((bike) => bike.price_cents), width < 480 ? 3 : 5, 100);
  const mass = axisOf(bikes.map((bike) => bike.mass_kg), 4, 0.01);
  const x = (cents: number) =>
    left + ((cents - price.least) / (price.most - price.least)) * (right - left);
  const y = (kg: number) =>
    bottom - ((kg - mass.least) / (mass.most - mass.least)) * (bottom - top);
  const spots = bikes.map((bike) => ({ x: x(bike.price_cents), y: y(bike.mass_kg) }));
  return {
    width, height, left, right, top, bottom, spots, labels: placeLabels(spots, { left, right, top, bottom }),
    prices: ticksOf(price, x), masses: ticksOf(mass, y),
  };
}

/** "a", "b", ...: what each bike is called in drawing and list. */
export const nameOfBike = (at: number) => String.fromCharCode('a'.charCodeAt(0) + at);
