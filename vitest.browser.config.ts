import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

const INCLUDE: Record<string, string> = {
  screenshots: 'tests/browser/screenshots.ts',
  trials: 'tests/trials/*.trial.ts',
  record: 'tests/upgrades/record.ts',
};

// Two journeys at a time: each starts servers and a browser, and works while the other waits. What is
// measured or pictured has the computer to itself.
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
    include: [INCLUDE[mode] ?? 'tests/browser/**/*.journey.ts'],
    globalSetup: 'tests/browser/setup.ts',
    fileParallelism: mode === 'test',
    maxWorkers: 2,
    // Time is no claim of a journey: on a busy computer what is waited for comes later.
    testTimeout: mode === 'trials' ? 600_000 : 300_000,
    hookTimeout: 300_000,
    expect: { poll: { timeout: 40_000, interval: 100 } },
  },
}));
