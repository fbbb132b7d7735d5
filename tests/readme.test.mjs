// What the documents say is so: their commands run, their links lead somewhere, the files they name
// are there.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { claim, cli, house, program, root, run, temporary_folder } from './house.mjs';

const read = (name) => fs.readFileSync(path.join(root, name), 'utf8');

/** Every document for people, as a path from the root. */
function documents() {
  const found = [];
  const look = (folder) => {
    for (const entry of fs.readdirSync(path.join(root, folder), { withFileTypes: true })) {
      const name = path.join(folder, entry.name);
      if (entry.isDirectory()) look(name);
      else if (name.endsWith('.md')) found.push(name);
    }
  };
  for (const folder of ['docs', 'data', 'tests', 'bench']) look(folder);
  return [...fs.readdirSync(root).filter((name) => name.endsWith('.md')), ...found];
}

const without_code = (text) => text.replace(/^```[\s\S]*?^```/gm, '');

/** Lines of the ```sh blocks. */
function commands(text) {
  return [...text.matchAll(/^```sh\n([\s\S]*?)^```/gm)]
    .flatMap(([, block]) => block.split('\n')).map((line) => line.trim())
    .filter((line) => line !== '' && !line.startsWith('#'));
}

/** Names of headings as a link to them is written. */
function anchors(text) {
  return new Set([...without_code(text).matchAll(/^#+ (.*)$/gm)].map(([, heading]) =>
    heading.trim().toLowerCase().replace(/[^\p{L}\p{N}\s_-]/gu, '').replace(/\s/g, '-')));
}

async function judge_run() {
  await claim('./run --no-serve makes the demo book, prints the main job and ends well', async () => {
    const ran = run('bash', ['run', '--no-serve'], { cwd: root });
    assert.equal(ran.code, 0, ran.err + ran.out.slice(-300));
    assert.match(ran.out, /Written to var\/sheet-\d+\.pdf/);
  });
}

async function judge_commands() {
  for (const name of ['README.md', 'docs/operating.md']) {
    const lines = commands(read(name));
    // The commands of one document are typed one after the other in one folder.
    const folder = temporary_folder();
    fs.symlinkSync(path.join(root, 'data'), path.join(folder, 'data'));
    const place = path.join(folder, 'bin');
    fs.mkdirSync(place);
    fs.symlinkSync(program, path.join(place, 'rollwright'));
    await claim(`${name} has commands to type`, async () => {
      assert.ok(lines.some((line) => line.startsWith('rollwright ')));
    });
    for (const line of lines.filter((one) => one.startsWith('rollwright '))) {
      await claim(`${name}: ${line}`, async () => {
        const typed = line.replaceAll('FOLDER', 'data/demo');
        const ran = run('bash', ['-c', typed], {
          cwd: folder, env: { PATH: `${place}:${process.env.PATH}` },
        });
        assert.equal(ran.code, 0, ran.err + ran.out.slice(0, 300));
        assert.ok(ran.out.length > 0);
      });
    }
    await claim(`${name}: scripts that it lets one run are there`, async () => {
      for (const line of lines.filter((one) => one.startsWith('./'))) {
        fs.accessSync(path.join(root, line.split(' ')[0]), fs.constants.X_OK);
      }
    });
  }
  await claim('what the documents call rollwright with is in its --help', async () => {
    const help = cli(['--help']).out;
    for (const name of ['README.md', 'docs/operating.md']) {
      const text = read(name);
      for (const [, words] of text.matchAll(/`(?:source <\()?rollwright ([^`)]*)\)?`/g)) {
        const verb = words.replace(/--book \S+ /, '').split(' ')[0];
        assert.ok(new RegExp(`^ +(-\\w,)?${verb}\\b`, 'm').test(help), `${name}: ${words}`);
      }
      for (const [setting] of text.matchAll(/ROLLWRIGHT_[A-Z]+/g)) {
        assert.ok(help.includes(setting), `${name}: ${setting} is not in --help`);
      }
    }
  });
}

async function judge_scripts() {
  for (const [script, ...args] of [['./run', '--help'], ['./check', '--help'], ['./measure'],
                                   ['./measure', '--help']]) {
    await claim(`${[script, ...args].join(' ')} says how it is used`, async () => {
      const ran = run(script, args);
      assert.equal(ran.code, 0, ran.err);
      assert.ok(ran.out.startsWith(script), ran.out.slice(0, 80));
    });
  }
  for (const script of ['./run', './check', './measure']) {
    await claim(`${script} refuses an option that it does not have`, async () => {
      const args = script === './measure' ? ['templates', '--fishy'] : ['--fishy'];
      const ran = run(script, args);
      assert.notEqual(ran.code, 0);
      assert.match(ran.err, /--fishy/);
    });
  }
}

async function judge_names() {
  await claim('the folders of the table in README.md are there', async () => {
    const rows = [...read('README.md').matchAll(/^\| ((?:`[^`]+` ?)+)\|/gm)];
    assert.ok(rows.length > 10);
    for (const [, cell] of rows) {
      for (const [, name] of cell.matchAll(/`([^`]+)`/g)) {
        assert.ok(fs.existsSync(path.join(root, name)), name);
      }
    }
  });
  await claim('every room of src/ is in the table of README.md', async () => {
    const text = read('README.md');
    for (const entry of fs.readdirSync(path.join(root, 'src'), { withFileTypes: true })) {
      if (entry.isDirectory()) assert.ok(text.includes(`\`src/${entry.name}\``), entry.name);
    }
  });
  for (const name of documents()) {
    const text = read(name);
    const links = [...without_code(text).matchAll(/\]\(([^)\s]+)\)/g)].map(([, link]) => link);
    if (links.length === 0) continue;
    await claim(`the links of ${name} lead somewhere`, async () => {
      for (const link of links) {
        if (/^(https?|mailto):/.test(link)) continue;
        const [file, anchor] = link.split('#');
        const target = path.join(root, file === '' ? name : path.join(path.dirname(name), file));
        assert.ok(fs.existsSync(target), link);
        if (anchor) assert.ok(anchors(fs.readFileSync(target, 'utf8')).has(anchor), link);
      }
    });
  }
  await claim('every decision is named in no more than one way', async () => {
    const names = fs.readdirSync(path.join(root, 'docs/decisions'));
    const numbers = names.map((one) => one.match(/^\d+/)?.[0]);
    assert.equal(new Set(numbers).size, numbers.length, numbers.join(' '));
  });
}

