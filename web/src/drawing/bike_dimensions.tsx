import type { OutlineView } from '../ask/ask';
import { say } from '../words/say';
import {
  along, batterySpots, gripOf, pedalOf, rackSpots, type Scene, type Spot,
} from './bike_scene';

/** A dimension line with its end strokes; the label stands where the caller wants it. */
function Across({ from, to, y }: { from: number; to: number; y: number }) {
  return <path class="dimension" d={`M${from} ${y - 5}v10M${to} ${y - 5}v10M${from} ${y}H${to}`} />;
}

function Upright({ x, from, to }: { x: number; from: number; to: number }) {
  return <path class="dimension" d={`M${x - 5} ${from}h10M${x - 5} ${to}h10M${x} ${from}V${to}`} />;
}

interface DimensionProps {
  scene: Scene;
  outline: OutlineView;
  tight: boolean;
}

function Wheelbase({ scene, outline }: DimensionProps) {
  const rear = scene.at('rear_axle');
  const front = scene.at('front_axle');
  const label = outline.labels['wheelbase'];
  if (!rear || !front || !label) return null;
  const y = scene.ground + 26;
  const down = (axle: Spot) => `M${axle.x} ${scene.ground + 6}V${y + 6}`;
  const tyre = (text: string | undefined, c: Spot) =>
    text && <text x={c.x} y={y + 22} text-anchor="middle">{text}</text>;
  return (
    <g>
      <path class="extension" d={`${down(rear)}${down(front)}`} />
      <Across from={rear.x} to={front.x} y={y} />
      <text class="on-line" x={(rear.x + front.x) / 2} y={y + 5} text-anchor="middle">{label}</text>
      {tyre(outline.labels['rear_tyre'], rear)}
      {tyre(outline.labels['front_tyre'], front)}
    </g>
  );
}

function StackAndReach({ scene, outline, tight }: DimensionProps) {
  const top = scene.at('head_tube_top');
  const bracket = scene.at('bottom_bracket');
  if (!top || !bracket) return null;
  const x = scene.width - (tight ? 44 : 104);
  const stack = outline.labels['stack'];
  const reach = outline.labels['reach'];
  const reachY = 16;
  const up = ({ x: at, y }: Spot, gap: number) => `M${at} ${y - gap}V${reachY - 6}`;
  return (
    <g>
      {stack && (
        <>
          <path class="extension"
            d={`M${top.x + 10} ${top.y}H${x + 6}M${bracket.x + 12} ${bracket.y}H${x + 6}`} />
          <Upright x={x} from={top.y} to={bracket.y} />
          <text text-anchor="middle"
            transform={`translate(${x + 18} ${(top.y + bracket.y) / 2}) rotate(-90)`}>
            {stack}
          </text>
        </>
      )}
      {reach && (
        <>
          <path class="extension"
            d={`${up(top, 8)}${up(bracket, 10)}`} />
          <Across from={bracket.x} to={top.x} y={reachY} />
          <text class="on-line" x={(bracket.x + top.x) / 2} y={reachY + 5} text-anchor="middle">
            {reach}
          </text>
        </>
      )}
    </g>
  );
}

/** Turns and moves words so that they lie in a tube. */
function inTube(from: Spot, to: Spot): string {
  const middle = along(from, to, 0.5);
  const degrees = (Math.atan2(to.y - from.y, to.x - from.x) * 180) / Math.PI;
  return `translate(${middle.x.toFixed(1)} ${middle.y.toFixed(1)}) rotate(${degrees.toFixed(1)})`;
}

function Named({ scene, outline, tight }: DimensionProps) {
  const saddle = scene.at('saddle');
  const bracket = scene.at('bottom_bracket');
  const rack = rackSpots(scene)?.[0];
  const battery = batterySpots(scene);
  const half = scene.mm('saddle_length', 270) / 2;
  return (
    <g>
      {saddle && bracket && outline.labels['saddle'] && (
        <>
          <path class="axis" d={`M${bracket.x} ${bracket.y}L${saddle.x} ${saddle.y}`} />
          <text x={tight ? saddle.x + half : saddle.x - half} y={saddle.y - 12}
            text-anchor={tight ? 'end' : 'start'}>
            {outline.labels['saddle']}
          </text>
        </>
      )}
      {rack && outline.labels['rack'] && (
        <text x={rack.x - 4} y={rack.y - 12}>{outline.labels['rack']}</text>
      )}
      {battery && outline.labels['battery'] && !tight && (
        <text class="in-tube" text-anchor="middle" transform={inTube(...battery)} y="5">
          {outline.labels['battery']}
        </text>
      )}
    </g>
  );
}

/** Where the rider touches the bike: saddle, hand, foot. */
function Contacts({ scene }: { scene: Scene }) {
  const hand = scene.at('bar') && gripOf(scene);
  const spots = [scene.at('saddle'), hand, pedalOf(scene)].filter((s) => s !== undefined);
  return (
    <g class="contact">
      {spots.map((s) => <circle key={`${s.x}`} cx={s.x} cy={s.y} r="4.5" />)}
    </g>
  );
}

const kInset = 12;

function ScaleBar({ scene, tight }: { scene: Scene; tight: boolean }) {
  const mm = tight ? 200 : 100;
  const y = scene.height - 10;
  const long = mm * scene.scale;
  return (
    <g>
      <path class="dimension heavy"
        d={`M${kInset} ${y - 4}v8M${kInset + long} ${y - 4}v8M${kInset} ${y}h${long}`} />
      <text x={kInset + long + 8} y={y + 4}>{say.order.scaleBar(mm)}</text>
    </g>
  );
}

export function Dimensions(props: DimensionProps) {
  return (
    <g class="dimensions">
      <Wheelbase {...props} />
      <StackAndReach {...props} />
      <Named {...props} />
      <Contacts scene={props.scene} />
      <ScaleBar scene={props.scene} tight={props.tight} />
    </g>
  );
}
