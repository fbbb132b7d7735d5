// The bench through a network break of an hour, with its pages loaded again meanwhile: what is kept in
// the browser, what is sent afterwards, and what is gone when somebody signs out. Shop and people are
// invented.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import http from 'node:http';
import https from 'node:https';
import path from 'node:path';
import { assert_for_everyone, browser_house, reads, until, window_of, words } from './browser.mjs';
import { claim, demo_book, has_program, program, run, skip, start_server, temporary_folder } from './house.mjs';

const tablet = { width: 1024, height: 768, hasTouch: true };
const kBike = '2016';
const kStand = 42;        // A-82
const kGuard = 43;        // A-83
const kHourLater = '2026-11-25T08:47:00Z';
const kName = 'shop.example';
const kSecure = 'secure.example';  // https of the usual port, as far as the browser knows
const password = 'seven quiet freewheels';
// One grey point, as PNG (RFC 2083) writes it.
const grey = 'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg==';
const picture = path.join(temporary_folder(), 'grey.png');
fs.writeFileSync(picture, Buffer.from(grey, 'base64'));

const step = (n, reading = '') => `/bench/${kBike}?step=${n}${reading && `&read=${reading}`}`;
const bar = (page, name) => page.locator('.bar-deeds').getByRole('button', { name, exact: true });
const button = (page, name) => page.getByRole('button', { name, exact: true });
const camera = (page) => page.locator('.take-photo input[type=file]');
const get = async (server, place) => (await fetch(server.url + place)).json();
const deeds_about = async (server, about) =>
  (await get(server, `/api/bikes/${kBike}/history`)).lines.filter((line) => line.about === about);
/** A photograph goes its own way: it may be written before or after the work it shows. */
const names_of = (lines) => lines.map((line) => line.deed).sort((a, b) => (a === 'photo') - (b === 'photo')).join();

/** The pages are held, and this page is held up by their worker. */
const is_held = (page) => page.evaluate(async () => {
  await navigator.serviceWorker.ready;
  if (!navigator.serviceWorker.controller) {
    await new Promise((resolve) => navigator.serviceWorker.addEventListener('controllerchange', resolve, { once: true }));
  }
});
/** Paths of everything in the browser's caches. */
const held_by = (page) => page.evaluate(async () => {
  const paths = [];
  for (const name of await caches.keys()) {
    for (const request of await (await caches.open(name)).keys()) paths.push(new URL(request.url).pathname);
  }
  return paths;
});
/** Keys on a shelf of the browser's database. */
const kept_on = (page, shelf) => page.evaluate((name) => new Promise((resolve, reject) => {
  const opening = indexedDB.open('rollwright', 1);
  opening.onerror = () => reject(opening.error);
  opening.onsuccess = () => {
    const request = opening.result.transaction(name).objectStore(name).getAllKeys();
    request.onsuccess = () => { opening.result.close(); resolve(request.result); };
    request.onerror = () => reject(request.error);
  };
}), shelf);

async function at_the_tablet(page, name) {
  await page.goto('/bench');
  await page.locator('.who-is-it').getByRole('button', { name: new RegExp(name) }).tap();
  await page.getByText(`${name} is at this tablet`).waitFor();
}

const away = (page, text) => page.locator('.away', { hasText: text });

// An hour without the server -----------------------------------------------------------------------

