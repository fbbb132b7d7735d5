import { describe, expect, it } from 'vitest';
import type { ChoiceView, CompletionView, OrderView, OutlineView } from '../src/ask/ask';
import { keepSame } from '../src/ask/keep_same';
import { type Scene, sceneOf } from '../src/drawing/bike_scene';
import { clashSpot, placeMarks } from '../src/drawing/clash_places';
import { nameOfBike, roundStep, tradeOffScene } from '../src/drawing/trade_off_scene';
import {
  choicesThatMatch, rowAfterKey, rowAt, rowsInSight, rowTops, sortedChoices, soughtChoices,
  startsSearch, topToShow,
} from '../src/pages/choice_list';
import { canBeTakenBack, choicesOf, stepTo } from '../src/pages/choosing';
import { touchesOf } from '../src/pages/clashes';
import { countInWords } from '../src/words/count';
import { say } from '../src/words/say';

const tidy = (text: string) => text.replace(/[\u00a0\u202f]/g, ' ');

const part = (id: string, name = id, maker = 'Nordal') =>
  ({ id, name, maker, kind: 'K-HG', price_cents: 100, mass_kg: null });

const choice = (id: string, status: string, more: Partial<ChoiceView> = {}): ChoiceView => ({
  part: part(id), status, chosen: false, note: '', touches: [], price_difference_cents: null,
  mass_difference_kg: null, ready_difference_days: null, proven: true, here: '', ...more,
});

const ids = (choices: ChoiceView[]) => choices.map((one) => one.part.id).join(' ');

describe('the parts of an opened position', () => {
  const choices = [
    choice('shut', 'closed'),
    choice('dear', 'open', { price_difference_cents: 900, ready_difference_days: -9 }),
    choice('care', 'open with care', { price_difference_cents: -500, mass_difference_kg: 0.2 }),
    choice('cheap', 'open', { price_difference_cents: 0, mass_difference_kg: -0.24 }),
    choice('unsure', 'not known', { price_difference_cents: -900 }),
    choice('unproven', 'not proven'),
  ];
  it('stand with what is open first, whatever they are sorted by', () => {
    expect(ids(sortedChoices(choices, 'fit'))).toBe('cheap dear care unsure unproven shut');
    expect(ids(sortedChoices(choices, 'price'))).toBe('care cheap dear unsure unproven shut');
    expect(ids(sortedChoices(choices, 'mass'))).toBe('cheap care dear unsure unproven shut');
    expect(ids(sortedChoices(choices, 'day'))).toBe('dear care cheap unsure unproven shut');
  });
  it('are found by every word of name, maker, number, status and place', () => {
    const sought = soughtChoices([
      { ...choices[3]!, part: part('HG-7', 'Hub gear, 8 speeds', 'Tarnholt'), here: 'in store' },
      ...choices,
    ]);
    const found = (typed: string) => ids(choicesThatMatch(sought, typed));
    expect(found('HUB tarn')).toBe('HG-7');
    expect(found('hg-7 open')).toBe('HG-7');
    expect(found('in store')).toBe('HG-7');
    expect(found('closed')).toBe('shut');
    expect(found('hub closed')).toBe('');
    expect(found('  ')).toBe(`HG-7 ${ids(choices)}`);
  });
});

describe('a list of which only a piece is drawn', () => {
  const tops = rowTops([40, 80, 40, 40]);
  const sight = { top: 0, height: 100 };
  it('knows the row at every height, also between unequal rows', () => {
    expect(tops).toEqual([0, 40, 120, 160, 200]);
    expect([0, 39, 40, 119, 120, 500].map((y) => rowAt(tops, y))).toEqual([0, 0, 1, 1, 2, 3]);
    expect(rowAt([0], 10)).toBe(0);
  });
  it('scrolls only as far as a row needs', () => {
    expect(topToShow(tops, 1, sight)).toBe(20);
    expect(topToShow(tops, 0, { top: 30, height: 100 })).toBe(0);
    expect(topToShow(tops, 2, { top: 80, height: 100 })).toBe(80);
  });
  it('goes where the keys lead, and no further than its ends', () => {
    const to = (key: string, now: number) => rowAfterKey(key, now, tops, sight);
    expect([to('ArrowDown', 0), to('ArrowDown', 3), to('ArrowUp', 0)]).toEqual([1, 3, 0]);
    expect([to('Home', 2), to('End', 0)]).toEqual([0, 3]);
    expect([to('PageDown', 0), to('PageUp', 3), to('PageDown', 3)]).toEqual([1, 1, 3]);
    expect(to('a', 0)).toBeUndefined();
    expect(rowAfterKey('End', 0, [0], sight)).toBeUndefined();
  });
  it('draws a few of thousands', () => {
    const many = rowTops(Array.from({ length: 5000 }, () => 50));
    const [from, past] = rowsInSight(many, { top: 100_000, height: 500 });
    expect([from, past]).toEqual([1994, 2017]);
  });
  it('takes writing for a search, but neither commands nor the keys that choose', () => {
    const key = (name: string, more = {}) => startsSearch({ key: name, ...more } as KeyboardEvent);
    expect([key('h'), key('ä'), key('8')]).toEqual([true, true, true]);
    expect([key('Enter'), key(' '), key('/'), key('Tab')]).toEqual([false, false, false, false]);
    expect(key('c', { ctrlKey: true })).toBe(false);
  });
});

