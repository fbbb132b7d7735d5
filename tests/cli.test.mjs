// Every verb of the command line on the invented shop: its answer, its JSON, its exit code.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import {
  claim, cli, demo_book, has_program, house, program, root, run, skip, start_server,
  temporary_folder,
} from './house.mjs';
import { Judge, read_openapi } from './schema.mjs';

const demo = path.join(root, 'data/demo');
const verbs = ['catalogue', 'make-book', 'import', 'today', 'orders', 'order', 'check', 'choices',
               'why-not', 'complete', 'trade-offs', 'repair', 'promise', 'sooner', 'kept', 'plan', 'load', 'minutes', 'buy', 'sheet',
               'parts', 'part', 'find', 'verify', 'serve', 'questions', 'answer', 'budget', 'follow-up', 'not-known',
               'measure-fact', 'reckon', 'does', 'wheel-card', 'labels', 'schedule-files', 'completion',
               'arrivals', 'receive', 'miscounted', 'goods', 'claim', 'shipped', 'freight', 'confirm', 'small-stock', 'used', 'place', 'give-up',
               'life', 'move-to', 'hold', 'free', 'sign-spec', 'change-price', 'settle',
               'plan-anew', 'move', 'let-go', 'set-plan', 'away', 'back', 'calendar',
               'bench', 'write-down', 'history', 'history-pdf', 'owners-pack', 'trace',
               'coming-back', 'reminded', 'care', 'visit', 'ask-for', 'give-back', 'maker-form', 'maker-confirmed', 'as-built', 'answer-difference',
               'recall', 'recalls', 'recall-told', 'recall-close', 'recall-list',
               'photograph', 'photograph-line', 'picture',
               'make-owner', 'set-password', 'set-pin'];

/** Runs a verb that must be done; gives what it printed. */
function done(book, ...args) {
  const ran = cli(['--book', book, ...args]);
  assert.equal(ran.code, 0,
    `${args.join(' ')} ended with ${ran.code}: ${ran.err}${ran.out.slice(0, 300)}`);
  assert.equal(ran.err, '', args.join(' '));
  return ran.out;
}

const json = (book, ...args) => JSON.parse(done(book, '--json', ...args));

/** The code, one sentence on the error side, nothing on the other. */
function assert_refused(ran, code, words) {
  assert.equal(ran.code, code, `${ran.err}${ran.out}`);
  assert.equal(ran.out, '');
  assert.equal(ran.err.trim().split('\n').length, 1, ran.err);
  assert.match(ran.err, words);
}

const journal = (book) => json(book, 'verify');

// Making and reading a book -----------------------------------------------------------------------

async function judge_making() {
  const book = path.join(temporary_folder(), 'new.book');
  await claim('a book that is not there is not made by reading it', async () => {
    const ran = cli(['--book', book, 'orders']);
    assert.ok([3, 8].includes(ran.code), `${ran.code}: ${ran.err}`);
    assert.equal(fs.existsSync(book), false);
    assert.ok(ran.err.includes(book), ran.err);
    const [, advice] = ran.err.match(/`rollwright (.*?)`/) ?? [];
    if (advice) assert.ok(verbs.includes(advice.split(' ')[0]), `there is no verb for: ${advice}`);
  });
  await claim('make-book makes an empty book that verifies', async () => {
    done(book, 'make-book');
    assert.equal(journal(book).whole, true);
    assert.equal(journal(book).entries, 0);
  });
  await claim('make-book does not write over a book', async () => {
    done(book, 'import', demo);
    const entries = journal(book).entries;
    cli(['--book', book, 'make-book']);
    assert.equal(journal(book).entries, entries);
  });
  await claim('import says what it read', async () => {
    const fresh = path.join(temporary_folder(), 'fresh.book');
    done(fresh, 'make-book');
    const report = json(fresh, 'import', demo);
    assert.equal(report.imported, true);
    assert.deepEqual(report.problems, []);
    const text = fs.readFileSync(path.join(demo, 'orders.toml'), 'utf8');
    const orders = text.match(/^\[\[order\]\]/gm);
    assert.equal(report.counts.orders, orders.length);
    assert.equal(report.counts.routes, fs.readdirSync(path.join(demo, 'routes')).length);
    assert.ok(report.counts.parts > 300);
    assert.equal(journal(fresh).whole, true);
  });
  await claim('import --dry-run writes nothing', async () => {
    const fresh = path.join(temporary_folder(), 'dry.book');
    done(fresh, 'make-book');
    const before = journal(fresh);
    const report = json(fresh, 'import', demo, '--dry-run');
    assert.equal(report.imported, false);
    assert.ok(report.counts.orders > 30);
    assert.deepEqual(journal(fresh), before);
    assert.deepEqual(json(fresh, 'orders'), []);
  });
}

