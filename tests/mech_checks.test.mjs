// The table of check values in the documents is what the tests of the calculations give now.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { claim, house, root, run, temporary_folder } from './house.mjs';

const name = 'docs/calculations-checked.md';

/** Rows of the tables: {row, tag, source, why}. */
function rows_of(text) {
  return [...text.matchAll(/^\| (\d+\.\d+\S*.*) \|$/gm)].map(([, line]) => {
    const cells = line.split(' | ');
    return { row: cells[0], tag: cells[4], source: cells[5], why: cells[8] };
  });
}

await house(async () => {
  const written = fs.readFileSync(path.join(root, name), 'utf8');
  const rows = rows_of(written);
  const file = path.join(temporary_folder(), 'checked.md');
  const ran = run(process.execPath, ['bench/mech_checks.mjs', '--write', file], { seconds: 300 });

  await claim('every check value holds', async () => {
    assert.equal(ran.code, 0, ran.err + ran.out);
  });
  await claim(`${name} is what the tests give now`, async () => {
    assert.ok(fs.existsSync(file), ran.err);
    const now = fs.readFileSync(file, 'utf8').split('\n');
    const before = written.split('\n');
    const at = now.findIndex((line, i) => line !== before[i]);
    assert.ok(at < 0 && now.length === before.length,
      `line ${at + 1} is “${before[at]}”, now “${now[at]}”; --write it anew`);
  });
  await claim(`${name} leaves no number of a section out`, async () => {
    const numbers = new Map();
    for (const { row } of rows) {
      const [, section, number] = row.match(/^(\d+)\.(\d+)/);
      numbers.set(section, (numbers.get(section) ?? new Set()).add(Number(number)));
    }
    for (const [section, there] of numbers) {
      for (let i = 1; i <= Math.max(...there); i += 1) {
        assert.ok(there.has(i), `there is no row ${section}.${i}`);
      }
    }
  });
  await claim(`every source of ${name} is in docs/sources.md`, async () => {
    const sources = fs.readFileSync(path.join(root, 'docs/sources.md'), 'utf8');
    assert.ok(rows.length > 100);
    for (const { row, source } of rows) {
      assert.ok(sources.includes(`- ${source} `), `${row}: ${source}`);
    }
  });
});
