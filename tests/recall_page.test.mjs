// Recalls in a real browser: a notice is written down from a range of numbers, the sale stops at once,
// riders are told one by one, and the lists are taken along. Shop, parts and people are invented.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import { browser_house, for_everyone, reads, until, window_of, words } from './browser.mjs';
import { claim, demo_book, program, run, start_server } from './house.mjs';

const password = 'seven quiet freewheels';
const kPart = 'ST-0004';

const get = async (server, place) => (await fetch(server.url + place)).json();
const form = (page) => page.locator('form.recall-form').last();
const row = (page, order) => page.locator('.recall-bikes tbody tr', { has: page.getByRole('link', { name: order, exact: true }) });
const flags_of = async (server, order) => (await get(server, `/api/orders/${order}`)).line.flags;

/** Writes a notice down and gives its number. */
async function write_down(page, fields) {
  await page.goto('/records/recalls');
  await form(page).waitFor();
  for (const [label, text] of Object.entries(fields)) await form(page).getByLabel(label, { exact: true }).fill(text);
}

const open_it = async (page) => {
  await form(page).getByRole('button', { name: 'Write down and stop the sale' }).click();
  await page.getByRole('heading', { name: /^Recall R\d+$/ }).waitFor();
  return (await words(page.locator('h1'))).replace('Recall ', '');
};

/** Writes down what was done about one bike. */
async function tell(page, order, { status, channel = '', note = '', who = '' }) {
  await row(page, order).first().getByRole('button', { name: /Write down/ }).click();
  const box = page.getByRole('form', { name: `Bike ${order}` });
  await box.getByLabel('What came of it').selectOption(status);
  if (channel) await box.getByLabel('Channel').fill(channel);
  if (note) await box.getByLabel('Note').fill(note);
  if (who) await box.getByLabel('Who', { exact: true }).selectOption(who);
  await box.getByRole('button', { name: 'Write down', exact: true }).click();
}

async function notice(page, server) {
  await claim('a notice that names nothing, or nobody who wrote it, is refused where it stands', async () => {
    await write_down(page, { 'What is wrong': 'the clamp can crack' });
    await form(page).getByRole('button', { name: 'Write down and stop the sale' }).click();
    await form(page).getByRole('alert').waitFor();
    await form(page).getByLabel('Part’s number').fill(kPart);
    await form(page).getByRole('button', { name: 'Write down and stop the sale' }).click();
    await form(page).getByRole('alert').waitFor();
    assert.deepEqual((await get(server, '/api/recalls')).recalls, []);
  });
  await claim('a range of lots whose end lies before its beginning is refused', async () => {
    await form(page).getByLabel('Written down by').selectOption('mara');
    await form(page).getByLabel('Lot from').fill('L9');
    await form(page).getByLabel('Lot to').fill('L1');
    await form(page).getByRole('button', { name: 'Write down and stop the sale' }).click();
    await form(page).getByRole('alert').waitFor();
    assert.deepEqual((await get(server, '/api/recalls')).recalls, []);
  });
  let number = '';
  await claim('written down with its range and its danger, the notice has a page of its own', async () => {
    await write_down(page, { 'Part’s number': kPart, 'Lot from': 'L10', 'Lot to': 'L19', 'What is wrong': 'the clamp can crack', Remedy: 'another stem, free of charge' });
    await form(page).getByLabel('Written down by').selectOption('mara');
    await form(page).getByLabel('Somebody may be hurt').check();
    number = await open_it(page);
    const notice = page.locator('main');
    await reads(notice, /Danger.*Tell each rider within a day/s);
    await reads(notice, /L10.*L19/s);
    await reads(notice, /Written down.*Mara Hollis/s);
  });
  return number;
}

async function stop_sale(page, server, number) {
  await claim('live orders with the part stop at once, on this page, on their own and on the list', async () => {
    const { orders, line } = await get(server, `/api/recalls/${number}`);
    assert.ok(orders.length > 0 && line.held > 0, 'the demo has orders with this part');
    const [first] = orders.filter((bike) => bike.stop_sale);
    await reads(row(page, first.order).first(), /Stop-sale/);
    assert.ok((await flags_of(server, first.order)).includes('Stop-sale'));
    await row(page, first.order).first().getByRole('link', { name: first.order, exact: true }).click();
    await page.locator('.flags .flag', { hasText: 'Stop-sale' }).waitFor();
    await page.goto('/records/recalls');
    await reads(page.locator('.recalls-list li').first(), new RegExp(`${number}.*Danger.*orders? on stop-sale`, 's'));
    await page.locator('.recalls-list').getByRole('link', { name: new RegExp(number) }).click();
    await page.getByRole('heading', { name: `Recall ${number}` }).waitFor();
  });
}