async function hour_away() {
  const first = await start_server();
  const { page, complaints, close } = await window_of(first, tablet);
  await at_the_tablet(page, 'Tove Aldis');
  await page.goto(step(kStand));
  await page.locator('#step-name').waitFor();
  await is_held(page);
  await claim('the browser holds the files of the pages and nothing of the shop', async () => {
    const paths = await held_by(page);
    assert.ok(paths.includes('/') && paths.some((one) => /^\/assets\/index-.*\.js$/.test(one)), paths.join());
    assert.deepEqual(paths.filter((one) => one.startsWith('/api')), []);
  });
  await claim('of the shop’s answers only those for the bench are kept', async () => {
    await page.goto('/orders/2041');
    await page.locator('tr[data-slot]').first().waitFor();
    await page.goto('/bench');
    await page.locator('.stands li').first().waitFor();
    await until(async () => (await kept_on(page, 'answers')).includes(`bench ${kBike}`), true, 5000);
    const keys = await kept_on(page, 'answers');
    assert.deepEqual(keys.filter((key) => !/^(me|shop|bench|bench \d+)$/.test(key)), []);
  });
  await page.goto(step(kStand));
  await page.locator('#step-name').waitFor();
  await first.stop();
  await page.context().setOffline(true);

  await claim('a page that is loaded again without the server opens, and says up to when it is so', async () => {
    await page.reload();
    await page.locator('#step-name').waitFor({ timeout: 15_000 });
    await reads(away(page, 'Not connected'), /^Not connected, as of \d\d:4\d\. What is written here waits/);
    assert.doesNotMatch(await words(page.locator('main')), /Keep this page open/);
    await reads(page.locator('.stand-top'), /Tove Aldis is at this tablet/);
    await assert_for_everyone(page);
  });
  await claim('a bike in hand and the whole bench open by their address, too', async () => {
    await page.goto('/bench');
    await page.locator('.stands li', { hasText: kBike }).waitFor();
    await away(page, 'Not connected, as of').waitFor();
    await page.waitForTimeout(1000);
    assert.doesNotMatch(await words(page.locator('main')), /Keep this page open/);
    await page.goto(step(kStand));
    await page.locator('#step-name').waitFor();
  });
  await claim('a page that is not of the bench says that the server does not answer', async () => {
    await page.goto('/orders');
    await page.getByRole('alert').filter({ hasText: 'does not answer' }).waitFor();
    await reads(page.locator('.standing-line'), /^Not connected, as of \d\d:4\d/);
    assert.equal(await page.locator('main table').count(), 0);
    await page.goto(step(kStand));
    await page.locator('#step-name').waitFor();
  });
  await claim('the work goes on: begun, read and done, and a photograph', async () => {
    await bar(page, 'Start').tap();
    await page.getByRole('link', { name: /to read/ }).tap();
    await page.locator('.number-pad').getByRole('button', { name: '9', exact: true }).tap();
    await page.locator('.tool-buttons').getByRole('button', { name: /^T2/ }).tap();
    await button(page, 'Write it down').tap();
    await bar(page, 'Done').tap();
    await page.locator('.standing', { hasText: 'done' }).waitFor();
    await camera(page).setInputFiles(picture);
    await page.locator('.take-photo').getByText('1 photograph waits for the network').waitFor();
    await page.goto(step(kGuard));
    await bar(page, 'Start').tap();
    await away(page, '4 things written here wait').waitFor();
  });
  await claim('all of it is there after loading the page once more', async () => {
    await page.reload();
    await away(page, '4 things written here wait').waitFor({ timeout: 15_000 });
    await away(page, '1 photograph waits').waitFor();
    await page.locator('.standing', { hasText: 'waits to be written' }).waitFor();
    assert.equal((await kept_on(page, 'photos')).length, 1);
    await page.goto(step(kStand));
    await page.locator('.standing', { hasText: 'done' }).waitFor();
    await page.locator('.take-photo').getByText('1 photograph waits').waitFor();
  });

  const second = await start_server({ book: first.book, port: first.port, now: kHourLater });
  await claim('meanwhile another tablet does one of the same', async () => {
    const answer = await fetch(`${second.url}/api/bench/${kBike}/record`, { method: 'POST', headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ who: 'jonas', key: 'another-tablet', deeds: [{ deed: 'started', about: 'A-83' }, { deed: 'read', about: 'A-83', reading: 'guard_free', outcome: 'pass' }] }) });
    if (answer.status >= 300) {
      const sheet = await get(second, `/api/bench/${kBike}`);
      const readings = sheet.operations.find((one) => one.operation === 'A-83').readings.map((one) => one.value.reading);
      assert.fail(`${JSON.stringify(await answer.json())}; its readings: ${readings}`);
    }
    const done = await fetch(`${second.url}/api/bench/${kBike}/record`, { method: 'POST', headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ who: 'jonas', key: 'another-tablet-2', deeds: [{ deed: 'done', about: 'A-83' }] }) });
    assert.equal(done.status, 200);
  });
  await claim('an hour later everything is sent once, with the moments at which it was done', async () => {
    await page.context().setOffline(false);
    await until(async () => names_of(await deeds_about(second, 'A-82')), 'started,read,done,photo', 30_000);
    const moments = (await deeds_about(second, 'A-82')).map((line) => line.at);
    assert.ok(moments.every((at) => at.startsWith('2026-11-25T07:4')), moments.join());
    const { photos } = await get(second, `/api/bikes/${kBike}/photos`);
    assert.deepEqual(photos.map((photo) => [photo.about, photo.who]), [['A-82', 'Tove Aldis']]);
    await until(async () => (await kept_on(page, 'photos')).length, 0, 5000);
  });
  await claim('what clashes is shown as not taken, with the reason', async () => {
    await page.locator('.not-taken').waitFor({ timeout: 15_000 });
    await reads(page.locator('.not-taken'), /A-83.*started.*bike 2016, Tove Aldis.*is done; to do it again, say redo and why/s);
    assert.equal(names_of(await deeds_about(second, 'A-83')), 'started,read,done');
  });
  await claim('loaded once more, nothing is sent a second time', async () => {
    await page.reload();
    await page.locator('.not-taken').waitFor();
    await page.locator('.away').waitFor({ state: 'detached' });
    assert.equal(names_of(await deeds_about(second, 'A-82')), 'started,read,done,photo');
    assert.equal((await get(second, `/api/bikes/${kBike}/photos`)).photos.length, 1);
  });
  await claim('nothing else was amiss in the browser meanwhile', () => {
    assert.deepEqual(complaints.filter((line) => !/ERR_INTERNET_DISCONNECTED|ERR_CONNECTION|ERR_FAILED|409 \(Conflict\)/.test(line)), []);
  });
  await close();
  await second.stop();
}

