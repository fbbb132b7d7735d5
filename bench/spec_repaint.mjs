// From the key that chooses a part to the frame after the page shows the order with it: table,
// totals, and the differences beside every part of the opened position, in a real browser before a
// real server on the demo's book. Prints, as its last line, one JSON object.
//   node bench/spec_repaint.mjs [--choices N] [--order ID]
import fs from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { root, start_server, wait } from '../tests/house.mjs';

const kLimit = 100;  // ms, for 95 of 100 choices
const kPause = 600;  // ms between two choices: the odds of the day are drawn meanwhile
const kSlots = 6;    // positions among which the choices go round, at least
const chromiumAt = process.env.CHROMIUM ?? '/usr/bin/chromium';

const { values: options } = parseArgs({
  options: {
    choices: { type: 'string', default: '60' }, order: { type: 'string', default: '2041' },
    data: { type: 'string' },  // given to every measurement; nothing is read from there
  },
});
const wanted = Number(options.choices);
if (!Number.isInteger(wanted) || wanted < 1) {
  console.error(`spec-repaint: --choices wants a whole number, not “${options.choices}”`);
  process.exit(2);
}

/** In the page: tells when the next choice is seen, in ms from the event of its key. */
function watch_choices() {
  const revision = (selector) => Number(document.querySelector(selector)?.dataset.revision ?? -1);
  window.next_choice = () => new Promise((resolve) => {
    const before = revision('.running');
    let began = NaN;
    let table = NaN;
    addEventListener('keydown', (event) => { began = event.timeStamp; },
                     { capture: true, once: true });
    const look = () => {
      if (Number.isNaN(table) && revision('.running') > before) table = performance.now() - began;
      if (revision('.running') > before && revision('.opened [data-revision]') > before) {
        // This frame shows it; the next one begins when it has been painted.
        requestAnimationFrame(() => resolve({ table, all: performance.now() - began }));
      } else {
        requestAnimationFrame(look);
      }
    };
    requestAnimationFrame(look);
  });
}

/** Opens the position with the keyboard; false when it has no two parts that may be chosen. */
async function open_slot(page, slot) {
  await page.locator(`tr[data-slot="${slot}"] button.part`).focus();
  await page.keyboard.press('Enter');
  await page.locator('.choice').first().waitFor();
  return await page.locator('.choice:not(.closed)').count() > 1;
}

/** Walks to a part that may be chosen and is not; false when there is none. */
async function walk_to_another(page) {
  const parts = await page.locator('.choice').count();
  await page.keyboard.press('Home');
  for (let i = 0; i < parts; i += 1) {
    const there = await page.evaluate(
      () => document.activeElement.matches('.choice:not(.closed):not(.chosen)'));
    if (there) return true;
    await page.keyboard.press('ArrowDown');
  }
  return false;
}

async function choose(page) {
  const seen = page.evaluate(() => window.next_choice());
  await wait(50);
  await page.keyboard.press('Enter');
  return seen;
}

/** Positions of the order that leave a person something to choose. */
async function slots_of(page) {
  return page.locator('tr.slot').evaluateAll((rows) => rows
    .filter((row) => Number(row.querySelector('.open-of')?.textContent.split(' ')[0]) > 1)
    .map((row) => row.dataset.slot));
}

async function measure(page) {
  const took = [];
  const slots = new Set();
  const all = await slots_of(page);
  const each = Math.max(1, Math.floor(wanted / Math.max(kSlots, Math.min(all.length, 12))));
  for (let round = 0; took.length < wanted && round < 20; round += 1) {
    for (const slot of all) {
      if (took.length >= wanted) break;
      if (!await open_slot(page, slot)) continue;
      for (let i = 0; i < each && took.length < wanted; i += 1) {
        if (!await walk_to_another(page)) break;
        took.push(await choose(page));
        slots.add(slot);
        await wait(kPause);
      }
      await page.keyboard.press('Escape');
    }
  }
  return { took, slots: slots.size };
}

/** The figure that so many of 100 do not exceed (nearest rank). */
function percentile(numbers, of100) {
  const sorted = numbers.toSorted((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil((of100 / 100) * sorted.length) - 1)];
}

const packages = createRequire(path.join(root, 'web/package.json'));
if (!fs.existsSync(chromiumAt)) {
  console.error(`spec-repaint: there is no ${chromiumAt}; CHROMIUM names another`);
  process.exit(3);
}
const { chromium } = packages('playwright-core');
const server = await start_server();
const browser = await chromium.launch({
  executablePath: chromiumAt, args: ['--headless', '--no-sandbox', '--disable-gpu'],
});
const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
await page.goto(`${server.url}/orders/${options.order}`);
await page.locator('tr.slot').first().waitFor();
await page.evaluate(watch_choices);
const { took, slots } = await measure(page);
await browser.close();
await server.stop();

const figure = (name, of100) => Number(percentile(took.map((one) => one[name]), of100).toFixed(1));
if (took.length === 0) {
  console.error(`spec-repaint: order ${options.order} leaves nothing to choose`);
  process.exit(3);
}
const figures = {
  p95_ms: figure('all', 95), median_ms: figure('all', 50), worst_ms: figure('all', 100),
  table_p95_ms: figure('table', 95), choices: took.length, slots,
};
console.log(`${took.length} choices over ${slots} positions of order ${options.order}`);
const holds = figures.p95_ms <= kLimit;
console.log(JSON.stringify({ name: 'spec-repaint', holds, figures }));
process.exit(holds ? 0 : 1);
