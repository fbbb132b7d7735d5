import { ask, type OrderLine } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { benchPath, labelsPath, truingPath } from '../frame/route';
import { State } from '../marks/mark';
import { Body } from '../marks/waiting';
import { dayInWords } from '../words/day';
import { labelWords } from '../words/labels';
import { say } from '../words/say';

const t = say.bench;

/** States in which a bike is in somebody's hands, nearest to done first. */
const kAtTheBench = ['Checking', 'Finishing', 'Building', 'Kitted', 'Arrived'];

export function bikesAtTheBench(orders: OrderLine[]): OrderLine[] {
  const here = orders.filter((order) => kAtTheBench.includes(order.state));
  return here.sort((a, b) => kAtTheBench.indexOf(a.state) - kAtTheBench.indexOf(b.state) ||
    (a.promised ?? '9').localeCompare(b.promised ?? '9'));
}

function Bikes({ orders }: { orders: OrderLine[] }) {
  const bikes = bikesAtTheBench(orders);
  if (bikes.length === 0) return <p class="lead">{t.none}</p>;
  return (
    <>
      <p class="lead">{t.lead}</p>
      <ul class="stands">
        {bikes.map((bike) => (
          <li key={bike.id}>
            <a href={benchPath(bike.id)}>
              <span class="number">{bike.id}</span>
              <span class="who"><b>{bike.rider}</b><span>{bike.build}</span></span>
              <State word={bike.state} />
              <span class="due">{bike.promised ? dayInWords(bike.promised) : ''}</span>
            </a>
          </li>
        ))}
      </ul>
    </>
  );
}

export function BenchPage() {
  const answered = useAnswer('orders', ask.orders);
  return (
    <div class="page">
      <div class="title-line"><h1>{t.title}</h1><span><a href={labelsPath()}>{labelWords.link}</a>{' '}<a href={truingPath()}>{say.truing.link}</a>{' '}<a href="/bench/aids">{say.aids.title}</a></span></div>
      <Body answered={answered}>{(orders) => <Bikes orders={orders} />}</Body>
    </div>
  );
}
