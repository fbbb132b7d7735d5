// The HTTP side as a page, another program and an ill-meaning page see it: every answer is judged
// by web/openapi.yaml, in both directions.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import http from 'node:http';
import net from 'node:net';
import path from 'node:path';
import zlib from 'node:zlib';
import { claim, cli, demo_book, house, program, root, run, start_server, wait } from './house.mjs';
import { Judge, read_openapi } from './schema.mjs';

const openapi = read_openapi();
const judge = openapi && new Judge(openapi);

/** One request as written, on a connection of its own: {status, headers, body, text}. */
function ask(server, method, target, { body, headers = {}, keep } = {}) {
  return new Promise((resolve, reject) => {
    const all = { ...headers };
    if (body !== undefined) {
      all['Content-Type'] ??= 'application/json';
      all['Content-Length'] = Buffer.byteLength(body);
    }
    const request = http.request(
      { host: '127.0.0.1', port: server.port, method, path: target, headers: all,
        agent: keep ?? false, setHost: !('Host' in headers) },
      (response) => {
        const pieces = [];
        response.on('data', (piece) => pieces.push(piece));
        response.on('error', reject);
        response.on('end', () => {
          const bytes = Buffer.concat(pieces);
          resolve({ status: response.statusCode, headers: response.headers, bytes,
                    text: bytes.toString('utf8') });
        });
      });
    request.setTimeout(60_000, () => request.destroy(new Error(`${method} ${target}: no answer`)));
    request.on('error', reject);
    request.end(body);
  });
}

/** Says that more than 1 MiB will come, and waits for the answer before sending any of it. */
function ask_too_large(server) {
  return new Promise((resolve, reject) => {
    const request = http.request(
      { host: '127.0.0.1', port: server.port, method: 'POST', path: '/api/orders', agent: false,
        headers: { 'Content-Type': 'application/json', 'Content-Length': 1024 * 1024 + 1 } },
      (response) => {
        let text = '';
        response.setEncoding('utf8').on('data', (more) => { text += more; });
        response.on('end', () => {
          request.destroy();
          resolve({ status: response.statusCode, headers: response.headers, text });
        });
      });
    request.setTimeout(30_000, () => request.destroy(new Error('no answer')));
    request.on('error', reject);
    request.flushHeaders();
  });
}

async function get(server, target) {
  const answer = await ask(server, 'GET', target);
  assert.equal(answer.status, 200, `GET ${target}: ${answer.text.slice(0, 200)}`);
  return JSON.parse(answer.text);
}

const send = (server, method, target, value, headers = {}) =>
  ask(server, method, target, { body: JSON.stringify(value), headers });

/** Every refusal met, for the claim at the end that they keep to the API file. */
const refusals = [];

/** The answer is a refusal in words, with this status. */
function assert_refused(answer, status, what) {
  assert.equal(answer.status, status, `${what}: ${answer.text.slice(0, 200)}`);
  assert.match(answer.headers['content-type'] ?? '', /^application\/json/, what);
  const value = JSON.parse(answer.text);
  refusals.push(...judge.troubles({ $ref: '#/components/schemas/Error' }, value, 'a refusal'));
  assert.ok(value.sentence.length > 10, `${what}: ${answer.text}`);
  return value;
}

/** A stream of events: {next(milliseconds), close()}; next resolves to {id, event, data}. */
function open_events(server, headers = {}) {
  return new Promise((resolve, reject) => {
    const request = http.get(
      { host: '127.0.0.1', port: server.port, path: '/api/events', headers, agent: false },
      (response) => {
        let text = '';
        const come = [];
        const waiting = [];
        response.setEncoding('utf8').on('data', (more) => {
          text += more;
          for (let end = text.indexOf('\n\n'); end >= 0; end = text.indexOf('\n\n')) {
            const lines = text.slice(0, end).split('\n');
            text = text.slice(end + 2);
            const event = {};
            for (const line of lines) {
              const [, name, value] = line.match(/^(\w+): ?(.*)$/) ?? [];
              if (name) event[name] = value;
            }
            if (event.data === undefined) continue;
            const first = waiting.shift();
            if (first) first(event); else come.push(event);
          }
        });
        response.on('error', () => {});
        resolve({
          status: response.statusCode,
          headers: response.headers,
          ended: new Promise((over) => response.on('close', over)),
          next: (milliseconds) => new Promise((given, late) => {
            if (come.length > 0) return given(come.shift());
            const timer = setTimeout(
              () => late(new Error(`no event within ${milliseconds} ms`)), milliseconds);
            waiting.push((event) => { clearTimeout(timer); given(event); });
          }),
          close: () => request.destroy(),
        });
      });
    request.on('error', reject);
  });
}

/** An order that may still be chosen for, with a slot whose part can be another open one. */
async function order_with_choice(server) {
  for (const { id, state } of await get(server, '/api/orders')) {
    if (state !== 'Draft' && state !== 'Offer') continue;
    const order = await get(server, `/api/orders/${id}`);
    for (const slot of ['grips', 'saddle', 'bell', 'kickstand', 'pedals']) {
      const held = order.spec.slots.find((one) => one.slot === slot)?.part;
      if (!held) continue;
      const { choices } = await get(server, `/api/orders/${id}/choices/${slot}`);
      const other = choices.find((one) => one.status === 'open' && one.part.id !== held.id);
      if (other) return { id, slot, held: held.id, other: other.part.id };
    }
  }
  throw new Error('the demo has no order in which a part could be another one');
}

const part_in = (order, slot) => order.spec.slots.find((one) => one.slot === slot).part?.id;

const new_order = {
  rider: { name: 'Wilma Testrup', contact: 'wilma@example.invalid', height_mm: 1720,
           inseam_mm: 800, mass_kg: 71 },
  need: { words: 'To work and back in any weather.', use_class: 2, luggage_kg: 10,
          child_seat: false, region: 'EU', assist_class: '25 km/h', front_brake_lever: 'left',
          route: 'ridge', by_freight: false },
  build: 'B1',
  needed_by: '2027-03-01',
  choices: {},
};

/** An invented list of one article, with its mapping. */
const supplier_list = {
  file: 'invented.csv', text: 'no;name;price;cost\nX 1;Tyre;30,00;17,40\n', supplier: 'nordal',
  day: '2026-11-20', take_over: [],
  mapping: {
    separator: 'semicolon', decimal: 'comma', kind: 'K-TY', new_number: 'X-',
    columns: [{ heading: 'no', goes_to: 'article' }, { heading: 'name', goes_to: 'name' },
              { heading: 'price', goes_to: 'customer price' },
              { heading: 'cost', goes_to: 'cost price' }],
  },
};

/** An invented notice about a part that bikes of the demo have. */
/** Of an invented maker: an order that waits there. */
const atMaker = '2032';
const notice = { who: 'mara', part: 'BA-0007', wrong: 'cracks', danger: true };

async function recall_on(server) {
  const opened = await send(server, 'POST', '/api/recalls', notice);
  assert.equal(opened.status, 201, opened.text.slice(0, 200));
  return JSON.parse(opened.text).line.number;
}

// The API file ------------------------------------------------------------------------------------

/** A shop in which people sign in: {url, port, owner, station}, the last two as headers. */
async function closed_server() {
  const book = demo_book();
  for (const [args, said] of [[['make-owner', 'mara'], 'seven quiet freewheels'],
                              [['set-pin', 'jonas'], '2580']]) {
    const ran = run(program, ['--book', book, ...args], { input: `${said}\n` });
    assert.equal(ran.code, 0, ran.err);
  }
  const server = await start_server({ book });
  const cookies = (answer) => ({ Cookie: (answer.headers['set-cookie'] ?? [])
    .map((cookie) => cookie.split(';')[0]).join('; ') });
  const signed = () => send(server, 'POST', '/api/sign-in',
    { person: 'mara', password: 'seven quiet freewheels' }).then(cookies);
  const owner = await signed();
  const paired = await send(server, 'POST', '/api/stations', { name: 'Bench' }, await signed());
  const station = cookies(paired);
  return { ...server, owner, station, stop: server.stop };
}

/** One grey point, as PNG (RFC 2083) writes it. */
const a_point = Buffer.from('iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg==', 'base64');

/** Begins as a JPEG does. */
const a_picture = Buffer.from([0xff, 0xd8, 0xff, 0xe0]);

