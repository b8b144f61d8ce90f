import { type Assumption, type Notice, notice } from '../basis/notices.ts';
import { radians } from '../basis/units.ts';
import { type Clock, localTime } from '../clock/clock.ts';
import { clockNotices } from '../scenario/rules/site.ts';
import type { ClearSkyWeather, MonthlyMeansWeather, Site, Weather } from '../scenario/schema/schema.ts';
import type { FileTexts } from '../series/types.ts';
import type { SunYear } from '../sun/year.ts';
import * as assume from './assumptions.ts';
import { clearSkyBeamYear, clearSkyGlobalYear } from './clear-sky.ts';
import { type Split, splitByBeam, splitByDiffuse, splitDays, splitGlobal } from './decompose.ts';
import { byMonth, drawThrough, halfMonths } from './mid-months.ts';
import { type DrawnYear, drawYear } from './monthly-means.ts';
import { warmthNotices } from './plausible.ts';
import { qualityNotices, skyQuality } from './quality.ts';
import type { FileWeather } from './rows.ts';
import { suppliedSky } from './series.ts';
import { addDays, airTemperature_C, coldestStep, coldWithClear, dayToDayBy_K } from './temperature.ts';
import type { SkyYear } from './types.ts';

/**
 * The sky over the steps of a clock, from whichever weather the scenario gives.
 *
 * @returns irradiances, air temperature and wind, means of each step, without NaN
 * @throws InputError if the weather can't be at this place or its file can't be used
 */
export function prepareSky(
  weather: Weather,
  site: Site,
  clock: Clock,
  sun: SunYear,
  files: FileTexts,
  scenarioFile: string,
): SkyYear {
  const over: Over = { site, clock, sun };
  const sky =
    weather.kind === 'clear-sky'
      ? clearYear(weather, over)
      : weather.kind === 'monthly_means'
        ? drawnYear(weather, over, scenarioFile)
        : suppliedYear(weather, over, files, scenarioFile);
  const notices = [
    ...clockNotices(site, clock.year),
    ...warmthNotices(sky.air_temperature_C),
    ...sky.notices,
    ...qualityNotices(skyQuality(sky, sun), clock),
  ];
  return { ...sky, notices };
}

/** Where and when a sky is asked for. */
interface Over {
  readonly site: Site;
  readonly clock: Clock;
  readonly sun: SunYear;
}

/** Haze, air and wind of weather that is no file. */
function steady(weather: ClearSkyWeather | MonthlyMeansWeather, { site, clock }: Over) {
  const halves = halfMonths(clock);
  const monthly_C = byMonth(weather.air_temperature_C);
  return {
    turbidity: drawThrough(byMonth(weather.turbidity_linke), halves),
    air_temperature_C: airTemperature_C(monthly_C, weather.daily_swing_K, site.longitude_deg, clock, halves),
    wind_m_s: new Float64Array(clock.steps).fill(weather.wind_m_s),
  };
}

function clearYear(weather: ClearSkyWeather, over: Over): SkyYear {
  const { site, sun } = over;
  const { turbidity, ...airAndWind } = steady(weather, over);
  const ghi_W_m2 = clearSkyGlobalYear(sun, turbidity, site.elevation_m);
  const beam_W_m2 = clearSkyBeamYear(ghi_W_m2, sun, turbidity, site.elevation_m);
  return {
    ghi_W_m2,
    ...splitByBeam(ghi_W_m2, beam_W_m2, sun),
    ...airAndWind,
    notices: [],
    assumptions: [assume.SUN, ...assume.clearSky(site), assume.TEMPERATURE, assume.STEADY_WIND],
  };
}

function drawnYear(weather: MonthlyMeansWeather, over: Over, scenarioFile: string): SkyYear {
  const { site, clock, sun } = over;
  const isGuess = weather.source === 'first_guess';
  const { turbidity, air_temperature_C, wind_m_s } = steady(weather, over);
  const drawn = drawYear(weather, turbidity, site.elevation_m, clock, sun, scenarioFile);
  const step = coldestStep(air_temperature_C);
  // Its time and not its step: days of a year are played as a year of their own.
  const coldest_mean = { time: localTime(clock, step), air_C: air_temperature_C[step]! };
  addDays(air_temperature_C, warmthOfDays(weather, drawn, over), clock);
  return {
    ghi_W_m2: drawn.ghi_W_m2,
    ...splitDays(drawn.ghi_W_m2, sun, clock),
    air_temperature_C,
    coldest_mean,
    wind_m_s,
    notices: [...(isGuess ? [GUESSED] : []), ...drawn.notices],
    assumptions: [
      ...(isGuess ? [assume.FIRST_GUESS] : []),
      assume.SUN,
      ...assume.drawnYear(weather, drawn.month_shares),
      assume.STEADY_WIND,
    ],
  };
}

const GUESSED = notice(
  'first-guess',
)`weather: sun and air are a first guess made from coordinates; put in monthly
  means of the place and take weather.source out before you decide by it`;

