import { useState } from 'preact/hooks';
import type { DeedGiven, KitPart } from '../ask/ask';
import { Mark } from '../marks/mark';
import { bench } from '../words/bench';
import { momentHere } from '../words/day';
import { useBenchDeed } from './bench_operation';
import { kittedDeed } from './bench_scans';
import { Reason } from './reason';
import { useStand } from './stand';

const t = bench.kit;

/** A number that may be of several parts: which one, a person says. */
export function WhichPart({ text, parts, onChosen }: { text: string; parts: KitPart[]; onChosen: (part: KitPart | undefined) => void }) {
  return (
    <section class="which-part" aria-labelledby="which-part">
      <h2 id="which-part">{bench.scan.which(text)}</h2>
      <ul class="big-choices">
        {parts.map((part) => (
          <li key={part.slot}><button type="button" onClick={() => onChosen(part)}>{part.position}<span class="quiet"> {part.name}</span></button></li>
        ))}
        <li><button type="button" onClick={() => onChosen(undefined)}>{bench.scan.none}</button></li>
      </ul>
    </section>
  );
}

/** Binding by hand, for a part that is opened: its number typed, or none where it carries none. */
function Bind({ part, onDone }: { part: KitPart; onDone: () => void }) {
  const { view, person } = useStand();
  const { busy, refused, run } = useBenchDeed();
  const [mark, setMark] = useState('');
  const [other, setOther] = useState('');  // number of another part, on a bike in care
  const [why, setWhy] = useState('');
  const deedOf = (number: string): DeedGiven => (view.care
    ? { ...kittedDeed(part, number), deed: 'on', ...(other.trim() ? { part: other.trim() } : {}), note: why.trim() }
    : kittedDeed(part, number));
  const bind = (number: string) => run(`${part.position} ${number}: ${bench.deeds[view.care ? 'on' : 'kitted']}`, [deedOf(number)])
    .then((taken) => { if (taken) onDone(); });
  const submit = (event: Event) => {
    event.preventDefault();
    if (mark.trim()) void bind(mark.trim());
  };
  return (
    <form class="bind" onSubmit={submit}>
      {part.seen.length > 0 && (
        <ul class="big-choices" aria-label={t.seen}>
          {part.seen.slice(0, 12).map((one) => <li key={one}><button type="button" disabled={busy || !person} onClick={() => void bind(one)}>{one}<span class="quiet"> {t.seen}</span></button></li>)}
        </ul>
      )}
      <label><span>{part.has_serial ? t.number : t.lot} <span class="quiet">{part.has_serial ? t.byNumber : t.byLot}</span></span>
        <input type="text" value={mark} maxLength={120} autocomplete="off" onInput={(event) => setMark(event.currentTarget.value)} />
      </label>
      {view.care && (
        <>
          <label><span>{t.other} <span class="quiet">{t.otherHint}</span></span>
            <input type="text" value={other} maxLength={120} autocomplete="off" onInput={(event) => setOther(event.currentTarget.value)} />
          </label>
          <label><span>{t.otherWhy}</span>
            <input type="text" value={why} maxLength={400} autocomplete="off" onInput={(event) => setWhy(event.currentTarget.value)} />
          </label>
        </>
      )}
      {refused && <p class="bar-said refusal" role="alert"><Mark shape="cross" tone="stop" /> {refused}</p>}
      {!person && <p class="bar-said">{bench.why.nobody}</p>}
      <p class="deeds">
        <button type="submit" class="big-do" disabled={busy || !person || !mark.trim()}>{t.bind}</button>
        {!part.has_serial && <button type="button" class="big-do plainly" disabled={busy || !person} onClick={() => void bind('')}>{t.noMark}</button>}
      </p>
    </form>
  );
}

function TakeOff({ part, onDone }: { part: KitPart; onDone: () => void }) {
  const { person } = useStand();
  const { busy, refused, run } = useBenchDeed();
  const deed = (note: string): DeedGiven => ({ deed: 'off', about: part.slot, note, ...(part.serial ? { serial: part.serial } : {}) });
  if (!person) return <p class="bar-said">{bench.why.nobody}</p>;
  return (
    <>
      <Reason kind="off" detail={`${part.position}: ${part.name}`} busy={busy} onLeave={onDone}
        onSay={(note) => void run(`${part.position}: ${bench.deeds['off']}`, [deed(note)]).then((taken) => { if (taken) onDone(); })} />
      {refused && <p class="bar-said refusal" role="alert"><Mark shape="cross" tone="stop" /> {refused}</p>}
    </>
  );
}

