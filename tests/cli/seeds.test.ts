import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Report } from '@longnight/core';
import { figuresOfReport } from '@longnight/core/findings';
import { parse } from 'csv-parse/sync';
import { afterAll, describe, expect, test } from 'vitest';
import { contents, DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const short = join(DEMO, 'short-of-bank.yaml');
const engine = join(DEMO, 'holds-with-generator.yaml');
const SEEDS = 11;

/** Sample quantile with straight lines between the values, n - 1 of them (Hyndman & Fan 1996, definition 7, recalled). */
function quantile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  const at = (sorted.length - 1) * share;
  const low = sorted[Math.floor(at)]!;
  const high = sorted[Math.ceil(at)]!;
  return low + (high - low) * (at - Math.floor(at));
}

describe('run --seeds', () => {
  const out = join(folder, 'out');
  const ended = longnight(['run', short, '--seeds', `${SEEDS}`, '--out', out]);
  const json = readFileSync(join(out, 'report.json'), 'utf8');
  const report: Report = JSON.parse(json);
  const ensemble = report.ensemble!;
  const rows: Record<string, string>[] = parse(readFileSync(join(out, 'seeds.csv'), 'utf8'), {
    columns: true,
  });

  test('every drawn year is the year that `run` plays with that seed', () => {
    expect(ended).toMatchObject({ status: 0, stderr: '' });
    expect(rows.map((row) => Number(row.seed))).toEqual(Array.from({ length: SEEDS }, (_, k) => 92 + k));
    for (const seed of [92, 97, 102]) {
      const file = join(folder, `seed-${seed}.yaml`);
      writeFileSync(file, readFileSync(short, 'utf8').replace(/seed: 92\b/, `seed: ${seed}`));
      const alone: Report = JSON.parse(longnight(['run', file, '--json']).stdout);
      const row = ensemble.by_year[seed - 92]!;
      expect(row).toMatchObject({
        seed,
        year: alone.run.year,
        wanted_kWh: alone.load.wanted_kWh,
        loss_of_load_probability: alone.unmet.loss_of_load_probability,
        longest_outage_hours: alone.unmet.longest_hours,
        unmet_kWh: alone.unmet.energy_kWh,
        unmet_hours: alone.unmet.hours,
        lowest_soc: alone.bank.lowest_soc,
        generator_run_hours: null,
      });
      expect(Number(rows[seed - 92]!.unmet_kWh)).toBe(row.unmet_kWh);
      expect(rows[seed - 92]!.generator_run_hours).toBe('');
    }
  });

  test('quantiles, years held and the worst drawn year follow from them', () => {
    const unmet = ensemble.by_year.map((row) => row.unmet_kWh);
    const soc = ensemble.by_year.map((row) => row.lowest_soc);
    for (const [name, values, worst] of [
      ['unmet.energy_kWh', unmet, Math.max(...unmet)],
      ['bank.lowest_soc', soc, Math.min(...soc)],
    ] as const) {
      const over = ensemble.over_years.find(({ figure }) => figure === name)!;
      expect(over.percentiles.map(({ percent }) => percent)).toEqual([5, 50, 95]);
      for (const { percent, value } of over.percentiles)
        expect(value).toBeCloseTo(quantile(values, percent / 100), 9);
      expect(over.mean).toBeCloseTo(values.reduce((sum, value) => sum + value, 0) / SEEDS, 9);
      expect(over.worst).toBe(worst);
    }
    expect(new Set(unmet).size).toBeGreaterThan(5);
    expect(ensemble.over_years.map(({ figure }) => figure)).not.toContain('generator.run_hours');
    expect(ensemble.years_held).toBe(unmet.filter((kWh) => kWh === 0).length);
    expect(ensemble.worst).toEqual(ensemble.by_year[unmet.indexOf(Math.max(...unmet))]);
  });

  test('the screen and report.md say the same, within 80 columns; nothing else of the report changes', () => {
    for (const line of ended.stdout.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(80);
    expect(ended.stdout).toMatch(
      new RegExp(`${SEEDS} drawn years +Holds in ${ensemble.years_held} of ${SEEDS} years`),
    );
    const markdown = readFileSync(join(out, 'report.md'), 'utf8');
    for (const text of [ended.stdout, markdown]) {
      expect(text.replace(/\s+/g, ' ')).toContain(`The worst is drawn year ${ensemble.worst.seed}: `);
      expect(text).toContain(ensemble.over_years[0]!.percentiles[2]!.value.toFixed(2));
      expect(text).not.toMatch(/NaN|undefined|Infinity|\[object/);
    }
    expect(markdown).toContain(`--out DIR --seeds ${SEEDS}`);
    expect(Object.keys(contents(out))).toEqual([
      'columns.csv',
      'hours.csv',
      'report.html',
      'report.json',
      'report.md',
      'report.sha256',
      'seeds.csv',
    ]);
    const alone: Report = JSON.parse(longnight(['run', short, '--json']).stdout);
    expect(alone).toEqual({ ...report, ensemble: null });
  });

  test('the same bytes again', () => {
    expect(longnight(['run', short, '--seeds', `${SEEDS}`, '--json']).stdout).toBe(json);
  });
});

test('with a generator its hours have quantiles too, and bounds can be put on all of them', () => {
  const ended = longnight([
    ...['run', engine, '--seeds', '5', '--json'],
    ...['--require', 'generator.run_hours.p90<=1', '--require', 'ensemble.years_held>=5'],
  ]);
  expect(ended.status).toBe(3);
  const report: Report = JSON.parse(ended.stdout);
  const { worst, by_year, over_years } = report.ensemble!;
  expect(report.ensemble!.years_held).toBe(5);
  const run_h = by_year.map((row) => row.generator_run_hours!);
  expect(worst.generator_run_hours).toBe(Math.max(...run_h));
  const runs = over_years.find(({ figure }) => figure === 'generator.run_hours')!;
  expect(runs.percentiles[1]!.value).toBe(quantile(run_h, 0.5));
  expect(ended.stderr).toMatch(/^missed: generator\.run_hours\.p90 is [\d.]+, required is <= 1\n$/);
  // A plant without a generator has the same names, so that one command line serves both.
  const sun: Report = JSON.parse(longnight(['run', short, '--seeds', '2', '--json']).stdout);
  const names = (of: Report) => [...figuresOfReport(of).keys()].filter((name) => name.startsWith('ensemble'));
  expect(names(sun).sort()).toEqual(names(report).sort());
});

test('one seed is the year itself', () => {
  const report: Report = JSON.parse(longnight(['run', engine, '--seeds', '1', '--json']).stdout);
  expect(report.ensemble!.worst.generator_run_hours).toBe(report.generator!.run_hours);
  expect(report.ensemble!.over_years.at(-1)).toMatchObject({ mean: report.bank.lowest_soc });
});

describe('what can not be drawn is refused and nothing is written', () => {
  const scenario = (name: string, weather: string): string => {
    const file = join(folder, name);
    const text = readFileSync(short, 'utf8').replace(
      /^weather:\n(?: .*\n)+/m,
      `weather:\n${weather.replace(/^/gm, '  ')}\n`,
    );
    writeFileSync(file, text);
    return file;
  };
  test.each([
    [
      'clear.yaml',
      'kind: clear-sky\nturbidity_linke: 3\nair_temperature_C: 5',
      /--seeds: a clear sky is the same every year\n {4}fix: /,
    ],
    [
      'last.yaml',
      'kind: monthly_means\nghi_kWh_m2_day: [0.28, 0.92, 2.23, 3.74, 4.83, 5.21, 4.81, 3.71, 2.30, 1.11, 0.37, 0.15]\n' +
        'air_temperature_C: [-9, -9, -5, 0, 5, 10, 12, 11, 6, 1, -4, -8]\nseed: 4294967290',
      /--seeds: seeds from 4294967290 on end at 4294967295\n {4}fix: take a smaller weather\.seed/,
    ],
  ])('%s', (name, weather, message) => {
    const ended = longnight(['run', scenario(name, weather), '--seeds', '10', '--out', 'none'], folder);
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(ended.stderr).toMatch(message);
    expect(Object.keys(contents(folder))).not.toContain('none');
  });
  test.each(['0', '-1', '1.5', '10001', 'many'])('--seeds %s', (count) => {
    const ended = longnight(['run', short, '--seeds', count]);
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(ended.stderr).toMatch(/whole number of years from 1 to 10000/);
  });
});
