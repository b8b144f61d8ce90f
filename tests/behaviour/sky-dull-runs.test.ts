/** The longest dull spells of drawn years beside those of measured weather, where that is there. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { buildClock, type Clock } from '../../packages/core/src/clock/clock.ts';
import type { Site } from '../../packages/core/src/scenario/schema/schema.ts';
import { drawYear } from '../../packages/core/src/sky/monthly-means.ts';
import { sunYear } from '../../packages/core/src/sun/year.ts';
import { WEATHER_FOLDER, weatherThere } from '../support/shared-weather.ts';

const SEEDS = 100;
const WEATHER = {
  kind: 'monthly_means',
  air_temperature_C: new Array<number>(12).fill(10),
  daily_swing_K: 8,
  wind_m_s: 1,
  turbidity_linke: 3,
} as const;

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
    draw: (seed) =>
      drawYear({ ...WEATHER, ghi_kWh_m2_day: [...ghi], seed }, haze, 50, clock, sun, 'test.yaml').days_kWh_m2,
  };
}

// Only their place is used: the means are those of each file.
const GHI = [1.1, 1.9, 3.1, 4.3, 5.3, 5.8, 5.6, 4.8, 3.6, 2.2, 1.3, 0.9];

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
