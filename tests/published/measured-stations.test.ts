/** Sun, sky and planes at four real stations, by typed figures of them: what a bare clone holds of measured weather. */
import * as Astronomy from 'astronomy-engine';
import { describe, expect, it } from 'vitest';
import { prepareArray } from '../../packages/core/src/array/prepare.ts';
import { buildClock } from '../../packages/core/src/clock/clock.ts';
import type { ArraySpec } from '../../packages/core/src/scenario/schema/schema.ts';
import type { Series } from '../../packages/core/src/series/types.ts';
import { clearAir, clearSkyGlobal_W_m2 } from '../../packages/core/src/sky/clear-sky.ts';
import { diffuseShare } from '../../packages/core/src/sky/decompose.ts';
import { compareLight } from '../../packages/core/src/sky/light-check.ts';
import { unphysicalLight } from '../../packages/core/src/sky/plausible.ts';
import { prepareSky } from '../../packages/core/src/sky/prepare.ts';
import { sunOverIntervals, sunYear } from '../../packages/core/src/sun/year.ts';
import { MEASURED_STATIONS } from '../support/measured-stations.ts';

const HOUR = 3_600_000;
const RAD = Math.PI / 180;
const total = (x: Float64Array): number => x.reduce((sum, v) => sum + v, 0);

