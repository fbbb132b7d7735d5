import { useState } from 'preact/hooks';
import { ask, type CareOperation, type CareView, type CareVisitView } from '../ask/ask';
import { concernsOrder, useAnswer } from '../ask/use_answer';
import { benchPath, historyPath, orderPath } from '../frame/route';
import { useShop } from '../frame/shop';
import { Mark, State, Work } from '../marks/mark';
import { Body } from '../marks/waiting';
import { bench } from '../words/bench';
import { careWords as t } from '../words/care';
import { dayInWords } from '../words/day';
import { ByWhomField, useByWhom } from './by_whom';
import { type CareProps, OpenVisit, OperationTicks } from './care_open';
import { Remind } from './care_remind';
import { Complaint, useDeed } from './deed';
import { TextField } from './field';

const km = (visit: CareVisitView) => visit.km !== null && t.km(visit.km);

function Asked({ view, asked }: { view: CareView; asked: CareOperation[] }) {
  return (
    <ul class="asked">
      {asked.map((one) => (
        <li key={one.operation}>
          <a href={benchPath(view.order)}>
            <span class="quiet">{one.operation}</span> <span class="what">{one.name}</span>
            <Work word={one.standing}>{bench.standingOf(one.standing, one.care)}</Work>
          </a>
        </li>
      ))}
    </ul>
  );
}

function AskMore({ view, onPut }: CareProps) {
  const { people } = useShop();
  const [chosen, setChosen] = useState<string[]>([]);
  const [note, setNote] = useState('');
  const by = useByWhom();
  const { busy, complaint, run } = useDeed<CareView>((answer) => { setChosen([]); setNote(''); onPut(answer); });
  const asked = new Set(view.open?.asked.map((one) => one.operation));
  const submit = (event: Event) => {
    event.preventDefault();
    void run(() => ask.askInVisit(view.order, { who: by.who, operations: chosen, note: note.trim() }));
  };
  return (
    <details class="operation-group"><summary>{t.askMore}</summary>
      <form onSubmit={submit} aria-label={t.askMore} noValidate>
        <OperationTicks operations={view.operations.filter((one) => !asked.has(one.operation))} chosen={chosen} onChosen={setChosen} />
        <div class="care-form">
          <div class="whole"><TextField label={t.why} value={note} onValue={setNote} /></div>
          <ByWhomField by={by} label={t.who} people={people} />
          <div class="whole"><Complaint words={complaint} /></div>
          <p class="whole"><button type="submit" class="do" disabled={busy || by.who === '' || chosen.length === 0}>{t.askDo}</button></p>
        </div>
      </form>
    </details>
  );
}

function GiveBack({ view, onPut }: CareProps) {
  const { people } = useShop();
  const [why, setWhy] = useState('');
  const by = useByWhom();
  const { busy, complaint, run } = useDeed<CareView>(onPut);
  const give = (toBeRidden: boolean) => (event: Event) => {
    event.preventDefault();
    void run(() => ask.giveBack(view.order, { who: by.who, to_be_ridden: toBeRidden, note: toBeRidden ? '' : why.trim() }));
  };
  return (
    <>
      <h3>{t.give}</h3>
      <form class="care-form" onSubmit={give(true)} aria-label={t.give} noValidate>
        <ByWhomField by={by} label={t.who} people={people} />
        <div class="whole"><Complaint words={complaint} /></div>
        <p class="whole"><button type="submit" class="do" disabled={busy || by.who === '' || view.missing.length > 0}>{t.giveDo}</button></p>
      </form>
      <details class="operation-group"><summary>{t.notRide}</summary>
        <form class="care-form" onSubmit={give(false)} aria-label={t.notRide} noValidate>
          <div class="whole"><TextField label={t.notRideWhy} hint={t.notRideHint} value={why} onValue={setWhy} /></div>
          <p class="whole"><button type="submit" disabled={busy || by.who === '' || why.trim() === ''}><Mark shape="struck square" tone="stop" /> {t.notRideDo}</button></p>
        </form>
      </details>
    </>
  );
}

function OpenNow({ view, onPut }: CareProps) {
  const { open } = view;
  if (!open) return null;
  return (
    <section>
      <h2>{t.here}</h2>
      <p><b>{open.about}</b>{open.km !== null && <>, {km(open)}</>}, {t.since(open.who, open.since)} <a href={benchPath(view.order)}>{t.bench}</a></p>
      {open.note && <p>{t.rider}: {open.note}</p>}
      <Asked view={view} asked={open.asked} />
      <AskMore view={view} onPut={onPut} />
      <h3>{t.missing}</h3>
      {view.missing.length === 0 ? <p>{t.ready}</p> : <ul class="missing">{view.missing.map((words) => <li key={words}>{words}</li>)}</ul>}
      <GiveBack view={view} onPut={onPut} />
    </section>
  );
}

function Past({ view }: { view: CareView }) {
  if (view.visits.length === 0) return view.open ? null : <p>{t.none}</p>;
  return (
    <section>
      <h2>{t.past}</h2>
      <ul class="visits">
        {view.visits.map((visit) => (
          <li key={visit.since}>
            <p><b>{visit.about}</b>{visit.km !== null && <>, {km(visit)}</>}, {t.since(visit.who, visit.since)}; {t.given(visit.back_by, visit.back)}
              {!visit.to_be_ridden && <span class="marked stop"> <Mark shape="struck square" tone="stop" /> {t.notRidden}</span>}</p>
            {visit.note && <p>{t.rider}: {visit.note}</p>}
            {visit.back_note && <p>{visit.back_note}</p>}
            <p class="quiet">{visit.asked.map((one) => `${one.operation} ${one.name}`).join('; ')}</p>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** A bike that was handed over: what it is here for, what it could come for, and when it was here. */
export function CarePage({ id }: { id: string }) {
  const answered = useAnswer(`care ${id}`, () => ask.care(id), concernsOrder(id));
  return (
    <div class="page care-page">
      <div class="title-line"><h1>{t.title(id)}</h1><span class="ways"><a href="/orders/coming-back">{t.all}</a> <a href={orderPath(id)}>{t.back}</a> <a href={historyPath(id)}>{t.history}</a></span></div>
      <Body answered={answered}>
        {(view) => (
          <>
            <p><State word={view.state} /> {view.rider} <span class="quiet">{view.contact}</span> {view.frame}</p>
            <p class="lead" role="status">{view.sentence}</p>
            {view.due?.reminded && <p>{t.told(dayInWords(view.due.reminded), view.due.said)}</p>}
            {view.due?.to_be_told && <Remind order={view.order} onTold={answered.put} />}
            <OpenNow key={view.open?.since ?? ''} view={view} onPut={answered.put} />
            {view.may_open && <OpenVisit key={view.visits.length} view={view} onPut={answered.put} />}
            <Past view={view} />
          </>
        )}
      </Body>
    </div>
  );
}
