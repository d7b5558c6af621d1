import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

/** One page, split by view: the wall never loads the chart library. Assets stay files, because the content policy allows no data URLs. */
export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  base: '/',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    outDir: fileURLToPath(new URL('dist', import.meta.url)),
    emptyOutDir: true,
    assetsInlineLimit: 0,
    target: 'es2022',
    modulePreload: { polyfill: false },
  },
  server: { port: 5173, proxy: { '/api': 'http://127.0.0.1:8470' } },
});
