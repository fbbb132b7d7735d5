import { useRef, useState } from 'preact/hooks';
import { ask, Refusal, type SoonerView, type WayView } from '../ask/ask';
import { useShop } from '../frame/shop';
import { Mark } from '../marks/mark';
import { Refused, Waiting } from '../marks/waiting';
import { moneyDifference } from '../words/amount';
import { soonerWords as t } from '../words/sooner';

/** Asked for by a person only: it runs the whole shop a dozen times. */
function useSooner(id: string, revision: number) {
  const [answer, setAnswer] = useState<{ view: SoonerView; revision: number } | undefined>(undefined);
  const [refusal, setRefusal] = useState<Refusal | undefined>(undefined);
  const [busy, setBusy] = useState(false);
  const wanted = useRef(0);
  const look = async () => {
    const number = ++wanted.current;
    setBusy(true);
    setRefusal(undefined);
    try {
      const view = await ask.sooner(id);
      if (number === wanted.current) setAnswer({ view, revision });
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      if (number === wanted.current) setRefusal(error);
    } finally {
      if (number === wanted.current) setBusy(false);
    }
  };
  return { view: answer?.view, stale: answer !== undefined && answer.revision !== revision, refusal, busy, look };
}

function Price({ way }: { way: WayView }) {
  const { currency } = useShop();
  if (way.price_cents === 0) return <>{t.noCost}</>;
  const amount = moneyDifference(way.price_cents, currency);
  return <>{way.price_is_most ? t.most(amount) : amount}</>;
}

function Others({ way }: { way: WayView }) {
  if (way.others.length === 0) return <p class="quiet">{t.noOther}</p>;
  return (
    <ul class="way-others">
      {way.others.map((other) => (
        <li key={other.order}>
          {other.chance_after < other.chance_before && <Mark shape="gap" tone="care" />}{' '}
          {t.other(other.order, other.rider, other.promised, other.chance_before, other.chance_after)}
        </li>
      ))}
    </ul>
  );
}

interface WayProps {
  way: WayView;
  now: number | null;  // chance that the promise is kept as it is
  onSlot: (slots: string[]) => void;
}

function Where({ way, onSlot }: Omit<WayProps, 'now'>) {
  if (way.slot) {
    return (
      <button type="button" class="plain" onClick={() => onSlot([way.slot])}>{t.seeSlot}</button>
    );
  }
  if (way.kind === 'other supplier' || way.kind === 'freight') return <a href="/parts/buy">{t.seeBuy}</a>;
  if (way.kind === 'first' || way.kind === 'longer days') return <a href="/plan">{t.seePlan}</a>;
  return null;
}

function Way({ way, now, onSlot }: WayProps) {
  return (
    <div class="way">
      <p class="way-what">{way.what}</p>
      <p class="way-sum">
        <b>{t.wins(way.mean_days)}</b> <span class="quiet">{t.onAverage}</span>
        <span class="num"><Price way={way} /></span>
      </p>
      <p>
        {t.readyBy(way.day_50, way.day_90)}
        {now !== null && way.chance_kept !== null && ` ${t.kept(way.chance_kept, now)}`}
      </p>
      {way.note && <p>{way.note}</p>}
      <Others way={way} />
      <Where way={way} onSlot={onSlot} />
    </div>
  );
}

function Ways({ view, onSlot }: { view: SoonerView; onSlot: WayProps['onSlot'] }) {
  const now = view.chance_kept;
  return (
    <>
      <p class="promise-sentence">{view.sentence}</p>
      {view.ways.length > 0 && (
        <>
          <h3>{t.alone}</h3>
          <ul class="ways">
            {view.ways.map((way) => (
              <li key={way.what}><Way way={way} now={now} onSlot={onSlot} /></li>
            ))}
          </ul>
        </>
      )}
      {view.together.length > 1 && (
        <>
          <h3>{t.together}</h3>
          <ol class="ways">
            {view.together.map((step) => (
              <li key={step.place}><Way way={step.way} now={now} onSlot={onSlot} /></li>
            ))}
          </ol>
        </>
      )}
      {view.no_help.length > 0 && (
        <details>
          <summary>{t.noHelp(view.no_help.length)}</summary>
          <ul class="no-help">{view.no_help.map((way) => <li key={way.what}>{way.what}</li>)}</ul>
        </details>
      )}
      <p class="small">{t.runs(view.runs, view.draws, view.seconds)}</p>
    </>
  );
}

interface PanelProps {
  id: string;
  revision: number;
  hidden: boolean;  // no whole bike yet: nothing is worth comparing
  onSlot: WayProps['onSlot'];
}

export function SoonerPanel({ id, revision, hidden, onSlot }: PanelProps) {
  const { view, stale, refusal, busy, look } = useSooner(id, revision);
  if (hidden) return null;
  return (
    <section class="sooner" aria-labelledby="sooner">
      <h2 id="sooner">{t.title}</h2>
      {!view && <p>{t.lead}</p>}
      {stale && <p class="missing"><Mark shape="gap" tone="care" /> {t.stale}</p>}
      <p class="deeds">
        <button type="button" class="plain" disabled={busy} onClick={look}>
          {view ? t.askAgain : t.ask}
        </button>
      </p>
      <div aria-live="polite">
        {busy ? <Waiting words={t.waits} /> : refusal ? <Refused refusal={refusal} />
          : view && <Ways view={view} onSlot={onSlot} />}
      </div>
    </section>
  );
}