// An answer that is lost ----------------------------------------------------------------------------

async function answer_lost() {
  const server = await start_server();
  const { page, close } = await window_of(server, tablet);
  await at_the_tablet(page, 'Tove Aldis');
  await page.goto(step(kStand));
  await camera(page).waitFor({ state: 'attached' });
  await claim('a photograph whose answer is lost, and whose page is loaded again, is written once', async () => {
    let lost = 0;
    await page.route('**/photos?*', async (route) => {
      lost += 1;
      await route.fetch();
      return route.abort();
    }, { times: 1 });
    await camera(page).setInputFiles(picture);
    await until(() => Promise.resolve(lost), 1, 5000);
    await until(async () => (await get(server, `/api/bikes/${kBike}/photos`)).photos.length, 1, 5000);
    await page.reload();
    await page.locator('.photos img').waitFor();
    await until(async () => (await kept_on(page, 'photos')).length, 0, 15_000);
    assert.equal((await get(server, `/api/bikes/${kBike}/photos`)).photos.length, 1);
  });
  await close();
}

// Another edition ------------------------------------------------------------------------------------

async function other_edition() {
  const server = await start_server();
  const { page, close } = await window_of(server, tablet);
  await at_the_tablet(page, 'Tove Aldis');
  await claim('pages of another edition write nothing, say so, and what was written waits', async () => {
    await page.route('**/record', (route) => route.continue({
      headers: { ...route.request().headers(), 'x-edition': '/assets/index-older.js' } }));
    await page.goto(step(kStand));
    const answered = page.waitForResponse((answer) => answer.url().endsWith('/record'));
    await bar(page, 'Start').tap();
    const answer = await answered;
    assert.equal(answer.status(), 412);
    assert.match((await answer.json()).sentence, /the program was renewed: load the page again/);
    await away(page, '1 thing written here waits').waitFor();
    assert.equal(names_of(await deeds_about(server, 'A-82')), '');
  });
  await claim('a server of another edition is told with its first answer; loading again helps', async () => {
    await page.unroute('**/record');
    await page.route('**/api/bench/*', async (route) => {
      const response = await route.fetch();
      return route.fulfill({ response, headers: { ...response.headers(), 'x-edition': '/assets/index-newer.js' } });
    });
    await page.goto(step(kStand));
    await page.locator('.standing-line', { hasText: 'The program was renewed' }).waitFor();
    await assert_for_everyone(page);
    await page.unroute('**/api/bench/*');
    await button(page, 'Load the page again').tap();
    await page.locator('#step-name').waitFor();
    await page.locator('.standing-line', { hasText: 'renewed' }).waitFor({ state: 'detached' });
    await until(async () => names_of(await deeds_about(server, 'A-82')), 'started', 15_000);
  });
  await close();
}

// People who sign in ---------------------------------------------------------------------------------

async function type_pin(page, pin) {
  for (const digit of pin) await page.locator('.pin-keys').getByRole('button', { name: digit, exact: true }).tap();
  await page.locator('.pin-keys').getByRole('button', { name: 'Sign in' }).tap();
}

async function at_the_station(page, name, pin) {
  await page.getByRole('button', { name }).tap();
  await type_pin(page, pin);
  await page.locator('.who-line', { hasText: `${name} is at Bench by the door` }).waitFor();
}

function people_of(book) {
  for (const [args, input] of [[['make-owner', 'mara'], `${password}\n${password}\n`], [['set-pin', 'tove'], '2580\n'], [['set-pin', 'jonas'], '73915\n']]) {
    const ran = run(program, ['--book', book, ...args], { input });
    if (ran.code !== 0) throw new Error(`${args}: ${ran.err}${ran.out}`);
  }
}

