import type { PlanView } from '../ask/ask';
import { memo } from '../frame/memo';
import { orderPath } from '../frame/route';
import { Mark } from '../marks/mark';
import { dayInWords, dayShort } from '../words/day';
import { planWords } from '../words/plan';

const t = planWords.tables;
const kHeads = [t.order, t.rider, t.promised, t.ready, t.boundBy];

export const PromiseTable = memo(function PromiseTable({ plan }: { plan: PlanView }) {
  return (
    <section>
      <h2>{t.orders}</h2>
      <table class="book fold">
        <thead>
          <tr>{kHeads.map((head) => <th key={head} scope="col">{head}</th>)}</tr>
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
                  {order.late && <span class="marked stop"><Mark shape="flag" tone="stop" />{planWords.late}</span>}
                </span>
              </td>
              <td data-of={t.boundBy}>{order.bound_by}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
});

export const ArrivalList = memo(function ArrivalList({ plan }: { plan: PlanView }) {
  if (plan.arrivals.length === 0) return null;
  return (
    <section>
      <h2>{planWords.arrivals}</h2>
      <ul class="plain-list">
        {plan.arrivals.map((a) => (
          <li key={a.day + a.what}>
            <b class="num">{dayShort(a.day)}</b> {a.what},{' '}
            <span class="quiet">{a.confirmed ? planWords.confirmed : planWords.notConfirmed}</span>{' '}
            {a.orders.map((order) => <a key={order} href={orderPath(order)}>{order}</a>)}
          </li>
        ))}
      </ul>
    </section>
  );
});
