// The pages as a person at the desk, at the bench and on a telephone meets them: in a real browser,
// on the pages that the program itself carries, before a real book.
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { assert_for_everyone, browser_house, may_be_chosen, open_slot, reads, until, window_of, words } from './browser.mjs';
import {
  claim, demoNow, has_program, program, run, skip, start_server, temporary_folder,
} from './house.mjs';
import { answer_every_question, choose_first, fill_every_slot, open_order } from './order_pages.mjs';

// From an empty form to a printed sheet -----------------------------------------------------------

async function agree(page) {
  const form = page.locator('form.agree');
  const day = form.getByLabel('Promised day');
  await page.locator('.promise svg').waitFor();
  assert.match(await day.inputValue(), /^\d{4}-\d\d-\d\d$/, 'a day is proposed');
  await form.getByLabel('Deposit').fill('740.50');
  await form.getByRole('button', { name: 'Agree' }).click();
  await page.locator('.road [aria-current="step"]').filter({ hasText: 'Agreed' }).waitFor();
  await reads(page.locator('dl.card'), /Deposit\s+740\.50 €/);
}

async function printed_words(page, name) {
  const file = path.join(temporary_folder(), name);
  fs.writeFileSync(file, await page.pdf({ format: 'A4' }));
  return run('pdftotext', ['-layout', file, '-']).out;
}

async function print_sheet(page, server, order) {
  await page.locator('.papers').getByRole('link', { name: 'Whole sheet' }).click();
  await page.locator('.printed-step').first().waitFor();
  const names = await page.locator('.printed-step h3').allInnerTexts();
  assert.ok(names.length > 30, `only ${names.length} operations`);
  const print = await printed_words(page, 'page.pdf');
  assert.ok(print.includes(order), 'the print names its order');
  assert.ok(print.includes('Odile Brandt'), 'the print names its rider');
  const flat = print.replace(/\s+/g, ' ');
  for (const name of names) {
    const operation = name.replace(/^\D*\d+\.\s*/, '').replace(/\s+/g, ' ').trim();
    assert.ok(flat.includes(operation), `the print lacks “${operation}”`);
  }
  assert.doesNotMatch(flat, /Find an order|Sheet to print/, 'the page’s frame is not printed');
  const answer = await fetch(`${server.url}/api/orders/${order}/sheet.pdf`);
  const pdf = Buffer.from(await answer.arrayBuffer());
  assert.equal(pdf.subarray(0, 5).toString(), '%PDF-');
}

// What is judged ----------------------------------------------------------------------------------

async function one_bike(server) {
  const { page, complaints, close } = await window_of(server);
  let order = '';
  await claim('an empty form becomes an order with its own page', async () => {
    order = await open_order(page);
    await page.locator('.running').filter({ hasText: 'nothing chosen' }).waitFor();
  });
  await claim('with every position filled and every question answered, the bike fits', async () => {
    assert.ok(await fill_every_slot(page) > 20);
    assert.ok(await answer_every_question(page) > 0, 'a person is asked something');
    const fits = /^\s*fits( with( care)?)?\s*$/i;
    await page.locator('.findings h2').filter({ hasText: fits }).waitFor();
    assert.equal(await page.locator('.missing').count(), 0, 'nothing is missing');
    assert.equal(await page.locator('.plate svg.elevation').isVisible(), true, 'the bike is drawn');
  });
  await claim('the page shows the odds of the day and agrees it with a deposit', () => agree(page));
  await claim('the whole sheet prints with order, rider and every operation', () => {
    if (!has_program('pdftotext')) skip('there is no pdftotext');
    return print_sheet(page, server, order);
  });
  await claim('nothing goes wrong in the browser meanwhile', () => {
    assert.deepEqual(complaints, []);
  });
  await close();
}

const bike_of = (page) => page.locator('.plate svg.elevation').evaluate((svg) => svg.innerHTML);

