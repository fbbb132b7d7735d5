import { describe, expect, it } from 'vitest';
import type { PersonPlan, PlanView } from '../src/ask/ask';
import { arrivalStacks, blocksOf, fitted, foldedMinute, minuteOf, openStretches, planScene, stackedPromises } from '../src/drawing/plan_scene';

const window = (day: string, from: string, to: string) => ({ from: `${day}T${from}`, to: `${day}T${to}` });
const bar = (order: string, from: string, to: string) => ({
  order, rider: 'R', operation: `op ${from}`, name: 'work', area: 'stand', stand: 1, from, to, start: from, end: to,
  unattended_minutes: 0, frozen: false, pinned: false, pinned_by: '', late: false, cannot: '',
});
const mara: PersonPlan = {
  id: 'mara', name: 'Mara', skills: [],
  windows: [window('2026-11-25', '09:00', '12:00'), window('2026-11-25', '13:00', '17:00'), window('2026-11-27', '09:00', '12:00')],
  bars: [bar('1', '2026-11-25T09:00', '2026-11-25T12:00'), bar('1', '2026-11-25T13:00', '2026-11-25T14:00'), bar('2', '2026-11-25T14:00', '2026-11-27T10:00')],
};
const ole: PersonPlan = { id: 'ole', name: 'Ole', skills: [], windows: [window('2026-11-25', '11:00', '15:00')], bars: [] };
const plan: PlanView = {
  sentence: '', number: 0, agreed: null, agreed_by: '', standing: '', out_of_date: [],
  first_day: '2026-11-25', days: 3, now: '2026-11-25T09:00', frozen_until: '2026-11-25T09:00',
  people: [mara, ole], areas: [{ id: 'stand', stands: 2 }], arrivals: [],
  settings: { frozen_days: 1, day_late: 100, moved: 5, kit_day: 1, last_day: 1, uneven_hour: 0.1 },
  orders: [
    { order: '1', rider: 'R', promised: '2026-11-25', ready: null, late: false, bound_by: '' },
    { order: '2', rider: 'R', promised: '2026-11-25', ready: null, late: true, bound_by: '' },
    { order: '3', rider: 'R', promised: '2027-03-01', ready: null, late: false, bound_by: '' },
  ],
};

describe('the folded paper of the plan', () => {
  it('joins the hours of all people and gives closed time no room', () => {
    const stretches = openStretches([mara, ole]);
    expect(stretches.map((s) => s.to - s.from)).toEqual([8 * 60, 3 * 60]);
    const at = (local: string) => foldedMinute(stretches, minuteOf(local));
    expect(at('2026-11-25T17:00')).toBe(8 * 60);
    expect(at('2026-11-26T12:00')).toBe(8 * 60);
    expect(at('2026-11-27T10:00')).toBe(9 * 60);
  });

  it('puts a bar that goes on after a closed day across the fold', () => {
    const scene = planScene(plan, 1);
    const blocks = blocksOf(mara, scene, false);
    expect(blocks[2]).toMatchObject({ x: 300, width: 240 });
    expect(scene.width).toBe(11 * 60);
  });

  it('joins neighbours of one bike only when nobody else works between them', () => {
    const alone = planScene({ ...plan, people: [mara] }, 1);
    expect(blocksOf(mara, alone, true).map((b) => b.order)).toEqual(['1', '2']);
    expect(blocksOf(mara, planScene(plan, 1), true).map((b) => b.order)).toEqual(['1', '1', '2']);
  });

  it('stacks promises of one day and leaves out those beyond the paper', () => {
    const flags = stackedPromises(plan.orders, planScene(plan, 1));
    expect(flags.map((f) => [f.of.order, f.level, f.x])).toEqual([['1', 0, 480], ['2', 1, 480]]);
  });

  it('cuts words that do not fit, and drops them when hardly a letter would', () => {
    expect(fitted('Lace the wheel', 200)).toBe('Lace the wheel');
    expect(fitted('Lace the wheel', 60)).toBe('Lace th…');
    expect(fitted('Lace the wheel', 15)).toBe('');
  });
  it('counts what a day cannot hold, confirmed arrivals first', () => {
    const arrivals = Array.from({ length: 9 }, (_, i) => ({ day: '2026-11-25', what: `part ${i}`, orders: [], confirmed: i === 8 }));
    const { shown, more } = arrivalStacks(arrivals, planScene(plan, 1));
    expect(shown.map((s) => s.of.what)).toEqual(['part 8', 'part 0', 'part 1', 'part 2', 'part 3']);
    expect(more).toEqual([{ x: 0, level: 5, count: 4 }]);
  });
});
