import { Info } from 'luxon';
import { bisect, errorFunction } from 'simple-statistics';
import { InputError, type Issue, issue } from '../basis/errors.ts';
import { type Notice, notice } from '../basis/notices.ts';
import { rounded } from '../basis/rounding.ts';
import type { Clock } from '../clock/clock.ts';
import type { MonthlyMeansWeather } from '../scenario/schema/schema.ts';
import type { SunYear } from '../sun/year.ts';
import { clearAir, clearSkyGlobal_W_m2 } from './clear-sky.ts';
import { clearnessBelow, clearnessSpread, leastClearness } from './clearness.ts';
import { byMonth } from './mid-months.ts';
import { drawDays, persistenceBy, spreadOfMean } from './persistence.ts';

/**
 * Monthly means come from tables rounded to 0.01 or 0.1 and may hold twilight that no sun explains: so much above the
 * possible maximum is cut off with a notice, more is an error. Our own limit, no source.
 */
const ROUNDING_kWh_m2_day = 0.05;

/** Linke turbidity of air without water and dust, by its definition. */
const CLEANEST_linke = 1;

const MONTHS = Info.months('long', { locale: 'en' });

/**
 * The clearest day of a month lies so far from the usual cloudless sky towards the cleanest one; our own, fitted with
 * the rest.
 */
const CLEAREST_share = 0.25;

/** A drawn year. */
export interface DrawnYear {
  /** Global irradiance, mean of each step. */
  readonly ghi_W_m2: Float64Array;
  /** Global irradiation of each day. */
  readonly days_kWh_m2: Float64Array;
  /** Of each day, standard normal: how clear it is for its month, and what the air does beside that. */
  readonly sky: Float64Array;
  readonly air: Float64Array;
  /** Irradiation of each drawn month over its long-term mean; 1 where that is none. */
  readonly month_shares: readonly number[];
  readonly notices: readonly Notice[];
}

/** The bounds of a year's light. */
interface Light {
  readonly clock: Clock;
  /** The given clear sky and the cleanest one, W/m² a step. */
  readonly clear_W_m2: Float64Array;
  readonly cleanest_W_m2: Float64Array;
  /** Above the air, under the given clear sky and under the cleanest one: irradiation of each day, kWh/m². */
  readonly above: Float64Array;
  readonly clear: Float64Array;
  readonly cleanest: Float64Array;
}

/**
 * Draws one possible year from twelve monthly means of global irradiation.
 *
 * Each day's clearness is drawn from the mixture of dull and clear days that its month's mean implies, and each day
 * remembers the one before: so dull days keep together, and a drawn month strays from its long-term mean as real ones
 * do. Over many years the means are those given. A day is spread over its hours as a clear day is, and never above the
 * cleanest clear sky.
 *
 * @param weather monthly means, seed, and what is known of the climate
 * @param turbidity_linke of the clear sky that shapes the days, one a step
 * @throws InputError for every month that asks for more than the cleanest sky gives
 *
 * Source: days as `clearnessSpread`, order as `drawDays`, clear sky as `clearSkyGlobal_W_m2` (cleanest: Linke turbidity
 * 1, by definition air without water and dust).
 */
export function drawYear(
  weather: MonthlyMeansWeather,
  turbidity_linke: Float64Array,
  elevation_m: number,
  clock: Clock,
  sun: SunYear,
  scenarioFile: string,
): DrawnYear {
  const light = clearLight(turbidity_linke, elevation_m, clock, sun);
  const notices: Notice[] = [];
  const months = monthsOf(weather, light, scenarioFile, notices);
  const persistence = new Float64Array(clock.days);
  for (const month of months) for (const d of month.days) persistence[d] = month.persistence;
  const { sky, air } = drawDays(persistence, weather.seed);
  const days_kWh_m2 = new Float64Array(clock.days);
  const month_shares = months.map((month) => layMonth(month, sky, light, days_kWh_m2));
  return { ghi_W_m2: spreadDays(days_kWh_m2, light), days_kWh_m2, sky, air, month_shares, notices };
}

