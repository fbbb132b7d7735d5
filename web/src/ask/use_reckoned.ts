import { useEffect, useState } from 'preact/hooks';
import { type Aid, ask, type Reckoned, Refusal } from './ask';

const kCalm = 200;  // milliseconds without a key before it reckons

export type Typed = Record<string, string>;
export const presets = (aid: Aid): Typed => Object.fromEntries(aid.inputs.map((input) => [input.key, input.preset]));
export const fileFieldOf = (aid: Aid) => aid.inputs.find((input) => input.kind === 'file');

/**
 * Reckons as soon as the typing rests. An answer that was overtaken by another question is dropped.
 * Without anything typed, or without the file that an aid wants, nothing is asked.
 */
export function useReckoned(aid: Aid, typed: Typed | undefined, file?: File) {
  const [answer, setAnswer] = useState<{ reckoned?: Reckoned; refusal?: Refusal }>({});
  useEffect(() => {
    const wanted = fileFieldOf(aid);
    if (!typed || (wanted && !file)) {
      setAnswer({});
      return undefined;
    }
    let overtaken = false;
    const timer = setTimeout(() => {
      const { [wanted?.key ?? '']: _, ...fields } = typed;
      (file ? ask.reckonFromFile(aid.id, fields, file) : ask.reckon(aid.id, typed)).then(
        (reckoned) => { if (!overtaken) setAnswer({ reckoned }); },
        (error: unknown) => {
          if (!(error instanceof Refusal)) throw error;
          if (!overtaken) setAnswer({ refusal: error });
        },
      );
    }, kCalm);
    return () => { overtaken = true; clearTimeout(timer); };
  }, [aid, typed, file]);
  return answer;
}
