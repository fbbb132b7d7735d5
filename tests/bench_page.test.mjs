// The pages at the stand in a real browser: work is begun, read, done again and done; a second person
// checks; parts and wheels are scanned; tablets go on through a network break and catch up. The shop,
// its people and every number are invented.
import assert from 'node:assert/strict';
import { browser_house, for_everyone, reads, until, window_of, words } from './browser.mjs';
import { claim, start_server, wait } from './house.mjs';

const tablet = { width: 1024, height: 768, hasTouch: true };
const kBike = '2016';  // being built
const kPedals = 45;    // steps of its sheet
const kBrakeBleed = 37;
const kBelt = 34;
const kStand = 42;
const kGuard = 43;
const kAccessories = 44;

const step = (n, reading = '') => `/bench/${kBike}?step=${n}${reading && `&read=${reading}`}`;
const button = (page, name) => page.getByRole('button', { name, exact: true });
const bar = (page, name) => page.locator('.bar-deeds').getByRole('button', { name, exact: true });
const history = async (server, bike = kBike) => (await (await fetch(`${server.url}/api/bikes/${bike}/history`)).json()).lines;
const deeds_about = async (server, about, bike = kBike) =>
  (await history(server, bike)).filter((line) => line.about === about).map((line) => line.deed);
const label_of = async (server, query) => (await (await fetch(`${server.url}/api/labels?${query}`)).json()).labels.map((one) => one.code);

/** A scanner types as fast as it can, and looks at nothing before. */
async function scan(page, code) {
  await page.keyboard.type(code);
  await page.keyboard.press('Enter');
}

async function at_the_tablet(page, name) {
  await page.goto('/bench');
  await page.locator('.who-is-it').getByRole('button', { name: new RegExp(name) }).tap();
  await page.getByText(`${name} is at this tablet`).waitFor();
}

async function press(page, keys) {
  for (const key of keys) await page.locator('.number-pad').getByRole('button', { name: key, exact: true }).tap();
}

// One operation ------------------------------------------------------------------------------------

