import type { Issue } from '../../basis/errors.ts';
import { memo, ofObject } from '../../basis/memo.ts';
import type { Notice } from '../../basis/notices.ts';
import { offSun_h, standardOffset_min } from '../../clock/zone.ts';
import type { HorizonPoint, Scenario, SeriesTime, Site } from '../schema/schema.ts';
import { hasYear } from '../schema/weather.ts';
import { broken, pairs } from './rule.ts';

/**
 * A clock and its sun, hours: western China is 3.2 off, nobody more (recalled). Farther is said, and what is farther
 * still can't be: a zone of another place, or a longitude with the wrong sign. Our own limits, no source.
 */
const OFF_SUN_h = { said: 3, refused: 6 } as const;

/** So near a pole every longitude is within a day's drive, and clocks follow whoever supplies the station. */
const NEAR_POLE_deg = 85;

const DAY_h = 24;

/** How far the zone's standard time is from the sun at the site, hours; 0 near a pole. */
const siteOffSun_h = (site: Site, year: number): number =>
  Math.abs(site.latitude_deg) > NEAR_POLE_deg
    ? 0
    : offSun_h(
        zoneOf(site)(`${year}`, () => standardOffset_min(site.time_zone, year)),
        site.longitude_deg,
      );

/** A study asks for it with each design. */
const zoneOf = ofObject((_: Site) => memo<number>(8));

/** Standard time at which the mean sun stands highest, `04:47`. */
function noonText({ longitude_deg, time_zone }: Site, year: number): string {
  const noon_h = DAY_h / 2 + standardOffset_min(time_zone, year) / 60 - longitude_deg / 15;
  const minute = Math.round(60 * ((noon_h + DAY_h) % DAY_h)) % (60 * DAY_h);
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${two(Math.floor(minute / 60))}:${two(minute % 60)}`;
}

const againstSun = (site: Site, year: number): string =>
  `at longitude ${site.longitude_deg} the sun stands highest at ${noonText(site, year)} by standard time of ${site.time_zone}, ${siteOffSun_h(site, year).toFixed(1)} h from noon`;

function longitudeFix(site: Site, year: number): string {
  const turned = { ...site, longitude_deg: -site.longitude_deg };
  return siteOffSun_h(turned, year) <= OFF_SUN_h.said
    ? `did you mean ${turned.longitude_deg}? East of Greenwich is positive, west negative`
    : 'check its sign (east of Greenwich is positive, west negative) and site.time_zone';
}

/** A longitude that can be in the site's time zone, a horizon in order, weather with a year. */
export function* siteRules({ site, weather, run }: Scenario): Generator<Issue> {
  if (siteOffSun_h(site, run.year) > OFF_SUN_h.refused)
    yield broken('site.longitude_deg', 'contradiction', { expected: `within ${OFF_SUN_h.refused} h of it` })`
      ${againstSun(site, run.year)} | ${longitudeFix(site, run.year)}`;
  yield* horizon(site.horizon, 'site.horizon');
  if (weather.kind === 'series') yield* yearless(weather.time, 'weather');
}

/** Points go around the compass once; 0 and 360 are the same north. */
export function* horizon(points: readonly HorizonPoint[] | undefined, path: string): Generator<Issue> {
  for (const [i, before, { azimuth_deg }] of pairs(points)) {
    const at = `${path}[${i}].azimuth_deg`;
    if (azimuth_deg === 360 && points![0]!.azimuth_deg === 0)
      yield broken(at)`360 is north again, which has a height at 0 already | list each azimuth once, clockwise
        from north`;
    else if (azimuth_deg <= before.azimuth_deg)
      yield broken(at)`${azimuth_deg} does not come after ${before.azimuth_deg} | list each azimuth once,
        clockwise from north`;
  }
}

/** The report tells arrays and loads apart by name. */
export function* twice(named: readonly { readonly name: string }[], list: string): Generator<Issue> {
  for (const [i, { name }] of named.entries()) {
    const first = named.findIndex((other) => other.name === name);
    if (first < i)
      yield broken(`${list}[${i}].name`, 'duplicate-name')`"${name}" is the name of ${list}[${first}] already
        | give each its own name`;
  }
}

export function* yearless({ format, year }: SeriesTime, series: string): Generator<Issue> {
  if (format !== undefined && year === undefined && !hasYear(format))
    yield broken(`${series}.time.format`, 'no-year')`stamps of the form "${format}" have no year | say which
      year they are of: set time.year`;
}

/** A notice where the site's clock is farther from its sun than clocks usually are. */
export function clockNotices(site: Site, year: number): Notice[] {
  if (siteOffSun_h(site, year) <= OFF_SUN_h.said) return [];
  const message = `site: ${againstSun(site, year)}: ${longitudeFix(site, year)}`;
  return [{ id: 'clock-off-sun', message, count: 1 }];
}
