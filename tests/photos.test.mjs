// Photographs as another program sends and asks for them. The pictures are a few bytes that begin as
// pictures do, or made of numbers; the shop is invented.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import zlib from 'node:zlib';
import { claim, cli, demo_book, house, run as run_program, start_server, temporary_folder } from './house.mjs';

const jpeg = (text) => Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), Buffer.from(text)]);
const png = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0]);
const kMost = 8 * 1024 * 1024;
const kOctets = 'application/octet-stream';

const post = (server, target, body, type = kOctets, headers = {}) =>
  fetch(server.url + target, { method: 'POST', body, headers: { 'Content-Type': type, ...headers } });
const of_bike = async (server) => (await (await fetch(`${server.url}/api/bikes/2016/photos`)).json()).photos;

async function refused(answer, status, words) {
  assert.equal(answer.status, status);
  const { sentence } = await answer.json();
  assert.match(sentence, words);
}

async function pictures_over_http(server) {
  const at = '/api/bikes/2016/photos?who=mara';
  await claim('a picture comes back byte by byte under its own type, and is not guessed at', async () => {
    for (const [bytes, type] of [[jpeg('one'), 'image/jpeg'], [png, 'image/png']]) {
      // Whatever the sender says of it or the browser would like it to be.
      const answer = await post(server, `${at}&about=boxes&note=left`, bytes);
      assert.equal(answer.status, 201, await answer.clone().text());
      const { photos } = await answer.json();
      const got = await fetch(`${server.url}/api/pictures/${photos.at(-1).picture}`);
      assert.equal(got.headers.get('content-type'), type);
      assert.equal(got.headers.get('x-content-type-options'), 'nosniff');
      assert.ok(Buffer.from(await got.arrayBuffer()).equals(bytes));
      const head = await fetch(got.url, { method: 'HEAD' });
      assert.equal(head.headers.get('content-type'), type);
    }
  });
  await claim('sent twice under one key it is written once', async () => {
    const before = (await of_bike(server)).length;
    for (let i = 0; i < 3; ++i) assert.equal((await post(server, `${at}&key=k1`, jpeg('two'))).status, 201);
    assert.equal((await of_bike(server)).length, before + 1);
  });
  await claim('two tablets at once lose and double nothing', async () => {
    const before = (await of_bike(server)).length;
    const sent = Array.from({ length: 8 }, (_, i) => post(server, `${at}&key=both${i >> 1}`, jpeg(`both ${i >> 1}`)));
    for (const answer of await Promise.all(sent)) assert.equal(answer.status, 201);
    assert.equal((await of_bike(server)).length, before + 4);
  });
  await claim('a picture of exactly 8 MiB is taken, and one byte more is refused', async () => {
    const most = Buffer.alloc(kMost);
    jpeg('').copy(most);
    assert.equal((await post(server, at, most)).status, 201);
    await refused(await post(server, at, Buffer.concat([most, Buffer.from('x')])), 413, /at most 8 MiB/);
  });
  await claim('what is no picture is refused in a sentence, and nothing is written', async () => {
    const before = (await of_bike(server)).length;
    for (const body of ['', 'GIF89a', '<svg xmlns="http://www.w3.org/2000/svg"/>', '<script>alert(1)</script>', '%PDF-1.7']) {
      await refused(await post(server, at, body), 400, /neither a JPEG nor a PNG/);
    }
    await refused(await post(server, at, jpeg('x'), 'image/jpeg'), 415, /sent as application\/octet-stream/);
    await refused(await post(server, at, jpeg('x'), kOctets, { Origin: 'http://elsewhere.example' }), 403, /another site/);
    await refused(await post(server, `${at}&about=boxen`, jpeg('x')), 404, /boxes/);
    await refused(await post(server, `${at}&size=1`, jpeg('x')), 400, /not asked for/);
    await refused(await post(server, '/api/bikes/9999/photos?who=mara', jpeg('x')), 404, /no order/);
    await refused(await post(server, '/api/arrivals/P-3165/photos?claim=x', jpeg('x')), 422, /claim/);
    await refused(await post(server, '/api/arrivals/P-3165/photos?claim=2', jpeg('x')), 404, /1 claims/);
    assert.equal((await of_bike(server)).length, before);
  });
  await claim('nothing else than a known hash is asked for', async () => {
    for (const hash of ['0', '..%2f..%2fetc%2fpasswd', "'%20or%201=1"]) {
      assert.equal((await fetch(`${server.url}/api/pictures/${hash}`)).status, 404, hash);
    }
  });
  await claim('a photograph stands at its claim', async () => {
    const answer = await post(server, '/api/arrivals/P-3165/photos?claim=1&note=label', jpeg('claim'));
    assert.equal(answer.status, 201);
    const { claims, photos } = await answer.json();
    assert.equal(claims[0].photos[0].note, 'label');
    assert.equal(photos.length, 0);
  });
  await claim('the journal is whole afterwards', async () => {
    assert.equal((await (await fetch(`${server.url}/api/journal/verify`)).json()).whole, true);
  });
}