/** What to ask for each path and method of the API file: [target, body?, {server?, headers?}]. */
async function examples(server) {
  const locked = await closed_server();
  const owner = { server: locked, headers: locked.owner };
  const station = { server: locked, headers: locked.station };
  const your_password = 'seven quiet freewheels';
  const { id, slot, other } = await order_with_choice(server);
  const orders = await get(server, '/api/orders');
  const gathering = orders.find((order) => order.state === 'Gathering').id;
  const { choices } = await get(server, '/api/orders/2022/choices/rear_hub');
  const closed = choices.find((choice) => choice.status === 'closed');
  assert.ok(closed, 'order 2022 has a rear hub that is closed');
  const revision = async () => (await get(server, `/api/orders/${id}`)).revision;
  return {
    'GET /api/shop': () => ['/api/shop'],
    'GET /api/today': () => ['/api/today'],
    'GET /api/orders': () => ['/api/orders'],
    'POST /api/orders': () => ['/api/orders', new_order],
    'GET /api/orders/{id}': () => [`/api/orders/${gathering}`],
    'GET /api/orders/{id}/choices/{slot}': () => [`/api/orders/2022/choices/rear_hub`],
    'PUT /api/orders/{id}/choices/{slot}': async () =>
      [`/api/orders/${id}/choices/${slot}`, { part: other, revision: await revision() }],
    'POST /api/orders/{id}/choices': async () =>
      [`/api/orders/${id}/choices`, { choices: { [slot]: other }, revision: await revision() }],
    'GET /api/orders/{id}/complete': () =>
      ['/api/orders/2041/complete?aim=weighted&cents_per_kg=5000&cents_per_day=300'],
    'GET /api/orders/{id}/trade-offs': () => ['/api/orders/2041/trade-offs'],
    'GET /api/orders/{id}/repairs': () => ['/api/orders/2041/repairs'],
    'GET /api/orders/{id}/why-not/{slot}/{part}': () =>
      [`/api/orders/2022/why-not/rear_hub/${closed.part.id}`],
    'GET /api/orders/{id}/promise': () => [`/api/orders/${gathering}/promise?draws=100`],
    'POST /api/orders/{id}/agree': async () => {
      const agreeable = await order_to_agree(server);
      return [`/api/orders/${agreeable.id}/agree`,
              { promised: '2027-02-26', deposit_cents: 20000, revision: agreeable.revision }];
    },
    'GET /api/orders/{id}/life': () => [`/api/orders/${gathering}/life`],
    'POST /api/orders/{id}/move-to': async () => {
      const open = (await get(server, '/api/orders')).find((order) => order.state === 'Enquiry').id;
      const { revision: now } = await get(server, `/api/orders/${open}`);
      const { back_cents } = await get(server, `/api/orders/${open}/settlement`);
      return [`/api/orders/${open}/move-to`,
              { to: 'Cancelled', by: 'mara', revision: now, note: 'invented',
                said: { reason: 'moves away', settlement: (back_cents / 100).toFixed(2) } }];
    },
    'POST /api/orders/{id}/flags': async () => {
      const held = await get(server, `/api/orders/${gathering}`);
      return [`/api/orders/${gathering}/flags`,
              { flag: 'Held', reason: 'invented', until: '2026-12-04', by: 'mara',
                revision: held.revision }];
    },
    'POST /api/orders/{id}/sign-spec': async () => {
      const offer = (await get(server, '/api/orders')).find((order) => order.state === 'Offer').id;
      const life = await get(server, `/api/orders/${offer}/life`);
      return [`/api/orders/${offer}/sign-spec`,
              { signed_by: 'Wilma Testrup', by: 'pia', price_cents: life.price_to_sign_cents,
                revision: life.revision }];
    },
    'POST /api/orders/{id}/change-price': async () =>
      [`/api/orders/2022/change-price`, { choices: { grips: await other_grips(server) } }],
    'POST /api/orders/{id}/change': async () => {
      const choices = { grips: await other_grips(server) };
      const priced = await send(server, 'POST', '/api/orders/2022/change-price', { choices });
      const { total_cents, revision: now } = JSON.parse(priced.text);
      return ['/api/orders/2022/change', { choices, by: 'pia', total_cents, revision: now }];
    },
    'GET /api/orders/{id}/settlement': () => [`/api/orders/${gathering}/settlement`],
    'GET /api/care': () => ['/api/care'],
    'POST /api/orders/{id}/care/reminded': () =>
      ['/api/orders/2004/care/reminded', { who: 'mara', note: 'comes on Tuesday' }],
    'GET /api/orders/{id}/care': () => ['/api/orders/2003/care'],
    'POST /api/orders/{id}/care/visit': () =>
      ['/api/orders/2003/care/visit',
       { who: 'pia', key: 'v1', visits: ['yearly service'], km: '1 412', note: 'creaks', operations: ['A-85'] }],
    'POST /api/orders/{id}/care/asked': () =>
      ['/api/orders/2003/care/asked', { who: 'pia', operations: ['A-20'], note: 'it creaks there' }],
    'POST /api/orders/{id}/care/back': () =>
      ['/api/orders/2003/care/back', { who: 'pia', to_be_ridden: false, note: 'waits for a part; told' }],
    'GET /api/orders/{id}/maker': () => [`/api/orders/${atMaker}/maker`],
    'POST /api/orders/{id}/maker/form': () =>
      [`/api/orders/${atMaker}/maker/form`, { who: 'mara', wanted: '2027-01-20', how: 'mail' }],
    'GET /api/orders/{id}/maker/form.pdf': () => [`/api/orders/${atMaker}/maker/form.pdf?paper=letter`],
    'GET /api/orders/{id}/maker/form.csv': () => [`/api/orders/${atMaker}/maker/form.csv`],
    'POST /api/orders/{id}/maker/lists': () =>
      [`/api/orders/${atMaker}/maker/lists`,
       { who: 'mara', kind: 'as built', reference: 'invented', lines: [{ position: 'saddle', part: 'SA-0002' }] }],
    'POST /api/orders/{id}/maker/answers': async () => {
      const { revision: now, lists, differences } = await get(server, `/api/orders/${atMaker}/maker`);
      const { kind, number } = lists.find((list) => list.counts);
      return [`/api/orders/${atMaker}/maker/answers`,
              { who: 'mara', answer: 'denied', differences: [differences[0].key], why: 'invented',
                list: `${kind} ${number}`, revision: now }];
    },
    'GET /api/questions': () => ['/api/questions'],
    'PUT /api/orders/{id}/questions/{question}': async () => {
      const asked = (await get(server, '/api/questions'))[0];
      const held = await get(server, `/api/orders/${asked.order}`);
      const question = encodeURIComponent(asked.questions[0].id);
      return [`/api/orders/${asked.order}/questions/${question}`,
              { answer: 'not yet', note: 'asked', revision: held.revision }];
    },
    'PUT /api/orders/{id}/budget': async () => {
      const { revision: now } = await get(server, '/api/orders/2041');
      return ['/api/orders/2041/budget', { at_most_cents: 450_000, revision: now }];
    },
    'PUT /api/orders/{id}/follow-up': async () => {
      const { revision: now } = await get(server, '/api/orders/2041');
      return ['/api/orders/2041/follow-up',
              { day: '2026-12-08', about: 'Pia calls about the belt', revision: now }];
    },
    'GET /api/facts/not-known': () => ['/api/facts/not-known'],
    'PUT /api/parts/{id}/facts/{attribute}': () =>
      ['/api/parts/TY-0001/facts/tyre_width',
       { value: '46.5 mm', standing: 'known', source: 'data sheet', day: '2026-09-01' }],
    'GET /api/orders/{id}/sheet': () => [`/api/orders/${gathering}/sheet`],
    'GET /api/orders/{id}/sheet.pdf': () => [`/api/orders/${gathering}/sheet.pdf`],
    'GET /api/orders/{id}/aids/{aid}': () => [`/api/orders/${gathering}/aids/gears?low_cadence=70`],
    'GET /api/orders/{id}/does': () => [`/api/orders/${gathering}/does`],
    'GET /api/orders/{id}/sooner': () => [`/api/orders/${gathering}/sooner?draws=50`],
    'GET /api/kept': () => ['/api/kept'],
    'GET /api/plan': () => ['/api/plan'],
    'GET /api/load': () => ['/api/load?weeks=3'],
    'GET /api/minutes': () => ['/api/minutes'],
    'GET /api/bench': () => ['/api/bench'],
    'GET /api/bench/{id}': () => ['/api/bench/2016'],
    'POST /api/bench/{id}/record': () =>
      ['/api/bench/2016/record', { who: 'mara', key: 'walk', deeds: [{ deed: 'noted', note: 'seen' }] }],
    'GET /api/bikes/{id}/history': () => ['/api/bikes/2016/history'],
    'GET /api/bikes/{id}/history.pdf': () => ['/api/bikes/2016/history.pdf'],
    'GET /api/bikes/{id}/owners-pack.pdf': () => ['/api/bikes/2016/owners-pack.pdf'],
    'GET /api/bikes/{id}/photos': () => ['/api/bikes/2016/photos'],
    'POST /api/bikes/{id}/photos': () => ['/api/bikes/2016/photos?who=mara&about=boxes', a_picture],
    'GET /api/pictures/{hash}': async () => {
      const { photos } = await get(server, '/api/bikes/2016/photos');
      return [`/api/pictures/${photos[0].picture}`];
    },
    'GET /api/pictures/{hash}/small': async () => {
      const sent = await ask(server, 'POST', '/api/bikes/2016/photos?who=mara', {
        body: a_point, headers: { 'Content-Type': 'application/octet-stream' },
      });
      return [`/api/pictures/${JSON.parse(sent.text).photos.at(-1).picture}/small`];
    },
    'GET /api/recalls': () => ['/api/recalls'],
    'POST /api/recalls': () => ['/api/recalls', notice],
    'GET /api/recalls/{id}': async () => [`/api/recalls/${await recall_on(server)}`],
    'POST /api/recalls/{id}/told': async () => {
      const number = await recall_on(server);
      const { bikes, orders } = await get(server, `/api/recalls/${number}`);
      return [`/api/recalls/${number}/told`,
              { who: 'mara', order: [...bikes, ...orders][0].order, status: 'no answer', channel: 'telephone' }];
    },
    'POST /api/recalls/{id}/close': async () =>
      [`/api/recalls/${await recall_on(server)}/close`, { who: 'mara', note: 'taken back' }],
    'GET /api/recalls/{id}/list.pdf': async () => [`/api/recalls/${await recall_on(server)}/list.pdf`],
    'GET /api/recalls/{id}/list.csv': async () => [`/api/recalls/${await recall_on(server)}/list.csv`],
    'GET /api/trace': () => ['/api/trace?lot_from=L1'],
    'GET /api/labels': () => ['/api/labels?orders=2041,2003&kinds=order,wheel&sheet=a4-3x7&from=4&rider=yes'],
    'GET /api/labels.pdf': () => ['/api/labels.pdf?orders=2041&people=mara&sheet=roll-57x32'],
    'GET /api/labels.svg': () => ['/api/labels.svg?kinds=bin&sheet=a4-5x13&page=2'],
    'POST /api/plan/proposals': async () => ['/api/plan/proposals', await plan_anew(server)],
    'GET /api/plan/proposals/{id}': async () =>
      [`/api/plan/proposals/${await proposal_on(server)}`],
    'POST /api/plan/proposals/{id}/improve': async () =>
      [`/api/plan/proposals/${await proposal_on(server)}/improve`, { seconds: 1 }],
    'POST /api/plan/proposals/{id}/stop': async () =>
      [`/api/plan/proposals/${await proposal_on(server)}/stop`, {}],
    'POST /api/plan/proposals/{id}/agree': async () =>
      [`/api/plan/proposals/${await proposal_on(server)}/agree`, {}],
    'POST /api/plan/proposals/{id}/leave': async () =>
      [`/api/plan/proposals/${await proposal_on(server)}/leave`, {}],
    'PUT /api/plan/settings': async () =>
      ['/api/plan/settings', { ...(await get(server, '/api/plan')).settings, frozen_days: 2 }],
    'POST /api/people/{id}/absences': () =>
      ['/api/people/jonas/absences', { from: '2026-12-03', to: '2026-12-04' }],
    'GET /api/people/{id}/plan.ics': () => ['/api/people/mara/plan.ics'],
    'GET /api/buy': () => ['/api/buy'],
    'GET /api/arrivals': () => ['/api/arrivals'],
    'GET /api/arrivals/{line}': () => ['/api/arrivals/P-3148'],
    'POST /api/arrivals/{line}/receive': () =>
      ['/api/arrivals/P-3163/receive', { quantity: 3, wrong: 1, lot: 'L 7', note: 'invented' }],
    'POST /api/arrivals/{line}/miscounts': () =>
      ['/api/arrivals/P-3163/miscounts', { counted: 3, right: 2, why: 'counted again, invented' }],
    'POST /api/arrivals/{line}/steps': () =>
      ['/api/arrivals/P-3163/steps', { step: 'send back', pieces: 1 }],
    'POST /api/arrivals/{line}/claims': () => ['/api/arrivals/P-3165/claims', { what: 'told' }],
    'POST /api/arrivals/{line}/photos': () => ['/api/arrivals/P-3165/photos?claim=1', a_picture],
    'POST /api/arrivals/{line}/legs': () => ['/api/arrivals/P-3149/legs', { day: '2026-11-24' }],
    'PUT /api/arrivals/{line}/mode': () => ['/api/arrivals/P-3150/mode', { mode: 'air' }],
    'PUT /api/arrivals/{line}/confirmed': () =>
      ['/api/arrivals/P-3115/confirmed', { day: '2026-12-03' }],
    'POST /api/arrivals/{line}/give-up': () => ['/api/arrivals/P-3103/give-up', { note: 'invented' }],
    'POST /api/purchases': async () => {
      const [group] = (await get(server, '/api/buy')).groups;
      const lines = group.lines.map(({ part, quantity }) => ({ part, quantity }));
      return ['/api/purchases', { supplier: group.supplier, lines, confirmed: '2026-12-18' }];
    },
    'GET /api/small-stock': () => ['/api/small-stock'],
    'POST /api/parts/{id}/used': () => ['/api/parts/TU-0001/used', { quantity: 1, what_for: 'repair' }],
    'GET /api/parts': () => ['/api/parts'],
    'GET /api/parts/{id}': () => [`/api/parts/${closed.part.id}`],
    'GET /api/catalogue': () => ['/api/catalogue'],
    'POST /api/catalogue/propose': () => ['/api/catalogue/propose', supplier_list],
    'POST /api/catalogue/preview': () => ['/api/catalogue/preview', supplier_list],
    'POST /api/catalogue/import': () => ['/api/catalogue/import', supplier_list],
    'POST /api/catalogue/undo': () => ['/api/catalogue/undo', {}],
    'GET /api/aids': () => ['/api/aids'],
    'POST /api/aids/{id}': () => ['/api/aids/home-again?battery=400%20Wh',
      fs.readFileSync(path.join(root, 'data/demo/routes/ridge.gpx'), 'utf8')],
    'GET /api/aids/{id}': () => ['/api/aids/gears?fronts=44&rears=11%2034'],
    'GET /api/find': () => ['/api/find?q=hub'],
    'GET /api/journal/verify': () => ['/api/journal/verify'],
    'GET /api/health': () => ['/api/health'],
    'GET /api/me': () => ['/api/me', undefined, owner],
    'POST /api/people/first': async () =>
      ['/api/people/first', { person: 'mara', password: your_password }, { server: await start_server() }],
    'POST /api/sign-in': () =>
      ['/api/sign-in', { person: 'mara', password: your_password }, { server: locked }],
    'POST /api/sign-out': () => ['/api/sign-out', {}, { server: locked }],
    'GET /api/people': () => ['/api/people', undefined, owner],
    'PUT /api/people/{id}/password': () =>
      ['/api/people/pia/password', { password: 'no two spokes alike', your_password }, owner],
    'PUT /api/people/{id}/pin': () => ['/api/people/ilka/pin', { pin: '73915', your_password }, owner],
    'POST /api/people/{id}/take-away': () => ['/api/people/ilka/take-away', { your_password }, owner],
    'GET /api/bench/people': () => ['/api/bench/people', undefined, station],
    'POST /api/bench/sign-in': () =>
      ['/api/bench/sign-in', { person: 'jonas', pin: '2580' }, station],
    'POST /api/stations': async () => {
      const again = await send(locked, 'POST', '/api/sign-in', { person: 'mara', password: your_password });
      const headers = { Cookie: again.headers['set-cookie'][0].split(';')[0] };
      return ['/api/stations', { name: 'Another' }, { server: locked, headers }];
    },
    'POST /api/stations/{number}/leave': () => ['/api/stations/1/leave', {}, owner],
  };
}

