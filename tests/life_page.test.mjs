// What is next for an order and what is missing, as a person sees it and moves it on.
import assert from 'node:assert/strict';
import { browser_house, for_everyone, reads, window_of } from './browser.mjs';
import { claim, start_server } from './house.mjs';

// Invented orders: one that gathers its parts, one that is an offer.
const gathering = '2022';

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
  await claim('nothing else was amiss in the browser meanwhile', () => {
    const amiss = complaints.filter((line) => !/409 \(Conflict\).*move-to$/.test(line));
    assert.deepEqual(amiss, []);
  });
  await close();
}

browser_house(async () => {
  const server = await start_server();
  await at_the_desk(server);
  await for_everyone(server, [`/orders/${gathering}`], shown);
});
