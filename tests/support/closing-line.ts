import type { Reporter, TestModule } from 'vitest/node';

/** Ends a run with one plain line, `1071 passed, 0 failed, 8 skipped`, for whoever reads the output of CI. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], errors: readonly unknown[]): void {
    const count = { passed: 0, failed: errors.length, skipped: 0, pending: 0 };
    for (const module of modules) {
      const before = count.failed;
      for (const test of module.children.allTests()) count[test.result().state]++;
      // A file that can't be loaded, or whose preparations fail, has no failed test and must not look like a clean run.
      if (module.state() === 'failed' && count.failed === before) count.failed++;
    }
    console.log(`${count.passed} passed, ${count.failed + count.pending} failed, ${count.skipped} skipped`);
  }
}
