import type { WheelOnStand } from '../ask/ask';

/** A wheel on the truing stand as lines on a square: the first place on top, growing clockwise. */

export interface SpokeLine {
  number: number;
  side: string;
  quarters: number;
  hub: [number, number];
  rim: [number, number];
  label: [number, number];  // where its number stands
  mark: [number, number];   // where its turn stands
}
/** A closed curve of run-out around its circle, with the band that it is to stay in. */
export interface RingScene {
  radius: number;  // of no run-out
  inner: number;   // of the band
  outer: number;
  now: string;
  after: string;
}
export interface WheelScene {
  size: number;
  centre: number;
  hubs: { left: number; right: number };
  spokes: SpokeLine[];
  sideways: RingScene;
  upright: RingScene;
  markRadius: number;
  perMm: number;  // pixels of run-out for a millimetre
  bar: number;    // millimetres of the scale bar
  bent: [[number, number], [number, number]] | undefined;  // a stroke across the rim where it is bent itself
}

const kOnTop = -Math.PI / 2;
const kHubShare = 0.14;  // of the rim: hubs are drawn larger than life, so that lacing shows

const place = (centre: number, radius: number, degrees: number): [number, number] => {
  const angle = kOnTop + (degrees * Math.PI) / 180;
  return [centre + radius * Math.cos(angle), centre + radius * Math.sin(angle)];
};

export const written = ([x, y]: [number, number]) => `${x.toFixed(1)} ${y.toFixed(1)}`;

const furthest = (values: number[]) => values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);

/** Around the rim and back to its beginning; `out` is how far each place stands outside its circle. */
function closedCurve(centre: number, radius: number, angles: number[], out: number[]): string {
  return `M${angles.map((angle, i) => written(place(centre, radius + (out[i] ?? 0), angle))).join('L')}Z`;
}

interface RingGiven {
  radius: number;
  way: 1 | -1;  // where plus is drawn: outside or inside the circle
  allowed: number;
  middle: number;
  now: number[];
  after: number[];
}

function ring(wheel: WheelOnStand, centre: number, perMm: number, given: RingGiven): RingScene {
  const { radius, way, allowed, middle } = given;
  const angles = wheel.rim.map((at) => at.angle_deg);
  const curve = (values: number[]) => closedCurve(centre, radius, angles, values.map((mm) => way * mm * perMm));
  const lie = radius + way * middle * perMm;
  return {
    radius, inner: lie - (allowed / 2) * perMm, outer: lie + (allowed / 2) * perMm,
    now: curve(given.now), after: curve(given.after),
  };
}

/** The longest round length that a scale bar of at most `most` pixels can show. */
export function barLength(perMm: number, most: number): number {
  const lengths = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20];
  return lengths.filter((mm) => mm * perMm <= most).at(-1) ?? 0.1;
}

export function wheelScene(wheel: WheelOnStand, size: number): WheelScene {
  const centre = size / 2;
  const spacing = (2 * Math.PI * (centre - 28)) / Math.max(1, wheel.spokes.length);
  const markRadius = Math.max(8, Math.min(23, spacing * 0.48));
  const marks = centre - markRadius - 2;
  const numbers = marks - markRadius - 9;
  const room = size * 0.05;  // of run-out to either side of its circle
  const sideways = numbers - 14 - room;
  const upright = sideways - 2 * room - 8;
  const deviations = wheel.rim.flatMap((at) =>
    [at.lateral_now_mm, at.lateral_after_mm, at.radial_now_mm, at.radial_after_mm]);
  const { limits } = wheel;
  const perMm = room / Math.max(furthest(deviations), 0.6 * Math.max(limits.lateral_mm, limits.radial_mm), 0.05);
  const nipples = numbers - 12;
  const widest = Math.max(...wheel.spokes.map((spoke) => spoke.hub_radius_mm), 1);
  const hubAt = (radius: number) => (radius / widest) * kHubShare * nipples;
  const radiusOf = (side: string) => hubAt(wheel.spokes.find((spoke) => spoke.side === side)?.hub_radius_mm ?? 0);
  return {
    size, centre, markRadius, perMm, bar: barLength(perMm, size * 0.12),
    hubs: { left: radiusOf('left'), right: radiusOf('right') },
    bent: wheel.bent_at_deg === null ? undefined
      : [place(centre, upright - room, wheel.bent_at_deg), place(centre, nipples + 4, wheel.bent_at_deg)],
    spokes: wheel.spokes.map((spoke) => ({
      number: spoke.number, side: spoke.side, quarters: spoke.quarters,
      hub: place(centre, hubAt(spoke.hub_radius_mm), spoke.hub_angle_deg),
      rim: place(centre, nipples, spoke.angle_deg),
      label: place(centre, numbers, spoke.angle_deg),
      mark: place(centre, marks, spoke.angle_deg),
    })),
    sideways: ring(wheel, centre, perMm, {
      radius: sideways, way: 1, allowed: limits.lateral_mm, middle: limits.lateral_middle_mm,
      now: wheel.rim.map((at) => at.lateral_now_mm), after: wheel.rim.map((at) => at.lateral_after_mm),
    }),
    upright: ring(wheel, centre, perMm, {
      radius: upright, way: -1, allowed: limits.radial_mm, middle: limits.radial_middle_mm,
      now: wheel.rim.map((at) => at.radial_now_mm), after: wheel.rim.map((at) => at.radial_after_mm),
    }),
  };
}

/** A turned arrow around a mark: clockwise for tighter, the other way for looser. */
export function turnArrow([x, y]: [number, number], radius: number, tighter: boolean): string {
  const at = (degrees: number): [number, number] =>
    [x + radius * Math.cos((degrees * Math.PI) / 180), y + radius * Math.sin((degrees * Math.PI) / 180)];
  const tip = tighter ? at(20) : at(160);
  const from = tighter ? at(200) : at(-20);
  const barb = radius * 0.32;
  const inner = tighter ? -barb : barb;
  return `M${written(from)}A${radius} ${radius} 0 0 ${tighter ? 1 : 0} ${written(tip)}`
    + `M${written([tip[0] + inner * 1.25, tip[1] - barb * 0.35])}L${written(tip)}L${written([tip[0] - inner * 0.35, tip[1] - barb * 1.25])}`;
}
