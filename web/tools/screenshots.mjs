// Pictures of every page, to be looked at by a person.
//   node tools/screenshots.mjs http://127.0.0.1:8420 /tmp/shots [name-part ...]
// Fails when a page complains in the browser's console or is wider than the screen.
// Sizes: desk, bench tablet, telephone; themes: paper and night. ORDER, PART and WHOLE (an order without a gap) name what is shown.
import { mkdir } from 'node:fs/promises';
import { chromium } from 'playwright-core';

const [base = 'http://127.0.0.1:8420', out = '/tmp/shots', ...only] = process.argv.slice(2);
const order = process.env.ORDER ?? '2041';
const part = process.env.PART ?? 'TY-0001';
const sizes = { desk: [1440, 900], tablet: [1024, 768], phone: [390, 844] };
const openFirstSlot = async (page) => {
  await page.locator(`tr[data-slot="${process.env.SLOT ?? 'rear_hub'}"] .part`).click();
  await page.locator('.choice .status').first().waitFor();
  const closed = page.locator('.choice.closed');
  if (await closed.count()) await closed.first().dispatchEvent('click');
  await page.locator(`tr[data-slot="${process.env.SLOT ?? 'rear_hub'}"]`).scrollIntoViewIfNeeded();
};
const readWheel = async (page) => {
  const sideways = [0.4, 0.5, 0.5, 0.4, 0.2, 0, -0.2, -0.3, -0.3, -0.2, -0.1, 0, 0, 0, 0, 0.1];
  for (const row of ['lateral', 'radial']) {
    for (const [i, mm] of sideways.entries()) await page.locator(`input[data-row="${row}"][data-index="${i}"]`).fill(String(mm));
  }
};
const turnWheel = async (page) => {
  await readWheel(page);
  await page.getByRole('button', { name: 'See the turns' }).click();
  await page.locator('.turn-list li').first().waitFor();
};
const lookForWays = async (page) => {
  await page.getByRole('button', { name: 'Look for ways' }).click();
  await page.locator('.sooner .promise-sentence').waitFor({ timeout: 60_000 });
  await page.locator('.sooner').scrollIntoViewIfNeeded();
};
const choosing = (...names) => async (page) => {
  for (const name of names) await page.getByRole('button', { name, exact: true }).click();
};
const pages = {
  'today': ['/'], 'orders': ['/orders'], 'order': [`/orders/${order}`], 'choices': [`/orders/${order}`, openFirstSlot],
  'new-order': ['/orders/new'], 'plan': ['/plan'], 'minutes': ['/records/minutes', (page) => page.locator('.minutes tbody tr').first().waitFor()], 'load': ['/plan/load', (page) => page.locator('.load-table').first().waitFor()],
  'plan-day': ['/plan', choosing('Wall plan', 'Day')], 'plan-stands': ['/plan', choosing('Wall plan', 'Stands')],
  'plan-by-day': ['/plan', choosing('By day')],
  'maker': ['/orders/2032/maker'], 'care': ['/orders/2004/care'], 'coming-back': ['/orders/coming-back'], 'care-here': ['/orders/2003/care'], 'recalls': ['/records/recalls'], 'recall': ['/records/recalls/R1'],
  'bench': ['/bench'], 'stand': ['/bench/2016'], 'stand-work': ['/bench/2016?step=34'], 'stand-reading': ['/bench/2016?step=34&read=belt_frequency'], 'stand-kit': ['/bench/2016?tab=kit'], 'stand-checks': ['/bench/2016?tab=checks'], 'history': ['/records/bike/2016'], 'trace': ['/records/trace?part=HG-0001'], 'printed-sheet': [`/bench/${order}/sheet`],
  'parts': ['/parts'], 'part': [`/parts/${part}`], 'buy': ['/parts/buy'], 'small-stock': ['/parts/small-stock'], 'arrivals': ['/arrivals'], 'arrival': ['/arrivals/P-3163'], 'arrival-sea': ['/arrivals/P-3150'], 'arrival-serial': ['/arrivals/P-3114'], 'arrival-quarantine': ['/arrivals/P-3165'], 'to-measure': ['/parts/to-measure'], 'take-in': ['/parts/take-in'], 'labels': ['/bench/labels?orders=2003,2041'], 'labels-empty': ['/bench/labels'], 'aids': ['/bench/aids'], 'aid-gears': ['/bench/aids/gears'], 'aid-spokes': ['/bench/aids/spoke-length'],
  'aid-torque': ['/bench/aids/torque'], 'aid-truing': ['/bench/aids/truing'], 'aid-belts': ['/bench/aids/belt-choice'], 'aid-heat': ['/bench/aids/rotor-heat'], 'truing': ['/bench/truing'], 'truing-turns': ['/bench/truing', turnWheel], 'wheel-card': ['/orders/2003/wheels/rear'], 'records': ['/records'], 'kept': ['/records/promises', (page) => page.locator('.kept .promise-sentence').waitFor()], 'sooner': [`/orders/${process.env.WHOLE ?? '2024'}`, lookForWays],
  'order-aid-gears': [`/bench/aids/gears?order=${order}`], 'order-aid-home': [`/bench/aids/home-again?order=${order}`],
  'first-owner': ['/people/first'], 'people': ['/people'],
  'find': ['/', async (page) => { await page.keyboard.press('/'); await page.keyboard.type('hub'); await page.locator('#found li').first().waitFor(); }],
};

await mkdir(out, { recursive: true });
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: ['--no-sandbox'] });
for (const [sizeName, [width, height]] of Object.entries(sizes)) {
  for (const theme of ['paper', 'night']) {
    const context = await browser.newContext({ viewport: { width, height }, colorScheme: theme === 'night' ? 'dark' : 'light' });
    const page = await context.newPage();
    const amiss = (text) => { console.log(text); process.exitCode = 1; };
    page.on('pageerror', (error) => amiss(`page error: ${error.message}`));
    page.on('console', (message) => message.type() === 'error' && amiss(`console: ${message.text()} at ${message.location().url}`));
    for (const [name, [path, prepare]] of Object.entries(pages)) {
      const file = `${name}-${sizeName}-${theme}.png`;
      if (only.length && !only.some((word) => file.includes(word))) continue;
      await page.goto(base + path);
      await page.locator('h1').waitFor();
      await page.waitForTimeout(500);
      try {
        await prepare?.(page);
      } catch (error) {
        amiss(`${file}: ${String(error).split('\n')[0]}`);
      }
      await page.waitForTimeout(200);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      if (wide > 0) amiss(`${file}: ${wide} px wider than the screen`);
      await page.screenshot({ path: `${out}/${file}`, fullPage: process.env.FULL === '1' && !['parts', 'find'].includes(name) });
    }
    await context.close();
  }
}
await browser.close();
