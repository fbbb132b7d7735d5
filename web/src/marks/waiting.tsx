import { useEffect, useState } from 'preact/hooks';
import type { Refusal } from '../ask/ask';
import { say } from '../words/say';
import { Mark } from './mark';

/** Says that an answer is awaited, but only when it takes longer than a blink. */
export function Waiting({ words = say.asking }: { words?: string }) {
  const [late, setLate] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setLate(true), 250);
    return () => clearTimeout(timer);
  }, []);
  return <p class="waiting" aria-live="polite">{late ? words : '\u00a0'}</p>;
}

/** A refusal in the server's own sentence, with the one thing that can be done. */
export function Refused({ refusal, again }: { refusal: Refusal; again?: () => void }) {
  return (
    <p class="refused" role="alert">
      <Mark shape="cross" tone="stop" /> {refusal.view.sentence}{' '}
      {again && <button type="button" class="plain" onClick={again}>{say.again}</button>}
    </p>
  );
}

/** The body of a page once its answer is here; until then a sentence that says what is going on. */
export function Body<T>({ answered, children }: {
  answered: { value: T | undefined; refusal: Refusal | undefined; again: () => void };
  children: (value: T) => preact.ComponentChildren;
}) {
  const { value, refusal, again } = answered;
  return (
    <>
      {refusal && <Refused refusal={refusal} again={again} />}
      {value !== undefined ? children(value) : refusal ? null : <Waiting />}
    </>
  );
}
