import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

// One journey at a time: each starts servers and a browser, and two cores are all there is.
export default defineConfig(({ mode }) => ({
  resolve: {
    alias: {
      '@sync': here('sync/typescript'),
      '@tables': here('backend/skinpin/domain/tables'),
    },
  },
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  test: {
    root: here('.'),
    include: [
      mode === 'screenshots' ? 'tests/browser/screenshots.ts' : 'tests/browser/**/*.journey.ts',
    ],
    globalSetup: 'tests/browser/setup.ts',
    fileParallelism: false,
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
}));
