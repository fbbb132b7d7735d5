import type { Scale } from '../ask/ask';
import { useWidth } from '../frame/use_width';
import { say } from '../words/say';
import { scaleScene } from './scale_scene';

/** Marks along a line, one line for each group: the gears of each chainring by their development. */
export function ScaleDrawing({ scale }: { scale: Scale }) {
  const { ref, width } = useWidth<HTMLDivElement>(600);
  const scene = scaleScene(scale, width);
  return (
    <figure class="scale" ref={ref}>
      <figcaption>{scale.title} ({scale.unit})</figcaption>
      <svg width={width} height={scene.height} viewBox={`0 0 ${width} ${scene.height}`} role="img"
        aria-label={say.aids.scale(scale.title, scale.marks.length)}>
        {scene.lines.map((line) => (
          <g key={line.group}>
            <text x={0} y={line.y - 26} class="group">{line.group}</text>
            <path class="axis-line" d={`M${scene.left} ${line.y}H${scene.right}`} />
            {line.marks.map((mark, i) => (
              <g key={i}>
                <path class="mark-line" d={`M${mark.x.toFixed(1)} ${line.y}v-14`} />
                {mark.isShown && <text x={mark.x} y={line.y + 18} text-anchor="middle">{mark.label}</text>}
              </g>
            ))}
          </g>
        ))}
        {scene.ticks.map((tick) => (
          <text key={tick.at} x={tick.x} y={scene.height - 6} text-anchor="middle" class="tick">{tick.at}</text>
        ))}
      </svg>
    </figure>
  );
}
