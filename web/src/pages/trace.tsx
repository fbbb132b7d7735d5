import { useState } from 'preact/hooks';
import { ask, type TraceQuestion, type TraceView } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { historyPath, partPath } from '../frame/route';
import { go } from '../frame/travel';
import { Mark } from '../marks/mark';
import type { Shape, Tone } from '../marks/shape_of';
import { Body } from '../marks/waiting';
import { bench } from '../words/bench';
import { momentHere } from '../words/day';
import { Around } from './field';
import { askedWords, kTraceFields, traceCsv, traceIn, tracePath } from './trace_list';

const t = bench.trace;
const c = t.columns;

const kMarks: Record<string, [Shape, Tone]> = { 'certain': ['disc', 'ink'], 'possible': ['gap', 'care'], 'was on': ['bar', 'quiet'] };

function Certainty({ word }: { word: string }) {
  const [shape, tone] = kMarks[word] ?? ['nothing', 'ink'];
  return <span class={`marked ${tone}`}><Mark shape={shape} tone={tone} /><span class="word">{t.certainty[word] ?? word}</span></span>;
}

function Bikes({ view }: { view: TraceView }) {
  if (view.bikes.length === 0) return <p>{t.none}</p>;
  return (
    <table class="book fold trail recall">
      <thead><tr><th scope="col">{c.order}</th><th scope="col">{c.rider}</th><th scope="col">{c.certainty}</th><th scope="col">{c.slot}</th><th scope="col">{c.name}</th><th scope="col">{c.serial}</th><th scope="col">{c.lot}</th><th scope="col">{c.since}</th><th scope="col" class="on-paper">{t.seen}</th></tr></thead>
      <tbody>
        {view.bikes.map((bike) => (
          <tr key={`${bike.order} ${bike.slot} ${bike.since} ${bike.serial}`}>
            <th scope="row"><a href={historyPath(bike.order)}>{bike.order}</a><br /><span class="quiet">{bike.state}</span></th>
            <td>{bike.rider}<br /><span class="quiet">{bike.contact}</span></td>
            <td><Certainty word={bike.certainty} /></td>
            <td>{bike.slot}</td>
            <td>{bike.name} <a href={partPath(bike.part)}>{bike.part}</a></td>
            <td>{bike.serial}</td>
            <td>{bike.lot}</td>
            <td class="when">{momentHere(bike.since)}{bike.off && <><br />{c.off}: {momentHere(bike.off)}</>}</td>
            <td class="write on-paper" />
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Stock({ view }: { view: TraceView }) {
  if (view.stock.length === 0) return <p>{t.noStock}</p>;
  return (
    <table class="book fold trail">
      <thead><tr><th scope="col">{c.name}</th><th scope="col">{c.serial}</th><th scope="col">{c.lot}</th><th scope="col">{c.line}</th><th scope="col" class="num">{c.pieces}</th><th scope="col">{c.place}</th></tr></thead>
      <tbody>
        {view.stock.map((piece, i) => (
          <tr key={`${piece.line} ${piece.serial} ${piece.lot} ${i}`}>
            <td>{piece.name} <a href={partPath(piece.part)}>{piece.part}</a></td><td>{piece.serial}</td><td>{piece.lot}</td><td>{piece.line}</td><td class="num">{piece.pieces}</td><td>{piece.place}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function save(view: TraceView, question: TraceQuestion) {
  const url = URL.createObjectURL(new Blob([traceCsv(view)], { type: 'text/csv' }));
  const link = document.createElement('a');
  link.href = url;
  link.download = `trace ${Object.values(question).join(' ').replace(/[^\w.-]+/g, ' ').trim()}.csv`;
  link.click();
  URL.revokeObjectURL(url);
}

function Found({ question }: { question: TraceQuestion }) {
  const answered = useAnswer(`trace ${tracePath(question)}`, () => ask.trace(question));
  return (
    <Body answered={answered}>
      {(view) => (
        <>
          <p class="asked-for">{t.asked(askedWords(question))}</p>
          <p class="lead">{view.sentence}</p>
          <p class="papers">
            <button type="button" class="do" onClick={() => print()}>{t.print}</button>{' '}
            <button type="button" class="plain" onClick={() => save(view, question)}>{t.csv}</button>
          </p>
          <h2>{t.bikes}</h2>
          <Bikes view={view} />
          <h2>{t.stock}</h2>
          <Stock view={view} />
        </>
      )}
    </Body>
  );
}

const kLabels = { part: t.part, lot_from: t.lotFrom, lot_to: t.lotTo, serial_from: t.serialFrom, serial_to: t.serialTo };
const kHints = { part: t.partHint, lot_from: '', lot_to: t.rangeHint, serial_from: '', serial_to: t.rangeHint };

/** Which bikes carry a part, a lot or a run of serials. The address keeps what was asked. */
export function TracePage({ query }: { query: string }) {
  const question = traceIn(query);
  const [fields, setFields] = useState<Record<string, string>>(question as Record<string, string>);
  const isAsked = Object.keys(question).length > 0;
  const submit = (event: Event) => {
    event.preventDefault();
    go(tracePath(traceIn(new URLSearchParams(fields).toString())));
  };
  return (
    <div class="page trail-page">
      <h1>{isAsked ? <>{t.title} <span class="on-paper quiet">{t.recall}</span></> : t.title}</h1>
      <p class="lead not-on-paper">{t.lead}</p>
      <form class="trace-form" onSubmit={submit}>
        {kTraceFields.map((field) => (
          <Around key={field} label={kLabels[field]} hint={kHints[field]}>
            {({ id, describedBy }) => (
              <input id={id} type="text" value={fields[field] ?? ''} aria-describedby={describedBy} autocomplete="off"
                onInput={(event) => { const { value } = event.currentTarget; setFields((old) => ({ ...old, [field]: value })); }} />
            )}
          </Around>
        ))}
        <button type="submit" class="do">{t.find}</button>
      </form>
      {isAsked ? <Found key={tracePath(question)} question={question} /> : <p class="quiet">{t.again}</p>}
    </div>
  );
}
