import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { askWeek, plantOf, prepareYear, readScenario } from '@longnight/core';
import { parse } from 'csv-parse/sync';
import { afterAll, describe, expect, test } from 'vitest';
import { jsonText } from '../../packages/cli/src/render/document/json.ts';
import {
  contents,
  DEMO,
  longnight,
  longnightProcess,
  removeFolder,
  temporaryFolder,
} from './support/process.ts';
import { weatherCsv, weatherRows } from './support/weather.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const short = join(DEMO, 'short-of-bank.yaml');
const engine = join(DEMO, 'holds-with-generator.yaml');
const json = (...args: string[]) => JSON.parse(longnight(['week', ...args, '--json']).stdout);

test('unless asked otherwise it is the leanest week from a full bank, and says so', () => {
  const { stdout, stderr, status } = longnight(['week', short]);
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  expect(stdout).toMatch(/^The leanest week of 2026: 7 days from 2026-12-24\. It begins with a full bank;$/m);
  expect(stdout).toMatch(
    /^Ridden out\? +No: [\d.]+ kWh of [\d.]+ kWh wanted go unmet, in \d+ h, the first at$/m,
  );
  for (const label of ['Sun', 'Such days', 'More bank', 'Less load'])
    expect(stdout).toMatch(new RegExp(`^${label} `, 'm'));
  expect(stdout.match(/^2026-12-(2[4-9]|30)/gm)).toHaveLength(7);
  expect(stdout.split('\n').filter((line) => line.length > 80)).toEqual([]);
  expect(stdout).not.toMatch(/NaN|undefined|\bsafe/i);
});

test('it is what the library answers', () => {
  const read = readScenario(readFileSync(short, 'utf8'), short);
  const year = prepareYear(read, short, new Map());
  const ask = { days: 5, start: '2026-01-03', soc: 0.8, generator: true };
  const {
    year: _,
    ledger: __,
    state: ___,
    played_end: ____,
    ...answer
  } = askWeek(year, plantOf(read.scenario), ask);
  const told = json(short, '--days', '5', '--start', '2026-01-03', '--soc', '0.8');
  expect(told.week).toEqual(JSON.parse(jsonText('week.json', answer)));
  expect(told.asked).toEqual(ask);
  expect(told).toMatchObject({ without_generator: null, every_year: null, longnight: { format: 1 } });
});

test('the numbers it names do what it says: so many modules, so much less load', () => {
  const { week: lean } = json(short);
  const text = readFileSync(short, 'utf8');
  const with_ = (modules: number, share: number) => {
    const changed = text
      .replace(/modules_parallel: \d+/, `modules_parallel: ${modules}`)
      .replace(/power_W: (\d+)/g, (_, power) => `power_W: ${Number(power) * share}`);
    writeFileSync(join(folder, 'changed.yaml'), changed);
    return json(join(folder, 'changed.yaml'), '--start', lean.start).week.unmet_kWh;
  };
  expect(lean.modules_to_ride).toBeGreaterThan(4);
  expect(with_(lean.modules_to_ride, 1)).toBe(0);
  expect(with_(lean.modules_to_ride - 1, 1)).toBeGreaterThan(0);
  expect(with_(4, lean.load_share_to_ride)).toBe(0);
  expect(with_(4, lean.load_share_to_ride + 0.002)).toBeGreaterThan(0);
});

test('--soc played begins as the year comes to these days', () => {
  const full = json(short);
  const played = json(short, '--soc', 'played');
  expect(played.week.initial_soc).toBe(full.week.played_initial_soc);
  expect(played.week.unmet_kWh).toBeGreaterThan(full.week.unmet_kWh);
  const report = JSON.parse(longnight(['run', short, '--json']).stdout);
  expect(played.week.unmet_kWh).toBeCloseTo(report.leanest_days.unmet_kWh, 9);
});

test('with a generator it also says what bank and sun do alone', () => {
  const both = json(engine);
  const alone = json(engine, '--without-generator');
  expect(both.week).toMatchObject({ generator: true, unmet_kWh: 0 });
  expect(both.without_generator).toEqual(alone.week);
  expect(alone.without_generator).toBeNull();
  const { stdout } = longnight(['week', engine]);
  expect(stdout).toMatch(/^More bank +Without the generator: \d+ modules instead of 4 would ride it$/m);
});

