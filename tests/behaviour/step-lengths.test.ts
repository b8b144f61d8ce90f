/** Sky, series and studies in steps shorter than an hour: the same sums, times and hours as in whole hours. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import {
  askWeek,
  findings,
  InputError,
  plantOf,
  playEveryYear,
  playYear,
  prepareYear,
  readScenario,
} from '@longnight/core';
import { buildClock } from '@longnight/core/clock';
import { type Series, weatherFindings } from '@longnight/core/sky';
import { describe, expect, it } from 'vitest';
import { meanPeak } from '../../packages/core/src/findings/static/mean-peak.ts';
import { survival } from '../../packages/core/src/findings/sunless/autonomy.ts';
import type { Gaps } from '../../packages/core/src/scenario/schema/schema.ts';
import { layOnClock } from '../../packages/core/src/series/grid.ts';
import { closeYear } from '../../packages/core/src/series/turn-of-year.ts';
import { fillLight } from '../../packages/core/src/sky/fill-light.ts';
import { newTrial } from '../../packages/core/src/study/improve/outcome.ts';
import { judgeOf } from '../../packages/core/src/study/size/judge.ts';
import { yearsOfFile } from '../../packages/core/src/study/years/file-years.ts';
import { sunYear } from '../../packages/core/src/sun/year.ts';
import { weatherCsv, weatherRows } from '../cli/support/weather.ts';
import { plantWith } from '../support/plant.ts';
import { yearOf } from '../support/year.ts';

const total = (column: Float64Array): number => column.reduce((sum, x) => sum + x, 0);
const DEMO = readFileSync(resolve(import.meta.dirname, '../../data/demo/short-of-bank.yaml'), 'utf8');
const CLEAR = DEMO.replace(
  /weather:[\s\S]*?\narrays:/,
  'weather: { kind: clear-sky, turbidity_linke: 3, air_temperature_C: 9 }\n\narrays:',
);
const SERIES = DEMO.replace(
  /weather:[\s\S]*?\narrays:/,
  `weather:
  kind: series
  file: w.csv
  time: { column: time, zone: UTC, label: start }
  ghi: { column: ghi, unit: W_m2 }
  air_temperature: { column: t_air, unit: C }

arrays:`,
)
  .replace('Europe/Oslo', 'Europe/Berlin')
  .replace('latitude_deg: 61.3', 'latitude_deg: 50')
  .replace('longitude_deg: 11.8', 'longitude_deg: 10')
  .replace('year: 2026', 'year: 2025');

function prepared(text: string, step_min: number, rows: readonly string[] = []) {
  const read = readScenario(text.replace('\nrun:\n', `\nrun:\n  step_min: ${step_min}\n`), 'plant.yaml');
  const texts = new Map([['w.csv', weatherCsv(rows)]]);
  return { read, texts, year: prepareYear(read, 'plant.yaml', texts), plant: plantOf(read.scenario) };
}

describe('the sky', () => {
  it('drawn from monthly means has the same days in steps of any length, and the year its length', () => {
    const hourly = weatherFindings(prepared(DEMO, 60).year);
    for (const step_min of [60, 15]) {
      const report = weatherFindings(prepared(DEMO, step_min).year);
      report.months.forEach((month, m) => {
        // A finer step has the sun a little elsewhere, and with it the light above the air that a day is a share of.
        expect(month.ghi_kWh_m2 / hourly.months[m]!.ghi_kWh_m2).toBeCloseTo(1, 2);
        expect(month.air_temperature_mean_C).toBeCloseTo(hourly.months[m]!.air_temperature_mean_C, 2);
      });
      expect(report.coverage).toEqual({
        from: '2026-01-01T00:00:00+01:00',
        to: '2027-01-01T00:00:00+01:00',
        hours: 8760,
      });
    }
  });

  it('without clouds sends the same light, from the same sun, at the same time of the day', () => {
    const hourly = prepared(CLEAR, 60).year;
    const was = weatherFindings(hourly);
    for (const step_min of [15]) {
      const { year } = prepared(CLEAR, step_min);
      const { year: is, clock } = weatherFindings(year);
      // Above the air it is a closed form of the interval; below, hours of low sun are bent.
      expect(is.extraterrestrial_kWh_m2 / was.year.extraterrestrial_kWh_m2).toBeCloseTo(1, 6);
      for (const light of ['ghi_kWh_m2', 'dni_kWh_m2', 'dhi_kWh_m2'] as const)
        expect(Math.abs(is[light] / was.year[light] - 1), light).toBeLessThan(0.02);
      expect(clock.late_min! - was.clock.late_min!).toBeCloseTo(0, 0);
      const n = 60 / step_min;
      const [air, airHourly] = [year.sky.air_temperature_C, hourly.sky.air_temperature_C];
      for (let h = 0; h < 48; h++)
        expect(total(air.slice(h * n, (h + 1) * n)) / n).toBeCloseTo(airHourly[h]!, 1);
    }
  });
});

describe('a file of hourly weather', () => {
  const rows = weatherRows();

  it('keeps each row’s light and follows the sun within it', () => {
    const hourly = prepared(SERIES, 60, rows).year.sky;
    const { year } = prepared(SERIES, 15, rows);
    // A morning.
    const at = hourly.ghi_W_m2.findIndex((ghi, h) => ghi > 150 && ghi > 1.5 * hourly.ghi_W_m2[h - 1]!);
    const within = year.sky.ghi_W_m2.slice(4 * at, 4 * at + 4);
    expect(total(within) / 4).toBeCloseTo(hourly.ghi_W_m2[at]!, 9);
    expect(within[3]! / within[0]!).toBeGreaterThan(1.05);
    expect(total(year.sky.ghi_W_m2) / 4).toBeCloseTo(total(hourly.ghi_W_m2), 6);
  });

  it('is played over every whole year with the light that it has, and half a year is held as half', () => {
    const next = rows.map((row) => row.replace(/^2025/, '2026').replace(/^2024/, '2025'));
    for (const step_min of [60, 15]) {
      const { read, texts, year } = prepared(SERIES, step_min, [...rows, ...next]);
      const light_kWh_m2 = rows.reduce((sum, row) => sum + Number(row.split(',')[1]), 0) / 1000;
      const { by_year } = playEveryYear(read, 'plant.yaml', texts, year)!;
      expect(by_year.map((row) => row.year)).toEqual([2025, 2026]);
      for (const { ghi_kWh_m2 } of by_year) expect(ghi_kWh_m2).toBeCloseTo(light_kWh_m2, 6);
      const half = new Map([['w.csv', weatherCsv(rows.slice(0, 4380))]]);
      expect(yearsOfFile(read.scenario, 'plant.yaml', half)).toEqual([
        { year: 2025, days: 365, held: expect.closeTo(0.5, 12) },
      ]);
    }
  });
});

/** Rows of a series from an instant on. */
function seriesOf(
  start_ms: number,
  row_min: number,
  values: readonly number[],
  as_of_year: number | null = null,
): Series {
  const start = Float64Array.from(values, (_, r) => start_ms + r * row_min * 60_000);
  return {
    file: 'x.csv',
    as_of_year,
    start_ms: start,
    end_ms: start.map((ms) => ms + row_min * 60_000),
    given: false,
    line: Uint32Array.from(values, (_, r) => r + 2),
    values: new Map([['x', Float64Array.from(values)]]),
    leap_day: 'as_filed',
  };
}

