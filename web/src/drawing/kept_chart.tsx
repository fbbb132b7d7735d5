import type { KeptBandView } from '../ask/ask';
import { useWidth } from '../frame/use_width';
import { inHundred } from '../words/amount';
import { keptWords as t } from '../words/kept';
import { keptScene } from './kept_scene';

/** What was said against what was kept; the table beside it says the same in numbers. */
export function KeptChart({ bands }: { bands: KeptBandView[] }) {
  const { ref, width } = useWidth<HTMLDivElement>(420);
  const scene = keptScene(bands, width);
  const words = bands.map((band) =>
    `said ${band.words}: ${band.kept} of ${band.promises} kept, ${inHundred(band.kept / band.promises)}`);
  return (
    <div ref={ref} class="kept-chart">
      <svg width={scene.side} height={scene.side} viewBox={`0 0 ${scene.side} ${scene.side}`} role="img"
        aria-label={t.chartAlt(words)}>
        {scene.ticks.map((tick) => (
          <g key={tick.in100} class="tick">
            <path d={`M${scene.left} ${tick.y}H${scene.right}`} />
            <path d={`M${tick.x} ${scene.bottom}v6`} />
            <text x={scene.left - 8} y={tick.y + 4} text-anchor="end">{tick.in100}</text>
            <text x={tick.x} y={scene.bottom + 22} text-anchor="middle">{tick.in100}</text>
          </g>
        ))}
        <text class="axis-name" x={scene.right} y={scene.side - 4} text-anchor="end">{t.saidAxis}</text>
        <text class="axis-name" x={scene.left + 6} y={scene.top + 10}>{t.keptAxis}</text>
        <path class="slope" d={`M${scene.left} ${scene.bottom}L${scene.right} ${scene.top}`} />
        {scene.marks.map((mark) => (
          <g key={mark.words} class={mark.outside ? 'band outside' : 'band'}>
            <path class="chance" d={`M${mark.x} ${mark.low}V${mark.high}M${mark.x - 5} ${mark.low}h10M${mark.x - 5} ${mark.high}h10`} />
            {mark.outside
              ? <path class="kept-mark" d={`M${mark.x} ${mark.y - 8}l8 8l-8 8l-8 -8Z`} />
              : <circle class="kept-mark" cx={mark.x} cy={mark.y} r="5.5" />}
          </g>
        ))}
      </svg>
    </div>
  );
}
