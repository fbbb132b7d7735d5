// Turns the files of web/dist into an assembler file that includes their bytes and a C++ table of
// them: node embed.mjs DIST OUT
import { createHash } from 'node:crypto';
import { mkdirSync, readFileSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { join, relative, resolve } from 'node:path';
import { gzipSync } from 'node:zlib';

const [dist, out] = process.argv.slice(2).map((path) => resolve(path));
const types = {
  html: 'text/html; charset=utf-8',
  js: 'text/javascript; charset=utf-8',
  css: 'text/css; charset=utf-8',
  svg: 'image/svg+xml',
  png: 'image/png',
  ico: 'image/x-icon',
  woff2: 'font/woff2',
  webmanifest: 'application/manifest+json',
  json: 'application/json',
};

function* filesIn(folder) {
  for (const name of readdirSync(folder).sort()) {
    const path = join(folder, name);
    if (statSync(path).isDirectory()) yield* filesIn(path);
    else yield path;
  }
}

mkdirSync(out, { recursive: true });
let assembler = '.section .rodata\n';
let declarations = '';
let rows = '';
let count = 0;

function include(path, label) {
  assembler += `.global ${label}_begin\n.global ${label}_end\n${label}_begin:\n`;
  assembler += `.incbin "${path}"\n${label}_end:\n`;
  declarations += `extern const char ${label}_begin[];\nextern const char ${label}_end[];\n`;
  return `std::string_view(${label}_begin, static_cast<std::size_t>(${label}_end - ${label}_begin))`;
}

for (const path of filesIn(dist)) {
  const name = '/' + relative(dist, path);
  const type = types[name.split('.').pop()];
  if (!type) throw new Error(`embed.mjs: no content type for ${name}`);
  const bytes = readFileSync(path);
  const etag = createHash('sha256').update(bytes).digest('hex').slice(0, 32);
  const label = `rollwright_asset_${count++}`;
  const plain = include(path, label);
  const packed = gzipSync(bytes, { level: 9 });
  let gzip = 'std::string_view()';
  if (packed.length < bytes.length * 0.9) {
    const packedPath = join(out, `${label}.gz`);
    writeFileSync(packedPath, packed);
    gzip = include(packedPath, `${label}_gz`);
  }
  const forEver = name.startsWith('/assets/');
  rows += `      {"${name}", "${type}", "\\"${etag}\\"", ${plain}, ${gzip}, ${forEver}},\n`;
}
// The script that the start page loads: its name holds a hash of what is in it.
const script = /<script type="module"[^>]* src="(\/assets\/[^"]+\.js)"/.exec(readFileSync(join(dist, 'index.html'), 'utf8'))?.[1];
if (!script) throw new Error('embed.mjs: index.html loads no script of /assets');

assembler += '.section .note.GNU-stack,"",@progbits\n';
writeFileSync(join(out, 'assets.S'), assembler);
writeFileSync(
  join(out, 'assets_table.cpp'),
  `// Made by web/tools/embed.mjs.
#include "http/assets.hpp"

extern "C" {
${declarations}}

namespace rollwright::http {

std::string_view edition() { return "${script}"; }

std::span<const Asset> assets() {
  static const Asset kAssets[] = {
${rows}  };
  return kAssets;
}

}  // namespace rollwright::http
`,
);
