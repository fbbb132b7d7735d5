import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { say } from '../words/say';

interface SomeOfProps<T> {
  list: T[];
  atOnce: number;
  children: (shown: T[]) => ComponentChildren;
}

/** The first of a list that may be very long, and a button for more. */
export function SomeOf<T>({ list, atOnce, children }: SomeOfProps<T>) {
  const [shown, setShown] = useState(atOnce);
  const left = list.length - shown;
  return (
    <>
      {children(left > 0 ? list.slice(0, shown) : list)}
      {left > 0 && <p><button type="button" onClick={() => setShown(shown + atOnce)}>{say.showMore(Math.min(left, atOnce), left)}</button></p>}
    </>
  );
}
