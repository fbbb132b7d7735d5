// Choosing labels on their page, as a person at the bench does. The shop is invented.
import assert from 'node:assert/strict';
import { browser_house, for_everyone, reads, until, window_of, words } from './browser.mjs';
import { claim, start_server } from './house.mjs';

const picture = (page, n = 0) => page.locator('.label-page img').nth(n);
const loaded = (image) => image.evaluate((one) => one.complete && one.naturalWidth > 0);

async function at_the_bench(server) {
  const { page, complaints, close } = await window_of(server, { width: 1024, height: 768 });
  const said = page.locator('.label-out .promise-sentence');
  await claim('the bench leads to the labels, which begin with an empty sheet', async () => {
    await page.goto('/bench');
    await page.getByRole('link', { name: 'Labels', exact: true }).click();
    await until(() => words(said), 'Nothing is chosen yet: this is the empty sheet.', 8000);
    await until(() => loaded(picture(page)), true, 8000);
    assert.equal(await page.getByRole('link', { name: 'Open to print (PDF)' }).count(), 0);
  });
  await claim('an order leads to its labels: the order, its kit and each wheel', async () => {
    await page.goto('/orders/2003');
    await page.getByRole('link', { name: 'Labels', exact: true }).click();
    await until(() => words(said), '4 labels on 1 sheet.', 8000);
    assert.equal(await page.getByRole('checkbox', { name: /^2003/ }).isChecked(), true);
    assert.match(await picture(page).getAttribute('alt'), /Front wheel, invented 2003/);
  });
  await claim('ticks decide which of them are printed', async () => {
    await page.getByRole('checkbox', { name: 'its kit' }).uncheck();
    await page.getByRole('checkbox', { name: 'each wheel' }).uncheck();
    await until(() => words(said), '1 label on 1 sheet.', 8000);
    await page.getByRole('checkbox', { name: 'Mara Hollis' }).check();
    await until(() => words(said), '2 labels on 1 sheet.', 8000);
    await page.getByRole('checkbox', { name: 'every tool' }).check();
    await until(async () => /^\d\d? labels on/.test(await words(said)) && await words(said) !== '2 labels on 1 sheet.', true, 8000);
    await page.getByRole('checkbox', { name: 'every tool' }).uncheck();
    await until(() => words(said), '2 labels on 1 sheet.', 8000);
  });
  await claim('a touch on the picture begins a half-used sheet at that label', async () => {
    await page.getByRole('button', { name: 'Begin at label 5', exact: true }).click();
    await until(() => words(said), '2 labels on 1 sheet, from position 5.', 8000);
    assert.equal(await page.getByLabel('First free label', { exact: true }).first().inputValue(), '5');
    assert.equal(await page.getByRole('button', { name: 'Begin at label 5', exact: true }).getAttribute('aria-pressed'), 'true');
  });
  await claim('a label that the sheet does not have is refused beside its field', async () => {
    const from = page.getByRole('textbox', { name: 'First free label' });
    await from.fill('25');
    await reads(page.locator('.field.wrong'), /none of the labels 1 to 24/);
    await from.fill('24');
    await until(() => words(said), '2 labels on 2 sheets, from position 24.', 8000);
    await until(() => page.locator('.label-page img').count(), 2, 8000);
  });
  await claim('the PDF to print is the one that is shown', async () => {
    const href = await page.getByRole('link', { name: 'Open to print (PDF)' }).getAttribute('href');
    const answer = await fetch(server.url + href);
    assert.equal(answer.status, 200);
    assert.equal(answer.headers.get('content-type'), 'application/pdf');
    const bytes = Buffer.from(await answer.arrayBuffer()).toString('latin1');
    assert.equal((bytes.match(/\/Type\s*\/Page\b/g) ?? []).length, 2);
  });
  await claim('on a roll every label is a page, in full size', async () => {
    await page.getByRole('combobox', { name: 'Sheet or roll' }).selectOption('roll-57x32');
    await until(() => words(said), '2 labels from the roll.', 8000);
    const { width } = await picture(page).boundingBox();
    assert.ok(Math.abs(width - 57 * 96 / 25.4) < 2, `${width} px`);
  });
  await claim('numbers of parts are read when they are written; one that is not there is named', async () => {
    const parts = page.getByRole('textbox', { name: 'Numbers of parts' });
    await parts.fill('TU-0001, TU-9999');
    await parts.blur();
    await page.getByText(/no such part/).waitFor();
    await parts.fill('TU-0001');
    await parts.blur();
    await until(() => words(said), '3 labels from the roll.', 8000);
  });
  await claim('the find box takes what a scanner reads', async () => {
    await page.locator('.label-codes summary').click();
    const code = await words(page.locator('.label-codes td.number').first());
    await page.keyboard.press('Escape');
    await page.locator('.find input').fill(code);
    await page.locator('.find input').press('Enter');
    await page.getByRole('heading', { level: 1 }).filter({ hasText: '2003' }).waitFor();
    assert.equal(new URL(page.url()).pathname, '/orders/2003');
  });
  await claim('nothing was amiss in the browser meanwhile', () => {
    // The refusal that this test asked for is told by the browser too.
    assert.deepEqual(complaints.filter((one) => !/404/.test(one)), []);
  });
  await close();
}

browser_house(async () => {
  const server = await start_server();
  await at_the_bench(server);
  await for_everyone(server, ['/bench/labels', '/bench/labels?orders=2003,2041'],
    (page) => until(() => loaded(picture(page)), true, 8000));
});
