// The weeks ahead by skill and person, as a person sees them. The shop is invented.
import assert from 'node:assert/strict';
import { browser_house, for_everyone, reads, window_of, words } from './browser.mjs';
import { claim, start_server } from './house.mjs';

async function at_the_desk(server) {
  const { page, complaints, close } = await window_of(server);
  await claim('the wall plan leads to the load by week', async () => {
    await page.goto('/plan');
    await page.getByRole('link', { name: 'Load by week' }).click();
    await page.locator('.load-table').first().waitFor();
    await reads(page.locator('.load .promise-sentence'), /hours of .*work/);
  });
  await claim('each skill and each person has its hours in every week', async () => {
    for (const table of await page.locator('.load-table').all()) {
      const weeks = await table.locator('thead th').count() - 1;
      assert.equal(weeks, 6);
      const row = table.locator('tbody tr').first();
      assert.equal(await row.locator('td').count(), weeks);
      await reads(row.locator('td').first(), /^[\d.]+ of [\d.]+\s?h/);
    }
  });
  await claim('a promised order leads to its page', async () => {
    const link = page.locator('.load-table td a').first();
    const id = await words(link);
    await link.click();
    await page.getByRole('heading', { level: 1 }).filter({ hasText: id }).waitFor();
  });
  await claim('nothing was amiss in the browser meanwhile', () => assert.deepEqual(complaints, []));
  await close();
}

browser_house(async () => {
  const server = await start_server();
  await at_the_desk(server);
  await for_everyone(server, ['/plan/load'], (page) => page.locator('.load-table').first().waitFor());
});
