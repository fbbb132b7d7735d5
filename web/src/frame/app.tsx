import { useEffect, useState } from 'preact/hooks';
import { ask } from '../ask/ask';
import { useAnswer } from '../ask/use_answer';
import { Body } from '../marks/waiting';
import { AidPage, AidsPage } from '../pages/aids';
import { ArrivalPage } from '../pages/arrival';
import { ArrivalsPage } from '../pages/arrivals';
import { BenchPage } from '../pages/bench';
import { BenchBikePage } from '../pages/bench_bike';
import { BuyPage } from '../pages/buy';
import { HistoryPage } from '../pages/history';
import { KeptPage } from '../pages/kept';
import { LabelsPage } from '../pages/labels';
import { LoadPage } from '../pages/load';
import { MinutesPage } from '../pages/minutes';
import { NewOrderPage } from '../pages/new_order';
import { OrderPage } from '../pages/order';
import { OrderAidPage } from '../pages/order_aid';
import { OrdersPage } from '../pages/orders';
import { PartPage } from '../pages/part';
import { PartsPage } from '../pages/parts';
import { PlanPage } from '../pages/plan';
import { PrintedSheetPage } from '../pages/printed_sheet';
import { RecordsPage } from '../pages/records';
import { ToMeasurePage } from '../pages/to_measure';
import { TakeInListPage } from '../pages/take_in_list';
import { TodayPage } from '../pages/today';
import { TracePage } from '../pages/trace';
import { TruingPage } from '../pages/truing';
import { WheelCardPage } from '../pages/wheel_card';
import { say } from '../words/say';
import { useConnected } from './connected';
import { Header } from './header';
import { type Route, routeOf } from './route';
import { ShopIs } from './shop';
import { usePath } from './travel';

function Page({ route }: { route: Route }) {
  switch (route.page) {
    case 'today': return <TodayPage />;
    case 'orders': return <OrdersPage />;
    case 'new order': return <NewOrderPage />;
    case 'order': return <OrderPage key={route.id} id={route.id} />;
    case 'wheel card': return <WheelCardPage key={`${route.id} ${route.end}`} id={route.id} end={route.end} />;
    case 'plan': return <PlanPage />;
    case 'bench': return <BenchPage />;
    case 'labels': return <LabelsPage key={[...route.orders, ...route.parts].join(' ')} orders={route.orders} parts={route.parts} />;
    case 'aids': return <AidsPage />;
    case 'aid': return route.order
      ? <OrderAidPage key={`${route.order} ${route.id} ${route.end}`} order={route.order} id={route.id} end={route.end} />
      : <AidPage key={route.id} id={route.id} />;
    case 'truing': return <TruingPage key={`${route.order} ${route.wheel}`} order={route.order} wheel={route.wheel} />;
    case 'bench sheet': return <BenchBikePage key={route.id} id={route.id} step={route.step} reading={route.reading} tab={route.tab} />;
    case 'printed sheet': return <PrintedSheetPage key={route.id} id={route.id} />;
    case 'parts': return <PartsPage />;
    case 'buy': return <BuyPage />;
    case 'arrivals': return <ArrivalsPage />;
    case 'arrival': return <ArrivalPage key={route.id} id={route.id} />;
    case 'to measure': return <ToMeasurePage />;
    case 'take in list': return <TakeInListPage />;
    case 'part': return <PartPage key={route.id} id={route.id} />;
    case 'records': return <RecordsPage />;
    case 'history': return <HistoryPage key={route.id} id={route.id} />;
    case 'trace': return <TracePage query={route.query} />;
    case 'load': return <LoadPage />;
    case 'kept promises': return <KeptPage />;
    case 'times taken': return <MinutesPage />;
    case 'nothing': return (
      <div class="page">
        <h1>{say.nothing.title}</h1>
        <p>{say.nothing.sentence(route.path)} <a href="/">{say.nothing.home}</a></p>
      </div>
    );
  }
}

/** After going to another page the reader starts at its heading, also with a screen reader. */
function useHeadingFocus(place: string, ready: boolean) {
  const [first, setFirst] = useState(true);
  useEffect(() => {
    const heading = document.querySelector('h1');
    if (!heading) return;
    // A heading may get its rider's name only when the answer comes.
    const entitle = () => { document.title = `${heading.textContent} · Rollwright`; };
    const observer = new MutationObserver(entitle);
    observer.observe(heading, { childList: true, characterData: true, subtree: true });
    entitle();
    if (first) {
      setFirst(false);
    } else {
      heading.setAttribute('tabindex', '-1');
      heading.focus({ preventScroll: true });
    }
    return () => observer.disconnect();
  }, [place, ready]);
}

export function App() {
  const path = usePath();
  const route = routeOf(path);
  const shop = useAnswer('shop', ask.shop, (changed) => changed.order === '');
  const connected = useConnected();
  useHeadingFocus(path.split('?')[0] ?? path, shop.value !== undefined);
  return (
    <>
      <a class="skip" href="#main">{say.skip}</a>
      <Header route={route} shop={shop.value} />
      <div class="standing-line" role="status">{connected ? '' : say.notConnected}</div>
      <main id="main" tabIndex={-1}>
        <Body answered={shop}>
          {(view) => <ShopIs value={view}><Page route={route} /></ShopIs>}
        </Body>
      </main>
      {shop.value?.invented && (
        <footer class="invented">{say.invented(shop.value.name, shop.value.town)}</footer>
      )}
    </>
  );
}