/**
 * Global irradiance of the steps of days of which the sums are known: each has the same share of its clear sky. Beam and
 * diffuse light of such days are told apart by `splitDays`.
 *
 * @param days_kWh_m2 global irradiation of each day of the clock; more than the cleanest sky gives is cut
 * @param turbidity_linke of the clear sky that shapes the days, one a step
 * @returns W/m², mean of each step
 *
 * Source: clear sky as `clearSkyGlobal_W_m2`; an even share of it is our own.
 */
export function hoursOfDays(
  days_kWh_m2: Float64Array,
  turbidity_linke: Float64Array,
  elevation_m: number,
  clock: Clock,
  sun: SunYear,
): Float64Array {
  const light = clearLight(turbidity_linke, elevation_m, clock, sun);
  return spreadDays(
    days_kWh_m2.map((day, d) => Math.min(day, light.cleanest[d]!)),
    light,
  );
}

/** What a month's days are drawn from. */
interface Month {
  /** Its days with sun. */
  readonly days: readonly number[];
  /** Long-term mean of their clearness. */
  readonly clearness: number;
  readonly least: number;
  readonly clearest: number;
  readonly persistence: number;
  /** Standard deviation of a single month's mean over its long-term mean; absent: what the days make of it. */
  readonly spread_share: number | undefined;
}

function monthsOf(
  { ghi_kWh_m2_day, persistence, least_clearness, month_spread_share }: MonthlyMeansWeather,
  { clock, above, clear, cleanest }: Light,
  file: string,
  notices: Notice[],
): Month[] {
  const issues: Issue[] = [];
  const [known, dullest, spread] = [persistence, least_clearness, month_spread_share].map((value) =>
    value === undefined ? undefined : byMonth(value),
  );
  const dayLists = Array.from({ length: 12 }, (_, m) => daysOfMonth(clock, m + 1));
  const sumOf = (column: Float64Array, days: readonly number[]): number =>
    days.reduce((sum, d) => sum + column[d]!, 0);
  const mostOf = dayLists.map((days) => sumOf(cleanest, days) / days.length);
  const areMegajoules = mostOf.every((most, m) => ghi_kWh_m2_day[m]! / 3.6 <= most + ROUNDING_kWh_m2_day);
  const months = dayLists.map((all, m): Month => {
    const most = mostOf[m]!;
    const asked = ghi_kWh_m2_day[m]!;
    if (asked > most + ROUNDING_kWh_m2_day) issues.push(tooBright(m, asked, most, areMegajoules, file));
    else if (asked > most) notices.push(cutOff(m, asked, most));
    const days = all.filter((d) => above[d]! > 0);
    const sent = sumOf(above, days);
    const clearness = sent > 0 ? (Math.min(asked, most) * all.length) / sent : 0;
    const usual = sumOf(clear, days);
    return {
      days: clearness > 0 ? days : [],
      clearness,
      least: dullest?.[m] ?? leastClearness(clearness),
      clearest: (usual + CLEAREST_share * (sumOf(cleanest, days) - usual)) / sent,
      persistence: known?.[m] ?? persistenceBy(clearness),
      spread_share: spread?.[m],
    };
  });
  if (issues.length > 0) throw new InputError(issues);
  return months;
}

function clearLight(turbidity_linke: Float64Array, elevation_m: number, clock: Clock, sun: SunYear): Light {
  const air = clearAir(elevation_m);
  const clear_W_m2 = new Float64Array(clock.steps);
  const cleanest_W_m2 = new Float64Array(clock.steps);
  const above = new Float64Array(clock.days);
  const clear = new Float64Array(clock.days);
  const cleanest = new Float64Array(clock.days);
  const toDay = clock.step_h / 1000;
  for (let i = 0; i < clock.steps; i++) {
    const sent = sun.extraterrestrial_horizontal_W_m2[i]!;
    if (sent === 0) continue;
    const airMass = sun.air_mass[i]!;
    const d = clock.day[i]!;
    const usual = clearSkyGlobal_W_m2(sent, airMass, turbidity_linke[i]!, air);
    const best = clearSkyGlobal_W_m2(sent, airMass, CLEANEST_linke, air);
    clear_W_m2[i] = usual;
    cleanest_W_m2[i] = best;
    above[d] = above[d]! + sent * toDay;
    clear[d] = clear[d]! + usual * toDay;
    cleanest[d] = cleanest[d]! + best * toDay;
  }
  return { clock, clear_W_m2, cleanest_W_m2, above, clear, cleanest };
}

