import { defineConfig } from 'vite';

// The pages are served by the shop's own server; while they are being written Vite serves them and
// hands /api on to that server. How JSX is read stands in tsconfig.json.
export default defineConfig({
  build: { outDir: 'dist', target: 'es2022', assetsInlineLimit: 0, reportCompressedSize: true },
  server: { port: 5173, proxy: { '/api': process.env['ROLLWRIGHT_API'] ?? 'http://127.0.0.1:8420' } },
});
