// The unit tests of the pages, each as a claim of its own.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { claim, house, root, temporary_folder } from './house.mjs';

await house(async () => {
  const report = path.join(temporary_folder(), 'units.json');
  const ran = spawnSync('npx', ['--no-install', 'vitest', 'run', '--reporter=json', `--outputFile=${report}`],
    { cwd: path.join(root, 'web'), encoding: 'utf8' });
  if (!fs.existsSync(report)) {
    await claim('the unit tests of the pages run', () => { throw new Error(ran.error ?? ran.stderr); });
    return;
  }
  for (const file of JSON.parse(fs.readFileSync(report, 'utf8')).testResults) {
    const name = path.relative(root, file.name);
    if (file.assertionResults.length === 0) await claim(name, () => { throw new Error(file.message || 'has no tests'); });
    for (const test of file.assertionResults) {
      await claim(`${name}: ${test.fullName}`, () => {
        if (test.status !== 'passed') throw new Error(test.failureMessages.join('; ') || test.status);
      });
    }
  }
});
