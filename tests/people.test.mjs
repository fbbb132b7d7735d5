// People and signing in, as pages, programs and ill-meaning people of the network see it.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import http from 'node:http';
import { claim, demo_book, house, program, run, start_server, wait } from './house.mjs';
import { read_openapi } from './schema.mjs';

const password = 'seven quiet freewheels';
const of_pia = 'no two spokes alike';

/** One request on a connection of its own: {status, headers, json(), text}. */
function ask(server, method, target, { value, headers = {}, cookies } = {}) {
  return new Promise((resolve, reject) => {
    const body = value === undefined ? undefined : JSON.stringify(value);
    const all = { ...headers };
    if (body !== undefined) {
      all['Content-Type'] ??= 'application/json';
      all['Content-Length'] = Buffer.byteLength(body);
    }
    if (cookies && Object.keys(cookies).length > 0) {
      all.Cookie = Object.entries(cookies).map(([name, text]) => `${name}=${text}`).join('; ');
    }
    const request = http.request(
      { host: '127.0.0.1', port: server.port, method, path: target, headers: all, agent: false },
      (response) => {
        let text = '';
        response.setEncoding('utf8').on('data', (more) => { text += more; });
        response.on('error', reject);
        response.on('end', () => resolve({ status: response.statusCode, headers: response.headers, text,
                                           json: () => JSON.parse(text) }));
      });
    request.setTimeout(30_000, () => request.destroy(new Error(`${method} ${target}: no answer`)));
    request.on('error', reject);
    request.end(body);
  });
}

/** A browser: keeps the cookies that it is given. */
function browser(server) {
  const cookies = {};
  return {
    cookies,
    async ask(method, target, value, headers = {}) {
      const answer = await ask(server, method, target, { value, headers, cookies });
      for (const line of answer.headers['set-cookie'] ?? []) {
        const [, name, text] = line.match(/^([^=]+)=([^;]*)/);
        if (text) cookies[name] = text; else delete cookies[name];
      }
      return answer;
    },
    get: function get(target) { return this.ask('GET', target); },
    post: function post(target, value = {}) { return this.ask('POST', target, value); },
    put: function put(target, value) { return this.ask('PUT', target, value); },
    async sign_in(person, said) {
      const answer = await this.post('/api/sign-in', { person, password: said });
      assert.equal(answer.status, 200, answer.text);
      return this;
    },
  };
}

const say = (book, args, said) => run(program, ['--book', book, ...args], { input: said });

function assert_refused(answer, status, words) {
  assert.equal(answer.status, status, answer.text.slice(0, 200));
  assert.match(answer.json().sentence, words);
}

/** A book of the demo in which mara owns the shop, pia is of the desk and two have PINs. */
function closed_book() {
  const book = demo_book();
  for (const [args, said] of [[['make-owner', 'mara'], password], [['set-password', 'pia'], of_pia],
                              [['set-pin', 'jonas'], '2580'], [['set-pin', 'ilka'], '73915826'],
                              [['set-pin', 'mara'], '90817264']]) {
    const ran = say(book, args, `${said}\n`);
    assert.equal(ran.code, 0, `${args.join(' ')}: ${ran.err}`);
  }
  return book;
}

/** A tablet that the owner has made a station. */
async function station_of(server, name = 'Bench by the door') {
  const tablet = await browser(server).sign_in('mara', password);
  const paired = await tablet.post('/api/stations', { name });
  assert.equal(paired.status, 201, paired.text);
  return tablet;
}

async function at_bench(server, person, pin) {
  const tablet = await station_of(server);
  const answer = await tablet.post('/api/bench/sign-in', { person, pin });
  assert.equal(answer.status, 200, answer.text);
  return tablet;
}

/** Who wrote the newest entries of the journal, newest first. */
function journal_of(book, most = 1) {
  const ran = run('sqlite3', [book, '-json',
    `select who, what, why, subject, before, after from journal order by seq desc limit ${most}`]);
  assert.equal(ran.code, 0, ran.err);
  return JSON.parse(ran.out);
}

// The first run -----------------------------------------------------------------------------------