async function riders(page, server, number) {
  const { bikes, orders, statuses } = await get(server, `/api/recalls/${number}`);
  const all = [...bikes, ...orders];
  await claim('what may come of it is told, booked, fixed and refused', () => {
    for (const one of ['told', 'booked', 'fixed', 'refused']) assert.ok(statuses.includes(one), statuses.join());
    assert.ok(new Set(all.map((bike) => bike.order)).size >= 2, 'the demo has two bikes with this part');
  });
  const [one, two] = [...new Set(all.map((bike) => bike.order))];
  await claim('each attempt stands with day, person and channel, one behind the other', async () => {
    await tell(page, one, { status: 'told', channel: 'telephone', who: 'pia' });
    await row(page, one).first().getByText(/told, 25 November 2026, Pia Lindqvast, telephone/).waitFor();
    await tell(page, one, { status: 'booked', note: 'Friday morning', who: 'pia' });
    await row(page, one).first().getByText(/booked, 25 November 2026, Pia Lindqvast, Friday morning/).waitFor();
    await reads(row(page, one).first(), /told, 25 November.*booked, 25 November/s);
  });
  await claim('who refuses stays on the list as refused', async () => {
    await tell(page, two, { status: 'refused', note: 'rides on', who: 'mara' });
    await row(page, two).first().getByText(/refused, 25 November 2026, Mara Hollis, rides on/).waitFor();
  });
  await claim('nobody is said to have told a rider without a name', async () => {
    await tell(page, two, { status: 'told' });
    await page.getByRole('form', { name: `Bike ${two}` }).getByRole('alert').waitFor();
    await page.getByRole('form', { name: `Bike ${two}` }).getByRole('button', { name: 'Leave' }).click();
  });
  const held = orders.find((bike) => bike.stop_sale)?.order ?? one;
  await claim('fixed takes the stop-sale off its order, and the progress says so', async () => {
    const before = (await get(server, `/api/recalls/${number}`)).line;
    await tell(page, held, { status: 'fixed', note: 'new stem', who: 'mara' });
    await row(page, held).first().getByText(/fixed, 25 November 2026, Mara Hollis/).waitFor();
    await until(async () => (await flags_of(server, held)).includes('Stop-sale'), false, 4000);
    const after = (await get(server, `/api/recalls/${number}`)).line;
    assert.equal(after.held, before.held - 1);
    await tell(page, one, { status: 'fixed', note: 'new stem', who: 'mara' });
    await page.locator('.lead', { hasText: `${bikes.length} of ${bikes.length} rider told; 1 fixed` }).waitFor();
  });
}

async function papers(page, number) {
  await claim('the list is saved as a table with every bike', async () => {
    const [saved] = await Promise.all([page.waitForEvent('download'), page.getByRole('link', { name: 'List as a table (CSV)' }).click()]);
    assert.match(saved.suggestedFilename(), /\.csv$/);
    const text = fs.readFileSync(await saved.path(), 'utf8');
    const shown = await page.locator('.recall-bikes tbody tr').count();
    assert.ok(text.trim().split('\n').length - 1 >= shown, text.slice(0, 300));
    assert.match(text, /fixed/);
  });
  await claim('the list to print is a PDF', async () => {
    const link = page.getByRole('link', { name: 'List to print (PDF)' });
    const answer = await page.request.get(await link.getAttribute('href'));
    assert.equal(answer.status(), 200);
    assert.match(answer.headers()['content-type'], /^application\/pdf/);
    assert.equal((await answer.body()).subarray(0, 5).toString(), '%PDF-');
  });
  await claim('what is open is closed only with a reason; then the sale goes on', async () => {
    const close = page.locator('form[aria-labelledby="close-recall"]');
    await close.getByLabel('Who', { exact: true }).selectOption('mara');
    await close.getByRole('button', { name: 'Close', exact: true }).click();
    await close.getByRole('alert').waitFor();
    await close.getByLabel('Why, while something is open').fill('the maker took the notice back');
    await close.getByRole('button', { name: 'Close', exact: true }).click();
    await close.waitFor({ state: 'detached' });
    await reads(page.locator('.recall-facts'), /closed 25 November 2026 \(Mara Hollis\): the maker took the notice back/);
    assert.equal(await page.getByText('Stop-sale').count(), 0);
    assert.equal(await page.locator('.recall-bikes .deed button').count(), 0);
    await page.goto('/records/recalls');
    await reads(page.locator('.recalls-list li', { hasText: number }), /closed 25 November 2026/);
  });
}

async function signed_in() {
  const book = demo_book();
  const made = run(program, ['--book', book, 'make-owner', 'mara'], { input: `${password}\n${password}\n` });
  if (made.code !== 0) throw new Error(made.err);
  const server = await start_server({ book });
  const { page, close } = await window_of(server);
  await claim('whoever is signed in is not asked who writes it down, and stands with it', async () => {
    await page.goto('/sign-in');
    await page.getByLabel('Sign-in name', { exact: true }).fill('mara');
    await page.getByLabel('Password', { exact: true }).fill(password);
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.locator('.who-line').waitFor();
    await write_down(page, { 'Part’s number': kPart, 'Number from': 'A100', 'Number to': 'A199', 'What is wrong': 'the clamp can crack' });
    assert.equal(await form(page).getByLabel('Written down by').count(), 0);
    await open_it(page);
    await reads(page.locator('.recall-facts'), /A100.*A199.*Mara Hollis/s);
    const order = await words(page.locator('.recall-bikes tbody th a').first());
    await tell(page, order, { status: 'told', channel: 'letter' });
    await row(page, order).first().getByText(/told, 25 November 2026, Mara Hollis, letter/).waitFor();
    assert.equal(await page.locator('form[aria-labelledby="close-recall"]').getByLabel('Who', { exact: true }).count(), 0);
  });
  await claim('the moves of an order, its flags and its signing do not ask either', async () => {
    await page.goto('/orders/2041');
    await page.locator('.life form, .life details').first().waitFor();
    assert.equal(await page.locator('.life').getByLabel('Who moves it').count(), 0);
  });
  await close();
}

await browser_house(async () => {
  const server = await start_server();
  const { page, complaints, close } = await window_of(server, { acceptDownloads: true });
  const number = await notice(page, server);
  await stop_sale(page, server, number);
  await riders(page, server, number);
  await for_everyone(server, ['/records/recalls', `/records/recalls/${number}`], (shown) => shown.locator('.recall-form').first().waitFor());
  await papers(page, number);
  await claim('nothing else was amiss in the browser meanwhile', () => {
    assert.deepEqual(complaints.filter((line) => !/status of 4\d\d/.test(line)), []);
  });
  await close();
  await signed_in();
});
