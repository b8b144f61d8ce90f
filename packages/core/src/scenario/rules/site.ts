import type { Issue } from '../../basis/errors.ts';
import { memo, ofObject } from '../../basis/memo.ts';
import type { Notice } from '../../basis/notices.ts';
import { offSun_h, standardOffset_min } from '../../clock/zone.ts';
import type { Scenario, Site } from '../schema/schema.ts';

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

/** A longitude that can't be in the site's time zone. */
export function checkSite({ site, run }: Scenario): Omit<Issue, 'place'>[] {
  if (siteOffSun_h(site, run.year) <= OFF_SUN_h.refused) return [];
  return [
    {
      code: 'contradiction',
      path: 'site.longitude_deg',
      message: againstSun(site, run.year),
      expected: `within ${OFF_SUN_h.refused} h of it`,
      fix: longitudeFix(site, run.year),
    },
  ];
}

/** A notice where the site's clock is farther from its sun than clocks usually are. */
export function clockNotices(site: Site, year: number): Notice[] {
  if (siteOffSun_h(site, year) <= OFF_SUN_h.said) return [];
  const message = `site: ${againstSun(site, year)}: ${longitudeFix(site, year)}`;
  return [{ id: 'clock-off-sun', message, count: 1 }];
}