async function judge_importing() {
  await claim("a supplier's list is previewed, taken in and taken back", async () => {
    const folder = temporary_folder();
    const fresh = path.join(folder, 'lists.book');
    done(fresh, 'make-book');
    done(fresh, 'import', demo);
    const list = path.join(demo, 'supplier_lists/nordal_herbst_2026.csv');
    const mapping = path.join(folder, 'nordal.toml');
    const refused = path.join(folder, 'refused.csv');
    fs.writeFileSync(mapping, done(fresh, 'catalogue', 'propose', list, '--supplier', 'nordal'));
    const said = [list, '--supplier', 'nordal', '--mapping', mapping];
    const parts = () => json(fresh, 'parts').parts;
    const before = parts();
    const preview = cli(['--book', fresh, 'catalogue', 'preview', ...said, '--refused', refused]);
    assert.equal(preview.code, 2, 'some rows are refused');
    assert.match(preview.out, /line 36, column Breite \(mm\), "1 1\/8"/);
    assert.match(fs.readFileSync(refused, 'utf8'), /^Artikelnummer;.*;why refused\n/);
    assert.equal(cli(['--book', fresh, 'catalogue', 'import', ...said]).code, 2);
    assert.deepEqual(parts(), before, 'nothing is taken in by default');
    done(fresh, 'catalogue', 'import', ...said, '--skip-bad-rows', '--dry-run');
    assert.deepEqual(parts(), before);
    const taken = json(fresh, 'catalogue', 'import', ...said, '--skip-bad-rows');
    assert.equal(taken.taken, true);
    assert.equal(parts().length, before.length + taken.list.added);
    assert.equal(json(fresh, 'catalogue', 'lists').lists.length, 1);
    done(fresh, 'catalogue', 'undo');
    assert.deepEqual(parts(), before);
    assert.equal(cli(['--book', fresh, 'catalogue', 'undo']).code, 5);
    assert.equal(journal(fresh).whole, true);
  });
  await claim('one wrong row is named and nothing at all is written', async () => {
    const folder = path.join(temporary_folder(), 'shop');
    fs.cpSync(demo, folder, { recursive: true });
    const file = path.join(folder, 'parts/K-GR.csv');
    const lines = fs.readFileSync(file, 'utf8').split('\n');
    const heading = lines.findIndex((line) => line.startsWith('id,'));
    const at = heading + 2;
    const price = lines[heading].split(',').indexOf('price');
    assert.equal(price, 3);
    lines[at] = lines[at].replace(/("[^"]*",[^,]*,)[^,]*/, '$1cheap');
    fs.writeFileSync(file, lines.join('\n'));
    const book = path.join(temporary_folder(), 'wrong.book');
    done(book, 'make-book');
    const before = fs.readFileSync(book);
    const ran = cli(['--book', book, 'import', folder]);
    assert.equal(ran.code, 2, ran.out + ran.err);
    const said = ran.out + ran.err;
    for (const word of ['K-GR.csv', String(at + 1), 'price', 'cheap']) {
      assert.ok(said.includes(word), `${word} is not in: ${said}`);
    }
    const report = JSON.parse(cli(['--book', book, '--json', 'import', folder]).out);
    assert.equal(report.imported, false);
    assert.equal(report.problems.length, 1, report.problems.join(' | '));
    assert.deepEqual(fs.readFileSync(book), before, 'the book has changed');
    assert.equal(journal(book).entries, 0);
  });
  await claim('every wrong thing of a folder is named at once', async () => {
    const folder = path.join(temporary_folder(), 'shop');
    fs.cpSync(demo, folder, { recursive: true });
    const spoil = (name, change) => {
      const file = path.join(folder, name);
      fs.writeFileSync(file, change(fs.readFileSync(file, 'utf8')));
    };
    spoil('stock.csv', (text) => text + 'XX-0001,5\nAC-0001,-5\n');
    spoil('offers.csv', (text) => text.replace(/stocked/, 'somewhere'));
    spoil('suppliers.toml', (text) => text.replace('cut_off = "', 'cut_off = "2'));
    spoil('routes/harbour.gpx', (text) => text.slice(0, text.length / 2));
    const ran = cli(['--book', demo_book(), '--json', 'import', folder]);
    assert.equal(ran.code, 2, ran.err);
    const { problems } = JSON.parse(ran.out);
    for (const words of [/stock\.csv.*XX-0001/, /stock\.csv.*-5/, /offers\.csv.*somewhere/,
                         /suppliers\.toml.*cut_off/, /harbour\.gpx/]) {
      assert.ok(problems.some((problem) => words.test(problem)),
        `${words}: ${problems.join(' | ')}`);
    }
  });
  await claim('importing the same folder again leaves a book that verifies', async () => {
    const book = demo_book();
    const before = journal(book);
    const orders = json(book, 'orders');
    const { counts } = json(book, 'import', demo);
    const after = journal(book);
    assert.equal(after.whole, true, after.sentence);
    assert.deepEqual(json(book, 'orders'), orders);
    // Orders are written anew, because their revision counts on; nothing else is in the journal.
    const more = after.entries - before.entries;
    assert.ok(more === 0 || more === counts.orders,
      `${more} new entries for ${counts.orders} orders`);
    if (!has_program('sqlite3')) return;
    const asked = `select subject from journal where seq > ${before.entries}`;
    const subjects = run('sqlite3', [book, asked]);
    for (const subject of subjects.out.trim().split('\n').filter(Boolean)) {
      assert.match(subject, /^order/);
    }
  });
  await claim('a folder that is not there is not found', async () => {
    const ran = cli(['--book', demo_book(), 'import', '/no/such/folder']);
    assert.ok([2, 3].includes(ran.code), `${ran.code}`);
    assert.match(ran.err + ran.out, /no\/such\/folder/);
  });
  await claim('a file as a spreadsheet saves it is read; one that is torn is named', async () => {
    const book = demo_book();
    const file = path.join(temporary_folder(), 'stock.csv');
    const import_of = (bytes) => {
      fs.writeFileSync(file, bytes);
      return cli(['--book', book, 'import', file]);
    };
    for (const [bytes, held] of [['part,on_shelf\r\nAC-0001,71\r\n', 71],
                                 ['\ufeffpart,on_shelf\nAC-0001,72', 72],
                                 ['# a remark\non_shelf,part\n73,"AC-0001"\n', 73]]) {
      const ran = import_of(bytes);
      assert.equal(ran.code, 0, ran.out + ran.err);
      assert.equal(json(book, 'part', 'AC-0001').row.on_shelf, held);
    }
    const before = journal(book);
    for (const [bytes, words] of [
      ['', /empty/],
      [Buffer.from([0x70, 0x61, 0xe9, 0x0a]), /UTF-8/],
      ['part;on_shelf\nAC-0001;7\n', /part;on_shelf/],
      ['part,on_shelf\n"AC-0001,7\n', /line 2/], ['part,on_shelf\nAC-0001\n', /line 2/],
      ['part,on_shelf\nAC-0001,7,8\n', /line 2/],
      ['part,on_shelf\nAC-0001,1\nAC-0001,2\n', /line 3/],
      ['part,on_shelf\nAC-0001,99999999999999999999\n', /line 2.*on_shelf/],
      ['part,on_shelf\nAC-0001,1.5\n', /line 2.*on_shelf.*1\.5/],
      ['part,part,on_shelf\nA,B,1\n', /part/],
    ]) {
      const ran = import_of(bytes);
      assert.equal(ran.code, 2, `${bytes}: ${ran.out}${ran.err}`);
      assert.match(ran.out + ran.err, /stock\.csv/);
      assert.match(ran.out + ran.err, words);
    }
    assert.deepEqual(journal(book), before);
  });
  await claim('write-down answers with the lines that it wrote, not with the whole bike', async () => {
    const book = demo_book();
    const noted = (note) => ['--who', 'mara', 'write-down', '2016', 'noted', '--note', note];
    const { order, last, already, lines } = json(book, ...noted('seen by daylight'));
    assert.deepEqual({ order, last, already }, { order: '2016', last: 1, already: false });
    assert.deepEqual(lines.map((line) => [line.number, line.deed, line.sentence]), [[1, 'noted', 'note: seen by daylight']]);
    assert.equal(done(book, ...noted('and by lamp')), 'Line 2 of the record of 2016: note: and by lamp\n');
  });
  await claim('who lends a hand is written down where work takes two, and refused where one is enough', async () => {
    const book = demo_book();
    const hand = (operation) => cli(['--book', book, '--who', 'mara', 'write-down', '2016', 'hand', operation, '--hand', 'tove']);
    assert_refused(hand('A-82'), 5, /A-82 .* is work for one person/);
    assert_refused(hand('T-60'), 5, /T-60 .* is not yet; start it first/);
    const stranger = cli(['--book', book, '--who', 'mara', 'write-down', '2016', 'hand', 'T-60', '--hand', 'nobody']);
    assert_refused(stranger, 3, /nobody of the shop is called so/);
  });
  await claim('a single file is imported alone', async () => {
    const book = demo_book();
    const file = path.join(temporary_folder(), 'stock.csv');
    fs.writeFileSync(file, 'part,on_shelf\nAC-0001,77\n');
    done(book, 'import', file);
    assert.equal(json(book, 'part', 'AC-0001').row.on_shelf, 77);
  });
}

// Verbs -------------------------------------------------------------------------------------------

async function judge_views(book) {
  const openapi = read_openapi();
  const judge = openapi && new Judge(openapi);
  const ref = (name) => ({ $ref: `#/components/schemas/${name}` });
  const list = (name) => ({ type: 'array', items: ref(name) });
  const closed = json(book, 'choices', '2022', 'rear_hub').choices
    .find((choice) => choice.status === 'closed')?.part.id;
  const verbs_with_view = [
    [['today'], ref('TodayView')], [['orders'], list('OrderLine')],
    [['order', '2022'], ref('OrderView')], [['check', '2022'], ref('OrderView')],
    [['choices', '2022', 'rear_hub'], ref('SlotChoicesView')],
    [['why-not', '2022', 'rear_hub', closed], ref('ClashView')],
    [['complete', '2041', '--aim', 'soonest'], ref('CompletionView')],
    [['trade-offs', '2041'], list('CompletionView')], [['repair', '2041'], list('RepairView')],
    [['promise', '2022', '--draws', '100'], ref('PromiseView')], [['plan'], ref('PlanView')],
    [['plan-anew'], ref('ProposalView')],
    [['sooner', '2024', '--draws', '50'], ref('SoonerView')], [['kept'], ref('KeptView')],
    [['load', '--weeks', '3'], ref('LoadView')],
    [['minutes'], ref('MinutesView')],
    [['bench'], ref('BenchListView')], [['bench', '2016'], ref('BenchView')],
    [['history', '2016'], ref('HistoryView')],
    [['recalls'], ref('RecallsView')], [['care', '2003'], ref('CareView')], [['coming-back'], ref('ComingBackView')],
    [['as-built', '2032'], ref('MakerView')], [['maker-form', '2032'], ref('MakerView')],
    [['trace', '--part', 'HG-0001'], ref('TraceView')],
    [['buy'], ref('BuyView')], [['sheet', '2022'], ref('Sheet')], [['parts'], ref('PartsView')],
    [['part', 'HG-0001'], ref('PartView')], [['find', 'hub'], list('FoundLine')],
    [['verify'], ref('JournalReport')], [['questions'], list('OrderQuestions')],
    [['questions', '2022'], list('OrderQuestions')], [['not-known'], ref('NotKnownView')],
    [['reckon'], list('Aid')], [['reckon', 'gears'], ref('Reckoned')],
    [['reckon', 'torque', 'thread=M6', 'printed=44 in-lb'], ref('Reckoned')],
    [['wheel-card', '2003', 'rear'], ref('FilledAid')], [['does', '2022'], ref('Does')],
    [['reckon', 'gears', '--order', '2022'], ref('FilledAid')],
  ];
  for (const [args, schema] of verbs_with_view) {
    const name = args.join(' ');
    await claim(`${name} --json has the fields of the view`, async () => {
      const value = json(book, ...args);
      if (!judge) skip('web/node_modules has no js-yaml');
      const troubles = judge.troubles(schema, value);
      assert.deepEqual(troubles.slice(0, 8), [], `${troubles.length} troubles`);
    });
    await claim(`${name} prints text for a person`, async () => {
      const out = done(book, ...args);
      assert.ok(out.length > 20, out);
      assert.doesNotMatch(out, /^\s*[[{]|\bnull\b|\bnan\b|\binf\b|\{\w*\}|undefined/m);
    });
  }
}

/** An invented project in the open library's text: two jobs of 3 and 4 that share one resource. */
const small_project = `jobs (incl. supersource/sink ):  4
RESOURCES
  - renewable                 :  1   R
  - nonrenewable              :  0   N
  - doubly constrained        :  0   D
PRECEDENCE RELATIONS:
jobnr.    #modes  #successors   successors
   1        1          2           2   3
   2        1          1           4
   3        1          1           4
   4        1          0
REQUESTS/DURATIONS:
jobnr. mode duration  R 1
  1      1     0       0
  2      1     3       2
  3      1     4       2
  4      1     0       0
RESOURCEAVAILABILITIES:
  R 1
    3
`;
const small_line = '3\n4\n5\n6\n1,2\n1,3\n-1,-1\n';

async function judge_files() {
  const folder = temporary_folder();
  fs.writeFileSync(path.join(folder, 'a.sm'), small_project);
  fs.writeFileSync(path.join(folder, 'b.IN2'), small_line);
  const ask = (...args) => cli(['--json', 'schedule-files', folder, '--takt', '10', ...args]);
  await claim('schedule-files plans each file of a folder, checked', async () => {
    const ran = ask('--prove', '1');
    assert.equal(ran.code, 0, ran.err);
    const [project, line] = JSON.parse(ran.out);
    assert.deepEqual([project.result, project.bound, project.unit], [7, 7, 'time units']);
    assert.deepEqual([line.result, line.bound, line.unit], [2, 2, 'stations']);
    for (const row of [project, line]) assert.ok(row.feasible && row.proved, row.file);
  });
  await claim('schedule-files says what contradicts a list of bounds', async () => {
    const bounds = path.join(folder, 'bounds.csv');
    fs.writeFileSync(bounds, 'instance,best_lb,best_ub\na,8,9\n');
    const ran = ask('--bounds', bounds);
    assert.notEqual(ran.code, 0);
    assert.match(cli(['schedule-files', folder, '--takt', '10', '--bounds', bounds]).out,
                 /contradicts/);
  });
  await claim('schedule-files names the file and line of what it cannot read', async () => {
    fs.writeFileSync(path.join(folder, 'c.sm'), small_project.replace('     3       2', '     x  2'));
    const ran = ask();
    assert.equal(ran.code, 2);
    assert.match(JSON.parse(ran.out)[2].refusal, /c\.sm, line 15, .*"x"/);
  });
  await claim('schedule-files refuses a folder that is not there', async () => {
    assert_refused(cli(['schedule-files', path.join(folder, 'none')]), 3, /none/);
  });
}

async function judge_answers(book) {
  await claim('orders lists the open orders, and order tells of each', async () => {
    const text = done(book, 'orders');
    const orders = json(book, 'orders');
    assert.ok(orders.length > 25);
    for (const order of orders) assert.match(text, new RegExp(`^${order.id} .*`, 'm'));
    const over = ['Handed over', 'In care', 'Closed', 'Cancelled'];
    assert.ok(!orders.some((order) => over.includes(order.state)));
    const one = done(book, 'order', '2022');
    for (const word of ['2022', orders.find((order) => order.id === '2022').rider, 'Gathering']) {
      assert.ok(one.includes(word), word);
    }
  });
  await claim('the parts of an order add up to its price and mass', async () => {
    for (const { id } of json(book, 'orders')) {
      const { spec } = json(book, 'order', id);
      let cents = 0;
      for (const { part, quantity } of spec.slots) cents += (part?.price_cents ?? 0) * quantity;
      assert.equal(spec.price_cents, cents, id);
      if (id > '2024') break;
    }
  });
  await claim('a bike is the best in its aim, and the trade-offs reach from one to the other',
    async () => {
    const best = (aim) => json(book, 'complete', '2041', '--aim', aim);
    const cheapest = best('cheapest');
    const lightest = best('lightest');
    const soonest = best('soonest');
    assert.ok(cheapest.price_cents <= Math.min(lightest.price_cents, soonest.price_cents));
    if (lightest.masses_not_known === cheapest.masses_not_known) {
      assert.ok(lightest.mass_kg <= cheapest.mass_kg);
    }
    if (cheapest.ready && soonest.ready) assert.ok(soonest.ready <= cheapest.ready);
    const offs = json(book, 'trade-offs', '2041');
    assert.equal(Math.min(...offs.map((bike) => bike.price_cents)), cheapest.price_cents);
    const { best: told } = json(book, 'order', '2041').spec;
    assert.equal(told.price_cents, cheapest.price_cents);
  });
  await claim('a part chosen is one of the choices, and a closed one can say why', async () => {
    const { choices } = json(book, 'choices', '2022', 'rear_hub');
    const order = json(book, 'order', '2022');
    const held = order.spec.slots.find((one) => one.slot === 'rear_hub').part.id;
    assert.deepEqual(choices.filter((one) => one.chosen).map((one) => one.part.id), [held]);
    const closed = choices.filter((one) => one.status === 'closed');
    assert.ok(closed.length > 0);
    for (const { part } of closed.slice(0, 4)) {
      const clash = json(book, 'why-not', '2022', 'rear_hub', part.id);
      assert.ok(clash.rules.length > 0, part.id);
      assert.ok(clash.rules.every((rule) => rule.sentence.length > 10 && rule.source !== ''),
        part.id);
    }
  });
  await claim('an open part has no clash to tell of', async () => {
    const { choices } = json(book, 'choices', '2041', 'rear_hub');
    const open = choices.find((one) => one.status === 'open');
    assert.ok(open);
    const ran = cli(['--book', book, '--json', 'why-not', '2041', 'rear_hub', open.part.id]);
    if (ran.code === 0) assert.deepEqual(JSON.parse(ran.out).rules, []);
    else assert.ok([2, 5].includes(ran.code), ran.out);
  });
  await claim('a promise has rising odds and days that follow one another', async () => {
    const promise = json(book, 'promise', '2022', '--draws', '500');
    assert.equal(promise.draws, 500);
    const days = [promise.day_50, promise.day_80, promise.day_90, promise.day_95];
    assert.deepEqual(days, [...days].sort());
    assert.ok(days[0] >= '2026-11-25');
    let last = { day: '', probability: 0 };
    for (const point of promise.curve) {
      assert.ok(point.day > last.day && point.probability >= last.probability);
      assert.ok(point.probability >= 0 && point.probability <= 1);
      last = point;
    }
    assert.ok(promise.chance_kept >= 0 && promise.chance_kept <= 1);
  });
  await claim('the same promise is asked for twice and answered alike', async () => {
    const [first, second] = [0, 1].map(() => json(book, 'promise', '2022', '--draws', '300'));
    delete first.seconds;
    delete second.seconds;
    assert.deepEqual(first, second);
  });
  await claim('nobody is in two places at once in the plan', async () => {
    const plan = json(book, 'plan');
    assert.ok(plan.people.some((person) => person.bars.length > 0));
    for (const person of plan.people) {
      const bars = [...person.bars].sort((a, b) => (a.from < b.from ? -1 : 1));
      for (let i = 1; i < bars.length; ++i) {
        assert.ok(bars[i].from >= bars[i - 1].to,
          `${person.id}: ${JSON.stringify(bars.slice(i - 1, i + 1))}`);
      }
    }
  });
  await claim('the sums of the buying list are right', async () => {
    const { groups } = json(book, 'buy');
    assert.ok(groups.length > 0);
    for (const group of groups) {
      let goods = 0;
      for (const line of group.lines) {
        assert.equal(line.total_cents, line.quantity * line.unit_cost_cents, line.part);
        goods += line.total_cents;
      }
      assert.equal(group.goods_cents, goods, group.supplier);
    }
  });
  await claim('find finds an order by its rider and a part by its number', async () => {
    const { rider } = json(book, 'order', '2022');
    assert.ok(json(book, 'find', rider.name).some((found) => found.link === '/orders/2022'));
    assert.ok(json(book, 'find', 'HG-0001').some((found) => found.link.includes('HG-0001')));
    assert.deepEqual(json(book, 'find', 'zzzzqqqq'), []);
  });
  await claim('the book stands in ROLLWRIGHT_BOOK as well', async () => {
    const ran = cli(['orders'], { env: { ROLLWRIGHT_BOOK: book } });
    assert.equal(ran.code, 0, ran.err);
    assert.match(ran.out, /^2022 /m);
  });
}

// The sheet ---------------------------------------------------------------------------------------

async function judge_asking(book) {
  await claim('an answer goes onto its order, into the journal, and off the list', () => {
    const [{ order, questions: [question] }] = json(book, 'questions');
    const before = journal(book).entries;
    done(book, 'answer', order, question.id, 'yes', '--note', 'looked at');
    const said = json(book, 'questions', order)[0].questions.find((q) => q.id === question.id);
    assert.deepEqual([said.answer, said.note, said.open], ['yes', 'looked at', false]);
    assert.equal(journal(book).entries, before + 1);
    assert.equal(journal(book).whole, true);
    assert_refused(cli(['--book', book, 'answer', order, question.id, 'perhaps']), 2, /yes, no/);
    assert_refused(cli(['--book', book, 'answer', order, 'C-999', 'yes']), 3, /no such question/);
  });
  await claim('a measured fact is kept in the attribute’s unit, and corrected by a new entry', () => {
    const by = 'mara';
    const measured = (value) => {
      const part = json(book, 'measure-fact', 'TY-0001', 'tyre_width', value, '--by', by);
      return part.facts.find((fact) => fact.attribute === 'tyre_width');
    };
    const before = journal(book).entries;
    assert.deepEqual([measured('1.75 in').value, measured('46.5 mm').standing],
                     ['44.45 mm', 'measured']);
    assert.equal(journal(book).entries, before + 2);
    assert_refused(cli(['--book', book, 'measure-fact', 'TY-0001', 'tyre_width', '46 kg', '--by',
                        by]), 2, /mass|length/);
    assert_refused(cli(['--book', book, 'measure-fact', 'TY-0001', 'tyre_width', '46 mm']), 2,
                   /who measured/);
  });
}

// The life of an order ----------------------------------------------------------------------------

async function judge_life() {
  const book = demo_book();
  await claim('an enquiry is kept with budget and follow-up, and today names it on its day', () => {
    const before = journal(book).entries;
    assert.equal(json(book, 'budget', '2044', '2499.50').budget.at_most_cents, 249950);
    assert.equal(json(book, 'budget', '2044', 'nothing said').budget.at_most_cents, null);
    assert.equal(json(book, 'budget', '2044', 'not asked').budget, null);
    assert.match(done(book, 'budget', '2041', '1'), /Budget: 1 at most; the price is .*, over it by /);
    const named = () => json(book, 'today').lines.filter((line) => line.kind === 'to follow up').map((line) => line.order);
    assert.deepEqual(named(), ['2044', '2045'], 'the oldest first');
    assert.match(done(book, 'today'), /2044 .* was to be followed up on .* To be reached at /);
    json(book, 'follow-up', '2044', '2026-12-08', 'Pia calls about the belt');
    assert.deepEqual(named(), ['2045']);
    assert.equal(json(book, 'follow-up', '2045', '--done', 'wants it in spring').follow_up, null);
    assert.deepEqual(named(), []);
    assert.equal(journal(book).entries, before + 6);
    assert.equal(journal(book).whole, true);
    assert_refused(cli(['--book', book, 'budget', '2044', 'not much']), 2, /nothing said/);
    assert_refused(cli(['--book', book, 'budget', '2022', '2500']), 5, /before it is agreed/);
    assert_refused(cli(['--book', book, 'follow-up', '2044', '2026-11-24', 'late']), 2, /this day is over/);
    assert_refused(cli(['--book', book, 'follow-up', '2044', 'soon', 'late']), 2, /day/);
    assert_refused(cli(['--book', book, 'follow-up', '2044']), 2, /--done/);
    assert.equal(journal(book).entries, before + 6);
  });
  await claim('an order says what is next and what is missing, and is not moved without it', () => {
    const life = json(book, 'life', '2022');
    assert.equal(life.next[0].to, 'Kitted');
    assert.ok(life.next[0].missing.length > 0);
    assert.match(done(book, 'life', '2022'), /missing for Kitted/);
    const before = journal(book).entries;
    assert_refused(cli(['--book', book, 'move-to', '2022', 'Kitted', '--by', 'jonas']), 5,
                   /order 2022: it cannot go to Kitted: .*not in hand for the kit/);
    assert_refused(cli(['--book', book, 'move-to', '2022', 'Ready', '--by', 'jonas']), 5,
                   /from there it goes to Kitted or Cancelled/);
    assert_refused(cli(['--book', book, 'move-to', '2022', 'Kitted', '--by', 'nobody']), 3, /by/);
    assert.equal(journal(book).entries, before);
  });
  await claim('an order is held and freed with a reason', () => {
    const held = json(book, 'hold', '2022', 'rider is ill', '--until', '2026-12-04', '--by', 'pia');
    assert.deepEqual(held.flags.map(({ flag, reason, until }) => [flag, reason, until]),
                     [['Held', 'rider is ill', '2026-12-04']]);
    assert.match(json(book, 'life', '2022').sentence, /it is Held \(rider is ill\)/);
    assert.deepEqual(json(book, 'free', '2022', 'well again', '--by', 'pia').flags, []);
    assert_refused(cli(['--book', book, 'free', '2022', 'again', '--by', 'pia']), 5, /flag/);
  });
  await claim('a change is priced first, then made, then signed', () => {
    const { choices } = json(book, 'choices', '2022', 'grips');
    const { part } = choices.find((choice) => !choice.chosen && choice.status === 'open');
    const before = journal(book).entries;
    const priced = json(book, 'change-price', '2022', `grips=${part.id}`);
    assert.equal(journal(book).entries, before);
    const sum = priced.lines.reduce((total, line) => total + line.cents, 0);
    assert.equal(sum, priced.total_cents);
    const changed = json(book, 'change-price', '2022', `grips=${part.id}`, '--agree', '--by', 'pia');
    assert.equal(changed.changed_since_signed.length, 1);
    assert.equal(changed.price_to_sign_cents, priced.signed_price_cents);
    const [newest, first] =
      json(book, 'sign-spec', '2022', 'Wilma Testrup', '--by', 'pia').versions;
    assert.equal(newest.version, first.version + 1);
    assert.equal(newest.price_cents, first.price_cents + priced.total_cents);
    assert.deepEqual(newest.differences.length, 1);
  });
  await claim('cancelling wants the sum of the settlement, and lets the parts go', () => {
    const settled = json(book, 'settle', '2022');
    assert.match(settled.law, /law comes first/);
    const said = ['--say', 'reason=moves away', '--say', 'keep_lines=yes'];
    const cancel = (sum) => ['move-to', '2022', 'Cancelled', '--by', 'mara', ...said, '--say',
                             `settlement=${sum}`];
    assert_refused(cli(['--book', book, ...cancel('0.01')]), 5, /the settlement comes to/);
    const cancelled = json(book, ...cancel((settled.back_cents / 100).toFixed(2)));
    assert.equal(cancelled.state, 'Cancelled');
    assert.ok(settled.open_lines.length > 0);
    assert.ok(cancelled.done.length >= settled.open_lines.length);
    for (const { line } of settled.open_lines) {
      assert.equal(json(book, 'arrivals', line).order, null);
    }
    assert.equal(journal(book).whole, true);
  });
}

async function judge_sheet(book) {
  const sheet = json(book, 'sheet', '2022');
  await claim('the sheet in text names every step and caution', async () => {
    const text = done(book, 'sheet', '2022');
    assert.ok(text.includes('2022'));
    for (const step of sheet.steps) {
      assert.ok(text.includes(step.operation), step.operation);
      for (const caution of step.cautions) assert.ok(text.includes(caution), caution);
    }
  });
  await claim('no step of a sheet comes before what it follows', async () => {
    for (const id of ['2022', '2041', '2040', '2015']) {
      const place = new Map(json(book, 'sheet', id).steps.map((step, i) => [step.operation, i]));
      for (const step of json(book, 'sheet', id).steps) {
        for (const before of step.after) {
          assert.ok(place.get(before) < place.get(step.operation),
            `${id}: ${before} ${step.operation}`);
        }
      }
    }
  });
  for (const id of ['2022', '2040', '2015']) {
    await claim(`the PDF of order ${id} holds its whole sheet and no empty glyph`, async () => {
      if (!has_program('pdftotext')) skip('there is no pdftotext (poppler-utils)');
      const sheet_of = json(book, 'sheet', id);
      const { steps, parts, rider, checks, open_questions } = sheet_of;
      const file = path.join(temporary_folder(), 'sheet.pdf');
      done(book, 'sheet', id, '--pdf', file);
      assert.equal(fs.readFileSync(file).subarray(0, 5).toString(), '%PDF-');
      const read = run('pdftotext', ['-layout', file, '-']);
      assert.equal(read.code, 0, read.err);
      assert.equal(read.err, '');
      assert.ok(read.out.includes(id));
      assert.ok(read.out.includes(rider));
      const missing = steps.map((step) => step.operation).filter((one) => !read.out.includes(one));
      assert.deepEqual(missing, []);
      assert.deepEqual(parts.map((part) => part.part).filter((one) => !read.out.includes(one)), []);
      const flat = read.out.replace(/\s+/g, ' ');
      const sentences = [
        ...steps.flatMap((step) => [...step.cautions, ...step.values.map((value) => value.name)]),
        ...checks.map((check) => check.text), ...open_questions,
      ];
      assert.deepEqual([...new Set(sentences)].filter((one) => !flat.includes(one)), []);
      const words = new Set(steps.flatMap((step) => step.name.split(' ')));
      assert.deepEqual([...words].filter((word) => !flat.includes(word)), []);
      const letters = new Set([...JSON.stringify(sheet_of)].filter((letter) => letter > '\x7f'));
      assert.deepEqual([...letters].filter((letter) => !read.out.includes(letter)), []);
      // What a font lacks comes out as a replacement, a control or a private character.
      assert.doesNotMatch(read.out, /[\ufffd\ue000-\uf8ff\u25a1\u0000-\u0008\u000e-\u001f]/);
      const fonts = run('pdffonts', [file]).out.trim().split('\n').slice(2);
      assert.ok(fonts.length > 0);
      for (const font of fonts) assert.match(font, /\byes\b/, `not embedded: ${font}`);
    });
  }
  await claim('a file that cannot be written is unavailable', async () => {
    assert_refused(cli(['--book', book, 'sheet', '2022', '--pdf', '/no/such/folder/sheet.pdf']), 8,
                   /\/no\/such\/folder\/sheet\.pdf/);
  });
}

// Exit codes --------------------------------------------------------------------------------------

async function judge_exit_codes(book) {
  await claim('what is not there ends with 3', async () => {
    for (const args of [['order', '9999'], ['check', '9999'], ['choices', '2022', 'third_wheel'],
                        ['choices', '9999', 'frame'], ['why-not', '2022', 'rear_hub', 'XX-0001'],
                        ['promise', '9999'], ['sheet', '9999'], ['part', 'XX-0001']]) {
      assert_refused(cli(['--book', book, ...args]), 3, /^rollwright: /);
    }
  });
  await claim('wrong input ends with 2', async () => {
    for (const args of [[], ['no-such-verb'], ['order'], ['order', '2022', 'more'],
      ['--no-such-option'],
                        ['promise', '2022', '--draws', '0'], ['promise', '2022', '--draws', 'many'],
                        ['serve', '--port', '70000'], ['completion', 'fishy'],
                        ['--now', 'yesterday', 'orders']]) {
      const ran = cli(['--book', book, ...args]);
      assert.equal(ran.code, 2, `${args.join(' ')}: ${ran.err}`);
      assert.ok(ran.err.length > 10, args.join(' '));
    }
  });
  await claim('a book that is a text file, or another database, ends with 7', async () => {
    const text = path.join(temporary_folder(), 'text.book');
    fs.writeFileSync(text, 'This is not a book.\n'.repeat(500));
    assert_refused(cli(['--book', text, 'orders']), 7, /text\.book/);
    assert.equal(fs.readFileSync(text, 'utf8').slice(0, 19), 'This is not a book.');
    if (!has_program('sqlite3')) skip('there is no sqlite3');
    const other = path.join(temporary_folder(), 'other.book');
    run('sqlite3', [other, 'create table songs (name text)']);
    assert_refused(cli(['--book', other, 'orders']), 7, /Rollwright/);
  });
  await claim('a file without a byte is not taken for a book by reading it', async () => {
    // It is what a copy that ran out of disk leaves.
    const empty = path.join(temporary_folder(), 'empty.book');
    fs.writeFileSync(empty, '');
    const ran = cli(['--book', empty, 'orders']);
    assert.notEqual(ran.code, 0, ran.out);
    assert.equal(fs.statSync(empty).size, 0);
  });
  await claim('a book that is cut off in the middle ends with 7', async () => {
    const book_cut = demo_book();
    const bytes = fs.readFileSync(book_cut);
    fs.writeFileSync(book_cut, bytes.subarray(0, 4096 * Math.floor(bytes.length / 8192)));
    const ran = cli(['--book', book_cut, 'verify']);
    assert.equal(ran.code, 7, `${ran.code}: ${ran.out}${ran.err}`);
  });
  await claim('a promise for a bike that is handed over is refused with 5', async () => {
    assert_refused(cli(['--book', book, 'promise', '2001']), 5, /Handed over|handed over/);
  });
  await claim('a book in no folder, and trade data that are not there, say which', async () => {
    const nowhere = cli(['--book', '/no/such/folder/shop.book', 'make-book']);
    assert.equal(nowhere.code, 8, nowhere.err);
    assert.match(nowhere.err, /no\/such\/folder/);
    const trade = cli(['--book', book, '--trade', '/no/such/trade', 'orders']);
    assert.ok([2, 3, 8].includes(trade.code), `${trade.code}`);
    assert.match(trade.err, /no\/such\/trade/);
  });
  await claim('a refusal with --json has its documented fields', async () => {
    const ran = cli(['--book', book, '--json', 'order', '9999']);
    assert.equal(ran.code, 3);
    assert.equal(ran.err, '');
    const refusal = JSON.parse(ran.out);
    assert.deepEqual(Object.keys(refusal).sort(),
      ['code', 'field', 'file', 'line', 'sentence', 'value']);
    assert.equal(refusal.code, 'not found');
  });
  await claim('--help names every verb and exit code', async () => {
    const { code, out } = cli(['--help']);
    assert.equal(code, 0);
    for (const verb of verbs) assert.match(out, new RegExp(`^ +${verb}\\b`, 'm'), verb);
    const documented = fs.readFileSync(path.join(root, 'docs/operating.md'), 'utf8')
      .matchAll(/^\| (\d) \|/gm);
    const help = out.slice(out.indexOf('Exit codes')).split('\n\n')[0];
    for (const [, exit_code] of documented) assert.ok(help.includes(`${exit_code} `), exit_code);
  });
  await claim('--version is a version', async () => {
    const { code, out } = cli(['--version']);
    assert.equal(code, 0);
    assert.match(out, /^\d+\.\d+\.\d+\s*$/);
  });
}

// The rest ----------------------------------------------------------------------------------------

async function judge_completion() {
  await claim('the words for the tab key are good bash and name every verb', async () => {
    const { code, out } = cli(['completion']);
    assert.equal(code, 0);
    const judged = run('bash', ['-n'], { input: out });
    assert.equal(judged.code, 0, judged.err);
    const words = out.match(/compgen -W "([^"]*make-book[^"]*)"/)?.[1].split(' ') ?? [];
    assert.deepEqual([...words].sort(), [...verbs].sort());
  });
  await claim('bash completes a verb with them', async () => {
    const script = `source <(${program} completion)
COMP_WORDS=(rollwright ver); COMP_CWORD=1; _rollwright; echo "\${COMPREPLY[*]}"`;
    const { code, out, err } = run('bash', ['-c', script]);
    assert.equal(code, 0, err);
    assert.equal(out.trim(), 'verify');
  });
}

async function judge_tampering() {
  const tamper = async (name, sql, words) => claim(name, async () => {
    if (!has_program('sqlite3')) skip('there is no sqlite3');
    const book = demo_book();
    const changed = run('sqlite3', [book, `${sql}; select changes();`]);
    assert.equal(changed.code, 0, changed.err);
    assert.notEqual(changed.out.trim(), '0', 'nothing was tampered with');
    const ran = cli(['--book', book, 'verify']);
    assert.equal(ran.code, 7, ran.out + ran.err);
    assert.match(ran.out + ran.err, words);
    assert.equal(JSON.parse(cli(['--book', book, '--json', 'verify']).out).whole, false);
  });
  await tamper('verify finds a stock row that was changed behind the journal',
               "update stock set on_shelf = on_shelf + 1 where part = 'AC-0001'", /AC-0001/);
  await tamper('verify finds a promise that was moved behind the journal',
               "update customer_order set promised = '2027-01-31' where id = '2022'", /2022/);
  await tamper('verify finds a journal entry that was rewritten',
               "update journal set who = 'somebody' where seq = 10", /10/);
  await tamper('verify finds a journal entry that was taken out',
               'delete from journal where seq = 20', /2[01]/);
  await tamper('verify finds a row that was taken out',
               "delete from put_by where order_id = '2022' and part = 'FR-0002'", /FR-0002|2022/);
  await tamper('verify finds a row that was put in',
               "insert into order_flag values ('2022', 'Rush')", /2022/);
  await claim('a cut tail shows by the hash that was kept', async () => {
    if (!has_program('sqlite3')) skip('there is no sqlite3');
    const book = demo_book();
    const { last_hash } = journal(book);
    run('sqlite3', [book, 'delete from journal where seq = (select max(seq) from journal)']);
    const ran = cli(['--book', book, '--json', 'verify']);
    assert.notEqual(JSON.parse(ran.out).last_hash, last_hash);
  });
}

async function judge_two_programs() {
  await claim('the command line reads and writes beside a running server', async () => {
    const server = await start_server();
    const file = path.join(temporary_folder(), 'stock.csv');
    fs.writeFileSync(file, 'part,on_shelf\nAC-0001,88\n');
    done(server.book, 'import', file);
    const seen = await (await fetch(`${server.url}/api/parts/AC-0001`)).json();
    assert.equal(seen.row.on_shelf, 88);
    assert.equal((await server.stop()).code, 0);
    assert.equal(journal(server.book).whole, true);
  });
  await claim('a backup by sqlite3 while the server runs verifies', async () => {
    if (!has_program('sqlite3')) skip('there is no sqlite3');
    const server = await start_server();
    const copy = path.join(temporary_folder(), 'copy.book');
    const copied = run('sqlite3', [server.book, `.backup ${copy}`]);
    assert.equal(copied.code, 0, copied.err);
    assert.equal(journal(copy).whole, true);
    assert.deepEqual(journal(copy), journal(server.book));
    await server.stop();
  });
}

await house(async () => {
  await judge_making();
  await judge_files();
  await judge_importing();
  const book = demo_book();
  await judge_views(book);
  await judge_answers(book);
  await judge_asking(demo_book());
  await judge_life();
  await judge_sheet(book);
  await judge_exit_codes(book);
  await judge_completion();
  await judge_tampering();
  await judge_two_programs();
  await claim('reading has left the book as it was', async () => {
    assert.deepEqual(journal(book), journal(demo_book()));
  });
});