/** Grips for order 2022 with which it fits and that it does not have. */
async function other_grips(server) {
  const { choices } = await get(server, '/api/orders/2022/choices/grips');
  const other = choices.find((choice) => !choice.chosen && choice.status === 'open');
  assert.ok(other, 'order 2022 could have other grips');
  return other.part.id;
}

/** What asks for the whole plan anew, over the one there is. */
async function plan_anew(server) {
  return { over: (await get(server, '/api/plan')).number };
}

/** The id of a proposal made now. */
async function proposal_on(server) {
  const made = await send(server, 'POST', '/api/plan/proposals', await plan_anew(server));
  assert.equal(made.status, 201, made.text.slice(0, 300));
  return JSON.parse(made.text).id;
}

/** An offer of the demo that has every part and whose parts fit. */
async function order_to_agree(server) {
  for (const line of await get(server, '/api/orders')) {
    if (line.state !== 'Offer' && line.state !== 'Draft') continue;
    const order = await get(server, `/api/orders/${line.id}`);
    const bad = order.spec.findings.some((finding) => finding.verdict === 'does not fit' ||
      (finding.verdict === 'not known' && finding.severity === 'STOP'));
    if (!bad && order.spec.missing.length === 0) return { id: line.id, revision: order.revision };
  }
  throw new Error('the demo has no order that could be agreed');
}

