// Labels as a printer and a scanner see them: every PDF is rendered, and every code on it is read back
// by another program (zbarimg, a decoder of its own that shares nothing with what draws the codes). The
// shop is invented.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { claim, cli, demo_book, has_program, house, root, run, skip, temporary_folder } from './house.mjs';

const dotsPerInch = 300;
const dots = (mm) => Math.round((mm * dotsPerInch) / 25.4);

function need_programs() {
  for (const name of ['pdftoppm', 'zbarimg', 'pdftotext']) if (!has_program(name)) skip(`there is no ${name}`);
}

// Pictures: grey, a byte for each dot ---------------------------------------------------------------

function read_picture(file) {
  const bytes = fs.readFileSync(file);
  const [head, width, height] = bytes.subarray(0, 64).toString('latin1').match(/^P5\s+(\d+)\s+(\d+)\s+255\s/);
  return { width: Number(width), height: Number(height), bytes: bytes.subarray(head.length) };
}

function write_picture(file, { width, height, bytes }) {
  fs.writeFileSync(file, Buffer.concat([Buffer.from(`P5\n${width} ${height}\n255\n`), bytes]));
}

/** What lies inside the box, as a picture of its own with some white around it. */
function cut(picture, { x, y, width, height }) {
  const margin = dots(2);
  const out = { width: width + 2 * margin, height: height + 2 * margin };
  out.bytes = Buffer.alloc(out.width * out.height, 255);
  for (let row = 0; row < Math.min(height, picture.height - y); ++row) {
    const from = (y + row) * picture.width + x;
    const wide = Math.min(width, picture.width - x);
    picture.bytes.copy(out.bytes, (row + margin) * out.width + margin, from, from + wide);
  }
  return out;
}

/** Draws over every dot for which `is_hit(x, y)` is true; in millimetres from the upper left corner. */
function spoiled(picture, shade, is_hit) {
  const bytes = Buffer.from(picture.bytes);
  const mm = 25.4 / dotsPerInch;
  for (let y = 0; y < picture.height; ++y) {
    for (let x = 0; x < picture.width; ++x) {
      if (is_hit(x * mm, y * mm)) bytes[y * picture.width + x] = shade;
    }
  }
  return { ...picture, bytes };
}

// Labels --------------------------------------------------------------------------------------------

/** The pages of a PDF as pictures. */
function pages_of(pdf) {
  const folder = temporary_folder();
  const ran = run('pdftoppm', ['-gray', '-r', String(dotsPerInch), pdf, path.join(folder, 'page')]);
  assert.equal(ran.code, 0, ran.err);
  return fs.readdirSync(folder).sort((a, b) => a.localeCompare(b, 'en', { numeric: true }))
    .map((name) => read_picture(path.join(folder, name)));
}

/** What the decoder reads on each picture; all it reads, so that a second code would show. */
function codes_on(pictures) {
  const folder = temporary_folder();
  const files = pictures.map((picture, i) => {
    const file = path.join(folder, `${i}.pgm`);
    write_picture(file, picture);
    return file;
  });
  const read = files.map(() => []);
  for (let i = 0; i < files.length; i += 60) {
    const { out } = run('zbarimg', ['--quiet', '--xml', '--nodbus', ...files.slice(i, i + 60)]);
    for (const [, source, body] of out.matchAll(/<source href='([^']*)'>(.*?)<\/source>/gs)) {
      const at = Number(path.basename(source, '.pgm'));
      for (const [, text] of body.matchAll(/<!\[CDATA\[(.*?)\]\]>/gs)) read[at].push(text);
    }
  }
  return read;
}

/** The box of a label on its page, in dots. */
function box_of(sheet, position) {
  const column = (position - 1) % sheet.columns;
  const row = Math.floor((position - 1) / sheet.columns);
  return {
    x: dots(sheet.left_mm + column * (sheet.label_width_mm + sheet.gap_across_mm)),
    y: dots(sheet.top_mm + row * (sheet.label_height_mm + sheet.gap_down_mm)),
    width: dots(sheet.label_width_mm), height: dots(sheet.label_height_mm),
  };
}

