import { useState } from 'preact/hooks';
import { ask, type MakerTableRow, type MakerView } from '../ask/ask';
import { concernsOrder, useAnswer } from '../ask/use_answer';
import { makerFormPath, orderPath } from '../frame/route';
import { useShop } from '../frame/shop';
import { Mark } from '../marks/mark';
import type { Shape, Tone } from '../marks/shape_of';
import { Body } from '../marks/waiting';
import { makerWords as t } from '../words/maker';
import { ByWhomField, useByWhom } from './by_whom';
import { Complaint, useDeed } from './deed';
import { DayField, TextField, TickField } from './field';
import { Differences } from './maker_differences';
import { TakeMakerList } from './maker_list';

export interface MakerProps {
  view: MakerView;
  onPut: (view: MakerView) => void;
}

const kDiffers: Record<string, [Shape, Tone]> = {
  'same': ['tick', 'ink'], 'other part': ['cross', 'stop'], 'missing': ['gap', 'stop'], 'extra': ['lozenge', 'care'],
  'other quantity': ['triangle', 'care'], 'other option': ['triangle', 'care'],
};

function Says({ words, is, of }: { words: string; is: string; of: string }) {
  const [shape, tone] = kDiffers[is] ?? ['nothing', 'ink'];
  if (!is) return <td data-of={of}><span class="small quiet">{t.none}</span></td>;
  return (
    <td data-of={of}>
      <span>{words} <span class={`marked ${tone}`}><Mark shape={shape} tone={tone} /> <span class="word">{is}</span></span></span>
    </td>
  );
}

const differs = (row: MakerTableRow) => [row.confirmed_is, row.built_is].some((is) => is !== '' && is !== 'same');

function Table({ view }: { view: MakerView }) {
  const [onlyOther, setOnlyOther] = useState(false);
  const rows = onlyOther ? view.rows.filter(differs) : view.rows;
  const c = t.columns;
  return (
    <section>
      <h2 id="maker-lines">{t.table}</h2>
      <TickField label={t.onlyOther} value={onlyOther} onValue={setOnlyOther} />
      {rows.length === 0 && <p>{t.allSame}</p>}
      {rows.length > 0 && (
        <table class="book fold maker-table" aria-labelledby="maker-lines">
          <thead><tr>{[c.position, c.ordered, c.confirmed, c.built].map((name) => <th key={name} scope="col">{name}</th>)}</tr></thead>
          <tbody>
            {rows.map((row, i) => (
              <tr key={`${row.position} ${i}`} class={differs(row) ? 'differs' : undefined} data-position={row.position}>
                <th scope="row">{row.position_name}</th>
                <td data-of={c.ordered}>{row.ordered}</td>
                <Says words={row.confirmed} is={row.confirmed_is} of={c.confirmed} />
                <Says words={row.built} is={row.built_is} of={c.built} />
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}

function SendForm({ view, onPut }: MakerProps) {
  const { people } = useShop();
  const [wanted, setWanted] = useState('');
  const [how, setHow] = useState('');
  const by = useByWhom();
  const { busy, complaint, run } = useDeed<MakerView>(onPut);
  const send = (event: Event) => {
    event.preventDefault();
    void run(() => ask.sendMakerForm(view.order, { who: by.who, wanted, how: how.trim() }));
  };
  return (
    <form class="maker-form" onSubmit={send} aria-label={t.send} noValidate>
      <DayField label={t.wantedDay} value={wanted} onValue={setWanted} />
      <TextField label={t.how} hint={t.howHint} value={how} onValue={setHow} />
      <ByWhomField by={by} label={t.who} people={people} />
      <div class="whole"><Complaint words={complaint} /></div>
      <p class="whole"><button type="submit" class="do" disabled={busy || by.who === '' || wanted === ''}>{t.sendDo}</button></p>
    </form>
  );
}

function Form({ view, onPut }: MakerProps) {
  const { form } = view;
  const paper = makerFormPath(view.order);
  return (
    <section>
      <h2>{t.form}</h2>
      <p>
        {t.to(form.maker, form.version)} {form.number > 0 && form.sent && form.wanted
          ? `${t.sent(form.number, form.sent, form.who)} ${t.wanted(form.wanted)}` : t.notSent}
        {form.number > 0 && !view.form_is_current && ` ${t.old}`}
      </p>
      <p class="papers">
        <a class="do" href={`${paper}.pdf`} target="_blank" rel="noopener">{t.a4}</a>{' '}
        <a href={`${paper}.pdf?paper=letter`} target="_blank" rel="noopener">{t.letter}</a> <a href={`${paper}.csv`}>{t.csv}</a>
      </p>
      {view.form_missing.length > 0
        ? <ul>{view.form_missing.map((words) => <li key={words}>{words}</li>)}</ul>
        : <details open={form.number === 0}><summary>{t.send}</summary><SendForm view={view} onPut={onPut} /></details>}
      <details>
        <summary>{t.papers}</summary>
        <ul>{view.papers.map((words) => <li key={words}>{words}</li>)}</ul>
      </details>
    </section>
  );
}

function Lists({ view }: { view: MakerView }) {
  if (view.lists.length === 0 && view.answers.length === 0) return null;
  return (
    <section>
      <h2>{t.lists}</h2>
      <ul>
        {view.lists.map((list) => (
          <li key={`${list.kind} ${list.number}`}>
            {t.list(list.kind, list.number, list.day, list.who)}{list.reference && `, ${list.reference}`}, {list.file || t.isTyped}{list.counts && <b> ({t.counts})</b>}
          </li>
        ))}
      </ul>
      {view.answers.length > 0 && <h3>{t.said}</h3>}
      <ul>
        {view.answers.map((one) => (
          <li key={one.number}>
            {one.position_name}: {one.listed || t.columns.ordered} <b>{t.saidOne(one.answer, one.day, one.who)}</b> ({one.list}): {one.why}{one.signed_by && `, ${t.agreedBy(one.signed_by)}`}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** A bike that a maker builds: its form, the maker's lists, and what differs. */
export function MakerPage({ id }: { id: string }) {
  const answered = useAnswer(`maker ${id}`, () => ask.maker(id), concernsOrder(id));
  return (
    <div class="page maker-page">
      <div class="title-line"><h1>{t.title(id)}</h1><span class="ways"><a href={orderPath(id)}>{t.back}</a></span></div>
      <Body answered={answered}>
        {(view) => (
          <>
            <p class="lead" role="status">{view.sentence}</p>
            <Differences key={`${view.revision} ${view.answers.length} ${view.lists.length}`} view={view} onPut={answered.put} />
            <Table view={view} />
            <Form view={view} onPut={answered.put} />
            <TakeMakerList key={`take ${view.lists.length}`} view={view} onPut={answered.put} />
            <Lists view={view} />
          </>
        )}
      </Body>
    </div>
  );
}
