// A server with an invented shop, only for working on the pages.
//   node mock/server.mjs [port]       MOCK=full | empty | broken | slow
// It serves dist/ too, so that a built bundle can be looked at as it will be served.
import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { extname, join, normalize } from 'node:path';
import { choicesOf, clashOf, foundBy, orderLine, orderView, partRow, partView, promiseOf, purchases, shop, todayView } from './answers.mjs';
import { orders, parts, slots, today } from './book.mjs';
import { buyView, planView, sheetOf } from './plan.mjs';

const port = Number(process.argv[2] ?? 8791);
const mode = process.env.MOCK ?? 'full';
const dist = join(import.meta.dirname ?? '.', '../dist');
const types = { '.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.svg': 'image/svg+xml', '.woff2': 'font/woff2' };
const streams = new Set();

class No extends Error {
  constructor(status, code, sentence, field = '', value = '') {
    super(sentence);
    Object.assign(this, { status, code, sentence, field, value });
  }
}
const orderNamed = (id) => orders.get(id) ?? fail(404, 'not found', `There is no order ${id} in the book.`, 'id', id);
function fail(...args) { throw new No(...args); }
function changed(order, what) {
  for (const stream of streams) stream.write(`event: changed\ndata: ${JSON.stringify({ order, what })}\n\n`);
}

function choose(order, slot, { part, revision }) {
  if (revision !== order.revision) fail(409, 'conflict', `Somebody else changed order ${order.id} meanwhile; here it is as it is now.`);
  if (!slots.some((s) => s.slot === slot)) fail(404, 'not found', `No position is called ${slot}.`, 'slot', slot);
  if (part) order.choices[slot] = part; else delete order.choices[slot];
  order.revision += 1;
  changed(order.id, `chose ${part ?? 'nothing'} for ${slot}`);
  return orderView(order);
}
function agree(order, { promised, deposit_cents, revision }) {
  if (revision !== order.revision) fail(409, 'conflict', `Somebody else changed order ${order.id} meanwhile.`);
  const view = orderView(order);
  if (view.spec.missing.length) fail(409, 'refused', `An order can be agreed when nothing is missing; this one still lacks: ${view.spec.missing.join(', ')}.`);
  if (promised < today) fail(422, 'out of range', 'A bike cannot be promised for a day that is past.', 'promised', promised);
  Object.assign(order, { promised, deposit: deposit_cents, state: 'Agreed', revision: order.revision + 1 });
  changed(order.id, 'agreed');
  return orderView(order);
}
function open(body) {
  if (!body.rider.name.trim()) fail(400, 'bad input', 'A rider needs a name.', 'rider.name', body.rider.name);
  if (!body.need.words.trim()) fail(400, 'bad input', 'Write down what the bike is for, in the rider’s own words.', 'need.words', '');
  if (body.rider.height_mm !== null && (body.rider.height_mm < 900 || body.rider.height_mm > 2300)) fail(422, 'out of range', 'A rider is between 90 and 230 cm tall.', 'rider.height_mm', String(body.rider.height_mm));
  const id = String(Math.max(...[...orders.keys()].map(Number)) + 1);
  orders.set(id, { id, rider: body.rider.name, need: body.need.words, state: 'Enquiry', promised: null, flags: [], choices: {}, revision: 1, needed_by: body.needed_by, held: '', deposit: 0 });
  changed(id, 'opened');
  return orderView(orders.get(id));
}

