// Every check value of the calculations in src/mech beside what they answer: runs their tests,
// which write the rows down, and judges the rows. Prints, as its last line, one JSON object.
//   node bench/mech_checks.mjs [--write FILE]   writes docs/calculations-checked.md anew
// ROLLWRIGHT_MECH_TESTS names another build of the tests.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..');
const tests = process.env.ROLLWRIGHT_MECH_TESTS ??
  path.join(root, 'build/release/src/mech/mech_tests');

/** By the number before the dot; what is said below a table, and what values it leaves out. */
const sections = {
  1: {
    name: 'Spoke length, lacing and tension balance',
    note: 'Rows called simple are a rule of the trade that a test holds beside ours; nothing uses it.',
  },
  2: {
    name: 'Wheel mechanics and truing',
    note: 'Real wheels with bent elbows are up to 35 % softer sideways than this theory, which ' +
      'is why `WheelModel` takes an elbow factor; the rows have it at 1.',
    absent: 'Measured stiffness of real wheels, and the measured fall of the stiffness with ' +
      'tension: measurements, not calculations.',
  },
  3: {
    name: 'Tension from pitch',
    note: 'Rows called series are an approximation that a test holds beside the exact root.',
  },
  4: {
    name: 'Gears, chain and belt',
    note: 'Rows called formula are the handbook’s, which a test holds beside the exact distance.',
    absent: 'The inches of the derailleur rule before rounding, and measured losses of drives: ' +
      'whole links are given instead, losses are data.',
  },
  5: {
    name: 'Tyres',
    absent: 'Rim widths and pressures of charts from memory: data, which other tests hold to 10 %.',
  },
  6: {
    name: 'Road power, energy and distance',
    note: 'Rows called sphere are a great circle that a test holds beside the ellipsoid.',
    absent: 'Limits of the law: data.',
  },
  7: {
    name: 'Bolts',
    note: 'The published tables of torque round two coefficients of the formula, which makes up ' +
      'to 0.4 %; so much is in the tolerance of their torques.',
    absent: 'Ranges of torque for parts: data.',
  },
  8: {
    name: 'Brakes',
    absent: 'Forces and times of test methods: data.',
  },
  9: { name: 'Fit and suspension' },
};

function fail(sentence) {
  console.error(`mech-checks: ${sentence}`);
  process.exit(2);
}

/** Runs the tests: {passed, rows}; a row has its columns as text, and three as numbers. */
function run_tests() {
  if (!fs.existsSync(tests)) fail(`${tests} is not built`);
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'rollwright-checks-'));
  const file = path.join(folder, 'rows.tsv');
  const ran = spawnSync(tests, ['--gtest_brief=1'], {
    encoding: 'utf8', timeout: 240_000, maxBuffer: 1 << 26,
    env: { ...process.env, ROLLWRIGHT_CHECK_ROWS: file },
  });
  const text = fs.existsSync(file) ? fs.readFileSync(file, 'utf8') : '';
  fs.rmSync(folder, { recursive: true });
  if (text === '') fail(`the tests wrote no rows: ${(ran.stderr ?? '') || ran.error}`);
  if (ran.status !== 0) console.log(ran.stdout.slice(-2000));
  const [heading, ...lines] = text.trimEnd().split('\n').map((line) => line.split('\t'));
  const rows = lines.map((line) => Object.fromEntries(heading.map((name, i) => [name, line[i]])));
  for (const row of rows) {
    for (const name of ['expected', 'tolerance', 'ours']) row[name] = Number(row[name]);
  }
  return { passed: ran.status === 0, rows };
}

const is_outside = (row) => !(Math.abs(row.ours - row.expected) <= row.tolerance);
const unexplained = (rows) => rows.filter((row) => is_outside(row) && row.why === '');
const explained = (rows) => rows.filter((row) => is_outside(row) && row.why !== '');

// The table --------------------------------------------------------------------------------------

/**
 * Decimals to write: one more than the tolerance tells apart, but not so many that the last ones
 * depend on the machine's mathematical library.
 */
