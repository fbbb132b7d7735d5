import { useState } from 'preact/hooks';
import type { BenchCheck } from '../ask/ask';
import { Mark, Outcome } from '../marks/mark';
import { bench } from '../words/bench';
import { momentHere } from '../words/day';
import { useBenchDeed } from './bench_operation';
import { whyNotPass } from './bench_why';
import { Reason } from './reason';
import { useStand } from './stand';

const t = bench.checks;

/** The deeds of one line, with what keeps it from being passed above them. */
function Judge({ check, onDone }: { check: BenchCheck; onDone: () => void }) {
  const { view, person } = useStand();
  const { busy, refused, run } = useBenchDeed();
  const [asked, setAsked] = useState<'fix' | 'stop' | undefined>(undefined);
  const whyNot = whyNotPass(view, check, person);
  const say = (outcome: 'pass' | 'fix' | 'stop', note = '') =>
    run(`${check.id}: ${bench.deeds[outcome]}`, [{ deed: 'checked', about: check.id, outcome, ...(note ? { note } : {}) }]).then((taken) => { if (taken) onDone(); });
  return (
    <div class="judge">
      {check.limit && <p class="check-limit">{t.limit}: <b>{check.limit}</b></p>}
      {check.covers.length > 0 && <p class="quiet">{t.covers(check.covers)}</p>}
      {refused && <p class="bar-said refusal" role="alert"><Mark shape="cross" tone="stop" /> {refused}</p>}
      {asked ? <Reason kind={asked} detail={check.text} busy={busy} onSay={(note) => void say(asked, note)} onLeave={() => setAsked(undefined)} /> : (
        <>
          {whyNot.length > 0 && <p class="bar-said"><Mark shape="bar" tone="ink" /> {whyNot.join(' ')}</p>}
          <div class="three-big">
            <button type="button" class="pass" disabled={busy || whyNot.length > 0} onClick={() => void say('pass')}><Mark shape="tick" tone="ink" /> {t.pass}</button>
            <button type="button" disabled={busy || !person} onClick={() => setAsked('fix')}><Mark shape="triangle" tone="care" /> {t.fix}</button>
            <button type="button" disabled={busy || !person} onClick={() => setAsked('stop')}><Mark shape="struck square" tone="stop" /> {t.stop}</button>
          </div>
        </>
      )}
    </div>
  );
}

function Line({ check, open, onOpen, onDone }: { check: BenchCheck; open: boolean; onOpen: (open: boolean) => void; onDone: () => void }) {
  const { waits } = useStand();
  return (
    <li>
      <button type="button" class="check-row" aria-expanded={open} onClick={() => onOpen(!open)}>
        <span class="id">{check.id}</span>
        <span class="what"><b>{check.text}</b> <span class="quiet"><b class="ink">{check.mark}</b> {t.marks[check.mark]}</span>
          {check.because && <span class="care">{t.openAgain(check.because)}</span>}
          {check.note && <span>{check.note}</span>}
          {check.who && <span class="quiet">{t.by(check.who, momentHere(check.at))}</span>}
        </span>
        <Outcome word={check.outcome}>{t.outcome[check.outcome]}{waits.has(check.id) && <span class="care">, {bench.waitsShort}</span>}</Outcome>
      </button>
      {open && <Judge check={check} onDone={onDone} />}
    </li>
  );
}

function List({ name, checks }: { name: string; checks: BenchCheck[] }) {
  const [open, setOpen] = useState('');
  const passed = checks.filter((check) => check.outcome === 'pass').length;
  const next = (after: string) => {
    const at = checks.findIndex((check) => check.id === after);
    return checks.slice(at + 1).find((check) => check.outcome === '')?.id ?? '';
  };
  return (
    <section>
      <h2 class="list-name">{name} <span class="quiet">{t.counted(passed, checks.length)}</span></h2>
      <ul class="check-rows">
        {checks.map((check) => (
          <Line key={check.id} check={check} open={open === check.id} onOpen={(is) => setOpen(is ? check.id : '')} onDone={() => setOpen((now) => (now === check.id ? next(check.id) : now))} />
        ))}
      </ul>
    </section>
  );
}

/** The lists of this bike, each line with who signed it. */
export function BenchChecks() {
  const { view } = useStand();
  const names = [...new Set(view.checks.map((check) => check.list))];
  if (names.length === 0) return <p class="lead">{t.none}</p>;
  return <div class="bench-checks">{names.map((name) => <List key={name} name={name} checks={view.checks.filter((check) => check.list === name)} />)}</div>;
}
