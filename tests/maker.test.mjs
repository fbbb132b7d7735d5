// A bike that a maker builds, through the command line: the form goes out, a list comes back, each
// difference is answered, and the order only goes on when all are. Everything is invented.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { claim, cli, demo_book, has_program, house, root, run, skip, temporary_folder } from './house.mjs';

const order = '2032';
const built = path.join(root, 'data/demo/maker_lists/built_2032.csv');

function done(book, ...args) {
  const ran = cli(['--book', book, ...args]);
  assert.equal(ran.code, 0, `${args.join(' ')}: ${ran.err}${ran.out.slice(0, 300)}`);
  return ran.out;
}
const json = (book, ...args) => JSON.parse(done(book, '--json', ...args));
function refused(book, code, words, ...args) {
  const ran = cli(['--book', book, ...args]);
  assert.equal(ran.code, code, `${args.join(' ')}: ${ran.err}${ran.out.slice(0, 300)}`);
  assert.match(ran.err, words);
  return ran.err;
}
const entries = (book) => json(book, 'verify').entries;
const missing = (book, to) => json(book, 'life', order).next.find((next) => next.to === to).missing.join('; ');
const difference = (book, key) => json(book, 'as-built', order).differences.find((one) => one.key === key);

function written(name, text) {
  const file = path.join(temporary_folder(), name);
  fs.writeFileSync(file, text);
  return file;
}

async function judge_form(book) {
  await claim('the form is printed on both papers and as a table with every line', () => {
    const folder = temporary_folder();
    const [a4, letter, csv] = ['a4.pdf', 'letter.pdf', 'form.csv'].map((name) => path.join(folder, name));
    done(book, 'maker-form', order, '--pdf', a4, '--csv', csv);
    done(book, 'maker-form', order, '--letter', '--pdf', letter);
    const rows = fs.readFileSync(csv, 'utf8').trim().split('\r\n');
    assert.equal(rows[0], 'position,name,part,article,quantity,options,stop_rules,has_number,serial');
    const chosen = json(book, 'order', order).spec.slots.filter((slot) => slot.part);
    assert.equal(rows.length, chosen.length + 4, 'each part, three settings, the heading');
    for (const { slot, part } of chosen) assert.ok(rows.some((row) => row.startsWith(`${slot},`) && row.includes(part.id)), slot);
    if (!has_program('pdftotext')) skip('there is no pdftotext');
    for (const [file, size] of [[a4, /595\.\d+ x 841/], [letter, /612 x 792/]]) {
      assert.match(run('pdfinfo', [file]).out, size);
      const text = run('pdftotext', ['-layout', file, '-']).out;
      assert.match(text, /Draft: this form was not sent/);
      for (const { part } of chosen) assert.ok(text.includes(part.id), part.id);
      assert.match(text, /UN 38\.3/);
    }
  });
  await claim('a form that the shop itself sends back as it is differs in nothing', () => {
    const own = demo_book();
    const csv = path.join(temporary_folder(), 'form.csv');
    done(own, 'maker-form', order, '--csv', csv);
    const view = json(own, 'maker-confirmed', order, csv, '--by', 'pia', '--reference', 'F 4711');
    assert.deepEqual(view.differences, []);
    assert.ok(view.rows.every((row) => row.confirmed_is === 'same'));
    assert.equal(missing(own, 'Under way'), '');
  });
  await claim('sending is written down by the desk, once for a day that can be', () => {
    refused(book, 6, /parts desk/, 'maker-form', order, '--wanted', '2027-01-20', '--by', 'jonas');
    refused(book, 2, /day as in/, 'maker-form', order, '--wanted', 'soon', '--by', 'pia');
    const view = json(book, 'maker-form', order, '--wanted', '2027-01-20', '--how', 'mail', '--by', 'pia');
    assert.deepEqual([view.form.number, view.form.wanted, view.form_is_current], [1, '2027-01-20', true]);
  });
}

async function judge_list(book) {
  await claim('a bad list is refused with file, line, field and value, and nothing is kept', () => {
    const before = entries(book);
    const bad = written('bad.csv', fs.readFileSync(built, 'utf8').replace('SA-0002', 'SA-9999'));
    const said = refused(book, 3, /bad\.csv, line \d+, field part, value "SA-9999"/, 'as-built', order, bad, '--by', 'pia');
    assert.match(said, /catalogue/);
    refused(book, 3, /nowhere\.csv/, 'as-built', order, '/nowhere.csv', '--by', 'pia');
    refused(book, 5, /built here/, 'as-built', '2016', built, '--by', 'pia');
    assert.equal(entries(book), before);
  });
  await claim('the list as built is held against what was signed, line by line', () => {
    const view = json(book, 'as-built', order, built, '--by', 'ilka');
    assert.deepEqual(view.differences.map((one) => [one.key, one.what, one.standing]).sort(), [
      ['front_tyre', 'other part', 'open'], ['kickstand', 'missing', 'open'], ['saddle', 'other part', 'open'],
    ]);
    const tyre = difference(book, 'front_tyre');
    assert.ok(tyre.stops.some((words) => words.includes('(STOP)')), tyre.stops.join());
    assert.deepEqual(difference(book, 'saddle').stops, []);
    assert.match(done(book, 'as-built', order), /Road tyre, 28-622.*other part/);
  });
  await claim('a refused move names the line that is open', () => {
    const said = refused(book, 5, /nobody answered/, 'move-to', order, 'Under way', '--by', 'pia');
    assert.match(said, /front tyre: Road tyre, 28-622 instead of/);
  });
}

async function judge_answers(book) {
  await claim('what a STOP rule forbids is not accepted, whoever asks', () => {
    refused(book, 5, /C-033.*STOP/, 'answer-difference', order, 'accepted', 'front_tyre', '--why', 'it is here now',
            '--signed-by', 'Kasimir Selwyn', '--by', 'mara');
    assert.equal(difference(book, 'front_tyre').standing, 'open');
  });
  await claim('it is denied, and a claim is open', () => {
    done(book, 'answer-difference', order, 'denied', 'front_tyre', '--why', 'told the maker by mail', '--by', 'mara');
    const life = json(book, 'life', order);
    assert.ok(life.flags.some((flag) => flag.flag === 'Claim open'));
    assert.doesNotMatch(missing(book, 'Under way'), /front tyre/);
  });
  await claim('what is accepted is chosen, and signed for the price that was agreed', () => {
    const before = json(book, 'life', order).price_to_sign_cents;
    done(book, 'answer-difference', order, 'accepted', 'saddle', 'kickstand', '--why', 'the customer was called',
         '--price-change=-40', '--by', 'pia');
    assert.match(missing(book, 'Under way'), /signed as version 1/);
    const version = json(book, 'sign-spec', order, 'Kasimir Selwyn', '--by', 'pia').versions[0];
    assert.equal(version.price_cents, before - 4000);
    assert.equal(version.differences.length, 2);
    assert.equal(missing(book, 'Under way'), '');
    assert.deepEqual(json(book, 'as-built', order).differences.map((one) => [one.key, one.standing]), [['front_tyre', 'denied']]);
  });
  await claim('every word of it stays in a book that verifies', () => {
    const view = json(book, 'as-built', order);
    assert.deepEqual(view.answers.map((one) => one.answer), ['accepted', 'accepted', 'denied']);
    assert.equal(json(book, 'verify').whole, true);
  });
}

await house(async () => {
  const book = demo_book();
  await judge_form(book);
  await judge_list(book);
  await judge_answers(book);
});
