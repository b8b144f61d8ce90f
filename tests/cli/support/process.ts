import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { inject } from 'vitest';

export const ROOT = resolve(import.meta.dirname, '../../..');
export const DEMO = join(ROOT, 'data/demo');

export interface Ended {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** The bundled bin, as built for this test run. */
export function bundle(): string {
  const error = inject('bundleError');
  if (error !== '') throw new Error(`the bundle was not built:\n${error}`);
  return inject('bundleFile');
}

/** Runs the bundle as a process. */
export function longnight(args: readonly string[], cwd = ROOT, env: Record<string, string> = {}): Ended {
  const ended = spawnSync(process.execPath, [bundle(), ...args], {
    cwd,
    encoding: 'utf8',
    env: { ...process.env, ...env },
    maxBuffer: 2 ** 28,
  });
  return { status: ended.status, stdout: ended.stdout, stderr: ended.stderr };
}

/** A folder for one test file; remove it in `afterAll`. */
export const temporaryFolder = (): string => mkdtempSync(join(tmpdir(), 'longnight-test-'));
export const removeFolder = (folder: string): void => rmSync(folder, { recursive: true, force: true });

/** Every file below a folder with its content, hidden ones too: what "nothing was written" is measured by. */
export function contents(folder: string): Record<string, string> {
  const found: Record<string, string> = {};
  for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort()) {
    const path = join(folder, name);
    found[name] = statSync(path).isDirectory() ? '(folder)' : readFileSync(path, 'latin1');
  }
  return found;
}
