import { useEffect, useState } from 'preact/hooks';
import { ask, type MeView, onSignedOut } from '../ask/ask';
import { forgetCopies, wasLeftAlone } from '../ask/copies';
import { renewed } from '../ask/edition';
import { closeEvents, isConnected, onConnection, onTurnedAway, openEvents } from '../ask/events';
import { askWho, isLeaving, nobodyAt } from '../ask/leaving';
import { forgetAnswers, useAnswer } from '../ask/use_answer';
import { whoAsks } from '../ask/who_asks';
import { Body } from '../marks/waiting';
import { AidPage, AidsPage } from '../pages/aids';
import { ArrivalPage } from '../pages/arrival';
import { ArrivalsPage } from '../pages/arrivals';
import { BenchPage } from '../pages/bench';
import { BenchBikePage } from '../pages/bench_bike';
import { BenchSignInPage } from '../pages/bench_sign_in';
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
import { PeoplePage } from '../pages/people';
import { PeopleFirstPage } from '../pages/people_first';
import { PlanPage } from '../pages/plan';
import { PrintedSheetPage } from '../pages/printed_sheet';
import { CarePage } from '../pages/care';
import { ComingBackPage } from '../pages/coming_back';
import { MakerPage } from '../pages/maker';
import { RecallPage } from '../pages/recall';
import { RecallsPage } from '../pages/recalls';
import { RecordsPage } from '../pages/records';
import { SignInPage } from '../pages/sign_in';
import { ToMeasurePage } from '../pages/to_measure';
import { SmallStockPage } from '../pages/small_stock';
import { TakeInListPage } from '../pages/take_in_list';
import { TodayPage } from '../pages/today';
import { TracePage } from '../pages/trace';
import { TruingPage } from '../pages/truing';
import { WheelCardPage } from '../pages/wheel_card';
import { clockHere } from '../words/day';
import { say } from '../words/say';
import { useConnected } from './connected';
import { Header, OutsideHeader } from './header';
import { isIn, MeIs } from './me';
import { type Route, routeOf, signInPath } from './route';
import { ShopIs } from './shop';
import { useStore } from './store';
import { go, usePath } from './travel';
import { WhoLine } from './who_line';

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
    case 'small stock': return <SmallStockPage />;
    case 'arrivals': return <ArrivalsPage />;
    case 'arrival': return <ArrivalPage key={route.id} id={route.id} />;
    case 'to measure': return <ToMeasurePage />;
    case 'take in list': return <TakeInListPage />;
    case 'part': return <PartPage key={route.id} id={route.id} />;
    case 'records': return <RecordsPage />;
    case 'history': return <HistoryPage key={route.id} id={route.id} />;
    case 'trace': return <TracePage query={route.query} />;
    case 'load': return <LoadPage />;
    case 'coming back': return <ComingBackPage />;
    case 'care': return <CarePage key={route.id} id={route.id} />;
    case 'maker': return <MakerPage key={route.id} id={route.id} />;
    case 'recalls': return <RecallsPage />;
    case 'recall': return <RecallPage key={route.id} id={route.id} />;
    case 'kept promises': return <KeptPage />;
    case 'times taken': return <MinutesPage />;
    case 'people': return <PeoplePage />;
    case 'first owner': return <PeopleFirstPage />;
    case 'sign in': return <SignInPage to={route.to} />;
    case 'bench sign in': return <BenchSignInPage to={route.to} />;
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

/** What holds for every page: that it may be old (the bench says so itself), or that it is of an older edition of the program. */
function StandingLine({ asOf, isAtBench }: { asOf: string; isAtBench: boolean }) {
  const connected = useConnected();
  const isOld = useStore(renewed);
  return (
    <div class="standing-line" role="status">
      {!connected && !isAtBench && <p>{say.notConnected(clockHere(asOf))}</p>}
      {isOld && <p>{say.renewed} <button type="button" class="plain" onClick={() => location.reload()}>{say.loadAgain}</button></p>}
    </div>
  );
}