async function judge_api_file(server) {
  await claim('every $ref of the API file leads somewhere', async () => {
    const walk = (value) => {
      if (value === null || typeof value !== 'object') return;
      if (value.$ref) judge.resolve(value);
      Object.values(value).forEach(walk);
    };
    walk(openapi);
  });
  let asked = {};
  await claim('the demo has an example for every path of the API', async () => {
    asked = await examples(server);
  });
  for (const [path_of, methods] of Object.entries(openapi.paths)) {
    for (const [method, operation] of Object.entries(methods)) {
      if (method === 'parameters' || path_of === '/api/events') continue;
      const name = `${method.toUpperCase()} ${path_of}`;
      await claim(`${name} answers as the API file says`, async () => {
        assert.ok(asked[name], 'this test has no example for it');
        const [target, value, { server: of = server, headers = {} } = {}] = await asked[name]();
        const body_types = Object.keys(operation.requestBody?.content ?? {});
        const is_file = body_types[0] === 'application/octet-stream';
        if (value !== undefined && !is_file) {
          const { schema } = operation.requestBody.content['application/json'];
          assert.deepEqual(judge.troubles(schema, value, 'request'), []);
        }
        const answer = value === undefined ? await ask(of, 'GET', target, { headers })
          : is_file
            ? await ask(of, 'POST', target, { body: value, headers: { 'Content-Type': body_types[0] } })
            : await send(of, method.toUpperCase(), target, value, headers);
        const status = Object.keys(operation.responses).find((one) => one.startsWith('2'));
        assert.equal(String(answer.status), status, answer.text.slice(0, 300));
        const [[type, { schema }]] = Object.entries(operation.responses[status].content);
        assert.ok((answer.headers['content-type'] ?? '').startsWith(type),
          answer.headers['content-type']);
        if (type !== 'application/json') {
          const begins = { 'application/pdf': '%PDF-', 'text/calendar': 'BEGIN:VCALENDAR\r\n', 'text/csv': path_of.includes('/maker/') ? 'position,' : 'customer,',
                           'image/svg+xml': '<?xml', 'image/jpeg': a_picture.toString() };
          assert.ok(answer.text.startsWith(begins[type]), answer.text.slice(0, 20));
          return;
        }
        const troubles = judge.troubles(schema, JSON.parse(answer.text));
        assert.deepEqual(troubles.slice(0, 8), [], `${troubles.length} troubles`);
      });
    }
  }
  await claim('every order, open or over, answers as the API file says', async () => {
    const schema = { $ref: '#/components/schemas/OrderView' };
    const troubles = [];
    for (let id = 2001; id <= 2040; ++id) {
      const value = await get(server, `/api/orders/${id}`);
      troubles.push(...judge.troubles(schema, value, `order ${id}`));
    }
    assert.deepEqual(troubles.slice(0, 8), [], `${troubles.length} troubles`);
  });
  await claim('every part answers as the API file says', async () => {
    const { parts } = await get(server, '/api/parts');
    assert.ok(parts.length > 100, `${parts.length} parts`);
    const troubles = [];
    for (let i = 0; i < parts.length; i += 7) {
      const { id } = parts[i].part;
      const value = await get(server, `/api/parts/${encodeURIComponent(id)}`);
      troubles.push(...judge.troubles({ $ref: '#/components/schemas/PartView' }, value, id));
    }
    assert.deepEqual(troubles.slice(0, 8), [], `${troubles.length} troubles`);
  });
  await claim('the most draws are those of the API file', async () => {
    const { schema } = openapi.paths['/api/orders/{id}/promise'].get.parameters[0];
    const answer = await ask(server, 'GET', `/api/orders/2022/promise?draws=${schema.maximum + 1}`);
    const refusal = assert_refused(answer, 422, 'one draw too many');
    assert.ok(refusal.sentence.includes(String(schema.maximum)), refusal.sentence);
    for (const draws of ['0', '-5', 'many', '1e3', '']) {
      assert_refused(await ask(server, 'GET', `/api/orders/2022/promise?draws=${draws}`), 422,
                     `draws=${draws}`);
    }
  });
}

// Refusals ----------------------------------------------------------------------------------------

