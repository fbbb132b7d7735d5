import { useState } from 'preact/hooks';
import type { BenchOperation, BenchReading, DeedGiven } from '../ask/ask';
import { benchPath, benchReadingPath, historyPath, sheetPath } from '../frame/route';
import { go } from '../frame/travel';
import { Mark, Outcome, Work } from '../marks/mark';
import { minutes } from '../words/amount';
import { bench } from '../words/bench';
import { clockHere } from '../words/day';
import { pointKey } from './bench_ahead';
import { BenchValue } from './bench_value';
import { handIn, isAtIt, lacksHands, openIn, whyNotStart } from './bench_why';
import { LendHand } from './lend_hand';
import { BikePhotos } from './photos';
import { nextPoint } from './reading_state';
import { Reason } from './reason';
import { useStand } from './stand';
import { StandLinks } from './wheel_links';

const t = bench.operation;

/** What a deed came to where the thumb is: nothing, or the sentence against it. */
export function useBenchDeed() {
  const { write } = useStand();
  const [busy, setBusy] = useState(false);
  const [refused, setRefused] = useState('');
  const run = async (words: string, deeds: DeedGiven[]): Promise<boolean> => {
    setBusy(true);
    setRefused('');
    const taken = await write(words, deeds);
    setBusy(false);
    if (taken.how === 'refused') setRefused(taken.sentence);
    return taken.how !== 'refused';
  };
  return { busy, refused, run, forget: () => setRefused('') };
}

/** What was read of a value so far, and the way to read the next point. */
function ReadSoFar({ operation, reading, step, mayRead }: { operation: BenchOperation; reading: BenchReading; step: number; mayRead: boolean }) {
  const { view, waits } = useStand();
  const next = nextPoint(reading);
  const { reading: id, name, count } = reading.value;
  return (
    <div class="read-so-far">
      <ul class="points-read">
        {reading.points.map((point, i) => point.outcome !== '' && (
          <li key={i}>
            <Outcome word={point.outcome}>{count > 1 && `${i + 1}: `}{point.text || bench.pad.verdict[point.outcome]}{point.text && `, ${bench.pad.verdict[point.outcome]}`}</Outcome>
            <span class="quiet"> {[point.tool, point.who].filter(Boolean).join(', ')}{waits.has(pointKey(operation.operation, id, i + 1)) && `, ${bench.waitsShort}`}</span>
          </li>
        ))}
      </ul>
      {mayRead && (
        <a class={next > 0 ? 'big-do' : 'big-do plainly'} href={benchReadingPath(view.order, step, id)} aria-label={`${next > 0 ? t.toRead : t.readAgain}: ${name}`}>
          {next > 0 ? t.toRead : t.readAgain}
        </a>
      )}
    </div>
  );
}

function Says({ operation }: { operation: BenchOperation }) {
  const { view, waits, person } = useStand();
  const hand = operation.second_person ? handIn(view, person) : [];
  return (
    <div class="says">
      <p class="standing"><Work word={operation.standing}>{bench.standingOf(operation.standing, operation.care)}</Work>
        {operation.running && <span>: {t.since(operation.running, clockHere(operation.running_since))}</span>}
        {waits.has(operation.operation) && <span class="care"> <Mark shape="dashes" tone="care" /> {bench.waits}</span>}
      </p>
      {operation.because && operation.standing !== 'done' && <p>{t.because(operation.because)}</p>}
      {operation.fault && <p class="stop"><Mark shape="cross" tone="stop" /> {t.faultIs(operation.fault)}</p>}
      {operation.standing === 'done' && operation.doers.length > 0 && <p>{t.doers(operation.doers)}</p>}
      {operation.helpers.length > 0 && <p>{t.lent(operation.helpers)}</p>}
      {operation.no_helper && <p>{t.lentNobody(operation.no_helper)}</p>}
      {operation.hands > 1 && operation.standing !== 'done' && <p class="second"><Mark shape="triangle" tone="care" /> {t.hands(operation.hands)}</p>}
      {operation.second_person && <p class="second"><Mark shape="eye" tone="ink" /> {t.second} {person && hand.length > 0 && t.hand(person.name, hand)}</p>}
    </div>
  );
}

type Asked = 'paused' | 'redo' | 'fault' | 'mended' | 'left out' | 'hand';

/** The deeds of an operation at the thumb, with what keeps one from being done above them. */
function Bar({ operation, busy, refused, onDeed, onAsk }: {
  operation: BenchOperation; busy: boolean; refused: string; onDeed: (deed: 'started' | 'done') => void; onAsk: (asked: Asked) => void;
}) {
  const { view, person } = useStand();
  const atIt = isAtIt(operation, person);
  const running = operation.standing === 'running';
  const whyNot = atIt || operation.standing === 'done' ? [] : whyNotStart(view, operation, person);
  const open = atIt ? openIn(operation) : [];
  const begun = !['not yet', 'open'].includes(operation.standing);
  const ask = (asked: Asked, word: string) => <button type="button" disabled={busy || !person} onClick={() => onAsk(asked)}>{word}</button>;
  const startWord = running ? t.startToo : operation.standing === 'open' || operation.standing === 'not yet' ? t.start : t.goOn;
  return (
    <div class="stand-bar">
      {refused && <p class="bar-said refusal" role="alert"><Mark shape="cross" tone="stop" /> {refused}</p>}
      {!refused && whyNot.length > 0 && <p class="bar-said" id="why-not"><Mark shape="bar" tone="ink" /> {whyNot.join(' ')}</p>}
      {!refused && open.length > 0 && <p class="bar-said" id="still-open">{t.open(open)}</p>}
      <div class="bar-deeds" role="group" aria-label={operation.name}>
        {operation.fault && ask('mended', t.mended)}
        {begun && operation.standing !== 'redo' && ask('redo', t.redo)}
        {begun && !operation.fault && ask('fault', t.fault)}
        {running && ask('paused', t.pause)}
        {atIt && lacksHands(operation) && ask('hand', t.lend)}
        {operation.care && operation.standing === 'redo' && operation.minutes_taken === 0 && ask('left out', t.leaveOut)}
        {operation.standing !== 'done' && !atIt && (
          <button type="button" class="main" disabled={busy || whyNot.length > 0} aria-describedby={whyNot.length > 0 ? 'why-not' : undefined} onClick={() => onDeed('started')}>{startWord}</button>
        )}
        {atIt && <button type="button" class="main" disabled={busy || open.length > 0} aria-describedby={open.length > 0 ? 'still-open' : undefined} onClick={() => onDeed('done')}>{t.done}</button>}
      </div>
    </div>
  );
}

