/**
 * Years drawn from monthly means against years of measured days: how long and how deep they fall, and how often a plant
 * that drawn years would choose holds in measured ones.
 */
import { type PreparedYear, playYear, prepareYear, type ScenarioInput, scenarioOf } from '@longnight/core';
import { describe, expect, it } from 'vitest';
import { prepareArray } from '../../packages/core/src/array/prepare.ts';
import { buildClock, type Clock } from '../../packages/core/src/clock/clock.ts';
import type { Site } from '../../packages/core/src/scenario/schema/schema.ts';
import { splitDays } from '../../packages/core/src/sky/decompose.ts';
import { drawYear, hoursOfDays } from '../../packages/core/src/sky/monthly-means.ts';
import { sunYear } from '../../packages/core/src/sun/year.ts';
import { type DailyYears, dailyYears, PLACES, seriesThere } from '../support/daily-series.ts';
import { plantWith } from '../support/plant.ts';

/** Hyndman & Fan 1996, definition 7. */
function quantileSorted(sorted: readonly number[], share: number): number {
  const at = share * (sorted.length - 1);
  const low = sorted[Math.floor(at)]!;
  return low + (at - Math.floor(at)) * (sorted[Math.ceil(at)]! - low);
}

const RUNS = [3, 7, 14, 30] as const;
const DRAWN = 200;
/** November to January: the season of most outages, days 304 to 365 and the 31 after them. */
const SEASON_START = 304;

function placeAt(latitude_deg: number, longitude_deg: number, elevation_m: number) {
  const site: Site = { name: 'test', latitude_deg, longitude_deg, elevation_m, time_zone: 'Etc/UTC' };
  const clock = buildClock(2025, 'Etc/UTC', 60);
  const sun = sunYear(clock, site);
  const haze = new Float64Array(clock.steps).fill(3);
  const draw = (ghi_kWh_m2_day: readonly number[], seed: number) =>
    drawYear(
      {
        kind: 'monthly_means',
        ghi_kWh_m2_day: [...ghi_kWh_m2_day],
        air_temperature_C: new Array<number>(12).fill(10),
        daily_swing_K: 8,
        wind_m_s: 1,
        turbidity_linke: 3,
        seed,
      },
      haze,
      elevation_m,
      clock,
      sun,
      'test.yaml',
    );
  return { site, clock, sun, haze, draw };
}

const monthlyMeans = (clock: Clock, years: readonly Float64Array[]): number[] =>
  Array.from({ length: 12 }, (_, m) => {
    let [sum, count] = [0, 0];
    for (const year of years)
      year.forEach((day, d) => {
        if (clock.month[clock.day_start[d]!] !== m + 1) return;
        sum += day;
        count++;
      });
    return sum / count;
  });

/** For each run of days the lowest mean of a season over the season's long-term mean: one value a season, ascending. */
function lowestRuns(years: readonly Float64Array[], followOn: boolean): Map<number, number[]> {
  const seasons = years.flatMap((year, k) => {
    const next = followOn ? years[k + 1] : years[(k + 1) % years.length];
    return next === undefined ? [] : [[...year.slice(SEASON_START), ...next.slice(0, 31)]];
  });
  const mean = seasons.flat().reduce((sum, day) => sum + day, 0) / seasons.flat().length;
  return new Map(
    RUNS.map((length) => [
      length,
      seasons
        .map((days) => {
          let least = Number.POSITIVE_INFINITY;
          for (let d = 0; d + length <= days.length; d++)
            least = Math.min(least, days.slice(d, d + length).reduce((sum, day) => sum + day, 0) / length);
          return least / mean;
        })
        .sort((a, b) => a - b),
    ]),
  );
}

describe('the lowest days of a season, drawn from the means of Hupsel', () => {
  // Monthly means of Hupsel (52.07 N), 1989 to 2024, kWh/m² a day, computed from the days that the Royal Netherlands
  // Meteorological Institute gives away (CC BY 4.0); beside them De Bilt, 1980 to 2019, 50 km to the west, from the
  // same source: median and 10th percentile over its years.
  const HUPSEL = [0.65, 1.29, 2.46, 3.99, 4.98, 5.3, 5.09, 4.31, 3.01, 1.72, 0.82, 0.48];
  const DE_BILT = [
    [3, 0.24, 0.17],
    [7, 0.4, 0.31],
    [14, 0.55, 0.4],
  ] as const;
  const { draw } = placeAt(52.07, 6.66, 29);
  const runs = lowestRuns(
    Array.from({ length: DRAWN }, (_, seed) => draw(HUPSEL, seed).days_kWh_m2),
    false,
  );
  it.each(DE_BILT)(
    '%d days: De Bilt has a median of %f, and one year in ten below %f',
    (length, median, tenth) => {
      const drawn = runs.get(length)!;
      expect(Math.abs(quantileSorted(drawn, 0.5) - median)).toBeLessThan(0.05);
      expect(Math.abs(quantileSorted(drawn, 0.1) - tenth)).toBeLessThan(0.05);
    },
  );
});

