// A book whose program is killed in the middle of writing loses nothing that was acknowledged.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { claim, house, root, run } from './house.mjs';

const cycles = 5;

await house(async () => {
  await claim('five kills of the server lose no acknowledged write', async () => {
    const bench = path.join(root, 'build/release/bench/bench_kill');
    assert.ok(fs.existsSync(bench), 'build/release/bench/bench_kill is not built');
    const ran = run(bench, ['--cycles', String(cycles)], { seconds: 300 });
    assert.equal(ran.code, 0, ran.out + ran.err);
    const last = JSON.parse(ran.out.trim().split('\n').at(-1));
    assert.equal(last.name, 'kill');
    assert.equal(last.holds, true);
    assert.equal(last.figures.cycles, cycles);
    assert.equal(last.figures.lost, 0);
    // Without a write per life of the server nothing would have been shown.
    assert.ok(last.figures.acknowledged >= cycles, `only ${last.figures.acknowledged} writes`);
  });
});
