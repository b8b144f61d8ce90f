import { defineConfig } from 'vitest/config';
import FiguresFirst from './tests/support/sequence.ts';

export default defineConfig({
  ssr: { resolve: { conditions: ['@longnight/source', 'module', 'node', 'development|production'] } },
  test: {
    include: ['tests/**/*.test.ts'],
    reporters: ['default', './tests/support/closing-line.ts'],
    globalSetup: ['tests/cli/bundle.setup.ts'],
    testTimeout: 120_000,
    hookTimeout: 120_000,
    // SHUFFLE_TESTS=1 plays the files in any order, to see that none needs another before it.
    sequence: process.env.SHUFFLE_TESTS === '1' ? { shuffle: { files: true } } : { sequencer: FiguresFirst },
    // vitest leaves one core free by default, which on a machine of two halves the speed of the suite.
    maxWorkers: '100%',
    // Reading some hundred sources anew for each file took a quarter of the time. A file therefore shares its modules
    // with others: no test may change what a module, process.env or a global holds without putting it back.
    isolate: false,
  },
});