async function judge_first_run() {
  const server = await start_server();
  await claim('until somebody has a password everybody may do everything, and is told so', async () => {
    const anybody = browser(server);
    assert.deepEqual((await anybody.get('/api/me')).json(),
      { open: true, person: '', name: '', roles: [], at: '', station: '' });
    assert.equal((await anybody.get('/api/orders')).status, 200);
    const away = await anybody.post('/api/people/jonas/absences', { from: '2026-12-07', to: '2026-12-07' });
    assert.equal(away.status, 200, away.text.slice(0, 100));
    assert.equal(journal_of(server.book)[0].who, 'desk');
  });
  await claim('before there is an owner nobody signs in, gets a secret or makes a station', async () => {
    const anybody = browser(server);
    for (const [method, target, value] of [
      ['POST', '/api/sign-in', { person: 'mara', password }],
      ['PUT', '/api/people/pia/password', { password: of_pia, your_password: '' }],
      ['PUT', '/api/people/pia/pin', { pin: '2580', your_password: '' }],
      ['POST', '/api/people/pia/take-away', { your_password: '' }],
      ['POST', '/api/stations', { name: 'Bench' }], ['GET', '/api/bench/people'],
      ['POST', '/api/bench/sign-in', { person: 'jonas', pin: '2580' }]]) {
      const answer = await anybody.ask(method, target, value);
      assert_refused(answer, 409, /make the owner first/);
    }
    assert_refused(await anybody.post('/api/people/first', { person: 'mara', password: 'short' }), 400, /10 characters/);
    assert.equal((await anybody.get('/api/me')).json().open, true);
  });
  await claim('a page of another site cannot make itself the owner', async () => {
    const value = { person: 'mara', password };
    const other = await ask(server, 'POST', '/api/people/first', { value, headers: { Origin: 'http://example.invalid' } });
    assert.equal(other.status, 403);
    const form = await ask(server, 'POST', '/api/people/first', { value, headers: { 'Content-Type': 'text/plain' } });
    assert.equal(form.status, 415);
  });
  await claim('of two who would be the first owner at once one is', async () => {
    const [mara, eve] = await Promise.all([
      browser(server).post('/api/people/first', { person: 'mara', password }),
      browser(server).post('/api/people/first', { name: 'Eve Invented', password }),
    ]);
    assert.deepEqual([mara.status, eve.status].sort(), [201, 409]);
    const made = mara.status === 201 ? mara : eve;
    assert.equal(made.json().at, 'desk');
    assert.equal((await ask(server, 'GET', '/api/orders')).status, 401);
  });
  await server.stop();
  await claim('somebody new becomes the owner, and the plan is none the worse', async () => {
    const fresh = await start_server();
    const owner = browser(fresh);
    const made = await owner.post('/api/people/first', { name: 'Zoë Invented', password });
    assert.equal(made.status, 201, made.text);
    assert.deepEqual(made.json(), { open: false, person: 'zo-invented', name: 'Zoë Invented', roles: ['owner'], at: 'desk', station: '' });
    for (const target of ['/api/plan', '/api/today', '/api/load', '/api/orders/2022/promise?draws=50']) {
      assert.equal((await owner.get(target)).status, 200, target);
    }
    assert.deepEqual(journal_of(fresh.book).map(({ who, what }) => [who, what]), [['zo-invented', 'make owner']]);
    await fresh.stop();
    assert.equal(run(program, ['--book', fresh.book, 'verify']).code, 0);
  });
}

// Signed out and in -------------------------------------------------------------------------------

