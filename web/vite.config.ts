import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { build, defineConfig, type Plugin } from 'vite';

function* filesIn(folder: string): Generator<string> {
  for (const entry of readdirSync(folder, { withFileTypes: true }).sort((a, b) => (a.name < b.name ? -1 : 1))) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) yield* filesIn(path);
    else yield path;
  }
}

/** Once the pages are built: the worker that holds them, with the list of their files and its hash. */
function worker(): Plugin {
  return {
    name: 'worker',
    apply: 'build',
    closeBundle: {
      order: 'post',
      sequential: true,
      async handler() {
        const hash = createHash('sha256');
        const files: string[] = [];
        for (const path of filesIn('dist')) {
          const name = `/${relative('dist', path)}`;
          if (name === '/sw.js') continue;
          files.push(name === '/index.html' ? '/' : name);
          hash.update(name).update(readFileSync(path));
        }
        await build({
          configFile: false,
          publicDir: false,
          logLevel: 'warn',
          define: { __FILES__: JSON.stringify(files), __EDITION__: JSON.stringify(hash.digest('hex').slice(0, 16)) },
          build: {
            outDir: 'dist', emptyOutDir: false, target: 'es2022',
            rollupOptions: { input: 'src/worker/worker.ts', output: { format: 'iife', entryFileNames: 'sw.js' } },
          },
        });
      },
    },
  };
}

// The pages are served by the shop's own server; while they are being written Vite serves them and
// hands /api on to that server. How JSX is read stands in tsconfig.json.
export default defineConfig({
  plugins: [worker()],
  build: { outDir: 'dist', target: 'es2022', assetsInlineLimit: 0, reportCompressedSize: true },
  server: { port: 5173, proxy: { '/api': process.env['ROLLWRIGHT_API'] ?? 'http://127.0.0.1:8420' } },
});
