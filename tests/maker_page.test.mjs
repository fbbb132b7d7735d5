// A bike that a maker builds, as a person at the desk sees it: the form goes out, the list comes in, the
// differences are answered. Everything is invented.
import assert from 'node:assert/strict';
import path from 'node:path';
import { browser_house, for_everyone, reads, window_of } from './browser.mjs';
import { claim, root, start_server } from './house.mjs';

const order = '2032';
const built = path.join(root, 'data/demo/maker_lists/built_2032.csv');
const section = (page, name) => page.locator('section').filter({ has: page.getByRole('heading', { name, exact: true }) });
const row = (page, position) => page.locator(`.maker-table tr[data-position="${position}"]`);

async function at_the_desk(server) {
  const { page, complaints, close } = await window_of(server);
  await claim('the order leads to its maker, where the form waits to be sent', async () => {
    await page.goto(`/orders/${order}`);
    await page.getByRole('link', { name: 'Maker: form, lists, differences' }).click();
    await page.locator('.maker-table').waitFor();
    await reads(page.locator('.lead'), /can go to the maker/);
    const form = section(page, 'Order form');
    await form.getByLabel('Day on which the bike is wanted here').fill('2027-01-20');
    await form.getByLabel('Who', { exact: true }).selectOption('pia');
    await form.getByRole('button', { name: 'It was sent' }).click();
    await form.getByText(/Form 1 was sent on .* by Pia Lindqvast/).waitFor();
  });
  await claim('a bad list is refused on the page with its line', async () => {
    const take = section(page, 'Take in a list of the maker');
    await take.getByRole('button', { name: 'Start from the form' }).click();
    const typed = take.getByLabel('or typed in');
    const lines = await typed.inputValue();
    assert.ok(lines.split('\n').length > 30);
    await typed.fill(lines.replace(/SA-0001/, 'SA-9999'));
    await take.getByLabel('Who', { exact: true }).selectOption('pia');
    await take.getByRole('button', { name: 'Take the list in' }).click();
    await reads(take.locator('.complaint'), /no such part/);
  });
  await claim('the list as built stands beside what was ordered, and differences are told in words', async () => {
    const take = section(page, 'Take in a list of the maker');
    await take.getByLabel('The list as CSV').setInputFiles(built);
    await take.getByRole('button', { name: 'Take the list in' }).click();
    await page.getByRole('heading', { name: 'Differences to answer' }).waitFor();
    await reads(row(page, 'saddle'), /Saddle, city, gel, 195 mm\s+other part/);
    await reads(row(page, 'kickstand'), /none\s+missing/);
    await reads(row(page, 'stem'), /same$/);
    await reads(page.locator('[data-difference="front_tyre"]'), /Cannot be accepted.*STOP/s);
  });
  await claim('answers are written down where the differences are', async () => {
    await page.getByLabel('Answer: front tyre').check();
    const answer = page.getByRole('form', { name: 'Answer' });
    await answer.getByLabel('Why, and what the customer was told').fill('the rider was called');
    await answer.getByLabel('Who', { exact: true }).selectOption('pia');
    await answer.getByRole('button', { name: 'Write the answer down' }).click();
    await reads(answer.locator('.complaint'), /cannot be accepted.*C-033/);
    await answer.getByLabel('Answer', { exact: true }).selectOption('denied');
    await answer.getByRole('button', { name: 'Write the answer down' }).click();
    await page.locator('[data-difference="front_tyre"]').getByText('denied', { exact: true }).waitFor();
    await page.getByLabel('Answer: saddle').check();
    await answer.getByLabel('Why, and what the customer was told').fill('the rider likes it');
    await answer.getByLabel('Who', { exact: true }).selectOption('pia');
    await answer.getByRole('button', { name: 'Write the answer down' }).click();
    await page.locator('[data-difference="saddle"]').getByText('accepted', { exact: true }).waitFor();
    await reads(page.locator('.lead'), /1 open, 1 accepted, 1 denied/);
  });
  await claim('nothing was amiss in the browser meanwhile', () => {
    assert.deepEqual(complaints.filter((line) => !/4(04|09|22)/.test(line)), []);
  });
  await close();
}

browser_house(async () => {
  const server = await start_server();
  await at_the_desk(server);
  await for_everyone(server, [`/orders/${order}/maker`], (page) => page.locator('.maker-table').waitFor());
});