async function judge_refusals(server) {
  await claim('a list of more than 1 MiB is read, and one of more than 8 MiB is refused', async () => {
    const text = `no,name\n${'A,B\n'.repeat(400_000)}`;
    const large = await send(server, 'POST', '/api/catalogue/propose', { ...supplier_list, mapping: null, text });
    assert.equal(large.status, 413, large.text.slice(0, 200));
    assert.match(JSON.parse(large.text).sentence, /50000|50 000/, 'its rows are too many, not its bytes');
    const beyond = await ask(server, 'POST', '/api/catalogue/propose', { body: 'x'.repeat(8 * 1024 * 1024 + 1) });
    assert.equal(beyond.status, 413);
    assert.match(JSON.parse(beyond.text).sentence, /6 MiB/);
  });
  await claim('a mapping with a field that is not known is refused by its name', async () => {
    const wrong = { ...supplier_list, mapping: { ...supplier_list.mapping, wings: 2 } };
    const answer = await send(server, 'POST', '/api/catalogue/preview', wrong);
    assert.equal(answer.status, 400);
    assert.equal(JSON.parse(answer.text).field, 'mapping.wings');
  });
  await claim('an address that is not there is 404', async () => {
    for (const target of ['/api', '/api/nothing', '/api/orders/2022/nothing', '/api/orders/9999',
                          '/api/parts/XX-0001', '/api/orders/2022/choices/third_wheel',
                          '/api/orders/2022/why-not/rear_hub/XX-0001', '/api/orders/9999/sheet',
                          '/api/orders/9999/sheet.pdf', '/api/orders/9999/promise',
                          '/api/orders/%2e%2e', `/api/orders/${'9'.repeat(300)}`]) {
      assert_refused(await ask(server, 'GET', target), 404, target);
    }
  });
  await claim('a method that an address does not take is 405 with those that it takes',
    async () => {
    for (const [method, target, allow] of [
      ['PUT', '/api/orders', 'GET, HEAD, POST'], ['POST', '/api/plan', 'GET, HEAD'],
      ['DELETE', '/api/orders/2022', 'GET, HEAD'], ['POST', '/api/orders/2022/choices/frame', 'GET, HEAD, PUT'],
    ]) {
      const answer = await ask(server, method, target, { body: '{}' });
      assert_refused(answer, 405, `${method} ${target}`);
      assert.deepEqual(answer.headers.allow?.split(/, */).sort(), allow.split(', '), target);
    }
  });
  await claim('a wrong method without a body is 405 too', async () => {
    for (const method of ['DELETE', 'PATCH']) {
      const answer = await ask(server, method, '/api/orders/2022');
      assert.equal(answer.status, 405, `${method}: ${answer.text}`);
      assert.ok(answer.headers.allow, method);
    }
  });
  await claim('HEAD is answered as GET is, or is 405', async () => {
    // RFC 9110, 9.1 and 9.3.2: a server supports GET and HEAD.
    const answer = await ask(server, 'HEAD', '/api/shop');
    assert.ok([200, 405].includes(answer.status), `${answer.status}`);
  });
  await claim('a page written to is 405 with Allow', async () => {
    // RFC 9110, 15.5.6: a 405 says what is allowed.
    const answer = await ask(server, 'POST', '/orders/2022', { body: '{}' });
    assert.equal(answer.status, 405, answer.text);
    assert.ok(answer.headers.allow, 'no Allow');
  });
  await claim('a body that is not JSON is 400 with a sentence', async () => {
    for (const body of ['', '{', 'part=1', '{"part": null,}', 'null', '[]', '"x"', '\u0000',
                        '['.repeat(20_000)]) {
      assert_refused(await ask(server, 'PUT', '/api/orders/2040/choices/grips', { body }), 400,
                     body.slice(0, 20));
    }
    const bytes = Buffer.from([0x7b, 0x22, 0xff, 0xfe, 0x22, 0x7d]);
    assert_refused(await ask(server, 'PUT', '/api/orders/2040/choices/grips', { body: bytes }), 400,
                   'not UTF-8');
  });
  await claim('a field that is missing, wrong or unknown is 400 and named', async () => {
    const cases = [
      [{ part: null }, 'revision'], [{ revision: 1 }, 'part'],
      [{ part: 7, revision: 1 }, 'part'], [{ part: null, revision: '1' }, 'revision'],
      [{ part: null, revision: 1.5 }, 'revision'],
      [{ part: null, revision: 1, surprise: 2 }, 'surprise'],
    ];
    for (const [value, field] of cases) {
      const answer = await send(server, 'PUT', '/api/orders/2040/choices/grips', value);
      assert.equal(assert_refused(answer, 400, JSON.stringify(value)).field, field);
    }
    const order = structuredClone(new_order);
    order.rider.mass_kg = 'heavy';
    const refusal = assert_refused(await send(server, 'POST', '/api/orders', order), 400, 'mass');
    assert.equal(refusal.field, 'rider.mass_kg');
    assert.match(refusal.value, /heavy/);
    const nested = structuredClone(new_order);
    nested.need.colour = 'red';
    const unknown = assert_refused(await send(server, 'POST', '/api/orders', nested), 400,
      'colour');
    assert.equal(unknown.field, 'need.colour');
  });
  await claim('a value that no rider or build can have is refused and named', async () => {
    const cases = [
      [(order) => { order.build = 'B99'; }, 'build'],
      [(order) => { order.rider.mass_kg = -5; }, 'rider.mass_kg'],
      [(order) => { order.rider.mass_kg = 1e9; }, 'rider.mass_kg'],
      [(order) => { order.rider.name = ''; }, 'rider.name'],
      [(order) => { order.need.use_class = 99; }, 'need.use_class'],
      [(order) => { order.need.route = 'nowhere'; }, 'need.route'],
      [(order) => { order.need.region = 'Mars'; }, 'need.region'],
      [(order) => { order.need.assist_class = '99'; }, 'need.assist_class'],
      [(order) => { order.need.front_brake_lever = 'middle'; }, 'need.front_brake_lever'],
      [(order) => { order.need.luggage_kg = -1; }, 'need.luggage_kg'],
      [(order) => { order.rider.name = 'a\u0000b'; }, 'rider.name'],
      [(order) => { order.rider.name = 'a'.repeat(20_000); }, 'rider.name'],
      [(order) => { order.choices = { nowhere: 'FR-0001' }; }, 'slot'],
      [(order) => { order.choices = { frame: 'AC-0001' }; }, 'part'],
      [(order) => { order.needed_by = '2027-02-30'; }, 'needed_by'],
      [(order) => { order.choices = { frame: 'XX-0001' }; }, 'part'],
    ];
    for (const [spoil, field] of cases) {
      const order = structuredClone(new_order);
      spoil(order);
      const answer = await send(server, 'POST', '/api/orders', order);
      assert.ok([400, 404, 422].includes(answer.status),
        `${field}: ${answer.status} ${answer.text.slice(0, 90)}`);
      assert.equal(assert_refused(answer, answer.status, field).field, field);
    }
  });
  await claim('a name of two lines is refused: it would tear every list', async () => {
    const order = structuredClone(new_order);
    order.rider.name = 'Wilma\nTestrup';
    const answer = await send(server, 'POST', '/api/orders', order);
    assert.ok([400, 422].includes(answer.status), `${answer.status}`);
  });
  await claim('an order is not agreed for a day gone by, an odd deposit or an old revision',
    async () => {
    const { id, revision } = await order_to_agree(server);
    const cases = [
      [{ promised: '2026-11-25', deposit_cents: 100, revision }, 422, /future/],
      [{ promised: '2027-02-26', deposit_cents: -1, revision }, 422, /deposit/],
      [{ promised: '2027-02-26', deposit_cents: 1e12, revision }, 422, /deposit/],
      [{ promised: '2027-02-31', deposit_cents: 100, revision }, 400, /day/],
      [{ promised: '2027-02-26', deposit_cents: 0.5, revision }, 400, /whole/],
      [{ promised: '2027-02-26', deposit_cents: 100, revision: 1e30 }, 400, /whole/],
      [{ promised: '2027-02-26', deposit_cents: 100, revision: revision - 1 }, 409,
        /somebody else/],
    ];
    for (const [value, status, words] of cases) {
      const answer = await send(server, 'POST', `/api/orders/${id}/agree`, value);
      assert.match(assert_refused(answer, status, JSON.stringify(value)).sentence, words);
    }
    assert.equal((await get(server, `/api/orders/${id}`)).revision, revision);
  });
  await claim('a body may have 1 MiB and no more', async () => {
    const most = 1024 * 1024;
    const full = await ask(server, 'POST', '/api/orders', { body: 'x'.repeat(most) });
    assert_refused(full, 400, 'exactly 1 MiB that is not JSON');
    const over = await ask_too_large(server);
    assert.equal(over.status, 413, over.text.slice(0, 100));
    assert.match(over.text, /1 MiB/);
  });
  await claim('whoever sends 8 MiB at once is told so, not cut off while sending', async () => {
    // RFC 9112, 9.6: closing while more comes in can destroy the answer on its way.
    const over = await ask(server, 'POST', '/api/orders', { body: 'x'.repeat(8 * 1024 * 1024) });
    assert.equal(over.status, 413, over.text.slice(0, 100));
  });
  await claim('another host name is 421', async () => {
    for (const host of ['shop.example.invalid', `shop.example.invalid:${server.port}`,
      '127.0.0.1:1',
                        `127.0.0.1:${server.port}.example.invalid`, '']) {
      for (const target of ['/api/shop', '/', '/api/events']) {
        const answer = await ask(server, 'GET', target, { headers: { Host: host } });
        assert.equal(answer.status, 421, `${host} ${target}`);
      }
    }
    const home = await ask(server, 'GET', '/api/shop',
      { headers: { Host: `localhost:${server.port}` } });
    assert.equal(home.status, 200);
  });
  await claim('a write from a page of another site is 403', async () => {
    for (const origin of ['http://example.invalid', 'null', `http://127.0.0.1:${server.port + 1}`,
                          `https://127.0.0.1:${server.port}`]) {
      const answer = await send(server, 'POST', '/api/orders', new_order, { Origin: origin });
      assert.equal(answer.status, 403, `${origin}: ${answer.text.slice(0, 80)}`);
    }
  });
  await claim('a write that is not sent as JSON is 415', async () => {
    for (const type of ['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data']) {
      const answer = await send(server, 'POST', '/api/orders', new_order, { 'Content-Type': type });
      assert.equal(answer.status, 415, `${type}: ${answer.text.slice(0, 80)}`);
    }
  });
  await claim('403, 413, 415 and 421 say their sentence as the API file says', async () => {
    const body = JSON.stringify(new_order);
    const answers = {
      421: await ask(server, 'GET', '/api/shop', { headers: { Host: 'example.invalid' } }),
      403: await ask(server, 'POST', '/api/orders', { body, headers: { Origin: 'null' } }),
      415: await ask(server, 'POST', '/api/orders',
                     { body, headers: { 'Content-Type': 'text/plain' } }),
      413: await ask_too_large(server),
    };
    for (const [status, answer] of Object.entries(answers)) {
      assert_refused(answer, Number(status), status);
    }
  });
  await claim('an address written in broken percent signs is 400', async () => {
    for (const target of ['/api/orders/%zz', '/api/orders/%', '/api/orders/%2', '/api/orders/%00',
                          '/api/orders/%ff%fe', '/api/find?q=%e2%28%a1', '/api/find?%zz=1']) {
      assert_refused(await ask(server, 'GET', target), 400, target);
    }
  });
  await claim('a bench aid names the field that is wrong', async () => {
    for (const [query, field] of [['front=forty', 'front'], ['fron=44', 'fron'], ['front=', 'front'],
                                  ['centre_distance=3%20kg', 'centre_distance']]) {
      const answer = await ask(server, 'GET', `/api/aids/chain-length?${query}`);
      assert_refused(answer, 400, query);
      assert.equal(JSON.parse(answer.text).field, field, query);
    }
    assert_refused(await ask(server, 'GET', '/api/aids/chain-lenght'), 404, 'no such aid');
  });
  await claim('a bench aid filled from an order says what is known, typed and preset', async () => {
    const filled = await get(server, '/api/orders/2001/aids/gears?low_cadence=70');
    const from = Object.fromEntries(filled.fields.map((field) => [field.key, field.from]));
    assert.equal(from.fronts, 'known');
    assert.equal(from.low_cadence, 'typed');
    assert.equal(from.high_cadence, 'preset');
    assert.equal(filled.refusal, null);
    const chain = await get(server, '/api/orders/2001/aids/chain-length');
    assert.match(chain.refusal.sentence, /belt/);
    assert_refused(await ask(server, 'GET', '/api/orders/2001/aids/gears?end=left'), 400, 'no end');
    assert_refused(await ask(server, 'GET', '/api/orders/2001/aids/gearz'), 404, 'no such aid');
    assert_refused(await ask(server, 'GET', '/api/orders/nobody/aids/gears'), 404, 'no such order');
  });
  await claim('a route that is none is refused in words, and another type of body too', async () => {
    const octets = { 'Content-Type': 'application/octet-stream' };
    for (const body of ['', 'no route', '<gpx version="1.1"/>', '<!DOCTYPE gpx><gpx version="1.1"/>']) {
      const answer = await ask(server, 'POST', '/api/aids/home-again', { body, headers: octets });
      assert.equal(assert_refused(answer, 400, body).field.length > 0, true, answer.text);
    }
    const typed = await ask(server, 'POST', '/api/aids/home-again', { body: '{}' });
    assert_refused(typed, 415, 'JSON');
    const none = await ask(server, 'POST', '/api/aids/gears', { body: 'x', headers: octets });
    assert_refused(none, 400, 'an aid without a file');
  });
  await claim('find takes no words, odd words and long words', async () => {
    const schema = { type: 'array', items: { $ref: '#/components/schemas/FoundLine' } };
    for (const words of ['', '%', "' or 1=1 --", '"', '\\', 'ß', '🚲', 'hub '.repeat(2000)]) {
      const answer = await ask(server, 'GET', `/api/find?q=${encodeURIComponent(words)}`);
      assert.ok([200, 422].includes(answer.status), `${words.slice(0, 20)}: ${answer.status}`);
      if (answer.status !== 200) continue;
      assert.deepEqual(judge.troubles(schema, JSON.parse(answer.text)), []);
    }
  });
  await claim('bytes that are not HTTP hurt nobody', async () => {
    for (const bytes of ['\r\n\r\n', 'GET\r\n\r\n', 'GET / HTTP/9.9\r\n\r\n',
      '\x16\x03\x01\x02\x00',
                         `GET /${'a'.repeat(70_000)} HTTP/1.1\r\n\r\n`,
                         'POST /api/orders HTTP/1.1\r\nContent-Length: -1\r\n\r\n']) {
      await new Promise((resolve) => {
        const socket = net.connect(server.port, '127.0.0.1', () => socket.end(bytes));
        socket.on('error', resolve).on('close', resolve).resume();
      });
    }
    await get(server, '/api/shop');
  });
}