/** How far each day's air strays from its month, K: with the sky by as much as the season has it, else by itself. */
function warmthOfDays(
  weather: MonthlyMeansWeather,
  { sky, air }: Pick<DrawnYear, 'sky' | 'air'>,
  { clock, sun }: Over,
): Float64Array {
  const means_C = byMonth(weather.air_temperature_C);
  const range_K = Math.max(...means_C) - Math.min(...means_C);
  const stated_K = weather.day_to_day_K === undefined ? undefined : byMonth(weather.day_to_day_K);
  const above = new Float64Array(12);
  const steps = new Float64Array(12);
  for (let i = 0; i < clock.steps; i++) {
    const m = clock.month[i]! - 1;
    above[m]! += sun.extraterrestrial_horizontal_W_m2[i]!;
    steps[m]! += 1;
  }
  const months = means_C.map((mean_C, m) => ({
    spread_K: stated_K?.[m] ?? dayToDayBy_K(mean_C, range_K),
    link: coldWithClear((24 * above[m]!) / steps[m]! / 1000),
  }));
  return sky.map((clear, d) => {
    const { spread_K, link } = months[clock.month[clock.day_start[d]!]! - 1]!;
    return spread_K * (link * clear + Math.sqrt(1 - link ** 2) * air[d]!);
  });
}

function suppliedYear(weather: FileWeather, over: Over, files: FileTexts, scenarioFile: string): SkyYear {
  const { site, clock, sun } = over;
  const supplied = suppliedSky(weather, site, clock, sun, files, scenarioFile);
  const { ghi_W_m2, dni_W_m2, dhi_W_m2, air_temperature_C } = supplied;
  const notices: Notice[] = [...supplied.notices];
  const assumptions: Assumption[] = [assume.SUN, ...supplied.assumptions];
  if (notices.some(({ id }) => id === 'gap-filled')) assumptions.push(assume.FILLED_LIGHT);
  let split: Split;
  if (dni_W_m2 && dhi_W_m2) {
    split = { dni_W_m2: beamWithinSun(dni_W_m2, sun), dhi_W_m2 };
    notices.push(...beamCut(dni_W_m2, split.dni_W_m2), ...closure(ghi_W_m2, split, sun));
  } else if (dni_W_m2) {
    split = splitByBeam(ghi_W_m2, dni_W_m2, sun);
    assumptions.push(assume.DIFFUSE_BY_DIFFERENCE);
  } else if (dhi_W_m2) {
    split = splitByDiffuse(ghi_W_m2, dhi_W_m2, sun);
    assumptions.push(assume.BEAM_BY_DIFFERENCE);
  } else {
    split = splitGlobal(ghi_W_m2, sun, weather.decomposition);
    assumptions.push(assume.splitBy(weather.decomposition));
  }
  if (!supplied.wind_m_s) assumptions.push(assume.STEADY_WIND);
  const wind_m_s = supplied.wind_m_s ?? new Float64Array(clock.steps).fill(supplied.steady_wind_m_s);
  return { ghi_W_m2, ...split, air_temperature_C, wind_m_s, notices, assumptions };
}

/** Measured beam, cut to what the sun sends in the lit part of each step. */
const beamWithinSun = (dni_W_m2: Float64Array, sun: SunYear): Float64Array =>
  dni_W_m2.map((dni, i) => Math.min(dni, sun.up_share[i]! * sun.extraterrestrial_normal_W_m2[i]!));

/** What is cut by less is the noise of an instrument, W/m²; our own limit, no source. */
const CUT_NOTICED_W_m2 = 5;

/** A notice if measured beam was cut by more than noise. */
function beamCut(measured_W_m2: Float64Array, used_W_m2: Float64Array): Notice[] {
  const cuts = measured_W_m2
    .map((measured, i) => measured - used_W_m2[i]!)
    .filter((cut) => cut > CUT_NOTICED_W_m2);
  if (cuts.length === 0) return [];
  return [
    notice('beam-cut-to-sun', cuts.length)`weather: beam was cut to what the sun gives above the air, in
      ${cuts.length.toLocaleString('en')} steps, by ${Math.max(...cuts).toFixed(0)} W/m² at most`,
  ];
}

/** A notice if global, beam and diffuse of a file contradict each other by more than 5 % of the light of the year. */
function closure(ghi_W_m2: Float64Array, { dni_W_m2, dhi_W_m2 }: Split, sun: SunYear): Notice[] {
  let global = 0;
  let apart = 0;
  for (let i = 0; i < ghi_W_m2.length; i++) {
    const beam = dni_W_m2[i]! * Math.max(0, Math.sin(radians(sun.altitude_deg[i]!)));
    global += ghi_W_m2[i]!;
    apart += Math.abs(ghi_W_m2[i]! - dhi_W_m2[i]! - beam);
  }
  if (global === 0 || apart / global <= 0.05) return [];
  return [
    notice('light-does-not-close')`weather: global differs from diffuse plus beam by
      ${((100 * apart) / global).toFixed(0)} % of the year's light, summed over the steps; check that the
      columns belong together, their units, and the label and zone of the stamps`,
  ];
}
