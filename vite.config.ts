import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';
import { arucoAsModules } from './frontend/build/aruco.ts';
import { rulesOf } from './frontend/build/rules.ts';
import { serviceWorker } from './frontend/build/worker.ts';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

export default defineConfig({
  root: here('frontend'),
  resolve: {
    alias: {
      '@sync': here('sync/typescript'),
      '@tables': here('backend/skinpin/domain/tables'),
    },
  },
  define: { __RULES__: JSON.stringify(rulesOf(here('.'))) },
  worker: { format: 'es', plugins: () => [arucoAsModules()] },
  plugins: [
    arucoAsModules(),
    serviceWorker(here('frontend/src/offline/worker.ts'), here('frontend/public')),
  ],
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    outDir: here('backend/skinpin/web/static'),
    emptyOutDir: true,
    target: 'es2022',
    modulePreload: { polyfill: false },
  },
  test: {
    root: here('.'),
    include: ['tests/**/*.test.{ts,tsx}'],
    maxWorkers: 2,
    exclude: ['tests/browser/**', 'tests/trials/**', 'node_modules/**'],
  },
});