describe('a newer answer', () => {
  it('keeps every piece that is as it was', () => {
    const older = { slots: [{ a: 1 }, { a: 2 }], verdict: 'fits' };
    const newer = keepSame(older, { slots: [{ a: 1 }, { a: 3 }], verdict: 'fits' });
    expect(newer).toEqual({ slots: [{ a: 1 }, { a: 3 }], verdict: 'fits' });
    expect(newer.slots[0]).toBe(older.slots[0]);
    expect(newer.slots[1]).not.toBe(older.slots[1]);
    expect(keepSame(older, structuredClone(older))).toBe(older);
  });
  it('drops what is gone and takes what is new', () => {
    expect(keepSame([1, 2, 3], [1, 2])).toEqual([1, 2]);
    expect(keepSame({ a: 1, b: 2 }, { a: 1 })).toEqual({ a: 1 });
    expect(keepSame<unknown>({ a: undefined }, { b: undefined })).toEqual({ b: undefined });
    expect(keepSame<unknown>(null, { a: 1 })).toEqual({ a: 1 });
    expect(keepSame<unknown>({ a: [] }, { a: {} })).toEqual({ a: {} });
  });
});

describe('one step of choosing', () => {
  const view = (hub: string | null, rim: string | null) => ({
    spec: { slots: [
      { slot: 'hub', part: hub && part(hub) }, { slot: 'rim', part: rim && part(rim) },
    ] },
  }) as OrderView;
  it('can be taken back as long as nothing else touched it', () => {
    const step = stepTo(view('a', null), { hub: 'b', rim: 'r' });
    expect(step.before).toEqual({ hub: 'a', rim: null });
    expect(canBeTakenBack(view('b', 'r'), step)).toBe(true);
    expect(canBeTakenBack(view('b', 'other'), step)).toBe(false);
    expect(canBeTakenBack(view('a', null), stepTo(view('a', null), { hub: 'a' }))).toBe(false);
  });
  it('empties where a repair says no part', () => {
    const change = { slot: 'hub', slot_name: '', from: 'a', from_name: '', to: '', to_name: '' };
    const changes = [change, { ...change, slot: 'rim', to: 'x' }];
    expect(choicesOf({ changes })).toEqual({ hub: null, rim: 'x' });
  });
});

/** A bike with made-up measures: only the order of its points matters here. */
const outline: OutlineView = {
  drawn: true, why_not: '', labels: {}, clash: [],
  lengths: { rear_tyre_radius: 350, front_tyre_radius: 350, rear_rim_radius: 311 },
  points: {
    rear_axle: { x: -450, y: 70 }, front_axle: { x: 650, y: 70 }, bottom_bracket: { x: 0, y: 0 },
    head_tube_top: { x: 390, y: 620 }, head_tube_bottom: { x: 430, y: 470 },
    seat_cluster: { x: -150, y: 500 }, saddle: { x: -220, y: 720 }, bar: { x: 440, y: 700 },
  },
};
const scene: Scene = sceneOf(
  outline, new Set(), 800, { left: 0, right: 0, top: 0, bottom: 0 });

