import { useEffect, useState } from 'preact/hooks';
import { ask, type FilledAid, Refusal } from './ask';
import { onChanged } from './events';
import { concernsOrder } from './use_answer';
import type { Typed } from './use_reckoned';

const kCalm = 200;  // milliseconds without a key before it asks

export interface WhichAid {
  order: string;
  aid: string;
  end: string;
}

/**
 * An aid filled from an order, with what was typed over it: asked when shown, when the typing rests
 * and when the order changes. The last answer stays until a newer one is here.
 */
export function useOrderAid({ order, aid, end }: WhichAid, typed: Typed) {
  const [answer, setAnswer] = useState<{ filled?: FilledAid; refusal?: Refusal }>({});
  const [changes, setChanges] = useState(0);
  useEffect(() => onChanged((changed) => {
    if (changed === 'everything' || concernsOrder(order)(changed)) setChanges((n) => n + 1);
  }), [order]);
  useEffect(() => {
    let overtaken = false;
    const timer = setTimeout(() => {
      ask.orderAid(order, aid, { ...typed, ...(end ? { end } : {}) }).then(
        (filled) => { if (!overtaken) setAnswer({ filled }); },
        (error: unknown) => {
          if (!(error instanceof Refusal)) throw error;
          if (!overtaken) setAnswer((before) => ({ ...before, refusal: error }));
        },
      );
    }, Object.keys(typed).length > 0 ? kCalm : 0);
    return () => { overtaken = true; clearTimeout(timer); };
  }, [order, aid, end, typed, changes]);
  return answer;
}
