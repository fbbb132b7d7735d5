// The agreed plan, as it is planned anew, moved by hand and agreed from the command line and over
// HTTP. Everything in the demo is invented.
import assert from 'node:assert/strict';
import http from 'node:http';
import { claim, cli, demo_book, house, start_server } from './house.mjs';

function done(book, ...args) {
  const ran = cli(['--book', book, ...args]);
  assert.equal(ran.code, 0, `${args.join(' ')} ended with ${ran.code}: ${ran.err}`);
  return ran.out;
}

const json = (book, ...args) => JSON.parse(done(book, '--json', ...args));

function assert_refused(ran, code, words) {
  assert.equal(ran.code, code, `${ran.err}${ran.out}`);
  assert.match(ran.err, words);
}

const bars_of = (plan) => plan.people.flatMap(({ id, bars }) =>
  bars.map((bar) => ({ ...bar, person: id })));

/** Operation, person and start of all that is planned, or of what is frozen. */
const places = (plan, only = () => true) => [...new Set(bars_of(plan).filter(only)
  .map((bar) => `${bar.order} ${bar.operation} ${bar.person} ${bar.start}`))].sort();

/** The last operation of the plan that may move, of an order whose parts are all in hand. */
function movable(plan) {
  const free = bars_of(plan).filter((bar) => !bar.frozen && !bar.late);
  return free.reduce((last, bar) => (bar.start > last.start ? bar : last));
}

const days_of = (plan) => plan.people.flatMap(({ id, windows }) =>
  windows.map(({ from }) => ({ person: id, from })));

/** Moves it to the first moment of a later day at which that can be; {start, answer}. */
function first_move(plan, bar, ask) {
  const starts = days_of(plan).filter(({ person, from }) =>
    person === bar.person && from > bar.end).map(({ from }) => from);
  const refused = [];
  for (const start of starts) {
    const answer = ask(start);
    if (answer) return { start, answer };
    refused.push(start);
  }
  throw new Error(`${bar.order} ${bar.operation} can be moved to none of ${refused.join(', ')}`);
}

// The command line ---------------------------------------------------------------------------------

