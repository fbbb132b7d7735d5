// People at the pages: the first run, signing in at the desk, changing by PIN at the bench.
import assert from 'node:assert/strict';
import { assert_for_everyone, browser_house, for_everyone, reads, window_of, words } from './browser.mjs';
import { claim, demo_book, program, run, start_server, wait } from './house.mjs';

const password = 'seven quiet freewheels';

/** Fills the fields of the page by their labels. */
async function fill(page, fields) {
  for (const [label, text] of Object.entries(fields)) await page.getByLabel(label, { exact: true }).fill(text);
}

async function sign_in(page, person = 'mara', said = password) {
  await page.goto('/sign-in');
  await fill(page, { 'Sign-in name': person, Password: said });
  await page.getByRole('button', { name: 'Sign in' }).click();
}

const who = (page) => words(page.locator('.who-line'));

async function judge_first_run(server) {
  const { page, close } = await window_of(server);
  await claim('until there is an owner every page says so and leads to making one', async () => {
    for (const place of ['/', '/orders', '/bench', '/people']) {
      await page.goto(place);
      await page.locator('.who-line').waitFor();
      assert.match(await who(page), /Nobody has to sign in yet: make the owner/, place);
    }
    await page.locator('.who-line a').click();
    await page.getByRole('heading', { name: 'Make the owner' }).waitFor();
  });
  await claim('two passwords that differ, or one that is too short, make nobody the owner', async () => {
    await page.getByLabel('The owner').selectOption('mara');
    await fill(page, { Password: password, 'The password again': 'seven quiet hubs' });
    await page.getByRole('button', { name: 'Make the owner' }).click();
    await page.getByText('The two are not the same.').waitFor();
    await fill(page, { Password: 'short', 'The password again': 'short' });
    await page.getByRole('button', { name: 'Make the owner' }).click();
    await page.getByText(/at least 10 characters; a few words/).waitFor();
  });
  await claim('the first run makes the owner, who is signed in and sees people', async () => {
    await fill(page, { Password: password, 'The password again': password });
    await page.getByRole('button', { name: 'Make the owner' }).click();
    await page.getByRole('heading', { name: 'People', exact: true }).waitFor();
    assert.match(await who(page), /Mara Hollis is signed in/);
    assert.equal(await page.locator('.people-book tbody tr').count(), 6);
  });
  await claim('the owner sets a PIN with her own password, and not with another', async () => {
    await page.getByRole('button', { name: 'Set PIN: Jonas Ward' }).click();
    await fill(page, { 'New PIN, 4 to 8 digits': '2580', 'The same again': '2580', 'Your own password': 'not this one' });
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('the name or the password is not right').waitFor();
    await fill(page, { 'Your own password': password });
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('Kept for Jonas Ward.').waitFor();
    await page.getByRole('button', { name: 'Set PIN: Ilka Brandow' }).click();
    await fill(page, { 'New PIN, 4 to 8 digits': '73915', 'The same again': '73915', 'Your own password': password });
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('Kept for Ilka Brandow.').waitFor();
    const row = page.locator('.people-book tr', { hasText: 'Jonas Ward' });
    await reads(row, /set/);
  });
  await claim('signing out leaves nothing but the way in', async () => {
    await page.getByRole('button', { name: 'Sign out' }).click();
    await page.getByRole('heading', { name: 'Sign in' }).waitFor();
    assert.equal(await page.locator('nav').count(), 0);
    await page.goto('/orders/2022');
    await page.getByRole('heading', { name: 'Sign in' }).waitFor();
    assert.match(page.url(), /\/sign-in\?to=%2Forders%2F2022$/);
  });
  await claim('a wrong password is told, and the right one leads to the page that was asked for', async () => {
    await fill(page, { 'Sign-in name': 'mara', Password: 'not this one' });
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByText('the name or the password is not right').waitFor();
    assert.equal(await page.getByLabel('Password', { exact: true }).inputValue(), '');
    await fill(page, { Password: password });
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.locator('tr[data-slot]').first().waitFor();
    assert.equal(new URL(page.url()).pathname, '/orders/2022');
  });
  await claim('a link from elsewhere leads to no page but ours', async () => {
    await page.getByRole('button', { name: 'Sign out' }).click();
    await page.getByRole('heading', { name: 'Sign in' }).waitFor();
    for (const to of ['https://example.invalid/', '//example.invalid/', '/\\example.invalid/']) {
      await page.goto(`/sign-in?to=${encodeURIComponent(to)}`);
      await fill(page, { 'Sign-in name': 'mara', Password: password });
      await page.getByRole('button', { name: 'Sign in' }).click();
      await page.locator('.who-line').waitFor();
      assert.equal(page.url(), `${server.url}/`, to);
      await page.getByRole('button', { name: 'Sign out' }).click();
      await page.getByRole('heading', { name: 'Sign in' }).waitFor();
    }
  });
  await close();
}

