/**
 * Light on steep planes from the sums of days alone, as drawn years have them, against the same days hour by hour with
 * their own beam and diffuse light: typical years of three places and a measured one.
 */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { prepareArray } from '../../packages/core/src/array/prepare.ts';
import { buildClock } from '../../packages/core/src/clock/clock.ts';
import type { ArraySpec, Site } from '../../packages/core/src/scenario/schema/schema.ts';
import {
  type Split,
  splitByBeam,
  splitByDiffuse,
  splitDays,
  splitGlobal,
} from '../../packages/core/src/sky/decompose.ts';
import { hoursOfDays } from '../../packages/core/src/sky/monthly-means.ts';
import type { SkyYear } from '../../packages/core/src/sky/types.ts';
import { sunYear } from '../../packages/core/src/sun/year.ts';
import { WEATHER_FOLDER, weatherThere } from '../support/shared-weather.ts';

/** Columns of global, beam and diffuse light (W/m², hourly means by local standard hour), sources in the folder's list. */
const FILES = [
  {
    name: 'Boston',
    file: '725090_Boston_MA_TMY3.csv',
    at: [42.367, -71.017, 6],
    zone: 'Etc/GMT+5',
    year: 2025,
    head: 2,
    columns: [4, 7, 10],
    darkest: 11,
  },
  {
    name: 'Golden',
    file: '724666_Golden_CO_TMY3.csv',
    at: [39.742, -105.179, 1829],
    zone: 'Etc/GMT+7',
    year: 2025,
    head: 2,
    columns: [4, 7, 10],
    darkest: 11,
  },
  {
    name: 'Melbourne',
    file: '086282_Melbourne_AU_TMY.csv',
    at: [-37.6655, 144.8321, 113],
    zone: 'Etc/GMT-10',
    year: 2025,
    head: 1,
    columns: [2, 3, -1],
    darkest: 5,
  },
  {
    name: 'Lyngby',
    file: 'DTU_Lyngby_DK_2016_hourly_mean_UTC.csv',
    at: [55.79064, 12.52505, 50],
    zone: 'Etc/UTC',
    year: 2016,
    head: 1,
    columns: [1, 2, 3],
    darkest: 11,
  },
] as const;

describe.skipIf(!weatherThere).each(FILES)('$name', (from) => {
  it('has in its darkest month, on 60 degrees, what its hours give', () => {
    const [latitude_deg, longitude_deg, elevation_m] = from.at;
    const site: Site = { name: from.name, latitude_deg, longitude_deg, elevation_m, time_zone: from.zone };
    const clock = buildClock(from.year, from.zone, 60);
    const sun = sunYear(clock, site);
    const rows = readFileSync(resolve(WEATHER_FOLDER, from.file), 'utf8')
      .trim()
      .split(/\r?\n/)
      .slice(from.head);
    expect(rows.length).toBe(clock.steps);
    const column = (k: number): Float64Array =>
      Float64Array.from(rows, (row) => Math.max(0, Number(row.split(',')[k]) || 0));
    const ghi = column(from.columns[0]);
    const days = new Float64Array(clock.days);
    ghi.forEach((value, i) => {
      days[clock.day[i]!]! += value / 1000;
    });
    const even = hoursOfDays(days, new Float64Array(clock.steps).fill(3), elevation_m, clock, sun);
    const plane = (ghi_W_m2: Float64Array, split: Split): number[] => {
      const still = new Float64Array(clock.steps);
      const sky: SkyYear = {
        ghi_W_m2,
        ...split,
        air_temperature_C: still,
        wind_m_s: still,
        notices: [],
        assumptions: [],
      };
      const spec = {
        name: 'plane',
        tilt_deg: 60,
        azimuth_deg: latitude_deg > 0 ? 180 : 0,
        sky_model: 'perez',
        cell_model: { kind: 'faiman' },
        mounting: 'open_rack',
        power_temperature_coefficient_per_K: 0,
        low_light_loss_share: 0,
        incidence_b0: 0.05,
        losses: { soiling_share: 0, snow_share: 0, mismatch_share: 0, wiring_share: 0, ageing_share: 0 },
        albedo: 0.2,
      } as ArraySpec;
      const sums = new Array<number>(12).fill(0);
      prepareArray(spec, site, clock, sun, sky).plane_W_m2.forEach((value, i) => {
        sums[clock.month[i]! - 1]! += value / 1000;
      });
      return sums;
    };
    const beam = column(from.columns[1]);
    const measured = plane(
      ghi,
      from.columns[2] < 0 ? splitByBeam(ghi, beam, sun) : splitByDiffuse(ghi, column(from.columns[2]), sun),
    );
    const off = (ours: readonly number[]): number[] =>
      ours.map((value, m) => 100 * (value / measured[m]! - 1));
    const byDays = off(plane(even, splitDays(even, sun, clock)));
    const byHours = off(plane(even, splitGlobal(even, sun)));
    const row = (values: readonly number[]): string => values.map((v) => v.toFixed(0).padStart(4)).join('');
    console.info(
      `${from.name}, % off on 60 degrees by month: by days ${row(byDays)}; as if each hour were even ${row(byHours)}`,
    );
    expect(Math.abs(byDays[from.darkest]!)).toBeLessThan(6);
    expect(Math.abs(byDays[from.darkest]!)).toBeLessThan(Math.abs(byHours[from.darkest]!) + 1);
    for (const value of byDays) expect(Math.abs(value)).toBeLessThan(13);
  });
});
