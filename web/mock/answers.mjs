// What the invented shop answers, in the shapes of openapi.yaml.
import { addDays, kinds, orders, parts, partsOf, road, slots, states, today } from './book.mjs';

const shortDay = (day) => `${Number(day.slice(8))} ${['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'][Number(day.slice(5, 7)) - 1]}`;
const byId = (id) => parts.get(id);
const lineOf = (id) => byId(id).part;
const holesOf = (id) => (/(\d\d) holes/.exec(id ? lineOf(id).name : '') ?? [])[1];

function findingsOf(order) {
  const found = [];
  const add = (rule, severity, verdict, sentence, source, ...touched) =>
    found.push({ rule, severity, verdict, sentence, source, slots: touched });
  const { choices } = order;
  for (const end of ['front', 'rear']) {
    const hub = holesOf(choices[`${end}_hub`]);
    const rim = holesOf(choices[`${end}_rim`]);
    if (hub && rim && hub !== rim) add(`C-062 ${end}`, 'FIT', 'does not fit', `The ${end} hub has ${hub} holes and the rim ${rim}: every spoke needs a hole at both ends.`, 'maker’s drawings of both', `${end}_hub`, `${end}_rim`);
  }
  if (choices.rear_hub && lineOf(choices.rear_hub).name.includes('14 speeds')) add('C-071', 'CLAIM', 'fits with care', 'The hub’s maker allows sprocket ratios from 1.9; this belt gives 2.27 with a loaded rider on the steepest stretch: tell the rider that the first gear is for the ridge only.', 'hub maker’s sheet, 2025', 'rear_hub', 'chainring');
  if (choices.rear_tyre && lineOf(choices.rear_tyre).name.includes('57')) add('C-041 rear', 'STOP', 'does not fit', 'A 57 mm tyre leaves 2.5 mm to the chain stays; at least 6 mm must stay free on each side.', 'ISO 4210-2, frame maker’s drawing', 'rear_tyre', 'frame');
  if (choices.display && lineOf(choices.display).mass_kg === null) add('C-118', 'FIT', 'not known', 'Nobody has stated which plug the display has; the motor needs a five-pin one.', 'not known: ask the maker or look at the plug', 'display', 'motor');
  if (choices.mudguards && choices.rear_tyre && lineOf(choices.rear_tyre).name.includes('50')) add('C-046', 'WORK', 'fits with', 'A 50 mm tyre under 56 mm mudguards needs the wide-stay adapter.', 'mudguard maker’s table', 'mudguards', 'rear_tyre');
  if (choices.frame && order.id === '2041') add('C-090', 'CLAIM', 'fits with care', 'Rider, bags and bike come to 147 kg of the 150 kg that the frame may carry.', 'frame maker’s plate', 'frame');
  return found.sort((a, b) => ranks.indexOf(b.verdict) - ranks.indexOf(a.verdict));
}
const ranks = ['fits', 'fits with', 'fits with care', 'not known', 'does not fit'];
const worst = (list) => list.reduce((w, f) => (ranks.indexOf(f.verdict) > ranks.indexOf(w) ? f.verdict : w), 'fits');

function hereOf(id) {
  const part = byId(id);
  if (part.put_by) return ['put by', null];
  if (part.on_shelf) return ['in store', null];
  if (part.under_way || id.startsWith('HB')) return [shortDay('2026-12-09'), '2026-12-09'];
  return ['not bought', null];
}

function specOf(order) {
  const findings = findingsOf(order);
  let price = 0; let mass = 0; let unknown = 0;
  const rows = slots.map(({ slot, name, required, quantity }) => {
    const id = order.choices[slot];
    if (!id) return { slot, name, required, quantity, part: null, verdict: '', here: '', here_on: null };
    const part = lineOf(id);
    price += part.price_cents;
    if (part.mass_kg === null) unknown += 1; else mass += part.mass_kg;
    const [here, here_on] = hereOf(id);
    return { slot, name, required, quantity, part, verdict: worst(findings.filter((f) => f.slots.includes(slot))), here, here_on };
  });
  const missing = rows.filter((r) => r.required && !r.part).map((r) => r.name);
  return { slots: rows, findings, missing, verdict: worst(findings), rules_checked: 118, rules_not_known: findings.filter((f) => f.verdict === 'not known').length, rules_do_not_apply: 41, price_cents: price, mass_kg: Number(mass.toFixed(2)), masses_not_known: unknown };
}

