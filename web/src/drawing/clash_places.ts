import { along, type Scene, type Spot, stepTo } from './bike_scene';

const middle = (scene: Scene, a: string, b: string, share = 0.5) => {
  const from = scene.at(a);
  const to = scene.at(b);
  return from && to && along(from, to, share);
};

/** On the tyre of an end, towards the tube that it may touch. */
const onTyre = (scene: Scene, end: 'rear' | 'front') => {
  const axle = scene.at(`${end}_axle`);
  const towards = scene.at(end === 'rear' ? 'bottom_bracket' : 'head_tube_bottom');
  return axle && towards && stepTo(axle, towards, scene.mm(`${end}_tyre_radius`, 350));
};

/** Straight up from an axle, where a rim or its spokes are seen alone. */
const above = (scene: Scene, end: 'rear' | 'front', share: number) => {
  const axle = scene.at(`${end}_axle`);
  return axle && { x: axle.x, y: axle.y - scene.mm(`${end}_rim_radius`, 311) * share };
};

type Place = (scene: Scene) => Spot | undefined;

const at = (name: string): Place => (scene) => scene.at(name);
const between = (a: string, b: string, share?: number): Place => (scene) =>
  middle(scene, a, b, share);

const kDownTube = between('bottom_bracket', 'head_tube_bottom');
const kAtBracket = at('bottom_bracket');
const kAtBar = at('bar');
const kDrive = between('rear_axle', 'bottom_bracket');
const kRack: Place = (scene) =>
  scene.at('rack_rear') ?? middle(scene, 'seat_cluster', 'rear_axle', 0.1);

const kPlaces: Record<string, Place> = {
  frame: kDownTube, down_tube: kDownTube, battery: kDownTube, charger: kDownTube, lock: kDownTube,
  tracker: between('seat_cluster', 'head_tube_top'),
  top_tube: between('seat_cluster', 'head_tube_top'),
  seat_tube: between('bottom_bracket', 'seat_cluster'),
  head_tube: between('head_tube_top', 'head_tube_bottom'),
  chain_stay: kDrive, seat_stay: between('rear_axle', 'seat_cluster'),
  fork: between('head_tube_bottom', 'front_axle', 0.3), headset: at('head_tube_bottom'),
  steering_linkage: at('head_tube_bottom'),
  stem: between('head_tube_top', 'bar', 0.4),
  handlebar: kAtBar, grips: kAtBar, shifter: kAtBar, display: kAtBar, bell: kAtBar, mirror: kAtBar,
  seatpost: between('seat_cluster', 'saddle'), seat_clamp: at('seat_cluster'), saddle: at('saddle'),
  motor: kAtBracket, bottom_bracket: kAtBracket, crankset: kAtBracket, chainring: kAtBracket,
  pedals: kAtBracket, kickstand: between('bottom_bracket', 'rear_axle', 0.25),
  belt: kDrive, chain: kDrive, guard: kDrive,
  rear_tyre: (scene) => onTyre(scene, 'rear'), front_tyre: (scene) => onTyre(scene, 'front'),
  rear_tube: (scene) => onTyre(scene, 'rear'), front_tube: (scene) => onTyre(scene, 'front'),
  mudguards: (scene) => onTyre(scene, 'rear'),
  rear_rim: (scene) => above(scene, 'rear', 0.97),
  front_rim: (scene) => above(scene, 'front', 0.97),
  rear_spokes: (scene) => above(scene, 'rear', 0.55),
  front_spokes: (scene) => above(scene, 'front', 0.55),
  rack: kRack, child_seat: kRack, passenger_kit: kRack, rear_light: kRack,
};

/** Where on the bike a clash named by the server (a point, a tube, a slot) is marked. */
export function clashSpot(name: string, scene: Scene): Spot | undefined {
  const place = kPlaces[name];
  if (place) return place(scene);
  const point = scene.at(name);
  if (point) return point;
  if (name.startsWith('front_')) return scene.at('front_axle');
  return name.startsWith('rear_') || name === 'cassette' ? scene.at('rear_axle') : undefined;
}

/** Something to be marked: what touches which slots, and how well. */
export interface Touch {
  verdict: string;
  slots: string[];
  sentence: string;
}

/** A finding on more positions than this is about the whole bike (its mass, say): it has no place. */
export const kPlacesMost = 8;

export const hasPlaces = ({ slots }: { slots: string[] }) => slots.length <= kPlacesMost;

export interface PlaceMark {
  spot: Spot;
  verdict: string;      // the worst of what meets here
  slots: string[];
  sentences: string[];
}

const kWorstFirst = ['does not fit', 'not known', 'fits with care', 'fits with'];
const badness = (verdict: string) => {
  const at = kWorstFirst.indexOf(verdict);
  return at < 0 ? kWorstFirst.length : at;
};

const kMarkRoom = 24;  // pixels: marks nearer to one another than this would cover one another

const isNear = (a: Spot, b: Spot) => Math.hypot(a.x - b.x, a.y - b.y) < kMarkRoom;

/** One mark for each place of the drawing, the worst first; slots without a place have none. */
export function placeMarks(scene: Scene, touches: Touch[]): PlaceMark[] {
  const marks: PlaceMark[] = [];
  for (const { verdict, slots, sentence } of touches.filter(hasPlaces)) {
    for (const slot of slots) {
      const spot = clashSpot(slot, scene);
      if (!spot) continue;
      let mark = marks.find((other) => isNear(other.spot, spot));
      if (!mark) marks.push(mark = { spot, verdict, slots: [], sentences: [] });
      if (badness(verdict) < badness(mark.verdict)) mark.verdict = verdict;
      if (!mark.slots.includes(slot)) mark.slots.push(slot);
      if (sentence && !mark.sentences.includes(sentence)) mark.sentences.push(sentence);
    }
  }
  return marks.toSorted((a, b) => badness(a.verdict) - badness(b.verdict));
}
