import { useMemo } from 'preact/hooks';
import type { OrderView, OutlineView } from '../ask/ask';
import { memo } from '../frame/memo';
import { useStore } from '../frame/store';
import { useWidth } from '../frame/use_width';
import { say } from '../words/say';
import { Dimensions } from './bike_dimensions';
import { Drive, Forward, Frame, Luggage, Seat, Wheel } from './bike_pieces';
import { type Margins, missingPoints, type Scene, sceneOf } from './bike_scene';
import { ComingMarks, PresentMarks, type SlotNames } from './clash_marks';
import type { Touch } from './clash_places';
import type { PointedStore } from './pointed';

const kBare: Margins = { left: 8, right: 8, top: 12, bottom: 12 };
const kTight: Margins = { left: 8, right: 58, top: 44, bottom: 76 };
const kWide: Margins = { left: 20, right: 118, top: 48, bottom: 66 };
const kTightBelow = 560;  // pixels

interface PiecesProps {
  scene: Scene;
  outline: OutlineView;
  lit: string;    // slot whose piece is lit; empty for none
  bare: boolean;  // without dimensions and words
  onTouch: (slots: string[]) => void;
}

/** Everything but the marks; drawn again only when the bike or what is lit changes. */
const Pieces = memo(({ scene, outline, lit, bare, onTouch }: PiecesProps) => {
  const tools = { scene, lit, onTouch };
  const tight = scene.width < kTightBelow;
  return (
    <>
      <path class="ground" d={`M0 ${scene.ground}H${scene.width - scene.margins.right / 2}`} />
      <Wheel {...tools} end="rear" />
      <Wheel {...tools} end="front" />
      <Luggage {...tools} />
      <Seat {...tools} />
      <Frame {...tools} />
      <Drive {...tools} />
      <Forward {...tools} />
      {!bare && <Dimensions scene={scene} outline={outline} tight={tight} />}
    </>
  );
});

export interface BikeProps {
  view: OrderView;
  pointed: PointedStore;
  open: string;  // slot whose choices are shown; its piece is lit while nothing is pointed at
  onTouch: (slots: string[]) => void;
}

interface DrawingProps extends BikeProps {
  describedAs: string;  // empty: the same is drawn elsewhere, nobody has to be told twice
}

const filledSlots = ({ spec }: OrderView) =>
  new Set(spec.slots.filter((slot) => slot.part).map((slot) => slot.slot));

/** Words for slots as the trade says them: "rear hub and rear sprocket". */
export function namesOfSlots({ spec }: OrderView): SlotNames {
  const names = new Map(spec.slots.map((slot) => [slot.slot, slot.name]));
  return (slots) => say.joined(slots.map((slot) => names.get(slot) ?? slot.replace(/_/g, ' ')));
}

function Drawing({ view, pointed, open, onTouch, describedAs }: DrawingProps) {
  const { ref, width } = useWidth<HTMLDivElement>(860);
  const now = useStore(pointed);
  const { outline, spec } = view;
  const bare = describedAs === '';
  const margins = bare ? kBare : width < kTightBelow ? kTight : kWide;
  const scene = useMemo(
    () => sceneOf(outline, filledSlots(view), width, margins), [outline, spec.slots, width]);
  const names = useMemo(() => namesOfSlots(view), [spec.slots]);
  const findings: Touch[] = spec.findings;
  return (
    <div ref={ref} class="bike" style={{ minHeight: `${scene.height}px` }}>
      <svg class={width < kTightBelow ? 'elevation tight' : 'elevation'}
        role={bare ? undefined : 'img'} aria-label={bare ? undefined : describedAs}
        aria-hidden={bare} width={width} height={scene.height}
        viewBox={`0 0 ${width} ${scene.height}`}>
        <Pieces scene={scene} outline={outline} lit={now.slot || open} bare={bare}
          onTouch={onTouch} />
        {bare && <ComingMarks scene={scene} touches={findings} names={names} bare />}
        <ComingMarks scene={scene} touches={now.touches} names={names} bare={bare} />
      </svg>
      {!bare && <PresentMarks scene={scene} findings={findings} names={names} onTouch={onTouch} />}
    </div>
  );
}

const canBeDrawn = ({ outline }: OrderView) =>
  outline.drawn && missingPoints(outline).length === 0;

/** The bike in side elevation, or the sentence that says why it cannot be drawn yet. */
export const Bike = memo((props: BikeProps) => {
  const { line, outline } = props.view;
  if (!canBeDrawn(props.view)) {
    const why = outline.why_not || say.order.notDrawn(missingPoints(outline));
    return <p class="undrawn">{why}</p>;
  }
  const labels = Object.values(outline.labels).filter(Boolean);
  return (
    <figure class="plate">
      <Drawing {...props} describedAs={say.order.describe(line.rider, labels)} />
      <figcaption>
        <b>{line.id}</b> <span>{say.order.drawing}</span> <span>{say.order.scaleNote}</span>
      </figcaption>
    </figure>
  );
});

const kNoTouch = () => undefined;

/** The bike once more, small, to stay in sight while the specification scrolls by. */
export const BikeInSight = memo(({ view, pointed, open }: Omit<BikeProps, 'onTouch'>) => {
  if (!canBeDrawn(view)) return null;
  return (
    <div class="overview">
      <Drawing view={view} pointed={pointed} open={open} describedAs="" onTouch={kNoTouch} />
    </div>
  );
});