/** The pages, for whoever may see them. */
function House({ path, route }: { path: string; route: Route }) {
  const shop = useAnswer('shop', ask.shop, (changed) => changed.order === '');
  const isAway = shop.refusal !== undefined && !shop.refusal.reached;  // the standing line says so
  useHeadingFocus(path.split('?')[0] ?? path, shop.value !== undefined);
  return (
    <>
      <Header route={route} shop={shop.value} />
      <WhoLine />
      <StandingLine asOf={shop.asOf} isAtBench={route.page === 'bench' || route.page === 'bench sheet'} />
      <main id="main" tabIndex={-1}>
        <Body answered={isAway && shop.value ? { ...shop, refusal: undefined } : shop}>
          {(view) => <ShopIs value={view}><Page route={route} /></ShopIs>}
        </Body>
      </main>
      {shop.value?.invented && (
        <footer class="invented">{say.invented(shop.value.name, shop.value.town)}</footer>
      )}
    </>
  );
}

const isSignInPage = (route: Route) => route.page === 'sign in' || route.page === 'bench sign in';

/** Nobody is in: signing in is all there is. Whoever comes for another page is led back to it. */
function Outside({ me, path, route }: { me: MeView; path: string; route: Route }) {
  useHeadingFocus(path.split('?')[0] ?? path, true);
  const here = isSignInPage(route);
  useEffect(() => {
    if (!here) go(signInPath(me.station !== '', path), true);
  }, [here, me.station, path]);
  return (
    <>
      <OutsideHeader />
      <main id="main" tabIndex={-1}>{here && <Page route={route} />}</main>
    </>
  );
}

/** What people sign in with has changed: it may be somebody else who asks now. */
const kOfPeople = ['make owner', 'set password', 'set PIN', 'take sign-in away', 'import'];

const kTryAgain = 5000;  // milliseconds
const kLookRound = 30_000;

/** Asks again who is there while the server is not reached, or was not told yet that somebody left. */
function useAskedAgain(isUnknown: boolean, again: () => void) {
  useEffect(() => {
    const timer = setInterval(() => { if (isUnknown || isLeaving()) again(); }, kTryAgain);
    addEventListener('online', again);
    return () => {
      clearInterval(timer);
      removeEventListener('online', again);
    };
  }, [isUnknown, again]);
}

/** Without the server nobody ends a session but the page itself. */
function useLeftAlone(me: MeView | undefined, put: (me: MeView) => void) {
  useEffect(() => {
    const look = async () => {
      if (!me || me.person === '' || isConnected() || !await wasLeftAlone()) return;
      forgetAnswers();
      put(nobodyAt(me.station));
    };
    const timer = setInterval(() => void look(), kLookRound);
    return () => clearInterval(timer);
  }, [me, put]);
}

function useWhoAsks() {
  const me = useAnswer('me', askWho, (changed) => kOfPeople.includes(changed.what));
  useEffect(() => onSignedOut(me.again), [me.again]);
  useEffect(() => onTurnedAway(me.again), [me.again]);
  useEffect(() => onConnection((now) => { if (!now) me.again(); }), [me.again]);
  useAskedAgain(me.value === undefined && me.refusal !== undefined, me.again);
  useLeftAlone(me.value, me.put);
  useEffect(() => whoAsks.set(me.value), [me.value]);
  const inside = me.value !== undefined && isIn(me.value);
  useEffect(() => {
    if (inside) openEvents();
    else closeEvents();
  }, [inside]);
  const become = (next: MeView, to?: string) => {
    forgetAnswers();
    forgetCopies();
    if (to !== undefined) go(to, true);
    me.put(next);
  };
  return { me, become };
}

export function App() {
  const path = usePath();
  const route = routeOf(path);
  const { me, become } = useWhoAsks();
  return (
    <>
      <a class="skip" href="#main">{say.skip}</a>
      {me.value === undefined ? <main id="main" tabIndex={-1}><Body answered={me}>{() => null}</Body></main> : (
        <MeIs value={{ view: me.value, become }}>
          {isIn(me.value)
            ? <House key={`${me.value.person} ${me.value.at}`} path={path} route={route} />
            : <Outside me={me.value} path={path} route={route} />}
        </MeIs>
      )}
    </>
  );
}
