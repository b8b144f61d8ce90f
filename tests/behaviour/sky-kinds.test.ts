/** Clear sky, air temperature and the split, through `prepareSky`. */
import { describe, expect, it } from 'vitest';
import { buildClock } from '../../packages/core/src/clock/clock.ts';
import type { ClearSkyWeather, Site } from '../../packages/core/src/scenario/schema/schema.ts';
import { splitByBeam, splitByDiffuse, splitGlobal } from '../../packages/core/src/sky/decompose.ts';
import { drawThrough, halfMonths } from '../../packages/core/src/sky/mid-months.ts';
import { prepareSky } from '../../packages/core/src/sky/prepare.ts';
import { airTemperature_C } from '../../packages/core/src/sky/temperature.ts';
import { sunYear } from '../../packages/core/src/sun/year.ts';

const RAD = Math.PI / 180;
const BERLIN: Site = {
  name: 'test',
  latitude_deg: 52.52,
  longitude_deg: 13.41,
  elevation_m: 40,
  time_zone: 'Europe/Berlin',
};
const clear = (turbidity_linke: ClearSkyWeather['turbidity_linke']): ClearSkyWeather => ({
  kind: 'clear-sky',
  turbidity_linke,
  air_temperature_C: 10,
  daily_swing_K: 8,
  wind_m_s: 2,
});
const clock = buildClock(2025, 'Europe/Berlin', 60);
const sun = sunYear(clock, BERLIN);
const MONTHLY_C = [-3, -1, 4, 9, 14, 18, 20, 19, 15, 9, 4, -1];

const farthest = (a: Float64Array, b: Float64Array): number =>
  a.reduce((most, x, i) => Math.max(most, Math.abs(x - b[i]!)), 0);
const largestStep = (a: Float64Array): number => farthest(a.subarray(1), a.subarray(0, -1));

describe('clear sky', () => {
  const sky = prepareSky(clear(3), BERLIN, clock, sun, new Map(), 'test.yaml');
  it('closes in every step, with beam and diffuse both there when the sun is well up', () => {
    let open = 0;
    let odd = 0;
    for (let i = 0; i < clock.steps; i++) {
      const sine = Math.sin(Math.max(0, sun.altitude_deg[i]!) * RAD);
      open = Math.max(open, Math.abs(sky.ghi_W_m2[i]! - sky.dhi_W_m2[i]! - sky.dni_W_m2[i]! * sine));
      const diffuse = sky.dhi_W_m2[i]! / sky.ghi_W_m2[i]!;
      const high = sun.altitude_deg[i]! > 10 && sun.up_share[i] === 1;
      if (high && !(sky.dni_W_m2[i]! > 200 && diffuse > 0.05 && diffuse < 0.6)) odd++;
      if (sun.up_share[i] === 0 && sky.ghi_W_m2[i] !== 0) odd++;
    }
    expect(open).toBeLessThan(1e-9);
    expect(odd).toBe(0);
    expect(sky.wind_m_s.every((v) => v === 2)).toBe(true);
  });
  it('loses light with turbidity, and monthly turbidity runs through the middles of the months without a jump', () => {
    const murky = prepareSky(clear(6), BERLIN, clock, sun, new Map(), 'test.yaml');
    expect(sky.ghi_W_m2.findIndex((ghi, i) => ghi > 1 && murky.ghi_W_m2[i]! >= ghi)).toBe(-1);
    const values = [2, 2.5, 3, 3.5, 4, 4.5, 5, 4, 3.5, 3, 2.5, 2];
    const drawn = drawThrough(values, halfMonths(clock));
    expect(largestStep(drawn)).toBeLessThan(0.002);
    expect(drawn[14 * 24 + 181 * 24 + 36]).toBeCloseTo(5, 2);
    expect(drawn[0]).toBeCloseTo((values[0]! + values[11]!) / 2, 3);
    const constant = drawThrough(Array<number>(12).fill(3.3), halfMonths(clock));
    expect(constant.every((x) => Math.abs(x - 3.3) < 1e-12)).toBe(true);
  });
});

describe('air temperature', () => {
  it.each([
    [2025, 'Europe/Berlin', 13.41, 60],
    [2024, 'America/St_Johns', -52.7, 15],
    [2025, 'Pacific/Auckland', 174.8, 30],
  ] as const)(
    '%d in %s: monthly means exactly, daily range and hour of the peak',
    (year, zone, longitude, step_min) => {
      const here = buildClock(year, zone, step_min);
      const air = airTemperature_C(MONTHLY_C, 8, longitude, here, halfMonths(here));
      const sums = new Float64Array(12);
      const counts = new Float64Array(12);
      for (let i = 0; i < here.steps; i++) {
        sums[here.month[i]! - 1]! += air[i]!;
        counts[here.month[i]! - 1]! += 1;
      }
      for (let m = 0; m < 12; m++) expect(sums[m]! / counts[m]!).toBeCloseTo(MONTHLY_C[m]!, 9);
      // A day of July, where the mean hardly moves.
      const july = air.findIndex((_, i) => here.month[i] === 7 && here.day[i] === 200);
      const perDay = 1440 / step_min;
      const day = air.slice(july, july + perDay);
      expect(Math.abs(Math.max(...day) - Math.min(...day) - 8)).toBeLessThan(0.3);
      const warmest = here.start_ms[july + day.indexOf(Math.max(...day))]! / 3_600_000 + step_min / 120;
      expect(Math.abs(((warmest + longitude / 15) % 24) - 15)).toBeLessThan(step_min / 60 + 0.01);
    },
  );
  it('has no jump where months meet', () => {
    const air = airTemperature_C(MONTHLY_C, 0, 13.41, clock, halfMonths(clock));
    expect(largestStep(air)).toBeLessThan(0.02);
    expect(Math.abs(air[0]! - air[clock.steps - 1]!)).toBeLessThan(0.02);
  });
});

describe('split of light', () => {
  const sky = prepareSky(clear(3), BERLIN, clock, sun, new Map(), 'test.yaml');
  it('by beam and by diffuse give back a sky that closes', () => {
    const byBeam = splitByBeam(sky.ghi_W_m2, sky.dni_W_m2, sun);
    const byDiffuse = splitByDiffuse(sky.ghi_W_m2, sky.dhi_W_m2, sun);
    expect(farthest(byBeam.dhi_W_m2, sky.dhi_W_m2)).toBeLessThan(1e-9);
    expect(farthest(byDiffuse.dni_W_m2, sky.dni_W_m2)).toBeLessThan(1e-6);
  });
  it('never gives beam above the sun’s or below nothing, whatever the measurement says', () => {
    const wild = sky.ghi_W_m2.map((_, i) => (i % 5) * 400);
    const half = wild.map((x) => x / 2);
    for (const split of [
      splitGlobal(wild, sun),
      splitByBeam(
        wild,
        wild.map((x) => 2 * x),
        sun,
      ),
      splitByDiffuse(wild, half, sun),
      splitByDiffuse(half, wild, sun),
    ])
      expect(
        split.dni_W_m2.findIndex((dni, i) => {
          const most = sun.extraterrestrial_normal_W_m2[i]! * sun.up_share[i]!;
          return !(dni >= 0 && dni <= most + 1e-9 && split.dhi_W_m2[i]! >= 0);
        }),
      ).toBe(-1);
  });
  it('light with the sun down is all diffuse', () => {
    const night = sun.up_share.indexOf(0);
    const ghi = new Float64Array(clock.steps);
    ghi[night] = 7;
    expect(splitGlobal(ghi, sun).dhi_W_m2[night]).toBe(7);
  });
});
