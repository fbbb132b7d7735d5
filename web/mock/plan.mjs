// An invented plan, buying list and bench sheet.
import { addDays, orders, partsOf, slots, today } from './book.mjs';

const hours = [['08:30', '12:30'], ['13:15', '17:45']];
const isOpen = (day) => ![0, 1].includes(new Date(`${day}T00:00:00Z`).getUTCDay());
const openDays = (n) => {
  const days = [];
  for (let day = today; days.length < n; day = addDays(day, 1)) if (isOpen(day)) days.push(day);
  return days;
};
const toMinutes = (clock) => Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3));
const toClock = (minutes) => `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;

const work = [
  ['W-20', 'Lace and tension the rear wheel', 'wheel bench', 95], ['W-21', 'Lace and tension the front wheel', 'wheel bench', 80],
  ['G-30', 'Face and ream the frame', 'frame bench', 50], ['R-10', 'Hoses and wires through the frame', 'stand', 70],
  ['S-20', 'Headset, fork, steering', 'stand', 45], ['E-10', 'Motor and battery mount', 'stand', 60], ['B-30', 'Bleed both brakes', 'stand', 65],
  ['D-10', 'Belt, sprockets, tension', 'stand', 40], ['T-60', 'Check ride and second signature', 'yard', 35],
];

export function planView() {
  const days = openDays(9);
  const queue = [];
  for (const [id, from] of [['2042', 3], ['2043', 8], ['2044', 0], ['2041', 0], ['2038', 0], ['2046', 0]]) {
    for (const [op, name, area, minutes] of work.slice(from)) queue.push({ order: id, operation: op, name, area, minutes });
  }
  const people = [['mara', 'Mara', ['L3', 'LE']], ['ole', 'Ole', ['WB', 'L2']], ['sun', 'Sun-hi', ['L2', 'LE']]].map(([id, name, skills]) => ({
    id, name, skills,
    windows: days.filter((d, i) => !(id === 'sun' && i % 3 === 1)).flatMap((d) => hours.map(([a, b]) => ({ from: `${d}T${a}`, to: `${d}T${b}` }))),
    bars: [],
  }));
  const cursor = people.map(() => ({ window: 0, minute: 0 }));
  queue.forEach((task, i) => {
    let who = i % 3; let least = Infinity;
    people.forEach((p, j) => { const at = cursor[j].window * 1000 + cursor[j].minute; if (at < least) { least = at; who = j; } });
    const person = people[who]; const at = cursor[who];
    let left = task.minutes; let start; let end;
    while (left > 0 && at.window < person.windows.length) {
      const window = person.windows[at.window];
      const day = window.from.slice(0, 10); const open = toMinutes(window.from.slice(11)); const close = toMinutes(window.to.slice(11));
      const take = Math.min(left, close - open - at.minute);
      if (take > 0) { start ??= `${day}T${toClock(open + at.minute)}`; at.minute += take; left -= take; end = `${day}T${toClock(open + at.minute)}`; }
      if (open + at.minute >= close) { at.window += 1; at.minute = 0; }
    }
    if (left > 0 || !start) return;
    person.bars.push({ order: task.order, rider: orders.get(task.order).rider, operation: task.operation, name: task.name, area: task.area, from: start, to: end, frozen: start < `${days[1]}T12:30`, late: task.order === '2042' });
    if (i % 5 === 4) at.minute += 10;
  });
  return {
    sentence: 'Five of six promises hold. 2042 Tomas Reinvald comes one working day late unless the battery comes by air.',
    first_day: days[0], days: 14, now: `${today}T10:05`, frozen_until: `${days[1]}T12:30`, people,
    arrivals: [
      { day: days[0], what: 'Frame L-3, size M', orders: ['2046'], confirmed: true }, { day: days[1], what: 'Battery 625 Wh', orders: ['2042'], confirmed: false },
      { day: days[1], what: 'Tyres 47-622, six', orders: ['2041', '2044', '2038'], confirmed: true }, { day: days[4], what: 'Charge port cover', orders: ['2041'], confirmed: false },
      { day: '2026-12-09', what: 'Hub gear, 8 speeds, two', orders: ['2041', '2038'], confirmed: true },
    ],
    orders: [
      { order: '2043', rider: 'Maren Okafor', promised: '2026-11-27', ready: '2026-11-26', late: false, bound_by: 'the second signature' },
      { order: '2044', rider: 'Piet Sandøy', promised: '2026-12-02', ready: '2026-12-01', late: false, bound_by: 'the wheel bench' },
      { order: '2042', rider: 'Tomas Reinvald', promised: '2026-12-04', ready: '2026-12-05', late: true, bound_by: 'the battery, two days late' },
      { order: '2041', rider: 'Ines Albrecht', promised: '2026-12-18', ready: '2026-12-16', late: false, bound_by: 'the rear hub' },
      { order: '2038', rider: 'Jonas Petri', promised: '2026-12-11', ready: null, late: false, bound_by: 'held by the rider' },
    ],
  };
}

export const buyView = () => ({
  sentence: 'Order from Nordal before 14:00 today: one part is already late for 2041. The rest can wait until Friday.',
  groups: [
    { supplier: 'nordal', name: 'Nordal', cut_off: '14:00', goods_cents: 36240, freight_cents: 890, surcharge_cents: 0, note: '38 € more and freight is free.',
      lines: [
        { part: partsOf('battery')[0].part.id, name: 'Charge port cover', quantity: 1, orders: ['2041'], order_by: today, needed_by: '2026-12-01', too_late: true, unit_cost_cents: 1240, total_cents: 1240, lead_days_50: 4, lead_days_90: 7, basis: '41 receipts, last 18 November' },
        { part: partsOf('belt')[0].part.id, name: 'Belt 118 teeth, 11 mm', quantity: 4, orders: ['2041', '2038', '2046'], order_by: '2026-11-27', needed_by: '2026-12-10', too_late: false, unit_cost_cents: 8750, total_cents: 35000, lead_days_50: 4, lead_days_90: 7, basis: '41 receipts, last 18 November' },
      ] },
    { supplier: 'harrow', name: 'Harrow Lane', cut_off: '11:30', goods_cents: 4320, freight_cents: 650, surcharge_cents: 500, note: 'Below their least order of 50 €: 5 € are added.',
      lines: [{ part: partsOf('spokes')[0].part.id, name: 'Spokes 2.0-1.8-2.0, 262 mm', quantity: 72, orders: ['2038'], order_by: '2026-11-27', needed_by: '2026-12-08', too_late: false, unit_cost_cents: 60, total_cents: 4320, lead_days_50: 5, lead_days_90: 9, basis: '6 receipts, shrunk to spokes of all suppliers' }] },
  ],
  no_offer: ['Leather grips 130 mm'],
});

const limit = (least, most, source) => ({ least, most, source });
const none = limit(null, null, '');
const value = (reading, name, dimension, unit, target, limits, how, more = {}) => ({ reading, name, dimension, unit, pass_or_fail: false, stop: false, target, strictest: limits[0] ?? none, limits, how, count: 1, ...more });

export function sheetOf(order) {
  const step = (number, operation, name, area, skill, low, high, steps, more = {}) => ({
    number, operation, name, area, skill, minutes_low: low, minutes_high: high, after: number > 1 ? ['W-20'] : [], second_person: false, unattended_minutes: 0, steps, tools: [], consumables: [], cautions: [], values: [], done: false, ...more,
  });
  const steps = [
    step(1, 'W-20', 'Lace the rear wheel', 'wheel bench', 'WB', 25, 40, 'Two crosses on both sides. Heads out on the leading spokes. Every nipple to the last visible thread before the first round of tension.', { tools: ['nipple driver', 'lacing tray'], consumables: ['linseed oil'], done: true, values: [value('r1', 'spokes counted', 'plain number', '', 36, [limit(36, 36, 'rim and hub')], 'Holes of hub and rim.')] }),
    step(2, 'W-31', 'Tension and true the rear wheel', 'wheel bench', 'WB', 35, 60, 'Bring tension up in rounds of half a turn. Relieve the spokes after each round. Finish on the drive side.', {
      tools: ['truing stand', 'tension meter', 'nipple wrench 3.4'], consumables: ['oil for nipple seats'], cautions: ['Wear eye protection: a spoke that breaks under tension flies.', 'Never above the rim maker’s printed limit.'],
      values: [
        value('w1', 'tension, drive side', 'force', 'N', 1150, [limit(1050, 1200, 'rim maker, printed on the rim'), limit(null, 1300, 'hub maker’s sheet')], 'Rim limit 1200 N less the scatter of this meter.', { stop: true, count: 18 }),
        value('w2', 'run-out, sideways', 'length', 'mm', 0.2, [limit(null, 0.5, 'house'), limit(null, 1, 'ISO 4210-2')], 'House value for discs.', { count: 2 }),
        value('w3', 'dish', 'length', 'mm', 0, [limit(-0.5, 0.5, 'house')], 'Middle between the locknuts.'),
      ] }),
    step(3, 'G-40', 'Dry-fit doubtful joints', 'frame bench', 'L3', 11, 20, 'Headset cups, bottom bracket shell, seatpost: try each by hand before anything is pressed or cut.', { tools: ['caliper'] }),
    step(4, 'S-20', 'Headset, fork and stem', 'stand', 'L2', 30, 45, 'Press the cups one at a time. Preload until the play is gone and the bars still fall by themselves. Then the stem bolts, by turns.', {
      tools: ['cup press', 'torque wrench 2–20 N·m'], consumables: ['grease'], cautions: ['A stem that turns in use throws the rider: the value printed on the stem comes first.'],
      values: [value('s1', 'stem at the steerer', 'torque', 'N·m', 5, [limit(5, 6, 'printed on the stem'), limit(null, 8, 'steerer maker')], 'Bolt M5, 8.8; the stem is the weakest part of the joint.', { stop: true, count: 2 }), value('s2', 'play in the headset', '', '', null, [], '', { pass_or_fail: true, stop: true })] }),
    step(5, 'B-30', 'Bleed both brakes', 'stand', 'L2', 40, 65, 'Rear first. No bubbles for ten strokes. Fluid of the maker only.', { second_person: false, unattended_minutes: 15, tools: ['bleed kit'], consumables: ['brake fluid as printed on the lever'], cautions: ['Fluid on a pad or rotor: throw the pad away, clean the rotor.'], values: [value('b1', 'lever to bar at full pull', 'length', 'mm', 25, [limit(20, null, 'brake maker')], '', { stop: true, count: 2 })] }),
    step(6, 'T-12', 'Tyres and pressure', 'stand', 'L1', 10, 15, 'Direction arrows forward. Bead seated all round, line even.', { tools: ['pump with gauge'], values: [value('t1', 'pressure, rear', 'pressure', 'bar', 3.2, [limit(2.5, 4, 'rim maker'), limit(2, 5, 'tyre, printed on the wall')], 'Load 92 kg on the rear wheel, 47 mm tyre.'), value('t2', 'pressure, front', 'pressure', 'bar', 2.7, [limit(2.5, 4, 'rim maker')], 'Load 55 kg on the front wheel.')] }),
    step(7, 'T-60', 'Check ride and second signature', 'yard', 'L3', 25, 35, 'Brakes bedded in with twenty stops. Every gear. Lights. Motor cuts off at 25 km/h.', { second_person: true, cautions: ['Not by anyone who built this bike.'] }),
  ];
  return {
    order: order.id, rider: order.rider, need: order.need, build: 'e-bike, belt and hub gear, mid-motor, built here', frame: 'Low-step frame L-3, size M, slate',
    parts: slots.filter(({ slot }) => order.choices[slot]).map(({ slot, name, quantity }) => ({ slot: name, part: order.choices[slot], name: partsOf(slot)[0].part.name, quantity, has_serial: ['frame', 'battery', 'motor'].includes(slot) })),
    steps,
    checks: [{ id: 'K-01', list: 'before the ride', text: 'Both wheels seated, axles at their torque', limit: 'as printed', mark: 'S' }, { id: 'K-02', list: 'before the ride', text: 'Brakes hold the bike with 60 kg on a 15 % ramp', limit: 'no creep in 10 s', mark: 'S' }, { id: 'K-03', list: 'hand over', text: 'Rider knows both brakes and the light switch', limit: '', mark: 'N' }],
    minutes_low: 176, minutes_high: 280, longest_chain_low: 120, longest_chain_high: 190,
    open_questions: ['The belt’s tension range: the hub maker’s sheet is not in the book.'],
  };
}
