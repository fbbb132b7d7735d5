import { type Aid, ask, type FilledAid, type FilledField, type Reckoned } from '../ask/ask';
import { concernsOrder, useAnswer } from '../ask/use_answer';
import { orderAidPath, orderPath, truingPath, wheelCardPath } from '../frame/route';
import { Mark } from '../marks/mark';
import { Body } from '../marks/waiting';
import { say } from '../words/say';

const t = say.wheelCard;
const kAid = 'wheel-card';

function Figures({ reckoned }: { reckoned: Reckoned }) {
  return (
    <>
      {reckoned.cautions.map((caution) => <p key={caution} class="caution"><Mark shape="triangle" tone="care" /> {caution}</p>)}
      {reckoned.tables.map((table) => (
        <table key={table.title} class="card-sides">
          <caption class="unseen">{table.title}</caption>
          <thead><tr>{table.columns.map((column) => <th key={column} scope="col">{column}</th>)}</tr></thead>
          <tbody>
            {table.rows.map(([name, ...cells]) => (
              <tr key={name}><th scope="row">{name}</th>{cells.map((cell, i) => <td key={i}>{cell}</td>)}</tr>
            ))}
          </tbody>
        </table>
      ))}
      <h2>{t.whole}</h2>
      <table class="card-whole">
        <tbody>
          {reckoned.rows.map((row) => (
            <tr key={row.name}>
              <th scope="row">{row.name}</th>
              <td><b>{row.value}</b> {row.us && <span class="us">{row.us}</span>}</td>
              <td class="small">{row.note}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

/** What is read once the wheel is built, by hand on the printed card. */
function ToWrite() {
  return (
    <section class="card-write">
      <h2>{t.checked}</h2>
      <dl>{[t.sideways, t.upright, t.dish, t.left, t.right, t.by].map((what) => <div key={what}><dt>{what}</dt><dd class="write" /></div>)}</dl>
    </section>
  );
}

const labelOf = (aid: Aid, key: string) => aid.inputs.find((input) => input.key === key)?.label ?? key;

function Origins({ aid, fields }: { aid: Aid; fields: FilledField[] }) {
  const known = fields.filter((field) => field.value !== '');
  return (
    <section class="card-from">
      <h2>{t.from}</h2>
      <ul>
        {known.map((field) => (
          <li key={field.key}>{labelOf(aid, field.key)} <b>{field.value}</b>{field.origin && <span class="source"> {field.origin}</span>}</li>
        ))}
      </ul>
    </section>
  );
}

function Card({ aid, filled }: { aid: Aid; filled: FilledAid }) {
  const questions = [...new Set(filled.fields.map((field) => field.question).filter(Boolean))];
  return (
    <div class="wheel-card">
      <p class="caution"><Mark shape="triangle" tone="care" /> {aid.caution}</p>
      {questions.length > 0 && (
        <div class="questions"><h2>{t.open}</h2><ul>{questions.map((one) => <li key={one}><Mark shape="gap" tone="care" /> {one}</li>)}</ul></div>
      )}
      {filled.refusal && <p class="lead"><Mark shape="gap" tone="care" /> {filled.refusal.sentence}</p>}
      {filled.reckoned && <Figures reckoned={filled.reckoned} />}
      {filled.reckoned && <ToWrite />}
      {filled.fields.length > 0 && <Origins aid={aid} fields={filled.fields} />}
    </div>
  );
}

/** One wheel of an order on one sheet of paper, for whoever builds it. */
export function WheelCardPage({ id, end }: { id: string; end: string }) {
  const aids = useAnswer('aids', ask.aids, () => false);
  const answered = useAnswer(`wheel card ${id} ${end}`, () => ask.orderAid(id, kAid, { end }), concernsOrder(id));
  const aid = aids.value?.find((one) => one.id === kAid);
  const other = end === 'rear' ? 'front' : 'rear';
  return (
    <div class="page sheet-page">
      <h1><span class="number">{id}</span> {t.title(end)} <span class="quiet">{t.card}</span></h1>
      <p class="papers">
        <button type="button" class="do" onClick={() => print()}>{t.print}</button>{' '}
        <a href={wheelCardPath(id, other)}>{t.other(other)}</a> <a href={truingPath(id, end)}>{t.toStand}</a>{' '}
        <a href={orderAidPath(kAid, id, end)}>{t.correct}</a> <a href={orderPath(id)}>{say.orders.number} {id}</a>
      </p>
      <Body answered={answered}>{(filled) => (aid ? <Card aid={aid} filled={filled} /> : null)}</Body>
    </div>
  );
}
