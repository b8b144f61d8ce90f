/**
 * The clear-sky model beside clear hours that others measured, month by month. The files are no part of the project;
 * without them this is skipped.
 *
 * Which hours are clear is told by the light itself: diffuse light between 0.05 and 0.25 of the global one in the hour
 * and in the ones beside it, sun above 15 degrees. Hazy clear hours are left out by it, so the model looks too dull. The
 * clouds counted in the US typical years tell less: Golden has hours without a cloud and with a third of the light.
 */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { clearAir, clearSkyGlobal_W_m2 } from '../../packages/core/src/sky/clear-sky.ts';
import { sunOverIntervals } from '../../packages/core/src/sun/year.ts';
import { WEATHER_FOLDER, weatherThere } from '../support/shared-weather.ts';

const HOUR = 3_600_000;
const RAD = Math.PI / 180;
/** What a scenario of monthly normals gets unless it says more. */
const TURBIDITY = 3;

interface Hour {
  readonly start_ms: number;
  readonly month: number;
  readonly ghi: number;
  readonly dhi: number | null;
  readonly dni: number;
}

const cells = (file: string, head: number): string[][] =>
  readFileSync(resolve(WEATHER_FOLDER, file), 'utf8')
    .trim()
    .split(/\r?\n/)
    .slice(head)
    .map((line) => line.split(','));

/** Hours of a US typical year: the stamp ends the hour, each month of its own year. */
const typical = (file: string, offset_h: number): Hour[] =>
  cells(file, 2).map((row) => {
    const [month, day, year] = row[0]!.split('/').map(Number);
    const end_h = Number(row[1]!.split(':')[0]);
    return {
      start_ms: Date.UTC(year!, month! - 1, day!, end_h - 1) - offset_h * HOUR,
      month: month!,
      ghi: Number(row[4]),
      dni: Number(row[7]),
      dhi: Number(row[10]),
    };
  });
const melbourne = (): Hour[] =>
  cells('086282_Melbourne_AU_TMY.csv', 1).map((row) => ({
    start_ms: Date.parse(`${row[0]!.replace(' ', 'T')}Z`) - 10 * HOUR,
    month: Number(row[0]!.slice(5, 7)),
    ghi: Number(row[2]),
    dni: Number(row[3]),
    dhi: null,
  }));
const lyngby = (): Hour[] =>
  cells('DTU_Lyngby_DK_2016_hourly_mean_UTC.csv', 1).map((row) => ({
    start_ms: Date.parse(row[0]!.replace('Z', ':00Z')),
    month: Number(row[0]!.slice(5, 7)),
    ghi: row[1] === '' ? Number.NaN : Number(row[1]),
    dni: row[2] === '' ? Number.NaN : Number(row[2]),
    dhi: row[3] === '' ? Number.NaN : Number(row[3]),
  }));

const STATIONS = [
  {
    name: 'Boston',
    lat: 42.367,
    lon: -71.017,
    height: 6,
    hours: () => typical('725090_Boston_MA_TMY3.csv', -5),
  },
  {
    name: 'Golden',
    lat: 39.742,
    lon: -105.179,
    height: 1829,
    hours: () => typical('724666_Golden_CO_TMY3.csv', -7),
  },
  { name: 'Melbourne', lat: -37.6655, lon: 144.8321, height: 113, hours: melbourne },
  { name: 'Lyngby', lat: 55.79064, lon: 12.52505, height: 50, hours: lyngby },
];

describe.skipIf(!weatherThere).each(STATIONS)('clear hours of $name', ({ name, lat, lon, height, hours }) => {
  it(`Ineichen & Perez 2002 at turbidity ${TURBIDITY}: bias of the year within 5 %, by month within 15 %`, () => {
    const table = hours();
    const air = clearAir(height);
    const model = table.map(({ start_ms }) => {
      const start = Float64Array.of(start_ms);
      const sun = sunOverIntervals(start, Float64Array.of(start_ms + HOUR), {
        latitude_deg: lat,
        longitude_deg: lon,
      });
      const above = sun.extraterrestrial_horizontal_W_m2[0]!;
      return {
        altitude_deg: sun.altitude_deg[0]!,
        ghi: above > 0 ? clearSkyGlobal_W_m2(above, sun.air_mass[0]!, TURBIDITY, air) : 0,
      };
    });
    const isClear = (i: number): boolean => {
      const { ghi, dni, dhi } = table[i]!;
      const diffuse = dhi ?? ghi - dni * Math.sin(model[i]!.altitude_deg * RAD);
      return diffuse < 0.25 * ghi && diffuse > 0.05 * ghi;
    };
    const sums = Array.from({ length: 13 }, () => ({ hours: 0, measured: 0, error: 0, squares: 0 }));
    for (let i = 1; i + 1 < table.length; i++) {
      if (!(model[i]!.altitude_deg > 15 && isClear(i - 1) && isClear(i) && isClear(i + 1))) continue;
      const error = model[i]!.ghi - table[i]!.ghi;
      for (const k of [table[i]!.month - 1, 12]) {
        const sum = sums[k]!;
        sum.hours++;
        sum.measured += table[i]!.ghi;
        sum.error += error;
        sum.squares += error * error;
      }
    }
    const line = sums.map(({ hours: n, measured, error, squares }, k) => {
      const title = k === 12 ? 'year' : `${k + 1}`;
      if (n === 0) return `${title}: none`;
      return `${title}: ${n} h, ${((100 * error) / measured).toFixed(1)} %, ${Math.sqrt(squares / n).toFixed(0)} W/m²`;
    });
    console.info(
      `${name}: model less measured on clear hours, bias and rms by month\n  ${line.join('\n  ')}`,
    );
    const year = sums[12]!;
    expect(year.hours).toBeGreaterThan(100);
    expect(Math.abs(year.error / year.measured)).toBeLessThan(0.05);
    for (const { hours: n, measured, error } of sums)
      if (n >= 20) expect(Math.abs(error / measured)).toBeLessThan(0.15);
  });
});
