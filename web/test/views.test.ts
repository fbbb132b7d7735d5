import { describe, expect, it } from 'vitest';
import type { OrderLine, OutlineView, PartRow } from '../src/ask/ask';
import { missingPoints, openBelt, sceneOf, stemFoot } from '../src/drawing/bike_scene';
import { placeOf, spreadLabels } from '../src/drawing/curve_scene';
import { routeOf } from '../src/frame/route';
import { fieldOf, kEmptyForm, orderOf, typedNumber } from '../src/pages/order_form';
import { ordersThatMatch, statesThatOccur } from '../src/pages/orders';
import { partsThatMatch, rowWindow, soughtParts } from '../src/pages/part_filter';
import { groupedByKind } from '../src/pages/today';

const order = (id: string, state: string, need = ''): OrderLine => ({
  id, rider: `Rider ${id}`, build: '', need, state, flags: [], verdict: 'fits', needed_by: null, promised: null, price_cents: 0, parts_here: 0, parts_needed: 0,
});

describe('addresses', () => {
  it('lead to their pages', () => {
    expect(routeOf('/')).toEqual({ page: 'today' });
    expect(routeOf('/orders/new')).toEqual({ page: 'new order' });
    expect(routeOf('/bench/2041?step=3')).toEqual({ page: 'bench sheet', id: '2041', step: 3, reading: '', tab: 'work' });
    expect(routeOf('/bench/2041?step=3&read=stem_bolts')).toMatchObject({ step: 3, reading: 'stem_bolts' });
    expect(routeOf('/bench/2041?tab=kit')).toMatchObject({ step: 0, tab: 'kit' });
    expect(routeOf('/records/bike/2041')).toEqual({ page: 'history', id: '2041' });
    expect(routeOf('/records/trace?lot_from=L1')).toEqual({ page: 'trace', query: 'lot_from=L1' });
    expect(routeOf('/parts/HB%2F1')).toEqual({ page: 'part', id: 'HB/1' });
    expect(routeOf('/bench/1/2/3/4')).toMatchObject({ page: 'nothing' });
    expect(routeOf('/bench/2041/sheet/more')).toMatchObject({ page: 'nothing' });
    expect(routeOf('/orders/%')).toMatchObject({ page: 'nothing' });
  });
});

describe('the book of orders', () => {
  const orders = [order('2', 'Draft', 'to the ridge'), order('1', 'Ready'), order('3', 'Odd')];
  it('is narrowed by every word and by state', () => {
    expect(ordersThatMatch(orders, { words: 'RIDGE 2', state: '' }).map((o) => o.id)).toEqual(['2']);
    expect(ordersThatMatch(orders, { words: 'ridge', state: 'Ready' })).toEqual([]);
  });
  it('names states in the order of a life, unknown ones last', () => {
    expect(statesThatOccur(orders, ['Draft', 'Offer', 'Ready'])).toEqual([['Draft', 1], ['Ready', 1], ['Odd', 1]]);
  });
});

describe('today', () => {
  it('keeps kinds and lines in the order given', () => {
    const line = (kind: string, sentence: string) => ({ kind, sentence, order: '', link: '', action: '' });
    const groups = groupedByKind([line('b', '1'), line('a', '2'), line('b', '3')]);
    expect(groups.map((g) => [g.kind, g.lines.map((l) => l.sentence)])).toEqual([['b', ['1', '3']], ['a', ['2']]]);
  });
});

describe('the form of a new order', () => {
  it('sends measures in mm and refuses what is no number', () => {
    expect(typedNumber('172,5', 10)).toBe(1725);
    expect(typedNumber(' ')).toBeNull();
    expect(typedNumber('tall')).toBeUndefined();
    const made = orderOf({ ...kEmptyForm, name: 'N', height: '171', mass: 'x' });
    expect(made).toHaveProperty('complaints.mass');
    expect(orderOf({ ...kEmptyForm, height: '171' })).toMatchObject({ order: { rider: { height_mm: 1710, inseam_mm: null } } });
  });
  it('sends what the rider means to spend and when somebody comes back to them', () => {
    const form = { ...kEmptyForm, name: 'N' };
    expect(orderOf(form)).toMatchObject({ order: { budget: null, follow_up: null } });
    expect(orderOf({ ...form, budget: '2499,5' })).toMatchObject({ order: { budget: { at_most_cents: 249950, nothing_said: false } } });
    expect(orderOf({ ...form, budgetNothing: true })).toMatchObject({ order: { budget: { at_most_cents: null, nothing_said: true } } });
    expect(orderOf({ ...form, budget: '2500', budgetNothing: true })).toHaveProperty('complaints.budget');
    expect(orderOf({ ...form, budget: 'not much' })).toHaveProperty('complaints.budget');
    expect(orderOf({ ...form, followUp: '2026-12-08', followUpAbout: ' calls ' }))
      .toMatchObject({ order: { follow_up: { day: '2026-12-08', about: 'calls' } } });
    expect(orderOf({ ...form, followUpAbout: 'calls' })).toHaveProperty('complaints.followUp');
  });
  it('puts a refusal beside the field it is about', () => {
    const about = (field: string) => fieldOf({ code: 'bad input', sentence: '', file: '', line: 0, field, value: '' });
    expect(about('rider.height_mm')).toBe('height');
    expect(about('height')).toBe('height');
    expect(about('budget.at_most_cents')).toBe('budget');
    expect(about('follow_up.day')).toBe('followUp');
    expect(about('')).toBeUndefined();
    expect(about('choices')).toBeUndefined();
  });
});