function daysOfMonth(clock: Clock, month: number): number[] {
  const days: number[] = [];
  for (let d = 0; d < clock.days; d++) if (clock.month[clock.day_start[d]!] === month) days.push(d);
  return days;
}

/** Gives a month's days their totals. Returns the month's irradiation over its long-term mean. */
function layMonth(month: Month, sky: Float64Array, light: Light, totals: Float64Array): number {
  const { days, clearness } = month;
  if (days.length === 0) return 1;
  const spread = clearnessSpread(clearness, month.clearest, month.least);
  const lay = (brighter: number): number => {
    let sum = 0;
    for (const d of days) {
      const share = 0.5 + 0.5 * errorFunction((sky[d]! + brighter) / Math.SQRT2);
      totals[d] = Math.min(clearnessBelow(share, spread) * light.above[d]!, light.cleanest[d]!);
      sum += totals[d]!;
    }
    return sum;
  };
  const sent = days.reduce((sum, d) => sum + light.above[d]!, 0);
  let sum = lay(0);
  if (month.spread_share !== undefined) {
    const asked = days.reduce((mean, d) => mean + sky[d]! / days.length, 0);
    const strays = asked / spreadOfMean(month.persistence, days.length);
    const wanted = sent * clearness * (1 + month.spread_share * strays);
    sum = lay(bisect((brighter) => lay(brighter) - wanted, -MOST_BRIGHTER, MOST_BRIGHTER, 60, 1e-13));
  }
  return sum / (sent * clearness);
}

/** So many standard deviations every day of a month may be moved, for the month to have its mean. */
const MOST_BRIGHTER = 6;

/**
 * Spreads day totals over steps. Up to the clear sky's total the clear sky is scaled down; above it, the day lies
 * between the clear and the cleanest sky, so that no hour passes the cleanest.
 */
function spreadDays(totals: Float64Array, light: Light): Float64Array {
  const { clock, clear_W_m2, cleanest_W_m2, clear, cleanest } = light;
  const out = new Float64Array(clock.steps);
  for (let d = 0; d < clock.days; d++) {
    const total = totals[d]!;
    if (total <= 0) continue;
    const dull = total <= clear[d]!;
    const scale = dull ? total / clear[d]! : 1;
    const cleaner = dull ? 0 : (total - clear[d]!) / (cleanest[d]! - clear[d]!);
    for (let i = clock.day_start[d]!; i < clock.day_start[d + 1]!; i++)
      out[i] = scale * clear_W_m2[i]! + cleaner * (cleanest_W_m2[i]! - clear_W_m2[i]!);
  }
  return out;
}

function tooBright(m: number, asked: number, most: number, areMegajoules: boolean, file: string): Issue {
  const looks = areMegajoules
    ? `divided by 3.6 every month is possible: if they are MJ/m² a day, write ${rounded(asked / 3.6)} here; else `
    : '';
  return issue('above-possible', `weather.ghi_kWh_m2_day[${m}]`, {
    expected: `at most ${most.toFixed(2)} kWh/m² a day`,
    place: { file },
  })`${MONTHS[m]}: ${asked} kWh/m² a day is more than reaches the ground here under the cleanest sky all month
    | ${looks}check the latitude (south is negative), the order of the months (January first), and that the
    values are kWh/m² a day on the horizontal: not MJ/m² (divide by 3.6), not sums of a month, not on a tilted
    plane`;
}

const cutOff = (m: number, asked: number, most: number): Notice =>
  notice('month-cut-to-possible')`${MONTHS[m]}: ${asked} kWh/m² a day was cut to ${most.toFixed(3)}, the most
    the cleanest sky gives (rounding or twilight)`;
