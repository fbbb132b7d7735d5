import type { Reckoned, WheelOnStand } from '../ask/ask';
import { TensionBars, WheelDrawing } from '../drawing/wheel';
import { Mark } from '../marks/mark';
import { say } from '../words/say';

const t = say.truing;

interface TurnsProps {
  reckoned: Reckoned;
  wheel: WheelOnStand;
  ticked: number[];
  onTicked: (ticked: number[]) => void;
}

const turnedSpokes = (wheel: WheelOnStand) => wheel.spokes.filter((spoke) => spoke.quarters !== 0);

/** All are ticked, or none: then "made" is meant of all. */
export function areAllMeant(wheel: WheelOnStand, ticked: number[]): boolean {
  const turned = turnedSpokes(wheel);
  const done = turned.filter((spoke) => ticked.includes(spoke.number)).length;
  return done === 0 || done === turned.length;
}

function TurnList({ wheel, ticked, onTicked }: Omit<TurnsProps, 'reckoned'>) {
  const turned = turnedSpokes(wheel);
  if (turned.length === 0) return null;
  const tick = (spoke: number, on: boolean) =>
    onTicked(on ? [...ticked, spoke] : ticked.filter((one) => one !== spoke));
  return (
    <ol class="turn-list" aria-label={t.list}>
      {turned.map((spoke) => (
        <li key={spoke.number}>
          <label class={ticked.includes(spoke.number) ? 'made' : ''}>
            <input type="checkbox" checked={ticked.includes(spoke.number)} aria-label={`${t.spoke(spoke.number, spoke.side)}: ${spoke.turn}, ${t.done}`}
              onChange={(event) => tick(spoke.number, event.currentTarget.checked)} />
            <span class="which"><b>{spoke.number}</b> {spoke.side}</span>
            <span class="what">{spoke.turn} {spoke.quarters > 0 ? '↻' : '↺'}</span>
          </label>
        </li>
      ))}
    </ol>
  );
}

/** The whole wheel is seen at once beside what frames the page. */
const sizeInSight = () => Math.min(640, Math.max(380, innerHeight - 280));

export function Turns({ reckoned, wheel, ticked, onTicked }: TurnsProps) {
  const turned = turnedSpokes(wheel);
  const done = turned.filter((spoke) => ticked.includes(spoke.number));
  const [first, ...others] = wheel.said;
  const bent = wheel.verdict === 'rim bent';
  return (
    <div class="truing-turns" aria-live="polite">
      <div class="truing-drawing">
        <WheelDrawing wheel={wheel} done={new Set(ticked)} most={sizeInSight()} />
      </div>
      <div class="truing-said">
        <p class={bent ? 'do-this stop' : 'do-this'}>{bent && <Mark shape="struck square" tone="stop" />} {first}</p>
        {reckoned.cautions.filter((caution) => caution !== first).map((caution) => (
          <p key={caution} class="care"><Mark shape="half" tone="care" /> {caution}</p>
        ))}
        <TurnList wheel={wheel} ticked={ticked} onTicked={onTicked} />
        {turned.length > 0 && <p class="quiet">{areAllMeant(wheel, ticked) ? t.again : t.tickAll(done.length, turned.length)}</p>}
        {others.map((sentence) => <p key={sentence}>{sentence}</p>)}
      </div>
      <TensionBars wheel={wheel} />
    </div>
  );
}
