/** A weather file of several years: each is played, and the worst is named. */

import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Report } from '@longnight/core';
import { afterAll, describe, expect, test } from 'vitest';
import { everyYearSentences } from '../../packages/cli/src/render/report/many-years.ts';
import { verdictSentence } from '../../packages/cli/src/render/report/verdict-words.ts';
import { epwRows, inventedSky } from '../support/weather-files.ts';
import { longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const GOOD = readFileSync(join(import.meta.dirname, 'bad/good-series.yaml'), 'utf8');
const SITE = { name: 'x', latitude_deg: 50, longitude_deg: 10, elevation_m: 200, time_zone: 'Etc/GMT-1' };
/** Invented years of which 2024 is much the dullest, a leap year. */
const SHARES: Readonly<Record<number, number>> = { 2023: 0.6, 2024: 0.35, 2025: 0.5 };

/** Rows of some years in a row, as EPW. */
function file(years: readonly number[]): string {
  const texts = years.map((year) => epwRows(inventedSky(SITE, 1, year, SHARES[year]!), () => year));
  return [...texts[0]!.slice(0, 8), ...texts.flatMap((rows) => rows.slice(8))].join('\n');
}

/** A plant with ample load for its bank, so that years differ. */
function scenario(
  name: string,
  text: string,
  year: number | string,
  years = 'own',
  loads = '',
  power_W = 200,
): string {
  writeFileSync(join(folder, `${name}.epw`), text);
  const changed = GOOD.replace(
    /weather:\n[\s\S]*\narrays:/,
    `weather:\n  kind: epw\n  file: ${name}.epw\n  years: ${years}\narrays:`,
  )
    .replace('Europe/Berlin', 'Etc/GMT-1')
    .replace('power_W: 90', `power_W: ${power_W}`)
    .replace('year: 2025', `year: ${year}`)
    .replace('run:', `${loads}run:`);
  writeFileSync(join(folder, `${name}.yaml`), changed);
  return `${name}.yaml`;
}
const report = (name: string): Report => JSON.parse(longnight(['run', name, '--json'], folder).stdout);

describe('three years', () => {
  const three = file([2023, 2024, 2025]);
  const all = report(scenario('three', three, 2025));

  test('are each what a run of that year alone finds that begins as the year before ended', () => {
    expect(all.every_year!.by_year.map(({ year }) => year)).toEqual([2023, 2024, 2025]);
    expect(all.every_year!.left_out).toEqual([]);
    let initial_soc: number | null = null;
    for (const row of all.every_year!.by_year) {
      const begins = initial_soc === null ? `${row.year}` : `${row.year}, initial_soc: ${initial_soc}`;
      const alone = report(scenario('alone', file([row.year]), begins));
      expect(alone.every_year).toBeNull();
      if (initial_soc === null) expect(alone.bank.gained_kWh).toBe(0);
      expect(row.unmet_kWh).toBeCloseTo(alone.unmet.energy_kWh, 9);
      expect(row.unmet_hours).toBe(alone.unmet.hours);
      expect(row.lowest_soc).toBeCloseTo(alone.bank.lowest_soc, 9);
      initial_soc = alone.bank.initial_soc + alone.bank.gained_kWh / alone.bank.capacity_kWh;
      expect(row.wanted_kWh).toBe(alone.load.wanted_kWh);
      expect(row.generator_run_hours).toBeNull();
    }
    const leap = all.every_year!.by_year[1]!;
    expect(leap.wanted_kWh / all.every_year!.by_year[0]!.wanted_kWh).toBeCloseTo(366 / 365, 9);
    // The rest of the report is about the year that is run, which closes on itself.
    const run = report(scenario('alone', file([2025]), '2025'));
    expect({ ...run.unmet, ...run.bank }).toEqual({ ...all.unmet, ...all.bank });
  });

  test('have a worst one, which the summary and report.md name', () => {
    expect(all.every_year!.worst).toEqual(all.every_year!.by_year[1]);
    const ended = longnight(['run', 'three.yaml', '--out', 'out'], folder);
    expect(ended.status).toBe(0);
    expect(ended.stdout).toMatch(/^Every year +/m);
    expect(ended.stdout.replace(/\s+/g, ' ')).toContain('The worst is 2024:');
    expect(ended.stdout).toMatch(/^2024, the worst /m);
    for (const line of ended.stdout.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
    const markdown = readFileSync(join(folder, 'out/report.md'), 'utf8');
    expect(markdown).toContain('## Every year of the weather file');
    expect(markdown).toContain('The worst is 2024:');
    expect(markdown).toContain('All else in this report is about the year of run.year alone');
    expect(markdown).not.toMatch(/NaN|undefined|Infinity|\[object/);
    const json = JSON.parse(readFileSync(join(folder, 'out/report.json'), 'utf8'));
    expect(json).toEqual(all);
  });

  test('are counted by the verdict, wherever it stands, and their rows are not said to be unused', () => {
    const failing = all.every_year!.by_year.filter((row) => row.unmet_hours > 0).length;
    expect(all.every_year!.years_held).toBe(3 - failing);
    // 2025 closes on itself, and fails where the dull year before it has left the bank low.
    expect(failing).toBe(2);
    expect(all.verdict).toEqual({ holds: false });
    expect(verdictSentence(all)).toMatch(
      /^Holds in 1 of 3 years of the weather file \(between 0 and 91 % of all such years, 95 % sure\); not in 2024 to 2025\. 2025 on its own: holds: all /,
    );
    const text = longnight(['run', 'three.yaml', '--out', 'counted'], folder);
    expect(text.stdout.replace(/\s+/g, ' ')).toContain('Does it hold? Holds in 1 of 3 years');
    for (const name of ['report.md', 'report.html'])
      expect(readFileSync(join(folder, 'counted', name), 'utf8'), name).toContain('Holds in 1 of 3 years');
    expect(text.stderr).not.toMatch(/not used/);
    // A load that the bank carries in the bright years and not in the dull one.
    const some = report(scenario('some', three, 2023, 'own', '', 100));
    expect(some.unmet.hours).toBe(0);
    expect(some.verdict.holds).toBe(some.every_year!.years_held === 3);
    expect(verdictSentence(some)).toMatch(/2023 on its own: holds: all/);
  });

  test('can be bound by their worst', () => {
    const bound = (most: number): string[] => [
      'run',
      'three.yaml',
      '--require',
      `every_year.worst.unmet_kWh<=${most}`,
    ];
    expect(longnight(bound(0), folder).status).toBe(3);
    expect(longnight(bound(1e6), folder).status).toBe(0);
  });

  test('do not change when another of them is run', () => {
    expect(report(scenario('other', three, 2023)).every_year).toEqual(all.every_year);
  });

  test('are one where the file is read as of one year, and that is asked for', () => {
    const ended = longnight(['run', scenario('typical', three, 2025, 'typical')], folder);
    expect(ended.status).toBe(2);
    expect(ended.stderr).toContain('set weather.years: own');
  });
});

test('years that the file holds in part are left out, with the reason', () => {
  const rows = file([2023, 2024, 2025]).split('\n');
  const cut = report(scenario('cut', rows.slice(0, -2000).join('\n'), 2023));
  expect(cut.every_year!.by_year.map(({ year }) => year)).toEqual([2023, 2024]);
  expect(cut.every_year!.left_out).toEqual([{ year: 2025, why: 'the file holds 282 of its 365 days' }]);
  expect(longnight(['run', 'cut.yaml'], folder).stdout.replace(/\s+/g, ' ')).toContain(
    'Not played: 2025 (the file holds 282 of its 365 days).',
  );
});

test('one measured year of loads repeats under every year of weather, and the report says so', () => {
  const hours = Array.from({ length: 8760 }, (_, h) => {
    const at = new Date(Date.UTC(2023, 0, 1) + h * 3_600_000);
    return `${at.toISOString().slice(0, 16)},${h < 4380 ? 0.05 : 0.02}`;
  });
  writeFileSync(join(folder, 'one.csv'), ['time,kW', ...hours].join('\n'));
  const metered =
    '  - { kind: series, name: metered, file: one.csv, time: { column: time, zone: Etc/GMT-1, label: start }, power: { column: kW, unit: kW } }\n';
  const all = report(scenario('repeats', file([2023, 2024, 2025]), 2023, 'own', metered));
  const { by_year, left_out, repeated } = all.every_year!;
  expect(left_out).toEqual([]);
  expect(by_year.map(({ year }) => year)).toEqual([2023, 2024, 2025]);
  expect(by_year[2]!.wanted_kWh).toBeCloseTo(by_year[0]!.wanted_kWh, 6);
  // The 28th of February is used twice.
  const metered_kWh = 4380 * (0.05 + 0.02);
  const other_kWh = (by_year[0]!.wanted_kWh - metered_kWh) / 365 + 0.05 * 24;
  expect(by_year[1]!.wanted_kWh - by_year[0]!.wanted_kWh).toBeCloseTo(other_kWh, 6);
  expect(repeated).toEqual([{ file: 'one.csv', years: [2024, 2025] }]);
  expect(everyYearSentences(all.every_year!).join(' ')).toContain(
    'one.csv holds no 2024 to 2025: its rows are used again there',
  );
});

test('years with a gap, or without the load that is metered, are left out', () => {
  const rows = file([2023, 2024, 2025]).split('\n');
  const gap = report(scenario('gap', rows.toSpliced(8 + 100, 5).join('\n'), 2024));
  expect(gap.every_year!.by_year.map(({ year }) => year)).toEqual([2024, 2025]);
  expect(gap.every_year!.left_out).toEqual([{ year: 2023, why: expect.stringContaining('5 h missing') }]);
  const hours = Array.from({ length: 8784 + 8760 }, (_, h) => {
    const at = new Date(Date.UTC(2023, 11, 31, 23) + h * 3_600_000);
    return `${at.toISOString().slice(0, 16)}Z,0.05`;
  });
  writeFileSync(join(folder, 'load.csv'), ['time,kW', ...hours].join('\n'));
  const metered =
    '  - { kind: series, name: metered, file: load.csv, time: { column: time, zone: UTC, label: start }, power: { column: kW, unit: kW } }\n';
  const some = report(scenario('metered', rows.join('\n'), 2025, 'own', metered));
  expect(some.every_year!.by_year.map(({ year }) => year)).toEqual([2024, 2025]);
  expect(some.every_year!.left_out).toEqual([
    { year: 2023, why: expect.stringMatching(/loads?|covers 2024/) },
  ]);
});

test('lean --every-year asks the same years', () => {
  const ended = longnight(['week', 'three.yaml', '--every-year'], folder);
  expect(ended.stderr.replace(/^note: .*\n/gm, '')).toBe('');
  for (const year of Object.keys(SHARES)) expect(ended.stdout).toContain(year);
});