async function judge_signing_in(server) {
  await claim('without a session every address but those of signing in is 401', async () => {
    const open_to_all = ['GET /api/health', 'GET /api/me', 'POST /api/sign-in', 'POST /api/sign-out', 'POST /api/people/first'];
    const for_stations = ['GET /api/bench/people', 'POST /api/bench/sign-in'];
    const paths = read_openapi()?.paths ?? {};
    let asked = 0;
    for (const [path, methods] of Object.entries(paths)) {
      for (const method of Object.keys(methods)) {
        const name = `${method.toUpperCase()} ${path}`;
        if (method === 'parameters' || open_to_all.includes(name)) continue;
        const [type] = Object.keys(methods[method].requestBody?.content ?? {});
        const headers = type ? { 'Content-Type': type } : {};
        const answer = await ask(server, method.toUpperCase(), path.replaceAll(/\{\w+\}/g, 'x'),
          { value: method === 'get' ? undefined : {}, headers });
        assert.equal(answer.status, for_stations.includes(name) ? 403 : 401, `${name}: ${answer.text.slice(0, 100)}`);
        asked += 1;
      }
    }
    assert.ok(asked > 55, `${asked} operations`);
  });
  await claim('signed out, nobody learns which addresses there are; pages and health are for all', async () => {
    assert.equal((await ask(server, 'GET', '/api/nothing')).status, 401);
    assert.equal((await ask(server, 'DELETE', '/api/orders/2022')).status, 401);
    assert.equal((await ask(server, 'HEAD', '/api/orders')).status, 401);
    assert.deepEqual((await ask(server, 'GET', '/api/health')).json(), { well: true });
    for (const target of ['/', '/sign-in', '/orders/2022']) assert.equal((await ask(server, 'GET', target)).status, 200, target);
  });
  await claim('a large list is not read for somebody who is not signed in', async () => {
    const value = { text: 'x'.repeat(2 * 1024 * 1024) };
    const answer = await ask(server, 'POST', '/api/catalogue/propose', { value });
    assert_refused(answer, 413, /at most 1 MiB/);
    const pia = await browser(server).sign_in('pia', of_pia);
    assert.equal((await pia.post('/api/catalogue/propose', value)).status, 400, 'the desk is told what is missing');
  });
  await claim('a made-up or empty token opens nothing', async () => {
    for (const token of ['', 'x', '0'.repeat(64), `${'a'.repeat(63)}\u0001`]) {
      const answer = await ask(server, 'GET', '/api/orders', { headers: { Cookie: `rollwright_session=${token}` } }).catch(() => ({ status: 401 }));
      assert.equal(answer.status, 401, token);
    }
  });
  await claim('the session is a cookie that scripts cannot read and other sites do not send', async () => {
    const answer = await browser(server).post('/api/sign-in', { person: 'MARA ', password });
    assert.equal(answer.status, 200, answer.text);
    const [cookie, ...more] = answer.headers['set-cookie'];
    assert.deepEqual(more, []);
    assert.match(cookie, /^rollwright_session=[0-9a-f]{64}; Path=\/; HttpOnly; SameSite=Strict; Max-Age=43200$/);
    assert.equal(answer.headers['cache-control'], 'no-store');
    assert.deepEqual(answer.json(), { open: false, person: 'mara', name: 'Mara Hollis', roles: ['owner', 'desk', 'bench'], at: 'desk', station: '' });
  });
  await claim('signing in gives a new token and ends the one of before', async () => {
    const mara = await browser(server).sign_in('mara', password);
    const before = { ...mara.cookies };
    await mara.sign_in('mara', password);
    assert.notEqual(mara.cookies.rollwright_session, before.rollwright_session);
    assert.equal((await ask(server, 'GET', '/api/orders', { cookies: before })).status, 401);
    assert.equal((await mara.get('/api/orders')).status, 200);
  });
  await claim('signing out ends the session, not only the cookie', async () => {
    const mara = await browser(server).sign_in('mara', password);
    const before = { ...mara.cookies };
    const out = await mara.post('/api/sign-out');
    assert.match(out.headers['set-cookie'][0], /^rollwright_session=; .*Max-Age=0/);
    assert.equal(out.json().person, '');
    assert.equal((await ask(server, 'GET', '/api/orders', { cookies: before })).status, 401);
  });
  await claim('a page of another site can neither sign in nor out, nor write with the cookie', async () => {
    const mara = await browser(server).sign_in('mara', password);
    for (const [target, value] of [['/api/sign-in', { person: 'mara', password }], ['/api/sign-out', {}],
                                   ['/api/stations', { name: 'Theirs' }]]) {
      const there = await mara.ask('POST', target, value, { Origin: 'http://example.invalid' });
      assert.equal(there.status, 403, target);
      assert.equal((await mara.ask('POST', target, value, { Host: 'example.invalid' })).status, 421, target);
      assert.equal((await mara.ask('POST', target, value, { 'Content-Type': 'text/plain' })).status, 415, target);
    }
    assert.equal((await mara.get('/api/people')).json().stations.some(({ name }) => name === 'Theirs'), false);
  });
  await claim('there is no second first owner', async () => {
    const answer = await browser(server).post('/api/people/first', { name: 'Eve Invented', password });
    assert_refused(answer, 409, /owner already/);
  });
}