describe('a series on a clock of quarter hours', () => {
  const berlin = buildClock(2025, 'Europe/Berlin', 15);
  const first_ms = berlin.start_ms[0]!;
  const fill: Gaps = { fill: 'interpolate', longest_h: 3 };
  const gapped = Array.from({ length: 8760 }, (_, i) => (i >= 5000 && i < 5002 ? Number.NaN : i));

  it('marks the steps that were filled', () => {
    const { values, filled } = layOnClock(seriesOf(first_ms, 60, gapped), berlin, fill, 'weather');
    expect([...filled.get('x')!].flatMap((is, i) => (is === 1 ? [i] : []))).toEqual(
      Array.from({ length: 8 }, (_, k) => 20_000 + k),
    );
    expect(values.get('x')![4 * 100]).toBe(100);
    expect(values.get('x')!.at(-1)).toBe(8759);
    // Rows half a quarter late: each step has a half of two of them.
    const late = seriesOf(
      first_ms - 7.5 * 60_000,
      15,
      Array.from({ length: berlin.steps + 1 }, (_, i) => i),
    );
    expect(layOnClock(late, berlin, fill, 'weather').values.get('x')![1000]).toBeCloseTo(1000.5, 9);
  });

  it('says in the local time of the season where one is missing', () => {
    const act = () =>
      layOnClock(seriesOf(first_ms, 60, gapped), berlin, { fill: 'refuse', longest_h: 0 }, 'weather');
    expect(act).toThrow(InputError);
    // Hour 5000 in winter time is 28 July, 08:00; summer time is an hour later.
    expect(act).toThrow(/2025-07-28 09:00 to 2025-07-28 11:00/);
  });

  it('needs the last quarter of the year as well', () => {
    const short = seriesOf(
      first_ms,
      15,
      Array.from({ length: berlin.steps - 1 }, (_, i) => i),
    );
    const act = () => layOnClock(short, berlin, { fill: 'refuse', longest_h: 0 }, 'weather');
    expect(act).toThrow(/2025-12-31 23:45/);
  });

  it('read as of a year takes the hours that a zone is behind from its other end', () => {
    const york = buildClock(2025, 'America/New_York', 15);
    const whole = seriesOf(
      Date.UTC(2025, 0, 1),
      15,
      Array.from({ length: 35_040 }, (_, i) => i),
      2025,
    );
    const { series, notices } = closeYear(whole, york, 'weather');
    expect(notices[0]).toMatchObject({ count: 20, message: expect.stringContaining(': 5 h at the turn') });
    expect([...series.values.get('x')!.slice(-2)]).toEqual([18, 19]);
    expect(series.end_ms.at(-1)).toBe(york.start_ms.at(-1)! + 900_000);
  });
});

