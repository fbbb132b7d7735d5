import type { BarView, PlanView } from '../src/ask/ask';

/** An invented day of two people: what the tests of the wall plan look at. */
export const day = '2026-11-25';
export const local = (clock: string) => `${day}T${clock}`;
const window = (from: string, to: string) => ({ from: local(from), to: local(to) });
export const bar = (order: string, operation: string, from: string, to: string, more: Partial<BarView> = {}): BarView => ({
  order, rider: 'R', operation, name: 'work', area: 'assembly', stand: 1, from: local(from), to: local(to),
  start: local(from), end: local(to), unattended_minutes: 0, frozen: false, pinned: false, pinned_by: '', late: false, cannot: '', lends: false, others: [], ...more,
});
const person = (id: string, bars: BarView[]) =>
  ({ id, name: id, skills: ['L3'], windows: [window('09:00', '12:00'), window('13:00', '17:00')], bars });
const order = (id: string, promised: string | null) =>
  ({ order: id, rider: 'R', promised, ready: null, late: false, bound_by: '' });
export const plan: PlanView = {
  sentence: '', number: 1, agreed: null, agreed_by: '', standing: '', out_of_date: [], first_day: day, days: 1,
  now: local('09:00'), frozen_until: local('09:00'), arrivals: [],
  areas: [{ id: 'assembly', stands: 2 }, { id: 'wheel bench', stands: 1 }],
  people: [
    person('mara', [
      bar('1', 'A-20', '11:00', '12:00', { start: local('11:00'), end: local('14:00') }),
      bar('1', 'A-20', '13:00', '14:00', { start: local('11:00'), end: local('14:00') }),
      bar('1', 'A-30', '14:00', '15:00', { unattended_minutes: 90 }),
      bar('2', 'W-10', '15:00', '16:00', { area: 'wheel bench', stand: 0 }),
    ]),
    person('ole', [bar('3', 'A-20', '16:00', '17:00')]),
  ],
  orders: [order('1', day), order('2', day), order('3', '2027-03-01'), order('4', null)],
  settings: { frozen_days: 1, day_late: 100, moved: 5, kit_day: 1, last_day: 1, uneven_hour: 0.1 },
};