/** What follows each piece of a PNG: CRC-32 as in RFC 2083, annex 15. */
function crc_of(bytes) {
  let crc = ~0;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; ++bit) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return ~crc >>> 0;
}

function piece(kind, bytes) {
  const all = Buffer.concat([Buffer.alloc(4), Buffer.from(kind), bytes, Buffer.alloc(4)]);
  all.writeUInt32BE(bytes.length, 0);
  all.writeUInt32BE(crc_of(all.subarray(4, -4)), all.length - 4);
  return all;
}

/** A grey PNG of this size; `rows` fewer than it says breaks it off. */
function grey_png(width, height, rows = height, noise = 0) {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head[8] = 8;
  const light = Buffer.alloc(rows * (width + 1), 90);
  let state = 1;
  for (let at = 0; at < light.length; ++at) {
    state = (Math.imul(state, 1664525) + 1013904223) | 0;
    if (noise > 0) light[at] += (state >>> 8) % noise;
    if (at % (width + 1) === 0) light[at] = 0;  // how the row is written: as it is
  }
  return Buffer.concat([png.subarray(0, 8), piece('IHDR', head), piece('IDAT', zlib.deflateSync(light, { level: 1 })),
                        piece('IEND', Buffer.alloc(0))]);
}

/** Width and height of a JPEG, as its frame says. */
function size_of(bytes) {
  for (let at = 2; at < bytes.length; at += 2 + bytes.readUInt16BE(at + 2)) {
    if (bytes[at + 1] === 0xc0) return [bytes.readUInt16BE(at + 7), bytes.readUInt16BE(at + 5)];
  }
  return [];
}

