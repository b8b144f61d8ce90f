import { Info } from 'luxon';
import { InputError, type Issue, issue } from '../basis/errors.ts';
import { type Notice, notice } from '../basis/notices.ts';
import { rounded } from '../basis/rounding.ts';
import type { Clock } from '../clock/clock.ts';
import type { SunYear } from '../sun/year.ts';
import { clearAir, clearSkyGlobal_W_m2 } from './clear-sky.ts';
import { clearnessDays } from './clearness.ts';
import { persistentSequence } from './persistence.ts';

/**
 * Monthly means come from tables rounded to 0.01 or 0.1 and may hold twilight that no sun explains: so much above the
 * possible maximum is cut off with a notice, more is an error. Our own limit, no source.
 */
const ROUNDING_kWh_m2_day = 0.05;

/** Linke turbidity of air without water and dust, by its definition. */
const CLEANEST_linke = 1;

const MONTHS = Info.months('long', { locale: 'en' });

/** Global irradiance of a drawn year. */
interface DrawnYear {
  readonly ghi_W_m2: Float64Array;
  /** Days whose clearness was held at what the cleanest air lets through. */
  readonly daysHeld: number;
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
 * Each month gets exactly the days its mean implies, dull to clear; the seed decides only their order, in which dull
 * days keep together. A day is spread over its hours as a clear day is, and never above the cleanest clear sky.
 *
 * @param monthly_kWh_m2_day mean daily global irradiation, January first
 * @param turbidity_linke of the clear sky that shapes the days, one a step
 * @param seed 0 to 2^32 - 1
 * @returns global irradiance, W/m², mean of each step; its monthly means are those given
 * @throws InputError for every month that asks for more than the cleanest sky gives
 *
 * Source: days as `clearnessDays`, order as `persistentSequence`, clear sky as `clearSkyGlobal_W_m2` (cleanest: Linke
 * turbidity 1, by definition air without water and dust). Holding days at the cleanest sky is our own step: the fitted
 * distribution knows neither latitude nor season.
 */
export function drawYear(
  monthly_kWh_m2_day: readonly number[],
  turbidity_linke: Float64Array,
  elevation_m: number,
  seed: number,
  clock: Clock,
  sun: SunYear,
  scenarioFile: string,
): DrawnYear {
  const light = clearLight(turbidity_linke, elevation_m, clock, sun);
  const weather = persistentSequence(clock.days, seed);
  const totals = new Float64Array(clock.days);
  const issues: Issue[] = [];
  const notices: Notice[] = [];
  let daysHeld = 0;
  const months = Array.from({ length: 12 }, (_, m) => daysOfMonth(clock, m + 1));
  const mostOf = months.map((days) => days.reduce((sum, d) => sum + light.cleanest[d]!, 0) / days.length);
  const areMegajoules = mostOf.every((most, m) => monthly_kWh_m2_day[m]! / 3.6 <= most + ROUNDING_kWh_m2_day);
  for (let m = 0; m < 12; m++) {
    const days = months[m]!;
    const most = mostOf[m]!;
    const asked = monthly_kWh_m2_day[m]!;
    if (asked > most + ROUNDING_kWh_m2_day)
      issues.push(tooBright(m, asked, most, areMegajoules, scenarioFile));
    else if (asked > most) notices.push(cutOff(m, asked, most));
    daysHeld += layMonth(Math.min(asked, most) * days.length, days, weather, light, totals);
  }
  if (issues.length > 0) throw new InputError(issues);
  return { ghi_W_m2: spreadDays(totals, light), daysHeld, notices };
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

/**
 * Gives a month's days their totals: the typical clearness values in the order of the weather, times one factor that
 * makes the sum right, each held at the cleanest sky. Returns how many were held.
 */
function layMonth(
  sum_kWh_m2: number,
  days: readonly number[],
  weather: Float64Array,
  light: Light,
  totals: Float64Array,
): number {
  const sunny = days.filter((d) => light.above[d]! > 0);
  if (sunny.length === 0 || sum_kWh_m2 <= 0) return 0;
  const aboveSum = sunny.reduce((sum, d) => sum + light.above[d]!, 0);
  const clearness = clearnessDays(sum_kWh_m2 / aboveSum, sunny.length);
  let open = sunny.toSorted((p, q) => weather[p]! - weather[q]!);
  open.forEach((d, rank) => {
    totals[d] = clearness[rank]! * light.above[d]!;
  });
  // Every round holds at least one more day or is the last, so it ends within the days of a month.
  let left = sum_kWh_m2;
  for (;;) {
    const factor = left / open.reduce((sum, d) => sum + totals[d]!, 0);
    const held = open.filter((d) => totals[d]! * factor >= light.cleanest[d]!);
    if (held.length === 0) {
      for (const d of open) totals[d] = totals[d]! * factor;
      return sunny.length - open.length;
    }
    for (const d of held) {
      totals[d] = light.cleanest[d]!;
      left -= light.cleanest[d]!;
    }
    open = open.filter((d) => !held.includes(d));
    if (open.length === 0) return sunny.length;
  }
}

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