function Part({ part, open, onOpen }: { part: KitPart; open: boolean; onOpen: (open: boolean) => void }) {
  const { waits } = useStand();
  const where = part.bound
    ? [part.serial, part.lot && `${t.lot.toLowerCase()} ${part.lot}`, part.came_by && t.cameBy(part.came_by)].filter(Boolean).join(', ')
    : [part.here, part.has_serial && t.needsNumber, part.may_follow && t.follow].filter(Boolean).join(', ');
  return (
    <li>
      <button type="button" class="kit-row" aria-expanded={open} onClick={() => onOpen(!open)}>
        <Mark shape={part.bound ? 'disc' : 'ring'} tone={part.bound ? 'ink' : 'quiet'} />
        <span class="what"><b>{part.position}</b> <span>{part.name}</span></span>
        <span class="where">{where}{part.bound && <span class="quiet"> {t.since(part.who, momentHere(part.since))}</span>}{waits.has(part.slot) && <span class="care"> {bench.waitsShort}</span>}</span>
      </button>
      {open && (part.bound ? <TakeOff part={part} onDone={() => onOpen(false)} /> : <Bind part={part} onDone={() => onOpen(false)} />)}
    </li>
  );
}

function Parts({ title, parts }: { title: string; parts: KitPart[] }) {
  const [open, setOpen] = useState('');
  if (parts.length === 0) return null;
  return (
    <section>
      <h2>{title} <span class="quiet">{parts.length}</span></h2>
      <ul class="kit-rows">
        {parts.map((part) => <Part key={part.slot} part={part} open={open === part.slot} onOpen={(is) => setOpen((now) => (is ? part.slot : now === part.slot ? '' : now))} />)}
      </ul>
    </section>
  );
}

function Wheel({ wheel }: { wheel: 'front_wheel' | 'rear_wheel' }) {
  const { view, waits, person } = useStand();
  const { busy, refused, run } = useBenchDeed();
  const [asked, setAsked] = useState(false);
  const word = bench.wheels[wheel] ?? wheel;
  const paired = view.paired.includes(wheel);
  const byHand = () => run(`${word}: ${bench.deeds['paired']}`, [{ deed: 'paired', about: wheel, note: t.byHandNote }]).then(() => setAsked(false));
  return (
    <li class="wheel-pair">
      <p><Mark shape={paired ? 'disc' : 'ring'} tone={paired ? 'ink' : 'quiet'} /> <b>{word}</b> {paired ? t.isPaired : t.notPaired}{waits.has(wheel) && <span class="care"> {bench.waitsShort}</span>}</p>
      {!paired && (asked
        ? <p class="deeds">{t.byHandAsk(word, view.order)} <button type="button" class="big-do" disabled={busy || !person} onClick={() => void byHand()}>{t.byHandYes}</button> <button type="button" class="big-do plainly" onClick={() => setAsked(false)}>{bench.reason.leave}</button></p>
        : <button type="button" class="big-do plainly" onClick={() => setAsked(true)}>{t.byHand}</button>)}
      {refused && <p class="bar-said refusal" role="alert"><Mark shape="cross" tone="stop" /> {refused}</p>}
    </li>
  );
}

/** The parts of this bike: where they are, and which piece it is that is bound to it. */
export function BenchKit() {
  const { view } = useStand();
  const bound = view.kit.filter((part) => part.bound);
  return (
    <div class="bench-kit">
      <p class="lead">{t.counted(bound.length, view.kit.length)} {view.as_far.sentence}</p>
      <Parts title={t.open} parts={view.kit.filter((part) => !part.bound)} />
      <section>
        <h2>{t.wheelsTitle}</h2>
        <p class="quiet">{t.scanHint}</p>
        <ul><Wheel wheel="front_wheel" /><Wheel wheel="rear_wheel" /></ul>
      </section>
      <Parts title={t.bound} parts={bound} />
    </div>
  );
}