async function judge_two_people(server) {
  await claim('what two people write stands in the journal under their names', async () => {
    const mara = await browser(server).sign_in('mara', password);
    const pia = await browser(server).sign_in('pia', of_pia);
    for (const [who, one, day] of [['mara', mara, '2026-12-09'], ['pia', pia, '2026-12-10']]) {
      const answer = await one.ask('POST', '/api/people/tove/absences', { from: day }, { 'X-Who': 'somebody' });
      assert.equal(answer.status, 200, answer.text.slice(0, 100));
      assert.equal(journal_of(server.book)[0].who, who);
    }
    const body = await pia.post('/api/people/tove/absences', { from: '2026-12-11', who: 'mara' });
    assert.equal(body.status, 400, 'nobody writes under another name');
  });
  await claim('the desk may do orders, parts, purchases and the plan, and nothing about people', async () => {
    const pia = await browser(server).sign_in('pia', of_pia);
    const { number } = (await pia.get('/api/plan')).json();
    assert.equal((await pia.post('/api/plan/proposals', { over: number })).status, 201);
    assert_refused(await pia.get('/api/people'), 403, /Pia Lindqvast may not.*owner/);
    for (const [method, target, value] of [
      ['PUT', '/api/people/mara/password', { password: of_pia, your_password: of_pia }],
      ['PUT', '/api/people/jonas/pin', { pin: '4711', your_password: of_pia }],
      ['POST', '/api/people/mara/take-away', { your_password: of_pia }],
      ['POST', '/api/stations', { name: 'Hers' }], ['POST', '/api/stations/1/leave', {}]]) {
      assert_refused(await pia.ask(method, target, value), 403, /owner/);
    }
    assert.equal((await pia.get('/api/orders/none')).status, 404);
    assert.equal((await pia.ask('DELETE', '/api/orders/2022')).status, 405);
  });
  await claim('everybody may set their own password, with the old one, and it ends the other sessions', async () => {
    const pia = await browser(server).sign_in('pia', of_pia);
    const other = await browser(server).sign_in('pia', of_pia);
    const wrong = await pia.put('/api/people/pia/password', { password: 'rims before hubs', your_password: 'guessed this one' });
    assert_refused(wrong, 401, /not right/);
    const set = await pia.put('/api/people/pia/password', { password: 'rims before hubs', your_password: of_pia });
    assert.equal(set.status, 200, set.text);
    assert.equal((await pia.get('/api/orders')).status, 200, 'this browser goes on');
    assert.equal((await other.get('/api/orders')).status, 401);
    assert.equal((await browser(server).post('/api/sign-in', { person: 'pia', password: of_pia })).status, 401);
    const back = await pia.put('/api/people/pia/password', { password: of_pia, your_password: 'rims before hubs' });
    assert.equal(back.status, 200, back.text);
  });
  await claim('a password set at the command line ends sessions of a running server', async () => {
    const pia = await browser(server).sign_in('pia', of_pia);
    assert.equal(say(server.book, ['set-password', 'pia'], 'dished to the middle\n').code, 0);
    assert.equal((await pia.get('/api/orders')).status, 401);
    assert.equal(say(server.book, ['set-password', 'Pia Lindqvast'], `${of_pia}\n`).code, 0);
  });
  await claim('the last owner who can sign in stays one', async () => {
    const mara = await browser(server).sign_in('mara', password);
    const last = await mara.post('/api/people/mara/take-away', { your_password: password });
    assert_refused(last, 409, /last owner/);
    assert.equal((await mara.get('/api/people')).status, 200);
  });
  await claim('taking sign-in away ends the session at once', async () => {
    const mara = await browser(server).sign_in('mara', password);
    const pia = await browser(server).sign_in('pia', of_pia);
    const unsure = await mara.post('/api/people/pia/take-away', { your_password: 'not the one' });
    assert_refused(unsure, 401, /not right/);
    const taken = await mara.post('/api/people/pia/take-away', { your_password: password });
    assert.deepEqual(taken.json(), { id: 'pia', name: 'Pia Lindqvast', roles: ['desk', 'bench'], has_password: false, has_pin: false });
    assert.equal((await pia.get('/api/orders')).status, 401);
    assert.equal((await browser(server).post('/api/sign-in', { person: 'pia', password: of_pia })).status, 401);
    const again = await mara.put('/api/people/pia/password', { password: of_pia, your_password: password });
    assert.equal(again.status, 200);
  });
}

// The bench ---------------------------------------------------------------------------------------

