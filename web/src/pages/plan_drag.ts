import type { RefObject } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { xOf } from '../drawing/plan_axis';
import { neighbour, placeByKey, type PlanScene, placeUnder } from '../drawing/plan_scene';
import type { Work } from '../drawing/plan_work';
import type { Deed, Move } from './plan_move';

/** How far a pointer goes before it is a drag and no click. */
const kSlack = 5;  // pixels
/** So near to an edge the paper moves along, so much each time. */
const kEdge = 48;
const kAlong = 14;

interface Grip {
  pointer: number;
  work: Work;
  x: number;      // where it went down
  y: number;
  inBar: number;  // from the start of the work to there
}

export interface Hands {
  scene: PlanScene;
  move: Move;
  chosen: string;
  paper: RefObject<SVGSVGElement | null>;
  scroller: RefObject<HTMLDivElement | null>;
  dispatch: (deed: Deed) => void;
  onChoose: (work: Work) => void;
  onFrozen: (work: Work) => void;
}

const keyUnder = (event: Event) =>
  (event.target as Element).closest<SVGGElement>('[data-key]')?.dataset['key'];

/** Moves work on the wall with a mouse, a pen, a finger and the keyboard. */
export function useHands(hands: Hands) {
  const now = useRef(hands);
  now.current = hands;
  const grip = useRef<Grip | undefined>(undefined);
  const dragged = useRef(false);
  const pointer = useRef({ x: 0, y: 0 });
  const workOf = (event: Event) => now.current.scene.works.find((work) => work.key === keyUnder(event));
  const held = hands.move.at === 'held' ? hands.move : undefined;

  const hold = () => {
    const { scene, move, paper, dispatch } = now.current;
    if (move.at !== 'held' || !paper.current || !grip.current) return;
    const box = paper.current.getBoundingClientRect();
    const x = pointer.current.x - box.left - grip.current.inBar;
    dispatch({ do: 'hold over', place: placeUnder(scene, move.work, move.place, x, pointer.current.y - box.top) });
  };

  // While something is held near an edge the paper moves under it.
  const dragging = held?.hand === 'pointer';
  useEffect(() => {
    if (!dragging) return;
    const timer = setInterval(() => {
      const box = now.current.scroller.current?.getBoundingClientRect();
      if (!box) return;
      const { x } = pointer.current;
      const along = x < box.left + kEdge ? -kAlong : x > box.right - kEdge ? kAlong : 0;
      if (along === 0) return;
      now.current.scroller.current?.scrollBy({ left: along });
      hold();
    }, 30);
    const escape = (event: KeyboardEvent) => {
      if (event.key === 'Escape') now.current.dispatch({ do: 'put back' });
    };
    addEventListener('keydown', escape);
    return () => {
      clearInterval(timer);
      removeEventListener('keydown', escape);
    };
  }, [dragging]);

  // A finger on what is moved does not move the paper too. Only a listener that may prevent it can.
  useEffect(() => {
    const svg = hands.paper.current;
    const stay = (event: TouchEvent) => {
      if (grip.current && event.cancelable) event.preventDefault();
    };
    svg?.addEventListener('touchmove', stay, { passive: false });
    return () => svg?.removeEventListener('touchmove', stay);
  }, []);

  const onPointerDown = (event: PointerEvent) => {
    dragged.current = false;
    const work = workOf(event);
    const box = now.current.paper.current?.getBoundingClientRect();
    if (!work || !box || event.button !== 0) return;
    // A finger moves the paper; only what it has chosen before is moved itself.
    if (event.pointerType === 'touch' && work.key !== now.current.chosen) return;
    grip.current = {
      pointer: event.pointerId, work, x: event.clientX, y: event.clientY,
      inBar: event.clientX - box.left - xOf(now.current.scene.axis, work.start),
    };
  };

  const onPointerMove = (event: PointerEvent) => {
    const taken = grip.current;
    if (!taken || taken.pointer !== event.pointerId) return;
    pointer.current = { x: event.clientX, y: event.clientY };
    if (!dragged.current) {
      if (Math.hypot(event.clientX - taken.x, event.clientY - taken.y) < kSlack) return;
      dragged.current = true;
      if (taken.work.frozen) {
        grip.current = undefined;
        return now.current.onFrozen(taken.work);
      }
      now.current.paper.current?.setPointerCapture(event.pointerId);
      now.current.onChoose(taken.work);
      return now.current.dispatch({ do: 'pick up', work: taken.work, hand: 'pointer' });
    }
    hold();
  };

  const release = (deed: Deed) => () => {
    if (grip.current && dragged.current) now.current.dispatch(deed);
    grip.current = undefined;
  };

  const onClick = (event: MouseEvent) => {
    if (dragged.current) return;
    const work = workOf(event);
    if (work) now.current.onChoose(work);
  };

  const walk = (work: Work, event: KeyboardEvent) => {
    const next = neighbour(now.current.scene.rows, work.key, event.key);
    if (!next) return;
    event.preventDefault();
    const mark = now.current.paper.current?.querySelector<SVGGElement>(`[data-key="${CSS.escape(next.key)}"]`);
    mark?.focus();
    mark?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  };

  const onKeyDown = (event: KeyboardEvent) => {
    const { scene, move, dispatch, onFrozen } = now.current;
    const enters = event.key === 'Enter' || event.key === ' ';
    if (move.at === 'rest') {
      const work = workOf(event);
      if (!work) return;
      if (!enters) return walk(work, event);
      event.preventDefault();
      return work.frozen ? onFrozen(work) : dispatch({ do: 'pick up', work, hand: 'keys' });
    }
    if (event.key === 'Escape') {
      event.preventDefault();
      return dispatch({ do: 'put back' });
    }
    if (move.at !== 'held' || move.hand !== 'keys') return;
    if (enters) {
      event.preventDefault();
      return dispatch({ do: 'let down' });
    }
    const place = placeByKey(scene, move.work, move.place, event.key, event.shiftKey);
    if (!place) return;
    event.preventDefault();
    dispatch({ do: 'hold over', place });
  };

  return {
    onPointerDown, onPointerMove, onPointerUp: release({ do: 'let down' }),
    onPointerCancel: release({ do: 'put back' }), onClick, onKeyDown,
  };
}