async function before_it_begins(page) {
  await claim('who is at the tablet is asked once and kept', async () => {
    await at_the_tablet(page, 'Tove Aldis');
    await page.reload();
    await page.getByText('Tove Aldis is at this tablet').waitFor();
  });
  await claim('the bench says what is next at which bike, and which tools must not be used', async () => {
    const row = page.locator('.stands li', { hasText: kBike });
    await reads(row, /A-41\s+Align and tension the belt/);
    await reads(page.locator('.tool-list'), /2 tools must not be used.*T4 old torque wrench.*calibration was due by Tuesday 2 June 2026/s);
    await row.getByRole('link').tap();
    await page.getByRole('heading', { name: 'Can be begun' }).waitFor();
  });
  await claim('why an operation cannot begin stands there before it is touched', async () => {
    await page.goto(step(kBrakeBleed));
    await page.locator('#why-not').waitFor();
    await reads(page.locator('#why-not'), /Comes after A-60 Mount calipers, cut hoses, fit olives, not done yet/);
    assert.ok(await bar(page, 'Start').isDisabled());
    await page.goto(step(kBelt));
    await reads(page.locator('#why-not'), /senior's work; Tove Aldis does not have that skill/);
  });
}

async function outside_and_again(page, server) {
  await claim('a reading is judged while it is typed, and wants a good wrench', async () => {
    await page.goto(step(kPedals));
    await bar(page, 'Start').tap();
    await page.getByRole('link', { name: /to read: pedals/ }).tap();
    await page.locator('.verdict', { hasText: 'Type what the gauge shows' }).waitFor();
    await press(page, ['3', '5', 'Comma', '5']);
    await reads(page.locator('.verdict'), /^inside/);
    await press(page, ['Erase', 'Erase', 'Erase', '2']);
    await reads(page.locator('.verdict'), /^stop/);
    assert.ok(await button(page, 'plus or minus').isDisabled(), 'no torque is below zero');
    await button(page, 'Write it down').tap();
    await page.getByText('Choose the tool first.').waitFor();
    await page.getByText('Not these').tap();
    await reads(page.locator('.tool-choice'), /T4 old torque wrench.*calibration was due/s);
    assert.equal(await page.locator('.tool-buttons').getByText('T4').count(), 0);
  });
  await claim('a reading outside asks at once what happens now, and stops the bike', async () => {
    await page.locator('.tool-buttons').getByRole('button', { name: /^T3/ }).tap();
    await button(page, 'Write it down').tap();
    await page.locator('.outside-now').waitFor();
    await reads(page.locator('.stops'), /This bike is stopped: .*A-85 is outside the stop limit/);
    const read = (await history(server)).at(-1);
    assert.deepEqual([read.deed, read.outcome, read.who], ['read', 'stop', 'Tove Aldis']);
  });
  await claim('what was done again is said with a thumb, and the readings wait anew', async () => {
    await button(page, 'It is done again').tap();
    await button(page, 'A value was outside its limits').tap();
    await page.locator('.standing', { hasText: 'to be done again' }).waitFor();
    await until(() => page.locator('.stops').count(), 0, 3000);
    await bar(page, 'Go on').tap();
    await page.locator('#still-open').waitFor();
    await reads(page.locator('#still-open'), /pedals.* is not written down/i);
    assert.ok(await bar(page, 'Done').isDisabled());
  });
  await claim('inch-pounds are taken as they are read; inside, it goes back and may be done', async () => {
    await page.getByRole('link', { name: /to read: pedals/ }).tap();
    await button(page, 'in-lb').tap();
    await press(page, ['3', '1', '0']);
    await reads(page.locator('.verdict'), /^inside/);
    await button(page, 'Write it down').tap();
    await bar(page, 'Done').tap();
    await page.locator('.standing', { hasText: 'done' }).waitFor();
    await until(async () => (await deeds_about(server, 'A-85')).join(), 'started,read,redo,started,read,done', 4000);
    assert.match((await history(server)).at(-2).sentence, /35\.03 N·m, pass/);
  });
  await claim('a refusal stands where the thumb is', async () => {
    await page.goto(step(kAccessories));
    await bar(page, 'Start').tap();
    await bar(page, 'Pause').waitFor();
    await page.route('**/record', (route) => {
      const body = route.request().postDataJSON();
      return route.continue({ postData: JSON.stringify({ ...body, deeds: body.deeds.map((deed) => ({ ...deed, note: '' })) }) });
    });
    await bar(page, 'Pause').tap();
    await button(page, 'Break').tap();
    await page.getByRole('alert').filter({ hasText: 'say why it is paused' }).waitFor();
    await page.unroute('**/record');
    await button(page, 'Break').tap();
    await page.locator('.standing', { hasText: 'paused' }).waitFor();
    assert.equal(await page.locator('.not-taken').count(), 0, 'whoever did it has read the sentence');
  });
}

async function point_after_point(page, server) {
  await claim('a reading at several points leads from one to the next, and then to the next reading', async () => {
    await at_the_tablet_again(page, 'Mara Hollis');
    await page.goto(step(kBelt));
    await bar(page, 'Start').tap();
    await page.getByRole('link', { name: /to read: belt, middle/ }).tap();
    for (const [n, hertz] of ['52', '53', '51', '54'].entries()) {
      await page.locator('.point-strip [aria-pressed="true"]', { hasText: String(n + 1) }).waitFor();
      await press(page, [...hertz]);
      await button(page, 'Write it down').tap();
    }
    await page.waitForURL(/read=belt_frequency_spread/);
    await until(async () => (await deeds_about(server, 'A-41')).filter((deed) => deed === 'read').length, 4, 4000);
  });
}

async function at_the_tablet_again(page, name) {
  await page.goto('/bench');
  await button(page, 'somebody else').tap();
  await page.locator('.who-is-it').getByRole('button', { name: new RegExp(name) }).tap();
  await page.getByText(`${name} is at this tablet`).waitFor();
}

// Lists and kit ------------------------------------------------------------------------------------

async function second_person(page, server) {
  const line = page.locator('.check-rows > li', { hasText: /^D11/ });
  await claim('a stop line over their own work is signed by somebody else, and that is said before', async () => {
    await at_the_tablet_again(page, 'Tove Aldis');
    await page.goto(`/bench/${kBike}?tab=checks`);
    await line.locator('.check-row').tap();
    await reads(line.locator('.judge'), /A second person signs this: Tove Aldis did A-85/);
    assert.ok(await line.getByRole('button', { name: 'Pass' }).isDisabled());
  });
  await claim('the second person passes it, with name', async () => {
    await at_the_tablet_again(page, 'Jonas Ward');
    await page.goto(`/bench/${kBike}?tab=checks`);
    await line.locator('.check-row').tap();
    await line.getByRole('button', { name: 'Pass' }).tap();
    await line.getByText('Jonas Ward').waitFor();
    const said = async () => (({ deed, about, outcome }) => [deed, about, outcome].join())((await history(server)).at(-1));
    await until(said, 'checked,D11,pass', 4000);
  });
  await claim('work that is done again opens the line again, and says why', async () => {
    await at_the_tablet_again(page, 'Tove Aldis');
    await page.goto(step(kPedals));
    await bar(page, 'Do it again').tap();
    await page.getByLabel('In other words').fill('thread was dry');
    await button(page, 'Write it down').tap();
    await page.locator('.standing', { hasText: 'to be done again' }).waitFor();
    await page.goto(`/bench/${kBike}?tab=checks`);
    await line.getByText('Open again: A-85 was done again: thread was dry.').waitFor();
  });
  await claim('what is found wrong is said in words, and stops the bike when it is a stop', async () => {
    const brake = page.locator('.check-rows > li', { hasText: /^D9/ });
    await brake.locator('.check-row').tap();
    await brake.getByRole('button', { name: 'Stop', exact: true }).tap();
    await brake.getByRole('button', { name: 'A part is damaged' }).tap();
    await page.locator('.stops', { hasText: 'D9 stops the bike: A part is damaged' }).waitFor();
  });
}

async function by_scan(page, server) {
  const [order, kit, front] = [await label_of(server, `kinds=order&orders=${kBike}`), await label_of(server, `kinds=kit&orders=${kBike}`), await label_of(server, `kinds=wheel&orders=${kBike}`)].map(([one]) => one);
  await claim('the label of a person says who is here, that of a bike opens it, wherever the page was touched', async () => {
    await page.goto('/bench');
    await page.locator('.stands').first().waitFor();
    const [mara] = await label_of(server, 'kinds=person&people=mara');
    await scan(page, mara);
    await page.getByText('Mara Hollis is at this tablet now.').waitFor();
    await scan(page, order);
    await page.waitForURL(new RegExp(`/bench/${kBike}$`));
    await page.locator('h1', { hasText: kBike }).waitFor();
  });
  await claim('a code that a scanner types while one page makes room for the next loses no letter', async () => {
    await travel(page, '/bench');
    await page.locator('.stands').first().waitFor();
    await page.route('**/api/bench/2012', async (route) => {
      await wait(700);
      await route.continue();
    });
    await page.keyboard.type(kit.slice(0, 4));
    await travel(page, '/bench/2012');
    await page.keyboard.type(kit.slice(4));
    await page.keyboard.press('Enter');
    await page.waitForURL(new RegExp(`/bench/${kBike}\\?tab=kit`));
    await page.unrouteAll({ behavior: 'wait' });
  });
  await claim('two codes one after the other go each to the page that is there', async () => {
    await travel(page, '/bench');
    await scan(page, order);
    await scan(page, kit);
    await page.waitForURL(new RegExp(`/bench/${kBike}\\?tab=kit`));
    await page.locator('.kit-rows li').first().waitFor();
  });
  await claim('a label that was badly read does nothing, and says so', async () => {
    const before = (await history(server)).length;
    await scan(page, `${front.slice(0, -1)}${front.endsWith('7') ? '8' : '7'}`);
    await page.locator('.scan-said', { hasText: 'badly read' }).waitFor();
    assert.equal((await history(server)).length, before);
  });
  await claim('a wheel is scanned at its frame; another bike’s wheel is turned away', async () => {
    const [other] = await label_of(server, 'kinds=wheel&orders=2012');
    await scan(page, other);
    await page.locator('.scan-said', { hasText: 'of 2012. The bike here is 2016: do not hang it.' }).waitFor();
    await scan(page, front);
    await page.locator('.scan-said', { hasText: 'is at its frame' }).waitFor();
    await until(async () => (await deeds_about(server, 'front_wheel')).join(), 'paired', 4000);
  });
  await claim('a number nobody saw at goods-in asks for its place; the place then carries it', async () => {
    await scan(page, 'FR-77/2016');
    await page.getByRole('heading', { name: 'Which part carries FR-77/2016?' }).waitFor();
    await page.locator('.which-part').getByRole('button', { name: /^frame/ }).tap();
    await page.locator('.kit-rows li', { hasText: 'FR-77/2016' }).waitFor();
    const bound = async () => (({ deed, about, serial }) => [deed, about, serial].join())((await history(server)).at(-1));
    await until(bound, 'kitted,frame,FR-77/2016', 4000);
    await scan(page, 'fr-77/2016');
    await page.locator('.scan-said', { hasText: 'in this kit already, as frame' }).waitFor();
  });
  await claim('a bin binds a part that carries no number; it is taken off with a reason', async () => {
    const view = await (await fetch(`${server.url}/api/bench/${kBike}`)).json();
    const stem = view.kit.find((part) => part.slot === 'stem');
    const [bin] = await label_of(server, `kinds=bin&parts=${stem.part}`);
    await scan(page, bin);
    const row = page.locator('.kit-rows li', { hasText: stem.name });
    await row.getByText('by stock').waitFor();
    await row.locator('.kit-row').tap();
    await button(page, 'Another one goes on').tap();
    await until(async () => (await deeds_about(server, 'stem')).join(), 'kitted,off', 3000);
  });
}

async function seen_at_goods_in(page, server) {
  await claim('a number that was seen at goods-in goes to its part without a question', async () => {
    const received = await fetch(`${server.url}/api/arrivals/P-3114/receive`, {
      method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ quantity: 1, serials: ['FW-1'] }) });
    const { order } = await received.json();
    await page.goto(`/bench/${order}?tab=kit`);
    await page.locator('.kit-rows li').first().waitFor();
    await scan(page, 'fw-1');
    await page.locator('.kit-rows li', { hasText: /FW-1/i }).waitFor();
    const bound = (await history(server, order)).at(-1);
    assert.deepEqual([bound.deed, bound.about], ['kitted', 'frame']);
  });
}

