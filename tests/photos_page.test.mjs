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

/** In the page: four colours as a JPEG that says it is to be turned so, written into the bike's record;
 *  how far the small copy is from the whole picture as this browser turns it, of 255. */
async function turned_copy([bike, turn]) {
  const draw = async (width, height, paint) => {
    const canvas = new OffscreenCanvas(width, height);
    await paint(canvas.getContext('2d'));
    return canvas;
  };
  const canvas = await draw(1200, 800, (pen) => ['#d22', '#2c3', '#23d', '#ed4'].forEach((colour, at) => {
    pen.fillStyle = colour;
    pen.fillRect(at % 2 * 600, (at >> 1) * 400, 600, 400);
  }));
  const plain = new Uint8Array(await (await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.9 })).arrayBuffer());
  const block = [...new TextEncoder().encode('Exif'), 0, 0, 0x4d, 0x4d, 0, 42, 0, 0, 0, 8, 0, 1,
                 1, 0x12, 0, 3, 0, 0, 0, 1, 0, turn, 0, 0, 0, 0, 0, 0];
  const body = new Uint8Array([0xff, 0xd8, 0xff, 0xe1, 0, block.length + 2, ...block, ...plain.subarray(2)]);
  const sent = await fetch(`/api/bikes/${bike}/photos?who=mara`, {
    method: 'POST', body, headers: { 'Content-Type': 'application/octet-stream' },
  });
  const { picture } = (await sent.json()).photos.at(-1);
  const seen = async (url) => createImageBitmap(await (await fetch(url)).blob(), { imageOrientation: 'from-image' });
  const [small, whole] = [await seen(`/api/pictures/${picture}/small`), await seen(`/api/pictures/${picture}`)];
  const pixels = async (bitmap) => (await draw(small.width, small.height, (pen) => pen.drawImage(bitmap, 0, 0, small.width, small.height)))
    .getContext('2d').getImageData(0, 0, small.width, small.height).data;
  const [a, b] = [await pixels(small), await pixels(whole)];
  let off = 0;
  for (let i = 0; i < a.length; i += 1) off += Math.abs(a[i] - b[i]);
  return { shape: [small.width > small.height, whole.width > whole.height], off: off / a.length };
}

async function small_copies(server) {
  const { page, complaints, close } = await window_of(server);
  await claim('a small copy is shown, and a touch opens the whole picture', async () => {
    const asked = [];
    page.on('request', (request) => { if (request.url().includes('/api/pictures/')) asked.push(new URL(request.url()).pathname); });
    await page.goto(`/records/bike/${kBike}`);
    const print = page.locator('.trail .photos img').first();
    await print.waitFor();
    await print.evaluate((img) => img.decode());
    assert.ok(asked.length > 0 && asked.every((path_of) => path_of.endsWith('/small')), asked.join());
    const [whole] = await Promise.all([page.context().waitForEvent('page'), page.locator('.trail .photos a').first().click()]);
    await whole.waitForLoadState();
    assert.match(whole.url(), /\/api\/pictures\/[0-9a-f]{64}$/);
    await whole.close();
  });
  await claim('each stands upright as this browser would turn the whole picture', async () => {
    for (let turn = 1; turn <= 8; turn += 1) {
      const { shape, off } = await page.evaluate(turned_copy, [kBike, turn]);
      assert.equal(shape[0], shape[1], `turn ${turn}`);
      assert.ok(off < 4, `turn ${turn}: ${off} of 255 on the average`);
    }
  });
  await claim('nothing moves when the pictures come', async () => {
    let let_go = () => {};
    const held = new Promise((resolve) => { let_go = resolve; });
    await page.route('**/small', async (route) => {
      await held;
      await route.continue();
    });
    const places = () => page.locator('.trail tr').evaluateAll((rows) => rows.map((row) => row.getBoundingClientRect().top));
    await page.goto(`/records/bike/${kBike}`);
    const print = page.locator('.trail .photos img').first();
    await print.waitFor();
    const before = await places();
    let_go();
    await print.evaluate((img) => img.decode());
    assert.deepEqual(await places(), before);
    await page.unroute('**/small');
  });
  await claim('a picture of which no small copy can be made is shown whole instead', async () => {
    const cut = Buffer.from(grey, 'base64').subarray(0, 50);  // breaks off within its point
    const sent = await fetch(`${server.url}/api/bikes/${kBike}/photos?who=mara`, {
      method: 'POST', body: cut, headers: { 'Content-Type': 'application/octet-stream' },
    });
    const { picture } = (await sent.json()).photos.at(-1);
    complaints.length = 0;
    await page.goto(`/records/bike/${kBike}`);
    await page.locator(`.trail .photos img[src="/api/pictures/${picture}"]`).scrollIntoViewIfNeeded();
    await until(async () => complaints.filter((line) => /409/.test(line) && line.includes(picture)).length, 1, 5000);
  });
  await close();
}

/** Asks as a page does, with the browser's own memory of what it was given. */
const asked_for = (page, url) => page.evaluate(async (of) => {
  const answer = await fetch(of);
  await answer.arrayBuffer();
  return [answer.status, performance.getEntriesByName(new URL(of, location.href).href).at(-1).encodedBodySize > 0,
          performance.getEntriesByName(new URL(of, location.href).href).at(-1).transferSize];
}, url);

async function kept_by_the_browser(server) {
  const sent = await fetch(`${server.url}/api/bikes/${kBike}/photos?who=mara`, {
    method: 'POST', body: fs.readFileSync(picture), headers: { 'Content-Type': 'application/octet-stream' },
  });
  const url = `/api/pictures/${(await sent.json()).photos.at(-1).picture}/small`;
  const { page, close } = await window_of(server);
  await page.goto('/');
  await claim('a small copy that the browser keeps comes over the network once', async () => {
    const [status, , first] = await asked_for(page, url);
    const [, has_body, second] = await asked_for(page, url);
    assert.equal(status, 200);
    assert.ok(has_body && second < first, `${first}, then ${second} bytes`);
  });
  await claim('and is shown to nobody who comes after the one who may see it', async () => {
    const post = (address, body) => page.evaluate(async ([to, said]) => (await fetch(to, {
      method: 'POST', body: JSON.stringify(said), headers: { 'Content-Type': 'application/json' },
    })).status, [address, body]);
    assert.equal(await post('/api/people/first', { person: 'mara', password: 'a well trued wheel' }), 201);
    assert.equal((await asked_for(page, url))[0], 200);
    assert.ok([200, 204].includes(await post('/api/sign-out', {})));
    assert.equal((await asked_for(page, url))[0], 401);
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
  await small_copies(server);
  await kept_by_the_browser(await start_server());
  await beside_a_move(server);
  await at_the_back_door(server);
  await for_everyone(server, [`/records/bike/${kBike}`, '/arrivals/P-3165', `/bench/${kBike}?step=${kStep}`],
    async (page) => {
      await page.locator('main h1, main h2').first().waitFor();
      if (!page.url().includes('/bench/')) await page.locator('.photos img').first().waitFor();
    });
});
