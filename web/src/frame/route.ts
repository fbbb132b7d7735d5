export type BenchTab = 'work' | 'kit' | 'checks';

/** Which page an address means. */
export type Route =
  | { page: 'today' }
  | { page: 'orders' }
  | { page: 'new order' }
  | { page: 'order'; id: string }
  | { page: 'wheel card'; id: string; end: string }
  | { page: 'plan' }
  | { page: 'load' }
  | { page: 'bench' }
  | { page: 'labels'; orders: string[]; parts: string[] }
  | { page: 'aids' }
  | { page: 'aid'; id: string; order: string; end: string }
  | { page: 'truing'; order: string; wheel: string }
  | { page: 'bench sheet'; id: string; step: number; reading: string; tab: BenchTab }
  | { page: 'printed sheet'; id: string }
  | { page: 'parts' }
  | { page: 'buy' }
  | { page: 'small stock' }
  | { page: 'arrivals' }
  | { page: 'arrival'; id: string }
  | { page: 'take in list' }
  | { page: 'to measure' }
  | { page: 'part'; id: string }
  | { page: 'records' }
  | { page: 'history'; id: string }
  | { page: 'trace'; query: string }
  | { page: 'care'; id: string }
  | { page: 'coming back' }
  | { page: 'maker'; id: string }
  | { page: 'recalls' }
  | { page: 'recall'; id: string }
  | { page: 'kept promises' }
  | { page: 'times taken' }
  | { page: 'sign in'; to: string }
  | { page: 'bench sign in'; to: string }
  | { page: 'first owner' }
  | { page: 'people' }
  | { page: 'nothing'; path: string };

/** The pieces of a path; undefined when one is no proper text ("%" alone). */
function piecesOf(place: string): string[] | undefined {
  try {
    return place.split('/').filter(Boolean).map(decodeURIComponent);
  } catch {
    return undefined;
  }
}

/** Where to go afterwards: a page of ours and nothing else; empty when none is named. */
export function placeIn(query: string): string {
  const to = new URLSearchParams(query).get('to') ?? '';
  return /^\/(?![/\\])/.test(to) ? to : '';
}

/** `path` may carry a query: "/bench/2041?step=3". */
export function routeOf(path: string): Route {
  const [place = '', query = ''] = path.split('?');
  const pieces = piecesOf(place);
  if (!pieces) return { page: 'nothing', path };
  const [first, second, third] = pieces;
  const depth = pieces.length;
  if (depth === 0) return { page: 'today' };
  if (first === 'orders' && depth === 1) return { page: 'orders' };
  if (first === 'orders' && second === 'new' && depth === 2) return { page: 'new order' };
  if (first === 'orders' && second === 'coming-back' && depth === 2) return { page: 'coming back' };
  if (first === 'orders' && second && depth === 2) return { page: 'order', id: second };
  if (first === 'orders' && second && third === 'care' && depth === 3) return { page: 'care', id: second };
  if (first === 'orders' && second && third === 'maker' && depth === 3) return { page: 'maker', id: second };
  if (first === 'orders' && second && third === 'wheels' && depth === 4) {
    const end = pieces[3];
    if (end === 'front' || end === 'rear') return { page: 'wheel card', id: second, end };
  }
  if (first === 'plan' && depth === 1) return { page: 'plan' };
  if (first === 'plan' && second === 'load' && depth === 2) return { page: 'load' };
  if (first === 'bench' && depth === 1) return { page: 'bench' };
  if (first === 'bench' && second === 'labels' && depth === 2) {
    const asked = new URLSearchParams(query);
    const named = (of: string) => (asked.get(of) ?? '').split(',').filter(Boolean);
    return { page: 'labels', orders: named('orders'), parts: named('parts') };
  }
  if (first === 'sign-in' && depth === 1) return { page: 'sign in', to: placeIn(query) };
  if (first === 'bench' && second === 'sign-in' && depth === 2) return { page: 'bench sign in', to: placeIn(query) };
  if (first === 'people' && depth === 1) return { page: 'people' };
  if (first === 'people' && second === 'first' && depth === 2) return { page: 'first owner' };
  if (first === 'bench' && second === 'aids' && depth === 2) return { page: 'aids' };
  if (first === 'bench' && second === 'aids' && third && depth === 3) {
    const asked = new URLSearchParams(query);
    return { page: 'aid', id: third, order: asked.get('order') ?? '', end: asked.get('end') ?? '' };
  }
  if (first === 'bench' && second === 'truing' && depth === 2) {
    const asked = new URLSearchParams(query);
    const wheel = asked.get('wheel') === 'front' ? 'front' : 'rear';
    return { page: 'truing', order: asked.get('order') ?? '', wheel };
  }
  if (first === 'bench' && second && depth === 2) {
    const asked = new URLSearchParams(query);
    const step = Number(asked.get('step') ?? '0');
    const tab = asked.get('tab');
    return {
      page: 'bench sheet', id: second, step: Number.isInteger(step) ? step : 0, reading: asked.get('read') ?? '',
      tab: tab === 'kit' || tab === 'checks' ? tab : 'work',
    };
  }
  if (first === 'bench' && second && third === 'sheet' && depth === 3) return { page: 'printed sheet', id: second };
  if (first === 'arrivals' && depth === 1) return { page: 'arrivals' };
  if (first === 'arrivals' && second && depth === 2) return { page: 'arrival', id: second };
  if (first === 'parts' && depth === 1) return { page: 'parts' };
  if (first === 'parts' && second === 'buy' && depth === 2) return { page: 'buy' };
  if (first === 'parts' && second === 'small-stock' && depth === 2) return { page: 'small stock' };
  if (first === 'parts' && second === 'to-measure' && depth === 2) return { page: 'to measure' };
  if (first === 'parts' && second === 'take-in' && depth === 2) return { page: 'take in list' };
  if (first === 'parts' && second && depth === 2) return { page: 'part', id: second };
  if (first === 'records' && depth === 1) return { page: 'records' };
  if (first === 'records' && second === 'trace' && depth === 2) return { page: 'trace', query };
  if (first === 'records' && second === 'bike' && third && depth === 3) return { page: 'history', id: third };
  if (first === 'records' && second === 'recalls' && depth === 2) return { page: 'recalls' };
  if (first === 'records' && second === 'recalls' && third && depth === 3) return { page: 'recall', id: third };
  if (first === 'records' && second === 'promises' && depth === 2) return { page: 'kept promises' };
  if (first === 'records' && second === 'minutes' && depth === 2) return { page: 'times taken' };
  return { page: 'nothing', path };
}

