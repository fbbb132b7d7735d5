import type { OutlineView } from '../ask/ask';
import { say } from '../words/say';
import { along, clashSpot, type Scene, type Spot } from './bike_scene';

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
  const tyre = (text: string | undefined, c: Spot) =>
    text && <text x={c.x} y={y + 22} text-anchor="middle">{text}</text>;
  return (
    <g>
      <path class="extension" d={`M${rear.x} ${scene.ground + 6}V${y + 6}M${front.x} ${scene.ground + 6}V${y + 6}`} />
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
  return (
    <g>
      {stack && (
        <>
          <path class="extension" d={`M${top.x + 10} ${top.y}H${x + 6}M${bracket.x + 12} ${bracket.y}H${x + 6}`} />
          <Upright x={x} from={top.y} to={bracket.y} />
          <text transform={`translate(${x + 18} ${(top.y + bracket.y) / 2}) rotate(-90)`} text-anchor="middle">{stack}</text>
        </>
      )}
      {reach && (
        <>
          <path class="extension" d={`M${top.x} ${top.y - 8}V${reachY - 6}M${bracket.x} ${bracket.y - 10}V${reachY - 6}`} />
          <Across from={bracket.x} to={top.x} y={reachY} />
          <text class="on-line" x={(bracket.x + top.x) / 2} y={reachY + 5} text-anchor="middle">{reach}</text>
        </>
      )}
    </g>
  );
}

function Named({ scene, outline, tight }: DimensionProps) {
  const saddle = scene.at('saddle');
  const bracket = scene.at('bottom_bracket');
  const rack = scene.at('rack_rear');
  const lower = scene.at('battery_lower');
  const upper = scene.at('battery_upper');
  const half = scene.mm('saddle_length', 270) / 2;
  return (
    <g>
      {saddle && bracket && outline.labels['saddle_height'] && (
        <>
          <path class="axis" d={`M${bracket.x} ${bracket.y}L${saddle.x} ${saddle.y}`} />
          <text x={saddle.x - half} y={saddle.y - 12}>{outline.labels['saddle_height']}</text>
        </>
      )}
      {rack && outline.labels['rack'] && <text x={rack.x - 4} y={rack.y - 12}>{outline.labels['rack']}</text>}
      {lower && upper && outline.labels['battery'] && !tight && (
        <text class="in-tube" text-anchor="middle" transform={`translate(${along(lower, upper, 0.5).x} ${along(lower, upper, 0.5).y}) rotate(${((Math.atan2(upper.y - lower.y, upper.x - lower.x) * 180) / Math.PI).toFixed(1)})`} y="5">{outline.labels['battery']}</text>
      )}
    </g>
  );
}

/** Where the rider touches the bike. */
function Contacts({ scene }: { scene: Scene }) {
  const spots = ['saddle', 'bar'].map((name) => scene.at(name)).filter((s) => s !== undefined);
  return (
    <g class="contact">
      {spots.map((s) => <path key={`${s.x}`} d={`M${s.x - 7} ${s.y}h14M${s.x} ${s.y - 7}v14`} />)}
    </g>
  );
}

function ScaleBar({ scene, tight }: { scene: Scene; tight: boolean }) {
  const mm = tight ? 200 : 100;
  const y = scene.height - 10;
  return (
    <g>
      <path class="dimension heavy" d={`M2 ${y - 4}v8M${2 + mm * scene.scale} ${y - 4}v8M2 ${y}h${mm * scene.scale}`} />
      <text x={2 + mm * scene.scale + 8} y={y + 4}>{say.order.scaleBar(mm)}</text>
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

/** A struck square and the word at each place where something does not fit. */
export function Clashes({ scene, outline }: { scene: Scene; outline: OutlineView }) {
  const marked = [...new Set(outline.clash)].map((name) => clashSpot(name, scene)).filter((s) => s !== undefined);
  return (
    <g class="clashes">
      {marked.map((s) => (
        <g key={`${s.x} ${s.y}`} transform={`translate(${s.x} ${s.y})`}>
          <circle r="17" class="halo" />
          <path class="square" d="M-7 -7h14v14h-14Z" />
          <path class="strike" d="M-10 10L10 -10" />
          <text x="22" y="5">{say.order.clashMark}</text>
        </g>
      ))}
    </g>
  );
}
