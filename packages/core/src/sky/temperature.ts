import { HOUR_ms, MINUTE_ms } from '../basis/units.ts';
import type { Clock } from '../clock/clock.ts';
import { drawThrough, type HalfMonth } from './mid-months.ts';

/** Hour of local mean solar time at which the air is warmest; common practice, no source. */
const WARMEST_h = 15;

/**
 * Air temperature from monthly means: straight lines between the middles of the months, and a daily wave that peaks at
 * 15 h local mean solar time.
 *
 * Lines through the means themselves would cut off summers and winters; the values at the middles are moved until the
 * mean of every month is the one given, wave included.
 *
 * @param monthly_C mean of each month, January first
 * @param dailySwing_K warmest hour less coldest hour
 * @param longitude_deg east positive; sets the solar time
 * @returns °C, `clock.steps` entries
 *
 * Source: Sheng & Zwiers 1998, Climate Dynamics 14, 609-613, for moving the middles (recalled). The single cosine is
 * common practice, no source.
 */
export function airTemperature_C(
  monthly_C: readonly number[],
  dailySwing_K: number,
  longitude_deg: number,
  clock: Clock,
  halves: readonly HalfMonth[],
): Float64Array {
  const wave = dailyWave_K(dailySwing_K, longitude_deg, clock);
  const air_C = drawThrough(meanKeepingMiddles(monthly_C, wave, halves), halves);
  for (let i = 0, k = 0; i < clock.steps; i++, k = k + 1 === wave.length ? 0 : k + 1)
    air_C[i] = air_C[i]! + wave[k]!;
  return air_C;
}

/** Departure from the day's mean for each step of 24 hours from the clock's first; it repeats as UTC days do. */
function dailyWave_K(swing_K: number, longitude_deg: number, clock: Clock): Float64Array {
  const perDay = (24 * 60) / clock.step_min;
  const first_h = (clock.start_ms[0]! + (clock.step_min * MINUTE_ms) / 2) / HOUR_ms + longitude_deg / 15;
  const wave = new Float64Array(perDay);
  for (let k = 0; k < perDay; k++) {
    const solar_h = first_h + k * clock.step_h;
    wave[k] = (swing_K / 2) * Math.cos((2 * Math.PI * (solar_h - WARMEST_h)) / 24);
  }
  return wave;
}

/**
 * Values at the middles of the months whose lines, with the wave on top, have the given monthly means. Each middle
 * weighs about three quarters in its own month, so correcting every middle by its month's error converges by a factor
 * of three a round; 50 rounds leave rounding only.
 */
function meanKeepingMiddles(
  monthly_C: readonly number[],
  wave: Float64Array,
  halves: readonly HalfMonth[],
): readonly number[] {
  const middles = [...monthly_C];
  const count = new Float64Array(12);
  const waveSum = new Float64Array(12);
  for (const { month, from, to } of halves) {
    count[month]! += to - from;
    // Whole days of the wave add up to nothing.
    const rest = (to - from) % wave.length;
    for (let i = from; i < from + rest; i++) waveSum[month]! += wave[i % wave.length]!;
  }
  for (let round = 0; round < 50; round++) {
    const sums = waveSum.slice();
    for (const { month, from, to, before, after, share, perStep } of halves) {
      const n = to - from;
      const afterWeight = n * (share + (perStep * (n - 1)) / 2);
      sums[month]! += middles[before]! * (n - afterWeight) + middles[after]! * afterWeight;
    }
    for (let m = 0; m < 12; m++) middles[m] = middles[m]! + monthly_C[m]! - sums[m]! / count[m]!;
  }
  return middles;
}

/**
 * How far a day's mean air temperature strays from what its month has, one standard deviation: more in the cold, and
 * inland, where summer and winter lie far apart.
 *
 * @param mean_C of the month
 * @param range_K the warmest month's mean less the coldest's
 *
 * Source: our own line through decades of days at three places and four years of hours, where it is 2 to 7 K
 * (tests/published/drawn-years.test.ts).
 */
export const dayToDayBy_K = (mean_C: number, range_K: number): number =>
  Math.min(8, Math.max(2, 4.5 - 0.15 * mean_C + 0.12 * (range_K - 16)));

/**
 * How the air's departure goes with the clearness of its day, a correlation: where the sun is low clear days are cold,
 * where it is high they are warm.
 *
 * @param above_kWh_m2_day extraterrestrial irradiation of the horizontal, the month's mean
 *
 * Source: our own line through the same days: -0.4 in Dutch Januaries, 0.5 in Dutch Julys.
 */
export const coldWithClear = (above_kWh_m2_day: number): number =>
  Math.min(0.45, Math.max(-0.4, 0.12 * (above_kWh_m2_day - 5)));

/**
 * Adds warm and cold days to air that follows its monthly means: straight lines between noon and noon.
 *
 * @param air_C °C, one a step; changed
 * @param days_K departure of each day
 */
export function addDays(air_C: Float64Array, days_K: Float64Array, clock: Clock): void {
  for (let d = 0; d < clock.days; d++) {
    const [from, to] = [clock.day_start[d]!, clock.day_start[d + 1]!];
    const today = days_K[d]!;
    for (let i = from; i < to; i++) {
      const fromNoon = (i + 0.5 - from) / (to - from) - 0.5;
      const other = days_K[d + Math.sign(fromNoon)] ?? today;
      air_C[i] = air_C[i]! + today + Math.abs(fromNoon) * (other - today);
    }
  }
}

/** The first of the coldest steps. */
export function coldestStep(air_C: Float64Array): number {
  let at = 0;
  for (let i = 1; i < air_C.length; i++) if (air_C[i]! < air_C[at]!) at = i;
  return at;
}