async function judge_bench(server) {
  await claim('a PIN opens nothing but at a station', async () => {
    const anybody = browser(server);
    const answer = await anybody.post('/api/bench/sign-in', { person: 'jonas', pin: '2580' });
    assert_refused(answer, 403, /station/);
    assert_refused(await anybody.get('/api/bench/people'), 403, /station/);
    assert.equal((await anybody.post('/api/sign-in', { person: 'jonas', password: '2580' })).status, 401);
  });
  await claim('a tablet stays a station while people change at it by PIN', async () => {
    const tablet = await station_of(server);
    assert.equal((await tablet.get('/api/orders')).status, 401, 'the owner did not stay signed in there');
    const there = (await tablet.get('/api/bench/people')).json();
    assert.deepEqual(there.map(({ id, name }) => [id, name]),
      [['ilka', 'Ilka Brandow'], ['jonas', 'Jonas Ward'], ['mara', 'Mara Hollis']]);
    for (const { id, code } of there) assert.match(code, new RegExp(`^RW:P:${id.toUpperCase()}:.$`));
    for (const [person, pin, day] of [['jonas', '2580', '2026-12-14'], ['ilka', '73915826', '2026-12-15']]) {
      const me = await tablet.post('/api/bench/sign-in', { person, pin });
      assert.deepEqual([me.status, me.json().person, me.json().roles, me.json().station], [200, person, ['bench'], 'Bench by the door']);
      assert.equal((await tablet.post(`/api/people/${person}/absences`, { from: day })).status, 200);
      assert.equal(journal_of(server.book)[0].who, person);
    }
    await tablet.post('/api/sign-out');
    assert.equal((await tablet.get('/api/me')).json().station, 'Bench by the door');
  });
  await claim('the bench does its own work, goods-in, reading and looking, and no more', async () => {
    const jonas = await at_bench(server, 'jonas', '2580');
    for (const target of ['/api/orders/2022', '/api/plan', '/api/orders/2022/sheet.pdf', '/api/arrivals', '/api/journal/verify']) {
      assert.equal((await jonas.get(target)).status, 200, target);
    }
    const fact = await jonas.put('/api/parts/TY-0001/facts/tyre_width',
      { value: '46.4 mm', standing: 'measured', by: 'jonas', source: 'calliper' });
    assert.equal(fact.status, 200, fact.text.slice(0, 200));
    assert.equal(journal_of(server.book)[0].who, 'jonas');
    for (const [method, target, value] of [
      ['POST', '/api/orders', {}], ['POST', '/api/orders/2022/agree', {}], ['POST', '/api/purchases', {}],
      ['PUT', '/api/plan/settings', {}], ['POST', '/api/plan/proposals', {}], ['POST', '/api/catalogue/undo', {}],
      ['POST', '/api/people/ilka/absences', { from: '2026-12-16' }], ['GET', '/api/people']]) {
      assert_refused(await jonas.ask(method, target, value), 403, /Jonas Ward may not do this: it takes the role/);
    }
  });
  await claim('nobody writes into a bike\u2019s record under the name of another', async () => {
    const jonas = await at_bench(server, 'jonas', '2580');
    const record = (who) => jonas.post('/api/bench/2016/record', { who, key: `by ${who}`, deeds: [{ deed: 'noted', note: 'seen' }] });
    assert_refused(await record('mara'), 403, /jonas is signed in here; mara signs in/);
    assert_refused(await record('Mara Hollis'), 403, /jonas is signed in here/);
    assert.equal((await record('jonas')).status, 200);
    const desk = await browser(server).sign_in('mara', password);
    assert.equal((await desk.post('/api/bench/2016/record', { who: 'jonas', key: 'x', deeds: [{ deed: 'noted', note: 'seen' }] })).status, 403);
  });
  await claim('an order is moved on under one\u2019s own name, and by PIN only within the workshop', async () => {
    const mara = await at_bench(server, 'mara', '90817264');
    const { revision } = (await mara.get('/api/orders/2016')).json();
    const move = (one, to, by) => one.post('/api/orders/2016/move-to', { to, by, said: {}, note: '', revision });
    assert_refused(await move(mara, 'Cancelled', 'mara'), 403, /PIN moves an order only within the workshop/);
    assert_refused(await move(mara, 'Checking', 'jonas'), 403, /mara is signed in here; jonas/);
    const within = await move(mara, 'Checking', 'mara');
    assert.notEqual(within.status, 403, within.text);
    const desk = await browser(server).sign_in('mara', password);
    assert_refused(await move(desk, 'Cancelled', 'pia'), 403, /mara is signed in here; pia/);
  });
  await claim('an owner who signed in with a PIN has the rights of the bench only', async () => {
    const mara = await at_bench(server, 'mara', '90817264');
    assert.deepEqual((await mara.get('/api/me')).json().roles, ['bench']);
    assert_refused(await mara.get('/api/people'), 403, /password/);
    assert_refused(await mara.post('/api/purchases'), 403, /password/);
  });
  await claim('a session of the bench is worth nothing away from its station', async () => {
    const jonas = await at_bench(server, 'jonas', '2580');
    const { rollwright_session } = jonas.cookies;
    assert.equal((await ask(server, 'GET', '/api/orders', { cookies: { rollwright_session } })).status, 401);
    assert.equal((await jonas.get('/api/orders')).status, 401, 'and it is over then');
  });
  await claim('a station that is let go, and a PIN that is changed, end who is there', async () => {
    const mara = await browser(server).sign_in('mara', password);
    const jonas = await at_bench(server, 'jonas', '2580');
    assert.equal((await mara.put('/api/people/jonas/pin', { pin: '36925', your_password: password })).status, 200);
    assert.equal((await jonas.get('/api/orders')).status, 401);
    assert.equal((await jonas.post('/api/bench/sign-in', { person: 'jonas', pin: '36925' })).status, 200);
    const { stations } = (await mara.get('/api/people')).json();
    for (const { number } of stations) assert.equal((await mara.post(`/api/stations/${number}/leave`)).status, 200);
    assert.equal((await jonas.get('/api/orders')).status, 401);
    assert.equal((await jonas.post('/api/bench/sign-in', { person: 'jonas', pin: '36925' })).status, 403);
    assert.equal((await mara.put('/api/people/jonas/pin', { pin: '2580', your_password: password })).status, 200);
  });
}

