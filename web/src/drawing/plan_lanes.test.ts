import { describe, expect, it } from 'vitest';
import { bar, day, local, plan } from '../../test/plan_example';
import { axisOf, minuteOf } from './plan_axis';
import { isOn, lanesOf, levelsOf, openOf, rowAt, rowsOf, runsOf, stretchesOf } from './plan_lanes';
import { arrivalStacks, fitted, levelCount, stackedPromises } from './plan_marks';
import { chainOf, minutesOf, movedAgainst, worksOf } from './plan_work';

const works = worksOf(plan);

describe('work on the wall', () => {
  it('puts the pieces of an operation together again, a break left out', () => {
    expect(works.map((w) => [w.key, w.pieces.length, minutesOf(w)])).toEqual([
      ['1 A-20', 2, 120], ['1 A-30', 1, 60], ['2 W-10', 1, 60], ['3 A-20', 1, 60],
    ]);
  });
  it('is told once where somebody lends a hand, and takes their time in their lane', () => {
    const [mara, ole] = plan.people;
    if (!mara || !ole) throw new Error('two people');
    const lift = { others: ['ole'] };
    const together = worksOf({ ...plan, people: [
      { ...mara, bars: [bar('5', 'P-40', '09:00', '09:10', lift)] },
      { ...ole, bars: [bar('5', 'P-40', '09:00', '09:10', { lends: true, others: ['mara'] }), ...ole.bars] },
    ] });
    expect(together.map((w) => [w.key, w.person, w.pieces.length, w.lending])).toEqual([
      ['5 P-40', 'mara', 1, ['ole']], ['3 A-20', 'ole', 1, []],
    ]);
    const lent = (by: 'people' | 'stands') => rowsOf(lanesOf(plan, together, by), together, 0, { lane: 60, level: 44 })
      .map((row) => row.lent.map((w) => w.key));
    expect(lent('people')).toEqual([[], ['5 P-40']]);
    expect(lent('stands').flat()).toEqual([]);
  });
  it('knows the chain of a bike', () => {
    expect(chainOf(works, '1').map((w) => w.operation)).toEqual(['A-20', 'A-30']);
  });
  it('finds what stands elsewhere than before, and what is new', () => {
    const later = works.map((w) => (w.key === '1 A-30' ? { ...w, start: w.start + 15 } : w));
    expect([...movedAgainst(later, works.slice(0, 3))]).toEqual(['1 A-30', '3 A-20']);
  });
});

describe('a run of work', () => {
  it('covers the paper from break to break, not over it', () => {
    const piece = (from: number, to: number) => ({ from, to });
    const run = { works: [{ ...works[0]!, pieces: [piece(0, 30), piece(90, 120)] }, { ...works[1]!, pieces: [piece(120, 130)] }], from: 0, to: 130, level: 0 };
    expect(stretchesOf(run)).toEqual([piece(0, 30), piece(90, 130)]);
  });
});

describe('lanes', () => {
  it('are people, or the stands of each area and what changes stands', () => {
    expect(lanesOf(plan, works, 'people').map((l) => l.key)).toEqual(['mara', 'ole']);
    expect(lanesOf(plan, works, 'stands').map((l) => l.key))
      .toEqual(['assembly 1', 'assembly 2', 'wheel bench 1', 'wheel bench 0']);
  });
  it('hold every piece of work exactly once, whichever they are', () => {
    for (const by of ['people', 'stands'] as const) {
      const lanes = lanesOf(plan, works, by);
      for (const work of works) expect(lanes.filter((lane) => isOn(lane, work))).toHaveLength(1);
    }
  });
  it('join everybody’s hours for the stands', () => {
    expect(openOf(plan).map((s) => s.to - s.from)).toEqual([180, 240]);
  });
  it('stack what overlaps, and only that', () => {
    const levels = levelsOf(works);
    expect(levels.map((l) => l.level)).toEqual([0, 0, 0, 0]);
    const twice = levelsOf([...works.slice(0, 2), ...works.slice(1, 2)]);
    expect(twice.map((l) => l.level)).toEqual([0, 0, 1]);
  });
  it('are as high as their work stands on itself; setting glue takes no stand', () => {
    const rows = rowsOf(lanesOf(plan, works, 'stands'), works, 100, { lane: 60, level: 44 });
    expect(rows[0]?.works.map((l) => [l.work.key, l.level])).toEqual([['1 A-20', 0], ['1 A-30', 0], ['3 A-20', 0]]);
    const twice = rowsOf(lanesOf(plan, works, 'stands'), [...works, ...works.slice(3)], 100, { lane: 60, level: 44 });
    expect(twice.map((r) => [r.y, r.height])).toEqual([[100, 104], [204, 60], [264, 60], [324, 60]]);
    expect(rowsOf(lanesOf(plan, works, 'people'), works, 0, { lane: 60, level: 44 }).map((r) => r.height)).toEqual([60, 60]);
  });
  it('are found by height, the nearest one above and below', () => {
    const rows = rowsOf(lanesOf(plan, works, 'people'), works, 100, { lane: 60, level: 44 });
    expect([0, 100, 159, 160, 999].map((y) => rowAt(rows, y)?.lane.key)).toEqual(['mara', 'mara', 'mara', 'ole', 'ole']);
  });
  it('write the number of a bike once for what follows without a gap', () => {
    const [mara] = rowsOf(lanesOf(plan, works, 'people'), works, 0, { lane: 60, level: 44 });
    expect(runsOf(mara?.works ?? []).map((run) => run.works.map((w) => w.key))).toEqual([['1 A-20', '1 A-30'], ['2 W-10']]);
  });
});

describe('marks over the lanes', () => {
  const axis = axisOf(openOf(plan), 1);
  it('stack promises of one day and leave out those beyond the paper', () => {
    const flags = stackedPromises(plan.orders, axis, (o) => o.order);
    expect(flags.map((f) => [f.of.order, f.level, f.x])).toEqual([['1', 0, 480], ['2', 1, 480]]);
    expect(minuteOf(local('17:00')) - minuteOf(local('09:00'))).toBe(480);
  });
  it('count what a day cannot hold, confirmed arrivals first', () => {
    const arrivals = Array.from({ length: 9 }, (_, i) => ({ day, what: `part ${i}`, orders: [], confirmed: i === 8 }));
    const { shown, more } = arrivalStacks(arrivals, axis);
    expect(shown.map((s) => s.of.what)).toEqual(['part 8', 'part 0', 'part 1']);
    expect(more.map((m) => m.count)).toEqual([6]);
    expect(levelCount([...shown, ...more])).toBe(4);
  });
  it('cut words that do not fit, and drop them when hardly a letter would', () => {
    expect(fitted('Lace the wheel', 200)).toBe('Lace the wheel');
    expect(fitted('Lace the wheel', 60)).toBe('Lace th…');
    expect(fitted('Lace the wheel', 15)).toBe('');
  });
});
