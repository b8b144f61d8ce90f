/** A file played with other values than it has, by every command alike. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const FILE = join(DEMO, 'holds-with-generator.yaml');
const SET = ['--set', 'run.load_factor=1.2', '--set', 'arrays[*].size_kWp=x1.5'];
const TOLD = 'Played with other values than the file has: run.load_factor=1.2; arrays[*].size_kWp=x1.5.';
const joined = (text: string): string => text.replace(/\s+/g, ' ');

test.each([
  ['check'],
  ['run'],
  ['weather'],
  ['week'],
  ['improve'],
  ['compare', join(DEMO, 'short-of-bank.yaml')],
  [
    'size',
    '--vary',
    'bank.modules_parallel=4,5',
    '--require',
    'unmet.share<=0.5',
    '--least',
    'bank.usable_kWh',
  ],
  ['sweep', '--vary', 'bank.modules_parallel=4,5'],
])('%s says what is not as in the file, at its head and beside its figures', (command, ...more) => {
  const { stdout, status } = longnight([command, FILE, ...more, ...SET], folder);
  expect(status).toBe(0);
  const head = stdout.split('\n\n')[0]!;
  expect(joined(head)).toContain(TOLD);
  const json = JSON.parse(longnight([command, FILE, ...more, ...SET, '--json'], folder).stdout);
  expect(json.set).toEqual([
    { path: 'run.load_factor', value: 1.2 },
    { path: 'arrays[*].size_kWp', value: 'x1.5' },
  ]);
  expect(JSON.parse(longnight([command, FILE, ...more, '--json'], folder).stdout).set).toBeUndefined();
});

test('a run with settings is that of the file edited so, and says how it is made again', () => {
  const edited = join(folder, 'edited.yaml');
  const text = readFileSync(FILE, 'utf8');
  writeFileSync(
    edited,
    text.replace('size_kWp: 6', 'size_kWp: 9').replace('year: 2026', 'year: 2026\n  load_factor: 1.2'),
  );
  const { set, ...figures } = JSON.parse(longnight(['run', FILE, ...SET, '--json'], folder).stdout);
  const byHand = JSON.parse(longnight(['run', edited, '--json'], folder).stdout);
  expect(figures).toEqual(byHand);
  expect(longnight(['run', FILE, ...SET, '--out', 'out'], folder).status).toBe(0);
  expect(readFileSync(join(folder, 'out', 'report.md'), 'utf8')).toContain(
    "--out DIR --set 'run.load_factor=1.2' --set 'arrays[*].size_kWp=x1.5'",
  );
});

test('rows that were played with other settings are of another sweep', () => {
  const sweep = (...more: readonly string[]) =>
    longnight(
      ['sweep', FILE, '--vary', 'bank.modules_parallel=4,5', '--part', '1/2', '--out', 'part', ...more],
      folder,
    );
  expect(sweep(...SET).status).toBe(0);
  const { stderr, status } = sweep('--resume');
  expect(status).toBe(2);
  expect(stderr).toContain(
    "it was played with --set 'run.load_factor=1.2' --set 'arrays[*].size_kWp=x1.5' and is now with no --set",
  );
});

test.each([
  [
    'bank.floor_soc',
    '--set bank.floor_soc: there is no "="; expected PATH=VALUE\n    fix: write for example run.load_factor=1.2\n',
  ],
  ['parts_files[0]=x.yaml', '--set parts_files[0]: parts files are all read at once and do not vary'],
  ['bank.floor_soc=1.5', "--set bank.floor_soc: can't be 1.5: found 1.5; expected a number from 0 to 0.99"],
])('%s is refused, and nothing is played', (setting, message) => {
  const { stdout, stderr, status } = longnight(['run', FILE, '--set', setting], folder);
  expect({ stdout, status }).toEqual({ stdout: '', status: 2 });
  expect(stderr).toContain(message);
});

test('factors have a scale to be drawn on, with the file at 1', () => {
  const vary = ['--vary', 'arrays[*].size_kWp=x0.5,x1,x1.5', '--vary', 'bank.modules_parallel=2,4,6'];
  const { stderr, status } = longnight(['sweep', FILE, ...vary, '--out', 'factors'], folder);
  expect({ stderr, status }).toEqual({ stderr: '', status: 0 });
  const html = readFileSync(join(folder, 'factors', 'sweep.html'), 'utf8');
  expect(html).toContain('array, all arrays, times what the file says');
  expect(html).toContain('array, all arrays: x0.5 is the least of its values');
  const mixed = longnight(['sweep', FILE, '--vary', 'arrays[*].size_kWp=4,x1', '--out', 'mixed'], folder);
  expect(mixed.stderr).toContain('no chart: the values of array, all arrays are names, which have no scale');
});
