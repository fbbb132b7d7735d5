import { useMemo, useState } from 'preact/hooks';
import { ask, type OrderLine } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { orderPath } from '../frame/route';
import { useShop } from '../frame/shop';
import { State, Verdict } from '../marks/mark';
import { Body } from '../marks/waiting';
import { money } from '../words/amount';
import { dayShort } from '../words/day';
import { say } from '../words/say';
import { walkRows } from './walk_rows';

export interface OrderFilter {
  words: string;
  state: string;  // empty: every state
}

export function ordersThatMatch(orders: OrderLine[], filter: OrderFilter): OrderLine[] {
  const words = filter.words.toLowerCase().split(/\s+/).filter(Boolean);
  return orders.filter((order) => {
    if (filter.state && order.state !== filter.state) return false;
    const text = `${order.id} ${order.rider} ${order.need} ${order.build} ${order.flags.join(' ')}`;
    return words.every((word) => text.toLowerCase().includes(word));
  });
}

/** States that occur, in the order of an order's life, with how many orders are in each. */
export function statesThatOccur(orders: OrderLine[], life: string[]): [string, number][] {
  const counts = new Map<string, number>();
  for (const { state } of orders) counts.set(state, (counts.get(state) ?? 0) + 1);
  const known = life.filter((state) => counts.has(state));
  const others = [...counts.keys()].filter((state) => !known.includes(state));
  return [...known, ...others].map((state) => [state, counts.get(state) ?? 0]);
}

function PartsHere({ here, needed }: { here: number; needed: number }) {
  return (
    <span class="tally">
      {say.orders.here(here, needed)}
      <i aria-hidden="true"><b style={{ width: `${needed > 0 ? (100 * here) / needed : 0}%` }} /></i>
    </span>
  );
}

function Row({ order }: { order: OrderLine }) {
  const { currency } = useShop();
  const day = (value: string | null) => (value ? dayShort(value) : '');
  return (
    <tr>
      <th scope="row"><a href={orderPath(order.id)}>{order.id}</a></th>
      <td class="who"><b>{order.rider}</b><span>{order.need}</span></td>
      <td data-of={say.orders.state}>
        <State word={order.state} />
        {order.flags.map((flag) => <span key={flag} class="flag">{flag}</span>)}
      </td>
      <td data-of={say.orders.verdict}><Verdict word={order.verdict} /></td>
      <td data-of={say.orders.parts}><PartsHere here={order.parts_here} needed={order.parts_needed} /></td>
      <td class="num" data-of={say.orders.needed}>{day(order.needed_by)}</td>
      <td class="num" data-of={say.orders.promised}>{day(order.promised)}</td>
      <td class="num" data-of={say.orders.price}>{money(order.price_cents, currency, false)}</td>
    </tr>
  );
}

function Table({ orders }: { orders: OrderLine[] }) {
  const t = say.orders;
  return (
    <table class="book orders-book" onKeyDown={walkRows}>
      <thead>
        <tr>
          <th scope="col">{t.number}</th><th scope="col">{t.rider}</th><th scope="col">{t.state}</th>
          <th scope="col">{t.verdict}</th><th scope="col">{t.parts}</th>
          <th scope="col" class="num">{t.needed}</th><th scope="col" class="num">{t.promised}</th>
          <th scope="col" class="num">{t.price}</th>
        </tr>
      </thead>
      <tbody>{orders.map((order) => <Row key={order.id} order={order} />)}</tbody>
    </table>
  );
}

function Book({ orders }: { orders: OrderLine[] }) {
  const shop = useShop();
  const [filter, setFilter] = useState<OrderFilter>({ words: '', state: '' });
  const states = useMemo(() => statesThatOccur(orders, shop.states), [orders, shop]);
  const shown = useMemo(() => ordersThatMatch(orders, filter), [orders, filter]);
  if (orders.length === 0) return <p class="lead">{say.orders.none}</p>;
  const choose = (state: string) => setFilter({ ...filter, state: filter.state === state ? '' : state });
  return (
    <>
      <div class="narrow">
        <label>
          <span>{say.orders.filter}</span>
          <input type="text" value={filter.words} autocomplete="off"
            onInput={(event) => setFilter({ ...filter, words: event.currentTarget.value })} />
        </label>
        <div class="words" role="group" aria-label={say.orders.states}>
          {states.map(([state, n]) => (
            <button key={state} type="button" aria-pressed={filter.state === state} onClick={() => choose(state)}>
              <State word={state}>{state}</State> <i>{n}</i>
            </button>
          ))}
        </div>
      </div>
      <p class="count" role="status">{shown.length ? say.orders.shown(shown.length, orders.length) : say.orders.noMatch}</p>
      {shown.length > 0 && <Table orders={shown} />}
    </>
  );
}

export function OrdersPage() {
  const answered = useAnswer('orders', ask.orders);
  return (
    <div class="page">
      <div class="title-line">
        <h1>{say.orders.title}</h1>
        <span class="ways"><a href="/orders/coming-back">{say.orders.comingBack}</a> <a class="do" href="/orders/new">{say.orders.open}</a></span>
      </div>
      <Body answered={answered}>{(orders) => <Book orders={orders} />}</Body>
    </div>
  );
}
