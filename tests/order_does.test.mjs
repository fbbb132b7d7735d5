// What an order's bike does, in a real browser: the figures, the way to the aid that says so, and
// what a mechanic types over the order's values.
import assert from 'node:assert/strict';
import { browser_house, reads, until, window_of, words } from './browser.mjs';
import { claim, start_server } from './house.mjs';

const panel = (page) => page.locator('section.does');
const doing = (page, name) =>
  panel(page).locator('.doings > div', { has: page.getByRole('link', { name }) });

async function figures(server) {
  const { page, complaints, close } = await window_of(server);
  await claim('an order says what its bike does, and whether it comes home when looked at', async () => {
    const asked = [];
    page.on('request', (request) => asked.push(request.url()));
    await page.goto('/orders/2001');
    await doing(page, 'Steepest start').waitFor();
    await reads(doing(page, 'Steepest start'), /\d+\.\d %/);
    await reads(doing(page, 'Lowest gear'), /\d\.\d\d m.*gear inches/s);
    await reads(doing(page, 'Rear tyre'), /bar.*psi/s);
    assert.equal(asked.some((url) => url.includes('home-again')), false, 'asked before looked at');
    await panel(page).scrollIntoViewIfNeeded();
    await panel(page).locator('.band svg').waitFor();
    await reads(panel(page).locator('.home-odds'), /\d+ in 100/);
  });
  await claim('each figure leads to its aid, filled with this order', async () => {
    await doing(page, 'Lowest gear').getByRole('link').click();
    await page.locator('.aid-table tbody tr').first().waitFor();
    await reads(page.locator('.of-what'), /For order 2001/);
    assert.equal(await page.getByLabel('Chainrings').inputValue(), '46');
    const rings = page.locator('.field-of-order', { has: page.getByLabel('Chainrings') });
    await reads(rings, /Belt sprocket for motor/);
    const cadence = page.locator('.field-of-order', { has: page.getByLabel('minute, from') });
    await reads(cadence, /A preset: nothing of this bike/);
  });
  await claim('what is typed is said to be typed, and goes back to the order', async () => {
    const rings = page.locator('.field-of-order', { has: page.getByLabel('Chainrings') });
    const lowest = page.locator('.figures > div', { hasText: 'Lowest gear' }).locator('b');
    const before = await words(lowest);
    await page.getByLabel('Chainrings').fill('23');
    await until(async () => /Typed here, instead of/.test(await words(rings)), true, 5000);
    assert.notEqual(await words(lowest), before);
    await rings.getByRole('button', { name: 'as the order' }).click();
    await until(() => page.getByLabel('Chainrings').inputValue(), '46', 5000);
    await until(() => words(lowest), before, 5000);
  });
  await claim('an aid that has nothing to say of a bike says why', async () => {
    await page.goto('/bench/aids/chain-length?order=2001');
    await page.locator('.aid-answer').getByText('driven by a belt').waitFor();
    assert.equal(await page.locator('.field').count(), 0);
  });
  await claim('the front and the rear end of a bike have their own fields', async () => {
    await page.goto('/bench/aids/route-heat?order=2001');
    await page.locator('.band svg').waitFor();
    await page.locator('.ends').getByRole('link', { name: 'front' }).click();
    await page.locator('.field-origin', { hasText: 'front rotor' }).first().waitFor();
  });
  await claim('a torque of the bench sheet leads to its joint, with the print first', async () => {
    await page.goto('/bench/2001?step=28');
    const stem = page.locator('section.value', { hasText: 'stem face plate bolts' });
    await stem.getByRole('link', { name: 'Reckon it for this bike' }).click();
    await page.locator('.figures > div').first().waitFor();
    await reads(page.locator('.figures > div').first(), /Printed, goes first.*5 N·m/s);
    assert.equal(await page.getByLabel('Which joint').inputValue(), 'faceplate bolts');
    await reads(page.locator('.aid-answer'), /Not of this bike yet/);
  });
  await claim('the printed sheet says what the bike does and on what that rests', async () => {
    await page.goto('/bench/2001/sheet');
    await page.getByRole('heading', { name: 'What this bike does' }).waitFor();
    await reads(page.locator('.printed'), /Steepest start.*Usual values stand/s);
  });
  await claim('a draft asks for what it does not know instead of showing a figure', async () => {
    await page.goto('/orders/2041');
    await panel(page).locator('.to-know').first().waitFor();
    assert.ok(await panel(page).getByText('not known yet').count() > 0);
  });
  await claim('a bike without a motor is not asked whether its charge lasts', async () => {
    await page.goto('/orders/2002');
    await doing(page, 'Stopping distance').waitFor();
    assert.equal(await panel(page).getByText('Will it come home?').count(), 0);
  });
  await claim('nothing was amiss in the browser meanwhile', () => assert.deepEqual(complaints, []));
  await close();
}

browser_house(async () => {
  await figures(await start_server());
});
