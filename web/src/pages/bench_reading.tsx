import { useEffect, useRef, useState } from 'preact/hooks';
import type { BenchOperation, BenchReading, DeedGiven, SheetValue, ToolView } from '../ask/ask';
import { benchPath, benchReadingPath } from '../frame/route';
import { go } from '../frame/travel';
import { Mark, Outcome } from '../marks/mark';
import { bench } from '../words/bench';
import { pointKey } from './bench_ahead';
import { useBenchDeed } from './bench_operation';
import { Limits, Target } from './bench_value';
import {
  isOutside, isTyped, mayBeNegative, nextPoint, nextReading, type PadKey, sentValue, toolsFor, typedValue, unitsOf, type Verdict, verdictOf, withKey,
} from './reading_state';
import { Reason } from './reason';
import { typeScan } from './scan_line';
import { isSameId } from './scanned';
import { useStand } from './stand';

const t = bench.pad;
const kDigits: PadKey[] = ['7', '8', '9', '4', '5', '6', '1', '2', '3'];

function Pad({ value, onKey }: { value: SheetValue; onKey: (key: PadKey) => void }) {
  const stay = (event: Event) => event.preventDefault();  // the field keeps the focus
  return (
    <div class="number-pad" role="group" aria-label={t.keys} onPointerDown={stay} onMouseDown={stay}>
      {kDigits.map((key) => <button key={key} type="button" onClick={() => onKey(key)}>{key}</button>)}
      <button type="button" aria-label={t.comma} onClick={() => onKey(',')}>,</button>
      <button type="button" onClick={() => onKey('0')}>0</button>
      <button type="button" aria-label={t.point} onClick={() => onKey('.')}>.</button>
      <button type="button" class="sign" aria-label={t.sign} disabled={!mayBeNegative(value)} onClick={() => onKey('sign')}>±</button>
      <button type="button" class="erase" onClick={() => onKey('erase')}>{t.erase}</button>
    </div>
  );
}

function Points({ reading, operation, at, onPoint }: { reading: BenchReading; operation: string; at: number; onPoint: (point: number) => void }) {
  const { waits } = useStand();
  if (reading.points.length < 2) return null;
  return (
    <ol class="point-strip" aria-label={t.points}>
      {reading.points.map((point, i) => (
        <li key={i}>
          <button type="button" aria-pressed={i + 1 === at} onClick={() => onPoint(i + 1)}>
            <span class="n">{i + 1}</span>
            <Outcome word={point.outcome}>{point.text || (point.outcome ? t.verdict[point.outcome] : '')}{waits.has(pointKey(operation, reading.value.reading, i + 1)) ? ` ${bench.waitsShort}` : ''}</Outcome>
          </button>
        </li>
      ))}
    </ol>
  );
}

/** The tool used last for a dimension is offered first the next time, as long as it is good. */
const lastTool = new Map<string, string>();

function useTool(value: SheetValue, tools: ToolView[]) {
  const { good, others } = toolsFor(value, tools);
  const [id, setId] = useState(lastTool.get(value.dimension) ?? '');
  const chosen = good.find((tool) => tool.id === id) ?? (good.length === 1 && value.dimension === 'torque' ? good[0] : undefined);
  const choose = (next: string) => {
    lastTool.set(value.dimension, next);
    setId(next);
  };
  return { good, others, chosen, choose };
}

function Tools({ tool, needed }: { tool: ReturnType<typeof useTool>; needed: boolean }) {
  if (tool.good.length === 0 && !needed) return null;
  return (
    <fieldset class="tool-choice">
      <legend>{t.tool}</legend>
      <div class="tool-buttons">
        {tool.good.map((one) => (
          <button key={one.id} type="button" aria-pressed={tool.chosen?.id === one.id} onClick={() => tool.choose(one.id)}><b>{one.id}</b> {one.name}</button>
        ))}
        {!needed && <button type="button" aria-pressed={!tool.chosen} onClick={() => tool.choose('')}>{t.noTool}</button>}
      </div>
      <details>
        <summary>{t.others}</summary>
        <ul>{tool.others.map(({ tool: one, why }) => <li key={one.id}><b>{one.id}</b> {one.name}: {why}</li>)}</ul>
      </details>
    </fieldset>
  );
}

