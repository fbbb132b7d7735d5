// The specification edited without a mouse, in a real browser before a real book: opening and
// searching a position, choosing, what would open a closed part, filling the rest, taking back.
import assert from 'node:assert/strict';
import { browser_house, reads, until, window_of, words } from './browser.mjs';
import { claim, start_server } from './house.mjs';

/** Presses Tab, or Shift and Tab, until the focus is on such an element. */
async function tab_to(page, selector, key = 'Tab') {
  for (let i = 0; i < 120; i += 1) {
    if (await page.evaluate((s) => document.activeElement.matches(s), selector)) return;
    await page.keyboard.press(key);
  }
  assert.fail(`${key} does not lead to ${selector}`);
}

/** With arrow keys to a position of the specification, and Enter. */
async function open_by_keys(page, slot) {
  await tab_to(page, 'tr.slot button.part');
  await page.keyboard.press('Home');
  const there = () => page.evaluate(() => document.activeElement.closest('tr').dataset.slot);
  for (let i = 0; i < 60 && await there() !== slot; i += 1) await page.keyboard.press('ArrowDown');
  assert.equal(await there(), slot);
  await page.keyboard.press('Enter');
  await page.locator('.choice').first().waitFor();
  await until(() => page.evaluate(() => document.activeElement.matches('.choice')), true, 2000);
}

/** A position with closed parts that changes of others would open: [slot, article]. */
async function something_closed(server, order) {
  const get = async (place) => (await fetch(`${server.url}/api/orders/${order}${place}`)).json();
  for (const { slot } of (await get('')).spec.slots) {
    for (const { part, status } of (await get(`/choices/${slot}`)).choices) {
      if (status !== 'closed') continue;
      const { opens } = await get(`/why-not/${slot}/${part.id}`);
      if (opens.length > 0) return [slot, part.id];
    }
  }
  return assert.fail(`order ${order} has no closed part that could be opened`);
}

const lacking = (page) => page.locator('tr.slot.lacking').count();

async function spec_by_keyboard(server) {
  const { page, complaints, close } = await window_of(server);
  const press = (key) => page.keyboard.press(key);
  const part_of = (slot) => words(page.locator(`tr[data-slot="${slot}"] button.part`));
  await claim('by keyboard alone: a position is opened and narrowed by what is typed', async () => {
    await page.goto('/orders/2041');
    await page.locator('tr.slot').first().waitFor();
    await open_by_keys(page, 'saddle');
    const other = page.locator('.choice:not(.closed):not(.chosen)').first();
    const article = await other.getAttribute('data-part');
    await page.keyboard.type(article);
    assert.equal(await page.locator('.find-part').inputValue(), article);
    await page.locator(`.choice[aria-setsize="1"][data-part="${article}"]`).waitFor();
    assert.equal(await page.locator('.choice').count(), 1);
  });
  await claim('each part shows what it changes, and Enter chooses it', async () => {
    await press('ArrowDown');
    const before = await part_of('saddle');
    const row = await page.evaluate(() => document.activeElement.innerText);
    assert.match(row, /€|same price/, row);
    assert.match(row, /\bk?g\b|same mass|mass not known/, row);
    assert.match(row, /sooner|later|same day|no day known/, row);
    await press('Enter');
    await page.locator('.take-back').waitFor();
    assert.notEqual(await part_of('saddle'), before);
    await press('Escape');
    await page.locator('.choice').first().waitFor({ state: 'detached' });
    assert.ok(await page.evaluate(
      () => document.activeElement.closest('tr')?.dataset.slot === 'saddle'), 'focus is back');
  });
  await claim('“why not?” says what would open a part, and takes it over', async () => {
    const [slot, part] = await something_closed(server, '2041');
    await open_by_keys(page, slot);
    await page.keyboard.type(part.toLowerCase());
    await press('ArrowDown');
    await press('Enter');
    await page.locator('.opens .repair').first().waitFor();
    await reads(page.locator('.clash'), /rule C-\d+/);
    await tab_to(page, '.opens button.do');
    await press('Enter');
    await page.locator(`.choice.chosen[data-part="${part}"]`).waitFor();
    await reads(page.locator('.take-back'), /changed in one step|is now/);
    await page.keyboard.press('Escape');
  });
  await claim('the rest is filled as cheaply as can be, and taken back in one step', async () => {
    const empty = await lacking(page);
    assert.ok(empty > 0, 'there is something to fill');
    await tab_to(page, 'button.wish', 'Shift+Tab');
    for (let i = 0; i < 5; i += 1) {
      if (await page.evaluate(() => document.activeElement.innerText) === 'cheapest') break;
      await press('Shift+Tab');
    }
    await press('Enter');
    await page.locator('.completion .fills li').first().waitFor();
    assert.ok(await page.locator('.fills li').count() >= empty);
    assert.equal(await lacking(page), empty, 'nothing is chosen before it is taken over');
    await tab_to(page, '.completion button.do');
    await press('Enter');
    await until(() => lacking(page), 0, 8000);
    await tab_to(page, '.take-back button');
    await press('Enter');
    await until(() => lacking(page), empty, 8000);
  });
  await claim('nothing goes wrong in the browser meanwhile', () => {
    assert.deepEqual(complaints, []);
  });
  await close();
}

/** The same choices again and again, until there are so many. */
function many_choices(view, count) {
  const choices = Array.from({ length: count }, (_, i) => {
    const choice = view.choices[i % view.choices.length];
    const { part } = choice;
    const chosen = choice.chosen && i < view.choices.length;
    return { ...choice, chosen, part: { ...part, id: `${part.id}-${i}`, name: `No. ${i}` } };
  });
  return { ...view, choices };
}

async function thousands(server) {
  const { page, close } = await window_of(server);
  const held = () => page.evaluate(() => document.activeElement.dataset.part ?? '');
  const at = async () => Number(await page.evaluate(
    () => document.activeElement.getAttribute('aria-posinset')));
  await claim('five thousand parts for one position are walked and searched by keys', async () => {
    await page.route('**/choices/saddle', async (route) => {
      const answer = await route.fetch();
      return route.fulfill({ json: many_choices(await answer.json(), 5000) });
    });
    await page.goto('/orders/2041');
    await page.locator('tr.slot').first().waitFor();
    await open_by_keys(page, 'saddle');
    await page.keyboard.press('End');
    assert.equal(await at(), 5000);
    assert.ok(await page.locator('.choice').count() < 60, 'only what is in sight is drawn');
    assert.ok(await page.locator('.choice.hand').isVisible());
    await page.keyboard.press('PageUp');
    assert.ok(await at() < 5000);
    await page.keyboard.press('Home');
    assert.equal(await at(), 1);
    await page.keyboard.type('no. 4321');
    await page.keyboard.press('ArrowDown');
    await until(async () => (await held()).endsWith('-4321'), true, 2000);
  });
  await close();
}

browser_house(async () => {
  const server = await start_server();
  await spec_by_keyboard(server);
  await thousands(server);
});