describe('a catalogue of thousands', () => {
  const row = (id: string, not_known: number): PartRow => ({
    part: { id, name: `Hub ${id}`, maker: 'M', kind: 'K', price_cents: 0, mass_kg: null }, kind_name: 'hub', on_shelf: 0, put_by: 0, under_way: 0, known: 0, measured: 0, not_known, gone: false,
  });
  it('draws only the rows that can be seen', () => {
    const window = rowWindow(5000, 58, 58 * 1000, 900);
    expect(window.last - window.first).toBeLessThan(40);
    expect(window.before + (window.last - window.first) * 58 + window.after).toBe(5000 * 58);
    expect(rowWindow(0, 58, 4000, 900)).toEqual({ first: 0, last: 0, before: 0, after: 0 });
    expect(rowWindow(3, 58, 99999, 900)).toMatchObject({ first: 3, last: 3, after: 0 });
  });
  it('is narrowed by words, kind and what is not known', () => {
    const parts = soughtParts([row('A', 0), row('B', 2)]);
    expect(partsThatMatch(parts, { words: 'hub', kind: '', unknownOnly: true }).map((r) => r.part.id)).toEqual(['B']);
    expect(partsThatMatch(parts, { words: '', kind: 'other', unknownOnly: false })).toEqual([]);
  });
});

describe('the drawing', () => {
  const outline: OutlineView = {
    drawn: true, why_not: '', labels: {}, clash: [],
    points: {
      bottom_bracket: { x: 0, y: 0 }, rear_axle: { x: -480, y: 68 }, front_axle: { x: 662, y: 68 }, head_tube_top: { x: 392, y: 622 },
      head_tube_bottom: { x: 445, y: 476 }, seat_cluster: { x: -146, y: 478 }, saddle: { x: -209, y: 690 }, bar: { x: 424, y: 712 },
    },
    lengths: { rear_tyre_radius: 358, front_tyre_radius: 358, ground: -290 },
  };
  const none = { left: 0, right: 0, top: 0, bottom: 0 };
  it('has one scale in both directions', () => {
    const scene = sceneOf(outline, new Set(), 929, none);
    const [rear, front, bracket] = ['rear_axle', 'front_axle', 'bottom_bracket'].map((n) => scene.at(n));
    expect(scene.scale).toBeCloseTo(929 / (480 + 662 + 716), 9);
    expect((front?.x ?? 0) - (rear?.x ?? 0)).toBeCloseTo(1142 * scene.scale, 6);
    expect(scene.ground - (bracket?.y ?? 0)).toBeCloseTo(290 * scene.scale, 6);
  });
  it('says which places it lacks', () => {
    expect(missingPoints({ ...outline, points: {} })).toContain('rear_axle');
    expect(missingPoints(outline)).toEqual([]);
  });
  it('meets the steering axis square to the stem', () => {
    const foot = stemFoot({ x: 0, y: 100 }, { x: 0, y: 0 }, { x: 60, y: -40 });
    expect(foot).toEqual({ x: 0, y: -40 });
  });
  it('draws no belt when one circle lies in the other', () => {
    expect(openBelt({ x: 0, y: 0 }, 50, { x: 10, y: 0 }, 10)).toBe('');
    expect(openBelt({ x: 0, y: 0 }, 10, { x: 100, y: 0 }, 10)).toContain('M0 10L100 10');
  });
});

describe('the curve of the promise', () => {
  it('places a Sunday between Friday and Monday', () => {
    expect(placeOf('2026-12-06', ['2026-12-04', '2026-12-07'])).toBeCloseTo(2 / 3, 9);
    expect(placeOf('2026-12-01', ['2026-12-04', '2026-12-07'])).toBe(0);
    expect(placeOf('2027-01-01', ['2026-12-04', '2026-12-07'])).toBe(1);
  });
  it('keeps labels apart', () => {
    expect(spreadLabels([100, 60, 52, 48], 15)).toEqual([100, 60, 45, 30]);
  });
});
