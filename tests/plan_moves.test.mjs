// Work on the wall plan moved by hand: with the mouse, by keys, with a finger and with fields.
import assert from 'node:assert/strict';
import { assert_for_everyone, browser_house, reads, until, window_of, words } from './browser.mjs';
import { claim, start_server } from './house.mjs';
import {
  agree_first, answered, bar_at, button, drag, grip_of, kAnswer, key_of, lands, last_of_bikes, open_plan, plan_of,
  slip, told,
} from './plan_hands.mjs';

async function by_mouse(server) {
  const { page, complaints, close } = await window_of(server);
  let kept;
  await claim('work dragged to another time lands, says what that does and what it costs, and is not saved', async () => {
    await open_plan(page);
    for (const bar of last_of_bikes(await plan_of(server)).slice(0, 6)) {
      await drag(page, bar, 45);
      kept = bar;
      if (await lands(page)) break;
      await button(slip(page), 'Put it back').click();
    }
    assert.ok(await lands(page), 'none of six landed');
    await reads(slip(page), /moves?[;.]|promise|ready/);
    await reads(slip(page).locator('.plan-cost summary'), /The plan (becomes (worse|better) by|as a whole stays)/);
    assert.equal(await page.locator('.wall .work-bar.moved').count() > 0, true);
    assert.equal((await plan_of(server)).number, 1);
  });
  await claim('put back, everything is as it was', async () => {
    await button(slip(page), 'Put it back').click();
    await slip(page).locator('.promise-sentence').waitFor({ state: 'detached' });
    assert.equal(await page.locator('.wall .work-bar.moved').count(), 0);
    assert.equal((await plan_of(server)).number, 1);
  });
  await claim('kept, it is the plan: pinned there, also for who looks elsewhere', async () => {
    const other = await window_of(server);
    await open_plan(other.page);
    await drag(page, kept, 45);
    await button(slip(page), 'Keep it').click();
    await page.locator('.plan-standing').filter({ hasText: 'Plan 2, agreed' }).waitFor({ timeout: kAnswer });
    await bar_at(other.page, kept).locator('.pin').waitFor({ state: 'attached', timeout: kAnswer });
    const now = (await plan_of(server)).people.flatMap((p) => p.bars).find((bar) => key_of(bar) === key_of(kept));
    assert.ok(now.pinned);
    assert.notEqual(now.start, kept.start);
    await other.close();
  });
  await claim('what cannot be is refused with one sentence, and nothing moves', async () => {
    const plan = await plan_of(server);
    // The last work of a bike, before all that must come first.
    const bar = last_of_bikes(plan).find((one) => one.operation.startsWith('T-'));
    const [x] = await grip_of(page, bar);
    const paper = await page.locator('.wall-paper').boundingBox();
    await drag(page, bar, Math.round(paper.x) + 4 - x);
    const sentence = await words(slip(page).locator('.refused'));
    assert.match(sentence, /^\S.{15,}$/);
    assert.equal(sentence.split(/[.;] [A-Z]/).length, 1, sentence);
    assert.equal(await page.locator('.ghost.no').count(), 1);
    await button(slip(page), 'Put it back').click();
    assert.equal((await plan_of(server)).number, plan.number);
  });
  await claim('frozen work stays where it is, however it is pulled', async () => {
    const frozen = (await plan_of(server)).people.flatMap((p) => p.bars).find((bar) => bar.frozen);
    const [x, y] = await grip_of(page, frozen);
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 90, y, { steps: 4 });
    await page.mouse.up();
    assert.equal(await page.locator('.ghost').count(), 0);
    await reads(slip(page), /frozen part of the plan/);
  });
  await claim('a pin is let go, with what that is worth, or left', async () => {
    await page.mouse.click(...await grip_of(page, kept));
    await button(slip(page), 'Let it go').click();
    await answered(page);
    await reads(slip(page).locator('.plan-cost summary'), /The plan /);
    await slip(page).locator('.plan-cost summary').click();
    assert.equal(await slip(page).locator('.plan-cost tbody tr').count(), 6);
    await button(slip(page), 'Leave it').click();
    assert.equal((await plan_of(server)).number, 2);
  });
  await claim('nothing was amiss in the browser meanwhile', () =>
    assert.deepEqual(complaints.filter((line) => !line.includes('status of 409')), []));
  await close();
}

