/** A sweep over possible years: one row a design, its figures over the years those of the years played one by one. */
import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { howSure } from '@longnight/core/study';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { contents, DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));
const FILE = join(DEMO, 'parts-sun-alone.yaml');
const GRID = ['--vary', 'arrays[0].panels=16,23', '--vary', 'bank.modules_parallel=8,12'];
const YEARS = ['--seeds', '4', '--percentiles', '10,90'];
const sweep = (...args: string[]) => longnight(['sweep', FILE, ...GRID, ...args]);
const rowsOf = (name: string): Record<string, string>[] =>
  parse(readFileSync(join(folder, name, 'sweep.csv'), 'utf8'), { columns: true });
const whole = join(folder, 'whole');
let printed = '';

beforeAll(() => {
  const ended = sweep(...YEARS, '--out', whole, '--threads', '1');
  expect(ended).toMatchObject({ status: 0, stderr: '' });
  printed = ended.stdout;
  sweep('--vary', 'weather.seed=92:95:1', '--out', join(folder, 'each'));
}, 120_000);

/** Between neighbours on a straight line, n - 1 of them (Hyndman & Fan 1996, definition 7, recalled). */
function quantile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  const at = (sorted.length - 1) * share;
  const low = sorted[Math.floor(at)]!;
  return low + (sorted[Math.ceil(at)]! - low) * (at - Math.floor(at));
}

test('its percentiles and its count of years are those of the same years as designs', () => {
  const [rows, each] = [rowsOf('whole'), rowsOf('each')];
  expect(rows.length).toBe(4);
  rows.forEach((row, k) => {
    const years = each.slice(4 * k, 4 * k + 4);
    for (const name of ['unmet.energy_kWh', 'unmet.longest_hours', 'bank.lowest_soc', 'money.total']) {
      const values = years.map((year) => Number(year[name]));
      for (const percent of [10, 50, 90])
        expect(Number(row[`${name}.p${percent}`]), name).toBeCloseTo(quantile(values, percent / 100), 6);
    }
    const held = years.filter((year) => Number(year['unmet.hours']) === 0).length;
    expect(Number(row.years_held)).toBe(held);
    expect(Number(row['held_share.low'])).toBeCloseTo(howSure(held, 4).low, 9);
    expect(Number(row['held_share.high'])).toBeCloseTo(howSure(held, 4).high, 9);
    expect(row['money.capital']).toBe(years[0]!['money.capital']);
    expect(row['generator.run_hours.p50']).toBe('');
  });
  expect(new Set(rows.map((row) => row['unmet.energy_kWh.p50'])).size).toBeGreaterThan(1);
});

test('threads, parts and a sweep that goes on make the same bytes', () => {
  const two = join(folder, 'two');
  expect(sweep(...YEARS, '--out', two, '--threads', '2').status).toBe(0);
  expect(contents(two)).toEqual(contents(whole));
  const parts = join(folder, 'parts');
  for (const part of ['1/2', '2/2']) expect(sweep(...YEARS, '--part', part, '--out', parts).status).toBe(0);
  const gathered = join(folder, 'gathered');
  expect(longnight(['gather', parts, '--out', gathered]).status).toBe(0);
  expect(contents(gathered)).toEqual(contents(whole));

  const stopped = join(folder, 'stopped');
  sweep(...YEARS, '--part', '1/1', '--out', stopped);
  const lines = readFileSync(join(stopped, 'sweep.part-1of1.csv'), 'utf8').split('\r\n');
  const begin = (): void => {
    const rows = `${lines.slice(0, 3).join('\r\n')}\r\n`;
    const sum = createHash('sha256').update(rows).digest('hex');
    writeFileSync(join(stopped, 'sweep.part-1of1.csv.partial'), rows);
    writeFileSync(join(stopped, 'sweep.part-1of1.csv.partial.sums'), `${sum} ${rows.length}\n`);
  };
  begin();
  writeFileSync(
    join(stopped, 'sweep.part-1of1.csv.partial.json'),
    readFileSync(join(stopped, 'sweep.part-1of1.json')),
  );
  const again = sweep(...YEARS, '--part', '1/1', '--out', stopped, '--resume');
  expect(again.stderr).toContain('going on after 2 of 4 designs');
  expect(readFileSync(join(stopped, 'sweep.part-1of1.csv'), 'utf8')).toBe(lines.join('\r\n'));
  writeFileSync(
    join(stopped, 'sweep.part-1of1.csv.partial.json'),
    readFileSync(join(stopped, 'sweep.part-1of1.json')),
  );
  begin();
  const other = sweep('--seeds', '5', '--part', '1/1', '--out', stopped, '--resume');
  expect(other.status).toBe(2);
  expect(other.stderr).toContain(
    'it was played with --seeds 4 --percentiles 10,50,90 and is now with --seeds 5 --percentiles 5,50,95',
  );
}, 120_000);

test('words say that medians are shown, and count a design as holding only in all its years', () => {
  const said = printed.replace(/\s+/g, ' ');
  expect(said).toContain('Drawn years 92 to 95.');
  expect(said).toContain('Tables and charts show medians of the years');
  const rows = rowsOf('whole');
  const all = rows.filter((row) => row.years_held === '4').length;
  expect(said).toMatch(
    all === 0
      ? /Every design leaves something unmet in one of 4 years or more; design \d holds in most, \d of 4\./
      : all === 4
        ? /No design leaves anything unmet in any of 4 years/
        : new RegExp(`${all} of 4 designs leaves? nothing unmet in any of 4 years`),
  );
  expect(readFileSync(join(whole, 'sweep.html'), 'utf8')).toContain('--seeds 4 --percentiles 10,50,90');
});

test.each([
  [['--vary', 'weather.seed=1,2', '--seeds', '3'], /--vary weather.seed: says itself which years are played/],
  [['--percentiles', '5'], /--percentiles: are over many years, and one is played/],
  [['--seeds', '3', '--percentiles', '0,50'], /expected whole percentiles from 1 to 99/],
  [['--every-year'], /--every-year: the weather is no file of two whole years or more/],
])('%j is refused', (args, message) => {
  const ended = sweep(...args, '--out', join(folder, 'never'));
  expect(ended).toMatchObject({ status: 2, stdout: '' });
  expect(ended.stderr).toMatch(message);
});
