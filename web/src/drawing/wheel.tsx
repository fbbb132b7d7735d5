import type { WheelOnStand } from '../ask/ask';
import { useWidth } from '../frame/use_width';
import { say } from '../words/say';
import { tensionScene } from './tension_scene';
import { type RingScene, type SpokeLine, turnArrow, type WheelScene, wheelScene, written } from './wheel_scene';

const t = say.wheel;

/** What is allowed, as a band; the spokes run over it. */
function Allowed({ ring, centre }: { ring: RingScene; centre: number }) {
  const width = ring.outer - ring.inner;
  return (
    <g class="ring">
      <circle class="allowed" cx={centre} cy={centre} r={(ring.inner + ring.outer) / 2} stroke-width={width} />
      <circle class="limit" cx={centre} cy={centre} r={ring.inner} />
      <circle class="limit" cx={centre} cy={centre} r={ring.outer} />
    </g>
  );
}

const RunOut = ({ ring }: { ring: RingScene }) => (
  <g class="ring">
    <path class="now" d={ring.now} />
    <path class="after" d={ring.after} />
  </g>
);

function TurnMark({ spoke, radius, done }: { spoke: SpokeLine; radius: number; done: boolean }) {
  const [x, y] = spoke.mark;
  const tighter = spoke.quarters > 0;
  const size = radius < 14 ? 14 : radius < 18 ? 18 : 24;
  return (
    <g class={`turn-mark ${tighter ? 'tighter' : 'looser'}${done ? ' made' : ''}`}>
      <circle cx={x} cy={y} r={radius * 0.74} />
      {!done && <path class="arrow" d={turnArrow(spoke.mark, radius * 0.95, tighter)} />}
      <text x={x} y={y + size * 0.36} text-anchor="middle" style={{ fontSize: `${size}px` }}>
        {done ? '✓' : Math.abs(spoke.quarters)}
      </text>
    </g>
  );
}

function Spokes({ scene }: { scene: WheelScene }) {
  const { centre, hubs } = scene;
  return (
    <g class="spokes">
      {scene.spokes.map((spoke) => (
        <path key={spoke.number} class={`${spoke.side}${spoke.quarters ? ' turned' : ''}`}
          d={`M${written(spoke.hub)}L${written(spoke.rim)}`} />
      ))}
      <circle class="hub" cx={centre} cy={centre} r={hubs.left} />
      <circle class="hub right" cx={centre} cy={centre} r={hubs.right} />
      <circle class="axle" cx={centre} cy={centre} r="4" />
    </g>
  );
}

function ScaleBar({ scene }: { scene: WheelScene }) {
  const { size, bar, perMm } = scene;
  return (
    <g class="scale-bar">
      <path d={`M4 ${size - 8}v5h${(bar * perMm).toFixed(1)}v-5`} />
      <text x="4" y={size - 14}>{t.scaleBar(bar)}</text>
    </g>
  );
}

const kNone: ReadonlySet<number> = new Set();

interface WheelDrawingProps {
  wheel: WheelOnStand;
  done?: ReadonlySet<number>;
  most?: number;  // pixels
}

/** The wheel seen from one side: run-out as bent rims with what is allowed, turns at the nipples. */
export function WheelDrawing({ wheel, done = kNone, most = 640 }: WheelDrawingProps) {
  const { ref, width } = useWidth<HTMLDivElement>(560);
  const size = Math.min(width, most);
  const scene = wheelScene(wheel, size);
  const turned = scene.spokes.filter((spoke) => spoke.quarters !== 0);
  const every = scene.markRadius < 16 ? 4 : 2;
  return (
    <div class="wheel-drawing" ref={ref}>
      <svg width={size} height={size} viewBox={`0 0 ${size} ${size}`} role="img"
        aria-label={t.drawing(wheel.spokes.length, turned.length)}>
        <Allowed ring={scene.sideways} centre={scene.centre} />
        <Allowed ring={scene.upright} centre={scene.centre} />
        <Spokes scene={scene} />
        <RunOut ring={scene.sideways} />
        <RunOut ring={scene.upright} />
        {scene.spokes.map((spoke, i) => (spoke.quarters || i % every === 0) && (
          <text key={spoke.number} class={spoke.quarters ? 'spoke-number turned' : 'spoke-number'}
            x={spoke.label[0]} y={spoke.label[1] + 5} text-anchor="middle">{spoke.number}</text>
        ))}
        {turned.map((spoke) => (
          <TurnMark key={spoke.number} spoke={spoke} radius={scene.markRadius} done={done.has(spoke.number)} />
        ))}
        {scene.bent && <path class="bent" d={`M${written(scene.bent[0])}L${written(scene.bent[1])}`} />}
        <ScaleBar scene={scene} />
      </svg>
      <WheelKey bent={scene.bent !== undefined} />
    </div>
  );
}

function WheelKey({ bent }: { bent: boolean }) {
  return (
    <ul class="wheel-key">
      <li><svg width="34" height="12" aria-hidden="true"><path class="now" d="M0 6h34" /></svg>{t.keyNow}</li>
      <li><svg width="34" height="12" aria-hidden="true"><path class="after" d="M0 6h34" /></svg>{t.keyAfter}</li>
      <li><svg width="34" height="14" aria-hidden="true"><path class="allowed" d="M0 1h34v12h-34Z" /></svg>{t.keyAllowed}</li>
      {bent && <li><svg width="34" height="14" aria-hidden="true"><path class="bent" d="M2 12L32 2" /></svg>{t.keyBent}</li>}
      <li>{t.keyRings}</li>
      <li>{t.keySides}</li>
      <li>{t.keyTurns}</li>
    </ul>
  );
}

/** Tension of every spoke with its uncertainty, the target of its side and the limit. */
export function TensionBars({ wheel }: { wheel: WheelOnStand }) {
  const { ref, width } = useWidth<HTMLDivElement>(600);
  const scene = tensionScene(wheel, width);
  const half = scene.barWidth / 2;
  return (
    <figure class="tensions" ref={ref}>
      <figcaption>{t.tensions} <span class="small">{t.tensionsKey}</span></figcaption>
      <svg width={width} height={scene.height} viewBox={`0 0 ${width} ${scene.height}`} role="img" aria-label={t.tensions}>
        {scene.levels.map((level) => (
          <text key={level.at} class="tick" x={scene.left - 8} y={level.y + 5} text-anchor="end">{level.at}</text>
        ))}
        {scene.bars.map((bar) => (
          <g key={bar.number} class={bar.side}>
            <path class="bar" d={`M${bar.x - half} ${scene.bottom}V${bar.now}H${bar.x + half}V${scene.bottom}`} />
            <path class="target" d={`M${bar.x - half - 2} ${bar.target}h${scene.barWidth + 4}`} />
            <path class="whisker" d={`M${bar.x} ${bar.whisker[0]}V${bar.whisker[1]}M${bar.x - 3} ${bar.whisker[0]}h6M${bar.x - 3} ${bar.whisker[1]}h6`} />
            {bar.turned && <circle class="after" cx={bar.x} cy={bar.after} r="4" />}
            {bar.label && <text class="tick" x={bar.x} y={scene.bottom + 20} text-anchor="middle">{bar.number}</text>}
          </g>
        ))}
        <path class="axis-line" d={`M${scene.left} ${scene.bottom}H${scene.right}`} />
        <path class="limit" d={`M${scene.left} ${scene.limit}H${scene.right}`} />
        <text class="limit-word" x={scene.right} y={scene.limit - 6} text-anchor="end">{t.highest(Math.round(wheel.limits.highest_n))}</text>
      </svg>
    </figure>
  );
}
