// Wheel cards and the truing stand of an order: the command line, the API as web/openapi.yaml has it,
// and the pages that lead to them.
import assert from 'node:assert/strict';
import { browser_house, reads, until, window_of } from './browser.mjs';
import { claim, cli, demo_book, start_server } from './house.mjs';
import { Judge, read_openapi } from './schema.mjs';

// Invented orders: one with a rear wheel laced here, one with wheels bought whole.
const laced = '2003';
const bought = '2031';

const table = (reckoned, name) => reckoned.tables[0].rows.find((cells) => cells[0] === name);

async function command_line() {
  const book = demo_book();
  const run = (...args) => cli(['--book', book, ...args]);
  await claim('wheel-card says lengths, tensions and the caution of a laced wheel', () => {
    const { code, out } = run('wheel-card', laced, 'rear');
    assert.equal(code, 0, out);
    assert.match(out, /Caution: .*eye protection/);
    assert.match(out, /Mean tension to build to +\d+ N, \d+ kgf +\d+ N, \d+ kgf/);
    assert.match(out, /estimated rim stiffness/);
    assert.match(out, /rear rim \(.*\): most spoke tension/, 'where the limit comes from');
  });
  await claim('wheel-card --json gives the tensions of the bench sheet', () => {
    const { code, out } = run('--json', 'wheel-card', laced, 'rear');
    assert.equal(code, 0, out);
    const [, left, right] = table(JSON.parse(out).reckoned, 'Mean tension to build to');
    const sheet = JSON.parse(run('--json', 'sheet', laced).out);
    for (const [side, said] of [['left', left], ['right', right]]) {
      const values = sheet.steps.flatMap((step) => step.values);
      const target = values.find((value) => value.reading === `tension_rear_${side}`).target;
      assert.equal(Math.round(target), Number.parseInt(said, 10), side);
    }
  });
  await claim('a wheel of which too little is known has no card but questions', () => {
    const { code, out } = run('wheel-card', bought, 'rear');
    assert.notEqual(code, 0);
    assert.match(out, /not known/);
    assert.doesNotMatch(out, /Mean tension to build to/);
  });
  await claim('a bike has two ends', () => {
    assert.notEqual(run('wheel-card', laced, 'middle').code, 0);
  });
}

async function api(server) {
  const openapi = read_openapi();
  const judge = new Judge(openapi);
  const schema = { $ref: '#/components/schemas/FilledAid' };
  await claim('cards and stands of every order keep to the API file', async () => {
    const orders = await (await fetch(`${server.url}/api/orders`)).json();
    let cards = 0;
    for (const { id } of orders) {
      for (const aid of ['wheel-card', 'truing']) {
        const answer = await fetch(`${server.url}/api/orders/${id}/aids/${aid}?end=rear`);
        assert.equal(answer.status, 200, `${id} ${aid}`);
        const filled = await answer.json();
        assert.deepEqual(judge.troubles(schema, filled, `${id} ${aid}`), []);
        cards += filled.reckoned ? 1 : 0;
      }
    }
    assert.ok(cards > 20, `${cards} were reckoned`);
  });
  await claim('the aids themselves keep to it', async () => {
    for (const aid of ['truing', 'wheel-card', 'spoke-length']) {
      const answer = await (await fetch(`${server.url}/api/aids/${aid}`)).json();
      assert.deepEqual(judge.troubles({ $ref: '#/components/schemas/Reckoned' }, answer, aid), []);
      assert.equal(answer.wheel !== null, aid === 'truing');
    }
  });
  await claim('readings given over an order’s wheel come to turns on its own spokes', async () => {
    const sideways = Array.from({ length: 18 }, (_, i) => (i < 5 ? 0.6 : 0)).join(' ');
    const query = new URLSearchParams({ end: 'rear', lateral: sideways, radial: sideways.replaceAll('0.6', '0') });
    const filled = await (await fetch(`${server.url}/api/orders/${laced}/aids/truing?${query}`)).json();
    assert.equal(filled.reckoned.wheel.spokes.length, 36);
    assert.ok(filled.reckoned.wheel.spokes.some((spoke) => spoke.quarters !== 0));
  });
}

async function pages(server) {
  const { page, complaints, close } = await window_of(server, { width: 1024, height: 768 });
  await claim('an order with a laced wheel leads to its card, which prints on one A4 page', async () => {
    await page.goto(`/orders/${laced}`);
    await page.getByRole('link', { name: 'Wheel card, rear' }).click();
    await page.locator('.card-sides').waitFor();
    await reads(page.locator('.wheel-card'), /eye protection/);
    await reads(page.locator('.card-from'), /rear rim \(.*most spoke tension/s);
    const pdf = (await page.pdf({ format: 'A4' })).toString('latin1');
    assert.equal((pdf.match(/\/Type\s*\/Page\b/g) ?? []).length, 1);
  });
  await claim('its truing stand has the order’s wheel', async () => {
    await page.getByRole('link', { name: 'To the truing stand' }).click();
    await page.getByRole('button', { name: 'The wheel', exact: true }).click();
    await until(() => page.getByLabel('Holes, left', { exact: true }).inputValue(), '18', 5000);
    await reads(page.locator('.measures-grid'), /rear hub \(/);
  });
  await claim('a wheel that nobody measured says what is missing before anything is read', async () => {
    await page.goto(`/bench/truing?order=${bought}&wheel=rear`);
    await page.locator('.truing-open summary').click();
    await reads(page.locator('.truing-open'), /ERD\) is not known/);
    await page.getByRole('button', { name: 'Type them here' }).click();
    assert.equal(await page.getByLabel('Effective rim diameter').inputValue(), '');
  });
  await claim('nothing was amiss in the browser meanwhile', () => assert.deepEqual(complaints, []));
  await close();
}

browser_house(async () => {
  await command_line();
  const server = await start_server();
  await api(server);
  await pages(server);
});