// The network --------------------------------------------------------------------------------------

/** Goes there as a link does: without a document, which a tablet that is cut off cannot fetch. */
async function travel(page, place) {
  await page.evaluate((to) => {
    history.pushState(null, '', to);
    dispatchEvent(new PopStateEvent('popstate'));
  }, place);
}

async function open_stand(page) {
  await page.locator('.stands li', { hasText: kBike }).waitFor();
  await travel(page, step(kStand));
  await page.locator('#step-name').waitFor();
}

async function cut_off(server) {
  const one = await window_of(server, tablet);
  const two = await window_of(server, tablet);
  const foreseen = one.page.waitForResponse((answer) => answer.url().endsWith('/api/bench/2012'));
  await at_the_tablet(one.page, 'Tove Aldis');
  await foreseen;
  await at_the_tablet(two.page, 'Jonas Ward');
  await open_stand(one.page);
  await open_stand(two.page);
  const waits = (n) => one.page.locator('.away', { hasText: n === 1 ? '1 thing written here waits' : `${n} things written here wait` });

  await claim('a tablet that is cut off says so, and goes on', async () => {
    await one.page.context().setOffline(true);
    await bar(one.page, 'Start').tap();
    await waits(1).waitFor();
    await one.page.locator('.standing', { hasText: 'waits to be written' }).waitFor();
    await one.page.getByRole('link', { name: /to read/ }).tap();
    await press(one.page, ['9']);
    await one.page.locator('.tool-buttons').getByRole('button', { name: /^T2/ }).tap();
    await button(one.page, 'Write it down').tap();
    await bar(one.page, 'Done').tap();
    await one.page.locator('.standing', { hasText: 'done' }).waitFor();
    await travel(one.page, step(kGuard));
    await bar(one.page, 'Start').tap();
    await one.page.getByRole('link', { name: /to read/ }).tap();
    await button(one.page, 'Pass').tap();
    await bar(one.page, 'Done').tap();
    await waits(6).waitFor();
    assert.deepEqual(await deeds_about(server, 'A-82'), [], 'nothing is in the record yet');
  });
  await claim('a bike in hand that was not looked at before opens without the network', async () => {
    await one.page.getByRole('link', { name: 'All bikes' }).tap();
    await one.page.locator('.stands li', { hasText: '2012' }).getByRole('link').tap();
    await one.page.getByRole('heading', { name: 'Can be begun' }).waitFor();
    await waits(6).waitFor();
  });
  await claim('meanwhile the other tablet does one of the same', async () => {
    await two.page.goto(step(kGuard));
    await bar(two.page, 'Start').tap();
    await two.page.getByRole('link', { name: /to read/ }).tap();
    await button(two.page, 'Pass').tap();
    await bar(two.page, 'Done').tap();
    await until(async () => (await deeds_about(server, 'A-83')).join(), 'started,read,done', 4000);
  });
  await claim('back again, everything is there once, and what clashes is shown as not taken', async () => {
    await one.page.context().setOffline(false);
    await one.page.locator('.not-taken').waitFor({ timeout: 20_000 });
    await until(async () => (await deeds_about(server, 'A-82')).join(), 'started,read,done', 8000);
    assert.deepEqual(await deeds_about(server, 'A-83'), ['started', 'read', 'done'], 'only the other tablet’s');
    const said = await words(one.page.locator('.not-taken'));
    assert.match(said, /A-83.*started.*bike 2016, Tove Aldis.*is done; to do it again, say redo and why/s);
    assert.match(said, /2 things about the same wait behind it/);
    const moments = (await history(server)).filter((line) => line.about === 'A-82').map((line) => line.at);
    assert.ok(moments.every((at) => at.startsWith('2026-11-25T07:')), `by the shop’s clock: ${moments}`);
  });
  await claim('trying again is refused again; thrown away only with a second tap', async () => {
    const first = one.page.locator('.not-taken li').first();
    await first.getByRole('button', { name: 'Try again' }).tap();
    await first.getByText('is done; to do it again').waitFor();
    await first.getByRole('button', { name: 'Throw it away', exact: true }).tap();
    await first.getByRole('button', { name: 'Keep it' }).tap();
    assert.equal(await one.page.locator('.not-taken li').count(), 1);
    for (let left = 3; left > 0; left -= 1) {
      await until(() => one.page.locator('.not-taken li').count(), 1, 5000);
      const text = await words(first.locator('.what'));
      await first.getByRole('button', { name: 'Throw it away', exact: true }).tap();
      await first.getByRole('button', { name: /it is gone then/ }).tap();
      await one.page.waitForFunction((gone) => document.querySelector('.not-taken .what')?.innerText.trim() !== gone, text);
    }
    await until(() => one.page.locator('.not-taken').count(), 0, 5000);
  });
  await claim('what one tablet writes the other shows within a second', async () => {
    await two.page.goto(step(kAccessories));
    await two.page.locator('#step-name').waitFor();
    await one.page.goto(step(kAccessories));
    await bar(one.page, 'Go on').tap();
    await two.page.locator('.standing', { hasText: 'at it: Tove Aldis, since' }).waitFor({ timeout: 1500 });
  });
  await one.close();
  await two.close();
}