async function judge_formats() {
  const table = [...read('docs/formats.md').matchAll(/^\| `([\w/*]+\.\w+)` \| (.*) \|$/gm)];
  await claim('the files of a shop in docs/formats.md are those of the demo', async () => {
    assert.ok(table.length > 10);
    const has = (pattern) => {
      const [folder, ending] = pattern.includes('*') ? pattern.split('/*') : [pattern, null];
      const full = path.join(root, 'data/demo', folder);
      return ending === null ? fs.existsSync(full)
        : fs.readdirSync(full).some((name) => name.endsWith(ending));
    };
    for (const [, name] of table) assert.ok(has(name), name);
    for (const name of fs.readdirSync(path.join(root, 'data/demo'))) {
      if (name === 'README.md') continue;
      assert.ok(table.some(([, known]) => known.split('/')[0] === name),
        `${name} is not described`);
    }
  });
  for (const [, name, content] of table) {
    if (!/^\w+\.csv$/.test(name)) continue;
    await claim(`the columns of ${name} are those of docs/formats.md`, async () => {
      const written = content.match(/^`([^`]+)`/)[1];
      const required = written.replace(/\[.*\]/, '').split(',').filter(Boolean);
      const all = written.replace(/[[\]]/g, '').split(',').filter(Boolean);
      const lines = read(`data/demo/${name}`).split('\n');
      const heading = lines.find((line) => !line.startsWith('#')).split(',');
      for (const column of required) assert.ok(heading.includes(column), `${column} is not there`);
      for (const column of heading) assert.ok(all.includes(column), `${column} is not described`);
    });
  }
}

await house(async () => {
  await judge_scripts();
  await judge_names();
  await judge_formats();
  await judge_run();
  await judge_commands();
});
