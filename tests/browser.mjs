// What the tests in a real browser share: the browser itself, its windows, and reading what a
// person reads there.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { claim, house, root, skip, wait } from './house.mjs';

const chromiumAt = process.env.CHROMIUM ?? '/usr/bin/chromium';
const flags = [
  '--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
  '--disable-background-networking', '--disable-component-update', '--disable-sync',
];
const packages = createRequire(path.join(root, 'web/package.json'));

/** A package of the pages; undefined when they were never installed here. */
export function package_of(name) {
  try {
    return packages(name);
  } catch {
    return undefined;
  }
}

let browser;

/** A window of its own, with nothing kept from another; collects what the page complains of. */
export async function window_of(server, { width = 1440, height = 900, ...more } = {}) {
  const viewport = { width, height };
  const context = await browser.newContext({ viewport, baseURL: server.url, ...more });
  context.setDefaultTimeout(8000);
  const page = await context.newPage();
  const complaints = [];
  page.on('pageerror', (error) => complaints.push(`page error: ${error.message}`));
  page.on('console', (line) => {
    if (line.type() === 'error') complaints.push(`${line.text()} at ${line.location().url}`);
  });
  return { page, complaints, close: () => context.close() };
}

/** What a person reads there; numbers are written with spaces of their own. */
export const words = async (locator) =>
  (await locator.innerText()).replace(/[\u00a0\u202f]/g, ' ').trim();

/** Reads until it is `wanted`, for at most `most` milliseconds. */
export async function until(read, wanted, most) {
  const started = Date.now();
  let now = await read();
  for (; now !== wanted && Date.now() - started < most; now = await read()) await wait(20);
  assert.equal(now, wanted, `not within ${most} ms`);
}

/** Reads what a person reads there until it says `pattern`, for as long as a person would wait. */
export async function reads(locator, pattern, most = 8000) {
  const started = Date.now();
  let now = await words(locator);
  for (; !pattern.test(now) && Date.now() - started < most; now = await words(locator)) await wait(20);
  assert.match(now, pattern);
}

/** No wider than the screen, and nothing wrong by WCAG 2.2 AA as far as a program can tell. */
export async function assert_for_everyone(page) {
  const wide = await page.evaluate(() =>
    document.documentElement.scrollWidth - document.documentElement.clientWidth);
  assert.ok(wide <= 0, `${wide} px wider than the screen`);
  if (!await page.evaluate(() => 'axe' in globalThis)) {
    await page.evaluate(package_of('axe-core').source);
  }
  const { violations } = await page.evaluate(() => globalThis.axe.run(document, {
    runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'],
    resultTypes: ['violations'] }));
  assert.deepEqual(violations.map((one) => `${one.id}: ${one.nodes[0].target.join(' ')}`), []);
}

const kScreens = { desk: [1440, 900], tablet: [1024, 768], telephone: [390, 844] };

/** Claims for each place, in the sizes named and by day and night, that it is for everyone and no wider
 * than the screen; `shown(page, place)` waits until it is all there. */
export async function for_everyone(server, places, shown, sizes = Object.keys(kScreens)) {
  for (const name of sizes) {
    for (const colorScheme of ['light', 'dark']) {
      const [width, height] = kScreens[name];
      const { page, close } = await window_of(server, { width, height, colorScheme });
      for (const place of places) {
        await claim(`${place} at the ${name}, ${colorScheme}, is for everyone and as wide as the screen`, async () => {
          await page.goto(place);
          await shown(page, place);
          await assert_for_everyone(page);
        });
      }
      await close();
    }
  }
}

export async function open_slot(page, slot) {
  const button = page.locator(`tr[data-slot="${slot}"] button.part`);
  await button.waitFor();
  if (await button.getAttribute('aria-expanded') !== 'true') await button.click();
  await page.locator('.choice .status').first().waitFor();
}

/** Rows of parts that a person may choose now. */
export const may_be_chosen = (page) => page.locator('.choice:not(.closed):not(.chosen)');

/** A test file in a browser; skipped as a whole, with the reason, where there is none; `more` are
 *  flags for this browser alone. */
export function browser_house(run, more = []) {
  return house(async () => {
    const { chromium } = package_of('playwright-core') ?? {};
    if (!chromium || !fs.existsSync(chromiumAt)) {
      await claim('the pages work in a browser', () => skip(chromium
        ? `there is no ${chromiumAt}` : 'web/node_modules has no playwright-core'));
      return;
    }
    browser = await chromium.launch({ executablePath: chromiumAt, args: [...flags, ...more] });
    try {
      await run();
    } finally {
      await browser.close();
    }
  });
}