describe('marks on the drawing', () => {
  it('stand where the parts are', () => {
    const spot = (slot: string) => clashSpot(slot, scene) ?? { x: NaN, y: NaN };
    expect(spot('rear_hub')).toEqual(scene.at('rear_axle'));
    expect(spot('cassette')).toEqual(scene.at('rear_axle'));
    expect(spot('front_brake')).toEqual(scene.at('front_axle'));
    expect(spot('rear_rim').y).toBeLessThan(spot('rear_hub').y);
    expect(spot('frame').x).toBeGreaterThan(spot('chainring').x);
    expect(clashSpot('no_such_slot', scene)).toBeUndefined();
  });
  it('are one for each place, with the worst that meets there', () => {
    const marks = placeMarks(scene, [
      { verdict: 'fits with care', slots: ['rear_hub', 'frame'], sentence: 'One.' },
      { verdict: 'does not fit', slots: ['rear_sprocket', 'nowhere'], sentence: 'Two.' },
    ]);
    expect(marks.map(({ verdict, slots, sentences }) => [verdict, slots, sentences])).toEqual([
      ['does not fit', ['rear_hub', 'rear_sprocket'], ['One.', 'Two.']],
      ['fits with care', ['frame'], ['One.']],
    ]);
  });
  it('have no place for what is about the whole bike', () => {
    const slots = Array.from({ length: 40 }, (_, i) => `front_${i}`);
    const heavy = { verdict: 'does not fit', sentence: 'Too heavy.', slots };
    expect(placeMarks(scene, [heavy])).toEqual([]);
    const closed = choice('x', 'closed', { note: 'Too heavy.', touches: slots });
    expect(touchesOf(closed, 'rear_hub').map((touch) => touch.slots)).toEqual([['rear_hub']]);
  });
  it('tell of a closed part what it meets, more of it once "why not?" is answered', () => {
    const closed = choice('x', 'closed', { note: 'Holes differ.', touches: ['rim', 'hub'] });
    expect(touchesOf(closed, 'hub')).toEqual(
      [{ verdict: 'does not fit', sentence: 'Holes differ.', slots: ['hub', 'rim'] }]);
    const rule = { rule: 'C-1', severity: 'FIT', verdict: '', source: '', sentence: 'So.' };
    const clash = { order: '', slot: 'hub', part: 'x', choices: [], opens: [],
      rules: [{ ...rule, slots: ['rim'] }] };
    expect(touchesOf(closed, 'hub', clash)).toEqual(
      [{ verdict: 'does not fit', sentence: 'So.', slots: ['hub', 'rim'] }]);
    expect(touchesOf(choice('y', 'open'), 'hub')).toEqual([]);
  });
});

const bike = (price_cents: number, mass_kg: number): CompletionView => ({
  aim: 'between', sentence: '', price_cents, mass_kg, masses_not_known: 0, ready: null,
  verdict: 'fits', proven: true, fills: [],
});

describe('trade-offs to scale', () => {
  it('put price across and mass up, at equal scale along each axis', () => {
    const drawn = tradeOffScene([bike(300000, 24), bike(350000, 22), bike(400000, 20)], 700);
    const [a, b, c] = drawn.spots;
    expect(b!.x - a!.x).toBeCloseTo(c!.x - b!.x, 6);
    expect(b!.y - a!.y).toBeCloseTo(c!.y - b!.y, 6);
    expect(c!.x).toBeGreaterThan(a!.x);
    expect(c!.y).toBeGreaterThan(a!.y);  // lighter is lower on the paper
    for (const tick of drawn.prices) expect(tick.value % 20000).toBe(0);
  });
  it('stay on the paper also for a single bike', () => {
    const drawn = tradeOffScene([bike(300000, 24)], 320);
    const { x, y } = drawn.spots[0]!;
    expect(x > drawn.left && x < drawn.right && y > drawn.top && y < drawn.bottom).toBe(true);
  });
  it('keep the words of neighbours apart', () => {
    const near = [bike(300000, 24), bike(300500, 23.99), bike(301000, 23.98), bike(400000, 20)];
    const { labels } = tradeOffScene(near, 700);
    for (const [i, one] of labels.entries()) {
      for (const other of labels.slice(i + 1)) {
        expect(Math.abs(one.x - other.x) >= 80 || Math.abs(one.y - other.y) >= 19).toBe(true);
      }
    }
  });
  it('step in 1, 2 or 5 with noughts', () => {
    expect([roundStep(1000, 5), roundStep(90, 5), roundStep(11, 5)]).toEqual([200, 20, 5]);
    expect([roundStep(0.4, 4), nameOfBike(2)]).toEqual([0.1, 'c']);
  });
});

describe('words of the editor', () => {
  it('say how many bikes there still are', () => {
    expect(['0', '12480', '999999'].map((n) => tidy(countInWords(n))))
      .toEqual(['0', '12 480', '999 999']);
    expect(tidy(countInWords('41234567'))).toBe('41 million');
    expect(tidy(countInWords('2134567'))).toBe('2.1 million');
    expect(tidy(countInWords('2000000'))).toBe('2 million');
    expect(tidy(countInWords('999900000'))).toBe('1 billion');
    expect(tidy(countInWords('3212345678901234'))).toBe('3.2 × 10¹⁵');
    expect(tidy(countInWords('9999999999999999'))).toBe('1.0 × 10¹⁶');
    expect(say.editor.bikes('41 million', '2.1 million', false)).toBe(
      'At most 41 million bikes can still be built, 2.1 million of them with every fact known.');
  });
  it('say days as sooner and later', () => {
    expect([say.editor.days(-9), say.editor.days(1), say.editor.days(0)])
      .toEqual(['9 days sooner', '1 day later', 'same day']);
  });
});
