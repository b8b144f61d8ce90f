/**
 * Irradiation of tilted planes, month by month, against published tables: the table's own horizontal means go in as
 * `weather.kind: monthly_means`, and the mean of several drawn years is held against its tilted rows.
 */
import { describe, expect, it } from 'vitest';
import { prepareArray } from '../../packages/core/src/array/prepare.ts';
import { buildClock } from '../../packages/core/src/clock/clock.ts';
import type { ArraySpec, SkyModel } from '../../packages/core/src/scenario/schema/schema.ts';
import { prepareSky } from '../../packages/core/src/sky/prepare.ts';
import { sunYear } from '../../packages/core/src/sun/year.ts';

const DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const SEEDS = Array.from({ length: 20 }, (_, seed) => seed);

interface Station {
  readonly name: string;
  readonly latitude_deg: number;
  readonly longitude_deg: number;
  readonly elevation_m: number;
  readonly zone: string;
  readonly ghi_kWh_m2_day: readonly number[];
  readonly albedo: number | number[];
}

const yearOf = (months: readonly number[]): number =>
  months.reduce((sum, x, m) => sum + x * DAYS[m]!, 0) / 365;

/** Plane facing south, kWh/m² on a mean day of each month, mean over the seeds. */
function planeMonths(station: Station, tilt_deg: number, sky_model: SkyModel): readonly number[] {
  const { name, latitude_deg, longitude_deg, elevation_m, zone, ghi_kWh_m2_day, albedo } = station;
  const site = { name, latitude_deg, longitude_deg, elevation_m, time_zone: zone };
  const clock = buildClock(2025, zone, 60);
  const sun = sunYear(clock, site);
  const sums = new Float64Array(12);
  const spec = {
    name,
    tilt_deg,
    azimuth_deg: 180,
    sky_model,
    cell_model: { kind: 'faiman' },
    mounting: 'open_rack',
    power_temperature_coefficient_per_K: 0,
    low_light_loss_share: 0,
    incidence_b0: 0.05,
    losses: { soiling_share: 0, snow_share: 0, mismatch_share: 0, wiring_share: 0, ageing_share: 0 },
    albedo,
  } as ArraySpec;
  for (const seed of SEEDS) {
    const weather = {
      kind: 'monthly_means' as const,
      month_spread_share: 0,
      ghi_kWh_m2_day: [...ghi_kWh_m2_day],
      air_temperature_C: Array<number>(12).fill(10),
      turbidity_linke: 3,
      daily_swing_K: 8,
      wind_m_s: 1,
      seed,
    };
    const sky = prepareSky(weather, site, clock, sun, new Map(), 'test.yaml');
    const { plane_W_m2 } = prepareArray(spec, site, clock, sun, sky);
    for (let i = 0; i < clock.steps; i++) sums[clock.month[i]! - 1]! += plane_W_m2[i]! / 1000;
  }
  return DAYS.map((days, m) => sums[m]! / SEEDS.length / days);
}

const percents = (ours: readonly number[], theirs: readonly number[]): readonly number[] =>
  ours.map((x, m) => 100 * (x / theirs[m]! - 1));

/** Both rows, for whoever reads the test's output: a bias is worth knowing even within its bound. */
function tell(what: string, ours: readonly number[], theirs: readonly number[]): void {
  const row = (values: readonly number[], digits: number): string =>
    values.map((x) => x.toFixed(digits).padStart(5)).join(' ');
  console.info(
    `${what}\n  table ${row(theirs, 2)}  year ${yearOf(theirs).toFixed(2)}\n  ours  ${row(ours, 2)}  year ${yearOf(ours).toFixed(2)}\n  %     ${row(percents(ours, theirs), 1)}  year ${(100 * (yearOf(ours) / yearOf(theirs) - 1)).toFixed(1)}`,
  );
}