// Writes ------------------------------------------------------------------------------------------

async function judge_writes(server) {
  await claim('a stale revision is 409 and nothing is lost', async () => {
    const { id, slot, held, other } = await order_with_choice(server);
    const target = `/api/orders/${id}/choices/${slot}`;
    const { revision } = await get(server, `/api/orders/${id}`);
    const first = await send(server, 'PUT', target, { part: other, revision });
    assert.equal(first.status, 200, first.text.slice(0, 200));
    assert.ok(JSON.parse(first.text).revision > revision);
    assert.equal(part_in(JSON.parse(first.text), slot), other);
    const second = await send(server, 'PUT', target, { part: held, revision });
    const stale = assert_refused(second, 409, 'the second change');
    assert.equal(stale.code, 'conflict');
    const now = await get(server, `/api/orders/${id}`);
    assert.equal(part_in(now, slot), other);
    assert.deepEqual(now, JSON.parse(first.text));
  });
  await claim('of ten people who change the same revision at once one wins', async () => {
    const { id, slot, other } = await order_with_choice(server);
    const { revision } = await get(server, `/api/orders/${id}`);
    const entries = (await get(server, '/api/journal/verify')).entries;
    const answers = await Promise.all(Array.from({ length: 10 }, () =>
      send(server, 'PUT', `/api/orders/${id}/choices/${slot}`, { part: other, revision })));
    const statuses = answers.map((answer) => answer.status).sort();
    assert.deepEqual(statuses, [200, ...Array(9).fill(409)]);
    const journal = await get(server, '/api/journal/verify');
    assert.equal(journal.whole, true, journal.sentence);
    assert.equal(journal.entries, entries + 1);
  });
  await claim('a new order is opened, chosen for, and agreed only when it is complete',
    async () => {
    const opened = await send(server, 'POST', '/api/orders', new_order);
    assert.equal(opened.status, 201, opened.text.slice(0, 300));
    let order = JSON.parse(opened.text);
    const { id } = order.line;
    assert.equal(order.line.state, 'Draft');
    assert.equal(order.rider.name, new_order.rider.name);
    assert.deepEqual(order.need, new_order.need);
    assert.equal(order.line.needed_by, new_order.needed_by);
    assert.ok(order.spec.missing.length > 5);
    assert.ok((await get(server, '/api/orders')).some((line) => line.id === id));

    const { choices } = await get(server, `/api/orders/${id}/choices/frame`);
    const frame = choices.find((choice) => choice.status === 'open')?.part.id;
    assert.ok(frame, 'no frame is open');
    const chosen = await send(server, 'PUT', `/api/orders/${id}/choices/frame`,
                              { part: frame, revision: order.revision });
    assert.equal(chosen.status, 200, chosen.text.slice(0, 200));
    order = JSON.parse(chosen.text);
    assert.equal(part_in(order, 'frame'), frame);

    const wanted = { promised: '2027-02-26', deposit_cents: 10_000, revision: order.revision };
    const refusal = assert_refused(await send(server, 'POST', `/api/orders/${id}/agree`, wanted),
                                   409, 'agree');
    assert.equal(refusal.code, 'refused');
    for (const missing of order.spec.missing) {
      assert.ok(refusal.sentence.includes(missing), `${missing} is not in: ${refusal.sentence}`);
    }
    assert.ok(!refusal.sentence.includes('no frame is chosen'));
    assert.equal((await get(server, `/api/orders/${id}`)).line.state, 'Draft');

    const emptied = await send(server, 'PUT', `/api/orders/${id}/choices/frame`,
                               { part: null, revision: order.revision });
    assert.equal(emptied.status, 200, emptied.text.slice(0, 200));
    assert.equal(part_in(JSON.parse(emptied.text), 'frame'), undefined);
  });
  await claim('an order may begin as an enquiry, which becomes a draft once more is known; as nothing else', async () => {
    const enquiry = { ...new_order, rider: { ...new_order.rider, height_mm: null, inseam_mm: null, mass_kg: null }, state: 'Enquiry' };
    const opened = await send(server, 'POST', '/api/orders', enquiry);
    assert.equal(opened.status, 201, opened.text.slice(0, 300));
    const { line } = JSON.parse(opened.text);
    assert.equal(line.state, 'Enquiry');
    const { next } = await get(server, `/api/orders/${line.id}/life`);
    const draft = next.find((move) => move.to === 'Draft');
    assert.match(draft.missing.join(), /height/);
    assert.ok(draft.to_say.some((one) => one.key === 'budget'));
    const with_words = await send(server, 'POST', '/api/orders', {
      ...enquiry, budget: { nothing_said: true }, follow_up: { day: '2026-12-08', about: 'Pia calls' },
    });
    const kept = JSON.parse(with_words.text);
    assert.deepEqual(kept.budget, { at_most_cents: null, over_cents: null });
    assert.deepEqual(kept.follow_up, { day: '2026-12-08', about: 'Pia calls', is_due: false });
    const asks = (await get(server, `/api/orders/${kept.line.id}/life`)).next.find((move) => move.to === 'Draft');
    assert.ok(!asks.to_say.some((one) => one.key === 'budget'), 'the order has its budget');
    assert_refused(await send(server, 'POST', '/api/orders', { ...enquiry, budget: { at_most_cents: 0 } }), 422, 'budget');
    assert_refused(await send(server, 'POST', '/api/orders', { ...enquiry, follow_up: { day: '2026-12-08', about: '' } }), 400, 'about');
    for (const state of ['Agreed', 'Offer', 'enquiry', '']) {
      assert_refused(await send(server, 'POST', '/api/orders', { ...new_order, state }), 400, state);
    }
  });
  await claim('what completes an order is taken over as one change, and then nothing is missing',
    async () => {
    const order = JSON.parse((await send(server, 'POST', '/api/orders', new_order)).text);
    const { id } = order.line;
    const bike = await get(server, `/api/orders/${id}/complete?aim=cheapest`);
    assert.equal(bike.aim, 'cheapest');
    assert.equal(bike.fills.reduce((sum, fill) => sum + fill.price_cents, 0), bike.price_cents);
    const { entries } = await get(server, '/api/journal/verify');
    const choices = Object.fromEntries(bike.fills.map((fill) => [fill.slot, fill.part]));
    const taken = await send(server, 'POST', `/api/orders/${id}/choices`,
                             { revision: order.revision, choices });
    assert.equal(taken.status, 200, taken.text.slice(0, 300));
    const { spec } = JSON.parse(taken.text);
    assert.deepEqual(spec.missing, []);
    assert.equal(spec.price_cents, bike.price_cents);
    assert.equal(spec.status === 'open', bike.verdict === 'fits');
    assert.equal((await get(server, '/api/journal/verify')).entries, entries + 1);
    assert.deepEqual(await get(server, `/api/orders/${id}/repairs`), []);
    const stale = await send(server, 'POST', `/api/orders/${id}/choices`,
                             { revision: order.revision, choices });
    assert.equal(assert_refused(stale, 409, 'an old revision').code, 'conflict');
  });
  await claim('a part that does not belong keeps all others from being taken over', async () => {
    const { id, slot, other } = await order_with_choice(server);
    const before = await get(server, `/api/orders/${id}`);
    const answer = await send(server, 'POST', `/api/orders/${id}/choices`,
                              { revision: before.revision, choices: { [slot]: other, frame: other } });
    assert_refused(answer, 422, 'a part in the wrong place');
    assert.deepEqual(await get(server, `/api/orders/${id}`), before);
  });
  await claim('a wish for a bike that cannot be is refused and named', async () => {
    for (const [query, field, status] of [
      ['aim=prettiest', 'aim', 400], ['aim=weighted&cents_per_kg=-1', 'cents_per_kg', 422],
      ['aim=weighted&cents_per_day=much', 'cents_per_day', 422], ['cents_per_kg=1e12', 'cents_per_kg', 422],
    ]) {
      const answer = await ask(server, 'GET', `/api/orders/2041/complete?${query}`);
      assert.equal(assert_refused(answer, status, query).field, field);
    }
  });
  await claim('a name in other letters is kept as it is, and its sheet is printed', async () => {
    const order = structuredClone(new_order);
    order.rider.name = 'Zoë "Łukasz" <b>日本🚲</b> \\ \'';
    const opened = await send(server, 'POST', '/api/orders', order);
    assert.equal(opened.status, 201, opened.text.slice(0, 200));
    const { id } = JSON.parse(opened.text).line;
    assert.equal((await get(server, `/api/orders/${id}`)).rider.name, order.rider.name);
    const pdf = await ask(server, 'GET', `/api/orders/${id}/sheet.pdf`);
    assert.equal(pdf.status, 200, pdf.text.slice(0, 200));
    assert.ok(pdf.text.startsWith('%PDF-'));
  });
  await claim('a promise being computed holds up no page', async () => {
    const promise = get(server, '/api/orders/2022/promise?draws=20000').then(() => 'promise');
    const page = get(server, '/api/orders/2022').then(() => 'order');
    assert.equal(await Promise.race([promise, page]), 'order');
    await promise;
  });
  await claim('an order that is signed is not chosen for', async () => {
    const order = await get(server, '/api/orders/2022');
    const { slot } = order.spec.slots.find((one) => one.part && !one.required);
    const answer = await send(server, 'PUT', `/api/orders/2022/choices/${slot}`,
                              { part: null, revision: order.revision });
    assert.equal(assert_refused(answer, 409, slot).code, 'refused');
    assert.deepEqual(await get(server, '/api/orders/2022'), order);
  });
}

