import type { BenchBike, BenchListView, BenchNow, ToolView } from '../ask/ask';
import { offline } from '../ask/offline';
import { benchPath, labelsPath, truingPath } from '../frame/route';
import { useStore } from '../frame/store';
import { Mark, State, Work } from '../marks/mark';
import { Refused, Waiting } from '../marks/waiting';
import { bench } from '../words/bench';
import { clockHere, dayInWords } from '../words/day';
import { labelWords } from '../words/labels';
import { say } from '../words/say';
import { BenchQueue } from './bench_queue';
import { useScans } from './bench_scans';
import { ScanField } from './scan_field';
import { useScanner } from './scan_line';
import { useBench, useForeseen, usePerson } from './stand';
import { WhoIsIt } from './who_is_it';

const t = bench;
const kShownOfNext = 3;

const kInHand = ['building', 'finishing', 'checking', 'in care'];
const kCanBegin = ['kitted', 'arrived'];
const kAway = ['ready', 'boxed', 'on the road', 'delivered'];

const isAtWork = (bike: BenchBike) => bike.now.some((now) => now.standing !== 'open');

export interface BikesByNeed {
  inHand: BenchBike[];
  canBegin: BenchBike[];
  later: BenchBike[];  // parts are still gathered
  away: BenchBike[];   // done here, to be handed over
}

/** Bikes by what a person at the bench has to do with them; each group in the order given. */
export function bikesByNeed(bikes: BenchBike[]): BikesByNeed {
  const groups: BikesByNeed = { inHand: [], canBegin: [], later: [], away: [] };
  for (const bike of bikes) {
    const state = bike.state.toLowerCase();
    if (kInHand.includes(state) || isAtWork(bike)) groups.inHand.push(bike);
    else if (kCanBegin.includes(state)) groups.canBegin.push(bike);
    else if (kAway.includes(state)) groups.away.push(bike);
    else groups.later.push(bike);
  }
  return groups;
}

const NowLine = ({ now, care }: { now: BenchNow; care: boolean }) => (
  <span class="now-line">
    <Work word={now.standing}><span class="quiet">{now.operation}</span> {now.name}</Work>
    <span class="quiet">{now.who ? t.at(now.who, clockHere(now.since)) : now.standing === 'open' ? '' : [t.standingOf(now.standing, care), now.because].filter(Boolean).join(': ')}</span>
  </span>
);

function Bike({ bike }: { bike: BenchBike }) {
  const shown = bike.now.slice(0, kShownOfNext);
  return (
    <li>
      <a href={benchPath(bike.order)}>
        <span class="number">{bike.order}</span>
        <span class="who"><b>{bike.rider}</b><span>{bike.build}</span></span>
        <span class="nows">
          {bike.blocked && <span class="stop-line"><Mark shape="bar" tone="stop" /> {bike.blocked}</span>}
          {bike.visit && <span><b>{bike.visit}</b></span>}
          {bike.stops.map((stop) => <span key={stop} class="stop-line"><Mark shape="struck square" tone="stop" /> {stop}</span>)}
          {shown.map((now) => <NowLine key={now.operation} now={now} care={bike.visit !== ''} />)}
          {bike.now.length > shown.length && <span class="quiet">{t.more(bike.now.length - shown.length)}</span>}
          {bike.now.length === 0 && <span class="quiet">{t.allDone}</span>}
        </span>
        <span class="due"><State word={bike.state} />{bike.promised ? dayInWords(bike.promised) : ''}<span class="quiet">{t.operations(bike.done, bike.operations)}</span></span>
      </a>
    </li>
  );
}

function Group({ title, bikes, folded = false }: { title: string; bikes: BenchBike[]; folded?: boolean }) {
  if (bikes.length === 0) return null;
  const rows = <ul class="stands">{bikes.map((bike) => <Bike key={bike.order} bike={bike} />)}</ul>;
  return folded ? <details class="stand-group"><summary>{title}</summary>{rows}</details> : <section class="stand-group"><h2>{title}</h2>{rows}</section>;
}

function Tools({ tools }: { tools: ToolView[] }) {
  const bad = tools.filter((tool) => !tool.good);
  const row = (tool: ToolView) => (
    <li key={tool.id}><Mark shape={tool.good ? 'disc' : 'struck square'} tone={tool.good ? 'ink' : 'stop'} /> <b>{tool.id}</b> {tool.name}: {tool.sentence}</li>
  );
  return (
    <section class="tool-list">
      <h2>{t.tools}</h2>
      <p>{bad.length > 0 ? t.toolsOver(bad.length) : t.toolsGood}</p>
      <ul>{bad.map(row)}{tools.filter((tool) => tool.good).map(row)}</ul>
    </section>
  );
}

function Bench({ list, asOf }: { list: BenchListView; asOf: string }) {
  const person = usePerson(list.people);
  const loads = useStore(offline);
  const scans = useScans({ list, stand: undefined, tab: 'work', ask: () => undefined });
  const { inHand, canBegin, later, away } = bikesByNeed(list.bikes);
  useForeseen(inHand.map((bike) => bike.order));
  return (
    <>
      <div class="stand-top">
        <ScanField said={scans.said} onCode={scans.onCode} onLate={scans.onLate} />
        <WhoIsIt people={list.people} person={person} />
      </div>
      <BenchQueue people={list.people} asOf={asOf} />
      {list.bikes.length === 0 && <p class="lead">{t.none}</p>}
      <Group title={t.now} bikes={inHand} />
      <Group title={t.next} bikes={canBegin} />
      <Group title={t.later(later.length)} bikes={later} folded />
      <Group title={t.away(away.length)} bikes={away} folded />
      {list.tools.length > 0 && <Tools tools={list.tools} />}
      {loads === 'plain http' && <p class="quiet">{t.queue.plainHttp}</p>}
    </>
  );
}

export function BenchPage() {
  useScanner();
  const { value, refusal, again, asOf } = useBench();
  const shown = refusal?.reached || value === undefined ? refusal : undefined;
  return (
    <div class="page at-bench">
      <div class="title-line"><h1>{t.title}</h1><span class="papers-of-bike"><a href={labelsPath()}>{labelWords.link}</a>{' '}<a href={truingPath()}>{say.truing.link}</a>{' '}<a href="/bench/aids">{say.aids.title}</a></span></div>
      {shown && <Refused refusal={shown} again={again} />}
      {value ? <Bench list={value} asOf={asOf} /> : shown ? null : <Waiting />}
    </div>
  );
}