async function type_pin(page, pin) {
  for (const digit of pin) await page.locator('.pin-keys').getByRole('button', { name: digit, exact: true }).click();
  await page.locator('.pin-keys').getByRole('button', { name: 'Sign in' }).click();
}

async function judge_bench(server) {
  const { page, close } = await window_of(server, { width: 1024, height: 768, hasTouch: true });
  await claim('the owner makes a tablet a station, and is signed out at it', async () => {
    await sign_in(page);
    await page.getByRole('link', { name: 'People', exact: true }).click();
    await fill(page, { 'Name of the station': 'Bench by the door' });
    await page.getByRole('button', { name: 'Make it a station' }).click();
    await page.getByRole('heading', { name: 'Who is at the bench?' }).waitFor();
    assert.deepEqual(await page.locator('.bench-names button').allInnerTexts(), ['Ilka Brandow', 'Jonas Ward']);
  });
  await claim('every target at the bench is 56 px or more', async () => {
    await page.getByRole('button', { name: 'Jonas Ward' }).click();
    await page.locator('.pin-keys').waitFor();
    for (const target of await page.locator('main button, main a').all()) {
      const { height } = await target.boundingBox();
      assert.ok(height >= 56, `${await target.innerText()}: ${height} px`);
    }
  });
  await claim('a wrong PIN is told and forgotten, the right one opens the bench', async () => {
    await type_pin(page, '1212');
    await page.getByText('this is not the PIN of Jonas Ward').waitFor();
    assert.equal((await page.locator('.pin-shown').innerText()).trim(), '');
    await type_pin(page, '2580');
    await page.getByRole('heading', { name: 'Bench', exact: true }).waitFor();
    assert.match(await who(page), /Jonas Ward is at Bench by the door/);
  });
  await claim('somebody else takes over with a scanned label and the keys', async () => {
    await page.getByRole('button', { name: 'Somebody else' }).click();
    await page.getByRole('heading', { name: 'Who is at the bench?' }).waitFor();
    const [ilka] = await page.evaluate(async () => (await fetch('/api/bench/people')).json());
    await page.keyboard.type(ilka.code);
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Ilka Brandow' }).waitFor();
    await page.keyboard.type('73915');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Bench', exact: true }).waitFor();
    assert.match(await who(page), /Ilka Brandow is at Bench by the door/);
  });
  await claim('the bench is told in a sentence what it may not', async () => {
    await page.goto('/people');
    await page.getByText('At a station only the PIN is asked for.').waitFor();
  });
  await claim('when the session is over the tablet asks who is there', async () => {
    assert.equal(run(program, ['--book', server.book, 'set-pin', 'ilka'], { input: '36925\n' }).code, 0);
    // Another program wrote, so it is the stream of events that ends, at its next heartbeat.
    await page.getByRole('heading', { name: 'Who is at the bench?' }).waitFor({ timeout: 25_000 });
    await wait(300);
    await page.getByRole('button', { name: 'Ilka Brandow' }).click();
    await type_pin(page, '36925');
    await page.locator('.who-line').waitFor();
  });
  await close();
}

/** The pages for everyone: signed out, at a station, and signed in as the owner. */
async function judge_for_everyone(server) {
  await for_everyone(server, ['/sign-in', '/bench/sign-in'], (page) => page.locator('h1').waitFor());
  for (const [name, [width, height]] of Object.entries({ desk: [1440, 900], tablet: [1024, 768], telephone: [390, 844] })) {
    for (const colorScheme of ['light', 'dark']) {
      const { page, close } = await window_of(server, { width, height, colorScheme });
      await claim(`people and the number pad at the ${name}, ${colorScheme}, are for everyone`, async () => {
        await sign_in(page);
        await page.locator('.who-line').waitFor();
        await page.goto('/people');
        await page.getByRole('button', { name: 'Set password: Jonas Ward' }).click();
        await assert_for_everyone(page);
        await fill(page, { 'Name of the station': `Tablet, ${name}, ${colorScheme}` });
        await page.getByRole('button', { name: 'Make it a station' }).click();
        await page.locator('.bench-names').waitFor();
        await assert_for_everyone(page);
        await page.getByRole('button', { name: 'Jonas Ward' }).click();
        await assert_for_everyone(page);
        await type_pin(page, '2580');
        await page.locator('.who-line').waitFor();
        await assert_for_everyone(page);
      });
      await close();
    }
  }
}

await browser_house(async () => {
  const server = await start_server({ book: demo_book() });
  await for_everyone(server, ['/people/first'], (page) => page.getByLabel('The owner').waitFor());
  await judge_first_run(server);
  await judge_bench(server);
  await judge_for_everyone(server);
});
