import type { OutlineView, PointView } from '../ask/ask';

/** Points without which there is no bike to draw. All are mm from the bottom bracket, y up. */
export const kNeededPoints = [
  'rear_axle', 'front_axle', 'bottom_bracket', 'head_tube_top', 'head_tube_bottom', 'seat_cluster',
  'saddle', 'bar',
] as const;

/** A place on the paper in pixels, y down. */
export interface Spot {
  x: number;
  y: number;
}

export interface Scene {
  width: number;
  height: number;
  margins: Margins;
  scale: number;                                // pixels per mm
  spot: (point: PointView) => Spot;
  at: (name: string) => Spot | undefined;
  mm: (name: string, otherwise: number) => number;  // a length in pixels
  number: (name: string, otherwise: number) => number;  // a count, as it is
  filled: (...slots: string[]) => boolean;      // whether a part is chosen for any of these slots
  ground: number;                               // y of the ground in pixels
}

/** Room around the bike for dimension lines and words, in pixels. */
export interface Margins {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

export function missingPoints(outline: OutlineView): string[] {
  return kNeededPoints.filter((name) => !outline.points[name]);
}

const need = (outline: OutlineView, name: string): PointView =>
  outline.points[name] ?? { x: 0, y: 0 };

/** Fits the whole bike into `width` and says how high the paper has to be for it. */
export function sceneOf(
  outline: OutlineView, filled: Set<string>, width: number, margins: Margins,
): Scene {
  const rear = outline.lengths['rear_tyre_radius'] ?? 0;
  const front = outline.lengths['front_tyre_radius'] ?? 0;
  const xs = Object.values(outline.points).map((p) => p.x);
  const left = Math.min(need(outline, 'rear_axle').x - rear, ...xs);
  const right = Math.max(need(outline, 'front_axle').x + front, ...xs);
  const top = Math.max(...Object.values(outline.points).map((p) => p.y)) + 40;
  const ground = outline.lengths['ground'] ?? need(outline, 'rear_axle').y - rear;
  const scale = (width - margins.left - margins.right) / (right - left);
  const spot = (p: PointView): Spot => ({
    x: margins.left + (p.x - left) * scale,
    y: margins.top + (top - p.y) * scale,
  });
  return {
    width,
    margins,
    height: Math.round(margins.top + (top - ground) * scale + margins.bottom),
    scale,
    spot,
    at: (name) => {
      const point = outline.points[name];
      return point && spot(point);
    },
    mm: (name, otherwise) => (outline.lengths[name] ?? otherwise) * scale,
    number: (name, otherwise) => outline.lengths[name] ?? otherwise,
    filled: (...slots) => slots.some((slot) => filled.has(slot)),
    ground: spot({ x: 0, y: ground }).y,
  };
}

/** Where a battery in or on the down tube begins and ends. */
export function batterySpots(scene: Scene): [Spot, Spot] | undefined {
  const bracket = scene.at('bottom_bracket');
  const headTop = scene.at('head_tube_top');
  const headBottom = scene.at('head_tube_bottom');
  if (!scene.filled('battery') || !bracket || !headTop || !headBottom) return undefined;
  const front = scene.at('down_tube_front') ?? along(headTop, headBottom, 0.8);
  const lower = scene.at('battery_lower') ?? along(bracket, front, 0.25);
  return [lower, scene.at('battery_upper') ?? along(bracket, front, 0.84)];
}

/** The two ends of a rack: where they are known, else just above the rear tyre. */
export function rackSpots(scene: Scene): [Spot, Spot] | undefined {
  const axle = scene.at('rear_axle');
  if (!scene.filled('rack') || !axle) return undefined;
  const over = axle.y - scene.mm('rear_tyre_radius', 0) - 40 * scene.scale;
  return [
    scene.at('rack_rear') ?? { x: axle.x - 160 * scene.scale, y: over },
    scene.at('rack_front') ?? { x: axle.x + 215 * scene.scale, y: over + 6 * scene.scale },
  ];
}

/** The hand's place: from the side a bar is its clamp and a hand's width of grip behind it. */
export function gripOf(scene: Scene): Spot {
  const bar = scene.at('bar') ?? { x: 0, y: 0 };
  return scene.at('grip') ?? { x: bar.x - 125 * scene.scale, y: bar.y - 26 * scene.scale };
}

/** The foot's place, with the crank forward and down so that it covers nothing. */
export function pedalOf(scene: Scene): Spot {
  const bracket = scene.at('bottom_bracket') ?? { x: 0, y: 0 };
  const crank = scene.mm('crank_radius', 170);
  return { x: bracket.x + crank * Math.cos(0.72), y: bracket.y + crank * Math.sin(0.72) };
}

/** The foot of the bar's clamp on the steering axis: there the stem leaves the steerer. */
export function stemFoot(headBottom: Spot, headTop: Spot, bar: Spot): Spot {
  const axis = { x: headTop.x - headBottom.x, y: headTop.y - headBottom.y };
  const length = Math.hypot(axis.x, axis.y) || 1;
  const reach = (bar.x - headBottom.x) * axis.x + (bar.y - headBottom.y) * axis.y;
  const share = reach / (length * length);
  return along(headBottom, headTop, Math.max(1.02, share));
}

const near = (n: number) => Number(n.toFixed(1));

export function line(...spots: Spot[]): string {
  return spots.map((s, i) => `${i ? 'L' : 'M'}${near(s.x)} ${near(s.y)}`).join('');
}

/** A point on the way from one spot to another; 0 is the first, 1 the second, beyond is allowed. */
export function along(from: Spot, to: Spot, share: number): Spot {
  return { x: from.x + (to.x - from.x) * share, y: from.y + (to.y - from.y) * share };
}

export const distance = (a: Spot, b: Spot) => Math.hypot(b.x - a.x, b.y - a.y);

/** A step of `length` pixels from `from` in the direction of `to`. */
export function stepTo(from: Spot, to: Spot, length: number): Spot {
  const whole = distance(from, to);
  return whole === 0 ? from : along(from, to, length / whole);
}

/** The two straight runs of a belt or chain around circles of radius `ra` and `rb`. */
export function openBelt(a: Spot, ra: number, b: Spot, rb: number): string {
  const apart = distance(a, b);
  if (apart <= Math.abs(ra - rb)) return '';
  const base = Math.atan2(b.y - a.y, b.x - a.x);
  const spread = Math.acos((ra - rb) / apart);
  const run = (side: 1 | -1) => {
    const angle = base + side * spread;
    const edge = (c: Spot, r: number) =>
      ({ x: c.x + r * Math.cos(angle), y: c.y + r * Math.sin(angle) });
    return line(edge(a, ra), edge(b, rb));
  };
  return run(1) + run(-1);
}

/** Arc of a circle from one angle to another in degrees, 0 to the right, counted upwards. */
export function arc(centre: Spot, radius: number, from: number, to: number): string {
  const place = (degrees: number) => {
    const angle = (degrees * Math.PI) / 180;
    const x = near(centre.x + radius * Math.cos(angle));
    return `${x} ${near(centre.y - radius * Math.sin(angle))}`;
  };
  const large = Math.abs(to - from) > 180 ? 1 : 0;
  const sweep = to > from ? 0 : 1;
  return `M${place(from)}A${near(radius)} ${near(radius)} 0 ${large} ${sweep} ${place(to)}`;
}

/** Spokes as one path: `count` lines from the flange, crossing, to the rim. */
export function spokes(centre: Spot, flange: number, rim: number, count: number): string {
  const pairs = Math.max(8, Math.round(count / 2));
  let path = '';
  for (let i = 0; i < pairs; i += 1) {
    const outer = (i / pairs) * 2 * Math.PI;
    // Neighbours lean opposite ways, as leading and trailing spokes of a crossed wheel do.
    const inner = outer + (i % 2 === 0 ? 1 : -1) * 1.15;
    path += line(
      { x: centre.x + flange * Math.cos(inner), y: centre.y + flange * Math.sin(inner) },
      { x: centre.x + rim * Math.cos(outer), y: centre.y + rim * Math.sin(outer) },
    );
  }
  return path;
}

/**
 * Which slots of an order each piece of the drawing shows, so that pointing at a row of the
 * specification lights the piece and touching the piece opens the row.
 */
export const kSlotsOf: Record<string, string[]> = {
  frame: ['frame'], fork: ['fork', 'headset', 'steering_linkage'], stem: ['stem'],
  bar: ['handlebar', 'grips', 'shifter', 'display', 'bell', 'mirror'],
  seatpost: ['seatpost', 'seat_clamp'], saddle: ['saddle'], motor: ['motor', 'bottom_bracket'],
  battery: ['battery', 'charger'], crank: ['crankset', 'pedals'], chainring: ['chainring'],
  cog: ['rear_sprocket', 'cassette', 'rear_derailleur'], drive: ['belt', 'chain', 'guard'],
  rear_tyre: ['rear_tyre', 'rear_tube'], front_tyre: ['front_tyre', 'front_tube'],
  rear_wheel: ['rear_rim', 'rear_spokes', 'rear_wheel'],
  front_wheel: ['front_rim', 'front_spokes', 'front_wheel'],
  rear_hub: ['rear_hub'], front_hub: ['front_hub'],
  rear_rotor: ['rear_rotor', 'rear_brake'], front_rotor: ['front_rotor', 'front_brake'],
  rack: ['rack', 'child_seat', 'passenger_kit', 'rear_light'], mudguards: ['mudguards'],
};
