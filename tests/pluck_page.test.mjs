// A pluck heard by the page's own microphone, in a real browser that takes its sound from a file.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { browser_house, window_of, words } from './browser.mjs';
import { claim, start_server } from './house.mjs';

const perSecond = 48_000;
const pitch = 412;  // Hz, of the invented spoke

/** A quiet start, then one pluck with overtones that dies away; noise all along. Invented. */
function pluck_file() {
  const samples = 2 * perSecond;
  const bytes = Buffer.alloc(44 + 2 * samples);
  bytes.write('RIFF', 0);
  bytes.writeUInt32LE(36 + 2 * samples, 4);
  bytes.write('WAVEfmt ', 8);
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(1, 20);
  bytes.writeUInt16LE(1, 22);
  bytes.writeUInt32LE(perSecond, 24);
  bytes.writeUInt32LE(2 * perSecond, 28);
  bytes.writeUInt16LE(2, 32);
  bytes.writeUInt16LE(16, 34);
  bytes.write('data', 36);
  bytes.writeUInt32LE(2 * samples, 40);
  let random = 1;
  for (let i = 0; i < samples; ++i) {
    random = (random * 16807) % 2147483647;
    let sound = 0.002 * (random / 2147483647 - 0.5);
    const since = i / perSecond - 0.3;
    if (since > 0) {
      for (const overtone of [1, 2, 3]) {
        sound += 0.3 / overtone ** 1.5 * Math.exp(-since * 4 * overtone) * Math.sin(2 * Math.PI * pitch * overtone * since);
      }
    }
    bytes.writeInt16LE(Math.round(32767 * sound), 44 + 2 * i);
  }
  const file = path.join(fs.mkdtempSync(path.join(os.tmpdir(), 'rollwright-pluck-')), 'pluck.wav');
  fs.writeFileSync(file, bytes);
  return file;
}

const listening = [
  '--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream',
  `--use-file-for-fake-audio-capture=${pluck_file()}`,
];

const hertz_of = (text) => Number(/Pitch[^0-9]*give or take[^\n]*\n?\s*([\d.,\s]+)\s*Hz/.exec(text)?.[1]?.replace(/[^\d.]/g, ''));

browser_house(async () => {
  const { page, complaints, close } = await window_of(await start_server(), { width: 1024, height: 768 });
  await claim('a pluck is heard through the browser’s microphone and its pitch is right', async () => {
    await page.goto('/bench/aids/spoke-sound');
    await page.getByRole('button', { name: 'Listen to a pluck' }).click();
    await page.getByText('Heard. The answer is of this recording.').waitFor({ timeout: 20_000 });
    await page.locator('.figures').waitFor();
    const said = await words(page.locator('.figures'));
    assert.ok(Math.abs(hertz_of(said) - pitch) < 1, `${hertz_of(said)} of ${pitch} Hz, in: ${said}`);
  });
  await claim('it can listen again', async () => {
    await page.getByRole('button', { name: 'Listen again' }).click();
    await page.getByText('Heard. The answer is of this recording.').waitFor({ timeout: 20_000 });
  });
  await claim('nothing was amiss in the browser meanwhile', () => assert.deepEqual(complaints, []));
  await close();
}, listening);