async function kept_and_once(server) {
  const { page, close } = await window_of(server, tablet);
  await at_the_tablet(page, 'Tove Aldis');
  await claim('what waits is kept over a reload, and sent when the way is free', async () => {
    await page.route('**/record', (route) => route.abort());
    await page.goto(step(kAccessories));
    await bar(page, 'Pause').tap();
    await button(page, 'End of the day').tap();
    await page.locator('.away', { hasText: '1 thing written here waits' }).waitFor();
    await page.reload();
    await page.locator('.away', { hasText: '1 thing written here waits' }).waitFor();
    await page.locator('.standing', { hasText: 'paused' }).waitFor();
    const before = (await deeds_about(server, 'A-84')).length;
    await page.unroute('**/record');
    await page.locator('.away').waitFor({ state: 'detached', timeout: 20_000 });
    assert.deepEqual((await deeds_about(server, 'A-84')).slice(before), ['paused']);
  });
  await claim('an answer that was lost on the way makes nothing twice', async () => {
    let lost = 0;
    await page.route('**/record', async (route) => {
      if (lost > 0) return route.continue();
      lost += 1;
      await route.fetch();
      return route.abort();
    });
    const before = (await deeds_about(server, 'A-84')).length;
    await bar(page, 'Go on').tap();
    await page.locator('.away').waitFor();
    await page.locator('.away').waitFor({ state: 'detached', timeout: 20_000 });
    assert.equal(lost, 1);
    assert.deepEqual((await deeds_about(server, 'A-84')).slice(before), ['started']);
  });
  await close();
}