describe.skipIf(!seriesThere).each(PLACES)('$name ($source)', (from) => {
  const measured: DailyYears | null = seriesThere ? dailyYears(from) : null;
  const { site, clock, sun, haze, draw } = placeAt(from.at[0], from.at[1], from.at[2]);
  const days = measured?.years.map(({ ghi_kWh_m2 }) => ghi_kWh_m2) ?? [];
  const means = monthlyMeans(clock, days);
  const drawn = Array.from({ length: DRAWN }, (_, seed) => draw(means, seed));

  it('has the means it was drawn from, over many years, and months that stray as measured ones do', () => {
    const of = (years: readonly Float64Array[], m: number): number[] =>
      years.map((year) => monthlyMeans(clock, [year])[m]!);
    const sd = (values: readonly number[]): number => {
      const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
      return Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (values.length - 1)) / mean;
    };
    const table = means.map((mean, m) => {
      const there = of(days, m);
      const here = of(
        drawn.map(({ days_kWh_m2 }) => days_kWh_m2),
        m,
      );
      return [here.reduce((sum, v) => sum + v, 0) / here.length / mean, sd(there), sd(here)] as const;
    });
    console.info(
      `${from.name}: mean of drawn over asked, spread of a month measured and drawn: ${table.map((row) => row.map((v) => v.toFixed(2)).join(' ')).join(' | ')}`,
    );
    // How a month goes with the next, each over its own mean.
    const together = (years: readonly Float64Array[]): number => {
      const strays = years.flatMap((year) =>
        monthlyMeans(clock, [year]).map((value, m) => value / means[m]! - 1),
      );
      const sds = means.map((_, m) => sd(of(years, m)));
      const scores = strays.map((value, k) => value / sds[k % 12]!);
      return (
        scores.slice(1).reduce((sum, value, k) => sum + (k % 12 === 11 ? 0 : value * scores[k]!), 0) /
        ((11 / 12) * scores.length)
      );
    };
    const [months, drawnMonths] = [days, drawn.map(({ days_kWh_m2 }) => days_kWh_m2)].map(together);
    console.info(
      `${from.name}: a month goes with the next by ${months!.toFixed(2)}, drawn by ${drawnMonths!.toFixed(2)}`,
    );
    expect(drawnMonths).toBeGreaterThan(0.05);
    expect(Math.abs(drawnMonths! - months!)).toBeLessThan(0.15);
    for (const [bias, there, here] of table) {
      expect(Math.abs(bias - 1)).toBeLessThan(0.04);
      expect(Math.abs(here - there)).toBeLessThan(0.06);
    }
  });

  it('its lowest 3, 7, 14 and 30 days of a winter are as low and as often', () => {
    const there = lowestRuns(days, true);
    const here = lowestRuns(
      drawn.map(({ days_kWh_m2 }) => days_kWh_m2),
      false,
    );
    for (const length of RUNS) {
      const [a, b] = [there.get(length)!, here.get(length)!];
      console.info(
        `${from.name}, lowest ${length} days over the mean of the season, 10 / 50 / 90 of 100 winters: measured ` +
          `${[0.1, 0.5, 0.9].map((q) => quantileSorted(a, q).toFixed(2)).join(' / ')}, drawn ` +
          `${[0.1, 0.5, 0.9].map((q) => quantileSorted(b, q).toFixed(2)).join(' / ')}`,
      );
      expect(Math.abs(quantileSorted(a, 0.5) - quantileSorted(b, 0.5))).toBeLessThan(0.06);
      expect(Math.abs(quantileSorted(a, 0.1) - quantileSorted(b, 0.1))).toBeLessThan(0.09);
    }
  });

  it('a plant that 90 of 100 drawn years would choose holds in 82 to 98 of 100 measured ones', {
    timeout: 120_000,
  }, () => {
    const read = scenarioOf(scenarioAt(site, means), 'judge');
    const prepared = prepareYear(read);
    const yearOf = (ghi_W_m2: Float64Array): PreparedYear => {
      const sky = { ...prepared.sky, ghi_W_m2, ...splitDays(ghi_W_m2, sun, clock) };
      return {
        ...prepared,
        sky,
        arrays: read.scenario.arrays.map((spec) => prepareArray(spec, site, clock, sun, sky)),
      };
    };
    const drawnYears = drawn.map(({ ghi_W_m2 }) => yearOf(ghi_W_m2));
    const measuredYears = days.map((year) => yearOf(hoursOfDays(year, haze, site.elevation_m, clock, sun)));
    const holds = (year: PreparedYear, size_kWp: number, capacity_kWh: number): boolean =>
      playYear(year, judged(size_kWp, capacity_kWh)).columns.unmet_kWh.every((unmet) => unmet < 1e-9);
    const december = measuredYears.map(({ arrays }) =>
      arrays[0]!.dc_kW_per_kWp.slice(334 * 24).reduce((sum, kW) => sum + kW, 0),
    );
    const kWhPerkWp = december.reduce((sum, v) => sum + v, 0) / december.length / 31;
    const shares = [0.9, 1.2, 1.6, 2.2, 3].map((cover) => {
      const size_kWp = (cover * LOAD_kWh_day) / kWhPerkWp;
      // Without losses a bank is large enough that holds the deepest fall of sun less load, the year gone round twice.
      const need = ({ arrays, clock: { steps } }: PreparedYear): number => {
        let [fallen, deepest] = [0, 0];
        for (let i = 0; i < 2 * steps; i++) {
          fallen = Math.max(0, fallen + LOAD_kWh_day / 24 - size_kWp * arrays[0]!.dc_kW_per_kWp[i % steps]!);
          deepest = Math.max(deepest, fallen);
        }
        return deepest;
      };
      const chosen = quantileSorted(
        drawnYears.map(need).sort((a, b) => a - b),
        0.9,
      );
      const held = measuredYears.filter((year) => holds(year, size_kWp, chosen + 1e-6)).length;
      return [size_kWp, chosen, held / measuredYears.length] as const;
    });
    console.info(
      `${from.name}: of ${measuredYears.length} measured years hold ${shares.map(([kWp, kWh, share]) => `${(100 * share).toFixed(0)} % (${kWp.toFixed(1)} kWp, ${kWh.toFixed(0)} kWh)`).join(', ')}`,
    );
    for (const [n, [, , share]] of shares.entries()) {
      expect(share).toBeGreaterThanOrEqual(0.82);
      // An array that falls short of its December leans on the whole winter: drawn winters go on for longer.
      if (n > 0) expect(share).toBeLessThanOrEqual(0.98);
    }
  });
});