async function make_station(page) {
  await page.goto('/sign-in');
  await page.getByLabel('Sign-in name', { exact: true }).fill('mara');
  await page.getByLabel('Password', { exact: true }).fill(password);
  await page.getByRole('button', { name: 'Sign in' }).tap();
  await page.locator('.who-line').waitFor();
  await page.goto('/people');
  await page.getByLabel('Name of the station', { exact: true }).fill('Bench by the door');
  await page.getByRole('button', { name: 'Make it a station' }).tap();
  await page.getByRole('heading', { name: 'Who is at the bench?' }).waitFor();
}

const history_by = async (page, about) => names_of((await page.evaluate(async (id) =>
  (await fetch(`/api/bikes/${id}/history`)).json(), kBike)).lines.filter((line) => line.about === about));

async function signed_in() {
  const book = demo_book();
  people_of(book);
  const server = await start_server({ book });
  const { page, close } = await window_of(server, tablet);
  await make_station(page);
  await is_held(page);
  await claim('before anybody is signed in nothing is kept', async () => {
    await page.reload();
    await page.locator('.bench-names').waitFor();
    await until(async () => (await kept_on(page, 'answers')).length, 0, 3000);
  });
  await at_the_station(page, 'Tove Aldis', '2580');
  await page.goto(step(kStand));
  await page.locator('#step-name').waitFor();
  await until(async () => (await kept_on(page, 'answers')).includes('bench'), true, 5000);
  await claim('signed in at a station, the tablet goes on over a reload without the network', async () => {
    await page.context().setOffline(true);
    await page.reload();
    await page.locator('#step-name').waitFor({ timeout: 15_000 });
    await reads(page.locator('.who-line'), /Tove Aldis is at Bench by the door/);
    await bar(page, 'Start').tap();
    await away(page, '1 thing written here waits').waitFor();
    await camera(page).setInputFiles(picture);
    await page.locator('.take-photo').getByText('1 photograph waits').waitFor();
  });
  await claim('signing out without the network leaves nothing to see, also after loading again', async () => {
    await page.getByRole('button', { name: 'Somebody else' }).tap();
    await page.getByRole('heading', { name: 'Who is at the bench?' }).waitFor();
    await page.getByRole('alert').filter({ hasText: 'does not answer' }).waitFor();
    assert.deepEqual(await kept_on(page, 'answers'), []);
    await page.goto(step(kStand));
    await page.getByRole('alert').filter({ hasText: 'does not answer' }).waitFor({ timeout: 15_000 });
    assert.equal(await page.locator('#step-name').count(), 0);
    assert.doesNotMatch(await words(page.locator('body')), /Tove|A-82|2016/);
  });
  await claim('the server is told once it is back, and asks who is there', async () => {
    await page.context().setOffline(false);
    await page.getByRole('heading', { name: 'Who is at the bench?' }).waitFor({ timeout: 20_000 });
    assert.equal(await page.evaluate(async () => (await fetch('/api/bench')).status), 401);
  });
  await claim('somebody else sends nothing under the first one’s name, and is told that it waits', async () => {
    await at_the_station(page, 'Jonas Ward', '73915');
    await away(page, '1 thing written here by Tove Aldis waits until Tove Aldis signs in here').waitFor();
    await away(page, '1 photograph waits until Tove Aldis signs in here').waitFor();
    assert.equal(await page.locator('.not-taken').count(), 0);
    assert.equal(await history_by(page, 'A-82'), '');
    await assert_for_everyone(page);
  });
  await claim('once the first one is back it is sent, once', async () => {
    await page.getByRole('button', { name: 'Somebody else' }).tap();
    await at_the_station(page, 'Tove Aldis', '2580');
    await until(() => history_by(page, 'A-82'), 'started,photo', 15_000);
    await page.locator('.away').waitFor({ state: 'detached' });
  });
  await claim('a tablet that nobody touched for half an hour shows nothing without the network', async () => {
    await page.goto(step(kStand));
    await page.locator('#step-name').waitFor();
    await until(async () => (await kept_on(page, 'answers')).includes(`bench ${kBike}`), true, 5000);
    await page.context().setOffline(true);
    await page.addInitScript(() => {
      if (!sessionStorage.getItem('once')) localStorage.setItem('rollwright.touched', String(Date.now() - 31 * 60_000));
      sessionStorage.setItem('once', '1');
    });
    await page.reload();
    await page.getByRole('alert').filter({ hasText: 'does not answer' }).waitFor({ timeout: 15_000 });
    assert.doesNotMatch(await words(page.locator('body')), /Tove|A-82/);
    assert.deepEqual(await kept_on(page, 'answers'), []);
    await page.context().setOffline(false);
  });
  await close();
}

