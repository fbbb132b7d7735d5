// A bike that comes back, as desk and stand see it: it comes in for its service, two people do and check
// what is asked for, another saddle goes on, and its rider gets it back. Everything is invented.
import assert from 'node:assert/strict';
import { browser_house, for_everyone, reads, window_of } from './browser.mjs';
import { claim, start_server } from './house.mjs';

const order = '2003';
const get = async (server, place) => (await fetch(server.url + place)).json();
const section = (page, name) => page.locator('section').filter({ has: page.getByRole('heading', { name, exact: true }) });

/** Writes deeds as a tablet does. */
async function write(server, who, deeds) {
  const answer = await fetch(`${server.url}/api/bench/${order}/record`, {
    method: 'POST', headers: { 'Content-Type': 'application/json', Origin: server.url },
    body: JSON.stringify({ who, deeds }) });
  return { status: answer.status, view: await answer.json() };
}

const good = (operation, { value }, point) => {
  const deed = { deed: 'read', about: operation, reading: value.reading, point };
  if (value.pass_or_fail) return { ...deed, outcome: 'pass' };
  const read = value.target ?? value.strictest.least ?? value.strictest.most ?? 1;
  // Numbers of a view are in the dimension's own unit.
  return { ...deed, value: value.dimension === 'length' ? `${read} mm` : String(read), ...(value.dimension === 'torque' ? { tool: read > 20 ? 'T3' : 'T2' } : {}) };
};

/** Everything that can be begun is done, until nothing is. */
async function do_the_work(server) {
  for (;;) {
    const { operations } = await get(server, `/api/bench/${order}`);
    const next = operations.find((one) => one.standing === 'redo' && one.waits_for.length === 0);
    if (!next) return;
    const readings = next.readings.flatMap((reading) =>
      reading.points.map((_, i) => good(next.operation, reading, i + 1)));
    const { status, view } = await write(server, next.second_person ? 'ilka' : 'mara', [
      { deed: 'started', about: next.operation }, ...readings, { deed: 'done', about: next.operation }]);
    assert.equal(status, 200, `${next.operation}: ${JSON.stringify(view)}`);
  }
}

async function is_told(page) {
  const row = page.locator('.coming-back > li', { hasText: order });
  await claim('bikes that should come back are listed from the page of orders', async () => {
    await page.goto('/orders');
    await page.getByRole('link', { name: 'Bikes that come back' }).click();
    await reads(page.getByRole('status'), /No bike is here for a visit\. 2 bikes should come back, 0 of 2 riders were told/);
    await reads(row, /Anneke Birkhoff.*half-yearly service.*26 weeks after it was ready.*overdue/s);
  });
  await claim('that a rider was told is written down in its row', async () => {
    await row.getByText('The rider was told').click();
    await row.getByLabel('What the rider said').fill('comes on Tuesday');
    await row.getByLabel('Who').selectOption('mara');
    await row.getByRole('button', { name: 'Write it down' }).click();
    await reads(row, /Told on Wednesday 25 November: comes on Tuesday/);
    assert.equal(await row.getByText('The rider was told').count(), 0);
  });
  await claim('and the page of today names only the other', async () => {
    await page.goto('/');
    const group = page.locator('.diary', { has: page.getByRole('heading', { name: 'to come back' }) });
    await reads(group, /^(?!.*2003).*2004 Elin Ismay: half-yearly service/s);
  });
}

async function comes_in(page) {
  await claim('the order of a bike in care leads to its visits', async () => {
    await page.goto(`/orders/${order}`);
    await page.getByRole('link', { name: 'Care: visits, what is due' }).click();
    await page.getByRole('heading', { name: `Care of bike ${order}` }).waitFor();
    await reads(page.locator('.lead'), /half-yearly service, due Tuesday 10 November, 26 weeks after it was ready/);
    await reads(page.locator('.care-page'), /Told on Wednesday 25 November: comes on Tuesday/);
  });
  await claim('nothing can be written down before it is said what for', async () => {
    await page.getByLabel('Who', { exact: true }).selectOption('pia');
    await page.getByLabel('half-yearly service').uncheck();  // it is due
    assert.ok(await page.getByRole('button', { name: 'Write down that it is here' }).isDisabled());
  });
  await claim('km that are none are refused where they were typed, and nothing is lost', async () => {
    await page.getByLabel('half-yearly service').check();
    await page.getByLabel('Km on its display').fill('many');
    await page.getByLabel('What the rider says').fill('the saddle is torn');
    await page.getByRole('button', { name: 'Write down that it is here' }).click();
    await reads(page.locator('.complaint'), /as in 412/);
    assert.equal(await page.getByLabel('What the rider says').inputValue(), 'the saddle is torn');
  });
  await claim('it is here, with what is asked for and what is open', async () => {
    await page.getByLabel('Km on its display').fill('1 580');
    await page.getByRole('button', { name: 'Write down that it is here' }).click();
    const here = section(page, 'Here now');
    await reads(here, /half-yearly service, 1580 km, taken in by Pia Lindqvast/);
    await reads(here, /C-30.*Chain and sprockets.*to be done/s);
    await reads(here, /C-95 \(Ride and look again\) is not done/);
    assert.ok(await here.getByRole('button', { name: 'Given back to be ridden' }).isDisabled());
  });
  await claim('more is asked for in the same visit', async () => {
    const here = section(page, 'Here now');
    await here.getByText('Ask for more').click();
    await here.getByLabel('A-70').check();
    await here.getByLabel('Why', { exact: true }).fill('new saddle');
    await here.getByLabel('Who', { exact: true }).first().selectOption('pia');
    await here.getByRole('button', { name: 'Ask for it' }).click();
    await reads(here.locator('.asked'), /A-70.*to be done again/s);
  });
}

