// Two bikes of the invented shop at the stand, to their last check: a shop-built belt e-bike and a
// maker-built one, with two people, a value outside its limits, a redo, a part taken off again, and the
// trace that finds it later. Everything goes through the real server.
import assert from 'node:assert/strict';
import http from 'node:http';
import { claim, house, start_server } from './house.mjs';

const shopBuilt = '2016';
const makerBuilt = '2014';
/** Who does what: work by its skill, what wants a second person by Mara. */
const byskill = { L1: 'ilka', L2: 'ilka', L3: 'ilka', LE: 'ilka', WB: 'jonas', DG: 'mara', AD: 'mara' };
const second = 'mara';
/** Reading's unit in the dimension's own, where they differ. */
const sizes = { km: 1e6, m: 1000, cm: 10 };

function ask(server, method, target, body) {
  return new Promise((resolve, reject) => {
    const text = body === undefined ? undefined : JSON.stringify(body);
    const request = http.request(`http://127.0.0.1:${server.port}${target}`,
      { method, headers: text === undefined ? {} : { 'Content-Type': 'application/json' } },
      (answer) => {
        let said = '';
        answer.setEncoding('utf8').on('data', (piece) => { said += piece; });
        answer.on('end', () => resolve({ status: answer.statusCode, value: JSON.parse(said) }));
      });
    request.on('error', reject);
    request.end(text);
  });
}

const bike = async (server, order) => (await ask(server, 'GET', `/api/bench/${order}`)).value;
const write = (server, order, who, ...deeds) =>
  ask(server, 'POST', `/api/bench/${order}/record`, { who, deeds });

/** Must be written; gives what was. */
async function done(server, order, who, ...deeds) {
  const answer = await write(server, order, who, ...deeds);
  assert.equal(answer.status, 200, `${JSON.stringify(deeds[0])}: ${answer.value.sentence}`);
  return answer.value;
}

/** Must not be written; gives the sentence. */
async function refused(server, order, who, ...deeds) {
  const answer = await write(server, order, who, ...deeds);
  assert.ok([400, 403, 409, 422].includes(answer.status), `${answer.status} ${answer.value.sentence}`);
  return answer.value.sentence;
}

/** A wrench that reaches so far. */
const wrench = (torque) => (torque <= 6 ? 'T1' : torque <= 25 ? 'T2' : 'T3');

function good(operation, { value }, point) {
  const deed = { deed: 'read', about: operation, reading: value.reading, point };
  if (value.pass_or_fail) return { ...deed, outcome: 'pass' };
  const number = value.target ?? value.strictest.least ?? value.strictest.most ?? 1;
  deed.value = String(number / (sizes[value.unit] ?? 1)).replace('.', ',');
  if (value.dimension === 'torque') deed.tool = wrench(number);
  return deed;
}

/** Somebody else, who needs no skill for it. */
const helper = (who) => (who === 'tove' ? 'ilka' : 'tove');
const who_for = (operation) => (operation.second_person ? second : byskill[operation.skill]);

async function do_operation(server, order, operation) {
  const who = who_for(operation);
  const wheels = { 'A-30': ['front_wheel', 'rear_wheel'], 'A-31': ['rear_wheel'] }[operation.operation] ?? [];
  for (const wheel of wheels) await done(server, order, who, { deed: 'paired', about: wheel });
  await done(server, order, who, { deed: 'started', about: operation.operation });
  const { readings } = (await bike(server, order)).operations.find((one) => one.operation === operation.operation);
  const read = readings.flatMap((reading) =>
    reading.points.map((_, index) => good(operation.operation, reading, index + 1)));
  if (operation.hands > 1) {
    assert.match(await refused(server, order, who, ...read, { deed: 'done', about: operation.operation }),
      /2 people are at it at once: say who lends a hand, or why nobody is needed/);
    assert.equal((await write(server, order, who, { deed: 'hand', about: operation.operation, hand: 'nobody-here' })).status, 404);
    assert.match(await refused(server, order, who, { deed: 'hand', about: operation.operation, hand: who }), /somebody else lends a hand/);
  }
  const lent = operation.hands > 1 ? [{ deed: 'hand', about: operation.operation, hand: helper(who) }] : [];
  await done(server, order, who, ...lent, ...read, { deed: 'done', about: operation.operation });
  if (operation.hands < 2) return;
  const { lines } = (await ask(server, 'GET', `/api/bikes/${order}/history`)).value;
  assert.ok(lines.some((line) => line.deed === 'hand' && line.sentence.startsWith(operation.operation) && line.sentence.endsWith('lent a hand')));
}

