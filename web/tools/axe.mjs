// Walks every page with axe-core in both themes and at three sizes and fails on anything it finds, and on
// whatever a page complains of in the browser's console.
//   node tools/axe.mjs http://127.0.0.1:8420
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { chromium } from 'playwright-core';

const base = process.argv[2] ?? 'http://127.0.0.1:8420';
const order = process.env.ORDER ?? '2041';
const part = process.env.PART ?? 'TY-0001';
const open = async (page) => {
  await page.locator('tr.slot .part').first().evaluate((button) => button.click());  // wherever it has scrolled to
  await page.locator('.choice .status').first().waitFor();
};
const only = process.env.ONLY;
const pages = [['/'], ['/orders'], [`/orders/${order}`, open], ['/orders/new'], ['/plan'], ['/bench'], [`/bench/${order}`],
  [`/bench/${order}/sheet`], ['/parts'], [`/parts/${part}`], ['/parts/buy'], ['/parts/small-stock'], ['/arrivals'], ['/arrivals/P-3163'], ['/parts/to-measure'], ['/parts/take-in'], ['/bench/labels?orders=2003,2041'], ['/bench/aids'], ['/bench/aids/gears'], ['/bench/aids/torque'], ['/bench/aids/truing'], ['/bench/aids/home-again'], ['/bench/aids/gears?order=2031'], ['/bench/aids/route-heat?order=2031&end=front'], ['/orders/2031'], ['/orders/2032/maker'], ['/orders/2003/care'], ['/orders/coming-back'], ['/bench/truing'], ['/bench/truing?order=2003&wheel=rear'], ['/orders/2003/wheels/rear'], ['/bench/2016'], ['/bench/2016?step=34'], ['/bench/2016?step=34&read=belt_frequency'], ['/bench/2016?tab=kit'], ['/bench/2016?tab=checks'], ['/records'], ['/records/bike/2016'], ['/records/trace?part=HG-0001'], ['/records/promises'], ['/records/minutes'], ['/records/recalls'], ['/records/recalls/R1'], ['/plan/load'], ['/people/first'], ['/people'], ['/nowhere'], ['/orders/0000']].filter(([path]) => !only || path === only);
// What is not there, and a bike that nobody builds yet, is asked for and told in a sentence.
const kTold = { '/orders/0000': '404', [`/bench/${order}`]: '409' };
const rules = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: ['--no-sandbox'] });
let found = 0;
let checked = 0;
for (const [width, height, colorScheme] of [[1440, 900, 'light'], [1440, 900, 'dark'], [1024, 768, 'light'], [390, 844, 'light']]) {
  const context = await browser.newContext({ viewport: { width, height }, colorScheme });
  const page = await context.newPage();
  const complaints = [];
  page.on('pageerror', (error) => complaints.push(`page error: ${error.message}`));
  page.on('console', (line) => line.type() === 'error' && complaints.push(`${line.text()} at ${line.location().url}`));
  for (const [path, prepare] of pages) {
    await page.goto(base + path);
    await page.locator('h1').waitFor();
    await page.waitForTimeout(350);
    await prepare?.(page);
    await page.evaluate(axe);
    const { violations } = await page.evaluate((tags) => globalThis.axe.run({ runOnly: { type: 'tag', values: tags } }), rules);
    checked += 1;
    const amiss = complaints.splice(0).filter((text) => !(kTold[path] && text.includes(`status of ${kTold[path]}`)));
    found += amiss.length;
    for (const text of amiss) console.log(`${path} ${width} ${colorScheme}: console: ${text}`);
    for (const { id, help, nodes } of violations) {
      found += nodes.length;
      console.log(`${path} ${width} ${colorScheme}: ${id}: ${help}`);
      for (const node of nodes.slice(0, 3)) console.log(`    ${node.target.join(' ')}  ${node.failureSummary.split('\n')[1]?.trim() ?? ''}`);
    }
  }
  await context.close();
}
await browser.close();
console.log(`${checked} pages looked at, ${found} faults`);
process.exitCode = found > 0 ? 1 : 0;
