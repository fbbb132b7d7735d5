import { Mark } from '../marks/mark';
import { verdictMark } from '../marks/shape_of';
import { say } from '../words/say';
import type { Scene, Spot } from './bike_scene';
import { type PlaceMark, placeMarks, type Touch } from './clash_places';

export type SlotNames = (slots: string[]) => string;

interface PresentProps {
  scene: Scene;
  findings: Touch[];
  names: SlotNames;
  onTouch: (slots: string[]) => void;
}

const place = ({ x, y }: Spot) => ({ left: `${x.toFixed(1)}px`, top: `${y.toFixed(1)}px` });
const keyOf = (mark: PlaceMark) => mark.slots.join(' ');

/** What is known of the bike as it is, at its places; each mark leads to its slot. */
export function PresentMarks({ scene, findings, names, onTouch }: PresentProps) {
  return (
    <>
      {placeMarks(scene, findings).map((mark) => {
        const clashes = mark.verdict === 'does not fit';
        const said = say.editor.markOf(names(mark.slots), mark.verdict, mark.sentences);
        const words = clashes ? `${say.order.clashMark}, ${said}` : said;
        const { tone } = verdictMark(mark.verdict);
        return (
          <button key={keyOf(mark)} type="button" class={`place-mark ${tone}`}
            style={place(mark.spot)} aria-label={words} title={words}
            onClick={() => onTouch(mark.slots)}>
            <Mark {...verdictMark(mark.verdict)} />
            {clashes && <span class="place-word">{say.order.clashMark}</span>}
          </button>
        );
      })}
    </>
  );
}

/** A line from each place of a clash to the next, so that what meets is seen as one thing. */
const joined = (marks: PlaceMark[]) =>
  marks.map(({ spot }, i) => `${i ? 'L' : 'M'}${spot.x.toFixed(1)} ${spot.y.toFixed(1)}`).join('');

interface ComingProps {
  scene: Scene;
  touches: Touch[];
  names: SlotNames;
  bare: boolean;  // small drawing: no words
}

/** What would meet where with the part that is pointed at; to be looked at, not to be touched. */
export function ComingMarks({ scene, touches, names, bare }: ComingProps) {
  const marks = placeMarks(scene, touches);
  if (marks.length === 0) return null;
  return (
    <g class="coming" aria-hidden="true">
      {touches.map((touch, i) => (
        <path key={i} class="joining" d={joined(placeMarks(scene, [touch]))} />
      ))}
      {marks.map((mark) => {
        const { shape, tone } = verdictMark(mark.verdict);
        const left = mark.spot.x > scene.width * 0.62;
        return (
          <g key={keyOf(mark)} class={tone}
            transform={`translate(${mark.spot.x.toFixed(1)} ${mark.spot.y.toFixed(1)})`}>
            <circle r="15" class="halo" />
            <svg x="-8" y="-8" width="16" height="16"><Mark shape={shape} tone={tone} /></svg>
            {!bare && (
              <text x={left ? -20 : 20} y="5" text-anchor={left ? 'end' : 'start'}>
                {names(mark.slots)}
              </text>
            )}
          </g>
        );
      })}
    </g>
  );
}
