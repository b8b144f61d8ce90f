/** Files as Windows editors and spreadsheets save them: a byte order mark, CRLF, and both. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { longnight, ROOT, removeFolder, temporaryFolder } from './support/process.ts';
import { weatherCsv, weatherRows } from './support/weather.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const MARK = '\ufeff';
const crlf = (text: string): string => text.replace(/\r?\n/g, '\r\n');
const WAYS: [name: string, write: (text: string) => string][] = [
  ['plain', (text) => text],
  ['with a byte order mark', (text) => MARK + text],
  ['with CRLF', crlf],
  ['with both', (text) => MARK + crlf(text)],
];

/** A scenario that names a parts file and a series, all three written in one way. */
function reportOf(name: string, write: (text: string) => string): string {
  const home = join(folder, name.replaceAll(' ', '-'));
  mkdirSync(home);
  const good = readFileSync(join(import.meta.dirname, 'bad/good-series.yaml'), 'utf8');
  const scenario = good
    .replace('bank:\n', 'parts_files: [modules.yaml]\nbank:\n  part: module-10kWh\n')
    .replace(/ {2}module: .*\n/, '');
  writeFileSync(join(home, 'plant.yaml'), write(scenario));
  const parts = readFileSync(join(ROOT, 'data/parts/modules.yaml'), 'utf8');
  writeFileSync(join(home, 'modules.yaml'), write(parts));
  writeFileSync(join(home, 'year.csv'), write(weatherCsv(weatherRows())));
  const ended = longnight(['run', 'plant.yaml', '--json'], home);
  expect(ended.stderr).toBe('');
  expect(ended.status).toBe(0);
  // Checksums are those of other bytes.
  return ended.stdout.replace(/"sha256": "\w+"/g, '');
}

test('scenario, parts and series give the same answer whatever editor saved them', () => {
  const [plain, ...others] = WAYS.map(([name, write]) => reportOf(name, write));
  expect(plain).toContain('"capacity_kWh": 10.24');
  for (const other of others) expect(other).toBe(plain);
});

test('places of errors are those that the editor shows', () => {
  const text = readFileSync(join(import.meta.dirname, 'bad/negative-size.yaml'), 'utf8');
  writeFileSync(join(folder, 'bad.yaml'), MARK + crlf(text));
  const { stderr, status } = longnight(['check', 'bad.yaml'], folder);
  expect(status).toBe(2);
  expect(stderr).toMatch(/^bad\.yaml:14:15: arrays\[0\]\.size_kWp/);
});
