import type { ComponentChildren } from 'preact';
import {
  along, arc, batterySpots, distance, gripOf, kSlotsOf, line, openBelt, pedalOf, rackSpots,
  type Scene, type Spot, spokes, stemFoot, stepTo,
} from './bike_scene';

export interface PieceTools {
  scene: Scene;
  lit: string;
  onTouch: (slots: string[]) => void;
}

interface PieceProps extends Omit<PieceTools, 'scene'> {
  name: string;
  children: ComponentChildren;
}

const px = (pixels: number) => ({ strokeWidth: `${pixels}px` });

/** One piece of the bike: lit when its slot is looked at, and touching it opens that slot. */
function Piece({ name, lit, onTouch, children }: PieceProps) {
  const slots = kSlotsOf[name] ?? [];
  return (
    <g class={slots.includes(lit) ? 'piece lit' : 'piece'} onClick={() => onTouch(slots)}>
      {children}
    </g>
  );
}

/** A tube at its own width: ink outside, paper inside. */
function Tube({ d, width, tone = '' }: { d: string; width: number; tone?: string }) {
  return (
    <>
      <path class={`tube ${tone}`} d={d} style={{ strokeWidth: `${Math.max(3, width)}px` }} />
      <path class="tube-inside" d={d} style={{ strokeWidth: `${Math.max(0.6, width - 3)}px` }} />
    </>
  );
}

const near = (n: number) => n.toFixed(1);

/** On from where the pen is to `end`, in a curve that `pull` bends towards itself. */
const bow = (pull: Spot, end: Spot) =>
  `Q${near(pull.x)} ${near(pull.y)} ${near(end.x)} ${near(end.y)}`;

const known = (scene: Scene, name: string): Spot => scene.at(name) ?? { x: 0, y: 0 };

export function Wheel({ scene, end, ...touch }: PieceTools & { end: 'front' | 'rear' }) {
  const c = known(scene, `${end}_axle`);
  const tyre = scene.mm(`${end}_tyre_radius`, 0);
  const rim = scene.mm(`${end}_rim_radius`, 0);
  const hub = scene.mm(`${end}_hub_radius`, 25);
  const deep = 20 * scene.scale;
  const count = scene.number('spokes', 36);
  return (
    <g class="wheel">
      <Piece name={`${end}_tyre`} {...touch}>
        <circle class="tyre" cx={c.x} cy={c.y} r={(tyre + rim) / 2} style={px(tyre - rim)} />
      </Piece>
      <Piece name={`${end}_wheel`} {...touch}>
        <path class="spokes" d={spokes(c, hub * 0.8, rim - deep, count)} />
        <circle class="thin" cx={c.x} cy={c.y} r={rim - deep} />
        <circle class="reach" cx={c.x} cy={c.y} r={rim - deep} />
      </Piece>
      {scene.filled(`${end}_rotor`) && (
        <Piece name={`${end}_rotor`} {...touch}>
          <circle class="dashed" cx={c.x} cy={c.y} r={scene.mm(`${end}_rotor_radius`, 90)} />
        </Piece>
      )}
      <Piece name={`${end}_hub`} {...touch}>
        <circle class="shell" cx={c.x} cy={c.y} r={hub} />
        <circle class="axle" cx={c.x} cy={c.y} r={Math.max(2, 8 * scene.scale)} />
      </Piece>
    </g>
  );
}

export function Frame({ scene, ...touch }: PieceTools) {
  const bracket = known(scene, 'bottom_bracket');
  const rear = known(scene, 'rear_axle');
  const cluster = known(scene, 'seat_cluster');
  const seatTop = scene.at('seat_tube_top') ?? cluster;
  const headTop = known(scene, 'head_tube_top');
  const headBottom = known(scene, 'head_tube_bottom');
  const topFront = scene.at('top_tube_front') ?? along(headTop, headBottom, 0.22);
  const topRear = scene.at('top_tube_rear') ?? cluster;
  const downFront = scene.at('down_tube_front') ?? along(headTop, headBottom, 0.8);
  const battery = batterySpots(scene);
  return (
    <>
      <Piece name="frame" {...touch}>
        <Tube d={line(rear, cluster)} width={scene.mm('seat_stay_width', 18)} />
        <Tube d={line(rear, bracket)} width={scene.mm('chain_stay_width', 24)} />
        <Tube d={line(topRear, topFront)} width={scene.mm('top_tube_width', 36)} />
        <Tube d={line(bracket, downFront)} width={scene.mm('down_tube_width', battery ? 58 : 42)} />
        <Tube d={line(bracket, seatTop)} width={scene.mm('seat_tube_width', 34)} />
        <Tube d={line(headTop, headBottom)} width={scene.mm('head_tube_width', 46)} />
      </Piece>
      {battery && (
        <Piece name="battery" {...touch}>
          <path class="battery" d={line(...battery)} style={px(scene.mm('battery_width', 40))} />
        </Piece>
      )}
    </>
  );
}