// Afterwards ---------------------------------------------------------------------------------------

async function trail(server) {
  const { page, complaints, close } = await window_of(server, { acceptDownloads: true });
  await claim('the whole history of a bike is one page, with the journal’s hash at its foot', async () => {
    await page.goto(`/orders/${kBike}`);
    await page.locator('.papers').first().getByRole('link', { name: 'History' }).click();
    await page.locator('.last-hash').waitFor();
    const lines = await history(server);
    assert.equal(await page.locator('.trail').first().locator('tbody tr').count(), lines.length);
    await reads(page.locator('.last-hash'), /[0-9a-f]{64}/);
  });
  await claim('a serial is traced to its rider, with contact; the list is saved as a table', async () => {
    await page.goto('/records');
    await page.getByRole('link', { name: 'Trace parts' }).click();
    await page.getByLabel('Serial, from').fill('FR-77/2016');
    await page.getByRole('button', { name: 'Find them' }).click();
    const row = page.locator('.recall tbody tr');
    await row.first().waitFor();
    assert.equal(await row.count(), 1);
    await reads(row, /2016.*Kaya Corrie.*certain.*frame.*FR-77\/2016/s);
    const [saved] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save as CSV' }).click()]);
    assert.match(saved.suggestedFilename(), /^trace FR-77 2016\.csv$/);
  });
  await claim('nothing was amiss in the browser meanwhile', () => assert.deepEqual(complaints, []));
  await close();
}

