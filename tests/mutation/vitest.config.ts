import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** The first test that notices ends a run, so the shortest files come first. */
class ShortestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return (await super.sort(files)).reverse();
  }
}

// Stryker works on a copy whose node_modules lead back here: the names of the core must lead to the copy.
const core = resolve('packages/core/src');

/** Each takes longer than all that most changes need to be noticed; SLOW_TESTS=1 asks them too. */
const SLOW = [
  '**/properties/plants.test.ts',
  '**/closed-form/{linear-program,linear-program-places,mixed-integer,dispatch,size-bound,sway,improve-years}.test.ts',
  '**/published/drawn-years.test.ts',
];

/** The tests that play the core in process, without those that look at the sources' text. */
export default defineConfig({
  ssr: { resolve: { conditions: ['@longnight/source', 'module', 'node', 'development|production'] } },
  resolve: {
    alias: [
      { find: /^@longnight\/core$/, replacement: `${core}/index.ts` },
      { find: /^@longnight\/core\/(.+)$/, replacement: `${core}/entries/$1.ts` },
    ],
  },
  test: {
    include: ['tests/{published,closed-form,properties,behaviour}/**/*.test.ts'],
    exclude: [
      '**/behaviour/{imports,docstrings,public-names,browser,nonsense-arguments}.test.ts',
      ...(process.env.SLOW_TESTS === '1' ? [] : SLOW),
    ],
    testTimeout: 120_000,
    hookTimeout: 120_000,
    isolate: false,
    sequence: { sequencer: ShortestFirst },
  },
});
