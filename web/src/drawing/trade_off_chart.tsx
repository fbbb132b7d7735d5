import type { CompletionView } from '../ask/ask';
import { useShop } from '../frame/shop';
import { useWidth } from '../frame/use_width';
import { Verdict } from '../marks/mark';
import { mass, money, plain } from '../words/amount';
import { dayShort } from '../words/day';
import { say } from '../words/say';
import { nameOfBike, type TradeOffScene, tradeOffScene } from './trade_off_scene';

const t = say.editor;

interface ChartProps {
  bikes: CompletionView[];
  at: number;  // which bike is shown
  onAt: (at: number) => void;
}

const dayWords = ({ ready }: CompletionView) => (ready ? dayShort(ready) : t.noDay);

/** Decimals that a step between masses needs, so that no two ticks read the same. */
const decimals = (scene: TradeOffScene) => {
  const [a, b] = scene.masses;
  return a && b ? Math.max(0, Math.ceil(-Math.log10(b.value - a.value) - 1e-9)) : 0;
};

function Axes({ scene }: { scene: TradeOffScene }) {
  const { currency } = useShop();
  const { left, right, top, bottom } = scene;
  const places = decimals(scene);
  const last = scene.prices.at(-1);
  return (
    <>
      {scene.masses.map(({ value, at }) => (
        <g key={value} class="level">
          <path d={`M${left} ${at.toFixed(1)}H${right}`} />
          <text x={left - 8} y={at + 5} text-anchor="end">{plain(value, places)}</text>
        </g>
      ))}
      <path class="axis-line" d={`M${left} ${top - 8}V${bottom}H${right}`} />
      {scene.prices.map(({ value, at }) => (
        <g key={value} class="tick">
          <path d={`M${at.toFixed(1)} ${bottom}v6`} />
          <text x={at} y={bottom + 22} text-anchor={value === last?.value ? 'end' : 'middle'}>
            {money(value, currency, false)}
          </text>
        </g>
      ))}
      <text class="axis-name" x={left - 8} y={top - 14} text-anchor="end">kg</text>
      <text class="axis-name" x={right} y={bottom + 40} text-anchor="end">{t.priceAxis}</text>
    </>
  );
}

function Points({ scene, bikes, at, onAt }: ChartProps & { scene: TradeOffScene }) {
  const { currency } = useShop();
  const onKeyDown = (event: KeyboardEvent) => {
    const way = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    if (!way) return;
    event.preventDefault();
    const to = (at + way + bikes.length) % bikes.length;
    onAt(to);
    const buttons = (event.currentTarget as HTMLElement).querySelectorAll('button');
    buttons[to]?.focus();
  };
  return (
    <div class="trade-points" onKeyDown={onKeyDown}>
      {bikes.map((bike, i) => {
        const spot = scene.spots[i] ?? { x: 0, y: 0 };
        const words = t.tradePoint(nameOfBike(i), money(bike.price_cents, currency, false),
          mass(bike.mass_kg), dayWords(bike));
        return (
          <button key={nameOfBike(i)} type="button" aria-pressed={i === at} aria-label={words}
            tabIndex={i === at ? 0 : -1} onClick={() => onAt(i)}
            style={{ left: `${spot.x}px`, top: `${spot.y}px` }} />
        );
      })}
    </div>
  );
}

/** The same as a list, for whoever reads rather than looks. */
function Bikes({ bikes, at, onAt }: ChartProps) {
  const { currency } = useShop();
  return (
    <ol class="trade-list">
      {bikes.map((bike, i) => (
        <li key={nameOfBike(i)} class={i === at ? 'now' : ''}>
          <button type="button" class="plain" aria-pressed={i === at} onClick={() => onAt(i)}>
            {t.bike} {nameOfBike(i)}
          </button>
          <span class="num">{money(bike.price_cents, currency, false)}</span>
          <span class="num">{mass(bike.mass_kg)}</span>
          <span class="num">{dayWords(bike)}</span>
          <Verdict word={bike.verdict} />
        </li>
      ))}
    </ol>
  );
}

/** Whole bikes to scale, price across and mass up, the day beside each point; then as a list. */
export function TradeOffChart({ bikes, at, onAt }: ChartProps) {
  const { ref, width } = useWidth<HTMLDivElement>(640);
  const scene = tradeOffScene(bikes, Math.min(width, 760));
  const chosen = scene.spots[at];
  return (
    <div ref={ref} class="trade-offs">
      <div class="trade-chart" style={{ height: `${scene.height}px`, width: `${scene.width}px` }}>
        <svg class="curve" width={scene.width} height={scene.height} role="img"
          aria-label={t.tradeChart(bikes.length)} viewBox={`0 0 ${scene.width} ${scene.height}`}>
          <Axes scene={scene} />
          {chosen && <circle class="ring" cx={chosen.x} cy={chosen.y} r="10" />}
          {scene.spots.map(({ x, y }, i) => {
            const label = scene.labels[i];
            return (
              <g key={nameOfBike(i)} class={i === at ? 'trade now' : 'trade'}>
                {label && Math.abs(label.y - 5 - y) > 2 && (
                  <path class="leader" d={`M${x} ${y}L${label.at} ${label.y - 5}`} />
                )}
                <circle cx={x} cy={y} r="5" />
                <text x={label?.at} y={label?.y} text-anchor={label?.onLeft ? 'end' : 'start'}>
                  {nameOfBike(i)} · {dayWords(bikes[i] as CompletionView)}
                </text>
              </g>
            );
          })}
        </svg>
        <Points scene={scene} bikes={bikes} at={at} onAt={onAt} />
      </div>
      <Bikes bikes={bikes} at={at} onAt={onAt} />
    </div>
  );
}