async function targets_are_large(server) {
  const { page, close } = await window_of(server, tablet);
  await at_the_tablet(page, 'Mara Hollis');
  for (const place of [step(kBelt), step(kBelt, 'belt_line'), `/bench/${kBike}?tab=kit`, `/bench/${kBike}?tab=checks`, `/bench/${kBike}`]) {
    await claim(`${place}: whatever is touched has at least 56 px`, async () => {
      await page.goto(place);
      await page.locator('.stand-top').waitFor();
      const small = await page.locator('main').locator('button:visible, summary:visible, a:visible, input:not(.unseen):visible, label:has(input.unseen)').evaluateAll((all) => all
        .map((one) => ({ what: one.textContent || one.getAttribute('aria-label'), height: one.getBoundingClientRect().height }))
        .filter((one) => one.height < 55.9));
      assert.deepEqual(small, []);
    });
  }
  await close();
}

browser_house(async () => {
  const server = await start_server();
  const { page, complaints, close } = await window_of(server, tablet);
  await before_it_begins(page);
  await outside_and_again(page, server);
  await point_after_point(page, server);
  await cut_off(server);
  await kept_and_once(server);
  await second_person(page, server);
  await by_scan(page, server);
  await seen_at_goods_in(page, server);
  await claim('nothing was amiss in the browser meanwhile', () => {
    assert.deepEqual(complaints.filter((one) => !/status of 4\d\d/.test(one)), []);
  });
  await close();
  await trail(server);
  await targets_are_large(server);
  await for_everyone(server, ['/bench', `/bench/${kBike}`, step(kBelt), step(kBelt, 'belt_line'), `/bench/${kBike}?tab=kit`, `/bench/${kBike}?tab=checks`,
    `/records/bike/${kBike}`, '/records/trace', '/records/trace?part=HG-0001'], (shown) => shown.locator('h1 + *, .stand-top').first().waitFor());
});