describe.each(MEASURED_STATIONS)('$name', (station) => {
  const { name, latitude_deg, longitude_deg, elevation_m, time_zone, year } = station;
  const site = { name, latitude_deg, longitude_deg, elevation_m, time_zone };
  const clock = buildClock(year, time_zone, 60);
  /** The hour of a station, or one so much later, by itself: the sun is asked for runs of hours, and these are apart. */
  const hourOf = (start: string, late_h = 0) => {
    const from = Float64Array.of(Date.parse(start) + late_h * HOUR);
    const to = from.map((t) => t + HOUR);
    return { from, to, sun: sunOverIntervals(from, to, site) };
  };

  it('light above the air, month by month within 0.3 % of the Almanac’s sun', () => {
    const sums = new Float64Array(12);
    const { extraterrestrial_horizontal_W_m2: above } = sunYear(clock, site, 1367);
    for (let i = 0; i < clock.steps; i++) sums[clock.month[i]! - 1]! += above[i]! / 1000;
    for (const [m, sum] of sums.entries())
      expect(Math.abs(sum / station.above_air_kWh_m2[m]! - 1), `month ${m + 1}`).toBeLessThan(0.003);
  });

  it('drawn from its monthly sums: planes within 2 % of its own hours, an upright one within 6 %, diffuse light within 10 %', () => {
    const days = [31, year % 4 === 0 ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    const seeds = [1, 2, 3, 4, 5, 6];
    const ours = sunYear(clock, site);
    const skies = seeds.map((seed) => {
      const weather = {
        kind: 'monthly_means' as const,
        decomposition: 'erbs' as const,
        ghi_kWh_m2_day: station.ghi_kWh_m2.map((sum, m) => sum / days[m]!),
        air_temperature_C: Array<number>(12).fill(15),
        turbidity_linke: 3,
        daily_swing_K: 8,
        wind_m_s: 1,
        seed,
      };
      return prepareSky(weather, site, clock, ours, new Map(), 'test.yaml');
    });
    const mean = (of: (sky: (typeof skies)[number]) => Float64Array): number =>
      skies.reduce((sum, sky) => sum + total(of(sky)) / 1000 / seeds.length, 0);
    const off = station.planes_kWh_m2.map(([tilt_deg, measured]) => {
      const spec = {
        name: 'plane',
        size_kWp: 1,
        tilt_deg,
        azimuth_deg: latitude_deg > 0 ? 180 : 0,
        power_temperature_coefficient_per_K: -0.0035,
        mounting: 'open_rack',
        losses: { soiling_share: 0, snow_share: 0, mismatch_share: 0, wiring_share: 0, ageing_share: 0 },
        albedo: 0.2,
        sky_model: 'hay_davies',
      } as ArraySpec;
      return mean((sky) => prepareArray(spec, site, clock, ours, sky).plane_W_m2) / measured - 1;
    });
    const diffuse = mean((sky) => sky.dhi_W_m2) / station.dhi_kWh_m2 - 1;
    console.info(
      `${name}: planes ${off.map((x) => `${(100 * x).toFixed(1)} %`)}, diffuse ${(100 * diffuse).toFixed(1)} %`,
    );
    for (const [k, [tilt_deg]] of station.planes_kWh_m2.entries())
      expect(Math.abs(off[k]!), `tilt ${tilt_deg}`).toBeLessThan(tilt_deg === 90 ? 0.06 : 0.02);
    expect(Math.abs(diffuse)).toBeLessThan(0.1);
  });

  it.each(station.hours)(
    '%s at %s: the ephemeris’s sun, closing, possible, and as clear as the models have it',
    (sky, start, ghi, dni, dhi) => {
      const { sun } = hourOf(start);
      const middle = Astronomy.MakeTime(new Date(Date.parse(start) + HOUR / 2));
      const observer = new Astronomy.Observer(latitude_deg, longitude_deg, elevation_m);
      const { ra, dec } = Astronomy.Equator(Astronomy.Body.Sun, middle, observer, true, true);
      const seen = Astronomy.Horizon(middle, observer, ra, dec);
      expect(Math.abs(sun.altitude_deg[0]! - seen.altitude)).toBeLessThan(0.02);
      expect(Math.abs(sun.azimuth_deg[0]! - seen.azimuth)).toBeLessThan(0.1);
      if (station.closes_by_itself)
        expect(Math.abs(dhi + dni * Math.sin(seen.altitude * RAD) - ghi)).toBeLessThan(
          Math.max(10, 0.02 * ghi),
        );
      const above = sun.extraterrestrial_horizontal_W_m2[0]!;
      if (sky === 'dull') expect(diffuseShare(ghi / above)).toBeGreaterThan(0.85);
      if (sky === 'dull') return;
      // The haze that the beam tells, by the model's own beam equation: Ineichen & Perez 2002, eq. 8.
      const air = clearAir(elevation_m);
      const mass = sun.air_mass[0]!;
      const own = sun.extraterrestrial_normal_W_m2[0]! * (0.664 + 0.163 / air.fh1);
      const haze = Math.max(1, 1 + Math.log(own / dni) / (0.09 * mass * air.pressure_share));
      expect(Math.abs(clearSkyGlobal_W_m2(above, mass, haze, air) / ghi - 1)).toBeLessThan(
        sky === 'clear' ? 0.1 : 0.2,
      );
      if (sky === 'clear') expect(diffuseShare(ghi / above)).toBeLessThan(0.35);
    },
  );

  it('its hours are possible where they stand, and around noon not twelve hours later', () => {
    for (const [sky, start, ghi, dni, dhi] of station.hours)
      for (const late_h of sky === 'clear' ? [0, 12] : [0]) {
        const { from, to, sun } = hourOf(start, late_h);
        const values = { ghi, dni, dhi };
        const series: Series = {
          file: 'station.csv',
          start_ms: from,
          end_ms: to,
          given: false,
          line: Uint32Array.of(2),
          values: new Map([['ghi', Float64Array.of(ghi)]]),
          as_of_year: null,
          leap_day: 'as_filed',
        };
        const light = compareLight(series, sun, longitude_deg);
        const faults = (['ghi', 'dni', 'dhi'] as const).flatMap((name) =>
          unphysicalLight(name, Float64Array.of(values[name]), series, name, sun, light),
        );
        expect(
          faults.map(({ code }) => code).includes('above-extraterrestrial'),
          `${start} + ${late_h} h`,
        ).toBe(late_h === 12);
        if (late_h === 0) expect(faults).toEqual([]);
      }
  });
});
