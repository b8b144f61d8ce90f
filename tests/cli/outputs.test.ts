import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Report } from '@longnight/core';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
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

type Row = Record<string, string>;

/** Sums are compared to this, in kWh, hours, litres. */
const WITHIN = 6;

describe.each(['short-of-bank', 'holds', 'holds-with-generator'])('the outputs of %s', (name) => {
  let report: Report;
  let rows: Row[];
  let markdown: string;
  let csv: string;
  const out = join(folder, name);
  const scenario = join(DEMO, `${name}.yaml`);

  beforeAll(() => {
    const ended = longnight(['run', scenario, '--out', out]);
    expect(ended.stderr).toBe('');
    expect(ended.status).toBe(0);
    report = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8'));
    csv = readFileSync(join(out, 'hours.csv'), 'utf8');
    rows = parse(csv, { columns: true });
    markdown = readFileSync(join(out, 'report.md'), 'utf8');
  });

  const sum = (column: string, of: readonly Row[] = rows): number =>
    of.reduce((total, row) => total + Number(row[column]), 0);
  const inMonth = (column: string): number[] =>
    Array.from({ length: 12 }, (_, m) =>
      sum(
        column,
        rows.filter((row) => Number(row.time_local!.slice(5, 7)) === m + 1),
      ),
    );
  const expectAll = (actual: readonly number[], expected: readonly number[]): void => {
    expect(actual.length).toBe(expected.length);
    actual.forEach((value, k) => {
      expect(value).toBeCloseTo(expected[k]!, WITHIN);
    });
  };

  test('nothing else is left in the folder', () => {
    expect(Object.keys(contents(out))).toEqual([
      'columns.csv',
      'hours.csv',
      'report.html',
      'report.json',
      'report.md',
      'report.sha256',
    ]);
  });

  test('every summed figure of report.json follows from hours.csv', () => {
    const figures: [number, string][] = [
      [report.load.wanted_kWh, 'load_wanted_kWh'],
      [report.load.served_kWh, 'load_served_kWh'],
      [report.unmet.energy_kWh, 'unmet_kWh'],
      [report.array.available_kWh, 'array_available_kWh'],
      [report.array.used_kWh, 'array_used_kWh'],
      [report.array.curtailed_kWh, 'curtailed_kWh'],
      [report.array.plane_kWh_m2 * 1000, 'plane_W_m2'],
      [report.bank.throughput_kWh, 'bank_discharge_kWh'],
      [report.bank.charged_kWh, 'bank_charge_kWh'],
      [report.bank.loss_kWh, 'bank_loss_kWh'],
      [report.losses.total_kWh, 'losses_kWh'],
      [report.losses.tracker_kWh, 'tracker_loss_kWh'],
      [report.losses.bank_kWh, 'bank_loss_kWh'],
      [report.losses.inverter_kWh, 'inverter_loss_kWh'],
      [report.losses.charger_kWh, 'charger_loss_kWh'],
      [report.losses.generator_spilled_kWh, 'generator_spilled_kWh'],
    ];
    for (const [cause, energy] of Object.entries(report.unmet.by_cause_kWh))
      figures.push([energy, `unmet_${cause}_kWh`]);
    for (const [cause, energy] of Object.entries(report.array.curtailed_by_cause_kWh))
      figures.push([energy, `curtailed_${cause}_kWh`]);
    const { generator } = report;
    if (generator !== null)
      figures.push(
        [generator.run_hours, 'generator_run_h'],
        [generator.fuel_L, 'fuel_L'],
        [generator.energy_kWh, 'generator_kWh'],
        [generator.spilled_kWh, 'generator_spilled_kWh'],
      );
    for (const [figure, column] of figures)
      expect(sum(column), column).toBeCloseTo(figure, column === 'plane_W_m2' ? 3 : WITHIN);
  });

  test('so does every month', () => {
    expectAll(report.load.wanted_by_month_kWh, inMonth('load_wanted_kWh'));
    expectAll(report.unmet.by_month_kWh, inMonth('unmet_kWh'));
    expectAll(report.array.available_by_month_kWh, inMonth('array_available_kWh'));
    expectAll(report.array.curtailed_by_month_kWh, inMonth('curtailed_kWh'));
    if (report.generator !== null) expectAll(report.generator.run_hours_by_month, inMonth('generator_run_h'));
  });

  test('loads sum to what is wanted, over the year and in winter', () => {
    const { by_load, wanted_kWh, mean_kWh_day, winter_months } = report.load;
    const all = (key: 'wanted_kWh' | 'mean_kWh_day' | 'share' | 'winter_kWh_day' | 'winter_share') =>
      by_load.reduce((whole, load) => whole + (load[key] ?? 0), 0);
    expect(all('wanted_kWh')).toBeCloseTo(sum('load_wanted_kWh'), WITHIN);
    expect(all('wanted_kWh')).toBeCloseTo(wanted_kWh, WITHIN);
    expect(all('mean_kWh_day')).toBeCloseTo(mean_kWh_day, WITHIN);
    expect(all('share')).toBeCloseTo(1, WITHIN);
    expect(all('winter_share')).toBeCloseTo(1, WITHIN);
    // Northern sites all: days of December, January and February.
    expect(winter_months).toEqual([12, 1, 2]);
    const winter = rows.filter((row) => winter_months.includes(Number(row.time_local!.slice(5, 7))));
    expect(all('winter_kWh_day')).toBeCloseTo(
      sum('load_wanted_kWh', winter) / new Set(winter.map((row) => row.time_local!.slice(0, 10))).size,
      WITHIN,
    );
    for (const tier of report.load.by_tier)
      expect(
        by_load.reduce((whole, load) => whole + (load.tier === tier.tier ? load.wanted_kWh! : 0), 0),
      ).toBeCloseTo(tier.wanted_kWh, WITHIN);
  });

  test('and what is counted: hours, outages, starts, tiers, days of the leanest days', () => {
    const unmet = rows.map((row) => Number(row.unmet_kWh) > 1e-9);
    expect(report.unmet.hours).toBe(unmet.filter(Boolean).length);
    expect(report.unmet.outages.length).toBe(unmet.filter((is, i) => is && !unmet[i - 1]).length);
    const runs = unmet
      .map((is) => (is ? '1' : ' '))
      .join('')
      .split(/ +/)
      .map((run) => run.length);
    expect(report.unmet.longest_hours).toBe(Math.max(...runs));
    if (report.generator !== null) {
      const running = rows.map((row) => Number(row.generator_run_h) > 0);
      expect(report.generator.starts).toBe(running.filter((is, i) => is && !running[i - 1]).length);
    }
    for (const tier of report.load.by_tier)
      expect(sum(`load_tier_${tier.tier}_wanted_kWh`)).toBeCloseTo(tier.wanted_kWh, WITHIN);
    expect(report.leanest_days.by_day.length).toBe(report.leanest_days.days);
    for (const day of report.leanest_days.by_day) {
      const ofDay = rows.filter((row) => row.time_local!.startsWith(day.date));
      expect(ofDay.length).toBe(24);
      expect(sum('array_available_kWh', ofDay)).toBeCloseTo(day.available_kWh, WITHIN);
      expect(sum('unmet_kWh', ofDay)).toBeCloseTo(day.unmet_kWh, WITHIN);
      expect(Math.min(...ofDay.map((row) => Number(row.bank_soc)))).toBeCloseTo(day.lowest_soc, WITHIN);
    }
  });

  test('hours.csv is RFC 4180: one row a step, lines ended by CRLF, plain decimals, times in order', () => {
    expect(rows.length).toBe(report.run.steps);
    expect(csv.endsWith('\r\n')).toBe(true);
    expect(csv.split('\n').filter((line) => line !== '' && !line.endsWith('\r'))).toEqual([]);
    const { time_local, time_utc, ...numbers } = rows[0]!;
    expect(time_local).toBe('2026-01-01 00:00');
    expect(numbers.utc_offset_min).toBe('60');
    expect(time_utc).toBe('2025-12-31 23:00');
    const columns = Object.keys(numbers);
    const notPlain = rows.flatMap((row) => columns.filter((c) => !/^-?\d+(\.\d+)?$/.test(row[c]!)));
    expect(notPlain).toEqual([]);
    rows.forEach((row, i) => {
      const utc_ms = Date.parse(`${row.time_utc}Z`);
      expect(utc_ms).toBe(Date.parse(`${time_utc}Z`) + i * 3_600_000);
      expect(Date.parse(`${row.time_local}Z`) - Number(row.utc_offset_min) * 60_000).toBe(utc_ms);
    });
  });

  test('--json prints report.json and nothing else', () => {
    const printed = longnight(['run', scenario, '--json']);
    expect(printed.stdout).toBe(readFileSync(join(out, 'report.json'), 'utf8'));
    expect(printed.stderr).toBe('');
    const both = longnight(['run', scenario, '--json', '--out', join(folder, `${name}-both`)]);
    expect(both.stdout).toBe(printed.stdout);
    expect(contents(join(folder, `${name}-both`))).toEqual(contents(out));
  });

  test('the same input gives the same bytes, from another folder, in another zone and language', () => {
    const again = join(folder, `${name}-again`);
    longnightProcess(['run', scenario, '--out', again], folder, {
      TZ: 'Pacific/Auckland',
      LANG: 'de_DE.UTF-8',
    });
    expect(contents(again)).toEqual(contents(out));
  });

  test('report.md names every assumption and caution, no folder of this machine, and no figure that is none', () => {
    expect(markdown).not.toMatch(/NaN|undefined|Infinity|\[object/);
    expect(markdown).not.toContain(folder);
    expect(markdown).not.toContain(DEMO);
    // A row may be for several items of a list: loads[].days.
    const anyItem = (path: string): string => path.replace(/\[\d+\]/, '[]');
    const assumed = markdown.slice(markdown.indexOf('## Assumptions'), markdown.indexOf('## How to make'));
    const named = [...assumed.matchAll(/^\|[^|`]*\|? ?`([^`]+)`/gm)].map(([, path]) => anyItem(path!));
    expect([...new Set(named)].sort()).toEqual(
      [...new Set(report.assumptions.map(({ path }) => anyItem(path)))].sort(),
    );
    expect(markdown).toMatch(/licensed electrician/);
    expect(markdown).toMatch(/DC/);
    const rowsOfTables = markdown.split('\n').filter((line) => line.startsWith('|'));
    expect(rowsOfTables.length).toBeGreaterThan(40);
    expect(rowsOfTables.filter((line) => !line.endsWith('|'))).toEqual([]);
  });
});