async function two_desks(server) {
  const one = await window_of(server);
  const two = await window_of(server);
  await claim('a part chosen at one desk changes drawing and odds, and prices at two', async () => {
    for (const { page } of [one, two]) {
      await page.goto('/orders/2038');
      await page.locator('.promise svg').waitFor();
    }
    const price = await words(one.page.locator('.running'));
    const bike = await bike_of(one.page);
    await open_slot(one.page, 'frame');
    const promised = one.page.waitForResponse((r) => r.url().includes('/promise') && r.ok())
      .catch(() => null);
    await may_be_chosen(one.page).first().click();
    await one.page.locator('.take-back').waitFor();
    const now = await words(one.page.locator('tfoot'));
    await until(() => words(two.page.locator('tfoot')), now, 2000);
    assert.notEqual(await words(one.page.locator('.running')), price);
    assert.notEqual(await bike_of(one.page), bike);
    assert.ok(await promised, 'the odds are drawn again');
  });
  const findings = async (page) => (await page.locator('.findings li').allInnerTexts()).join('|');
  const slot_row = (page) => page.locator('tr[data-slot="front_tyre"]');
  const before = await findings(one.page);
  await claim('a part whose facts are not known is told among the findings', async () => {
    const { page } = one;
    await open_slot(page, 'front_tyre');
    await page.locator('.find-part').fill('not known');
    await may_be_chosen(page).first().click();
    await slot_row(page).filter({ hasText: 'not known' }).waitFor();
    const told = await findings(page);
    assert.notEqual(told, before);
    assert.match(told, /not known[^|]*front tyre/i);
  });
  await claim('what was chosen last can be taken back', async () => {
    const { page } = one;
    await page.locator('.take-back').getByRole('button', { name: 'Undo' }).click();
    await until(() => findings(page), before, 8000);
  });
  await claim('a closed part says why, and “Why not?” names the rules', async () => {
    await open_slot(one.page, 'rear_hub');
    const { page } = one;
    await page.locator('.find-part').fill('closed');
    const closed = page.locator('.choice.closed').first();
    assert.ok((await words(closed.locator('.note'))).length > 20, 'a reason stands beside it');
    const before = await words(page.locator('tr[data-slot="rear_hub"]'));
    await closed.click({ force: true });  // disabled, as it cannot be chosen
    await page.locator('.clash').waitFor();
    assert.equal(await words(page.locator('tr[data-slot="rear_hub"]')), before, 'not chosen');
    await reads(page.locator('.clash'), /rule C-\d+/);
  });
  await claim('a signed specification is shown, and nothing of it can be chosen', async () => {
    const { page } = one;
    await page.goto('/orders/2022');
    await open_slot(page, 'saddle');
    await page.getByText('The specification is signed').waitFor();
    await may_be_chosen(page).first().click();
    assert.equal(await page.getByRole('button', { name: 'Choose this part' }).count(), 0);
    assert.equal(await page.locator('.take-back').count(), 0, 'nothing was chosen');
  });
  await claim('two desks that choose at once: the second is told, and loses nothing', async () => {
    const { page } = two;
    await open_slot(page, 'saddle');
    await page.route('**/choices/saddle', async (route) => {
      if (route.request().method() !== 'PUT') return route.continue();
      const body = route.request().postDataJSON();
      return route.continue({ postData: JSON.stringify({ ...body, revision: body.revision - 1 }) });
    });
    const before = await words(page.locator('tr[data-slot="saddle"]'));
    await may_be_chosen(page).first().click();
    await page.locator('.bench-side .refused').waitFor();
    assert.equal(await words(page.locator('tr[data-slot="saddle"]')), before);
    await page.unroute('**/choices/saddle');
  });
  await one.close();
  await two.close();
}

const places = [
  '/', '/orders', '/orders/2022', '/orders/2041', '/orders/2044', '/orders/new', '/plan', '/bench',
  '/bench/2022', '/bench/2022/sheet', '/bench/truing', '/bench/truing?order=2003&wheel=rear',
  '/orders/2003/wheels/rear', '/bench/aids/wheel-card', '/parts', '/parts/HF-0001', '/parts/buy', '/records',
  '/no-such-page',
];

/** Goes to another page the way a link of the pages does, without a new document. */
async function travel(page, place) {
  await page.evaluate(async (to) => {
    history.pushState(null, '', to);
    dispatchEvent(new PopStateEvent('popstate'));
    const frame = () => new Promise((resolve) => { requestAnimationFrame(resolve); });
    await frame();
    await frame();
  }, place);
  await page.locator('h1').waitFor();
  await page.locator('main .waiting').first().waitFor({ state: 'detached' });
}

async function look_at(page, place) {
  await travel(page, place);
  if (place === '/orders/2022') await open_slot(page, 'rear_hub');
  await assert_for_everyone(page);
}

async function every_page(server, window) {
  const { page, complaints, close } = await window_of(server, window);
  await page.goto('/');
  await page.locator('h1').waitFor();
  for (const place of places) {
    await claim(`${place} at ${window.width} px: open to all, within the screen`, async () => {
      complaints.length = 0;
      await look_at(page, place);
      assert.deepEqual(complaints, []);
    });
  }
  await close();
}