function outlineOf(order) {
  const { choices } = order;
  if (!choices.fork || !choices.front_tyre) return { drawn: false, why_not: 'There is nothing to draw yet: the fork and the tyres are not chosen.', points: {}, lengths: {}, labels: {}, clash: [] };
  const tyre = Number(/Tyre (\d\d)/.exec(lineOf(choices.rear_tyre).name)[1]);
  const radius = 311 + tyre;
  const name = choices.frame ? lineOf(choices.frame).name : '';
  const low = !name.startsWith('Trekking');
  const sprocket = (slot) => Number(/sprocket (\d+)/.exec(choices[slot] ? lineOf(choices[slot]).name : 'sprocket 50')[1]) * 11 / 2 / Math.PI;
  const points = {
    bottom_bracket: { x: 0, y: 0 }, rear_axle: { x: -480, y: 68 }, front_axle: { x: 662, y: 68 },
    head_tube_top: { x: 392, y: 622 }, head_tube_bottom: { x: 445, y: 476 },
    seat_cluster: { x: low ? -118 : -146, y: low ? 386 : 478 }, seat_tube_top: { x: -156, y: 512 },
    crown: { x: 456, y: 446 }, saddle: { x: -209, y: 690 }, bar: { x: 424, y: 712 },
  };
  if (low) { points.top_tube_front = { x: 452, y: 446 }; points.top_tube_rear = { x: -62, y: 204 }; }
  const lengths = {
    wheelbase: 1142, stack: 622, reach: 392, saddle_height: 721, crank_radius: 170, trail: 62, ground: 68 - radius,
    rear_tyre_radius: radius, front_tyre_radius: radius, rear_rim_radius: 311, front_rim_radius: 311,
    chainring_radius: sprocket('chainring'), rear_sprocket_radius: sprocket('rear_sprocket'),
    front_rotor_radius: 90, rear_rotor_radius: 90, rear_hub_radius: 46, front_hub_radius: 27, saddle_length: 270,
    spokes: Number(holesOf(choices.rear_hub) ?? 36),
  };
  const clash = findingsOf(order).filter((f) => f.verdict === 'does not fit').map((f) => f.slots[0]);
  return {
    drawn: true, why_not: '', points, lengths, clash,
    labels: { wheelbase: '1142 mm', stack: 'stack 622 mm', reach: 'reach 392 mm', saddle: 'saddle 721 mm', rear_tyre: `${tyre}-622`, front_tyre: `${tyre}-622`, battery: choices.battery ? lineOf(choices.battery).name.split(',')[0].replace('Battery ', '') : '', rack: choices.rack ? lineOf(choices.rack).name.replace('Rear rack ', 'rack ') : '' },
  };
}

const inState = (order, state) => road.indexOf(order.state) >= road.indexOf(state);
export function orderLine(order) {
  const spec = specOf(order);
  const chosen = spec.slots.filter((s) => s.part);
  return {
    id: order.id, rider: order.rider, build: 'e-bike, belt and hub gear, mid-motor, built here', need: order.need, state: order.state, flags: order.flags,
    verdict: spec.verdict, needed_by: order.needed_by, promised: order.promised, price_cents: spec.price_cents,
    parts_here: inState(order, 'Kitted') ? chosen.length : chosen.filter((s) => ['in store', 'put by'].includes(s.here)).length,
    parts_needed: spec.slots.filter((s) => s.part || s.required).length,
  };
}
export function orderView(order) {
  const at = road.indexOf(order.state);
  return {
    line: orderLine(order),
    rider: { name: order.rider, contact: 'post@example.invalid', height_mm: 1710, inseam_mm: 795, mass_kg: 68 },
    need: { words: order.need, use_class: 2, luggage_kg: 14, child_seat: false, region: 'EU', assist_class: '25 km/h', front_brake_lever: 'left', route: 'Ridge and back', by_freight: false },
    build_id: 'B1', held_because: order.held, states: road.map((state, i) => ({ state, reached: i < at, current: i === at })),
    opened: '2026-11-03', deposit_cents: order.deposit, spec: specOf(order), outline: outlineOf(order),
    numbers: [
      { name: 'Range of gears', value: '307 %, 2.11 to 6.48 m', us: '26 to 81 gear inches', how: 'Sprockets 50 and 22 with the hub’s ratios 0.527 to 1.615 and a tyre 2.22 m round.' },
      { name: 'Belt', value: '118 teeth, 486 mm chain stay', us: '19.1 in', how: 'Two pulleys of 50 and 22 teeth, pitch 11 mm; the frame’s dropout moves 480 to 494 mm.' },
      { name: 'Spokes, rear', value: '262 and 264 mm', us: '', how: 'Hub flanges 92.6 mm, rim 602 mm, two crosses; from the makers’ drawings of both.' },
      { name: 'Tyre pressure, rear', value: '3.2 bar', us: '46 psi', how: 'Load on the rear wheel 92 kg, tyre 47 mm, drop of 15 %; never above what is printed on rim and tyre.' },
      { name: 'Whole bike, loaded', value: '147 kg of 150 kg', us: '324 of 331 lb', how: 'Rider 68 kg, bags 14 kg, bike as specified; the limit is on the frame’s plate.' },
      { name: 'Steepest start', value: '17 %', us: '', how: 'Rider 120 W, motor 85 N·m at the crank, first gear, 4 °C.' },
    ],
    revision: order.revision,
  };
}

