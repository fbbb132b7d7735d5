import type { OrderView, OutlineView } from '../ask/ask';
import { useWidth } from '../frame/use_width';
import { say } from '../words/say';
import { Clashes, Dimensions } from './bike_dimensions';
import { Drive, Forward, Frame, Luggage, Seat, Wheel } from './bike_pieces';
import { missingPoints, sceneOf } from './bike_scene';

interface BikeProps {
  outline: OutlineView;
  filled: Set<string>;  // slots that have a part
  lit: string;          // slot whose piece is lit; empty for none
  describedAs: string;  // empty: the same is drawn elsewhere, nobody has to be told twice
  onTouch: (slots: string[]) => void;
}

function Drawing({ outline, filled, lit, onTouch, describedAs }: BikeProps) {
  const { ref, width } = useWidth<HTMLDivElement>(860);
  const tight = width < 560;
  const bare = describedAs === '';
  const margins = bare
    ? { left: 8, right: 8, top: 12, bottom: 12 }
    : tight
    ? { left: 8, right: 58, top: 44, bottom: 76 }
    : { left: 20, right: 118, top: 48, bottom: 66 };
  const scene = sceneOf(outline, filled, width, margins);
  const tools = { scene, lit, onTouch };
  return (
    <div ref={ref} class="bike" style={{ minHeight: `${scene.height}px` }}>
      <svg class={tight ? 'elevation tight' : 'elevation'} width={width} height={scene.height} role={bare ? undefined : 'img'} aria-label={bare ? undefined : describedAs} aria-hidden={bare}
        viewBox={`0 0 ${width} ${scene.height}`}>
        <path class="ground" d={`M0 ${scene.ground}H${width - margins.right / 2}`} />
        <Wheel {...tools} end="rear" />
        <Wheel {...tools} end="front" />
        <Luggage {...tools} />
        <Seat {...tools} />
        <Frame {...tools} />
        <Drive {...tools} />
        <Forward {...tools} />
        {!bare && <Dimensions scene={scene} outline={outline} tight={tight} />}
        <Clashes scene={scene} outline={outline} />
      </svg>
    </div>
  );
}

const filledSlots = (view: OrderView) => new Set(view.spec.slots.filter((s) => s.part).map((s) => s.slot));

/** The bike in side elevation, or the sentence that says why it cannot be drawn yet. */
export function Bike({ view, lit, onTouch }: { view: OrderView; lit: string; onTouch: (slots: string[]) => void }) {
  const { outline } = view;
  const missing = outline.drawn ? missingPoints(outline) : [];
  if (!outline.drawn || missing.length > 0) {
    return <p class="undrawn">{outline.why_not || say.order.notDrawn(missing)}</p>;
  }
  const describedAs = say.order.describe(view.line.rider, Object.values(outline.labels).filter(Boolean));
  return (
    <figure class="plate">
      <Drawing outline={outline} filled={filledSlots(view)} lit={lit} onTouch={onTouch} describedAs={describedAs} />
      <figcaption>
        <b>{view.line.id}</b> <span>{say.order.drawing}</span> <span>{say.order.scaleNote}</span>
      </figcaption>
    </figure>
  );
}

/** The bike once more, small, to stay in sight while the specification scrolls by. */
export function BikeInSight({ view, lit }: { view: OrderView; lit: string }) {
  if (!view.outline.drawn || missingPoints(view.outline).length > 0) return null;
  return <div class="overview"><Drawing outline={view.outline} filled={filledSlots(view)} lit={lit} describedAs="" onTouch={() => undefined} /></div>;
}
