import { defineConfig } from 'vitest/config';

export default defineConfig({
  ssr: { resolve: { conditions: ['@longnight/source', 'module', 'node', 'development|production'] } },
  test: {
    include: ['tests/**/*.test.ts'],
    reporters: ['default', './tests/support/closing-line.ts'],
    globalSetup: ['tests/cli/bundle.setup.ts'],
    testTimeout: 120_000,
    hookTimeout: 120_000,
    // vitest leaves one core free by default, which on a machine of two halves the speed of the suite.
    maxWorkers: '100%',
  },
});