export function choicesOf(order, slot) {
  const now = order.choices[slot] ? lineOf(order.choices[slot]) : null;
  const row = slots.find((s) => s.slot === slot);
  const choices = partsOf(slot).map(({ part }) => {
    const asked = { ...order, choices: { ...order.choices, [slot]: part.id } };
    const mine = findingsOf(asked).filter((f) => f.slots.includes(slot));
    const word = worst(mine);
    const status = { fits: 'open', 'fits with': 'open with adapter', 'fits with care': 'open with care', 'not known': 'not known', 'does not fit': 'closed' }[word];
    return {
      part, status, chosen: part.id === now?.id, note: word === 'fits' ? '' : mine[0].sentence,
      price_difference_cents: part.price_cents - (now?.price_cents ?? 0),
      mass_difference_kg: part.mass_kg === null || now?.mass_kg === null ? null : Number((part.mass_kg - (now?.mass_kg ?? 0)).toFixed(3)),
      here: hereOf(part.id)[0],
    };
  });
  return { order: order.id, slot, name: row.name, may_be_empty: !row.required, choices };
}

export function clashOf(order, slot, part) {
  const asked = { ...order, choices: { ...order.choices, [slot]: part } };
  const rules = findingsOf(asked).filter((f) => f.slots.includes(slot) && f.verdict === 'does not fit');
  const others = [...new Set(rules.flatMap((f) => f.slots))].filter((s) => s !== slot && order.choices[s]);
  return { order: order.id, slot, part, choices: others.map((s) => `${slots.find((x) => x.slot === s).name}: ${lineOf(order.choices[s]).name}`), rules };
}

export function promiseOf(order, draws) {
  const odds = [0, 0.02, 0.06, 0.13, 0.24, 0.38, 0.53, 0.66, 0.76, 0.84, 0.89, 0.925, 0.948, 0.962, 0.975, 0.985];
  const days = []; let day = '2026-12-06';
  while (days.length < odds.length) { day = addDays(day, 1); if (![0, 6].includes(new Date(day).getUTCDay())) days.push(day); }
  const shift = order.choices.rear_hub?.startsWith('HB') && lineOf(order.choices.rear_hub).name.includes('5 speeds') ? -5 : 0;
  const curve = days.map((d, i) => ({ day: d, probability: odds[Math.min(odds.length - 1, Math.max(0, i - shift))] }));
  const at = (p) => curve.find((c) => c.probability >= p)?.day ?? days.at(-1);
  const before = curve.filter((c) => order.promised && c.day <= order.promised).at(-1);
  return {
    order: order.id, sentence: `Ready by ${shortDay(at(0.9))} in nine cases of ten. The rear hub holds it most often.`,
    promised: order.promised, chance_kept: order.promised ? before?.probability ?? 0 : null,
    day_50: at(0.5), day_80: at(0.8), day_90: at(0.9), day_95: at(0.95), curve,
    holds: [{ what: 'Rear hub, on order since 9 November', kind: 'part', share: 0.61 }, { what: 'Wheel bench, two wheelsets ahead', kind: 'queue', share: 0.22 }, { what: 'Charge port cover, not yet bought', kind: 'part', share: 0.12 }, { what: 'The build itself', kind: 'work', share: 0.05 }],
    draws, placements: draws * 214, seconds: draws * 0.00021,
  };
}

export const foundBy = (words) => {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  const has = (text) => wanted.every((w) => text.toLowerCase().includes(w));
  return [
    ...[...orders.values()].filter((o) => has(`${o.id} ${o.rider}`)).map((o) => ({ kind: 'order', text: `${o.id} ${o.rider}, ${o.state}`, link: `/orders/${o.id}` })),
    ...[...parts.values()].filter((p) => has(`${p.part.id} ${p.part.name} ${p.part.maker}`)).map((p) => ({ kind: 'part', text: `${p.part.id} ${p.part.name}`, link: `/parts/${p.part.id}` })),
  ].slice(0, 12);
};

export const shop = {
  name: 'Upper Lock Bicycles', town: 'Wexlingen', currency: 'EUR', invented: true, today,
  builds: [
    { id: 'B1', name: 'e-bike, belt and hub gear, mid-motor, built here', maker_built: false, slots: slots.map(({ slot, name, required }) => ({ slot, name, required })) },
    { id: 'B4', name: 'touring bike, built by the maker', maker_built: true, slots: slots.slice(0, 8).map(({ slot, name, required }) => ({ slot, name, required })) },
  ],
  kinds, people: [{ id: 'mara', name: 'Mara' }, { id: 'ole', name: 'Ole' }, { id: 'sun', name: 'Sun-hi' }],
  routes: ['Ridge and back', 'River to the works'], states,
};

