import { useState } from 'preact/hooks';
import { ask, type RecallView, type RecalledBike } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { carePath, orderPath, partPath, recallPapersPath } from '../frame/route';
import { Mark } from '../marks/mark';
import type { Shape, Tone } from '../marks/shape_of';
import { Body } from '../marks/waiting';
import { recallWords as t } from '../words/recalls';
import { ByWhomField, useByWhom } from './by_whom';
import { Complaint, useDeed } from './deed';
import { ChoiceField, TextField } from './field';
import { Danger } from './recalls';

const c = t.columns;
const kSure: Record<string, [Shape, Tone]> = { certain: ['disc', 'ink'], possible: ['triangle', 'care'] };

type Put = (view: RecallView) => void;

function Sure({ bike }: { bike: RecalledBike }) {
  const [shape, tone] = kSure[bike.certainty] ?? ['nothing', 'ink'];
  return (
    <>
      <span class={`marked ${tone}`}><Mark shape={shape} tone={tone} /> {bike.certainty}</span>
      {!bike.bound && bike.part && <span class="small quiet">{t.notBound}</span>}
    </>
  );
}

/** What was done about one bike, written down as one more step. */
function Tell({ view, bike, onPut, onLeave }: { view: RecallView; bike: RecalledBike; onPut: Put; onLeave: () => void }) {
  const staff = useAnswer('staff', ask.staff, () => false);
  const [status, setStatus] = useState(view.statuses[0] ?? '');
  const [channel, setChannel] = useState('');
  const [note, setNote] = useState('');
  const by = useByWhom();
  const { busy, complaint, run } = useDeed<RecallView>((answer) => { onPut(answer); onLeave(); });
  const submit = (event: Event) => {
    event.preventDefault();
    run(() => ask.tellRecall(view.line.number, { who: by.who, order: bike.order, status, channel, note }));
  };
  return (
    <Body answered={staff}>
      {(people) => (
        <form class="recall-form" onSubmit={submit} aria-label={t.tellBike(bike.order)}>
          <ChoiceField label={t.status} value={status} onValue={setStatus} options={view.statuses.map((one): [string, string] => [one, one])} />
          <TextField label={t.channel} hint={t.channelHint} value={channel} onValue={setChannel} />
          <ByWhomField by={by} label={t.who} people={people} />
          <div class="whole"><TextField label={t.note} value={note} onValue={setNote} /></div>
          <p class="whole"><button type="submit" class="do" disabled={busy}>{t.save}</button>{' '}
            <button type="button" class="plain" onClick={onLeave}>{t.cancel}</button></p>
          <div class="whole"><Complaint words={complaint} /></div>
        </form>
      )}
    </Body>
  );
}

function Row({ view, bike, onTell }: { view: RecallView; bike: RecalledBike; onTell: () => void }) {
  const marks = [bike.serial, bike.lot].filter(Boolean).join(', ');
  return (
    <tr>
      <th scope="row"><a href={orderPath(bike.order)}>{bike.order}</a> <span class="small quiet">{bike.state}</span>
        <a class="small" href={`/records/bike/${encodeURIComponent(bike.order)}`}>{t.history}<span class="unseen"> {bike.order}</span></a>
        {bike.state === 'In care' && <a class="small" href={carePath(bike.order)}>{t.care}<span class="unseen"> {bike.order}</span></a>}</th>
      <td>{bike.rider}<span class="small quiet">{bike.contact || t.noContact}</span></td>
      <td>{bike.part ? <a href={partPath(bike.part)}>{bike.name}</a> : bike.name}<span class="small quiet">{bike.place}</span></td>
      <td>{marks || <span class="quiet">{t.notWritten}</span>}</td>
      <td><Sure bike={bike} /></td>
      <td><b>{bike.status}</b> {bike.stop_sale && <span class="marked stop"><Mark shape="struck square" tone="stop" /> {t.stopSale}</span>}
        {bike.steps.map((step, i) => <span key={i} class="small">{t.step(step.status, step.day, step.who, [step.channel, step.note])}</span>)}</td>
      <td class="deed">{!view.line.closed && <button type="button" class="do" onClick={onTell}>{c.deed}<span class="unseen"> {bike.order}</span></button>}</td>
    </tr>
  );
}

