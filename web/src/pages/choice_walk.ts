import { useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { ChoiceView } from '../ask/ask';
import {
  rowAfterKey, rowsInSight, rowTops, type Sight, topToShow,
} from './choice_list';
import { rowHeight } from './choice_row';

const kSlimBelow = 42;  // rem: width of the list below which a row takes more lines

const rem = () => parseFloat(getComputedStyle(document.documentElement).fontSize) || 16;

/** Width in rem and height of the list's box, and how far it is scrolled. */
function useBox() {
  const box = useRef<HTMLDivElement>(null);
  const [sight, setSight] = useState<Sight>({ top: 0, height: 480 });
  const [width, setWidth] = useState(54);  // rem
  useLayoutEffect(() => {
    const element = box.current;
    if (!element) return;
    let frame = 0;
    const look = () => {
      frame = 0;
      setSight({ top: element.scrollTop, height: element.clientHeight || 480 });
      if (element.clientWidth > 0) setWidth(Math.round(element.clientWidth / rem()));
    };
    const soon = () => { frame ||= requestAnimationFrame(look); };
    look();
    const observer = new ResizeObserver(soon);
    observer.observe(element);
    element.addEventListener('scroll', soon, { passive: true });
    return () => {
      cancelAnimationFrame(frame);
      observer.disconnect();
      element.removeEventListener('scroll', soon);
    };
  }, []);
  return { box, sight, setSight, width };
}

/**
 * Walking through a list of which only what is in sight is drawn. One row is in hand: Tab reaches
 * it, keys move it, and it stays drawn also when it is scrolled out of sight, so that the focus is
 * never lost.
 */
export function useWalk(rows: ChoiceView[], first: string) {
  const { box, sight, setSight, width } = useBox();
  const slim = width < kSlimBelow;
  const [hand, setHand] = useState(first);
  const focusWanted = useRef(false);
  const tops = useMemo(() => {
    const size = rem();
    return rowTops(rows.map((row) => Math.round(rowHeight(row, width, slim) * size)));
  }, [rows, width]);
  const found = rows.findIndex(({ part }) => part.id === hand);
  const at = found < 0 ? 0 : found;

  const scrollTo = (top: number) => {
    if (box.current) box.current.scrollTop = top;
    setSight({ ...sight, top });
  };
  const take = (row: number, focus: boolean) => {
    const choice = rows[row];
    if (!choice) return;
    focusWanted.current = focus;
    const top = topToShow(tops, row, sight);
    if (top !== sight.top) scrollTo(top);
    setHand(choice.part.id);
    // Nothing is drawn again when the hand does not move.
    if (row === at && focus) focusRow();
  };
  const focusRow = () => {
    focusWanted.current = false;
    box.current?.querySelector<HTMLElement>('.hand')?.focus({ preventScroll: true });
  };
  useLayoutEffect(() => { if (focusWanted.current) focusRow(); });

  /** True when the key led somewhere. */
  const onKey = (event: KeyboardEvent): boolean => {
    const to = rowAfterKey(event.key, at, tops, sight);
    if (to === undefined) return false;
    event.preventDefault();
    take(to, true);
    return true;
  };
  const [from, to] = rowsInSight(tops, sight);
  const drawn = rows.map((_, i) => i).slice(from, to);
  if (rows.length > 0 && (at < from || at >= to)) drawn.push(at);
  return { box, slim, rows, tops, drawn, at, inHand: rows[at], take, onKey, scrollTo };
}

export type Walk = ReturnType<typeof useWalk>;
