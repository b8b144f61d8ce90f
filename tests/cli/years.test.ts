import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Report } from '@longnight/core';
import { parse } from 'csv-parse/sync';
import { afterAll, expect, test } from 'vitest';
import { contents, DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

test('run --years: the same figures on the screen, in report.md, report.json and years.csv', () => {
  const scenario = join(DEMO, 'holds-with-generator.yaml');
  const out = join(folder, 'out');
  const ended = longnight(['run', scenario, '--years', '3', '--out', out]);
  expect(ended.stderr).toBe('');
  expect(ended.status).toBe(0);
  expect(Object.keys(contents(out))).toEqual([
    'columns.csv',
    'hours.csv',
    'report.html',
    'report.json',
    'report.md',
    'report.sha256',
    'years.csv',
  ]);

  const report: Report = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8'));
  const csv = readFileSync(join(out, 'years.csv'), 'utf8');
  const rows: Record<string, string>[] = parse(csv, { columns: true });
  expect(csv.split('\r\n')).toHaveLength(5);
  expect(rows.map((row) => Number(row.seed))).toEqual([92, 93, 94]);
  report.years!.by_year.forEach((year, k) => {
    // A cell is empty where there is no such figure: this plant has no socket.
    const { replaced, ...numbers } = year;
    expect(rows[k]!.replaced).toBe(replaced.map(({ path }) => path).join('; '));
    for (const [name, value] of Object.entries(numbers))
      expect(rows[k]![name] === '' ? null : Number(rows[k]![name]), name).toBe(value);
  });
  // The first of them is the year that the rest of the report is about.
  expect(report.years!.by_year[0]!.generator_run_hours).toBe(report.generator!.run_hours);
  expect(report.years!.by_year[0]!.lowest_soc).toBe(report.bank.lowest_soc);

  const markdown = readFileSync(join(out, 'report.md'), 'utf8');
  expect(markdown).toContain('## Year after year');
  expect(markdown).toContain('holds-with-generator.yaml --out DIR --years 3');
  expect(markdown).not.toMatch(/NaN|undefined|Infinity|\[object/);
  expect(ended.stdout).toMatch(/In 3 years +All load is served in 3 years\./);
  expect(ended.stdout).toContain('The bank outlasts 3 years.');
  for (const line of ended.stdout.split('\n')) expect(line.length).toBeLessThanOrEqual(80);

  const alone = longnight(['run', scenario, '--json']);
  expect(JSON.parse(alone.stdout)).toEqual({ ...report, years: null });
});

test('a plant without a stated life of the bank says so, and when it first fails', () => {
  const ended = longnight(['run', join(DEMO, 'short-of-bank.yaml'), '--years', '2']);
  expect(ended.stdout).toMatch(/First fails in year 1, 2026-11-20 04:00: the winter of\s+2026\/27\./);
  expect(ended.stdout).toMatch(/states no life of the bank/);
});
