import { expectArguments } from '../../basis/arguments.ts';
import { expectWithin, FINITE } from '../../basis/within.ts';
import { buildClock } from '../../clock/clock.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import { byMonth, drawThrough, halfMonths } from '../../sky/mid-months.ts';
import { drawYear } from '../../sky/monthly-means.ts';
import { sunYear } from '../../sun/year.ts';

/** Drawn years that a count of dark seasons is made over: seeds from 0. */
const YEARS = 100;

/** How often a dark season comes. */
export interface DarkSeasons {
  /** Drawn years whose dark season has no more light than that. */
  readonly as_dark: number;
  readonly years: number;
}

/**
 * How many drawn years of the same means have a dark season (the three months in a row with the least light of the
 * table) with no more global irradiation than a share of the scenario's own drawn year.
 *
 * @param share of what the year of `weather.seed` has, or, with `ofMeans`, of the long-term mean
 * @returns null where the weather is not drawn
 */
export function darkSeasonsBelow(scenario: Scenario, share: number, ofMeans: boolean): DarkSeasons | null {
  expectArguments('darkSeasonsBelow', { scenario });
  expectWithin('darkSeasonsBelow', 'share', share, 0, FINITE);
  const { site, weather, run } = scenario;
  if (weather.kind !== 'monthly_means') return null;
  const clock = buildClock(run.year, site.time_zone, 60);
  const sun = sunYear(clock, site);
  const means = weather.ghi_kWh_m2_day;
  const season = (months: readonly number[], from: number): number =>
    [0, 1, 2].reduce((sum, k) => sum + months[(from + k) % 12]!, 0);
  const darkest = means.reduce((least, _, m) => (season(means, m) < season(means, least) ? m : least), 0);
  const haze = drawThrough(byMonth(weather.turbidity_linke), halfMonths(clock));
  const drawn = (seed: number): number => {
    const { month_shares } = drawYear({ ...weather, seed }, haze, site.elevation_m, clock, sun, '');
    return season(
      means.map((mean, m) => mean * month_shares[m]!),
      darkest,
    );
  };
  const limit = share * (ofMeans ? season(means, darkest) : drawn(weather.seed));
  let as_dark = 0;
  for (let seed = 0; seed < YEARS; seed++) if (drawn(seed) <= limit) as_dark++;
  return { as_dark, years: YEARS };
}