// Live updates ------------------------------------------------------------------------------------

async function judge_events(server) {
  await claim('a second page hears of a change within a second, and catches up by number',
    async () => {
    const page = await open_events(server);
    assert.equal(page.status, 200);
    assert.match(page.headers['content-type'], /^text\/event-stream/);
    const { id, slot, held, other } = await order_with_choice(server);
    const change = async (part) => {
      const { revision } = await get(server, `/api/orders/${id}`);
      const heard = page.next(1000);
      const target = `/api/orders/${id}/choices/${slot}`;
      const answer = await send(server, 'PUT', target, { part, revision });
      assert.equal(answer.status, 200, answer.text.slice(0, 200));
      return heard;
    };
    const first = await change(other);
    assert.equal(first.event, 'changed');
    const data = JSON.parse(first.data);
    assert.deepEqual(judge.troubles({ $ref: '#/components/schemas/Changed' }, data), []);
    assert.equal(data.order, id);
    page.close();

    // The page was away for the next change.
    const { revision } = await get(server, `/api/orders/${id}`);
    await send(server, 'PUT', `/api/orders/${id}/choices/${slot}`, { part: held, revision });
    const back = await open_events(server, { 'Last-Event-ID': first.id });
    const missed = await back.next(1000);
    assert.ok(Number(missed.id) > Number(first.id));
    assert.equal(JSON.parse(missed.data).order, id);
    back.close();
  });
  await claim('a page with an event number of another life of the server still hears changes',
    async () => {
    const page = await open_events(server, { 'Last-Event-ID': '1000000' });
    const { id, slot, other } = await order_with_choice(server);
    const { revision } = await get(server, `/api/orders/${id}`);
    const heard = page.next(1500);
    heard.catch(() => {});
    await send(server, 'PUT', `/api/orders/${id}/choices/${slot}`, { part: other, revision });
    await heard;
    page.close();
  });
  await claim('with a hundred pages open the server still answers and all hear', async () => {
    const pages = await Promise.all(Array.from({ length: 100 }, () => open_events(server)));
    assert.ok(pages.every((page) => page.status === 200));
    await get(server, '/api/shop');
    const { id, slot, other } = await order_with_choice(server);
    const { revision } = await get(server, `/api/orders/${id}`);
    const heard = Promise.all(pages.map((page) => page.next(5000)));
    await send(server, 'PUT', `/api/orders/${id}/choices/${slot}`, { part: other, revision });
    const events = await heard;
    assert.ok(events.every((event) => JSON.parse(event.data).order === id));
    pages.forEach((page) => page.close());
  });
}

/** Sends a request one byte at a time; resolves to the seconds after which the server hung up. */
function trickle(server) {
  return new Promise((resolve, reject) => {
    const started = Date.now();
    const request = `GET /api/shop HTTP/1.1\r\nHost: 127.0.0.1:${server.port}\r\nX-Slow: `
      + 'a'.repeat(200);
    const socket = net.connect(server.port, '127.0.0.1');
    let sent = 0;
    const pulse = setInterval(() => socket.write(request[sent++ % request.length]), 250);
    const over = () => {
      clearInterval(pulse);
      clearTimeout(late);
      resolve((Date.now() - started) / 1000);
    };
    const late = setTimeout(() => {
      clearInterval(pulse);
      socket.destroy();
      reject(new Error('after 25 s the connection is still open'));
    }, 25_000);
    socket.on('end', over).on('close', over).on('error', () => {}).resume();
  });
}

// Starting and stopping ---------------------------------------------------------------------------

