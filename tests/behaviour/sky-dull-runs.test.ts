/**
 * Drawn years beside the published relations that they are drawn by, over many seeds; and their longest dull outages
 * beside those of measured weather, where that is there.
 */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { buildClock, type Clock } from '../../packages/core/src/clock/clock.ts';
import type { Site } from '../../packages/core/src/scenario/schema/schema.ts';
import { clearnessSpread } from '../../packages/core/src/sky/clearness.ts';
import { drawYear } from '../../packages/core/src/sky/monthly-means.ts';
import { sunYear } from '../../packages/core/src/sun/year.ts';
import { stream } from '../support/random.ts';
import { WEATHER_FOLDER, weatherThere } from '../support/shared-weather.ts';

const SEEDS = 100;

interface Place {
  readonly site: Site;
  readonly clock: Clock;
  readonly above_kWh_m2: Float64Array;
  readonly draw: (seed: number) => Float64Array;
}

const dailySums = (clock: Clock, column: Float64Array): Float64Array => {
  const out = new Float64Array(clock.days);
  for (let i = 0; i < clock.steps; i++) out[clock.day[i]!]! += (column[i]! * clock.step_h) / 1000;
  return out;
};
const monthOf = (clock: Clock, day: number): number => clock.month[clock.day_start[day]!]!;

function placeAt(
  latitude_deg: number,
  longitude_deg: number,
  time_zone: string,
  ghi: readonly number[],
  year = 2025,
): Place {
  const site: Site = { name: 'test', latitude_deg, longitude_deg, elevation_m: 50, time_zone };
  const clock = buildClock(year, time_zone, 60);
  const sun = sunYear(clock, site);
  const haze = new Float64Array(clock.steps).fill(3);
  return {
    site,
    clock,
    above_kWh_m2: dailySums(clock, sun.extraterrestrial_horizontal_W_m2),
    draw: (seed) => dailySums(clock, drawYear(ghi, haze, 50, seed, clock, sun, 'test.yaml').ghi_W_m2),
  };
}

// Invented means with a clearness of 0.3 to 0.6 in every month, where the published fits were made.
const GHI = [1.1, 1.9, 3.1, 4.3, 5.3, 5.8, 5.6, 4.8, 3.6, 2.2, 1.3, 0.9];
const place = placeAt(47, 10, 'Etc/UTC', GHI);
const years = Array.from({ length: SEEDS }, (_, seed) => place.draw(seed));

describe(`${SEEDS} drawn years`, () => {
  const { clock, above_kWh_m2 } = place;
  const daysIn = (month: number) => [...above_kWh_m2.keys()].filter((d) => monthOf(clock, d) === month);

  it('keep every monthly mean, each of them', () => {
    let farthest = 0;
    for (const year of years)
      GHI.forEach((mean, m) => {
        const days = daysIn(m + 1);
        farthest = Math.max(farthest, Math.abs(days.reduce((s, d) => s + year[d]!, 0) / days.length - mean));
      });
    expect(farthest).toBeLessThan(1e-9);
  });

  it('have the published distribution of daily clearness: Bendt, Collares-Pereira & Rabl 1981, within 0.06 anywhere', () => {
    // F(k) = (exp(g kmin) - exp(g k)) / (exp(g kmin) - exp(g kmax)): Duffie & Beckman eq. 2.9.4.
    for (let month = 1; month <= 12; month++) {
      const days = daysIn(month);
      const mean = (GHI[month - 1]! * days.length) / days.reduce((s, d) => s + above_kWh_m2[d]!, 0);
      expect(mean).toBeGreaterThan(0.29);
      expect(mean).toBeLessThan(0.61);
      const { least, most, steepness: g } = clearnessSpread(mean);
      const all = years.flatMap((year) => days.map((d) => year[d]! / above_kWh_m2[d]!)).sort((a, b) => a - b);
      let apart = 0;
      all.forEach((k, n) => {
        const inside = Math.min(most, Math.max(least, k));
        const share =
          (Math.exp(g * least) - Math.exp(g * inside)) / (Math.exp(g * least) - Math.exp(g * most));
        apart = Math.max(apart, Math.abs(share - (n + 0.5) / all.length));
      });
      expect(apart, `month ${month}`).toBeLessThan(0.06);
    }
  });

  // Aguiar & Collares-Pereira 1992 give a persistence from hour to hour (phi1 = 0.38 + 0.06 cos(7.4 K - 2.5), 0.33 to
  // 0.41). Drawn years have none to hold against it: every hour of a day has the same share of its clear sky.
  it('remember the day before as a process with 0.29 (Graham, Hollands & Unny 1988, recalled) does', () => {
    const lag = lagWithinMonths(years.map((year) => (d: number) => year[d]! / above_kWh_m2[d]!));
    // Ranking within a month takes its mean out, and lowers any correlation: the same is done to plain normal numbers.
    const draw = stream(7);
    const normal = (): number => Math.sqrt(-2 * Math.log(1 - draw())) * Math.cos(2 * Math.PI * draw());
    const plain = lagWithinMonths(
      years.map(() => {
        const z = new Float64Array(clock.days);
        for (let d = 0; d < z.length; d++)
          z[d] = d === 0 ? normal() : 0.29 * z[d - 1]! + Math.sqrt(1 - 0.29 ** 2) * normal();
        return (d: number) => z[d]!;
      }),
    );
    console.info(
      `day to day within months: drawn years ${lag.toFixed(3)}, plain process ${plain.toFixed(3)}`,
    );
    expect(Math.abs(lag - plain)).toBeLessThan(0.02);
    expect(plain).toBeGreaterThan(0.15);
  });

  /** Correlation of neighbouring days after the days of each month are ranked and the ranks made normal. */
  function lagWithinMonths(all: readonly ((day: number) => number)[]): number {
    let top = 0;
    let bottom = 0;
    for (const value of all)
      for (let month = 1; month <= 12; month++) {
        const days = daysIn(month);
        const order = days.toSorted((a, b) => value(a) - value(b));
        const score = new Map(order.map((d, k) => [d, normalQuantile((k + 0.5) / days.length)]));
        for (const d of days) {
          const z = score.get(d)!;
          bottom += z * z;
          top += z * (score.get(d - 1) ?? 0);
        }
      }
    return top / bottom;
  }
});

