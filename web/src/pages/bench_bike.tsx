import { useRef, useState } from 'preact/hooks';
import type { BenchListView, BenchOperation, BenchView, KitPart } from '../ask/ask';
import type { PhotoOf } from '../ask/waiting_photos';
import { type BenchTab, benchPath, benchTabPath, carePath, orderPath, sheetPath } from '../frame/route';
import { Mark, State, Work } from '../marks/mark';
import { Refused, Waiting } from '../marks/waiting';
import { bench } from '../words/bench';
import { careWords } from '../words/care';
import { clockHere, dayInWords } from '../words/day';
import { say } from '../words/say';
import { BenchChecks } from './bench_checks';
import { BenchKit, WhichPart } from './bench_kit';
import { OperationPage } from './bench_operation';
import { BenchQueue } from './bench_queue';
import { ReadingPage } from './bench_reading';
import { useScans } from './bench_scans';
import { ScanField } from './scan_field';
import { useScanner } from './scan_line';
import { type Stand, StandIs, useAhead, useBench, useBike, usePerson, useStand, writerFor } from './stand';
import { WhoIsIt } from './who_is_it';

const t = bench.tabs;

function Tabs({ tab }: { tab: BenchTab }) {
  const { view } = useStand();
  const bound = view.kit.filter((part) => part.bound).length;
  const passed = view.checks.filter((check) => check.outcome === 'pass').length;
  const one = (name: BenchTab, word: string, count: string) => (
    <li><a href={benchTabPath(view.order, name)} aria-current={tab === name ? 'page' : undefined}>{word} <span class="n">{count}</span></a></li>
  );
  return (
    <nav class="bench-tabs" aria-label={t.label}>
      <ul>
        {one('work', t.work, bench.checks.counted(view.done, view.operations.length))}
        {one('kit', t.kit, bench.checks.counted(bound, view.kit.length))}
        {one('checks', t.checks, bench.checks.counted(passed, view.checks.length))}
        <li class="all"><a href="/bench">{t.leave}</a></li>
      </ul>
    </nav>
  );
}

function Row({ operation, step }: { operation: BenchOperation; step: number }) {
  const { view, waits } = useStand();
  return (
    <li>
      <a href={benchPath(view.order, step)}>
        <span class="n">{step}</span>
        <span class="what"><b>{operation.name}</b> <span class="quiet">{operation.operation}, {operation.area}</span>
          {operation.running && <span>{bench.at(operation.running, clockHere(operation.running_since))}</span>}
          {operation.standing !== 'done' && operation.because && <span>{operation.because}</span>}
          {operation.standing === 'not yet' && <span class="quiet">{bench.why.after(operation.waits_for)}</span>}
        </span>
        <Work word={operation.standing}>{bench.standingOf(operation.standing, operation.care)}{waits.has(operation.operation) && <span class="care">, {bench.waitsShort}</span>}</Work>
      </a>
    </li>
  );
}

function Rows({ title, operations, folded = false }: { title: string; operations: BenchOperation[]; folded?: boolean }) {
  const { view } = useStand();
  if (operations.length === 0) return null;
  const rows = <ul class="operations">{operations.map((one) => <Row key={one.operation} operation={one} step={view.operations.indexOf(one) + 1} />)}</ul>;
  if (folded) return <details class="operation-group"><summary>{title} <span class="quiet">{operations.length}</span></summary>{rows}</details>;
  return <section class="operation-group"><h2>{title}</h2>{rows}</section>;
}

/** All operations of the bike: what is in hand and what can be begun first. */
function WorkList() {
  const { view } = useStand();
  const of = (...standings: string[]) => view.operations.filter((one) => standings.includes(one.standing));
  const ready = of('open');
  return (
    <>
      <Rows title={bench.list.now} operations={of('running', 'redo', 'paused')} />
      <Rows title={bench.list.begin} operations={ready} />
      {ready.length === 0 && of('running', 'redo', 'paused').length === 0 && <p class="lead">{view.done === view.operations.length ? bench.allDone : bench.list.empty}</p>}
      <Rows title={bench.list.later} operations={of('not yet')} folded />
      <Rows title={bench.list.done} operations={of('done')} folded />
    </>
  );
}

