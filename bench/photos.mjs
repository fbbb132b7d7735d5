// What small copies of photographs cost and save: the time of one of a photograph of twelve
// megapixels, made and asked for again, the bytes of pictures that a bike's history loads beside
// those of its whole pictures, and the size of the history on paper. The photographs are invented:
// a browser paints them, and its own encoder makes JPEGs of them. Prints, as its last line, one JSON
// object. Holds when a copy takes the server at most 150 ms of a processor, the page loads at most a
// hundredth of the whole pictures, and the paper has at most 40 kB for each.
//   node bench/photos.mjs [--photos N]
import fs from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { root, start_server } from '../tests/house.mjs';

const kMostMs = 150;  // of a processor: what it takes on a machine with nothing else to do
const kMostShare = 0.01;
const kMostPaper = 40_000;  // bytes for each photograph
const kBike = '2016';
const chromiumAt = process.env.CHROMIUM ?? '/usr/bin/chromium';

const { values: options } = parseArgs({
  options: {
    photos: { type: 'string', default: '10' },
    data: { type: 'string' },  // given to every measurement; nothing is read from there
  },
});
const wanted = Number(options.photos);
if (!Number.isInteger(wanted) || wanted < 1) {
  console.error(`photos: --photos wants a whole number, not “${options.photos}”`);
  process.exit(2);
}

/** In the page: a photograph of 4000 by 3000 pixels, with edges, shades and the noise of a sensor. */
async function paint(number) {
  const canvas = new OffscreenCanvas(4000, 3000);
  const pen = canvas.getContext('2d');
  const sky = pen.createLinearGradient(0, 0, 4000, 3000);
  sky.addColorStop(0, `hsl(${number * 37} 40% 30%)`);
  sky.addColorStop(1, `hsl(${number * 37 + 60} 30% 75%)`);
  pen.fillStyle = sky;
  pen.fillRect(0, 0, 4000, 3000);
  for (let i = 0; i < 400; i += 1) {
    pen.strokeStyle = `hsl(${i * 7} 50% ${20 + i % 60}%)`;
    pen.lineWidth = 1 + i % 23;
    pen.beginPath();
    pen.arc(2000 + 1500 * Math.cos(i), 1500 + 1200 * Math.sin(i * number + 1), 20 + i * 2, 0, 7);
    pen.stroke();
  }
  const pixels = pen.getImageData(0, 0, 4000, 3000);
  let state = number * 2654435761 + 1;
  for (let i = 0; i < pixels.data.length; i += 1) {
    state = (Math.imul(state, 1664525) + 1013904223) | 0;
    if (i % 4 !== 3) pixels.data[i] += (state >>> 28) - 8;
  }
  pen.putImageData(pixels, 0, 0);
  const blob = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.88 });
  const bytes = new Uint8Array(await blob.arrayBuffer());
  let text = '';
  for (let i = 0; i < bytes.length; i += 4096) text += String.fromCharCode(...bytes.subarray(i, i + 4096));
  return btoa(text);
}

async function photograph(page, server) {
  let whole = 0;
  for (let number = 1; number <= wanted; number += 1) {
    const body = Buffer.from(await page.evaluate(paint, number), 'base64');
    whole += body.length;
    const answer = await fetch(`${server.url}/api/bikes/${kBike}/photos?who=mara&note=${number}`, {
      method: 'POST', body, headers: { 'Content-Type': 'application/octet-stream' },
    });
    if (answer.status !== 201) throw new Error(await answer.text());
  }
  return whole;
}

/** Milliseconds of a processor that the server has used up (Linux counts them in hundredths). */
function worked({ process: { pid } }) {
  const fields = fs.readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1].split(' ');
  return 10 * (Number(fields[11]) + Number(fields[12]));
}

async function ms_of(url) {
  const started = performance.now();
  const answer = await fetch(url);
  if (answer.status !== 200) throw new Error(await answer.text());
  const bytes = (await answer.arrayBuffer()).byteLength;
  return { ms: performance.now() - started, bytes };
}

/** Bytes of pictures that come over the network while the history is opened and scrolled through. */
async function bytes_of_page(page, server) {
  let bytes = 0;
  let pictures = 0;
  page.on('response', (response) => {
    if (!response.url().includes('/api/pictures/')) return;
    pictures += 1;
    bytes += Number(response.headers()['content-length'] ?? 0);
  });
  await page.goto(`${server.url}/records/bike/${kBike}`);
  const prints = page.locator('.photos img');
  await prints.first().waitFor();
  for (const print of await prints.all()) {
    await print.scrollIntoViewIfNeeded();
    await print.evaluate((img) => img.decode());
  }
  return { bytes, pictures };
}

const { chromium } = createRequire(path.join(root, 'web/package.json'))('playwright-core');
if (!fs.existsSync(chromiumAt)) throw new Error(`there is no ${chromiumAt}`);
const browser = await chromium.launch({ executablePath: chromiumAt, args: ['--headless', '--no-sandbox', '--disable-gpu'] });
const server = await start_server();
const page = await browser.newPage({ viewport: { width: 1024, height: 768 } });
await page.goto(server.url);
const whole = await photograph(page, server);
const { photos } = await (await fetch(`${server.url}/api/bikes/${kBike}/photos`)).json();
const worked_before = worked(server);
const made = [];
const again = [];
const small = ({ picture }) => `${server.url}/api/pictures/${picture}/small`;
for (const photo of photos) made.push((await ms_of(small(photo))).ms);
const cpu = (worked(server) - worked_before) / photos.length;
for (const photo of photos) again.push((await ms_of(small(photo))).ms);
const seen = await bytes_of_page(page, server);
const paper = await ms_of(`${server.url}/api/bikes/${kBike}/history.pdf`);
await browser.close();
await server.stop();

const middle = (list) => [...list].sort((a, b) => a - b)[list.length >> 1];
const kB = (bytes) => Math.round(bytes / 1000);
console.log(`${photos.length} photographs of 12 megapixels, ${kB(whole / photos.length)} kB each: a small copy is made in `
  + `${cpu.toFixed(0)} ms of a processor, ${middle(made).toFixed(0)} ms by the clock (slowest ${Math.max(...made).toFixed(0)}), given again in ${middle(again).toFixed(1)} ms`);
console.log(`the history loads ${kB(seen.bytes)} kB of pictures instead of ${kB(whole)}; on paper it has ${kB(paper.bytes)} kB`);
const holds = seen.pictures === photos.length && cpu <= kMostMs && seen.bytes <= whole * kMostShare
  && paper.bytes <= 100_000 + photos.length * kMostPaper;
console.log(JSON.stringify({ name: 'photos', holds, figures: {
  photos: photos.length, whole_kb: kB(whole), cpu_ms: Math.round(cpu), made_ms: Math.round(middle(made)), slowest_ms: Math.round(Math.max(...made)),
  again_ms: Number(middle(again).toFixed(1)), page_kb: kB(seen.bytes), paper_kb: kB(paper.bytes) } }));
process.exit(holds ? 0 : 1);
