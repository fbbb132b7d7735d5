// An order as a person makes it through the pages: the form, a part for every position, the questions.
import assert from 'node:assert/strict';
import { may_be_chosen, open_slot, until } from './browser.mjs';

/** Fills the form as a person does, field by field, and returns the number of the new order. */
export async function open_order(page, build = 'B1') {
  await page.goto('/orders/new');
  await page.getByLabel('Name').fill('Odile Brandt');
  await page.getByLabel('Height').fill('172');
  await page.getByLabel('Inside leg').fill('79,5');
  await page.getByLabel('Mass, dressed').fill('70');
  await page.getByLabel('In the rider’s own words').fill('To work over the hill, and back.');
  await page.getByLabel('Bags and passengers at most').fill('20');
  await page.getByLabel('Build').selectOption(build);
  await page.getByRole('button', { name: 'Open the order' }).click();
  await page.waitForURL(/\/orders\/\d+$/);
  await page.locator('tr.slot.lacking').first().waitFor();
  return page.url().split('/').at(-1);
}

/** Chooses the first part that may be chosen for the slot, through the page. */
export async function choose_first(page, slot) {
  await open_slot(page, slot);
  const pick = may_be_chosen(page).first();
  assert.ok(await pick.count() > 0, `${slot}: no part may be chosen`);
  const chosen = page.waitForResponse((r) => r.request().method() === 'PUT');
  await pick.click();
  const answer = await chosen;
  assert.equal(answer.status(), 200, `${slot}: ${await answer.text()}`);
  await page.locator(`tr[data-slot="${slot}"]:not(.lacking)`).waitFor();
}

export async function fill_every_slot(page) {
  let filled = 0;
  for (let lacking = page.locator('tr.slot.lacking'); await lacking.count() > 0; filled += 1) {
    assert.ok(filled < 60, 'the order never becomes whole');
    await choose_first(page, await lacking.first().getAttribute('data-slot'));
  }
  return filled;
}

/** Says yes to every open question, through the page; returns how many there were. */
export async function answer_every_question(page) {
  const open = page.locator('.to-answer > li');
  let answered = 0;
  for (let left = await open.count(); left > 0; left = await open.count(), answered += 1) {
    assert.ok(answered < 30, 'the questions never end');
    const said = page.waitForResponse(
      (r) => r.request().method() === 'PUT' && r.url().includes('/questions/'));
    await open.first().getByRole('button', { name: 'Yes', exact: true }).click();
    const answer = await said;
    assert.equal(answer.status(), 200, await answer.text());
    await until(async () => (await open.count()) < left, true, 5000);
  }
  return answered;
}
