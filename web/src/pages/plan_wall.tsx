import { useEffect, useMemo, useRef } from 'preact/hooks';
import type { PlanView } from '../ask/ask';
import type { By } from '../drawing/plan_lanes';
import { perMinuteOf, planScene, samePlace, placeOf, type Zoom } from '../drawing/plan_scene';
import type { Work } from '../drawing/plan_work';
import { Ghost, type Verdict } from '../drawing/wall_ghost';
import { WallPlan } from '../drawing/wall_plan';
import { useWidth } from '../frame/use_width';
import { planWords as t } from '../words/plan';
import type { PlanDesk } from './plan_desk';
import { useHands } from './plan_drag';
import type { Move } from './plan_move';

interface WallOfProps {
  plan: PlanView;      // what the wall shows: as agreed, or as proposed
  by: By;
  zoom: Zoom;
  desk: PlanDesk;
  day: string;         // the paper is moved along to it
  chosen: string;
  order: string;
  moved: Set<string>;
  old: Work[];
  onChoose: (work: Work) => void;
}

function verdictOf(move: Move): Verdict {
  if (move.at === 'rest' || samePlace(move.place, placeOf(move.work))) return 'unasked';
  if (!move.answer) return 'asking';
  return move.answer.lands ? 'lands' : 'no';
}

/** The slip lies over the foot of the page: what it tells of is never left under it. */
function unveil(mark: Element) {
  const slip = document.querySelector('.plan-slip')?.getBoundingClientRect();
  const here = mark.getBoundingClientRect();
  if (slip && here.bottom > slip.top && here.top < slip.bottom) scrollBy({ top: here.bottom - slip.top + 12 });
}

/** The wall in the hands of a person. */
export function WallOf({ plan, by, zoom, day, desk, chosen, order, moved, old, onChoose }: WallOfProps) {
  const { ref: scroller, width } = useWidth<HTMLDivElement>(1200);
  const paper = useRef<SVGSVGElement>(null);
  const scene = useMemo(() => planScene(plan, by, perMinuteOf(plan, zoom, width)), [plan, by, zoom, width]);
  const { move, dispatch } = desk;
  const frozen = (work: Work) => {
    onChoose(work);
    desk.say(t.move.frozen(t.workShort(work.order, work.operation)));
  };
  const hands = useHands({ scene, move, chosen, paper, scroller, dispatch, onChoose, onFrozen: frozen });
  const onFocusIn = (event: FocusEvent) => {
    const mark = (event.target as Element).closest<SVGGElement>('[data-key]');
    const work = scene.works.find((one) => one.key === mark?.dataset['key']);
    if (!mark || !work || move.at !== 'rest') return;
    if (mark.matches(':focus-visible')) onChoose(work);
  };

  useEffect(() => {
    const column = scene.axis.days.find((one) => one.day === day);
    if (column) scroller.current?.scrollTo({ left: column.x });
  }, [day, zoom, by]);

  // Held by keys, the place stays in view.
  useEffect(() => {
    if (move.at === 'held' && move.hand === 'keys') {
      paper.current?.querySelector('.ghost')?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
    }
  }, [move]);

  // Kept or put back, the keyboard goes on where the work is.
  const byKeys = useRef('');
  useEffect(() => {
    const key = byKeys.current;
    byKeys.current = move.at !== 'rest' && move.hand === 'keys' ? move.work.key : '';
    if (key && move.at === 'rest') paper.current?.querySelector<SVGGElement>(`[data-key="${CSS.escape(key)}"]`)?.focus();
  }, [move]);

  // What is chosen, and what is let down, is seen above the slip that tells of it.
  const answered = move.at === 'down' && move.answer !== undefined;
  useEffect(() => {
    const mark = paper.current?.querySelector('.work-bar.chosen');
    if (mark && move.at !== 'held') requestAnimationFrame(() => unveil(mark));
  }, [answered, chosen]);

  const first = scene.rows.find((row) => row.works.length > 0)?.works[0]?.work.key ?? '';
  const entry = scene.works.some((work) => work.key === chosen) ? chosen : first;
  const inHand = move.at === 'rest' ? '' : move.work.key;
  const shownMoved = move.at === 'down' && move.answer?.lands;
  return (
    <WallPlan scene={scene} chosen={chosen} order={order} moved={moved} inHand={shownMoved ? '' : inHand} entry={entry}
      old={old} scroller={scroller} paper={paper} handlers={{ ...hands, onFocusIn }}>
      {move.at !== 'rest' && !shownMoved && (
        <Ghost scene={scene} work={move.work} place={move.place} verdict={verdictOf(move)} />
      )}
    </WallPlan>
  );
}
