import type { PromiseView } from '../ask/ask';
import { useWidth } from '../frame/use_width';
import { dayInWords, dayShort } from '../words/day';
import { say } from '../words/say';
import { curveScene, levels, oddsOn, spreadLabels } from './curve_scene';

/** Odds of being ready, by day, with the lines of 50, 80, 90 and 95 in 100 and the promised day. */
export function PromiseCurve({ promise }: { promise: PromiseView }) {
  const { ref, width } = useWidth<HTMLDivElement>(440);
  const scene = curveScene(promise, width);
  const days = [promise.day_50, promise.day_80, promise.day_90, promise.day_95];
  const labels = spreadLabels(levels.map((p) => scene.y(p) + 4), 15);
  const promised = promise.promised;
  const at = promised ? scene.x(promised) : 0;
  const onRight = at > scene.width * 0.6;
  return (
    <div ref={ref} class="curve" style={{ height: `${scene.height}px` }}>
      <svg width={width} height={scene.height} viewBox={`0 0 ${width} ${scene.height}`} role="img"
        aria-label={say.order.curve(dayInWords(promise.day_50), dayInWords(promise.day_90))}>
        {levels.map((level, i) => (
          <g key={level} class="level">
            <path d={`M${scene.left} ${scene.y(level).toFixed(1)}H${scene.right}`} />
            <text x={scene.left - 8} y={labels[i]} text-anchor="end">{Math.round(level * 100)}</text>
            <circle cx={scene.x(days[i] ?? '')} cy={scene.y(oddsOn(promise, days[i] ?? ''))} r="3.6" />
          </g>
        ))}
        <path class="axis-line" d={`M${scene.left} ${scene.bottom}H${scene.right}`} />
        {scene.ticks.map((day) => (
          <g key={day} class="tick">
            <path d={`M${scene.x(day)} ${scene.bottom}v6`} />
            <text x={scene.x(day)} y={scene.bottom + 22}
              text-anchor={day === scene.ticks[0] ? 'start' : scene.x(day) > scene.width - 40 ? 'end' : 'middle'}>{dayShort(day)}</text>
          </g>
        ))}
        <path class="odds" d={scene.path} />
        {promised && (
          <g class="promised">
            <path d={`M${at} ${scene.top - 10}V${scene.bottom}`} />
            <path class="pennant" d={`M${at} ${scene.top - 24}l${onRight ? -12 : 12} 6 ${onRight ? 12 : -12} 6Z`} />
            <text x={at + (onRight ? -18 : 18)} y={scene.top - 13} text-anchor={onRight ? 'end' : 'start'}>
              {say.order.promised} {dayShort(promised)}
            </text>
          </g>
        )}
      </svg>
    </div>
  );
}