async function at_the_stand(page, server) {
  await claim('the bench has it in hand, and says what it is here for', async () => {
    await page.goto('/bench');
    const bike = page.locator('.stands a', { hasText: order });
    await reads(bike, /half-yearly service/);
    await bike.click();
    await reads(page.locator('.visit-line'), /half-yearly service, 1580 km.*the saddle is torn/s);
  });
  await claim('the rider does not want the bearings looked at: it is left out, and why', async () => {
    await page.getByLabel('Who is at this tablet?').selectOption('mara').catch(() => page.getByRole('button', { name: 'Mara Hollis' }).click());
    await page.locator('.operations a', { hasText: 'C-22' }).click();
    await page.getByRole('button', { name: 'Leave it out' }).click();
    await page.getByRole('button', { name: 'The rider does not want it' }).click();
    await page.goto(`/orders/${order}/care`);
    await reads(section(page, 'Here now'), /^(?!.*C-22 \(Bearings).*$/s);
  });
  await claim('another saddle that fits goes on with its reason', async () => {
    const { choices } = await get(server, `/api/orders/${order}/choices/saddle`);
    const other = choices.find((one) => one.status === 'open' && !one.chosen).part;
    await page.goto(`/bench/${order}?tab=kit`);
    await page.locator('.kit-row', { hasText: /^saddle/i }).click();
    await page.getByLabel('Another part').fill(other.id);
    await page.getByLabel('Why it goes on').fill('torn');
    await page.getByRole('button', { name: 'It carries no number: bind it by hand' }).click();
    await reads(page.locator('.kit-row', { hasText: /^saddle/i }), new RegExp(other.name));
  });
}

async function goes_back(page, server) {
  await claim('what is asked for is done by one, and a second person checks the stop lines', async () => {
    await do_the_work(server);
    const { checks } = await get(server, `/api/bench/${order}`);
    const open = checks.filter((check) => check.outcome !== 'pass' && (check.list === 'care' || check.because !== ''));
    const own = await write(server, 'mara', [{ deed: 'checked', about: 'K3', outcome: 'pass' }]);
    assert.equal(own.status, 403, JSON.stringify(own.view));
    for (const check of open) {
      const { status, view } = await write(server, 'ilka', [{ deed: 'checked', about: check.id, outcome: 'pass' }]);
      assert.equal(status, 200, `${check.id}: ${JSON.stringify(view)}`);
    }
  });
  await claim('with nothing open it is given back, and stands among its visits', async () => {
    await page.goto(`/orders/${order}/care`);
    const here = section(page, 'Here now');
    await reads(here, /Nothing is open/);
    await here.getByRole('form', { name: 'Give it back' }).getByLabel('Who', { exact: true }).selectOption('pia');
    await here.getByRole('button', { name: 'Given back to be ridden' }).click();
    await reads(section(page, 'Visits'), /half-yearly service, 1580 km.*given back by Pia Lindqvast/s);
    assert.equal(await section(page, 'Here now').count(), 0);
  });
  await claim('the history tells it in sentences', async () => {
    await page.goto(`/records/bike/${order}`);
    const trail = page.locator('.trail').first();
    await reads(trail, /came back: half-yearly service, 1580 km: the saddle is torn/);
    await reads(trail, /C-22 Bearings of hubs and cranks left out: The rider does not want it/);
    await reads(trail, /given back to its rider/);
  });
  await claim('the bench has it no more', async () => {
    const { bikes } = await get(server, '/api/bench');
    assert.ok(!bikes.some((bike) => bike.order === order));
  });
}

browser_house(async () => {
  const server = await start_server();
  const { page, complaints, close } = await window_of(server);
  await is_told(page);
  await comes_in(page);
  await at_the_stand(page, server);
  await goes_back(page, server);
  await claim('the pages complain of nothing but what was refused', () => {
    assert.deepEqual(complaints.filter((one) => !/4(00|03|22)/.test(one)), []);
  });
  await close();
  await for_everyone(server, [`/orders/${order}/care`, '/orders/2004/care', '/orders/coming-back'], (page) => page.locator('.lead').waitFor());
});
