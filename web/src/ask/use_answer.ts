import { useCallback, useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { type Changed, Refusal } from './ask';
import { onChanged } from './events';
import { keepSame } from './keep_same';

export interface Answered<T> {
  value: T | undefined;          // the last good answer, also while a newer one is asked for
  refusal: Refusal | undefined;  // why the latest question was refused
  again: () => void;             // soon, once for several changes
  now: () => void;               // at once
  put: (value: T) => void;       // an answer that came with a write
}

const kept = new Map<string, unknown>();

/** For tests and for a shop that was replaced: forgets every answer kept. */
export function forgetAnswers() {
  kept.clear();
}

/** Asks ahead of a page that may be opened when nobody can be asked; an answer that is there stays. */
export function foresee<T>(key: string, question: () => Promise<T>) {
  if (kept.has(key)) return;
  question().then(
    (value) => { if (!kept.has(key)) kept.set(key, value); },
    (error: unknown) => { if (!(error instanceof Refusal)) throw error; },  // the page asks for itself
  );
}

/** One change is told twice, by the answer to the write and by an event; it is asked about once. */
const kCalm = 40;  // milliseconds

/**
 * Asks when shown and again whenever `concerns` says that a change touches it. A page that was seen
 * before appears at once with its old answer, and then catches up: nothing jumps.
 */
export function useAnswer<T>(
  key: string,
  question: () => Promise<T>,
  concerns: (changed: Changed) => boolean = () => true,
  calm = kCalm,  // milliseconds without a further change before it asks again
): Answered<T> {
  const [, redraw] = useState(0);
  const refusal = useRef<Refusal | undefined>(undefined);
  const asked = useRef(0);
  const current = useRef(key);
  const questionNow = useRef(question);
  const concernsNow = useRef(concerns);
  questionNow.current = question;
  concernsNow.current = concerns;
  if (current.current !== key) {
    current.current = key;
    refusal.current = undefined;
  }

  const waiting = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const now = useCallback(() => {
    const number = ++asked.current;
    questionNow.current().then(
      (value) => {
        if (number !== asked.current) return;  // a newer answer is here or on its way
        kept.set(key, keepSame(kept.get(key), value));
        refusal.current = undefined;
        redraw((n) => n + 1);
      },
      (error: unknown) => {
        if (number !== asked.current) return;
        if (!(error instanceof Refusal)) throw error;
        refusal.current = error;
        redraw((n) => n + 1);
      },
    );
  }, [key]);

  const again = useCallback(() => {
    clearTimeout(waiting.current);
    waiting.current = setTimeout(now, calm);
  }, [now, calm]);

  const put = useCallback((value: T) => {
    asked.current += 1;
    kept.set(key, keepSame(kept.get(key), value));
    refusal.current = undefined;
    redraw((n) => n + 1);
  }, [key]);

  useEffect(() => {
    now();
    const unlisten = onChanged((changed) => {
      if (changed === 'everything' || concernsNow.current(changed)) again();
    });
    return () => {
      clearTimeout(waiting.current);
      unlisten();
    };
  }, [now, again]);

  return { value: kept.get(key) as T | undefined, refusal: refusal.current, again, now, put };
}

/**
 * Asks again when the revision of the order moves on, also when no event came for it. It asks before
 * the new revision is painted: by the time a person has seen it, the answer is on its way.
 */
export function useFreshFor(revision: number, again: () => void) {
  const seen = useRef(revision);
  useLayoutEffect(() => {
    if (seen.current !== revision) again();
    seen.current = revision;
  }, [revision]);
}

/** A change that names this order, or no order in particular. */
export const concernsOrder = (id: string) => (changed: Changed) =>
  changed.order === id || changed.order === '';