async function small_copies(server) {
  const at = '/api/bikes/2016/photos?who=mara';
  const take = async (bytes) => (await (await post(server, at, bytes)).json()).photos.at(-1).picture;
  const small = (hash, headers = {}) => fetch(`${server.url}/api/pictures/${hash}/small`, { headers });
  const last = async () => (await (await fetch(`${server.url}/api/journal/verify`)).json()).entries;
  const whole = grey_png(4000, 3000, 3000, 4);
  let hash = '';
  await claim('a small copy is a JPEG of at most 320 pixels, and the whole picture stays as it is', async () => {
    hash = await take(whole);
    const entries = await last();
    const got = await small(hash);
    assert.equal(got.status, 200, await got.clone().text());
    assert.equal(got.headers.get('content-type'), 'image/jpeg');
    const bytes = Buffer.from(await got.arrayBuffer());
    assert.deepEqual(size_of(bytes), [320, 240]);
    assert.ok(bytes.length < 20_000, `${bytes.length} bytes`);
    const picture = await fetch(`${server.url}/api/pictures/${hash}`);
    assert.equal(picture.headers.get('cache-control'), 'no-store');
    assert.ok(Buffer.from(await picture.arrayBuffer()).equals(whole));
    assert.equal(await last(), entries, 'nothing was written');
  });
  await claim('a browser may keep a small copy but has to ask each time', async () => {
    const got = await small(hash);
    assert.equal(got.headers.get('cache-control'), 'private, no-cache');
    const tag = got.headers.get('etag');
    assert.match(tag, new RegExp(`^"${hash}`));
    const again = await small(hash, { 'If-None-Match': tag });
    assert.equal(again.status, 304);
    assert.equal((await again.arrayBuffer()).byteLength, 0);
    assert.equal((await small(hash, { 'If-None-Match': '"another"' })).status, 200);
  });
  await claim('of what cannot be read, or unfolds beyond all measure, none is made, with the reason', async () => {
    const cases = [[grey_png(600, 400, 100), /cut short or damaged/], [jpeg('no more'), /no small copy/],
                   [grey_png(40_000, 40_000, 1), /40000 x 40000 pixels, and at most 52 million/]];
    for (const [bytes, words] of cases) {
      const of = await take(bytes);
      for (let again = 0; again < 2; ++again) await refused(await small(of), 409, words);
      const got = await fetch(`${server.url}/api/pictures/${of}`);
      assert.ok(Buffer.from(await got.arrayBuffer()).equals(bytes), 'kept as it was given');
    }
    await refused(await small('0'), 404, /no such picture/);
  });
  await claim('many who ask at once get the same', async () => {
    const of = await take(grey_png(1500, 1000, 1000, 30));
    const all = await Promise.all(Array.from({ length: 12 }, async () => Buffer.from(await (await small(of)).arrayBuffer())));
    for (const one of all) assert.ok(one.length > 500 && one.equals(all[0]));
  });
  await claim('the history on paper has each photograph small, and says of others why it has none', async () => {
    const file = path.join(temporary_folder(), 'history.pdf');
    const paper = Buffer.from(await (await fetch(`${server.url}/api/bikes/2016/history.pdf`)).arrayBuffer());
    assert.ok(paper.length < 300_000, `${paper.length} bytes, of pictures with ${whole.length} and more`);
    fs.writeFileSync(file, paper);
    const { out } = run_program('pdftotext', ['-layout', file, '-']);
    assert.match(out, new RegExp(`picture ${hash.slice(0, 16)}`));
    assert.match(out, /Not shown: .*cut short/s);
    const images = run_program('pdfimages', ['-list', file]).out.split('\n').filter((line) => /jpeg/.test(line));
    assert.equal(images.length, 2, 'those of which a small copy could be made');
  });
}

async function only_those_who_may(server) {
  const secret = 'a well trued wheel';
  await claim('once people sign in, pictures are for those who are signed in, under their own name', async () => {
    const { photos } = await (await post(server, '/api/bikes/2016/photos?who=mara', jpeg('x'))).json();
    const first = await post(server, '/api/people/first', JSON.stringify({ person: 'mara', password: secret }), 'application/json');
    assert.equal(first.status, 201, await first.clone().text());
    const headers = { Cookie: first.headers.get('set-cookie').split(';')[0] };
    const picture = `${server.url}/api/pictures/${photos[0].picture}`;
    const point = (await (await post(server, '/api/bikes/2016/photos?who=mara', grey_png(40, 30), kOctets, headers)).json()).photos.at(-1).picture;
    const small = `${server.url}/api/pictures/${point}/small`;
    assert.equal((await fetch(picture)).status, 401);
    assert.equal((await fetch(picture, { headers })).status, 200);
    const held = (await fetch(small, { headers })).headers.get('etag');
    assert.equal((await fetch(small, { headers: { ...headers, 'If-None-Match': held } })).status, 304);
    assert.equal((await fetch(small)).status, 401);
    assert.equal((await fetch(small, { headers: { 'If-None-Match': held } })).status, 401, 'a kept copy opens no door');
    assert.equal((await post(server, '/api/bikes/2016/photos?who=mara', jpeg('y'))).status, 401);
    await refused(await post(server, '/api/bikes/2016/photos?who=pia', jpeg('y'), kOctets, headers), 403, /signed in/);
    assert.equal((await post(server, '/api/bikes/2016/photos?who=mara', jpeg('y'), kOctets, headers)).status, 201);
    // Who may not write gets no 8 MiB read into memory for them.
    await refused(await post(server, '/api/bikes/2016/photos?who=mara', Buffer.alloc(2 * 1024 * 1024)), 413, /./);
  });
}