/** Every operation that is open, until none is left but those of `but`. */
async function do_all(server, order, but = /^(H-|P-)/) {
  for (;;) {
    const { operations } = await bike(server, order);
    const next = operations.find((one) => ['open', 'redo'].includes(one.standing) &&
      one.waits_for.length === 0 && !but.test(one.operation));
    if (!next) return operations.filter((one) => one.standing !== 'done' && !but.test(one.operation));
    await do_operation(server, order, next);
  }
}

async function judge_shop_built(server) {
  let stem;
  await claim('kitted parts are bound by number and lot', async () => {
    const { kit } = await bike(server, shopBuilt);
    for (const part of kit) {
      const deed = { deed: 'kitted', about: part.slot };
      if (part.has_serial) deed.serial = `SN-${shopBuilt}-${part.slot}`;
      else deed.lot = part.slot === 'stem' ? 'L0770' : 'L0001';
      await done(server, shopBuilt, 'pia', deed);
    }
    const now = await bike(server, shopBuilt);
    assert.ok(now.kit.every((part) => part.bound));
    stem = now.kit.find((part) => part.slot === 'stem');
    assert.match(now.as_far.sentence, /^Every part/);
  });
  await claim('a torque outside its limits stops the bike until it is done again', async () => {
    const { operations } = await bike(server, shopBuilt);
    const set = operations.find((one) => one.standing === 'open' && one.readings.some(({ value }) =>
      value.stop && value.dimension === 'torque' && value.strictest.most && !value.stop_above));
    const who = who_for(set);
    await done(server, shopBuilt, who, { deed: 'started', about: set.operation });
    const reading = set.readings.find(({ value }) => value.stop && value.dimension === 'torque');
    const most = reading.value.strictest.most;
    const wrong = { ...good(set.operation, reading, 1), value: String(most + 2), tool: wrench(most + 2) };
    const stopped = await done(server, shopBuilt, who, wrong);
    assert.deepEqual(stopped.lines.map((line) => [line.deed, line.about, line.outcome]), [['read', set.operation, 'stop']]);
    assert.equal((await bike(server, shopBuilt)).stops.length, 1);
    assert.match(await refused(server, shopBuilt, who, good(set.operation, reading, 1)), /redo/);
    assert.match(await refused(server, shopBuilt, who, { deed: 'done', about: set.operation }), /outside/);
    const other = operations.find((one) => one.standing === 'open' && one.operation !== set.operation);
    assert.match(await refused(server, shopBuilt, who_for(other), { deed: 'started', about: other.operation }),
      /stopped/);
    await done(server, shopBuilt, who, { deed: 'redo', about: set.operation, note: 'bolt greased, set again' });
    assert.deepEqual((await bike(server, shopBuilt)).stops, []);
  });
  await claim('a wrench whose calibration is over is refused', async () => {
    const { operations } = await bike(server, shopBuilt);
    const set = operations.find((one) => ['open', 'redo'].includes(one.standing) && one.waits_for.length === 0 &&
      one.readings.some(({ value }) => value.dimension === 'torque'));
    await done(server, shopBuilt, who_for(set), { deed: 'started', about: set.operation });
    const reading = set.readings.find(({ value }) => value.dimension === 'torque');
    const sentence = await refused(server, shopBuilt, who_for(set),
      { ...good(set.operation, reading, 1), tool: 'T4' });
    assert.match(sentence, /calibrat/);
    await done(server, shopBuilt, who_for(set), { deed: 'paused', about: set.operation, note: 'lunch' });
  });
  await claim('two people bring the bike to its release', async () => {
    const { operations } = await bike(server, shopBuilt);
    for (const paused of operations.filter((one) => one.standing === 'paused')) {
      await do_operation(server, shopBuilt, paused);
    }
    const left = await do_all(server, shopBuilt);
    assert.deepEqual(left.map((one) => one.operation), []);
  });
  await claim('lines marked S are signed by the second person only', async () => {
    const { checks, operations } = await bike(server, shopBuilt);
    const by_ilka = new Set(operations.filter((one) => one.doers.includes('Ilka Brandow')).map((one) => one.operation));
    for (const line of checks.filter((one) => one.list === 'pre-delivery')) {
      const pass = { deed: 'checked', about: line.id, outcome: 'pass' };
      if (line.mark === 'S' && line.covers.some((id) => by_ilka.has(id))) {
        assert.match(await refused(server, shopBuilt, 'ilka', pass), /second person/);
      }
      const signer = (await write(server, shopBuilt, 'mara', pass)).status === 200 ? 'mara' : 'tove';
      if (signer === 'tove') await done(server, shopBuilt, 'tove', pass);
    }
    const now = await bike(server, shopBuilt);
    assert.ok(now.checks.filter((one) => one.list === 'pre-delivery').every((one) => one.outcome === 'pass'));
  });
  await claim('a part that is swapped opens again what its work touches, and is found by its lot', async () => {
    await done(server, shopBuilt, 'ilka', { deed: 'off', about: 'stem', note: 'hairline at the clamp' });
    await done(server, shopBuilt, 'ilka', { deed: 'on', about: 'stem', lot: 'L0801' });
    const written = await done(server, shopBuilt, 'ilka', { deed: 'redo', about: 'A-20', note: 'new stem' });
    const now = await bike(server, shopBuilt);
    assert.equal(now.last, written.last);
    assert.equal(now.checks.find((one) => one.id === 'D3').outcome, '');
    assert.equal(now.operations.find((one) => one.operation === 'T-10').standing, 'redo');
    assert.deepEqual(await do_all(server, shopBuilt), []);
    const { checks } = await bike(server, shopBuilt);
    assert.equal(checks.find((one) => one.id === 'D21').outcome, '', 'the ride was done again: so is its line');
    await sign_lines(server, shopBuilt, ['pre-delivery']);
    const { value: old } = await ask(server, 'GET', `/api/trace?part=${stem.part}&lot_from=L0770`);
    assert.deepEqual(old.bikes.filter((one) => one.lot === 'L0770').map((one) => [one.order, one.certainty]),
      [[shopBuilt, 'was on']]);
    const { value: fresh } = await ask(server, 'GET', '/api/trace?lot_from=L0800&lot_to=L0899');
    assert.deepEqual(fresh.bikes.map((one) => [one.order, one.certainty]), [[shopBuilt, 'certain']]);
  });
}

