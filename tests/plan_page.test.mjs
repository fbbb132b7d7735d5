// The wall plan as a person works with it: looked at, agreed, planned anew after somebody is away,
// printed, and taken into a calendar.
import assert from 'node:assert/strict';
import { browser_house, for_everyone, reads, window_of } from './browser.mjs';
import { claim, start_server } from './house.mjs';
import { answered, button, kAnswer, key_of, last_of_bikes, open_plan, plan_of, slip } from './plan_hands.mjs';

async function first_plan(server) {
  const { page, complaints, close } = await window_of(server);
  await claim('before a plan is agreed the page says so, and looking changes nothing', async () => {
    await open_plan(page);
    await reads(page.locator('.plan-standing'), /No plan is agreed yet/);
    assert.equal((await plan_of(server)).number, 0);
  });
  await claim('the first plan is looked at, then agreed', async () => {
    await button(page, 'Agree a plan').click();
    await button(slip(page), 'Agree to it').click({ timeout: kAnswer });
    await page.locator('.plan-standing').filter({ hasText: 'Plan 1, agreed' }).waitFor({ timeout: kAnswer });
    assert.equal((await plan_of(server)).number, 1);
  });
  await claim('every operation of the plan is on the wall once, on people’s lanes and on stands’', async () => {
    const plan = await plan_of(server);
    const all = new Set(plan.people.flatMap((person) => person.bars.map(key_of)));
    for (const lanes of ['People', 'Stands']) {
      await button(page, lanes).click();
      assert.equal(await page.locator('.wall .work-bar').count(), all.size, lanes);
    }
    await button(page, 'People').click();
    assert.equal(await page.locator('.wall-names .person').count(), plan.people.length);
  });
  await claim('a day is drawn wider than a week, and a week wider than all', async () => {
    const width = async (zoom) => {
      await button(page, zoom).click();
      return page.locator('.wall-paper svg').evaluate((svg) => svg.clientWidth);
    };
    const [all, week, day] = [await width('All'), await width('Week'), await width('Day')];
    assert.ok(all < week && week < day, `${all} ${week} ${day}`);
    await button(page, 'Week').click();
  });
  await claim('a bike that is followed stands out along its whole chain', async () => {
    const [{ order }] = last_of_bikes(await plan_of(server));
    await page.getByLabel('Follow a bike').selectOption(order);
    const chain = page.locator(`.wall .work-bar.same`);
    assert.equal(await chain.count(), await page.locator(`.wall [data-key^="${order} "]`).count());
    assert.ok(await chain.count() > 1);
    assert.equal(await page.locator('.wall .chain').count(), 1);
    await page.getByLabel('Follow a bike').selectOption('');
  });
  await claim('nothing was amiss in the browser meanwhile', () => assert.deepEqual(complaints, []));
  await close();
}

async function after_an_event(server) {
  const { page, close } = await window_of(server);
  await claim('somebody is away: the plan stays and says what no longer holds', async () => {
    await open_plan(page);
    await page.locator('summary').filter({ hasText: 'Somebody is away' }).click();
    const form = page.locator('.plan-more form').first();
    const busy = (await plan_of(server)).people.map((p) => ({ id: p.id, work: p.bars.filter((b) => !b.frozen).length }))
      .sort((a, b) => b.work - a.work)[0];
    await form.getByLabel('Person').selectOption(busy.id);
    await form.getByLabel('From').fill('2026-11-27');
    await form.getByLabel('To', { exact: true }).fill('2026-11-28');
    await form.getByRole('button').click();
    await page.locator('.plan-standing.out li').first().waitFor({ timeout: kAnswer });
    await reads(page.locator('.plan-standing'), /out of date/);
  });
  await claim('a proposal lists its changes with reasons and its risks, and searches on until it is stopped', async () => {
    await button(page, 'Make a proposal').click();
    await answered(page);
    assert.ok(await slip(page).locator('.proposal tbody tr').count() > 0);
    await reads(slip(page), /Why/);
    await reads(slip(page), /Promises that come at risk|No promise comes at risk/);
    await slip(page).locator('summary').filter({ hasText: 'Look for a better one' }).click();
    await slip(page).getByLabel('Search on for').selectOption('60');
    await button(slip(page), 'Search on').click();
    await slip(page).locator('.improve').filter({ hasText: /Cost [\d.,\s]+/ }).waitFor({ timeout: kAnswer });
    await button(slip(page), 'Stop and keep the best').click();
    await button(slip(page), 'Search on').waitFor({ timeout: kAnswer });
  });
  await claim('agreed, it is the plan, and nothing in it is out of date', async () => {
    const { number } = await plan_of(server);
    await button(slip(page), 'Agree to it').click();
    await page.locator('.plan-standing').filter({ hasText: `Plan ${number + 1}, agreed` }).waitFor({ timeout: kAnswer });
    assert.equal((await plan_of(server)).out_of_date.length, 0);
  });
  await claim('the weights are the shop’s own; a word in place of one is refused at its field', async () => {
    await page.locator('summary').filter({ hasText: 'What the plan is judged by' }).click();
    const form = page.locator('.plan-more form').nth(1);
    await form.getByLabel('An operation moved').fill('seven');
    await form.getByRole('button').click();
    await reads(form.locator('.complaint'), /is no number/);
    await form.getByLabel('An operation moved').fill('7.5');
    await form.getByRole('button').click();
    await form.getByText('Saved.').waitFor();
    assert.equal((await plan_of(server)).settings.moved, 7.5);
  });
  await claim('everybody has a calendar to subscribe to', async () => {
    await page.locator('summary').filter({ hasText: 'own calendar' }).click();
    const link = page.locator('.calendars a').first();
    const calendar = await fetch(server.url + await link.getAttribute('href'));
    assert.match(calendar.headers.get('content-type'), /text\/calendar/);
    assert.match(await calendar.text(), /^BEGIN:VCALENDAR/);
  });
  await claim('on paper the plan is a sheet a week, across, and nothing else', async () => {
    await page.emulateMedia({ media: 'print' });
    assert.ok(await page.locator('.plan-sheet').first().isVisible());
    assert.equal(await page.locator('.plan-slip').isVisible(), false);
    const pdf = (await page.pdf({ format: 'A4', preferCSSPageSize: true })).toString('latin1');
    const box = pdf.match(/\/MediaBox ?\[0 0 ([\d.]+) ([\d.]+)\]/);
    assert.ok(Number(box[1]) > Number(box[2]), box[0]);
  });
  await close();
}

browser_house(async () => {
  const server = await start_server();
  await first_plan(server);
  await after_an_event(server);
  await for_everyone(server, ['/plan'], async (page) => {
    await page.locator('.plan-slip').waitFor();
    const work = page.locator('.work-bar:not(.frozen) .shape, .day-work button').locator('visible=true');
    await work.first().click({ position: { x: 3, y: 12 } });
    await slip(page).getByRole('link', { name: 'Open the bike' }).waitFor();
  });
});
