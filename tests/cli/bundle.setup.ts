import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  export interface ProvidedContext {
    /** The bundled bin, in a folder of its own. */
    bundleFile: string;
    /** `runProgram` of the same sources, bundled the same way, for a thread that runs one command after another. */
    programFile: string;
    /** What the bundler said if it failed, else empty: then the tests of the CLI fail, and only they. */
    bundleError: string;
  }
}

/**
 * Builds the CLI bundle once for a test run, outside the repository: it must work without node_modules, and two
 * test runs at once must not pull it from under each other.
 */
export default function setup(project: TestProject): () => void {
  const root = resolve(import.meta.dirname, '../..');
  const folder = mkdtempSync(join(tmpdir(), 'longnight-bundle-'));
  const built = (config: string, name: string): string => {
    const { status, stdout, stderr } = spawnSync(
      process.execPath,
      [join(root, 'node_modules/rolldown/bin/cli.mjs'), '-c', join(root, config), '-d', join(folder, name)],
      { cwd: root, encoding: 'utf8' },
    );
    return status === 0 ? '' : `${stdout}${stderr}`;
  };
  const error =
    built('packages/cli/rolldown.config.js', 'bin') ||
    built('tests/cli/support/program.rolldown.js', 'program');
  project.provide('bundleFile', join(folder, 'bin/longnight.js'));
  project.provide('programFile', join(folder, 'program/program.js'));
  project.provide('bundleError', error);
  return () => rmSync(folder, { recursive: true, force: true });
}