/** Signs every open line of these lists, by somebody who may. */
async function sign_lines(server, order, lists) {
  const { checks } = await bike(server, order);
  for (const line of checks.filter((one) => lists.includes(one.list) && one.outcome !== 'pass')) {
    const answers = [];
    for (const who of ['mara', 'tove', 'pia', 'jonas']) {
      answers.push(await write(server, order, who, { deed: 'checked', about: line.id, outcome: 'pass' }));
      if (answers.at(-1).status === 200) break;
    }
    assert.equal(answers.at(-1).status, 200, `${line.id}: ${answers.map((one) => one.value.sentence).join(' / ')}`);
  }
}

const said_as = { yes: 'yes', words: 'as it should be', 'a day': '2026-12-20', 'an amount': '0.00' };
/** "a day as in 2026-11-25" asks for a day. */
const saying = ({ as }) => said_as[as.split(' as in ')[0]];

/** Moves the order on; what has to be said is said, what is missing fails. */
async function move_on(server, order, to) {
  const { value: life } = await ask(server, 'GET', `/api/orders/${order}/life`);
  const next = life.next.find((one) => one.to === to);
  assert.ok(next, `${life.state} has no move to ${to}`);
  assert.deepEqual(next.missing, [], `${life.state} to ${to}`);
  const by = next.people.find((one) => one.id === 'mara') ?? next.people[0];
  const said = Object.fromEntries(next.to_say.filter((one) => one.key !== 'worked_by').map((one) => [one.key, saying(one)]));
  const answer = await ask(server, 'POST', `/api/orders/${order}/move-to`,
    { to, by: by?.id ?? 'mara', said, revision: life.revision });
  assert.equal(answer.status, 200, `${life.state} to ${to}: ${answer.value.sentence}`);
  return answer.value;
}