/** Prints what is asked for: {view, sheet, pictures}, a picture for each label in its order. */
function printed(book, ...args) {
  const pdf = path.join(temporary_folder(), 'labels.pdf');
  const ran = cli(['--book', book, '--json', 'labels', ...args, '--pdf', pdf]);
  assert.equal(ran.code, 0, `${ran.err}${ran.out.slice(0, 300)}`);
  const view = JSON.parse(ran.out);
  const sheet = view.sheets.find((one) => one.id === view.sheet);
  const pages = pages_of(pdf);
  assert.equal(pages.length, view.pages);
  for (const page of pages) {
    assert.ok(Math.abs(page.width - dots(sheet.page_width_mm)) <= 1, 'the page is as wide as the sheet');
    assert.ok(Math.abs(page.height - dots(sheet.page_height_mm)) <= 1, 'and as high');
  }
  const pictures = view.labels.map((label) => cut(pages[label.page - 1], box_of(sheet, label.position)));
  return { view, sheet, pages, pictures, pdf };
}

function assert_read(view, pictures) {
  const read = codes_on(pictures);
  view.labels.forEach((label, i) => {
    assert.deepEqual(read[i], [label.code], `${view.sheet}: label ${i + 1}, ${label.what} ${label.number}`);
  });
}

/** Articles with the longest and oddest numbers that a shop may have; all invented. */
const oddParts = ['DERAILLEUR-LONG-CAGE-11', 'SP 2.0/264 bk', 'é-40_12', '7', 'X--1', 'ABCDEFGHIJKLMNOPQRSTUVWXYZ-0123456789'];

/** A book with the invented shop, and articles of these numbers. */
function book_with_parts(ids) {
  const book = demo_book();
  const folder = path.join(temporary_folder(), 'shop');
  fs.cpSync(path.join(root, 'data/demo'), folder, { recursive: true });
  const file = path.join(folder, 'parts/K-TU.csv');
  const lines = fs.readFileSync(file, 'utf8').trimEnd().split('\n');
  const headings = lines.find((line) => !line.startsWith('#')).split(',');
  const first = lines.find((line) => line.startsWith('TU-')).split(',');
  for (const id of ids) {
    first[headings.indexOf('id')] = id;
    lines.push(first.join(','));
  }
  fs.writeFileSync(file, `${lines.join('\n')}\n`);
  const ran = cli(['--book', book, 'import', file]);
  assert.equal(ran.code, 0, `${ran.err}${ran.out}`);
  return book;
}

async function reading_back(book, sheets) {
  const orders = ['--orders', '2003,2041,2022', '--rider'];
  for (const sheet of sheets) {
    await claim(`every code on ${sheet.id} is read back`, () => {
      need_programs();
      const { view, pictures } = printed(book, ...orders, '--kinds', 'order,kit,wheel,person,tool', '--sheet', sheet.id);
      assert.ok(view.labels.length > 12, `${view.labels.length} labels`);
      assert.deepEqual(new Set(view.labels.map((label) => label.kind)), new Set(['order', 'kit', 'wheel', 'person', 'tool']));
      assert_read(view, pictures);
    });
    await claim(`long and odd numbers on ${sheet.id} are read back, or refused in a sentence`, () => {
      need_programs();
      let fit = 0;
      for (const part of oddParts) {
        const ran = cli(['--book', book, 'labels', '--parts', part, '--sheet', sheet.id]);
        if (ran.code !== 0) {
          assert.match(ran.err, /does not go onto a label of this size; take a larger one/, part);
          continue;
        }
        const { view, pictures } = printed(book, '--parts', part, '--sheet', sheet.id);
        assert_read(view, pictures);
        ++fit;
      }
      assert.ok(fit >= oddParts.length - 1, `only ${fit} of ${oddParts.length}`);
    });
  }
}

async function whole_shelf(book) {
  await claim('every bin of the shelf is read back from the smallest labels, over many sheets', () => {
    need_programs();
    const { view, pictures } = printed(book, '--kinds', 'bin', '--sheet', 'a4-5x13');
    assert.ok(view.labels.length > 130 && view.pages > 2, `${view.labels.length} labels`);
    assert_read(view, pictures);
  });
}