async function command_line() {
  const folder = temporary_folder();
  const file = path.join(folder, 'box.jpg');
  const copy = path.join(folder, 'copy.jpg');
  fs.writeFileSync(file, jpeg('box'));
  const book = demo_book();
  const run = (...args) => cli(['--book', book, ...args]);
  await claim('a photograph goes in and comes out by the command line', () => {
    const put = run('--who', 'mara', 'photograph', '2016', file, '--about', 'boxes', '--note', 'six sides');
    assert.equal(put.code, 0, put.err);
    const [, hash] = run('photograph', '2016').out.match(/^([0-9a-f]{64}) .*Mara Hollis, boxes: six sides$/m);
    assert.equal(run('picture', hash, '--to', copy).code, 0);
    assert.ok(fs.readFileSync(copy).equals(fs.readFileSync(file)));
    assert.match(run('history', '2016').out, /Mara Hollis: photograph of the boxes: six sides/);
  });
  await claim('a small copy comes out by the command line, or the reason why there is none', () => {
    const print = path.join(folder, 'print.png');
    fs.writeFileSync(print, grey_png(800, 600));
    assert.equal(run('--who', 'mara', 'photograph', '2016', print).code, 0);
    const hashes = run('photograph', '2016').out.match(/^[0-9a-f]{64}/gm);
    assert.equal(run('picture', hashes[1], '--small', '--to', copy).code, 0);
    assert.deepEqual(size_of(fs.readFileSync(copy)), [320, 240]);
    assert.match(run('picture', hashes[0], '--small', '--to', copy).err, /no small copy can be made/);
  });
  await claim('a photograph of a claim is counted beside its clock', () => {
    assert.match(run('--who', 'pia', 'photograph-line', 'P-3165', file, '--claim', '1').out, /claim 1: .*; 1 photograph$/m);
  });
  await claim('a copy of the book has the pictures, and verifies', () => {
    const copied = path.join(folder, 'copy.book');
    fs.copyFileSync(book, copied);
    for (const end of ['-wal', '-shm']) if (fs.existsSync(book + end)) fs.copyFileSync(book + end, copied + end);
    const ran = cli(['--book', copied, 'photograph', '2016']);
    const [hash] = ran.out.match(/^[0-9a-f]{64}/);
    assert.equal(cli(['--book', copied, 'picture', hash, '--to', copy]).code, 0);
    assert.equal(cli(['--book', copied, 'verify']).code, 0);
  });
  await claim('a file that is no picture, is not there or is too large is refused with its name or reason', () => {
    fs.writeFileSync(copy, 'GIF89a');
    assert.match(run('--who', 'mara', 'photograph', '2016', copy).err, /neither a JPEG nor a PNG/);
    assert.match(run('--who', 'mara', 'photograph', '2016', path.join(folder, 'none.jpg')).err, /none\.jpg/);
    fs.writeFileSync(copy, Buffer.alloc(kMost + 1));
    assert.match(run('--who', 'mara', 'photograph', '2016', copy).err, /at most/);
    assert.equal(run('picture', 'f00', '--to', copy).code, 3);
  });
}

house(async () => {
  await pictures_over_http(await start_server());
  await small_copies(await start_server());
  await only_those_who_may(await start_server());
  await command_line();
});