const LOAD_kWh_day = 4.8;

/** A constant load, a steep array and a bank without losses: what decides is the weather. */
const judged = (size_kWp: number, capacity_kWh: number) =>
  plantWith({
    size_kWp,
    capacity_Ah: (1000 * capacity_kWh) / 51.2,
    voltage_V: 51.2,
    max_charge_A: 1e6,
    max_discharge_A: 1e6,
    rating_kW: 100,
    floor_soc: 0,
    initial_soc: null,
  });

const scenarioAt = (site: Site, ghi_kWh_m2_day: readonly number[]): ScenarioInput => ({
  site,
  run: { year: 2025 },
  weather: {
    kind: 'monthly_means',
    ghi_kWh_m2_day: [...ghi_kWh_m2_day],
    air_temperature_C: new Array<number>(12).fill(10),
    seed: 0,
  },
  arrays: [
    {
      name: 'south',
      size_kWp: 1,
      tilt_deg: 60,
      azimuth_deg: 180,
      power_temperature_coefficient_per_K: -0.0035,
      mounting: 'open_rack',
      tracker: { max_power_kW: 100, max_charge_A: 2000 },
    },
  ],
  bank: {
    chemistry: 'lfp',
    modules_parallel: 1,
    module: { nominal_voltage_V: 51.2, capacity_Ah: 100, max_charge_A: 50, max_discharge_A: 100 },
    round_trip_efficiency_share: 1,
    floor_soc: 0,
    temperature: { kind: 'indoors', temperature_C: 15 },
  },
  inverter: { rating_kW: 5, surge_kW: 10, idle_W: 0, efficiency: { loss_linear: 0, loss_quadratic: 0 } },
  loads: [{ kind: 'appliance', name: 'load', power_W: 200 }],
});