describe('St. Louis, Missouri: thirty years of hours, Perez 1990, albedo 0.2, by five tilts', () => {
  // Marion & Wilcox 1994, NREL/TP-463-5607, as Murphy 2021, Energy and Human Ambitions on a Finite Planet, table 13.2
  // prints it (a copy of that table was opened, the manual was not). South, kWh/m² a day, two digits; tilts are 0,
  // latitude less 15, latitude, latitude and 15, and 90. The manual's method (hours, Perez 1990, albedo 0.2) and the
  // station's place are recalled.
  const rows: readonly (readonly [number, readonly number[], number])[] = [
    [0, [2.2, 2.9, 3.9, 5.0, 5.9, 6.4, 6.4, 5.7, 4.6, 3.5, 2.3, 1.8], 4.2],
    [23.75, [3.2, 3.8, 4.6, 5.4, 5.9, 6.3, 6.3, 6.0, 5.3, 4.5, 3.2, 2.7], 4.8],
    [38.75, [3.6, 4.2, 4.7, 5.3, 5.6, 5.8, 5.9, 5.7, 5.3, 4.8, 3.5, 3.1], 4.8],
    [53.75, [3.8, 4.3, 4.6, 4.9, 4.9, 5.0, 5.1, 5.2, 5.1, 4.8, 3.7, 3.3], 4.6],
    [90, [3.5, 3.7, 3.4, 3.1, 2.6, 2.4, 2.6, 3.0, 3.5, 3.8, 3.2, 3.0], 3.2],
  ];
  const station: Station = {
    name: 'St. Louis',
    latitude_deg: 38.75,
    longitude_deg: -90.38,
    elevation_m: 172,
    zone: 'America/Chicago',
    ghi_kWh_m2_day: rows[0]![1],
    albedo: 0.2,
  };
  it.each(rows)(
    'tilt %d: months within 7 % (9 % upright), the year within 1.5 % and as printed',
    (tilt, table, year) => {
      const ours = planeMonths(station, tilt, 'perez');
      tell(`St. Louis, tilt ${tilt}, Perez`, ours, table);
      // Two digits in December are 2.8 % of the horizontal mean and 1.9 % of the steep one; November is the farthest.
      for (const off of percents(ours, table)) expect(Math.abs(off)).toBeLessThan(tilt === 90 ? 9 : 7);
      expect(Math.abs(yearOf(ours) / yearOf(table) - 1)).toBeLessThan(0.015);
      expect(Math.abs(yearOf(ours) - year)).toBeLessThan(0.1);
    },
  );
  it.each(rows.slice(1))('tilt %d: Hay & Davies stay below, by 5 % at most over the year', (tilt, table) => {
    const ours = planeMonths(station, tilt, 'hay_davies');
    tell(`St. Louis, tilt ${tilt}, Hay & Davies`, ours, table);
    const off = yearOf(ours) / yearOf(table) - 1;
    expect(off).toBeLessThan(0);
    expect(off).toBeGreaterThan(-0.05);
  });
});

describe.each([
  {
    // Duffie & Beckman, Solar Engineering of Thermal Processes, example 2.19.1: mean days of the month, even sky, the
    // diffuse share of Erbs for months. MJ/m² a day.
    name: 'Madison, Wisconsin, tilt 60',
    latitude_deg: 43.1,
    longitude_deg: -89.4,
    elevation_m: 262,
    zone: 'America/Chicago',
    ghi_kWh_m2_day: [6.44, 9.89, 12.86, 16.05, 21.36, 23.04, 22.58, 20.33, 14.59, 10.48, 6.37, 5.74].map(
      (x) => x / 3.6,
    ),
    albedo: [0.7, 0.7, 0.4, 0.2, 0.2, 0.2, 0.2, 0.2, 0.2, 0.2, 0.2, 0.4],
    tilt: 60,
    table: [13.7, 17.2, 15.8, 14.7, 16.6, 16.5, 16.8, 17.5, 15.6, 15.2, 11.4, 12.7].map((x) => x / 3.6),
  },
  {
    // NASA Surface meteorology and Solar Energy, 22-year means of the cell at 42.075 N 1.821 E (a copy was
    // opened). Its tilted rows come from monthly means too (recalled: even sky, mean days).
    name: 'cell of Catalonia, tilt 42',
    latitude_deg: 42.075,
    longitude_deg: 1.821,
    elevation_m: 609,
    zone: 'Etc/UTC',
    ghi_kWh_m2_day: [1.81, 2.77, 3.92, 4.66, 5.44, 6.28, 6.56, 5.67, 4.51, 2.96, 2.0, 1.56],
    albedo: 0.2,
    tilt: 42,
    table: [3.2, 4.07, 4.84, 4.78, 4.99, 5.46, 5.83, 5.59, 5.21, 4.1, 3.35, 2.95],
  },
])('$name: a table made from monthly means under an even sky', ({ tilt, table, ...station }) => {
  it('lies below Perez by some 3 % over the year, within 10 % in a month', () => {
    const ours = planeMonths(station, tilt, 'perez');
    tell(`${station.name}, Perez`, ours, table);
    const off = yearOf(ours) / yearOf(table) - 1;
    expect(off).toBeGreaterThan(0.01);
    expect(off).toBeLessThan(0.05);
    for (const month of percents(ours, table)) expect(Math.abs(month)).toBeLessThan(10);
  });
  it('is met by Hay & Davies within 1 % over the year, within 8 % in a month', () => {
    const ours = planeMonths(station, tilt, 'hay_davies');
    tell(`${station.name}, Hay & Davies`, ours, table);
    expect(Math.abs(yearOf(ours) / yearOf(table) - 1)).toBeLessThan(0.01);
    for (const month of percents(ours, table)) expect(Math.abs(month)).toBeLessThan(8);
  });
});
