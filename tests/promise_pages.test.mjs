// Ways to be sooner on the order page, and what was said against what was kept, as a person sees them.
import assert from 'node:assert/strict';
import { browser_house, for_everyone, reads, window_of, words } from './browser.mjs';
import { claim, start_server } from './house.mjs';

// An invented order that waits for a part which another order has in the house.
const waiting = '2024';

const looked_for = async (page) => {
  await page.getByRole('button', { name: 'Look for ways' }).click();
  await page.locator('.sooner .promise-sentence').waitFor({ timeout: 60_000 });
};

async function at_the_desk(server) {
  const { page, complaints, close } = await window_of(server);
  await claim('the order page looks for ways to be sooner when it is asked, not before', async () => {
    await page.goto(`/orders/${waiting}`);
    await page.getByRole('heading', { name: 'Sooner' }).waitFor();
    assert.equal(await page.locator('.way').count(), 0);
    await looked_for(page);
    await reads(page.locator('.sooner .promise-sentence'), /wins most, [\d.]+ days/);
  });
  await claim('each way has its days, its price and what it does to the promises of others', async () => {
    const ways = page.locator('ul.ways > li');
    assert.ok(await ways.count() >= 1);
    for (const way of await ways.all()) {
      const text = await words(way);
      assert.match(text, /[\d.]+ days sooner/);
      assert.match(text, /no extra cost|\d €/);
      assert.match(text, /No other promise moves|kept in \d+ in 100 instead of \d+/);
    }
  });
  await claim('ways on top of one another win more and more', async () => {
    const days = (await page.locator('ol.ways .way-sum b').allInnerTexts()).map(parseFloat);
    for (let i = 1; i < days.length; i += 1) assert.ok(days[i] > days[i - 1], days.join(' '));
  });
  await claim('records lead to what was said and kept, as a drawing and as a table', async () => {
    await page.goto('/records');
    await page.getByRole('link', { name: 'Said and kept' }).click();
    await page.locator('.kept .promise-sentence').waitFor();
    await reads(page.locator('.kept .promise-sentence'), /^\d+ of \d+ promises were kept/);
    const label = await page.locator('.kept-chart svg').getAttribute('aria-label');
    assert.match(label, /said 90 to 94 in 100: \d+ of \d+ kept/);
    const rows = page.locator('section[aria-labelledby="said-and-kept"] tbody tr');
    assert.equal(await rows.count(), await page.locator('.kept-chart .band').count() + 1);
  });
  await claim('records lead to the times taken, beside what the trade states', async () => {
    await page.goto('/records');
    await page.getByRole('link', { name: 'Times taken' }).click();
    const row = page.locator('.minutes tbody tr', { hasText: 'W-31' });
    await row.waitFor();
    await reads(row, /25 to 50\s?min.*\d+ times/s);
    await reads(page.locator('.minutes .promise-sentence'), /^155 times were taken\./);
  });
  await claim('nothing was amiss in the browser meanwhile', () => assert.deepEqual(complaints, []));
  await close();
}

browser_house(async () => {
  const server = await start_server();
  await at_the_desk(server);
  await for_everyone(server, ['/records/promises', '/records/minutes', `/orders/${waiting}`],
    (page, place) => (place.startsWith('/orders') ? looked_for(page)
      : page.locator('main .promise-sentence').waitFor()), ['desk', 'telephone']);
});
