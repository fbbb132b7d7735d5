import { ask, type PromiseView } from '../ask/ask';
import { useAnswer, useFreshFor } from '../ask/use_answer';
import { PromiseCurve } from '../drawing/curve';
import { memo } from '../frame/memo';
import { Mark } from '../marks/mark';
import { Refused, Waiting } from '../marks/waiting';
import { inHundred } from '../words/amount';
import { dayInWords } from '../words/day';
import { say } from '../words/say';

const kDraws = 2000;
/** While parts are chosen in quick succession no future is drawn: it costs more than it tells. */
const kCalm = 500;

function Odds({ promise }: { promise: PromiseView }) {
  const rows: [number, string][] = [
    [50, promise.day_50], [80, promise.day_80], [90, promise.day_90], [95, promise.day_95],
  ];
  return (
    <dl class="odds-list">
      {rows.map(([p, day]) => (
        <div key={p}><dt>{say.order.inCases(p)}</dt><dd>{dayInWords(day)}</dd></div>
      ))}
    </dl>
  );
}

function Holds({ promise }: { promise: PromiseView }) {
  if (promise.holds.length === 0) return null;
  return (
    <>
      <h3>{say.order.holds}</h3>
      <ul class="holds">
        {promise.holds.map((hold) => (
          <li key={hold.what}>
            <span>{hold.what}</span>
            <span class="num">{inHundred(hold.share)}</span>
            <i aria-hidden="true" style={{ width: `${(hold.share * 100).toFixed(1)}%` }} />
          </li>
        ))}
      </ul>
    </>
  );
}

/** Drawn again only for another answer: the curve is the dearest drawing of the page. */
const Promised = memo(({ promise }: { promise: PromiseView }) => {
  return (
    <>
      <p class="promise-sentence">{promise.sentence}</p>
      <PromiseCurve promise={promise} />
      <Odds promise={promise} />
      <Holds promise={promise} />
      <p class="small">{say.order.draws(promise.draws, promise.seconds)}</p>
    </>
  );
});

/**
 * The odds of an order as its last answer shows it; `heard` counts those. Whatever changes the odds changes the
 * order's answer first, and only that says whether a day can be asked for at all: `none` is why not. So nothing
 * is asked for an order that is shown from an earlier visit, nor by an event that the order has not caught up with.
 */
export function usePromise(id: string, none: string, heard: number) {
  const answered = useAnswer<PromiseView>(
    `promise ${id}`, () => (none || heard === 0 ? undefined : ask.promise(id, kDraws)), 'nothing', kCalm,
  );
  useFreshFor(heard, answered.again);
  return none ? { ...answered, value: undefined, refusal: undefined } : answered;
}

interface PanelProps {
  answered: ReturnType<typeof usePromise>;
  none: string;   // why no day can be asked for
  empty: number;  // required positions without a part: what they will need is not in the odds
}

export function PromisePanel({ answered, none, empty }: PanelProps) {
  const { value, refusal } = answered;
  return (
    <section class="promise" aria-labelledby="the-day">
      <h2 id="the-day">{say.order.promise}</h2>
      {empty > 0 && <p class="missing"><Mark shape="gap" tone="care" /> {say.order.notWhole(empty)}</p>}
      {none ? <p>{none}</p> : refusal ? <Refused refusal={refusal} />
        : value ? <Promised promise={value} /> : <Waiting words={say.order.promiseWaits} />}
    </section>
  );
}
