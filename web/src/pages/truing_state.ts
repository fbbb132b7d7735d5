import type { Typed } from '../ask/use_reckoned';

/** What a person has typed and ticked at the stand for one wheel; kept on this machine. */
export interface StandState {
  view: 'readings' | 'turns' | 'measures';
  lateral: string[];   // one for each place around the rim
  radial: string[];
  tensions: string[];  // one for each spoke; short or empty where none was read
  dish: string;
  earlier: string;     // passes made, as the answers wrote them
  own: Typed;          // the wheel's fields that were typed here, by key
  ticked: number[];    // spokes whose turn is made
  placed?: boolean;    // the count of places was chosen here
  before?: StandState;  // as it was before the last turns were called made, to take that back
}

export const kUsualPlaces = 16;
export const kPlaces = [8, 12, 14, 16, 18, 20, 24, 28, 32, 36];

const blank = (n: number) => Array.from({ length: n }, () => '');

export const freshState = (places = kUsualPlaces): StandState => ({
  view: 'readings', lateral: blank(places), radial: blank(places), tensions: [], dish: '', earlier: '', own: {}, ticked: [],
});

const keyOf = (order: string, wheel: string) => `rollwright truing ${order ? `${order} ${wheel}` : 'any wheel'}`;

const isTexts = (value: unknown): value is string[] =>
  Array.isArray(value) && value.every((one) => typeof one === 'string');

/** What was kept, as far as it still has the shape it needs; anything else begins anew. */
export function stateIn(text: string | null): StandState {
  if (!text) return freshState();
  try {
    const kept = JSON.parse(text) as Partial<StandState>;
    const whole = isTexts(kept.lateral) && isTexts(kept.radial) && isTexts(kept.tensions) &&
      kept.lateral.length === kept.radial.length && typeof kept.earlier === 'string' && typeof kept.dish === 'string' &&
      Array.isArray(kept.ticked) && typeof kept.own === 'object';
    return whole ? { ...freshState(), ...kept } : freshState();
  } catch {
    return freshState();
  }
}

export function keptState(order: string, wheel: string): StandState {
  try {
    return stateIn(localStorage.getItem(keyOf(order, wheel)));
  } catch {
    return freshState();  // a browser that keeps nothing
  }
}

export function keep(order: string, wheel: string, state: StandState) {
  try {
    localStorage.setItem(keyOf(order, wheel), JSON.stringify(state));
  } catch {
    // A browser that keeps nothing: the page works until it is left.
  }
}

const isRead = (text: string) => text.trim() !== '' && text.trim() !== '-' && text.trim() !== '−';
export const readCount = (texts: string[]) => texts.filter(isRead).length;
export const isComplete = (state: StandState) =>
  readCount(state.lateral) === state.lateral.length && readCount(state.radial) === state.radial.length;

/** One field of the aid: a spoke that was not read is a 0 there, and none read is nothing. */
const tensionsOf = (texts: string[]) =>
  readCount(texts) === 0 ? '' : texts.map((text) => (isRead(text) ? text.trim() : '0')).join(' ');

const plainMinus = (text: string) => text.trim().replace('−', '-').replace(',', '.');

/** The aid's fields: its wheel as given, with what stands here on top. */
export function fieldsOf(wheel: Typed, state: StandState, spokes: number): Typed {
  const tensions = state.tensions.length > 0
    ? Array.from({ length: spokes }, (_, i) => state.tensions[i] ?? '') : [];
  return {
    ...wheel, ...state.own, earlier: state.earlier,
    lateral: state.lateral.map(plainMinus).join(' '),
    radial: state.radial.map(plainMinus).join(' '),
    tensions: tensionsOf(tensions), dish: state.dish.trim() === '' ? '' : `${plainMinus(state.dish)} mm`,
  };
}

/** The next pass: readings wait for new ones, passes made are kept. */
export function turnsMade(state: StandState, earlier: string): StandState {
  const places = state.lateral.length;
  const { before: _, ...before } = state;
  return {
    ...before, before, view: 'readings', earlier, lateral: blank(places), radial: blank(places), tensions: [], dish: '', ticked: [],
  };
}

/** What was before, as long as nothing was read since; then taking back would lose readings. */
export const canTakeBack = (state: StandState) =>
  (state.before && readCount([...state.lateral, ...state.radial, ...state.tensions]) === 0 ? state.before : undefined);

/** Other places around the rim: what was read elsewhere does not count there. */
export const withPlaces = (state: StandState, places: number): StandState =>
  ({ ...state, placed: true, lateral: blank(places), radial: blank(places) });

/** Places that stand at spokes are found without measuring: 18 of a wheel of 36. */
export const usualPlaces = (spokes: number): number =>
  [kUsualPlaces, 18, 20, 14, 12].find((places) => spokes > 0 && spokes % places === 0) ?? kUsualPlaces;

/** Before anything was read or chosen, the places are those usual for this wheel. */
export function fittedTo(state: StandState, spokes: number): StandState {
  const places = usualPlaces(spokes);
  const isFresh = !state.placed && state.earlier === '' && readCount([...state.lateral, ...state.radial]) === 0;
  if (!isFresh || state.lateral.length === places) return state;
  return { ...state, lateral: blank(places), radial: blank(places) };
}

export const passNumber = (state: StandState) => (state.earlier === '' ? 1 : state.earlier.split('|').length + 1);

/** The sign goes in front or away again. */
export const otherSign = (text: string) => (text.startsWith('-') || text.startsWith('−') ? text.slice(1) : `-${text}`);

/** The spoke that stands at a place, when one does: of 32 spokes and 16 places every second. */
export const spokeAt = (index: number, places: number, spokes: number): number | undefined =>
  (index * spokes) % places === 0 ? (index * spokes) / places + 1 : undefined;