// Tries -------------------------------------------------------------------------------------------

async function judge_tries() {
  const server = await start_server({ book: closed_book() });
  await claim('a wrong password, an unknown name and a person without one are told the same, as slowly', async () => {
    const answers = {};
    for (const person of ['mara', 'nobody', 'senad']) {
      const began = performance.now();
      const answer = await browser(server).post('/api/sign-in', { person, password: 'a wrong long guess' });
      answers[person] = { status: answer.status, text: answer.text, took: performance.now() - began };
    }
    assert.equal(answers.mara.status, 401);
    for (const other of ['nobody', 'senad']) {
      assert.equal(answers[other].status, 401);
      assert.equal(answers[other].text, answers.mara.text);
      const ratio = answers[other].took / answers.mara.took;
      assert.ok(ratio > 0.2 && ratio < 5, `${other}: ${answers[other].took} ms against ${answers.mara.took} ms`);
    }
    assert.equal(answers.mara.text.includes('guess'), false);
  });
  await claim('after three wrong tries the person waits, whether there is such a person or not', async () => {
    for (const person of ['mara', 'nobody']) {
      const tries = [];
      for (let i = 0; i < 3; ++i) tries.push((await browser(server).post('/api/sign-in', { person, password: 'wrong again' })).status);
      const held = await browser(server).post('/api/sign-in', { person, password });
      assert_refused(held, 429, /too many wrong tries; wait \d+ s/);
      assert.ok(Number(held.headers['retry-after']) >= 1, held.headers['retry-after']);
      assert.deepEqual(tries.slice(0, 2), [401, 401], person);
    }
    assert.equal((await browser(server).post('/api/sign-in', { person: 'pia', password: of_pia })).status, 200, 'others do not');
  });
  await claim('many tries at once are judged no oftener than one after the other', async () => {
    const answers = await Promise.all(Array.from({ length: 12 }, (_, i) =>
      browser(server).post('/api/sign-in', { person: 'tove', password: `guess number ${i}` })));
    const judged = answers.filter(({ status }) => status === 401).length;
    assert.ok(judged <= 4, `${judged} were judged`);  // one more, should the wait be over by then
  });
  await claim('after five wrong PINs the password has to be said once', async () => {
    const tablet = await station_of_waiting(server);
    let wrong = 0;
    for (const until = Date.now() + 60_000; wrong < 5 && Date.now() < until;) {
      const answer = await tablet.post('/api/bench/sign-in', { person: 'mara', pin: '1111' });
      if (answer.status === 401) wrong += 1;
      else await wait(1000 * Number(answer.headers['retry-after'] ?? 1));
    }
    assert.equal(wrong, 5);
    await wait(5000);
    assert_refused(await tablet.post('/api/bench/sign-in', { person: 'mara', pin: '90817264' }), 403, /five|too many wrong PINs/);
    assert.equal((await tablet.post('/api/bench/sign-in', { person: 'jonas', pin: '2580' })).status, 200, 'others go on');
    await browser(server).sign_in('mara', password);
    assert.equal((await tablet.post('/api/bench/sign-in', { person: 'mara', pin: '90817264' })).status, 200);
  });
  await claim('a name of any length and shape is refused and does no harm', async () => {
    for (const person of ['', ' ', "' or 1=1 --", 'x'.repeat(5000), '\u202e', 'mara\u0000', '🚲']) {
      const answer = await browser(server).post('/api/sign-in', { person, password });
      assert.ok([400, 401, 429].includes(answer.status), `${person.slice(0, 10)}: ${answer.status}`);
    }
    assert_refused(await browser(server).post('/api/sign-in', { person: 'mara', password: 12345678901 }), 400, /text/);
    const said = await browser(server).post('/api/sign-in', { person: 'mara', password: ['secret words'] });
    assert.equal(said.text.includes('secret words'), false, 'an error does not repeat what was said');
  });
  await server.stop();
}