describe('light that is missing', () => {
  const site = { latitude_deg: 50, longitude_deg: 10 };
  /** Filled light over what the sun sends, in the steps of a gap from one hour of 21 June to another. */
  const clearness = (step_min: number, from_h: number, to_h: number, of: (hour: number) => number) => {
    const clock = buildClock(2025, 'Etc/UTC', step_min);
    const above = sunYear(clock, site).extraterrestrial_horizontal_W_m2;
    const midnight = clock.day_start[171]!;
    const hourOf = (i: number): number => ((i - midnight) * step_min) / 60;
    const filled = Uint8Array.from(above, (_, i) => (hourOf(i) >= from_h && hourOf(i) < to_h ? 1 : 0));
    const light = above.map((W, i) => (filled[i] === 1 ? 0 : W * of(hourOf(i))));
    fillLight(light, filled, above, clock);
    return [...light].flatMap((W, i) => (filled[i] === 1 && above[i]! > 0 ? [W / above[i]!] : []));
  };

  it.each([60, 15, 5])('has the clearness of as many lit hours beside it, in steps of %i min', (step_min) => {
    // Three hours at noon: 0.6 three hours before and after, 0.2 beyond.
    const noon = clearness(step_min, 11, 14, (hour) => (hour >= 8 && hour < 17 ? 0.6 : 0.2));
    expect(noon.length).toBe((3 * 60) / step_min);
    for (const share of noon) expect(share).toBeCloseTo(0.6, 9);
  });

  it.each([60, 15, 5])('finds it beyond the night, in steps of %i min', (step_min) => {
    // All of a day: the light nearest to it is some eight hours away on either side.
    const day = clearness(step_min, 0, 24, () => 0.5);
    expect(day.length).toBeGreaterThan((15 * 60) / step_min);
    for (const share of day) expect(share).toBeCloseTo(0.5, 9);
  });
});

describe('studies', () => {
  /** Thirty days of one load and no sun; nothing but 5 kWh in the bank. */
  const dark = (load_kW: number, step_min: number) => {
    const steps = (30 * 1440) / step_min;
    return yearOf({
      dc_kW_per_kWp: [new Float64Array(steps)],
      load_kW: new Float64Array(steps).fill(load_kW),
      step_min,
    });
  };

  it.each([60, 15])('count hours, not steps, of %i min', (step_min) => {
    // 1 kW for 5 hours, then 43 without in two days.
    const answer = askWeek(dark(1, step_min), plantWith({}), {
      days: 2,
      start: null,
      soc: 1,
      generator: true,
    });
    expect(answer.unmet_kWh).toBeCloseTo(43, 9);
    expect(answer.unmet_hours).toBeCloseTo(43, 9);
    expect(answer.rides_days).toBeCloseTo(5 / 24, 9);
    // 0.02 kW lasts 250 hours: five rounds of 48 and 10 hours of the next.
    const later = askWeek(dark(0.02, step_min), plantWith({}), {
      days: 2,
      start: null,
      soc: 1,
      generator: true,
    });
    expect(later.rides_days).toBeCloseTo(250 / 24, 9);
  });

  it.each([60, 15])('try a change in steps of %i min with the hours of its year', (step_min) => {
    const { read, texts, year, plant } = prepared(DEMO, step_min);
    const report = findings(playYear(year, plant));
    const outcome = newTrial('plant.yaml', texts, judgeOf({}))(read.scenario);
    expect(report.unmet.hours).toBeGreaterThan(10);
    expect(outcome.unmet_hours).toBe(report.unmet.hours);
    // Energy over the plane by hand.
    const plane_kWh_m2 = (total(year.arrays[0]!.plane_W_m2) * (step_min / 60)) / 1000;
    expect(report.array.plane_kWh_m2).toBeCloseTo(plane_kWh_m2, 9);
  });

  it('hold the highest step of the loads as a power', () => {
    const { year, plant } = prepared(DEMO.replace('power_W: 2000', 'power_W: 90000'), 15);
    const ledger = playYear(year, plant);
    const { limits } = findings(ledger);
    const { ac_peak_kW, conflicts } = meanPeak(ledger, limits);
    expect(ac_peak_kW).toBeCloseTo(Math.max(...year.loads.total_kW), 12);
    expect(conflicts).toHaveLength(1);
    expect(conflicts[0]!.wanted_kW).toBeCloseTo(Math.max(...year.loads.total_kW), 12);
  });

  it('draw how long a bank lasts at distances of whole hours', () => {
    // Four starts: the curve falls at 1.25, 2.5 and 3 h; then at 100 h its points are two hours apart.
    expect(survival([1.25, 2.5, 3, 3]).map(({ hours, starts_share }) => [hours, starts_share])).toEqual([
      [0, 1],
      [1, 1],
      [2, 0.75],
      [3, 0.5],
      [4, 0],
    ]);
    const far = survival([100]);
    expect(far[1]!.hours).toBe(2);
    expect(far.at(-1)).toEqual({ hours: 102, starts_share: 0 });
    expect(far.at(-2)).toEqual({ hours: 100, starts_share: 1 });
  });
});
