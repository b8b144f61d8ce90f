import { expectArguments } from '../basis/arguments.ts';
import type { Assumption, Notice } from '../basis/notices.ts';
import { MINUTE_ms } from '../basis/units.ts';
import { localTime } from '../clock/clock.ts';
import { type BesideGuess, besideGuess, besideNotices } from '../place/beside.ts';
import type { FirstGuess } from '../place/first-guess.ts';
import { type ClockShift, clockShift } from '../sky/clock-shift.ts';
import { type QualityId, skyQuality } from '../sky/quality.ts';
import type { PreparedYear } from '../year.ts';
import { reportHead } from './head.ts';
import type { Report } from './report.ts';
import { shareOf } from './totals.ts';

/** What the weather of a prepared year is like, as plain data: this very object is `weather.json`. */
export interface WeatherReport {
  readonly longnight: { readonly format: 1 };
  readonly site: Report['site'];
  readonly run: Report['run'];
  /** The steps that the weather fills: all of the local year. */
  readonly coverage: {
    /** Local times: start of the first step, end of the last. */
    readonly from: string;
    readonly to: string;
    readonly hours: number;
  };
  /** Twelve, January first, local calendar. */
  readonly months: readonly WeatherSpan[];
  readonly year: WeatherSpan;
  readonly clock: ClockShift;
  readonly quality: readonly WeatherTest[];
  /** Monthly means beside a first guess of the place; null for weather of another kind, or without a guess. */
  readonly beside_guess: BesideGuess | null;
  /** What happened on the way in: gaps filled, values set to zero, rows left out. */
  readonly notices: readonly Notice[];
  /** What the sky rests on, defaults of the weather section first. */
  readonly assumptions: readonly Assumption[];
}

/** Sums and means of a month, or of the year. */
export interface WeatherSpan {
  readonly ghi_kWh_m2: number;
  readonly dni_kWh_m2: number;
  readonly dhi_kWh_m2: number;
  /** Above the air, on the horizontal. */
  readonly extraterrestrial_kWh_m2: number;
  /** Global over extraterrestrial; null in polar night. */
  readonly clearness: number | null;
  readonly air_temperature_mean_C: number;
  readonly air_temperature_least_C: number;
  readonly air_temperature_most_C: number;
  readonly wind_mean_m_s: number;
}

/** A quality test with the local time of the first step that fails it. */
export interface WeatherTest {
  readonly id: QualityId;
  readonly what: string;
  readonly tested_steps: number;
  readonly failed_steps: number;
  readonly first_time: string | null;
}

/**
 * Reads what can be said of the weather alone off a prepared year, whichever kind it came from.
 *
 * @param year as `prepareYear` gave it
 * @param guess as `firstGuess` gives it for the site, for monthly means to be held against
 */
export function weatherFindings(year: PreparedYear, guess?: FirstGuess): WeatherReport {
  expectArguments('weatherFindings', { year });
  if (guess !== undefined) expectArguments('weatherFindings', { guess });
  const { scenario, clock, sun, sky } = year;
  const { weather } = scenario;
  const means = guess !== undefined && weather.kind === 'monthly_means' ? { weather, guess } : null;
  const last = clock.steps - 1;
  const months = Array.from({ length: 12 }, (_, m) => spanOf(year, (i) => clock.month[i] === m + 1));
  return {
    ...reportHead(year),
    coverage: {
      from: localTime(clock, 0),
      to: endOf(year, last),
      hours: clock.steps * clock.step_h,
    },
    months,
    year: spanOf(year, () => true),
    clock: clockShift(sky.ghi_W_m2, clock, sun, scenario.site.longitude_deg),
    quality: skyQuality(sky, sun).map(({ first_step, ...result }) => ({
      ...result,
      first_time: first_step === null ? null : localTime(clock, first_step),
    })),
    beside_guess: means && besideGuess(means.weather, means.guess),
    notices: [...sky.notices, ...(means ? besideNotices(means.weather, means.guess) : [])],
    assumptions: [
      ...year.assumptions.filter(({ path, kind }) => kind === 'default' && path.startsWith('weather.')),
      ...sky.assumptions,
    ],
  };
}

/** Local time of a step's end, with the offset of its start. */
function endOf({ clock }: PreparedYear, step: number): string {
  const end_ms = clock.start_ms[step]! + clock.step_min * MINUTE_ms;
  return localTime({ ...clock, start_ms: clock.start_ms.map((ms, i) => (i === step ? end_ms : ms)) }, step);
}

function spanOf({ clock, sun, sky }: PreparedYear, within: (step: number) => boolean): WeatherSpan {
  const toEnergy = clock.step_h / 1000;
  let [ghi, dni, dhi, above, air, wind, steps] = [0, 0, 0, 0, 0, 0, 0];
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < clock.steps; i++) {
    if (!within(i)) continue;
    const here = sky.air_temperature_C[i]!;
    ghi += sky.ghi_W_m2[i]!;
    dni += sky.dni_W_m2[i]!;
    dhi += sky.dhi_W_m2[i]!;
    above += sun.extraterrestrial_horizontal_W_m2[i]!;
    air += here;
    wind += sky.wind_m_s[i]!;
    least = Math.min(least, here);
    most = Math.max(most, here);
    steps++;
  }
  return {
    ghi_kWh_m2: ghi * toEnergy,
    dni_kWh_m2: dni * toEnergy,
    dhi_kWh_m2: dhi * toEnergy,
    extraterrestrial_kWh_m2: above * toEnergy,
    clearness: shareOf(ghi, above),
    air_temperature_mean_C: air / steps,
    air_temperature_least_C: least,
    air_temperature_most_C: most,
    wind_mean_m_s: wind / steps,
  };
}