async function by_keys(server) {
  const { page, close } = await window_of(server);
  await claim('by keyboard: picked up, moved in time, let down, answered and put back, all of it told', async () => {
    await open_plan(page);
    const { number, people } = await plan_of(server);
    const bar = last_of_bikes({ people })[1];
    await bar_at(page, bar).focus();
    await page.keyboard.press('Enter');
    await told(page, /is in the hand\. Arrow keys/);
    const before = await page.locator('.ghost .shape').first().getAttribute('d');
    for (let i = 0; i < 4; i += 1) await page.keyboard.press('ArrowRight');
    assert.notEqual(await page.locator('.ghost .shape').first().getAttribute('d'), before);
    await page.keyboard.press('Enter');
    await answered(page);
    await told(page, await lands(page) ? /(December|November), \d\d:\d\d\. It lands\. .{10,}/ : /(December|November), \d\d:\d\d\./);
    await page.keyboard.press('Escape');
    await until(() => page.locator('.ghost').count(), 0, 4000);
    await told(page, /is back where it was/);
    assert.equal((await plan_of(server)).number, number);
  });
  await claim('by keyboard: arrows walk from work to work, up and down to other people’s', async () => {
    const at = () => page.evaluate(() => document.activeElement.dataset.key);
    await page.locator('.wall .work-bar').first().focus();
    const first = await at();
    await page.keyboard.press('ArrowRight');
    const second = await at();
    await page.keyboard.press('ArrowDown');
    const third = await at();
    assert.equal(new Set([first, second, third]).size, 3);
  });
  await claim('Escape puts back what is still in the hand', async () => {
    const bar = last_of_bikes(await plan_of(server))[1];
    await bar_at(page, bar).focus();
    await page.keyboard.press(' ');
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Escape');
    assert.equal(await page.locator('.ghost').count(), 0);
  });
  await close();
}

async function by_finger(server) {
  const { page, close } = await window_of(server, { width: 1024, height: 768, hasTouch: true });
  await claim('a finger moves what it has chosen before', async () => {
    await open_plan(page);
    const bar = last_of_bikes(await plan_of(server))[2];
    await page.touchscreen.tap(...await grip_of(page, bar));
    await slip(page).getByRole('button', { name: 'Move' }).waitFor();
    const touch = await page.context().newCDPSession(page);
    const put = (type, x, y) => touch.send('Input.dispatchTouchEvent', { type, touchPoints: type === 'touchEnd' ? [] : [{ x, y }] });
    const [x, y] = await grip_of(page, bar);
    await put('touchStart', x, y);
    for (let i = 1; i <= 6; i += 1) await put('touchMove', x + i * 8, y);
    await page.locator('.ghost').waitFor();
    await put('touchEnd');
    await answered(page);
    await button(slip(page), 'Put it back').click();
  });
  await close();
}

async function by_fields(server) {
  const { page, complaints, close } = await window_of(server, { width: 390, height: 844, hasTouch: true });
  await claim('on a telephone work is moved by fields: person, stand, day and time', async () => {
    await open_plan(page);
    const plan = await plan_of(server);
    for (const bar of last_of_bikes(plan).slice(0, 6)) {
      await page.getByLabel('Go to').selectOption(bar.start.slice(0, 10));
      await page.locator('.day-work button').filter({ hasText: bar.order }).filter({ hasText: bar.operation }).click();
      await button(slip(page), 'Move').click();
      const hour = Number(bar.start.slice(11, 13)) + 1;
      await slip(page).getByLabel('Time').fill(`${hour}:07`);
      await button(slip(page), 'See what it does').click();
      await answered(page);
      if (await lands(page)) break;
      await button(slip(page), 'Put it back').click();
      await button(slip(page), 'Close').click();
    }
    assert.ok(await lands(page), 'none of six landed');
    await assert_for_everyone(page);
    await button(slip(page), 'Keep it').click();
    await page.locator('.plan-standing').filter({ hasText: `Plan ${plan.number + 1}, agreed` }).waitFor({ timeout: kAnswer });
  });
  await claim('a time that is none is refused at its field', async () => {
    const bar = last_of_bikes(await plan_of(server))[3];
    await page.getByLabel('Go to').selectOption(bar.start.slice(0, 10));
    await page.locator('.day-work button').filter({ hasText: bar.order }).filter({ hasText: bar.operation }).click();
    await button(slip(page), 'Move').click();
    await slip(page).getByLabel('Time').fill('quarter past');
    await button(slip(page), 'See what it does').click();
    await reads(slip(page).locator('.complaint'), /is no time of day/);
  });
  await claim('nothing was amiss in the browser meanwhile', () =>
    assert.deepEqual(complaints.filter((line) => !line.includes('status of 409')), []));
  await close();
}

browser_house(async () => {
  const server = await start_server();
  await agree_first(server);
  await by_mouse(server);
  await by_keys(server);
  await by_finger(server);
  await by_fields(server);
});
