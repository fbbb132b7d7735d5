// Bench aids in a real browser: typing reckons, a wrong field is named where it stands, a route and
// a wheel's next pass.
import assert from 'node:assert/strict';
import path from 'node:path';
import { browser_house, reads, until, window_of, words } from './browser.mjs';
import { claim, root, start_server } from './house.mjs';

const figure = (page, name) =>
  words(page.locator('.figures > div', { hasText: name }).first().locator('b'));

async function aids(server) {
  const { page, complaints, close } = await window_of(server);
  await claim('a mechanic with no order finds a gear chart from the bench', async () => {
    await page.goto('/bench');
    await page.getByRole('link', { name: 'Bench aids' }).click();
    await page.getByRole('link', { name: 'Gear chart' }).click();
    await page.locator('.aid-table tbody tr').first().waitFor();
    await page.getByLabel('Chainrings').fill('46');
    await page.getByLabel('Sprockets').fill('11 22 44');
    await until(() => page.locator('.aid-table tbody tr').count(), 3, 5000);
    assert.equal(await figure(page, 'Range'), '400 %');
    assert.equal(await page.locator('.scale .mark-line').count(), 3);
  });
  await claim('a field that is wrong says so where it stands', async () => {
    await page.getByLabel('Sprockets').fill('eleven');
    await page.locator('.field.wrong .complaint').waitFor();
    await reads(page.locator('.field.wrong'), /Sprockets.*whole number/s);
    await page.getByRole('button', { name: 'As it was at first' }).click();
    await page.locator('.field.wrong').waitFor({ state: 'detached' });
  });
  await claim('a route file gives the odds of coming home with the charge along the way', async () => {
    await page.goto('/bench/aids/home-again');
    await page.locator('input[type=file]').setInputFiles(path.join(root, 'data/demo/routes/ridge.gpx'));
    await page.locator('.band svg').waitFor();
    assert.match(await figure(page, 'Comes home'), /\d+ in 100$/);
    await page.locator('input[type=file]').setInputFiles(path.join(root, 'data/demo/shop.toml'));
    await page.locator('.field.wrong .complaint').waitFor();
  });
  await claim('a wheel goes on from its first pass to the next readings', async () => {
    await page.goto('/bench/aids/truing');
    await page.getByRole('button', { name: 'These turns are made' }).click();
    assert.equal(await page.getByLabel('Sideways readings').inputValue(), '');
    assert.match(await page.getByLabel('Earlier passes').inputValue(), /turns \d+:[+-]\d/);
    await page.getByLabel('Sideways readings').fill('0 0 0 0 0.1 0 0 0');
    await page.getByLabel('Up-and-down readings').fill('0 0 0 0 0 0 0 0');
    await page.locator('.figures').waitFor();
    assert.ok(Number(await figure(page, 'Quarter turns')) <= 4);
  });
  await claim('nothing was amiss in the browser meanwhile', () => {
    const amiss = complaints.filter((one) => !/400 \(Bad Request\)/.test(one));
    assert.deepEqual(amiss, []);
  });
  await close();
}

browser_house(async () => {
  await aids(await start_server());
});
