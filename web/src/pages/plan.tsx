import { useState } from 'preact/hooks';
import { ask, type PlanView } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { WallPlan, type Zoom } from '../drawing/wall_plan';
import { orderPath } from '../frame/route';
import { Mark } from '../marks/mark';
import { Body } from '../marks/waiting';
import { dayInWords, dayShort, momentInWords } from '../words/day';
import { loadWords } from '../words/load';
import { say } from '../words/say';

const t = say.plan;

function Key() {
  const sign = (shape: preact.JSX.Element, words: string) => <li><svg width="30" height="18" aria-hidden="true">{shape}</svg> {words}</li>;
  return (
    <ul class="key" aria-label={t.key}>
      {sign(<><rect class="key-block" x="1" y="2" width="28" height="14" /><path class="key-hatch" d="M4 16 16 2M12 16 24 2M20 16 29 6" /></>, t.keyFrozen)}
      {sign(<path class="key-block late" d="M1 2h20l8 7-8 7H1Z" />, t.keyLate)}
      {sign(<path class="key-arrival sure" d="M8 2h12v7h-4l-2 7-2-7H8Z" />, t.keyArrival)}
      {sign(<path class="key-arrival unsure" d="M8 2h12v7h-4l-2 7-2-7H8Z" />, t.keyArrivalOpen)}
      {sign(<path class="key-flag" d="M22 1v16M22 1 6 7l16 6Z" />, t.keyPromise)}
      <li class="small">{t.folded}</li>
    </ul>
  );
}

function PromiseTable({ plan }: { plan: PlanView }) {
  return (
    <section>
      <h2>{t.orders}</h2>
      <table class="book fold">
        <thead>
          <tr><th scope="col">{t.order}</th><th scope="col">{t.rider}</th><th scope="col">{t.promised}</th><th scope="col">{t.ready}</th><th scope="col">{t.boundBy}</th></tr>
        </thead>
        <tbody>
          {plan.orders.map((order) => (
            <tr key={order.order}>
              <th scope="row"><a href={orderPath(order.order)}>{order.order}</a></th>
              <td>{order.rider}</td>
              <td data-of={t.promised}>{order.promised ? dayInWords(order.promised) : t.noPromise}</td>
              <td data-of={t.ready}>
                <span>
                  {order.ready ? dayInWords(order.ready) : t.beyond}{' '}
                  {order.late && <span class="marked stop"><Mark shape="flag" tone="stop" />{t.late}</span>}
                </span>
              </td>
              <td data-of={t.boundBy}>{order.bound_by}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function WorkTable({ plan }: { plan: PlanView }) {
  const rows = plan.people.flatMap((p) => p.bars.map((bar) => ({ who: p.name, bar })))
    .sort((a, b) => a.bar.from.localeCompare(b.bar.from));
  return (
    <details class="work-list">
      <summary>{t.work}</summary>
      <table class="book fold">
        <thead>
          <tr><th scope="col">{t.order}</th><th scope="col">{t.who}</th><th scope="col">{t.what}</th><th scope="col">{t.where}</th><th scope="col">{t.from}</th><th scope="col">{t.to}</th></tr>
        </thead>
        <tbody>
          {rows.map(({ who, bar }) => (
            <tr key={who + bar.order + bar.operation + bar.from}>
              <th scope="row"><a href={orderPath(bar.order)}>{bar.order}</a> {bar.rider}</th>
              <td data-of={t.who}>{who}</td>
              <td data-of={t.what}>{bar.name}{bar.frozen && `, ${t.frozen}`}{bar.late && `, ${t.late}`}</td>
              <td data-of={t.where}>{bar.area}</td>
              <td data-of={t.from}>{momentInWords(bar.from)}</td>
              <td data-of={t.to}>{momentInWords(bar.to)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

function ArrivalList({ plan }: { plan: PlanView }) {
  if (plan.arrivals.length === 0) return null;
  return (
    <section>
      <h2>{t.arrivals}</h2>
      <ul class="plain-list">
        {plan.arrivals.map((a) => (
          <li key={a.day + a.what}>
            <b class="num">{dayShort(a.day)}</b> {a.what}, <span class="quiet">{a.confirmed ? t.confirmed : t.notConfirmed}</span>{' '}
            {a.orders.map((order) => <a key={order} href={orderPath(order)}>{order}</a>)}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Wall({ plan }: { plan: PlanView }) {
  const [zoom, setZoom] = useState<Zoom>('week');
  const turn = (to: Zoom, word: string) => (
    <button type="button" aria-pressed={zoom === to} onClick={() => setZoom(to)}>{word}</button>
  );
  if (plan.people.length === 0) return <p>{t.none}</p>;
  return (
    <>
      <div class="words zoom" role="group" aria-label={t.zoom}>{turn('week', t.week)}{turn('day', t.day)}</div>
      <WallPlan plan={plan} zoom={zoom} />
      <Key />
      <div class="two-columns"><PromiseTable plan={plan} /><ArrivalList plan={plan} /></div>
      <WorkTable plan={plan} />
    </>
  );
}

export function PlanPage() {
  const answered = useAnswer('plan', ask.plan);
  return (
    <div class="page plan">
      <div class="title-line"><h1>{t.title}</h1><a href="/plan/load">{loadWords.link}</a></div>
      <Body answered={answered}>
        {(plan) => <><p class="lead">{plan.sentence}</p><Wall plan={plan} /></>}
      </Body>
    </div>
  );
}