export const todayView = () => ({
  day: today,
  lines: [
    { kind: 'at risk', sentence: '2042 Tomas Reinvald is promised for Friday 4 December and keeps that in 58 of 100 cases: the battery is two days late.', order: '2042', link: '/orders/2042', action: 'Call him or pay 38 € for the express' },
    { kind: 'to buy', sentence: 'Charge port cover for 2041: order from Nordal before 14:00 today, or it comes after it is needed.', order: '2041', link: '/parts/buy', action: 'Order one' },
    { kind: 'to buy', sentence: '36 spokes 262 mm for 2038 from Harrow Lane by Friday.', order: '2038', link: '/parts/buy', action: 'Add to the order' },
    { kind: 'arriving', sentence: 'Two parcels from Nordal: the frame for 2046 and tyres for three bikes.', order: '', link: '/parts', action: 'Make room at goods-in' },
    { kind: 'on the stands', sentence: '2042 Tomas Reinvald: hoses through the frame, Mara until 11:20.', order: '2042', link: '/bench/2042', action: 'Open the sheet' },
    { kind: 'on the stands', sentence: '2044 Piet Sandøy: wheels, Ole from 10:00.', order: '2044', link: '/bench/2044', action: 'Open the sheet' },
    { kind: 'to check', sentence: '2043 Maren Okafor waits for a second signature on brakes and steering; not by Mara, who built it.', order: '2043', link: '/bench/2043', action: 'Check it' },
    { kind: 'to hand over', sentence: '2039 Hanne Voss is ready since yesterday.', order: '2039', link: '/orders/2039', action: 'Call her' },
    { kind: 'to measure', sentence: 'Nobody knows the plug of Display, round: 2048 waits for it.', order: '2048', link: '/parts', action: 'Look at the plug' },
  ],
});

export function partView(p) {
  const fact = (name, value, us, standing, source, by, date, help, decisive = false) => ({ attribute: name.replace(/\W+/g, '_'), name, value, us, standing, source, by, date, help, decisive });
  return {
    row: partRow(p),
    facts: [
      fact('holes', '36', '', 'known', 'maker’s drawing 2025-03', '', '2025-03-14', 'Count them.', true),
      fact('flange diameter, left', '92.6 mm', '3.646 in', 'known', 'maker’s drawing 2025-03', '', '2025-03-14', 'Between opposite spoke holes.', true),
      fact('flange diameter, right', '92.5 mm', '3.642 in', 'measured', 'caliper C-2', 'Ole', '2026-10-02', 'Between opposite spoke holes.', true),
      fact('over-locknut width', '135 mm', '5.315 in', 'known', 'supplier’s list 44', '', '2026-01-08', 'Over the outer faces of the locknuts.', true),
      fact('least sprocket ratio', '', '', 'not known', '', '', null, 'The hub maker’s sheet, table of permitted sprockets.', true),
      fact('mass', '1.82 kg', '4.0 lb', 'measured', 'scale S-1', 'Mara', '2026-10-02', 'On the parts scale, with nuts.'),
      fact('colour', 'silver', '', 'known', 'supplier’s list 44', '', '2026-01-08', ''),
    ],
    offers: [
      { supplier: 'Nordal', article: 'N-77120', prices: ['from 1: 268.00', 'from 5: 251.00'], availability: 'in their store, 6 pieces', lead_days_50: 3, lead_days_90: 6, basis: '41 receipts, last 18 November' },
      { supplier: 'Harrow Lane', article: '8801-36', prices: ['from 1: 259.50'], availability: 'to order', lead_days_50: 12, lead_days_90: 21, basis: '6 receipts, shrunk to hub gears of all suppliers' },
    ],
    purchases: purchases.filter((x) => x.part === p.part.id), orders: ['2041', '2038'],
  };
}
export const partRow = (p) => ({ part: p.part, kind_name: p.slotName, on_shelf: p.on_shelf, put_by: p.put_by, under_way: p.under_way, known: p.known, measured: p.measured, not_known: p.not_known, gone: p.gone ?? false });
const hub = partsOf('rear_hub')[0].part;
export const purchases = [
  { id: 'P-311', supplier: 'Nordal', part: hub.id, name: hub.name, quantity: 2, order: '2041', placed: '2026-11-09', confirmed: '2026-12-09', state: 'Confirmed' },
  { id: 'P-314', supplier: 'Harrow Lane', part: partsOf('spokes')[0].part.id, name: 'Spokes 2.0-1.8-2.0, bright', quantity: 72, order: '', placed: '2026-11-20', confirmed: null, state: 'Placed' },
];