/** Fork, stem and bar, along the axis that the head tube gives. */
export function Forward({ scene, ...touch }: PieceTools) {
  const headTop = known(scene, 'head_tube_top');
  const headBottom = known(scene, 'head_tube_bottom');
  const axle = known(scene, 'front_axle');
  const bar = known(scene, 'bar');
  const head = distance(headTop, headBottom);
  const crown = scene.at('crown') ?? stepTo(headTop, headBottom, head + 26 * scene.scale);
  // The blade leaves the crown along the steering axis and bends forward into the axle.
  const bend = stepTo(headTop, headBottom, head + distance(headBottom, axle) * 0.62);
  const blade = `${line(crown)}${bow(bend, axle)}`;
  const foot = stemFoot(headBottom, headTop, bar);
  const cap = stepTo(headBottom, foot, distance(headBottom, foot) + 20 * scene.scale);
  const grip = gripOf(scene);
  const rise = { x: bar.x + 14 * scene.scale, y: bar.y - 34 * scene.scale };
  const sweep = { x: along(bar, grip, 0.35).x, y: along(bar, grip, 0.5).y };
  return (
    <>
      <Piece name="fork" {...touch}>
        <Tube d={line(headBottom, crown)} width={scene.mm('crown_width', 50)} />
        <Tube d={blade} width={scene.mm('fork_width', 30)} />
      </Piece>
      <Piece name="stem" {...touch}>
        <Tube d={line(headTop, foot)} width={34 * scene.scale} />
        <path class="solid" d={line(foot, cap)} style={px(40 * scene.scale)} />
        <path class="solid" d={line(foot, bar)} style={px(30 * scene.scale)} />
      </Piece>
      <Piece name="bar" {...touch}>
        <path class="solid round" d={`${line(bar)}${bow(rise, sweep)}`}
          style={px(22 * scene.scale)} />
        <path class="solid round" d={line(along(bar, grip, 0.3), grip)}
          style={px(32 * scene.scale)} />
        <circle class="shell" cx={bar.x} cy={bar.y} r={Math.max(2.5, 19 * scene.scale)} />
      </Piece>
      <circle class="shell" cx={axle.x} cy={axle.y} r={Math.max(2.5, 11 * scene.scale)} />
    </>
  );
}

export function Seat({ scene, ...touch }: PieceTools) {
  const saddle = known(scene, 'saddle');
  const cluster = scene.at('seat_tube_top') ?? known(scene, 'seat_cluster');
  const half = scene.mm('saddle_length', 270) / 2;
  const s = scene.scale;
  const back = { x: saddle.x - half, y: saddle.y };
  const nose = { x: saddle.x + half, y: saddle.y + 4 * s };
  const shape = [
    line(back), `q${20 * s} ${-6 * s} ${70 * s} ${-1 * s}`,
    `L${near(nose.x)} ${near(nose.y)}`, `q${4 * s} ${16 * s} ${-14 * s} ${18 * s}`,
    `L${near(saddle.x - 10 * s)} ${near(saddle.y + 28 * s)}`,
    bow({ x: back.x + 20 * s, y: back.y + 52 * s }, { x: back.x - 2 * s, y: back.y + 28 * s }), 'Z',
  ].join('');
  return (
    <>
      <Piece name="seatpost" {...touch}>
        <Tube d={line(cluster, { x: saddle.x, y: saddle.y + 34 * s })}
          width={scene.mm('seatpost_diameter', 28)} />
      </Piece>
      <Piece name="saddle" {...touch}><path class="filled" d={shape} /></Piece>
    </>
  );
}

export function Drive({ scene, ...touch }: PieceTools) {
  const bracket = known(scene, 'bottom_bracket');
  const rear = known(scene, 'rear_axle');
  const ring = scene.mm('chainring_radius', 88);
  const cog = scene.mm('rear_sprocket_radius', 38);
  const pedal = pedalOf(scene);
  const motor = scene.filled('motor') ? scene.at('motor') ?? bracket : undefined;
  const driven = scene.filled('belt', 'chain');
  const s = scene.scale;
  return (
    <>
      {motor && (
        <Piece name="motor" {...touch}>
          <circle class="shell" cx={motor.x} cy={motor.y} r={scene.mm('motor_radius', 70)} />
        </Piece>
      )}
      {driven && (
        <Piece name="drive" {...touch}>
          <path class="drive" d={openBelt(bracket, ring, rear, cog)}
            style={px(Math.max(1.6, 7 * s))} />
        </Piece>
      )}
      <Piece name="cog" {...touch}><circle class="teeth" cx={rear.x} cy={rear.y} r={cog} /></Piece>
      <Piece name="chainring" {...touch}>
        <circle class="teeth" cx={bracket.x} cy={bracket.y} r={ring} />
      </Piece>
      <Piece name="crank" {...touch}>
        <path class="solid round" d={line(bracket, pedal)} style={px(22 * s)} />
        <path class="solid" style={px(20 * s)}
          d={line({ x: pedal.x - 44 * s, y: pedal.y }, { x: pedal.x + 48 * s, y: pedal.y })} />
        <circle class="shell" cx={bracket.x} cy={bracket.y} r={Math.max(3, 15 * s)} />
      </Piece>
    </>
  );
}

export function Luggage({ scene, ...touch }: PieceTools) {
  const rack = rackSpots(scene);
  const guard = (end: string) => scene.mm(`${end}_mudguard_radius`, 0) ||
    scene.mm(`${end}_tyre_radius`, 0) + 16 * scene.scale;
  const rear = known(scene, 'rear_axle');
  const fore = known(scene, 'front_axle');
  const stays = rack && line(along(...rack, 0.18), rear) + line(along(...rack, 0.55), rear);
  return (
    <>
      {scene.filled('mudguards') && (
        <Piece name="mudguards" {...touch}>
          <path class="guard" d={arc(rear, guard('rear'), 18, 196)} />
          <path class="guard" d={arc(fore, guard('front'), 52, 205)} />
        </Piece>
      )}
      {rack && (
        <Piece name="rack" {...touch}>
          <path class="solid" d={line(...rack)} style={px(Math.max(2, 11 * scene.scale))} />
          <path class="solid" d={stays} style={px(Math.max(1.6, 8 * scene.scale))} />
        </Piece>
      )}
    </>
  );
}