function Bikes({ view, bikes, title, onPut }: { view: RecallView; bikes: RecalledBike[]; title: string; onPut: Put }) {
  const [telling, setTelling] = useState('');
  const told = bikes.find((bike) => bike.order === telling);
  return (
    <section>
      <h2>{title}</h2>
      {bikes.length === 0 && <p>{t.none}</p>}
      {told && <Tell key={telling} view={view} bike={told} onPut={onPut} onLeave={() => setTelling('')} />}
      {bikes.length > 0 && (
        <table class="book fold recall-bikes" aria-label={title}>
          <thead><tr>{[c.bike, c.rider, c.part, c.marks, c.certainty, c.status].map((name) => <th key={name} scope="col">{name}</th>)}<th scope="col"><span class="unseen">{c.deed}</span></th></tr></thead>
          <tbody>{bikes.map((bike) => <Row key={`${bike.order} ${bike.place} ${bike.serial} ${bike.lot}`} view={view} bike={bike} onTell={() => setTelling(bike.order)} />)}</tbody>
        </table>
      )}
    </section>
  );
}

function Close({ view, onPut }: { view: RecallView; onPut: Put }) {
  const staff = useAnswer('staff', ask.staff, () => false);
  const [note, setNote] = useState('');
  const by = useByWhom();
  const { busy, complaint, run } = useDeed<RecallView>(onPut);
  const submit = (event: Event) => {
    event.preventDefault();
    run(() => ask.closeRecall(view.line.number, { who: by.who, note }));
  };
  return (
    <section>
      <h2 id="close-recall">{t.close}</h2>
      <Body answered={staff}>
        {(people) => (
          <form class="recall-form" onSubmit={submit} aria-labelledby="close-recall">
            <TextField label={t.closeWhy} value={note} onValue={setNote} />
            <ByWhomField by={by} label={t.who} people={people} />
            <p class="whole"><button type="submit" class="plain" disabled={busy}>{t.closeDo}</button></p>
            <div class="whole"><Complaint words={complaint} /></div>
          </form>
        )}
      </Body>
    </section>
  );
}

/** One recall: what it is, which bikes it touches, and what was done about each. */
export function RecallPage({ id }: { id: string }) {
  const answered = useAnswer(`recall ${id}`, () => ask.recall(id));
  const papers = recallPapersPath(id);
  return (
    <div class="page recalls-page">
      <div class="title-line"><h1>{t.one(id)}</h1><span class="ways"><a href="/records/recalls">{t.back}</a> <a href="/records/trace">{t.trace}</a></span></div>
      <Body answered={answered}>
        {(view) => (
          <>
            <p class="lead">{view.line.part}: {view.line.progress}.{view.line.held > 0 && ` ${t.held(view.line.held)}.`}</p>
            {view.line.danger && <p><Danger /> {t.dangerRule}</p>}
            <dl class="recall-facts">
              <dt>{t.wrong}</dt><dd>{view.line.wrong}</dd>
              <dt>{t.remedy}</dt><dd>{view.line.remedy || t.noRemedy}</dd>
              <dt>{t.ranges}</dt><dd>{view.ranges || t.every}</dd>
              {view.line.notice && <><dt>{t.notice}</dt><dd>{view.line.notice}</dd></>}
              <dt>{t.written}</dt><dd>{t.opened(view.line.opened, view.line.opened_by)}{view.line.closed && `; ${t.closed(view.line.closed)} (${view.closed_by})`}{view.closing_note && `: ${view.closing_note}`}</dd>
            </dl>
            <p class="papers"><a class="do" href={`${papers}.pdf`}>{t.pdf}</a> <a href={`${papers}.csv`}>{t.csv}</a></p>
            <Bikes view={view} bikes={view.bikes} title={t.riders} onPut={answered.put} />
            <Bikes view={view} bikes={view.orders} title={t.orders} onPut={answered.put} />
            <section>
              <h2>{t.stock}</h2>
              {view.stock.length === 0 ? <p>{t.none}</p> : <ul>{view.stock.map((stock) => <li key={stock.sentence}>{stock.sentence} ({stock.certainty})</li>)}</ul>}
            </section>
            {!view.line.closed && <Close view={view} onPut={answered.put} />}
          </>
        )}
      </Body>
    </div>
  );
}