function Stops() {
  const { view } = useStand();
  if (!view.blocked && view.stops.length === 0) return null;
  return (
    <div class="stops" role="status">
      {view.blocked && <p><Mark shape="bar" tone="stop" /> <b>{bench.blocked}</b>: {view.blocked}</p>}
      {view.stops.map((stop) => <p key={stop}><Mark shape="struck square" tone="stop" /> <b>{bench.stopped}</b>: {stop}</p>)}
    </div>
  );
}

/** What a bike in care is here for; without a visit nothing is done to it. */
function Visit() {
  const { view } = useStand();
  if (!view.care) return null;
  const { visit } = view;
  return (
    <div class="visit-line">
      {visit
        ? <p><b>{visit.about}</b>{visit.km !== null && `, ${careWords.km(visit.km)}`}. {visit.missing.length === 0 ? careWords.ready : bench.visit.missing(visit.missing.length)} <a href={carePath(view.order)}>{bench.visit.look}</a></p>
        : <p>{bench.visit.none} <a href={carePath(view.order)}>{bench.visit.look}</a></p>}
      {visit?.note && <p>{careWords.rider}: {visit.note}</p>}
    </div>
  );
}

interface Shown {
  step: number;
  reading: string;
  tab: BenchTab;
}

function Inside({ step, reading, tab }: Shown) {
  if (step > 0 && reading) return <ReadingPage step={step} id={reading} />;
  if (step > 0) return <OperationPage key={step} step={step} />;
  if (tab === 'kit') return <BenchKit />;
  if (tab === 'checks') return <BenchChecks />;
  return <WorkList />;
}

function Bike({ fresh, list, shown, asOf }: { fresh: BenchView; list: BenchListView; shown: Shown; asOf: string }) {
  const person = usePerson(list.people);
  const { view, waits } = useAhead(fresh, list.people);
  const takeTool = useRef<((id: string) => void) | undefined>(undefined);
  const operation = shown.reading ? undefined : view.operations[shown.step - 1]?.operation;
  const below: PhotoOf | undefined = operation === undefined ? undefined : { kind: 'bike', order: view.order, about: operation, who: '' };
  const [asked, setAsked] = useState<{ text: string; parts: KitPart[] } | undefined>(undefined);
  const stand: Stand = { view, waits, person, people: list.people, tools: list.tools, write: writerFor(view.order, person), takeTool };
  const scans = useScans({ list, stand, tab: shown.step > 0 ? 'work' : shown.tab, ask: (text, parts) => setAsked({ text, parts }) });
  return (
    <StandIs value={stand}>
      {shown.step === 0 && <p class="bike-line">
        <State word={view.state} /> <span>{view.build}</span> <span class="quiet">{view.frame}</span>
        {view.promised && <span>{dayInWords(view.promised)}</span>} <a href={orderPath(view.order)}>{say.orders.number} {view.order}</a>
      </p>}
      {!shown.reading && <Tabs tab={shown.tab} />}
      <div class="stand-top">
        <ScanField said={scans.said} onCode={scans.onCode} onLate={scans.onLate} />
        <WhoIsIt people={list.people} person={person} />
      </div>
      <BenchQueue people={list.people} asOf={asOf} below={below} />
      <Stops />
      {shown.step === 0 && <Visit />}
      {asked
        ? <WhichPart text={asked.text} parts={asked.parts} onChosen={(part) => { setAsked(undefined); if (part) scans.bind(part, asked.text); }} />
        : <Inside {...shown} />}
    </StandIs>
  );
}

export function BenchBikePage({ id, ...shown }: Shown & { id: string }) {
  useScanner();
  const list = useBench();
  const bike = useBike(id);
  const refusal = bike.refusal?.reached || bike.value === undefined ? bike.refusal : undefined;
  return (
    <div class="page at-bench">
      <h1><span class="number">{id}</span> {bike.value?.rider}</h1>
      {refusal && <><Refused refusal={refusal} again={bike.again} /><p class="papers-of-bike"><a href="/bench">{t.leave}</a> <a href={sheetPath(id)}>{bench.operation.whole}</a></p></>}
      {bike.value && list.value ? <Bike fresh={bike.value} list={list.value} shown={shown} asOf={bike.asOf} /> : refusal ? null : <Waiting />}
    </div>
  );
}