/** As station_of, once the owner need not wait any more. */
async function station_of_waiting(server) {
  for (let i = 0; i < 30; ++i) {
    const owner = browser(server);
    const answer = await owner.post('/api/sign-in', { person: 'mara', password });
    if (answer.status === 200) {
      assert.equal((await owner.post('/api/stations', { name: 'Bench' })).status, 201);
      return owner;
    }
    assert.equal(answer.status, 429, answer.text);
    await wait(1000 * Number(answer.headers['retry-after']));
  }
  throw new Error('the owner waits for ever');
}

// What goes on beside -----------------------------------------------------------------------------

async function judge_streams(server) {
  const open = (cookies) => new Promise((resolve, reject) => {
    const Cookie = Object.entries(cookies).map(([name, text]) => `${name}=${text}`).join('; ');
    http.get({ host: '127.0.0.1', port: server.port, path: '/api/events', headers: { Cookie }, agent: false }, (response) => {
      let text = '';
      response.setEncoding('utf8').on('data', (more) => { text += more; });
      resolve({ status: response.statusCode, text: () => text, ended: new Promise((over) => response.on('close', over)) });
    }).on('error', reject);
  });
  await claim('the stream of events is for those signed in, and ends when they sign out', async () => {
    assert.equal((await open({})).status, 401);
    const pia = await browser(server).sign_in('pia', of_pia);
    const stream = await open(pia.cookies);
    assert.equal(stream.status, 200);
    await pia.post('/api/people/tove/absences', { from: '2026-12-18' });
    for (let i = 0; i < 50 && !stream.text().includes('event: changed'); ++i) await wait(50);
    assert.match(stream.text(), /event: changed/);
    await pia.post('/api/sign-out');
    const late = Symbol('late');
    const first = await Promise.race([stream.ended.then(() => 'ended'), wait(20_000).then(() => late)]);
    assert.equal(first, 'ended');
    const before = stream.text();
    assert.equal(before.includes('2026-12-19'), false);
  });
  await claim('sheets and calendars are for those signed in', async () => {
    for (const target of ['/api/orders/2022/sheet.pdf', '/api/people/mara/plan.ics']) {
      assert.equal((await ask(server, 'GET', target)).status, 401, target);
    }
  });
}

async function judge_book(server) {
  await claim('the journal says that something was set, by whom, and nothing of what', async () => {
    const entries = journal_of(server.book, 1000).filter(({ subject }) => subject.startsWith('sign-in of'));
    assert.ok(entries.length >= 8, `${entries.length} entries`);
    for (const { who, before, after } of entries) {
      assert.ok(['command line', 'mara', 'pia'].includes(who), who);
      for (const text of [before, after]) {
        assert.equal(/argon2|\$/.test(text), false, text);
        if (text) assert.deepEqual(Object.keys(JSON.parse(text)), ['password', 'pin', 'mark']);
      }
    }
  });
  await claim('neither book nor journal holds a password, a PIN or a token', async () => {
    const dump = run('sqlite3', [server.book, '.dump']).out;
    for (const secret of [password, of_pia, '73915826', '90817264']) assert.equal(dump.includes(secret), false, secret);
    const mara = await browser(server).sign_in('mara', password);
    const bytes = fs.readFileSync(server.book).toString('latin1');
    assert.equal(bytes.includes(mara.cookies.rollwright_session), false);
    assert.match(dump, /\$argon2id\$v=19\$m=65536,t=3,p=1\$/);
  });
  await claim('verify finds a password that was changed, added or taken past the journal', async () => {
    const book = closed_book();
    assert.equal(run(program, ['--book', book, 'verify']).code, 0);
    for (const [sql, back] of [
      ["update person_secret set password = (select password from person_secret where person = 'pia') where person = 'mara'"],
      ["insert into person_secret (person, password, pin) values ('senad', 'x', '')"],
      ["delete from person_secret where person = 'mara'"],
      ["update person_secret set pin = '' where person = 'jonas'"]]) {
      const copy = `${book}.altered`;
      assert.equal(run('sqlite3', [book, `vacuum into '${copy}'`]).code, 0);
      assert.equal(run('sqlite3', [copy, sql]).code, 0);
      const ran = run(program, ['--book', copy, 'verify']);
      assert.equal(ran.code, 7, `${sql}: ${ran.out}${back ?? ''}`);
      assert.match(ran.out, /sign-in of/);
      fs.rmSync(copy);
    }
  });
}

// The command line and the network ------------------------------------------------------------------