/** Where a person signs in, to go on at `to`. */
export const signInPath = (atStation: boolean, to: string) => {
  const page = atStation ? '/bench/sign-in' : '/sign-in';
  return to === '/' ? page : `${page}?to=${encodeURIComponent(to)}`;
};
export const orderPath = (id: string) => `/orders/${encodeURIComponent(id)}`;
export const wheelCardPath = (id: string, end: string) => `${orderPath(id)}/wheels/${end}`;
export const carePath = (id: string) => `${orderPath(id)}/care`;
export const makerPath = (id: string) => `${orderPath(id)}/maker`;
/** Without its ending, .pdf or .csv. */
export const makerFormPath = (id: string) => `/api/orders/${encodeURIComponent(id)}/maker/form`;
export const partPath = (id: string) => `/parts/${encodeURIComponent(id)}`;
export const recallPath = (id: string) => `/records/recalls/${encodeURIComponent(id)}`;
/** Without its ending, .pdf or .csv. */
export const recallPapersPath = (id: string) => `/api/recalls/${encodeURIComponent(id)}/list`;
export const arrivalPath = (line: string) => `/arrivals/${encodeURIComponent(line)}`;
export const aidPath = (id: string) => `/bench/aids/${encodeURIComponent(id)}`;
/** The aid with its fields from an order; the end of the bike where the aid looks at one. */
export const orderAidPath = (id: string, order: string, end = '') =>
  `${aidPath(id)}?order=${encodeURIComponent(order)}${end ? `&end=${encodeURIComponent(end)}` : ''}`;
/** The wheel of an order, or any wheel. */
export const truingPath = (order = '', wheel = 'rear') =>
  order ? `/bench/truing?order=${encodeURIComponent(order)}&wheel=${wheel}` : '/bench/truing';
export const benchPath = (id: string, step = 0) =>
  `/bench/${encodeURIComponent(id)}${step > 0 ? `?step=${step}` : ''}`;
export const benchTabPath = (id: string, tab: BenchTab) => `${benchPath(id)}${tab === 'work' ? '' : `?tab=${tab}`}`;
export const benchReadingPath = (id: string, step: number, reading: string) =>
  `${benchPath(id, step)}&read=${encodeURIComponent(reading)}`;
export const historyPath = (id: string) => `/records/bike/${encodeURIComponent(id)}`;
/** Papers of a bike's record. */
export const historyPdfPath = (id: string) => `/api/bikes/${encodeURIComponent(id)}/history.pdf`;
export const ownersPackPath = (id: string) => `/api/bikes/${encodeURIComponent(id)}/owners-pack.pdf`;
export const picturePath = (hash: string) => `/api/pictures/${encodeURIComponent(hash)}`;
export const smallPicturePath = (hash: string) => `${picturePath(hash)}/small`;
export const sheetPath = (id: string) => `/bench/${encodeURIComponent(id)}/sheet`;
export const pdfPath = (id: string) => `/api/orders/${encodeURIComponent(id)}/sheet.pdf`;
/** Where labels are chosen, with orders or parts that are meant already. */
export const labelsPath = (named: { orders?: string[]; parts?: string[] } = {}) => {
  const query = new URLSearchParams();
  for (const [of, ids] of Object.entries(named)) if (ids.length > 0) query.set(of, ids.join(','));
  return query.size > 0 ? `/bench/labels?${query}` : '/bench/labels';
};
export const calendarPath = (person: string) => `/api/people/${encodeURIComponent(person)}/plan.ics`;