/** Quantile of the normal distribution: bisection on Abramowitz & Stegun 7.1.26, which is good to 1.5e-7. */
function normalQuantile(share: number): number {
  let [low, high] = [-6, 6];
  for (let n = 0; n < 50; n++) {
    const z = (low + high) / 2;
    const x = Math.abs(z) / Math.SQRT2;
    const t = 1 / (1 + 0.3275911 * x);
    const poly =
      t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
    const below = z < 0 ? (poly * Math.exp(-x * x)) / 2 : 1 - (poly * Math.exp(-x * x)) / 2;
    if (below < share) low = z;
    else high = z;
  }
  return (low + high) / 2;
}

/** Longest run of days in the darker half-year with less than a quarter of the light above the air, and its length. */
const DULL_clearness = 0.25;
function longestDull(days: Float64Array, { clock, above_kWh_m2, site }: Place): number {
  const winter = (d: number): boolean => {
    const month = monthOf(clock, d);
    return site.latitude_deg >= 0 ? month >= 10 || month <= 3 : month >= 4 && month <= 9;
  };
  let run = 0;
  let longest = 0;
  for (let d = 0; d < days.length; d++) {
    run = winter(d) && days[d]! < DULL_clearness * above_kWh_m2[d]! ? run + 1 : 0;
    longest = Math.max(longest, run);
  }
  return longest;
}

/** Global light of the files by local standard day, kWh/m². */
const FILES = [
  {
    name: 'Boston',
    file: '725090_Boston_MA_TMY3.csv',
    at: [42.367, -71.017, 'Etc/GMT+5'],
    head: 2,
    ghi: 4,
    measured: false,
  },
  {
    name: 'Golden',
    file: '724666_Golden_CO_TMY3.csv',
    at: [39.742, -105.179, 'Etc/GMT+7'],
    head: 2,
    ghi: 4,
    measured: false,
  },
  {
    name: 'Melbourne',
    file: '086282_Melbourne_AU_TMY.csv',
    at: [-37.6655, 144.8321, 'Etc/GMT-10'],
    head: 1,
    ghi: 2,
    measured: false,
  },
  {
    name: 'Lyngby',
    file: 'DTU_Lyngby_DK_2016_hourly_mean_UTC.csv',
    at: [55.79064, 12.52505, 'Etc/UTC'],
    head: 1,
    ghi: 1,
    measured: true,
  },
] as const;

describe.skipIf(!weatherThere)('the longest dull spell of a winter', () => {
  it.each(FILES)('$name: drawn 100 times from its own monthly means, beside the one in the file', (from) => {
    const rows = readFileSync(resolve(WEATHER_FOLDER, from.file), 'utf8')
      .trim()
      .split(/\r?\n/)
      .slice(from.head);
    const real = new Float64Array(rows.length / 24);
    rows.forEach((row, hour) => {
      real[Math.floor(hour / 24)]! += Math.max(0, Number(row.split(',')[from.ghi])) / 1000;
    });
    const year = rows.length === 8784 ? 2016 : 2025;
    const [latitude_deg, longitude_deg, time_zone] = from.at;
    const bare = placeAt(latitude_deg, longitude_deg, time_zone, GHI, year);
    expect(real.length).toBe(bare.clock.days);
    const means = Array.from({ length: 12 }, (_, m) => {
      const days = [...real.keys()].filter((d) => monthOf(bare.clock, d) === m + 1);
      return days.reduce((s, d) => s + real[d]!, 0) / days.length;
    });
    const drawn = placeAt(latitude_deg, longitude_deg, time_zone, means, year);
    const runs = Array.from({ length: SEEDS }, (_, seed) => longestDull(drawn.draw(seed), drawn)).sort(
      (a, b) => a - b,
    );
    const there = longestDull(real, drawn);
    const longer = runs.filter((run) => run >= there).length;
    console.info(
      `${from.name} (${from.measured ? 'one measured year, one winter in two halves' : 'typical year: months of several years, chosen to be ordinary'}): ` +
        `longest dull run ${there} days; drawn ${runs[9]} / ${runs[49]} / ${runs[89]} days (10th, 50th, 90th of ${SEEDS}), longest ${runs.at(-1)}; ` +
        `${longer} of ${SEEDS} drawn winters have one as long`,
    );
    // One winter can't show how often long outages come. It can show a model that never makes one as long.
    expect(longer).toBeGreaterThan(0);
  });
});
