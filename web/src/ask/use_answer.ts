import { useCallback, useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import { type Changed, Refusal } from './ask';
import { momentNow } from './clock';
import { copyDown, copyOf } from './copies';
import { onChanged, onConnection } from './events';
import { keepSame } from './keep_same';
import { oneAtATime } from './one_at_a_time';

export interface Answered<T> {
  value: T | undefined;          // the last good answer, also while a newer one is asked for
  refusal: Refusal | undefined;  // why the latest question was refused
  heard: number;                 // how many answers came since this is shown
  asOf: string;                  // up to when the value is known to be so, by the shop's clock
  again: () => void;             // soon, once for several changes
  now: () => void;               // at once
  put: (value: T) => void;       // an answer that came with a write
}

const kept = new Map<string, unknown>();
const heard = new Map<string, string>();  // when each was so, by the shop's clock

/** For tests and for a shop that was replaced: forgets every answer kept. */
export function forgetAnswers() {
  kept.clear();
  heard.clear();
}

function hear(key: string, value: unknown) {
  kept.set(key, keepSame(kept.get(key), value));
  heard.set(key, momentNow());
  copyDown(key, kept.get(key));
}

/** Asks ahead of a page that may be opened when nobody can be asked. */
export function foresee<T>(key: string, question: () => Promise<T>) {
  const before = kept.get(key);
  question().then(
    (value) => { if (kept.get(key) === before) hear(key, value); },  // nothing newer came meanwhile
    (error: unknown) => { if (!(error instanceof Refusal)) throw error; },  // the page asks for itself
  );
}

/** One change is told twice, by the answer to the write and by an event; it is asked about once. */
const kCalm = 40;  // milliseconds

/**
 * Asks when shown and again whenever `concerns` says that a change touches it. A page that was seen
 * before appears at once with its old answer, and then catches up: nothing jumps. Where changes come faster
 * than answers, one question is on its way at a time. A question that gives nothing is not to be asked now: the
 * old answer stays.
 */
export function useAnswer<T>(
  key: string,
  question: () => Promise<T> | undefined,
  concerns: ((changed: Changed) => boolean) | 'nothing' = () => true,
  calm = kCalm,  // milliseconds without a further change before it asks again
): Answered<T> {
  const [, redraw] = useState(0);
  const refusal = useRef<Refusal | undefined>(undefined);
  const asked = useRef(0);
  const taken = useRef(0);  // the newest question that was answered
  const came = useRef(0);
  const current = useRef(key);
  const questionNow = useRef(question);
  const concernsNow = useRef(concerns);
  questionNow.current = question;
  concernsNow.current = concerns;
  if (current.current !== key) {
    current.current = key;
    refusal.current = undefined;
    came.current = 0;
  }

  const waiting = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const now = useMemo(() => oneAtATime(() => {
    const answer = questionNow.current();
    if (!answer) return undefined;
    const number = ++asked.current;
    const isOld = () => number <= taken.current || current.current !== key;
    return answer.then(
      (value) => {
        if (isOld()) return;
        taken.current = number;
        came.current += 1;
        hear(key, value);
        refusal.current = undefined;
        redraw((n) => n + 1);
      },
      async (error: unknown) => {
        if (isOld()) return;
        if (!(error instanceof Refusal)) throw error;
        const copy = !error.reached && !kept.has(key) ? await copyOf(key) : undefined;
        if (isOld()) return;
        taken.current = number;
        if (copy) {
          kept.set(key, copy.value);
          heard.set(key, copy.at);
        }
        refusal.current = error;
        redraw((n) => n + 1);
      },
    );
  }), [key]);

  const again = useCallback(() => {
    clearTimeout(waiting.current);
    waiting.current = setTimeout(now, calm);
  }, [now, calm]);

  const put = useCallback((value: T) => {
    asked.current += 1;
    taken.current = asked.current;
    came.current += 1;
    hear(key, value);
    refusal.current = undefined;
    redraw((n) => n + 1);
  }, [key]);

  useEffect(() => {
    now();
    const unlisten = onChanged((changed) => {
      if (concernsNow.current === 'nothing') return;  // whoever shows it asks again
      if (changed === 'everything' || concernsNow.current(changed)) again();
    });
    // Until now a change would have been told: what is shown here was so up to this moment.
    const unwatch = onConnection((connected) => {
      if (!connected && kept.has(key) && !refusal.current) hear(key, kept.get(key));
    });
    return () => {
      clearTimeout(waiting.current);
      unlisten();
      unwatch();
    };
  }, [now, again]);

  return { value: kept.get(key) as T | undefined, refusal: refusal.current, heard: came.current, asOf: heard.get(key) ?? '', again, now, put };
}

/**
 * Asks again when the revision of the order moves on, also when no event came for it, or when another answer
 * is `heard`. It asks before that is painted: by the time a person has seen it, the answer is on its way.
 */
export function useFreshFor(moved: number, again: () => void) {
  const seen = useRef(moved);
  useLayoutEffect(() => {
    if (seen.current !== moved) again();
    seen.current = moved;
  }, [moved]);
}

/** A change that names this order, or no order in particular. */
export const concernsOrder = (id: string) => (changed: Changed) =>
  changed.order === id || changed.order === '';