const Said = ({ verdict }: { verdict: Verdict | undefined }) => (
  <p class={`verdict ${verdict ?? 'none'}`} role="status">
    {verdict ? <><Outcome word={verdict}>{t.verdict[verdict]}</Outcome> <span class="said">{t.said[verdict]}</span></> : <span class="said">{t.typed}</span>}
  </p>
);

const Refusal = ({ words }: { words: string }) => (
  words ? <p class="bar-said refusal" role="alert"><Mark shape="cross" tone="stop" /> {words}</p> : null
);

interface TakeProps {
  operation: BenchOperation;
  reading: BenchReading;
  point: number;
  onTaken: () => void;
}

const pointWords = (reading: BenchReading, point: number) =>
  (reading.points.length > 1 ? `${reading.value.name}, ${t.point_n(point, reading.points.length)}` : reading.value.name);

/** A reading that is right or not. */
function PassOrNot({ operation, reading, point, onTaken }: TakeProps) {
  const { busy, refused, run } = useBenchDeed();
  const { value } = reading;
  const say = (outcome: 'pass' | 'fix') =>
    run(`${operation.operation}: ${pointWords(reading, point)}, ${t.verdict[outcome]}`,
      [{ deed: 'read', about: operation.operation, reading: value.reading, point, outcome }]).then((taken) => { if (taken) onTaken(); });
  return (
    <div class="pass-or-not">
      {value.stop && <p class="is-stop"><Mark shape="struck square" tone="stop" /> {t.isStop}</p>}
      <Refusal words={refused} />
      <div class="two-big">
        <button type="button" class="pass" disabled={busy} onClick={() => void say('pass')}><Mark shape="tick" tone="ink" /> {t.passed}</button>
        <button type="button" class="fail" disabled={busy} onClick={() => void say('fix')}><Mark shape="cross" tone="stop" /> {t.failed}</button>
      </div>
    </div>
  );
}

/** A reading that is a number: typed on our own pad, judged while it is typed. */
function NumberRead({ operation, reading, point, onTaken }: TakeProps) {
  const { tools, takeTool } = useStand();
  const { value } = reading;
  const units = unitsOf(value);
  const [unit, setUnit] = useState(units[0] ?? value.unit);
  const [text, setText] = useState('');
  const [said, setSaid] = useState('');
  const { busy, refused, run, forget } = useBenchDeed();
  const tool = useTool(value, tools);
  const field = useRef<HTMLInputElement>(null);
  const needsTool = value.dimension === 'torque';
  const read = typedValue(text, unit);
  const verdict = read === undefined ? undefined : verdictOf(value, read);
  useEffect(() => { field.current?.focus({ preventScroll: true }); }, [point, value.reading]);
  const toolScanned = (id: string) => {
    const meant = tool.good.find((one) => isSameId(one.id, id));
    const not = tool.others.find((one) => isSameId(one.tool.id, id));
    if (meant) tool.choose(meant.id);
    setSaid(meant ? '' : not ? `${not.tool.name}: ${not.why}` : bench.scan.noTool(id));
  };
  useEffect(() => {
    takeTool.current = toolScanned;
    return () => { takeTool.current = undefined; };
  });
  const typed = (next: string) => {
    forget();
    setSaid('');
    if (isTyped(next)) return setText(next);
    // No gauge types such a thing: a scanner does. It belongs to the code that is being scanned.
    const isLong = /^[0-9]+$/.test(next);  // more digits than a gauge shows: all of them are the code's
    typeScan(!isLong && next.startsWith(text) ? next.slice(text.length) : next);
    field.current?.blur();
    if (isLong) setText('');
    if (field.current) field.current.value = isLong ? '' : text;
    return undefined;
  };
  const write = async () => {
    if (verdict === undefined || busy) return;
    if (needsTool && !tool.chosen) return setSaid(t.chooseTool);
    const sent = sentValue(text, unit);
    const deed: DeedGiven = { deed: 'read', about: operation.operation, reading: value.reading, point, value: sent, ...(tool.chosen ? { tool: tool.chosen.id } : {}) };
    if (!await run(`${operation.operation}: ${pointWords(reading, point)}, ${sent}`, [deed])) return undefined;
    setText('');
    return onTaken();
  };
  const submit = (event: Event) => {
    event.preventDefault();
    void write();
  };
  return (
    <form class="number-read" onSubmit={submit}>
      <div class="number-side">
        <div class="typed">
          <input ref={field} type="text" inputMode="none" autocomplete="off" data-takes-digits aria-label={t.value} value={text}
            onInput={(event) => typed(event.currentTarget.value)} />
          {units.length > 1
            ? <div class="units" role="group" aria-label={t.unit}>{units.map((one) => <button key={one} type="button" aria-pressed={one === unit} onClick={() => setUnit(one)}>{one}</button>)}</div>
            : <span class="unit">{unit}</span>}
        </div>
        <Said verdict={verdict} />
        <Target value={value} />
        <Limits value={value} />
        {value.how && <p class="how">{value.how}</p>}
        {value.stop && <p class="is-stop"><Mark shape="struck square" tone="stop" /> {t.isStop}</p>}
        <Tools tool={tool} needed={needsTool} />
      </div>
      <div class="pad-side">
        <Pad value={value} onKey={(key) => { typed(withKey(text, key)); field.current?.focus({ preventScroll: true }); }} />
        <Refusal words={refused || said} />
        <button type="submit" class="big-do write" disabled={busy || verdict === undefined}>{t.write}</button>
      </div>
    </form>
  );
}

