/**
 * The program as a process. Most tests run its commands in a thread that is loaded once; here what a process adds is
 * looked at, and the two are held together.
 */
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import {
  contents,
  DEMO,
  longnight,
  longnightProcess,
  removeFolder,
  temporaryFolder,
} from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const holds = join(DEMO, 'holds.yaml');

/** A command of each exit code that input alone brings about; one writes files, one prints more than a pipe holds. */
test.each<[status: number, args: string[]]>([
  [0, ['run', holds, '--out', 'OUT']],
  [0, ['run', join(DEMO, 'short-of-bank.yaml'), '--json', '--lean-days', '365']],
  [0, ['--help']],
  [2, ['run', 'no-such.yaml']],
  [2, ['rum']],
  [3, ['run', join(DEMO, 'short-of-bank.yaml'), '--require', 'unmet.hours<=1', '--out', 'OUT']],
])('exit %i and every byte are those of the thread that tests run in: %j', (status, args) => {
  const here = join(folder, `out-${args.length}-${status}`);
  const ran = [longnight, longnightProcess].map((run) => {
    const ended = run(
      args.map((arg) => arg.replace('OUT', here)),
      folder,
    );
    const files = args.includes('OUT') ? contents(here) : {};
    removeFolder(here);
    return { ended, files };
  });
  expect(ran[1]).toEqual(ran[0]);
  expect(ran[1]!.ended.status).toBe(status);
  expect(ran[1]!.ended.stdout.length + ran[1]!.ended.stderr.length).toBeGreaterThan(50);
  if (args.includes('365')) expect(ran[1]!.ended.stdout.length).toBeGreaterThan(2 ** 16);
  if (args.includes('OUT')) expect(Object.keys(ran[1]!.files)).toContain('report.json');
});