function Instruction({ operation, step }: { operation: BenchOperation; step: number }) {
  const { view, person } = useStand();
  const mayRead = isAtIt(operation, person);
  const needs = (word: string, things: string[]) => things.length > 0 && <div><dt>{word}</dt><dd>{things.join(', ')}</dd></div>;
  return (
    <>
      {operation.cautions.length > 0 && (
        <ul class="cautions" aria-label={t.cautions}>
          {operation.cautions.map((caution) => <li key={caution}><Mark shape="triangle" tone="care" /> {caution}</li>)}
        </ul>
      )}
      <p class="do-this">{operation.steps}</p>
      <StandLinks order={view.order} step={{ values: operation.readings.map((reading) => reading.value) }} />
      <dl class="needs">
        {needs(t.comesOn, operation.fits)}
        {needs(t.tools, operation.tools)}
        {needs(t.consumables, operation.consumables)}
      </dl>
      {operation.readings.length > 0 && !mayRead && operation.standing !== 'done' && (
        <p class="quiet">{operation.standing === 'running' ? t.othersWork(operation.running) : t.startFirst}</p>
      )}
      <div class="values">
        {operation.readings.map((reading) => (
          <BenchValue key={reading.value.reading} order={view.order} value={reading.value}>
            <ReadSoFar operation={operation} reading={reading} step={step} mayRead={mayRead} />
          </BenchValue>
        ))}
      </div>
      <BikePhotos order={view.order} about={operation.operation} who={person?.id ?? ''} />
      <p class="quiet">{t.minutes(minutes(operation.minutes_low), minutes(operation.minutes_high))}{operation.minutes_taken >= 1 && `, ${t.taken(minutes(operation.minutes_taken))}`}</p>
    </>
  );
}

function Turn({ to, word }: { to: number; word: string }) {
  const { view } = useStand();
  const there = to >= 1 && to <= view.operations.length;
  return <button type="button" disabled={!there} onClick={() => { go(benchPath(view.order, to), true); scrollTo(0, 0); }}>{word}</button>;
}

/** One operation: what to do, what to read, and the deeds. `step` counts from 1. */
export function OperationPage({ step }: { step: number }) {
  const { view } = useStand();
  const { busy, refused, run, forget } = useBenchDeed();
  const [asked, setAsked] = useState<Asked | undefined>(undefined);
  const operation = view.operations[step - 1];
  if (!operation) return <p class="lead">{t.nothing(String(step))}</p>;
  const words = (deed: string) => `${operation.operation} ${operation.name}: ${bench.deeds[deed]}`;
  const deed = (kind: 'started' | 'done' | Asked, more: Pick<DeedGiven, 'note' | 'hand'> = {}) =>
    run(words(kind), [{ deed: kind, about: operation.operation, ...more }]);
  const onDeed = async (kind: 'started' | 'done') => {
    if (await deed(kind) && kind === 'started' && lacksHands(operation)) setAsked('hand');
  };
  const leave = () => { forget(); setAsked(undefined); };
  const say = (kind: Asked, more: Pick<DeedGiven, 'note' | 'hand'>) => void deed(kind, more).then((taken) => { if (taken) setAsked(undefined); });
  return (
    <article class="step" aria-labelledby="step-name">
      <p class="step-at">
        <span class="big">{step}</span> <span>{t.of(view.operations.length)}<br />{operation.operation}, {operation.area}, {operation.skill_words}</span>
        <span class="step-turn"><Turn to={step - 1} word={t.previous} /><Turn to={step + 1} word={t.next} /></span>
      </p>
      <h2 id="step-name">{operation.name}</h2>
      <div aria-live="polite"><Says operation={operation} /></div>
      {asked ? (
        <>
          {asked === 'hand'
            ? <LendHand operation={operation} busy={busy} onLeave={leave} onHand={(hand) => say(asked, { hand })} onNobody={(note) => say(asked, { note })} />
            : <Reason kind={asked} detail={operation.fault || operation.because} busy={busy} onLeave={leave} onSay={(note) => say(asked, { note })} />}
          {refused && <p class="bar-said refusal" role="alert"><Mark shape="cross" tone="stop" /> {refused}</p>}
        </>
      ) : (
        <>
          <Instruction operation={operation} step={step} />
          <p class="papers-of-bike"><a href={sheetPath(view.order)}>{t.whole}</a> <a href={historyPath(view.order)}>{t.history}</a></p>
          <Bar operation={operation} busy={busy} refused={refused} onDeed={(kind) => void onDeed(kind)} onAsk={(kind) => { forget(); setAsked(kind); }} />
        </>
      )}
    </article>
  );
}