async function judge_command_line() {
  await claim('passwords and PINs come from the input and never from the command line', async () => {
    const book = demo_book();
    assert.equal(say(book, ['make-owner', 'mara', password], '').code, 2, 'there is no place for it');
    const none = say(book, ['make-owner', 'mara'], '');
    assert.equal(none.code, 2, none.err);
    assert.match(none.err, /first line of the input/);
    const made = say(book, ['make-owner', 'mara'], `${password}\n`);
    assert.equal(made.code, 0, made.err);
    assert.equal(made.out.includes(password), false);
    assert.match(made.out, /Mara Hollis signs in as mara/);
  });
  await claim('others get nothing before there is an owner', async () => {
    const book = demo_book();
    for (const args of [['set-password', 'pia'], ['set-pin', 'jonas']]) {
      const ran = say(book, args, `${args[0] === 'set-pin' ? '2580' : of_pia}\n`);
      assert.equal(ran.code, 5, ran.err);
      assert.match(ran.err, /make the owner first/);
    }
  });
  await claim('what is guessed at the first try is refused in a sentence', async () => {
    const book = demo_book();
    for (const weak of ['short', 'aaaaaaaaaaaa', 'password123', 'Mara Hollis 1', 'rollwright!', '1234567890']) {
      const ran = say(book, ['make-owner', 'mara'], `${weak}\n`);
      assert.equal(ran.code, 2, weak);
      assert.equal(ran.err.trim().split('\n').length, 1);
    }
    assert.equal(say(book, ['make-owner', 'mara'], `${password}\n`).code, 0);
    for (const weak of ['123', '1234', '0000', '9876', '123456789', '12a4', '']) {
      assert.equal(say(book, ['set-pin', 'jonas'], `${weak}\n`).code, 2, weak);
    }
    assert.equal(say(book, ['set-pin', 'nobody'], '2580\n').code, 3);
    assert.equal(run(program, ['--book', book, 'verify']).code, 0);
  });
  await claim('--who is a person of the shop, and without it the journal says command line', async () => {
    const book = demo_book();
    const away = (who, day) => run(program, ['--book', book, ...who, 'away', 'jonas', day]);
    assert.equal(away([], '2026-12-21').code, 0);
    assert.equal(journal_of(book)[0].who, 'command line');
    assert.equal(away(['--who', 'Pia Lindqvast'], '2026-12-22').code, 0);
    assert.equal(journal_of(book)[0].who, 'pia');
    const nobody = away(['--who', 'nobody'], '2026-12-23');
    assert.equal(nobody.code, 3, nobody.err);
    assert.match(nobody.err, /nobody of the shop is called so/);
  });
  await claim('other machines are served only once somebody signs in, and only under our names', async () => {
    const book = closed_book();
    const server = await start_server({ book, args: ['--address', '0.0.0.0', '--name', 'shop.example'] });
    for (const [host, status] of [[`127.0.0.1:${server.port}`, 200], ['shop.example', 200], [`shop.example:${server.port}`, 200],
                                  ['example.invalid', 421], [`192.0.2.1:${server.port}`, 421], [`0.0.0.0:${server.port}`, 421]]) {
      assert.equal((await ask(server, 'GET', '/api/me', { headers: { Host: host } })).status, status, host);
    }
    const how = await server.stop();
    assert.match(how.err, /passwords cross this network/);
    const open = run(program, ['--book', demo_book(), 'serve', '--port', '0', '--address', '0.0.0.0'], { seconds: 20 });
    assert.equal(open.code, 6, open.err);
    assert.match(open.err, /make-owner/);
    const bad = run(program, ['--book', book, 'serve', '--port', '0', '--name', 'http://shop.example/'], { seconds: 20 });
    assert.equal(bad.code, 2, bad.err);
  });
  await claim('behind https cookies are kept from plain http, and a page of plain http may not write', async () => {
    const server = await start_server({ book: closed_book(), args: ['--https', '--name', 'shop.example'] });
    const value = { person: 'mara', password };
    const headers = { Host: 'shop.example', Origin: 'https://shop.example' };
    const answer = await ask(server, 'POST', '/api/sign-in', { value, headers });
    assert.equal(answer.status, 200, answer.text);
    assert.match(answer.headers['set-cookie'][0], /; Secure$/);
    assert.equal((await ask(server, 'POST', '/api/sign-in', { value, headers: { ...headers, Origin: 'http://shop.example' } })).status, 403);
    assert.equal((await ask(server, 'GET', '/api/me', { headers: { Host: 'other.example' } })).status, 421);
    await server.stop();
  });
}

await house(async () => {
  await judge_first_run();
  const server = await start_server({ book: closed_book() });
  await judge_signing_in(server);
  await judge_two_people(server);
  await judge_bench(server);
  await judge_streams(server);
  await judge_book(server);
  await judge_tries();
  await judge_command_line();
});