async function half_used(book) {
  await claim('a half-used sheet begins at its first free label and leaves those before it white', () => {
    need_programs();
    const { view, sheet, pages, pictures } = printed(book, '--orders', '2041', '--from', '23', '--sheet', 'a4-3x8');
    assert.deepEqual(view.labels.map((label) => [label.page, label.position]).slice(0, 3), [[1, 23], [1, 24], [2, 1]]);
    assert_read(view, pictures);
    for (let position = 1; position < 23; ++position) {
      const before = cut(pages[0], box_of(sheet, position));
      assert.ok(before.bytes.every((shade) => shade > 250), `position ${position} is printed over`);
    }
  });
  await claim('nothing is printed where printers leave the paper white', () => {
    need_programs();
    for (const id of ['a4-3x8', 'a4-2x4', 'a4-4x10']) {
      const { pages } = printed(book, '--kinds', 'bin', '--sheet', id);
      const edge = dots(4.9);
      const { width, height, bytes } = pages[0];
      for (let y = 0; y < height; ++y) {
        for (let x = 0; x < width; ++x) {
          const inside = x >= edge && x < width - edge && y >= edge && y < height - edge;
          if (!inside && bytes[y * width + x] < 250) assert.fail(`${id}: ink at ${x}, ${y}`);
        }
      }
    }
  });
}

/** The box around the code of a label, from the picture itself: its three corner squares are its ends. */
function box_of_code(picture) {
  const ink = (x, y) => picture.bytes[y * picture.width + x] < 128;
  let left = picture.width;
  let top = picture.height;
  let bottom = 0;
  // The code is the leftmost ink; below its left edge, column by column, stand its corner squares.
  for (let x = 0; x < picture.width && left === picture.width; ++x) {
    for (let y = 0; y < picture.height; ++y) if (ink(x, y)) { left = x; break; }
  }
  for (let y = 0; y < picture.height; ++y) {
    if (!ink(left + 1, y)) continue;
    top = Math.min(top, y);
    bottom = Math.max(bottom, y);
  }
  const mm = 25.4 / dotsPerInch;
  return { x: left * mm, y: top * mm, side: (bottom + 1 - top) * mm };
}

/** Strokes of a pen, so many millimetres wide, over the code: [name, is_hit]. They spare the three corner
 * squares, which every reader needs to find a code at all. */
function strokes({ x, y, side }, corner, wide) {
  const half = wide / 2;
  const middle = (corner + side) / 2;
  return [
    ['down', (px) => Math.abs(px - (x + side / 2)) < half],
    ['across', (px, py) => Math.abs(py - (y + side / 2)) < half],
    ['slanting', (px, py) => Math.abs((px - x) + (py - y) - side * 1.15) < half * Math.SQRT2 &&
      px < x + side && px > x + side * 0.2 && py > y + side * 0.2],
    ['at the lower right', (px, py) => Math.abs(py - (y + middle)) < half && px > x + corner && px < x + side],
  ];
}

async function damaged(book, sheets) {
  for (const sheet of sheets) {
    // A stroke of 2 mm right across takes more of the smallest codes than any code can do without.
    const wide = sheet.label_height_mm < 25 ? 1 : 2;
    await claim(`a code on ${sheet.id} is read under a stroke of ${wide} mm, black or white`, () => {
      need_programs();
      const { view, pictures } = printed(book, '--orders', '2041', '--kinds', 'order', '--sheet', sheet.id);
      const [picture] = pictures;
      const box = box_of_code(picture);
      const corner = 8 * view.labels[0].module_mm;
      const names = [];
      const hurt = [];
      for (const [name, is_hit] of strokes(box, corner, wide)) {
        for (const [ink, shade] of [['black', 0], ['white', 255]]) {
          names.push(`${ink}, ${name}`);
          hurt.push(spoiled(picture, shade, is_hit));
        }
      }
      const read = codes_on(hurt);
      const lost = names.filter((_, i) => read[i].join() !== view.labels[0].code);
      assert.deepEqual(lost, [], `side ${box.side.toFixed(1)} mm, module ${view.labels[0].module_mm}`);
    });
  }
  await claim('a code that is scratched out is not read as something else', () => {
    need_programs();
    const { pictures } = printed(book, '--orders', '2041', '--kinds', 'order', '--sheet', 'a4-2x4');
    const box = box_of_code(pictures[0]);
    const read = codes_on([spoiled(pictures[0], 0, (x, y) => x < box.x + box.side * 0.7 && y < box.y + box.side)]);
    assert.deepEqual(read, [[]]);
  });
}