async function judge_verbs(book) {
  await claim('before a plan is agreed none can be moved in, and the plan says so', async () => {
    assert.match(done(book, 'plan'), /^No plan is agreed yet/);
    assert_refused(cli(['--book', book, 'move', '2020', 'A-20', '--to', 'mara', '--at',
                        '2026-12-03T10:30']), 5, /no plan is agreed yet/);
    assert_refused(cli(['--book', book, 'calendar', 'mara']), 5, /no plan is agreed yet/);
  });
  await claim('plan-anew only shows, and becomes the plan with --agree', async () => {
    const before = json(book, 'verify').entries;
    const shown = done(book, 'plan-anew');
    assert.match(shown, /It would be the first plan agreed\./);
    assert.match(shown, /Nothing is changed; --agree makes it the plan\.\n$/);
    assert.equal(json(book, 'verify').entries, before);
    const plan = json(book, '--who', 'mara', 'plan-anew', '--agree');
    assert.equal(plan.number, 1);
    assert.equal(plan.agreed_by, 'mara');
    assert.deepEqual(plan.out_of_date, []);
    assert.ok(json(book, 'verify').entries > before);
    assert.equal(json(book, 'verify').whole, true);
  });
  await claim('the same book gives the same proposal', async () => {
    const [first, second] = [0, 1].map(() => json(book, 'plan-anew'));
    for (const one of [first, second]) {
      delete one.seconds;
      delete one.id;
    }
    assert.deepEqual(first, second);
  });
  await claim('a move that cannot be is refused with one sentence', async () => {
    const plan = json(book, 'plan');
    const bar = movable(plan);
    const move = (...args) => cli(['--book', book, 'move', bar.order, bar.operation, ...args]);
    assert_refused(move('--to', bar.person, '--at', '2026-12-20T10:30'), 5, /is not at work on Sun 20 Dec/);
    assert_refused(move('--to', 'nobody', '--at', '2026-12-03T10:30'), 3, /nobody of the shop is called so/);
    assert_refused(move('--to', bar.person, '--at', 'soon'), 2, /a day and a time of the shop/);
    const frozen = bars_of(plan).find((one) => one.frozen);
    assert_refused(cli(['--book', book, 'move', frozen.order, frozen.operation, '--to',
                        frozen.person, '--at', '2026-12-03T10:30']), 5, /in the frozen part/);
  });
  await claim('a move says its price, is pinned once agreed, stays, and is let go', async () => {
    const plan = json(book, 'plan');
    const bar = movable(plan);
    const args = (start) => ['move', bar.order, bar.operation, '--to', bar.person, '--at', start];
    const { start, answer } = first_move(plan, bar, (at) => {
      const ran = cli(['--book', book, '--json', ...args(at)]);
      return ran.code === 0 ? JSON.parse(ran.out) : null;
    });
    assert.equal(answer.changes[0].operation, bar.operation);
    assert.deepEqual(answer.changes[0].because, ['moved by hand']);
    const term = Object.entries(answer.plan.settings).filter(([name]) => name !== 'frozen_days');
    const cost = ({ days_late, moved, kit_days, last_days, uneven_hours }, weight) =>
      days_late * weight.day_late + moved * weight.moved + kit_days * weight.kit_day +
      last_days * weight.last_day + uneven_hours * weight.uneven_hour;
    for (const figures of [answer.before, answer.after]) {
      assert.ok(Math.abs(figures.cost - cost(figures, Object.fromEntries(term))) < 1e-6);
    }
    assert.deepEqual(places(json(book, 'plan')), places(plan), 'only asked so far');
    const agreed = json(book, '--who', 'pia', ...args(start), '--agree');
    const pinned = bars_of(agreed).filter((one) => one.pinned);
    assert.ok(pinned.length > 0);
    for (const one of pinned) {
      assert.deepEqual([one.order, one.operation, one.start, one.pinned_by],
        [bar.order, bar.operation, start, 'pia']);
    }
    const anew = json(book, 'plan-anew');
    assert.ok(!anew.changes.some((one) => one.order === bar.order && one.operation === bar.operation));
    const free = json(book, 'let-go', bar.order, bar.operation, '--agree');
    assert.deepEqual(bars_of(free).filter((one) => one.pinned), []);
    assert_refused(cli(['--book', book, 'let-go', bar.order, bar.operation]), 5,
      /was not put anywhere by hand/);
  });
  await claim('an absence puts the plan out of date; planned anew nothing frozen moves', async () => {
    const before = json(book, 'plan');
    const told = json(book, 'away', 'jonas', '2026-11-26', '2026-12-02');
    assert.ok(told.out_of_date.some(({ sentence }) => /Jonas Ward is not at work/.test(sentence)));
    assert.equal(told.number, before.number);
    const proposal = json(book, 'plan-anew');
    assert.ok(proposal.changes.length > 0);
    for (const change of proposal.changes) assert.ok(change.because.length > 0, change.operation);
    const then = new Set(places(proposal.plan));
    for (const place of places(told, (bar) => bar.frozen && !bar.cannot)) {
      assert.ok(then.has(place), `${place} was frozen and moved`);
    }
    const back = json(book, 'back', 'jonas', '2026-11-26', '2026-12-02');
    assert.deepEqual(back.out_of_date, []);
    assert.deepEqual(places(back), places(before));
    assert_refused(cli(['--book', book, 'away', 'jonas', '2026-12-02', '2026-12-01']), 2,
      /the first day comes first/);
  });
  await claim('set-plan changes what is named, and refuses what no shop plans by', async () => {
    const before = json(book, 'plan').settings;
    const after = json(book, 'set-plan', '--frozen-days', '3', '--moved', '7.5').settings;
    assert.deepEqual(after, { ...before, frozen_days: 3, moved: 7.5 });
    assert_refused(cli(['--book', book, 'set-plan', '--kit-day', '-1']), 2, /a weight is a number/);
    json(book, 'set-plan', '--frozen-days', '1', '--moved', '5');
  });
  await claim("a calendar holds one person's work and nothing of the riders", async () => {
    const text = done(book, 'calendar', 'mara');
    assert.equal(text, done(book, 'calendar', 'mara'), 'the same state gives the same bytes');
    assert.ok(!/[^\r]\n/.test(text) && text.endsWith('END:VCALENDAR\r\n'));
    for (const line of text.split('\r\n')) assert.ok(Buffer.byteLength(line) <= 75, line);
    const plan = json(book, 'plan');
    const hers = new Set(bars_of(plan).filter((bar) => bar.person === 'mara')
      .map((bar) => `${bar.order} ${bar.operation}`));
    const unfolded = text.replaceAll('\r\n ', '');
    const said = new Set([...unfolded.matchAll(/^SUMMARY:(\S+ \S+) /gm)].map(([, work]) => work));
    for (const work of hers) assert.ok(said.has(work), work);
    for (const { person, order, operation } of bars_of(plan)) {
      const work = `${order} ${operation}`;
      if (person !== 'mara' && !hers.has(work)) assert.ok(!said.has(work), work);
    }
    for (const { rider } of plan.orders) assert.ok(!unfolded.includes(rider), rider);
    assert_refused(cli(['--book', book, 'calendar', 'nobody']), 3, /nobody of the shop is called so/);
  });
  await claim('work for two stands in two lanes and in two calendars at the same time', async () => {
    const bars = bars_of(json(book, 'plan'));
    const lent = bars.filter((bar) => bar.lends);
    assert.ok(lent.length > 3, `${lent.length} bars lend a hand`);
    for (const bar of lent) {
      const own = bars.find((one) => !one.lends && one.order === bar.order && one.operation === bar.operation);
      assert.ok(own && own.person !== bar.person, bar.order);
      assert.deepEqual([own.from, own.to, own.others.length], [bar.from, bar.to, 1]);
    }
    const [{ person, order, operation }] = lent;
    const text = done(book, 'calendar', person).replaceAll('\r\n ', '');
    const entry = text.split('BEGIN:VEVENT').find((one) => one.includes(`SUMMARY:${order} ${operation} `));
    assert.match(entry, /DESCRIPTION:lends a hand to /);
    assert.match(done(book, 'plan'), /\(lends a hand to /);
  });
  await claim('after all this the journal is whole', async () => {
    assert.equal(json(book, 'verify').whole, true);
  });
}

// HTTP ---------------------------------------------------------------------------------------------

function ask(server, method, path, value) {
  return new Promise((resolve, reject) => {
    const body = value === undefined ? undefined : JSON.stringify(value);
    const headers = body === undefined ? {}
      : { 'Content-Type': 'application/json', 'Content-Length': Buffer.byteLength(body) };
    const request = http.request(
      { host: '127.0.0.1', port: server.port, method, path: `/api${path}`, headers, agent: false },
      (response) => {
        let text = '';
        response.setEncoding('utf8').on('data', (more) => { text += more; });
        response.on('end', () => resolve({ status: response.statusCode, value: JSON.parse(text) }));
      });
    request.setTimeout(60_000, () => request.destroy(new Error(`${method} ${path}: no answer`)));
    request.on('error', reject);
    request.end(body);
  });
}

/** What the stream tells of a search until it is over. */
function progress_of(server, proposal) {
  return new Promise((resolve, reject) => {
    const told = [];
    const request = http.get(
      { host: '127.0.0.1', port: server.port, path: '/api/events', agent: false }, (response) => {
        let text = '';
        response.setEncoding('utf8').on('data', (more) => {
          text += more;
          const events = text.split('\n\n');
          text = events.pop();
          for (const event of events) {
            if (!event.startsWith('event: plan\n')) continue;
            const data = JSON.parse(event.slice(event.indexOf('data: ') + 6));
            if (data.proposal === proposal) told.push(data);
            if (data.over) {
              request.destroy();
              resolve(told);
            }
          }
        });
      });
    request.setTimeout(60_000, () => request.destroy(new Error('no end of the search')));
    request.on('error', reject);
  });
}

async function judge_http(server) {
  const propose = async (wish) => ask(server, 'POST', '/plan/proposals', wish);
  await claim('a proposal is looked at again, agreed once, and over another plan refused', async () => {
    const { status, value } = await propose({ over: 0 });
    assert.equal(status, 201);
    const other = (await propose({ over: 0 })).value;
    assert.equal((await ask(server, 'GET', `/plan/proposals/${value.id}`)).value.sentence,
      value.sentence);
    const agreed = await ask(server, 'POST', `/plan/proposals/${value.id}/agree`, {});
    assert.equal(agreed.value.number, 1);
    assert.equal((await ask(server, 'GET', `/plan/proposals/${value.id}`)).status, 404);
    const late = await ask(server, 'POST', `/plan/proposals/${other.id}/agree`, {});
    assert.equal(late.status, 409);
    assert.match(late.value.sentence, /plan 1 was agreed by desk in the meantime/);
    assert.equal((await propose({ over: 0 })).status, 409);
  });
  await claim('of ten who agree over the same plan at once one wins', async () => {
    const ids = [];
    for (let i = 0; i < 10; ++i) ids.push((await propose({ over: 1 })).value.id);
    const answers = await Promise.all(ids.map((id) =>
      ask(server, 'POST', `/plan/proposals/${id}/agree`, {})));
    assert.deepEqual(answers.map(({ status }) => status).sort(), [200, ...Array(9).fill(409)]);
    assert.equal((await ask(server, 'GET', '/plan')).value.number, 2);
  });
  await claim('a search is told of while it goes on, is stopped, and never makes it worse', async () => {
    const first = (await propose({ over: 2 })).value;
    const told = progress_of(server, first.id);
    const begun = await ask(server, 'POST', `/plan/proposals/${first.id}/improve`, { seconds: 60 });
    assert.equal(begun.status, 202);
    assert.equal(begun.value.improving, true);
    const early = await ask(server, 'POST', `/plan/proposals/${first.id}/agree`, {});
    assert.equal(early.status, 409);
    const best = await ask(server, 'POST', `/plan/proposals/${first.id}/stop`, {});
    assert.equal(best.value.improving, false);
    assert.ok(best.value.after.cost <= first.after.cost + 1e-6);
    const said = await told;
    assert.equal(said.at(-1).over, true);
    const left = await ask(server, 'POST', `/plan/proposals/${first.id}/leave`, {});
    assert.equal(left.value.number, 2);
  });
  await claim('what a body must not say is refused and named', async () => {
    for (const [wish, status, field] of [
      [{}, 400, 'over'], [{ over: 2, order: '2020' }, 400, 'operation'],
      [{ over: 2, order: '2020', operation: 'A-20' }, 400, 'person'],
      [{ over: 2, order: '9', operation: 'A-20', person: 'mara', start: '2026-12-03T10:30' }, 404, 'order'],
      [{ over: 2, later: true }, 400, 'later'],
    ]) {
      const answer = await propose(wish);
      assert.equal(answer.status, status, JSON.stringify(wish));
      assert.equal(answer.value.field, field, JSON.stringify(wish));
    }
    const id = (await propose({ over: 2 })).value.id;
    const extra = await ask(server, 'POST', `/plan/proposals/${id}/agree`, { force: true });
    assert.equal(extra.status, 400);
    const odd = await ask(server, 'POST', `/plan/proposals/${id}/improve`, { seconds: 301 });
    assert.equal(odd.status, 422);
  });
  await claim('reading the plan writes nothing, in date or out of it', async () => {
    const entries = async () => (await ask(server, 'GET', '/journal/verify')).value.entries;
    await ask(server, 'POST', '/people/jonas/absences', { from: '2026-11-26', to: '2026-12-02' });
    const before = await entries();
    const [first, second] = [await ask(server, 'GET', '/plan'), await ask(server, 'GET', '/plan')];
    assert.ok(first.value.out_of_date.length > 0);
    assert.deepEqual(first.value, second.value);
    assert.equal(await entries(), before);
  });
}

await house(async () => {
  await judge_verbs(demo_book());
  const server = await start_server();
  await judge_http(server);
  await server.stop();
});
