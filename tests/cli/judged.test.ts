/** `compare` and `improve` over years: their files hold the same, and what can't be asked is refused. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, expect, test } from 'vitest';
import { contents, DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const demo = (name: string): string => join(DEMO, `${name}.yaml`);
const rowsOf = (name: string): Record<string, string>[] =>
  parse(readFileSync(join(folder, name)), { columns: true });
const textOf = (name: string): string => readFileSync(join(folder, name), 'utf8');
const fits = (text: string): void => {
  for (const line of text.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(80);
  expect(text).not.toMatch(/NaN|undefined|null|\bsafe/);
};

test('compare --seeds: table, files and figures say the same, twice', () => {
  const asked = ['compare', demo('short-of-bank'), demo('holds'), '--seeds', '3', '--in', '2'];
  const ran = longnight([...asked, '--out', 'compare'], folder);
  expect(ran).toMatchObject({ status: 0, stderr: '' });
  fits(ran.stdout);
  const json = JSON.parse(textOf('compare/compare.json'));
  expect(json.judged_by).toMatchObject({
    years: [92, 93, 94].map((seed) => ({ seed, calendar_year: null })),
    years_to_hold: 2,
  });
  const [short, holds] = json.plants;
  expect([short.keeps, holds.keeps, holds.years_held]).toEqual([false, true, 3]);
  const years = rowsOf('compare/years.csv');
  expect(years.map(({ plant, seed }) => `${plant} ${seed}`)).toEqual(
    ['92', '93', '94'].flatMap((seed) => [`short of bank ${seed}`, `holds ${seed}`]),
  );
  const unmet = years
    .filter(({ plant }) => plant === 'short of bank')
    .map((row) => Number(row['unmet.energy_kWh']));
  const { spreads } = json.over_years.rows.find((row: { name: string }) => row.name === 'unmet.energy_kWh');
  expect(spreads[0].mean).toBeCloseTo(unmet.reduce((a, b) => a + b, 0) / 3, 9);
  expect(spreads[0].p50).toBe(unmet.toSorted((a, b) => a - b)[1]);
  const row = rowsOf('compare/compare.csv').find(({ figure }) => figure === 'unmet.energy_kWh')!;
  expect([Number(row['short of bank mean']), row.best_mean]).toEqual([spreads[0].mean, 'holds']);
  expect(json.over_years.short[0].alone).toEqual([
    { beside: 'holds', years: unmet.filter((kWh) => kWh > 0).length },
  ]);
  const markdown = textOf('compare/compare.md');
  expect(markdown).toContain('--seeds 3 --in 2 --out DIR');
  expect(markdown).toContain('Required: nothing unmet in 2 of 3 years.');
  expect(textOf('compare/compare.html')).toContain('Unmet energy that so many years come to or go beyond');
  expect(longnight([...asked, '--json'], folder).stdout).toBe(textOf('compare/compare.json'));
});

test('improve --seeds with a bound: table, files and figures say the same, twice', () => {
  const asked = ['improve', demo('short-of-bank'), '--seeds', '2', '--require', 'unmet.energy_kWh.worst<=20'];
  const ran = longnight([...asked, '--out', 'improve'], folder);
  expect(ran).toMatchObject({ status: 0, stderr: '' });
  fits(ran.stdout);
  const json = JSON.parse(textOf('improve/improve.json'));
  expect(json.judged_by.require).toEqual(['unmet.energy_kWh.worst<=20']);
  expect(json.now.requirements).toEqual([
    { requirement: 'unmet.energy_kWh.worst<=20', figure: expect.any(Number) },
  ]);
  const rows = rowsOf('improve/improve.csv').filter(({ group }) => group === 'helping');
  expect(rows.map((row) => Number(row['unmet.energy_kWh.worst_after']))).toEqual(
    json.helping.map(
      (tried: { after: { requirements: { figure: number }[] } }) => tried.after.requirements[0]!.figure,
    ),
  );
  expect(rows.some((row) => row.holds_then === 'true')).toBe(true);
  expect(textOf('improve/improve.md')).toContain(
    "longnight improve short-of-bank.yaml --require 'unmet.energy_kWh.worst<=20' --seeds 2 --out DIR",
  );
  expect(longnight([...asked, '--json'], folder).stdout).toBe(textOf('improve/improve.json'));
});

test('without years or bounds neither says anything of them', () => {
  for (const asked of [
    ['improve', demo('holds')],
    ['compare', demo('holds'), demo('holds-with-generator')],
  ]) {
    const { stdout } = longnight([...asked, '--json'], folder);
    expect(stdout).not.toMatch(/judged_by|years_held|over_years|requirements/);
    expect(longnight(asked, folder).stdout).not.toContain('Required:');
  }
});

test('compare exits 3 where no plant keeps a bound, after all is written', () => {
  const plants = [demo('holds'), demo('holds-with-generator')];
  const ran = longnight(['compare', ...plants, '--require', 'bank.lowest_soc>=0.9', '--out', 'none'], folder);
  expect(ran.status).toBe(3);
  expect(ran.stderr).toBe('missed: none of 2 plants keeps every requirement\n');
  expect(Object.keys(contents(join(folder, 'none')))).toContain('compare.json');
  expect(ran.stdout).toContain('Neither plant keeps what is required.');
});

test.each([
  [['--in', '2'], /--in: counts years, and there is one\n {4}fix: add --seeds N or --every-year/],
  [['--seeds', '3', '--in', '4'], /--in: 4 years are asked for, and there are 3\n {4}fix: give 3 at most/],
  [['--every-year'], /--every-year: the weather is no file of two whole years or more/],
  [['--require', 'unmet.enery_kWh<=1'], /did you mean "unmet\.energy_kWh"\?/],
  [['--require', 'unmet.energy_kWh.p95<=1'], /is over many years, and one is played/],
])('%j is refused by both, and nothing is written', (options, what) => {
  for (const asked of [
    ['improve', demo('holds')],
    ['compare', demo('holds'), demo('short-of-bank')],
  ]) {
    const ended = longnight([...asked, ...options, '--out', 'never'], folder);
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(ended.stderr).toMatch(what);
    expect(Object.keys(contents(folder))).not.toContain('never');
  }
});