async function by_hand(server) {
  const { page, close } = await window_of(server);
  await claim('by keyboard alone: / and a number and Enter open an order', async () => {
    await page.goto('/');
    await page.locator('h1').waitFor();
    await page.keyboard.press('/');
    await page.keyboard.type('204');
    await page.locator('#found li').first().waitFor();
    // Enter right behind the last digit: it is meant for what is typed, not for what is in view.
    await page.keyboard.type('1');
    await page.keyboard.press('Enter');
    await page.waitForURL('**/orders/2041');
    await reads(page.locator('h1'), /2041/);
    await until(() => page.evaluate(() => document.activeElement.tagName), 'H1', 2000);
  });
  await claim('by keyboard alone: Tab, Enter and Escape open and close choices', async () => {
    for (let i = 0; i < 160; i += 1) {
      await page.keyboard.press('Tab');
      if (await page.evaluate(() => document.activeElement.matches('tr.slot button.part'))) break;
    }
    await page.keyboard.press('Enter');
    await page.locator('.choice .status').first().waitFor();
    await page.keyboard.press('Escape');
    await page.locator('.choice').first().waitFor({ state: 'detached' });
  });
  await claim('the night theme is remembered', async () => {
    const paper = () => page.evaluate(
      () => getComputedStyle(document.documentElement).backgroundColor);
    const day = await paper();
    await page.getByRole('button', { name: 'Change to night' }).click();
    assert.notEqual(await paper(), day);
    const night = await paper();
    await page.goto('/orders');
    await page.getByRole('button', { name: 'Change to paper' }).waitFor();
    assert.equal(await paper(), night);
  });
  await close();
}

/** The server once more, at the port at which the pages look for it. */
function serve_again({ book, port }) {
  const child = spawn(program, ['--book', book, 'serve', '--port', String(port)], {
    env: { ...process.env, ROLLWRIGHT_NOW: demoNow }, stdio: 'ignore',
  });
  const ended = new Promise((resolve) => { child.on('close', resolve); });
  return { stop: () => { child.kill('SIGTERM'); return ended; } };
}

async function first_talk(server) {
  const { page, complaints, close } = await window_of(server);
  await claim('a first talk is kept as an enquiry, with a name and a wish, and says what makes it a draft', async () => {
    await page.goto('/orders/new');
    await page.getByLabel('It begins as').selectOption('Enquiry');
    await page.getByText('A name, a telephone number and a wish will do').waitFor();
    await page.getByLabel('Name', { exact: true }).fill('Somebody at the door');
    await page.getByLabel('In the rider’s own words').fill('to work and back, with a child; about 4000; call on Friday');
    await page.getByRole('button', { name: 'Keep the enquiry' }).click();
    await page.getByRole('heading', { name: /Somebody at the door/ }).waitFor();
    await page.locator('details.life-next', { hasText: 'Draft' }).first().waitFor();
    await reads(page.locator('details.life-next').first(), /^Draft.*height/s);
    const [, id] = /orders\/(\d+)/.exec(page.url());
    const { line } = await (await fetch(`${server.url}/api/orders/${id}`)).json();
    assert.equal(line.state, 'Enquiry');
    assert.deepEqual(complaints, []);
  });
  await close();
}

async function server_gone() {
  const first = await start_server();
  const { page, close } = await window_of(first);
  let second;
  await claim('the page says that the server is gone', async () => {
    await page.goto('/orders/2022');
    await page.locator('.promise svg').waitFor();
    await first.stop();
    await page.locator('.standing-line').filter({ hasText: 'Not connected' }).waitFor();
    await page.locator('tr[data-slot="saddle"] button.part').click();
    await page.locator('.opened .refused').filter({ hasText: 'does not answer' }).waitFor();
  });
  await claim('the page goes on by itself when the server is back', async () => {
    second = serve_again(first);
    const told = page.locator('.standing-line').filter({ hasText: 'Not connected' });
    await told.waitFor({ state: 'detached', timeout: 12_000 });
    await page.locator('.choice .status').first().waitFor();
  });
  await close();
  await second?.stop();
}

browser_house(async () => {
  const server = await start_server();
  await Promise.all([
    one_bike(server),
    every_page(server, { width: 1440, height: 900, colorScheme: 'light' }),
    every_page(server, { width: 390, height: 844, colorScheme: 'dark' }),
  ]);
  await two_desks(server);
  await by_hand(server);
  await first_talk(server);
  await server_gone();
});