async function personal_data(book) {
  await claim('a label names no rider unless asked, and then by first name and initial', () => {
    need_programs();
    const [order] = JSON.parse(cli(['--book', book, '--json', 'orders']).out);
    const words = (...args) => {
      const { pdf } = printed(book, '--orders', order.id, ...args);
      return run('pdftotext', [pdf, '-']).out;
    };
    const names = order.rider.split(' ');
    for (const name of names) assert.ok(!words().includes(name), name);
    const asked = words('--rider').replace(/\s+/g, ' ');
    assert.ok(asked.includes(`${names[0]} ${names.at(-1)[0]}.`), asked.slice(0, 300));
    assert.ok(!asked.includes(names.at(-1)), 'the last name');
  });
  await claim('labels of an invented shop say so', () => {
    need_programs();
    const { pdf } = printed(book, '--orders', '2041');
    assert.match(run('pdftotext', [pdf, '-']).out, /Order, invented/);
  });
}

async function command_line(book) {
  const labels = (...args) => cli(['--book', book, 'labels', ...args]);
  await claim('labels without anything named lists the sheets and rolls', () => {
    const { code, out } = labels();
    assert.equal(code, 0);
    for (const id of ['a4-2x4', 'a4-3x8', 'a4-5x13', 'roll-57x32', 'roll-62x29', 'roll-100x50']) assert.ok(out.includes(id), id);
  });
  await claim('what the codes say is told in words, and the find box knows it', () => {
    const { out } = labels('--orders', '2003', '--people', 'mara');
    assert.match(out, /Order.* 2003 +RW:O:2003:./);
    assert.match(out, /Front wheel.* 2003 +RW:W:2003:FRONT:./);
    const code = out.match(/RW:W:2003:REAR:./)[0];
    const find = (words) => JSON.parse(cli(['--book', book, '--json', 'find', words]).out);
    assert.deepEqual(find(code).map((line) => line.link), ['/orders/2003/wheels/rear']);
    assert.deepEqual(find(code.toLowerCase()).map((line) => line.link), ['/orders/2003/wheels/rear']);
    assert.deepEqual(find(code.replace('2003', '2030')), []);
    assert.deepEqual(find(out.match(/RW:P:MARA:./)[0]).map((line) => line.text), ['Mara Hollis']);
    const [, tool] = labels('--tools', 'T3').out.match(/(RW:T:T3:.)/);
    assert.match(find(tool)[0].text, /^T3 torque wrench/);
  });
  await claim('what cannot be printed is refused in one sentence, and nothing is written', () => {
    const pdf = path.join(temporary_folder(), 'no.pdf');
    for (const [args, code, says] of [
      [['--orders', '9999'], 3, /orders.*9999.*no such order/],
      [['--parts', 'HB-9999'], 3, /no such part/],
      [['--people', 'nobody'], 3, /people/],
      [['--kinds', 'wheel'], 2, /at least one order/],
      [['--kinds', 'wheels', '--orders', '2041'], 2, /did you mean "wheel"/],
      [['--tools', 'T99'], 3, /no such tool/],
      [['--orders', '2041', '--sheet', 'a5'], 3, /a4-3x8/],
      [['--orders', '2041', '--from', '25'], 2, /positions 1 to 24/],
      [['--orders', '2041', '--from', '2', '--sheet', 'roll-57x32'], 2, /position 1/],
      [[], 2, /nothing to print/],
    ]) {
      const ran = labels(...args, '--pdf', pdf);
      assert.equal(ran.code, code, `${args.join(' ')}: ${ran.err}${ran.out}`);
      assert.match(ran.err, says);
      assert.equal(fs.existsSync(pdf), false);
    }
  });
}

async function one_code_one_thing() {
  await claim('two numbers that a code could not tell apart get no labels', () => {
    const book = book_with_parts(['tu-0001']);
    for (const part of ['tu-0001', 'TU-0001']) {
      const ran = cli(['--book', book, 'labels', '--parts', part]);
      assert.equal(ran.code, 4, `${ran.err}${ran.out}`);
      assert.match(ran.err, /TU-0001.*do not tell capitals from small letters/i);
    }
    assert.equal(cli(['--book', book, 'labels', '--parts', 'TU-0002']).code, 0);
  });
}

house(async () => {
  const book = book_with_parts(oddParts);
  const { sheets } = JSON.parse(cli(['--book', book, '--json', 'labels']).out);
  await command_line(book);
  await reading_back(book, sheets);
  await whole_shelf(book);
  await half_used(book);
  await damaged(book, sheets);
  await personal_data(book);
  await one_code_one_thing();
});