function decimals_of(row) {
  const wanted = Math.max(0, 1 - Math.floor(Math.log10(row.tolerance) + 1e-9));
  const before = Math.max(1, Math.floor(Math.log10(Math.abs(row.ours) + 1e-9)) + 1);
  return Math.max(0, Math.min(wanted, 12 - before));
}

function number(value, decimals) {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? '0' : text.replace('-', '−');
}

/** As the source gives it. */
const given = (value) => String(value).replace('-', '−');

/** Two digits, never with an exponent. */
function tolerance_text(value) {
  const digits = 1 - Math.floor(Math.log10(value));
  return Number(value.toPrecision(2)).toFixed(Math.max(0, digits)).replace(/(\.\d*?)0+$/, '$1')
    .replace(/\.$/, '');
}

function table_row(row) {
  const decimals = decimals_of(row);
  const cells = [
    row.row, row.of, `${given(row.expected)} ± ${tolerance_text(row.tolerance)}`, row.unit, row.tag,
    `\`[${row.source}]\``, number(row.ours, decimals), number(row.ours - row.expected, decimals),
    row.why,
  ];
  return `| ${cells.join(' | ')} |`;
}

/** Words of a paragraph in lines of at most 100 columns. */
function paragraph(text) {
  const lines = [''];
  for (const word of text.split(' ')) {
    if (`${lines.at(-1)} ${word}`.length > 100) lines.push('');
    lines[lines.length - 1] += lines.at(-1) === '' ? word : ` ${word}`;
  }
  return lines.join('\n');
}

function section_of(rows, own, { name, note, absent }) {
  const here = rows.filter((row) => row.row.startsWith(`${own}.`));
  if (here.length === 0) return '';
  const said = [note, absent && `Not in the table: ${absent[0].toLowerCase()}${absent.slice(1)}`];
  return `
## ${own}. ${name}

| row | what | value | unit | tag | source | ours | difference | why |
|---|---|---|---|---|---|---|---|---|
${here.map(table_row).join('\n')}
${said.filter(Boolean).map((text) => `\n${paragraph(text)}\n`).join('')}`;
}

/** Text of docs/calculations-checked.md. */
function document_of(rows) {
  const tags = [...new Set(rows.map((row) => row.tag))].sort();
  const by_tag = tags.map((tag) => `${rows.filter((row) => row.tag === tag).length} ${tag}`);
  const counts = paragraph(`${rows.length} rows: ${by_tag.join(', ')}. Outside the tolerance ` +
    `with a why: ${explained(rows).length}; without: ${unexplained(rows).length}.`);
  const head = `# Calculations checked

What the calculations in \`src/mech\` answer, beside values from elsewhere. Written by
\`node bench/mech_checks.mjs --write docs/calculations-checked.md\` from the tests, which fail where
a row does not hold; \`./measure mech-checks\` runs them.

A tag says where a value is from: *found* was read in the source; *derived* was worked out from the
source's equation by an independent script; *found+derived* both; *memory* was not read again;
*identity* is true by definition. Keys lead to [sources.md](sources.md). The tolerance is the
source's where it states one, else about half a step of the last digit given, and more where the
value itself is known less well. A row with a *why* is not reached on purpose: its test holds our
own reasoned value instead, and fails as soon as the sentence is no longer needed.

${counts}
`;
  return head + Object.entries(sections).map(([own, said]) => section_of(rows, own, said)).join('');
}

// What it prints ---------------------------------------------------------------------------------

const { values: options } = parseArgs({
  options: {
    write: { type: 'string' },
    data: { type: 'string' },  // given to every measurement; nothing is read from there
  },
});
const { passed, rows } = run_tests();
if (options.write) fs.writeFileSync(options.write, document_of(rows));
for (const row of unexplained(rows)) {
  const wanted = `${row.expected} ± ${row.tolerance}`;
  console.log(`outside: ${row.row}, ${row.of}: ${row.ours}, not ${wanted}`);
}
console.log(`${rows.length} rows; ${explained(rows).length} are outside for a stated reason`);
const outside = unexplained(rows).length;
const holds = passed && outside === 0 && rows.length > 0;
const figures = { rows: rows.length, outside };
console.log(JSON.stringify({ name: 'mech-checks', holds, figures }));
process.exit(holds ? 0 : 1);
