import type { Band } from '../ask/ask';
import { useWidth } from '../frame/use_width';
import { say } from '../words/say';
import { bandScene } from './band_scene';

/** A figure along a way: the middle of all days as a line, eight of ten days as a band. */
export function BandDrawing({ band }: { band: Band }) {
  const { ref, width } = useWidth<HTMLDivElement>(600);
  const scene = bandScene(band, width);
  const isBand = band.high.some((value, i) => value !== band.low[i]);
  return (
    <figure class="band" ref={ref}>
      <figcaption>{band.title} ({band.unit}) {isBand && <span class="small">{say.aids.bandKey}</span>}</figcaption>
      <svg width={width} height={scene.height} viewBox={`0 0 ${width} ${scene.height}`} role="img"
        aria-label={say.aids.band(band.title, `${Math.round(band.middle.at(-1) ?? 0)} ${band.unit}`)}>
        <path class="spread" d={scene.spread} />
        <path class="axis-line" d={`M${scene.left} ${scene.bottom}H${scene.right}`} />
        <path class="middle" d={scene.middle} />
        {scene.levels.map((level) => (
          <text key={level.at} x={scene.left - 8} y={level.y + 5} text-anchor="end" class="tick">{level.at}</text>
        ))}
        {scene.places.map((place) => (
          <text key={place.at} x={place.x} y={scene.bottom + 22} text-anchor="middle" class="tick">{place.at} {band.along_unit}</text>
        ))}
      </svg>
    </figure>
  );
}