async function judge_process(server) {
  await claim('a second server at the same port ends with 8 and one sentence', async () => {
    const ran = cli(['--book', demo_book(), 'serve', '--port', String(server.port)],
      { seconds: 20 });
    assert.equal(ran.code, 8, ran.err + ran.out);
    assert.equal(ran.err.trim().split('\n').length, 1, ran.err);
    assert.ok(ran.err.includes(String(server.port)), ran.err);
  });
  await claim('an address that is not this machine is refused', async () => {
    for (const address of ['0.0.0.0', '192.0.2.1', 'shop.example.invalid']) {
      const ran = cli(['--book', demo_book(), 'serve', '--port', '0', '--address', address],
                      { seconds: 20 });
      assert.equal(ran.code, 6, `${address}: ${ran.err}`);
    }
  });
  const stop_during_promise = async (draws) => {
    const other = await start_server();
    let answered = false;
    const answer = ask(other, 'GET', `/api/orders/2022/promise?draws=${draws}`)
      .finally(() => { answered = true; });
    answer.catch(() => {});
    await wait(100);
    assert.equal(answered, false, 'the promise came before the signal could');
    const how = await other.stop();
    assert.equal(how.code, 0, `signal ${how.signal}: ${how.err}`);
    const { status, text } = await answer;
    assert.equal(status, 200, text.slice(0, 100));
    assert.equal(JSON.parse(text).draws, draws);
  };
  await claim('SIGTERM during a promise answers it and ends with 0', async () => {
    // As many draws as take about a second here.
    const { seconds } = await get(server, '/api/orders/2022/promise?draws=1000');
    await stop_during_promise(Math.max(200, Math.min(20_000, Math.round(1000 / seconds))));
  });
  await claim('even the longest promise is answered after SIGTERM', async () => {
    await stop_during_promise(20_000);
  });
  await claim('SIGTERM ends a server with open pages within 10 s', async () => {
    const other = await start_server();
    const page = await open_events(other);
    const idle = net.connect(other.port, '127.0.0.1');
    idle.on('error', () => {});
    await get(other, '/api/shop');
    const started = Date.now();
    const how = await other.stop();
    assert.equal(how.code, 0, how.err);
    assert.ok(Date.now() - started < 10_000, `${Date.now() - started} ms`);
    await page.ended;
    idle.destroy();
  });
}

// Pages -------------------------------------------------------------------------------------------

const house_headers = {
  'x-content-type-options': /^nosniff$/,
  'referrer-policy': /^(same-origin|no-referrer)$/,
  'cross-origin-resource-policy': /^same-origin$/,
  'content-security-policy': /default-src 'self'.*frame-ancestors 'none'/,
};

async function judge_pages(server) {
  await claim('every page address gives the start page', async () => {
    const start = await ask(server, 'GET', '/');
    assert.equal(start.status, 200);
    assert.match(start.headers['content-type'], /^text\/html/);
    assert.match(start.text, /<title>/i);
    for (const target of ['/index.html', '/orders/2041', '/plan', '/orders/2041?x=1']) {
      assert.equal((await ask(server, 'GET', target)).text, start.text, target);
    }
  });
  await claim('what the start page names is there, packed or not, and unchanged is 304',
    async () => {
    const start = await ask(server, 'GET', '/');
    const named = [...start.text.matchAll(/(?:src|href)="(\/[^"]+)"/g)].map((found) => found[1]);
    assert.ok(named.some((one) => one.endsWith('.js')), named.join(' '));
    for (const target of ['/', ...named]) {
      const plain = await ask(server, 'GET', target);
      assert.equal(plain.status, 200, target);
      assert.equal(plain.headers['content-encoding'], undefined, target);
      assert.match(plain.headers.etag, /^"[^"]+"$/, target);
      const again = await ask(server, 'GET', target,
        { headers: { 'If-None-Match': plain.headers.etag } });
      assert.equal(again.status, 304, target);
      assert.equal(again.bytes.length, 0, target);
      if (target.startsWith('/assets/')) assert.match(plain.headers['cache-control'], /immutable/);
      const packed = await ask(server, 'GET', target,
        { headers: { 'Accept-Encoding': 'gzip, br' } });
      assert.equal(packed.status, 200);
      if (packed.headers['content-encoding'] !== 'gzip') {
        assert.ok(!/\.(js|css|html)$|^\/$/.test(target), `${target} comes unpacked`);
        continue;
      }
      assert.deepEqual(zlib.gunzipSync(packed.bytes), plain.bytes, target);
      assert.notEqual(packed.headers.etag, plain.headers.etag, target);
      assert.match(packed.headers.vary ?? '', /accept-encoding/i, target);
    }
  });
  await claim('the worker stands at a path of its own, is asked for anew, and lists what the start page names', async () => {
    const worker = await ask(server, 'GET', '/sw.js');
    assert.equal(worker.status, 200);
    assert.match(worker.headers['content-type'], /^text\/javascript/);
    assert.equal(worker.headers['cache-control'], 'no-cache');
    const start = await ask(server, 'GET', '/');
    for (const [, named] of start.text.matchAll(/(?:src|href)="(\/[^"]+)"/g)) assert.ok(worker.text.includes(`"${named}"`), named);
  });
  await claim('every answer says its edition of the pages; a change from pages of another is 412', async () => {
    const start = await ask(server, 'GET', '/');
    const edition = /src="(\/assets\/[^"]+\.js)"/.exec(start.text)[1];
    const entries = (await get(server, '/api/journal/verify')).entries;
    for (const answer of [start, await ask(server, 'GET', '/api/shop')]) assert.equal(answer.headers['x-edition'], edition);
    assert_refused(await send(server, 'POST', '/api/orders', new_order, { 'X-Edition': '/assets/index-older.js' }), 412, 'older');
    assert.equal((await get(server, '/api/journal/verify')).entries, entries);
    assert.equal((await send(server, 'POST', '/api/orders', new_order, { 'X-Edition': edition })).status, 201);
    const read = await ask(server, 'GET', '/api/shop', { headers: { 'X-Edition': '/assets/index-older.js' } });
    assert.equal(read.status, 200, 'pages of another edition may still look');
  });
  await claim('a file that is not there is 404', async () => {
    for (const target of ['/assets/nothing.js', '/nothing.css', '/../../etc/passwd',
                          '/%2e%2e/%2e%2e/etc/passwd', '/assets/..%2findex.html']) {
      assert.equal((await ask(server, 'GET', target)).status, 404, target);
    }
  });
  await claim('every kind of answer carries the security headers', async () => {
    const answers = {
      page: await ask(server, 'GET', '/'),
      api: await ask(server, 'GET', '/api/shop'),
      missing: await ask(server, 'GET', '/assets/nothing.js'),
      'refused host': await ask(server, 'GET', '/', { headers: { Host: 'example.invalid' } }),
      pdf: await ask(server, 'GET', '/api/orders/2022/sheet.pdf'),
      'too large': await ask_too_large(server),
    };
    const page = await open_events(server);
    answers.events = page;
    page.close();
    for (const [what, { headers }] of Object.entries(answers)) {
      for (const [name, wanted] of Object.entries(house_headers)) {
        assert.match(headers[name] ?? '', wanted, `${what}: ${name}`);
      }
      if (what !== 'page') assert.equal(headers['cache-control'], 'no-store', what);
    }
  });
  await claim('one connection serves request after request', async () => {
    const keep = new http.Agent({ keepAlive: true, maxSockets: 1 });
    for (let i = 0; i < 20; ++i) {
      assert.equal((await ask(server, 'GET', '/api/shop', { keep })).status, 200);
    }
    keep.destroy();
  });
}

await house(async () => {
  await claim('the YAML reader of the pages is installed', async () => {
    assert.ok(openapi, `${root}/web/node_modules has no js-yaml; npm --prefix web ci installs it`);
  });
  if (!openapi) return;
  const server = await start_server();
  const trickled = trickle(server);
  trickled.catch(() => {});
  await judge_api_file(server);
  await judge_refusals(server);
  await judge_writes(server);
  await judge_events(server);
  await judge_pages(server);
  await judge_process(server);
  await claim('a client that trickles its request is hung up on within 15 s', async () => {
    const seconds = await trickled;
    assert.ok(seconds <= 15, `after ${seconds} s`);
  });
  await claim('every refusal keeps to the API file', async () => {
    assert.deepEqual([...new Set(refusals)].slice(0, 8), []);
  });
  await claim('after all this the journal is whole', async () => {
    const journal = await get(server, '/api/journal/verify');
    assert.equal(journal.whole, true, journal.sentence);
  });
  await claim('SIGTERM ends the server with 0', async () => {
    const how = await server.stop();
    assert.equal(how.code, 0, `signal ${how.signal}: ${how.err}`);
  });
});
