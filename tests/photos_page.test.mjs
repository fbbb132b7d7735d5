// Photographs taken at the stand, at the back door and beside a move, in a real browser: the camera is
// a file that is handed to the page. Pictures, shop and people are invented.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { browser_house, for_everyone, reads, until, window_of } from './browser.mjs';
import { claim, start_server, temporary_folder } from './house.mjs';

const tablet = { width: 1024, height: 768, hasTouch: true };
const kBike = '2016';
const kStep = 34;
const kUnderWay = '2030';  // built by a maker
// One grey point, as PNG (RFC 2083) writes it.
const grey = 'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg==';

const picture = path.join(temporary_folder(), 'grey.png');
fs.writeFileSync(picture, Buffer.from(grey, 'base64'));

const camera = (place) => place.locator('.take-photo input[type=file]');
const of_bike = async (server, id = kBike) => (await (await fetch(`${server.url}/api/bikes/${id}/photos`)).json()).photos;
const count_of = (server) => async () => (await of_bike(server)).length;

async function at_the_stand(server) {
  const { page, complaints, close } = await window_of(server, tablet);
  await claim('whoever is not known at the tablet takes no photograph', async () => {
    await page.goto(`/bench/${kBike}?step=${kStep}`);
    await page.locator('.step').waitFor();
    assert.equal(await camera(page).count(), 0);
  });
  await claim('a photograph of the work stands at its operation and in the history', async () => {
    await page.locator('.who-is-it').getByRole('button', { name: /Mara Hollis/ }).tap();
    await camera(page).setInputFiles(picture);
    await page.locator('.photos img').waitFor();
    const [photo] = await of_bike(server);
    assert.equal(photo.who, 'Mara Hollis');
    assert.equal(photo.about, 'A-41');
    await page.goto(`/records/bike/${kBike}`);
    const seen = page.locator('.trail .photos img');
    await seen.waitFor();
    assert.equal(await seen.evaluate((img) => img.decode().then(() => img.naturalWidth)), 1);
    await reads(page.locator('.trail').first(), /photograph, A-41/);
  });
  await claim('the button asks for the camera and is large enough for a glove', async () => {
    await page.goto(`/bench/${kBike}?step=${kStep}`);
    await camera(page).waitFor({ state: 'attached' });
    assert.equal(await camera(page).getAttribute('accept'), 'image/*');
    assert.equal(await camera(page).getAttribute('capture'), 'environment');
    const box = await page.locator('.take-photo label').boundingBox();
    assert.ok(box.width >= 56 && box.height >= 56, `${box.width} x ${box.height}`);
  });
  await claim('a photograph taken without the network waits, and is then written once', async () => {
    const before = (await of_bike(server)).length;
    await page.context().setOffline(true);
    await camera(page).setInputFiles(picture);
    await page.getByText('1 photograph waits for the network').waitFor();
    assert.equal((await of_bike(server)).length, before);
    await page.context().setOffline(false);
    await until(count_of(server), before + 1, 15_000);
    await page.getByText('waits for the network').waitFor({ state: 'detached' });
    assert.equal((await of_bike(server)).length, before + 1);
  });
  await claim('what is no picture is refused where the thumb is, and can be thrown away', async () => {
    await camera(page).setInputFiles({ name: 'a.gif', mimeType: 'image/gif', buffer: Buffer.from('GIF89a') });
    const refusal = page.getByRole('alert').filter({ hasText: 'neither a JPEG nor a PNG' });
    await refusal.waitFor();
    await refusal.getByRole('button', { name: 'Throw it away' }).tap();
    await refusal.waitFor({ state: 'detached' });
  });
  await claim('nothing else was amiss at the tablet meanwhile', () => {
    assert.deepEqual(complaints.filter((line) => !/400 \(Bad Request\)|ERR_INTERNET_DISCONNECTED/.test(line)), []);
  });
  await close();
}

async function at_the_back_door(server) {
  const { page, close } = await window_of(server, { width: 390, height: 844, hasTouch: true });
  await claim('photographs of a delivery and of its claim are kept apart', async () => {
    await page.goto('/arrivals/P-3165');
    await camera(page.locator('.claims li')).setInputFiles(picture);
    await page.locator('.claims .photos img').waitFor();
    const line = await (await fetch(`${server.url}/api/arrivals/P-3165`)).json();
    assert.deepEqual([line.photos.length, line.claims[0].photos.length], [0, 1]);
    await camera(page.locator('section', { has: page.getByRole('heading', { name: 'Photographs' }) })).setInputFiles(picture);
    await page.locator('.arrival-sides > div > section > .photos img').waitFor();
    await page.goto('/arrivals');
    await reads(page.locator('.clocks'), /P-3165.*1 photograph/s);
  });
  await close();
}

async function beside_a_move(server) {
  const { page, close } = await window_of(server);
  await claim('beside the move that asks for them stands how many photographs there are', async () => {
    await page.goto(`/orders/${kUnderWay}`);
    const move = page.locator('details.life-next', { hasText: 'Arrived' }).first();
    const photos = move.locator('.move-photos').first();
    await photos.waitFor();
    await reads(photos, /No photograph is on record\. Choose below who moves it/);
    await move.getByLabel('Who moves it').selectOption('pia');
    await camera(photos).setInputFiles(picture);
    await photos.getByText('1 photograph is on record.').waitFor();
    const [photo] = await of_bike(server, kUnderWay);
    assert.deepEqual([photo.about, photo.who], ['boxes', 'Pia Lindqvast']);
  });
  await close();
}

browser_house(async () => {
  const server = await start_server();
  await at_the_stand(server);
  await beside_a_move(server);
  await at_the_back_door(server);
  await for_everyone(server, [`/records/bike/${kBike}`, '/arrivals/P-3165', `/bench/${kBike}?step=${kStep}`],
    async (page) => {
      await page.locator('main h1, main h2').first().waitFor();
      if (!page.url().includes('/bench/')) await page.locator('.photos img').first().waitFor();
    });
});
