// An invented shop for working on the pages without the real server. Nothing here is a shop's rule:
// the numbers are made up so that every sentence, mark and state of the pages can be seen.

export const today = '2026-11-25';
export const addDays = (day, n) =>
  new Date(Date.parse(`${day}T00:00:00Z`) + n * 86_400_000).toISOString().slice(0, 10);

/** The same numbers each time: a small linear congruential generator. */
export function seeded(seed) {
  let state = seed >>> 0;
  return () => ((state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 2 ** 32);
}

export const slots = [
  ['frame', 'frame', true, 1], ['fork', 'fork', true, 1], ['headset', 'headset', true, 1],
  ['stem', 'stem', true, 1], ['handlebar', 'handlebar', true, 1], ['grips', 'grips', true, 1],
  ['seatpost', 'seatpost', true, 1], ['saddle', 'saddle', true, 1],
  ['motor', 'motor', true, 1], ['battery', 'battery', true, 1], ['display', 'display', true, 1],
  ['crankset', 'crankset', true, 1], ['chainring', 'front belt sprocket', true, 1],
  ['rear_sprocket', 'rear belt sprocket', true, 1], ['belt', 'belt', true, 1],
  ['front_hub', 'front hub', true, 1], ['rear_hub', 'rear hub', true, 1],
  ['front_rim', 'front rim', true, 1], ['rear_rim', 'rear rim', true, 1],
  ['spokes', 'spokes', true, 72], ['front_tyre', 'front tyre', true, 1],
  ['rear_tyre', 'rear tyre', true, 1], ['front_brake', 'front brake', true, 1],
  ['rear_brake', 'rear brake', true, 1], ['front_rotor', 'front rotor', true, 1],
  ['rear_rotor', 'rear rotor', true, 1], ['pedals', 'pedals', true, 1],
  ['mudguards', 'mudguards', false, 1], ['rack', 'rear rack', false, 1],
  ['kickstand', 'kickstand', false, 1], ['front_light', 'front light', true, 1],
  ['rear_light', 'rear light', true, 1], ['bell', 'bell', false, 1],
].map(([slot, name, required, quantity]) => ({ slot, name, required, quantity }));

const makers = ['Fernholt', 'Quillow', 'Marrenby', 'Oskvale', 'Tavisk', 'Brennock'];
const variants = {
  frame: ['Low-step frame L-3, size M, slate', 'Low-step frame L-3, size L, slate', 'Trekking frame T-2, size M, moss', 'Cargo frame C-1, one size, ochre'],
  fork: ['Rigid fork, 47-622, tapered', 'Suspension fork 80 mm, tapered', 'Rigid fork, 28.6 straight'],
  headset: ['Headset ZS44/ZS56', 'Headset EC34/EC34', 'Headset ZS44/EC44'],
  stem: ['Stem 60 mm, 31.8', 'Stem 80 mm, 31.8', 'Stem 60 mm, 25.4'],
  handlebar: ['Swept bar 640 mm, 31.8', 'Flat bar 680 mm, 31.8', 'Swept bar 620 mm, 25.4'],
  grips: ['Grips 130 mm, clamp', 'Grips 92 mm, clamp', 'Leather grips 130 mm'],
  seatpost: ['Seatpost 27.2 × 350', 'Seatpost 31.6 × 400', 'Sprung seatpost 27.2'],
  saddle: ['Saddle 155 mm', 'Saddle 165 mm, sprung', 'Saddle 143 mm'],
  motor: ['Mid motor M5, 85 N·m', 'Mid motor M3, 60 N·m'],
  battery: ['Battery 625 Wh, in the down tube', 'Battery 500 Wh, in the down tube', 'Battery 750 Wh, in the down tube'],
  display: ['Display, small', 'Display, round, with light switch'],
  crankset: ['Crankset 170 mm for mid motor', 'Crankset 165 mm for mid motor'],
  chainring: ['Front belt sprocket 50', 'Front belt sprocket 55', 'Front belt sprocket 46'],
  rear_sprocket: ['Rear belt sprocket 22, 9-spline', 'Rear belt sprocket 24, 9-spline', 'Rear belt sprocket 20, 9-spline'],
  belt: ['Belt 118 teeth, 11 mm', 'Belt 120 teeth, 11 mm', 'Belt 122 teeth, 11 mm', 'Belt 115 teeth, 11 mm'],
  front_hub: ['Front hub 36 holes, thru-axle 12 × 100', 'Front hub 32 holes, thru-axle 12 × 100', 'Hub dynamo 36 holes, 12 × 100'],
  rear_hub: ['Hub gear, 8 speeds, 36 holes', 'Hub gear, 5 speeds, 32 holes', 'Stepless hub gear, 36 holes', 'Hub gear, 14 speeds, 32 holes', 'Hub gear, 5 speeds, 36 holes', 'Cassette hub 12 × 148, 32 holes'],
  front_rim: ['Rim 25 mm inner, 622, 36 holes', 'Rim 25 mm inner, 622, 32 holes', 'Rim 30 mm inner, 622, 36 holes'],
  rear_rim: ['Rim 25 mm inner, 622, 36 holes', 'Rim 25 mm inner, 622, 32 holes', 'Rim 30 mm inner, 622, 36 holes'],
  spokes: ['Spokes 2.0-1.8-2.0, bright', 'Spokes 2.3-1.8-2.0, bright'],
  front_tyre: ['Tyre 47-622, puncture belt', 'Tyre 50-622, light', 'Tyre 57-622, puncture belt'],
  rear_tyre: ['Tyre 47-622, puncture belt', 'Tyre 50-622, light', 'Tyre 57-622, puncture belt'],
  front_brake: ['Disc brake, four pistons, front', 'Disc brake, two pistons, front'],
  rear_brake: ['Disc brake, two pistons, rear', 'Disc brake, four pistons, rear'],
  front_rotor: ['Rotor 180 mm, six bolts', 'Rotor 203 mm, six bolts', 'Rotor 180 mm, centre lock'],
  rear_rotor: ['Rotor 180 mm, six bolts', 'Rotor 160 mm, six bolts'],
  pedals: ['Flat pedals, grip face', 'Flat pedals, with reflectors'],
  mudguards: ['Mudguards 56 mm, 622', 'Mudguards 65 mm, 622'],
  rack: ['Rear rack 27 kg', 'Rear rack 35 kg, child-seat ready'],
  kickstand: ['Kickstand, two legs', 'Kickstand, rear'],
  front_light: ['Front light 100 lux', 'Front light 60 lux'],
  rear_light: ['Rear light with brake light', 'Rear light'],
  bell: ['Bell, brass', 'Bell, small'],
};
const prices = { frame: 148000, fork: 18900, motor: 69000, battery: 58000, rear_hub: 41000, front_hub: 8900, display: 14900, crankset: 7900, belt: 7400 };
const masses = { frame: 4.1, fork: 1.25, motor: 2.9, battery: 3.6, rear_hub: 1.82, front_hub: 0.24, front_rim: 0.56, rear_rim: 0.56, front_tyre: 0.86, rear_tyre: 0.86, rack: 0.78, saddle: 0.41 };
const codes = { frame: 'FR', fork: 'FK', rear_hub: 'HB', front_hub: 'HF', battery: 'BT', motor: 'MT', belt: 'BE' };

const random = seeded(7);
const kindIds = Object.fromEntries(slots.map(({ slot }) => [slot, `K-${slot.slice(0, 2).toUpperCase()}${slot.length}`]));
export const kinds = slots.map(({ slot, name }) => ({ id: kindIds[slot], name }));
export const parts = new Map();
let number = 400;
for (const { slot, name } of slots) {
  (variants[slot] ?? []).forEach((title, i) => {
    number += 3;
    const id = `${codes[slot] ?? slot.slice(0, 2).toUpperCase()}-0${number}`;
    const factor = 1 + (i === 0 ? 0 : (random() - 0.35) * 0.5);
    parts.set(id, {
      part: {
        id, name: title, maker: makers[Math.floor(random() * makers.length)], kind: kindIds[slot],
        price_cents: Math.round((prices[slot] ?? 3900) * factor / 100) * 100,
        mass_kg: slot === 'display' && i === 1 ? null : Number(((masses[slot] ?? 0.22) * factor).toFixed(3)),
      },
      slot, slotName: name,
      on_shelf: Math.floor(random() * 4), put_by: Math.floor(random() * 2), under_way: random() < 0.2 ? 2 : 0,
      known: 5 + Math.floor(random() * 14), measured: Math.floor(random() * 4), not_known: random() < 0.35 ? 1 + Math.floor(random() * 4) : 0,
    });
  });
}
for (let i = 0; i < Number(process.env.MOCK_PARTS ?? 2400); i += 1) {
  const { slot, name } = slots[Math.floor(random() * slots.length)];
  const id = `X${slot.slice(0, 1).toUpperCase()}-${String(1000 + i)}`;
  parts.set(id, {
    part: { id, name: `${name[0].toUpperCase()}${name.slice(1)}, pattern ${1000 + i}`, maker: makers[i % makers.length], kind: kindIds[slot], price_cents: 900 + Math.floor(random() * 20000), mass_kg: random() < 0.1 ? null : Number((random() * 2).toFixed(2)) },
    slot: '', slotName: name, on_shelf: Math.floor(random() * 9), put_by: 0, under_way: random() < 0.05 ? 4 : 0,
    known: Math.floor(random() * 18), measured: Math.floor(random() * 3), not_known: Math.floor(random() * 4), gone: random() < 0.04,
  });
}
export const partsOf = (slot) => [...parts.values()].filter((p) => p.slot === slot);

export const states = ['Enquiry', 'Draft', 'Offer', 'Agreed', 'Gathering', 'Kitted', 'Building', 'Checking', 'Ready', 'Handed over', 'In care', 'Closed', 'Cancelled'];
export const road = states.slice(0, 11);

const people = [
  ['2041', 'Ines Albrecht', 'Home to the school on the ridge, two bags, every day.', 'Gathering', '2026-12-18', []],
  ['2042', 'Tomas Reinvald', 'Forty kilometres to work along the river, all year.', 'Building', '2026-12-04', ['Date at risk']],
  ['2043', 'Maren Okafor', 'Two children to kindergarten and the week’s shopping.', 'Checking', '2026-11-27', []],
  ['2044', 'Piet Sandøy', 'Touring with a tent, gravel now and then.', 'Kitted', '2026-12-02', []],
  ['2045', 'Leonie Brandt', 'Up to the vineyard with tools, 18 % at the end.', 'Draft', null, []],
  ['2046', 'Wanda Kurz', 'Short trips in town, wants to sit upright.', 'Offer', null, ['Money open']],
  ['2047', 'Ibrahim Seel', 'A bike for a tall rider with a bad knee.', 'Enquiry', null, []],
  ['2039', 'Hanne Voss', 'Station and back, must fold into nothing.', 'Ready', '2026-11-24', []],
  ['2038', 'Jonas Petri', 'Mail round, 60 km a day, luggage front and rear.', 'Gathering', '2026-12-11', ['Held']],
  ['2031', 'Ada Lindqvist', 'School run and a trailer at weekends.', 'Handed over', '2026-10-30', []],
  ['2048', 'Rosa Maier-Hohenfels von der Au', 'A very long wish: quiet, light enough to carry into a cellar with a narrow stair, strong enough for a child seat, and never any chain oil on the trousers.', 'Draft', null, []],
];

export const orders = new Map();
for (const [id, rider, need, state, promised, flags] of people) {
  const choices = Object.fromEntries(slots
    .filter(({ slot, required }) => required || ['mudguards', 'rack', 'kickstand'].includes(slot))
    .map(({ slot }) => [slot, partsOf(slot)[0].part.id]));
  if (id === '2045') choices.rear_hub = partsOf('rear_hub')[1].part.id;
  if (id === '2047') for (const slot of Object.keys(choices)) if (slot !== 'frame') delete choices[slot];
  if (id === '2048') { delete choices.saddle; delete choices.pedals; choices.display = partsOf('display')[1].part.id; }
  orders.set(id, {
    id, rider, need, state, promised, flags, choices, revision: 3,
    needed_by: promised ? addDays(promised, 2) : id === '2047' ? null : '2027-01-15',
    held: flags.includes('Held') ? 'the rider is away until 7 December and wants to try the saddle first' : '',
    deposit: promised ? 74000 : 0,
  });
}
