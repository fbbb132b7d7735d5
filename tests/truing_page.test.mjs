// The truing stand in a real browser: readings are typed on the page's own pad, turns are ticked, the
// next pass begins, and all of it is still there after the page was left.
import assert from 'node:assert/strict';
import { browser_house, reads, until, window_of, words } from './browser.mjs';
import { claim, start_server } from './house.mjs';

const tablet = { width: 1024, height: 768, hasTouch: true };
const place = (page, row, n) => page.locator(`input[data-row="${row}"][data-index="${n}"]`);
const bar = (page, name) => page.locator('nav.turn').getByRole('button', { name, exact: true });

/** Out by half a millimetre to the left over a quarter of the rim. */
const sideways = [0.4, 0.5, 0.5, 0.4, 0.2, 0, -0.2, -0.3, -0.3, -0.2, -0.1, 0, 0, 0, 0, 0.1];

async function read_once_around(page, lateral, radial) {
  for (const [row, values] of [['lateral', lateral], ['radial', radial]]) {
    for (const [i, value] of values.entries()) await place(page, row, i).fill(String(value));
  }
}

async function first_pass(page) {
  await claim('a wheel of no order finds the stand from the bench', async () => {
    await page.goto('/bench');
    await page.getByRole('link', { name: 'Truing stand' }).tap();
    await page.locator('h1', { hasText: 'Truing stand' }).waitFor();
    await reads(page.locator('.truing-caution'), /eye protection.*makers come first/s);
    assert.ok(await bar(page, 'See the turns').isDisabled(), 'nothing was read yet');
  });
  await claim('the page’s own keys type into the place that was touched, and lead to the next', async () => {
    await place(page, 'lateral', 0).tap();
    for (const key of ['0', 'Point', '4', 'plus or minus', 'plus or minus', 'Next', '0', 'Point', '5']) {
      await page.locator('.pad').getByRole('button', { name: key, exact: true }).tap();
    }
    assert.equal(await place(page, 'lateral', 0).inputValue(), '0.4');
    assert.equal(await place(page, 'lateral', 1).inputValue(), '0.5');
  });
  await claim('once around read, it says which turns, what it expects and how sure it is', async () => {
    await read_once_around(page, sideways, sideways.map(() => 0));
    await bar(page, 'See the turns').tap();
    await page.locator('.turn-list li').first().waitFor();
    const said = await words(page.locator('.truing-said'));
    assert.match(said, /\d+ quarter turns on \d+ spokes/);
    assert.match(said, /in \d+ of 100 such wheels/);
    assert.match(said, /No tension was read/);
    const listed = await page.locator('.turn-list li').count();
    assert.equal(await page.locator('.turn-mark').count(), listed, 'each turn stands at its nipple');
    assert.equal(await page.locator('.tensions .bar').count(), 32);
  });
}

async function targets_are_large(page) {
  const boxes = await page.locator('.truing button:visible, .truing input:visible, .truing label:visible')
    .evaluateAll((all) => all.filter((one) => one.tagName !== 'LABEL' || one.closest('.turn-list'))
      .map((one) => ({ what: one.textContent || one.getAttribute('aria-label'), ...one.getBoundingClientRect().toJSON() })));
  for (const box of boxes) {
    assert.ok(box.height >= 44 && box.width >= 44, `${box.what}: ${box.width} by ${box.height}`);
  }
}

async function next_pass(page) {
  await claim('what is touched has at least 44 px, and the tablet is not too narrow', async () => {
    await targets_are_large(page);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    assert.ok(wide <= 0, `${wide} px too wide`);
  });
  await claim('turns that are half ticked do not count as made', async () => {
    await page.locator('.turn-list input').first().tap();
    assert.ok(await bar(page, 'These turns are made').isDisabled());
    await reads(page.locator('.truing-said'), /1 of \d+ are ticked/);
    await page.reload();
    assert.ok(await page.locator('.turn-list input').first().isChecked(), 'the tick is still there');
    for (const box of await page.locator('.turn-list input').all()) await box.check();
  });
  await claim('once they are made the next pass waits for readings, and a reload keeps it', async () => {
    await bar(page, 'These turns are made').tap();
    await page.getByText('Pass 2').waitFor();
    assert.equal(await place(page, 'lateral', 0).inputValue(), '');
    await page.getByRole('button', { name: 'take that back' }).tap();
    await page.locator('.turn-list li').first().waitFor();
    await bar(page, 'Readings').tap();
    await page.getByText('First pass').waitFor();
    assert.equal(await place(page, 'lateral', 0).inputValue(), '0.4', 'what was read is back');
    await bar(page, 'Turns').tap();
    await bar(page, 'These turns are made').tap();
    await page.getByText('Pass 2').waitFor();
    await place(page, 'lateral', 0).fill('0.15');
    assert.equal(await page.getByRole('button', { name: 'take that back' }).count(), 0);
    await page.reload();
    await page.getByText('Pass 2').waitFor();
    assert.equal(await place(page, 'lateral', 0).inputValue(), '0.15');
  });
  await claim('a wheel that reads true after the turns is to be left alone', async () => {
    await read_once_around(page, sideways.map(() => 0.02), sideways.map(() => 0));
    const asked = page.waitForRequest((request) => request.url().includes('/api/aids/truing'));
    await bar(page, 'See the turns').tap();
    assert.match(decodeURIComponent((await asked).url()), /turns\+\d+:|turns \d+:/, 'the first pass goes along');
    await page.locator('.truing-said .do-this').waitFor();
    await reads(page.locator('.truing-said'), /leave it alone/);
    assert.equal(await page.locator('.turn-list li').count(), 0);
  });
}

async function keeps_apart(page) {
  await claim('another order’s wheel has readings of its own', async () => {
    await page.goto('/bench/truing?order=2031&wheel=front');
    await place(page, 'lateral', 0).waitFor();
    assert.equal(await place(page, 'lateral', 0).inputValue(), '');
    await place(page, 'lateral', 0).fill('0.9');
    await page.goto('/bench/truing?order=2031&wheel=rear');
    await place(page, 'lateral', 0).waitFor();
    assert.equal(await place(page, 'lateral', 0).inputValue(), '');
  });
  await claim('a wheel begins anew only when that was asked for twice', async () => {
    await page.goto('/bench/truing');
    await bar(page, 'Readings').tap();
    await page.getByText('Pass 2').waitFor();
    await page.getByRole('button', { name: 'Begin this wheel anew' }).tap();
    await page.getByRole('button', { name: 'Keep them' }).tap();
    assert.equal(await page.getByText('Pass 2').count(), 1);
    await page.getByRole('button', { name: 'Begin this wheel anew' }).tap();
    await page.getByRole('button', { name: 'Forget them' }).tap();
    await until(() => page.getByText('First pass').count(), 1, 3000);
    assert.equal(await place(page, 'lateral', 0).inputValue(), '');
  });
  await claim('a measure that cannot be is named where it stands', async () => {
    await read_once_around(page, sideways, sideways);
    await bar(page, 'The wheel').tap();
    await page.getByLabel('Crosses, left').fill('nine');
    await page.locator('.field.wrong', { hasText: 'Crosses, left' }).waitFor();
  });
}

browser_house(async () => {
  const { page, complaints, close } = await window_of(await start_server(), tablet);
  await first_pass(page);
  await next_pass(page);
  await keeps_apart(page);
  await claim('nothing was amiss in the browser meanwhile', () => {
    assert.deepEqual(complaints.filter((one) => !/400 \(Bad Request\)/.test(one)), []);
  });
  await close();
});
