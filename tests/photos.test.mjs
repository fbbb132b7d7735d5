// Photographs as another program sends and asks for them. The pictures are a few bytes that begin as
// pictures do; the shop is invented.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { claim, cli, demo_book, house, start_server, temporary_folder } from './house.mjs';

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

async function only_those_who_may(server) {
  const secret = 'a well trued wheel';
  await claim('once people sign in, pictures are for those who are signed in, under their own name', async () => {
    const { photos } = await (await post(server, '/api/bikes/2016/photos?who=mara', jpeg('x'))).json();
    const first = await post(server, '/api/people/first', JSON.stringify({ person: 'mara', password: secret }), 'application/json');
    assert.equal(first.status, 201, await first.clone().text());
    const headers = { Cookie: first.headers.get('set-cookie').split(';')[0] };
    const picture = `${server.url}/api/pictures/${photos[0].picture}`;
    assert.equal((await fetch(picture)).status, 401);
    assert.equal((await fetch(picture, { headers })).status, 200);
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
  await only_those_who_may(await start_server());
  await command_line();
});