/** A reading stands outside: what happens now is said at once. */
function OutsideNow({ operation, reading, onDone }: { operation: BenchOperation; reading: BenchReading; onDone: () => void }) {
  const [asked, setAsked] = useState<'redo' | 'fault' | undefined>(undefined);
  const { busy, refused, run } = useBenchDeed();
  const bad = reading.points.find((point) => point.outcome === 'fix' || point.outcome === 'stop');
  const detail = `${reading.value.name}: ${bad?.text ?? ''} ${reading.value.range_text && `(${reading.value.range_text})`}`;
  if (asked) {
    return (
      <>
        <Reason kind={asked} detail={detail} busy={busy} onLeave={() => setAsked(undefined)}
          onSay={(note) => void run(`${operation.operation} ${operation.name}: ${bench.deeds[asked]}`, [{ deed: asked, about: operation.operation, note }])
            .then((taken) => { if (taken) onDone(); })} />
        <Refusal words={refused} />
      </>
    );
  }
  return (
    <div class="outside-now" role="alert">
      <p class="outside-said"><Outcome word={bad?.outcome ?? 'fix'}>{t.outside(reading.value.name)} {bad?.text}</Outcome></p>
      <Limits value={reading.value} />
      <h3>{t.outsideAsk}</h3>
      <div class="two-big">
        <button type="button" onClick={() => setAsked('redo')}>{t.again}</button>
        <button type="button" onClick={() => setAsked('fault')}>{t.faulty}</button>
      </div>
    </div>
  );
}

/** One reading of an operation, point after point. */
export function ReadingPage({ step, id }: { step: number; id: string }) {
  const stand = useStand();
  const now = useRef(stand);
  now.current = stand;
  const [chosen, setChosen] = useState(0);
  useEffect(() => setChosen(0), [id]);
  const operation = stand.view.operations[step - 1];
  const reading = operation?.readings.find((one) => one.value.reading === id);
  if (!operation || !reading) return <p class="lead">{bench.operation.nothing(id)}</p>;
  const home = benchPath(stand.view.order, step);
  const point = chosen || nextPoint(reading) || 1;
  const onTaken = () => {
    setChosen(0);
    const after = now.current.view.operations[step - 1];
    const same = after?.readings.find((one) => one.value.reading === id);
    if (!after || !same || isOutside(same) || nextPoint(same) > 0) return;
    const next = nextReading(after, id);
    go(next ? benchReadingPath(stand.view.order, step, next.value.reading) : home, true);
  };
  const Take = reading.value.pass_or_fail ? PassOrNot : NumberRead;
  return (
    <article class="reading-page" aria-labelledby="reading-name">
      <p class="reading-at"><a class="leave-reading" href={home}>{t.leave}</a> <span>{operation.operation} {operation.name}{reading.points.length > 1 && `, ${t.point_n(point, reading.points.length)}`}</span></p>
      <h2 id="reading-name">{reading.value.name}</h2>
      <Points reading={reading} operation={operation.operation} at={point} onPoint={setChosen} />
      {isOutside(reading)
        ? <OutsideNow operation={operation} reading={reading} onDone={() => go(home, true)} />
        : <Take key={id} operation={operation} reading={reading} point={point} onTaken={onTaken} />}
    </article>
  );
}

