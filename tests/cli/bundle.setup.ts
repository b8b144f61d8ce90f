import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  export interface ProvidedContext {
    /** The bundled bin, in a folder of its own. */
    bundleFile: string;
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
  const built = spawnSync(
    process.execPath,
    [
      join(root, 'node_modules/rolldown/bin/cli.mjs'),
      '-c',
      join(root, 'packages/cli/rolldown.config.js'),
      '-d',
      folder,
    ],
    { cwd: root, encoding: 'utf8' },
  );
  project.provide('bundleFile', join(folder, 'longnight.js'));
  project.provide('bundleError', built.status === 0 ? '' : `${built.stdout}${built.stderr}`);
  return () => rmSync(folder, { recursive: true, force: true });
}
