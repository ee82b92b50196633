import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

export default defineConfig({
  root: here('frontend'),
  resolve: {
    alias: {
      '@sync': here('sync/typescript'),
      '@tables': here('backend/skinpin/domain/tables'),
    },
  },
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: { outDir: here('backend/skinpin/web/static'), emptyOutDir: true, target: 'es2022' },
  test: { root: here('.'), include: ['tests/**/*.test.{ts,tsx}'], exclude: ['tests/browser/**', 'tests/trials/**', 'node_modules/**'] },
});