const empty = mode === 'empty';
const gets = [
  [/^\/api\/shop$/, () => shop],
  [/^\/api\/today$/, () => (empty ? { day: today, lines: [] } : todayView())],
  [/^\/api\/orders$/, () => (empty ? [] : [...orders.values()].map(orderLine))],
  [/^\/api\/orders\/([^/]+)$/, (id) => orderView(orderNamed(id))],
  [/^\/api\/orders\/([^/]+)\/choices\/([^/]+)$/, (id, slot) => choicesOf(orderNamed(id), slot)],
  [/^\/api\/orders\/([^/]+)\/why-not\/([^/]+)\/([^/]+)$/, (id, slot, part) => clashOf(orderNamed(id), slot, part)],
  [/^\/api\/orders\/([^/]+)\/promise$/, (id, query) => (id === '2047' ? fail(409, 'refused', 'A day can be promised when the specification is whole; this one lacks most of its parts.') : promiseOf(orderNamed(id), Number(query.get('draws') ?? 2000)))],
  [/^\/api\/orders\/([^/]+)\/sheet$/, (id) => (id === '2047' ? fail(409, 'refused', 'There is no sheet yet: the specification lacks a fork, wheels and 27 more parts.') : sheetOf(orderNamed(id)))],
  [/^\/api\/plan$/, () => (empty ? { ...planView(), sentence: 'Nothing is planned.', arrivals: [], orders: [], people: [] } : planView())],
  [/^\/api\/buy$/, () => (empty ? { sentence: 'Nothing has to be bought now.', groups: [], no_offer: [] } : buyView())],
  [/^\/api\/parts$/, () => (empty ? { parts: [], purchases: [] } : { parts: [...parts.values()].map(partRow), purchases })],
  [/^\/api\/parts\/([^/]+)$/, (id) => partView(parts.get(id) ?? fail(404, 'not found', `No part has the number ${id}.`, 'id', id))],
  [/^\/api\/find$/, (query) => foundBy(query.get('q') ?? '')],
  [/^\/api\/journal\/verify$/, () => ({ entries: 1284, whole: true, sentence: 'All 1284 entries follow from one another; nothing was altered.', last_hash: '9f3c1d7a52e0b4c88d1e6a7f90b2c3d45e6f708192a3b4c5d6e7f8091a2b3c4d' })],
];
const body = (request) => new Promise((resolve) => { let text = ''; request.on('data', (c) => (text += c)); request.on('end', () => resolve(JSON.parse(text || '{}'))); });
const wait = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

async function answer(request, url) {
  if (mode === 'broken' && url.pathname !== '/api/shop') fail(503, 'unavailable', 'The book cannot be opened: the disk says that it is full.');
  if (mode === 'slow') await wait(1500);
  const path = url.pathname.split('/').map(decodeURIComponent);
  if (request.method === 'PUT' && path[4] === 'choices') return [200, choose(orderNamed(path[3]), path[5], await body(request))];
  if (request.method === 'POST' && path[4] === 'agree') return [200, agree(orderNamed(path[3]), await body(request))];
  if (request.method === 'POST' && url.pathname === '/api/orders') return [201, open(await body(request))];
  for (const [pattern, make] of gets) {
    const match = pattern.exec(url.pathname);
    if (match) return [200, make(...match.slice(1).map(decodeURIComponent), url.searchParams)];
  }
  return fail(404, 'not found', `Nothing is at ${url.pathname}.`);
}

async function file(response, pathname) {
  const name = extname(pathname) ? normalize(pathname) : '/index.html';
  try {
    const bytes = await readFile(join(dist, name));
    response.writeHead(200, { 'content-type': types[extname(name)] ?? 'application/octet-stream' }).end(bytes);
  } catch {
    response.writeHead(404).end('not built');
  }
}

createServer(async (request, response) => {
  const url = new URL(request.url, 'http://shop');
  if (!url.pathname.startsWith('/api/')) return file(response, url.pathname);
  if (url.pathname === '/api/events') {
    if (mode === 'broken') return response.writeHead(503).end();
    response.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store' });
    response.write(': here\n\n');
    streams.add(response);
    const beat = setInterval(() => response.write(': heartbeat\n\n'), 15_000);
    return request.on('close', () => { streams.delete(response); clearInterval(beat); });
  }
  try {
    const [status, json] = await answer(request, url);
    response.writeHead(status, { 'content-type': 'application/json' }).end(JSON.stringify(json));
  } catch (error) {
    const no = error instanceof No ? error : new No(500, 'damaged', String(error?.stack ?? error));
    response.writeHead(no.status, { 'content-type': 'application/json' }).end(JSON.stringify({ code: no.code, sentence: no.sentence, field: no.field, value: no.value }));
  }
}).listen(port, '127.0.0.1', () => console.log(`invented shop at http://127.0.0.1:${port} (${mode})`));
