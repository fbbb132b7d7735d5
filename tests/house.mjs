// What the whole-system tests share: claims and their count, temporary folders, the program itself,
// and a real server on a book of the invented shop.
import { spawn, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..');
/** ROLLWRIGHT_PROGRAM names another build of the program, to be looked at instead. */
export const program = process.env.ROLLWRIGHT_PROGRAM ??
  path.join(root, 'build/release/src/cli/rollwright');
/** The demo plays on a day of its own. */
export const demoNow = '2026-11-25T07:45:00Z';

// Claims ------------------------------------------------------------------------------------------

const counted = { passed: 0, failed: 0, skipped: 0 };

/** Thrown by a claim that cannot be judged here. */
class Skipped extends Error {}

/** Runs one claim; what it throws is why the claim does not hold. */
export async function claim(name, judge) {
  try {
    await judge();
    counted.passed += 1;
  } catch (trouble) {
    if (trouble instanceof Skipped) {
      counted.skipped += 1;
      console.log(`skip ${name}: ${trouble.message}`);
      return;
    }
    counted.failed += 1;
    const why = String(trouble?.message ?? trouble).trim().replace(/\s*\n\s*/g, ' | ');
    console.log(`not ok ${name}: ${why.slice(0, 900)}`);
  }
}

/** Inside a claim: it cannot be judged here, for this reason. */
export function skip(reason) {
  throw new Skipped(reason);
}

/** Prints the count, cleans up and ends the test. */
export async function finish() {
  await Promise.all([...servers].map((server) => server.stop()));
  for (const folder of folders) fs.rmSync(folder, { recursive: true, force: true });
  const { passed, failed, skipped } = counted;
  console.log(`${passed} passed, ${failed} failed, ${skipped} skipped`);
  process.exit(failed === 0 && passed + skipped > 0 ? 0 : 1);
}

/** Everything of one test file; a trouble outside every claim is counted as a failure too. */
export async function house(run) {
  if (!fs.existsSync(program)) {
    counted.failed += 1;
    console.log(`not ok the program is built: there is no ${path.relative(root, program)}`);
    return finish();
  }
  try {
    await run();
  } catch (trouble) {
    counted.failed += 1;
    console.log(`not ok the test runs to its end: ${trouble?.stack ?? trouble}`);
  }
  return finish();
}

// Temporary folders -------------------------------------------------------------------------------

const folders = new Set();
const children = new Set();
process.on('exit', () => {
  for (const child of children) child.kill('SIGKILL');
  for (const folder of folders) fs.rmSync(folder, { recursive: true, force: true });
});
process.on('unhandledRejection', (trouble) => {
  console.error(trouble);
  process.exit(1);  // the handler above still ends what was started
});
for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => process.exit(130));

export function temporary_folder() {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'rollwright-test-'));
  folders.add(folder);
  return folder;
}

// The program -------------------------------------------------------------------------------------

/** Surroundings of a run: none of the person's own settings leak into a test. */
function surroundings(more = {}) {
  const env = { ...process.env, ROLLWRIGHT_NOW: demoNow, ...more };
  for (const name of ['ROLLWRIGHT_BOOK', 'ROLLWRIGHT_TRADE', 'ROLLWRIGHT_WHO']) {
    if (!(name in more)) delete env[name];
  }
  return env;
}

/** Runs the program: {code, out, err}. */
export function cli(args, { cwd = root, env = {}, seconds = 120 } = {}) {
  const ran = spawnSync(program, args, {
    cwd, env: surroundings(env), encoding: 'utf8', timeout: seconds * 1000, maxBuffer: 1 << 28,
  });
  if (ran.error) throw ran.error;
  return { code: ran.status, out: ran.stdout, err: ran.stderr };
}

/** Runs another program: {code, out, err}. */
export function run(command, args, { cwd = root, env = {}, seconds = 120, input } = {}) {
  const ran = spawnSync(command, args, {
    cwd, input, env: surroundings(env), encoding: 'utf8', timeout: seconds * 1000,
    maxBuffer: 1 << 28,
  });
  if (ran.error) throw ran.error;
  return { code: ran.status, out: ran.stdout, err: ran.stderr };
}

let demo = null;

/** Path of a fresh book of the invented shop; it is imported once and then copied. */
export function demo_book() {
  if (demo === null) {
    demo = path.join(temporary_folder(), 'demo.book');
    for (const args of [['make-book'], ['import', path.join(root, 'data/demo')]]) {
      const ran = cli(['--book', demo, ...args]);
      if (ran.code !== 0) throw new Error(`${args[0]}: code ${ran.code}: ${ran.err}${ran.out}`);
    }
  }
  const copy = path.join(temporary_folder(), 'shop.book');
  for (const end of ['', '-wal']) {
    if (fs.existsSync(demo + end)) fs.copyFileSync(demo + end, copy + end);
  }
  return copy;
}

/** The programs that the machine may lack. */
export function has_program(name) {
  return spawnSync('sh', ['-c', `command -v ${name}`]).status === 0;
}

// A server ----------------------------------------------------------------------------------------

const servers = new Set();

/**
 * Starts a server on a fresh book, or on `book`, at a free port or at `port`, by the clock of `now`:
 * {url, port, book, process, ended, stop()}; `ended` resolves to {code, out, err}.
 */
export async function start_server({ book = demo_book(), args = [], port = 0, now = demoNow } = {}) {
  const child = spawn(program, ['--book', book, 'serve', '--port', String(port), ...args], {
    cwd: root, env: surroundings({ ROLLWRIGHT_NOW: now }), stdio: ['ignore', 'pipe', 'pipe'],
  });
  children.add(child);
  child.on('close', () => children.delete(child));
  let out = '';
  let err = '';
  child.stderr.setEncoding('utf8').on('data', (text) => { err += text; });
  child.stdout.setEncoding('utf8');
  const ended = new Promise((resolve) => {
    child.on('close', (code, signal) => resolve({ code, signal, out, err }));
  });
  const url = await new Promise((resolve, reject) => {
    const late = setTimeout(() => reject(new Error(`the server does not start: ${err}`)), 30_000);
    child.stdout.on('data', (text) => {
      out += text;
      const found = out.match(/http:\/\/[\d.]+:\d+/);
      if (found) {
        clearTimeout(late);
        resolve(found[0]);
      }
    });
    ended.then(({ code }) => reject(new Error(`the server ended with ${code}: ${err}`)));
  });
  const server = { url, port: Number(new URL(url).port), book, process: child, ended };
  server.stop = async () => {
    servers.delete(server);
    child.kill('SIGTERM');
    const last = setTimeout(() => child.kill('SIGKILL'), 15_000);
    const how = await ended;
    clearTimeout(last);
    return how;
  };
  servers.add(server);
  return server;
}

export const wait = (milliseconds) => new Promise((resolve) => setTimeout(resolve, milliseconds));