test('--out writes the hours, the answers and the figures, byte for byte the same again', () => {
  const [out, again] = [join(folder, 'out'), join(folder, 'again')];
  const ended = longnight(['week', engine, '--days', '3', '--out', out]);
  expect(ended.status).toBe(0);
  expect(ended.stdout).toMatch(/^Files: week\.md, week\.json, week\.csv, week\.html in\s/m);
  expect(Object.keys(contents(out))).toEqual([
    'week.csv',
    'week.html',
    'week.json',
    'week.md',
    'week.sha256',
  ]);
  longnightProcess(['week', engine, '--days', '3', '--out', again], folder, { TZ: 'Pacific/Auckland' });
  expect(contents(again)).toEqual(contents(out));

  const rows: Record<string, string>[] = parse(readFileSync(join(out, 'week.csv')), { columns: true });
  const { week: lean } = JSON.parse(readFileSync(join(out, 'week.json'), 'utf8'));
  expect(rows).toHaveLength(72);
  expect(rows[0]!.time_local!.slice(0, 10)).toBe(lean.start);
  const sum = (name: string): number => rows.reduce((total, row) => total + Number(row[name]), 0);
  expect(sum('load_wanted_kWh')).toBeCloseTo(lean.wanted_kWh, 9);
  expect(sum('array_available_kWh')).toBeCloseTo(lean.available_kWh, 9);
  expect(sum('generator_run_h')).toBeCloseTo(lean.generator_run_hours, 9);
  const markdown = readFileSync(join(out, 'week.md'), 'utf8');
  expect(markdown).toContain('    longnight week holds-with-generator.yaml --days 3 --soc 1 --out DIR');
  expect(markdown).toMatch(/licensed electrician/);
  expect(markdown).not.toMatch(/NaN|undefined/);
  expect(markdown).not.toContain(folder);
});

describe('--every-year', () => {
  const first = weatherRows();
  const second = first.map((row) => {
    const [stamp, ghi, air] = row.split(',');
    const at = new Date(Date.parse(stamp!) + 365 * 86_400_000);
    const dim = at.getTime() >= Date.UTC(2026, 11, 1) ? 0.3 : 1;
    return `${at.toISOString().slice(0, 16)}Z,${Math.round(dim * Number(ghi))},${air}`;
  });
  const scenario = readFileSync(join(import.meta.dirname, 'bad/good-series.yaml'), 'utf8');
  writeFileSync(join(folder, 'years.yaml'), scenario.replace('year.csv', 'years.csv'));
  writeFileSync(join(folder, 'years.csv'), weatherCsv([...first, ...second]));
  writeFileSync(join(folder, 'year.yaml'), scenario);
  writeFileSync(join(folder, 'year.csv'), weatherCsv(first));

  test('asks each year of the file and shows the hardest', () => {
    const told = JSON.parse(longnight(['week', 'years.yaml', '--every-year', '--json'], folder).stdout);
    expect(told.every_year).toMatchObject({ hardest: 2026, left_out: [] });
    expect(told.every_year.years.map(({ year }: { year: number }) => year)).toEqual([2025, 2026]);
    expect(told.run.year).toBe(2026);
    const { year: _, ...hardest } = told.every_year.years[1];
    expect(hardest).toEqual(told.week);
    const { stdout } = longnight(['week', 'years.yaml', '--every-year'], folder);
    expect(stdout).toMatch(/the hardest of 2 years/);
    expect(stdout).toMatch(/^2026 +2026-12-\d\d/m);
    expect(stdout.split('\n').filter((line) => line.length > 80)).toEqual([]);
  });

  test('is refused where there are no years to ask', () => {
    for (const [file, what] of [
      ['year.yaml', /^--every-year: the weather file holds one whole year, 2025/],
      [short, /^--every-year: the weather is drawn from monthly means/],
    ] as const) {
      const ended = longnight(['week', file, '--every-year', '--out', 'never'], folder);
      expect(ended).toMatchObject({ status: 2, stdout: '' });
      expect(ended.stderr).toMatch(what);
      expect(ended.stderr).toMatch(/fix: /);
      expect(Object.keys(contents(folder))).not.toContain('never');
    }
  });
});

test.each([
  [['--start', '2025-12-20'], /--start: 2025-12-20 is no day of the year 2026/],
  [['--start', '2026-12-28'], /--start: 7 days from 2026-12-28 reach past the end of 2026/],
  [['--start', 'tomorrow'], /--start: tomorrow is no day/],
  [['--days', '366'], /--days: a stretch of 366 days does not fit a year of 365/],
  [['--days', '0'], /--days.*whole number of days from 1 to 366/],
  [['--soc', '1.2'], /--soc.*a number from 0 to 1, such as 0\.8, or the word played/],
  [['--soc', '0.05'], /--soc: 0\.05 is not between the floor 0\.1 and 1/],
])('%j is refused', (args, what) => {
  const ended = longnight(['week', short, ...args]);
  expect(ended).toMatchObject({ status: 2, stdout: '' });
  expect(ended.stderr).toMatch(what);
});