/** What only a person can decide is decided. */
async function answer_questions(server, order) {
  for (;;) {
    const { value } = await ask(server, 'GET', `/api/orders/${order}`);
    const open = value.questions.find((one) => one.answer !== 'yes');
    if (!open) return;
    const { status, value: said } = await ask(server, 'PUT', `/api/orders/${order}/questions/${open.id}`,
      { answer: 'yes', note: 'looked at', revision: value.revision });
    assert.equal(status, 200, said.sentence);
  }
}

async function judge_handover(server, order, states) {
  await claim(`order ${order} is handed over once nothing is open`, async () => {
    await sign_lines(server, order, ['arrival', 'final build', 'pre-delivery']);
    await answer_questions(server, order);
    for (const to of states) {
      if (to === 'Handed over') {
        assert.deepEqual(await do_all(server, order, /^P-/), []);
        await sign_lines(server, order, ['handover']);
      }
      await move_on(server, order, to);
    }
    const { value } = await ask(server, 'GET', `/api/orders/${order}/life`);
    assert.equal(value.state, states.at(-1));
  });
}

async function judge_maker_built(server) {
  await claim('a maker-built bike is finished, audited by a second person and ridden', async () => {
    const { kit } = await bike(server, makerBuilt);
    for (const part of kit.filter((one) => one.has_serial)) {
      await done(server, makerBuilt, 'pia',
        { deed: 'kitted', about: part.slot, serial: `SN-${makerBuilt}-${part.slot}` });
    }
    assert.deepEqual(await do_all(server, makerBuilt), []);
    const { operations } = await bike(server, makerBuilt);
    const audit = operations.find((one) => one.operation === 'N-80');
    assert.ok(!audit.doers.includes('Ilka Brandow'));
  });
}

async function judge_book(server) {
  await claim('both histories say who did what, and the book verifies', async () => {
    for (const order of [shopBuilt, makerBuilt]) {
      const { value } = await ask(server, 'GET', `/api/bikes/${order}/history`);
      assert.ok(value.lines.length > 40, `${value.lines.length} lines`);
      assert.deepEqual(value.lines.map((line) => line.number), value.lines.map((_, index) => index + 1));
      assert.ok(value.lines.every((line) => line.who && line.sentence));
      const { value: report } = await ask(server, 'GET', `/api/journal/verify?printed=${value.last_hash}`);
      assert.equal(report.whole, true, report.sentence);
    }
    const { value: report } = await ask(server, 'GET', `/api/journal/verify?printed=${'0'.repeat(64)}`);
    assert.equal(report.whole, false);
  });
}

await house(async () => {
  const server = await start_server();
  await judge_shop_built(server);
  await judge_maker_built(server);
  await judge_handover(server, shopBuilt, ['Checking', 'Ready', 'Handed over', 'In care']);
  await judge_handover(server, makerBuilt, ['Checking', 'Ready', 'Handed over', 'In care']);
  await judge_book(server);
});
