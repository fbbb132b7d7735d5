// What is next for an order and what is missing, as a person sees it and moves it on.
import assert from 'node:assert/strict';
import { browser_house, for_everyone, reads, window_of } from './browser.mjs';
import { claim, start_server } from './house.mjs';

// Invented orders: one that gathers its parts, one that is an offer.
const gathering = '2022';
const enquiry = '2044';  // its day to be followed up has come

const panel = (page) => page.locator('section.life');
const shown = (page) => panel(page).locator('details.life-next').first().waitFor();

async function offer_of(server) {
  const orders = await (await fetch(`${server.url}/api/orders`)).json();
  return orders.find((order) => order.state === 'Offer').id;
}

async function at_the_desk(server) {
  const { page, complaints, close } = await window_of(server);
  await claim('the order page says what is next and names what is missing', async () => {
    await page.goto(`/orders/${gathering}`);
    await shown(page);
    const first = panel(page).locator('details.life-next').first();
    await reads(first.locator('summary'), /^Kitted\s+\d+ things? (is|are) missing$/);
    await reads(first.locator('.life-missing'), /not in hand for the kit/);
    assert.equal(await first.locator('form').count(), 0, 'there is nothing to press meanwhile');
  });
  await claim('a person holds the order with a reason and frees it again', async () => {
    const flags = panel(page).locator('details.life-more').filter({ hasText: 'Flags' });
    await flags.locator('summary').first().click();
    await flags.getByText('Set a flag').click();
    const form = flags.locator('form').last();
    await form.getByLabel('Why').fill('rider is ill');
    await form.getByLabel('Who says so').selectOption('pia');
    await form.getByRole('button', { name: 'Set' }).click();
    await panel(page).getByText('it is Held (rider is ill)').first().waitFor();
    await flags.locator('li summary').click();
    const clear = flags.locator('li form');
    await clear.getByLabel('Why').fill('well again');
    await clear.getByLabel('Who says so').selectOption('pia');
    await clear.getByRole('button', { name: 'Clear Held' }).click();
    await flags.getByText('The order carries no flag.').waitFor();
  });
  await claim('how far each part can still be changed is told by its freeze point', async () => {
    const freeze = panel(page).locator('details.life-more').filter({ hasText: 'still be changed' });
    await freeze.locator('summary').click();
    const points = await freeze.locator('td.num').allInnerTexts();
    assert.ok(points.length > 20 && points.every((point) => /^F[1-5]$/.test(point)), points.join());
  });
  await claim('cancelling shows the settlement and wants its sum', async () => {
    const cancel = panel(page).locator('details.life-next').filter({ hasText: 'Cancelled' });
    await cancel.locator('summary').click();
    await cancel.locator('.settled').waitFor();
    await reads(cancel.locator('.settled'), /Consumer law comes first/);
    await reads(cancel.locator('.life-missing'), /still open with suppliers: P-/);
    await cancel.getByLabel('Who moves it').selectOption('mara');
    await cancel.getByLabel('Why it is cancelled').fill('moves away');
    await cancel.getByLabel(/^What is paid back/).fill('0.01');
    await cancel.getByRole('button', { name: 'Move to Cancelled' }).click();
    await reads(cancel.locator('.complaint'), /the settlement comes to .*, not 0\.01/);
  });
  await claim('the customer signs an offer for the price that is shown', async () => {
    await page.goto(`/orders/${await offer_of(server)}`);
    await shown(page);
    const signed = panel(page).locator('details.life-more').filter({ hasText: 'Signed specification' });
    await signed.locator('summary').first().click();
    await signed.getByText('The customer signs').click();
    const form = signed.locator('form');
    await form.getByLabel('Name of the customer').fill('Wilma Testrup');
    await form.getByLabel('In whose presence').selectOption('pia');
    await form.getByRole('button', { name: /signature for/ }).click();
    await signed.getByText(/Version 1, signed by Wilma Testrup/).waitFor();
  });
  await claim('an enquiry is kept with a budget, beside the price, and is followed up', async () => {
    await page.goto('/');
    await reads(page.locator('.diary').filter({ hasText: 'to follow up' }), /2044 .* was to be followed up on .* To be reached at /);
    await page.goto(`/orders/${enquiry}`);
    const kept = page.locator('section.enquiry');
    await reads(kept, /nothing was said/);
    const write = async (summary, fill, button) => {
      await kept.getByText(summary, { exact: true }).click();
      await fill(kept.locator('details[open] form'));
      await kept.getByRole('button', { name: button }).click();
    };
    await write('Write down the budget', async (form) => {
      await form.getByLabel(/^Budget, at most/).fill('2500');
      await form.getByLabel('Asked, and nothing was said').uncheck();
    }, 'Write it down');
    await reads(kept, /means to spend .*2.?500.* at most\. The price is .*: within it/);
    await reads(page.locator('dl.card'), /Budget\s+.*2.?500.*, within it/);
    await write('It is done', (form) => form.getByLabel('What came of it').fill('wants it in spring'),
                'Write down that it is done');
    await reads(kept, /No day is set to come back to the customer/);
    await write('Set a day', async (form) => {
      await form.getByLabel('To be followed up on').fill('2026-12-08');
      await form.getByLabel('Who calls whom about what').fill('Pia calls about the belt');
    }, 'Set the day');
    await reads(kept, /To be followed up on Tuesday 8 December.*: Pia calls about the belt/);
  });
  await claim('nothing else was amiss in the browser meanwhile', () => {
    const amiss = complaints.filter((line) => !/409 \(Conflict\).*move-to$/.test(line));
    assert.deepEqual(amiss, []);
  });
  await close();
}

browser_house(async () => {
  const server = await start_server();
  await at_the_desk(server);
  await for_everyone(server, [`/orders/${gathering}`, `/orders/${enquiry}`], shown);
});