// Plain http ----------------------------------------------------------------------------------------

async function plain_http() {
  const server = await start_server({ args: ['--name', kName] });
  const { page, close } = await window_of({ url: `http://${kName}:${server.port}` }, tablet);
  await claim('over plain http of another name the bench says that it cannot be loaded again', async () => {
    await at_the_tablet(page, 'Tove Aldis');
    await page.getByText('This tablet reaches the shop over plain http').waitFor();
    assert.equal(await page.evaluate(() => 'serviceWorker' in navigator), false);
    await page.goto(step(kStand));
    await page.locator('#step-name').waitFor();
    await page.context().setOffline(true);
    await away(page, 'Keep this page open: over plain http it cannot be loaded again without the network').waitFor();
  });
  await claim('a photograph is kept there, too, and sent after the page was loaded again', async () => {
    await camera(page).setInputFiles(picture);
    await page.locator('.take-photo').getByText('1 photograph waits').waitFor();
    assert.equal((await kept_on(page, 'photos')).length, 1);
    await page.route('**/photos?*', (route) => route.abort());
    await page.context().setOffline(false);
    await page.reload();
    await page.locator('.take-photo').getByText('1 photograph waits').waitFor();
    await page.unroute('**/photos?*');
    await until(async () => (await kept_on(page, 'photos')).length, 0, 15_000);
    assert.equal((await get(server, `/api/bikes/${kBike}/photos`)).photos.length, 1);
  });
  await close();
}

// Over https ----------------------------------------------------------------------------------------

/** A port that nobody listens at; the browser has to know it before it starts. */
const kFront = await new Promise((resolve) => {
  const probe = http.createServer().listen(0, '127.0.0.1', () => {
    const { port } = probe.address();
    probe.close(() => resolve(port));
  });
});

/** Speaks https before the server and hands requests on; says 502 while nobody is behind it. */
function https_before(port, folder) {
  const made = run('openssl', ['req', '-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes', '-days', '2', '-subj', `/CN=${kSecure}`,
    '-addext', `subjectAltName=DNS:${kSecure}`, '-keyout', path.join(folder, 'key.pem'), '-out', path.join(folder, 'cert.pem')]);
  if (made.code !== 0) throw new Error(made.err);
  const [key, cert] = ['key.pem', 'cert.pem'].map((name) => fs.readFileSync(path.join(folder, name)));
  const front = https.createServer({ key, cert }, (request, response) => {
    const onward = http.request({ host: '127.0.0.1', port, method: request.method, path: request.url, headers: request.headers }, (answer) => {
      response.writeHead(answer.statusCode, answer.headers);
      answer.pipe(response);
    });
    onward.on('error', () => { if (!response.headersSent) response.writeHead(502); response.end(); });
    response.on('close', () => onward.destroy());
    request.pipe(onward);
  });
  return new Promise((resolve) => { front.listen(kFront, '127.0.0.1', () => resolve(front)); });
}

async function over_https() {
  if (!has_program('openssl')) {
    await claim('the same over https', () => skip('there is no openssl to make a certificate with'));
    return;
  }
  const server = await start_server({ args: ['--name', kSecure, '--https'] });
  const front = await https_before(server.port, temporary_folder());
  const { page, close } = await window_of({ url: `https://${kSecure}` }, { ...tablet, ignoreHTTPSErrors: true });
  await claim('over https of the shop’s own name the bench is loaded again while only what stands before the server answers', async () => {
    await at_the_tablet(page, 'Tove Aldis');
    await page.goto(step(kStand));
    await page.locator('#step-name').waitFor();
    await is_held(page);
    await until(async () => (await kept_on(page, 'answers')).includes(`bench ${kBike}`), true, 5000);
    await server.stop();
    await page.reload();
    await page.locator('#step-name').waitFor({ timeout: 15_000 });
    await away(page, 'Not connected, as of').waitFor();
    assert.equal(await page.getByText('plain http').count(), 0);
    await bar(page, 'Start').tap();
    await away(page, '1 thing written here waits').waitFor();
  });
  await close();
  front.closeAllConnections();
  front.close();
}

await browser_house(async () => {
  await hour_away();
  await answer_lost();
  await other_edition();
  await signed_in();
  await plain_http();
  await over_https();
}, [`--host-resolver-rules=MAP ${kName} 127.0.0.1, MAP ${kSecure} 127.0.0.1:${kFront}`, '--ignore-certificate-errors']);
