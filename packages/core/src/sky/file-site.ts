import { InputError, type Issue, issue } from '../basis/errors.ts';
import { type Notice, notice } from '../basis/notices.ts';
import { radians } from '../basis/units.ts';
import type { Clock } from '../clock/clock.ts';
import { longitudesApart_deg, offSun_h, offsetText } from '../clock/zone.ts';
import type { Site } from '../scenario/schema/schema.ts';
import type { FileSite } from '../series/weather-file.ts';

/** Within these a file is of the same place: our own limits, no source. */
const NEAR_km = 10;
const NEAR_m = 100;

/**
 * Farther east or west than this the sun of the site stands 20 minutes beside the file's, which is more than weather
 * shifts it; as far to north or south it is another height.
 */
const FARTHEST_deg = 5;

/**
 * The clocks of a place and its sun: western China is 3.2 hours off, nobody more (recalled). What is farther is a zone
 * with the wrong sign, or one of another place.
 */
const FARTHEST_ZONE_h = 3.5;

/** Mean radius of the Earth. */
const EARTH_km = 6371;

/**
 * Compares where a file says it is from with the site of the scenario.
 *
 * @returns notices where they differ by more than a little, or where the file's zone is not the site's
 * @throws InputError if the sun over the file can't be that of the site: another place, or a zone that is not there
 */
export function compareSites(ofFile: FileSite, site: Site, clock: Clock, file: string): Notice[] {
  const issues: Issue[] = [];
  const place = { file, line: ofFile.line };
  const east = longitudesApart_deg(ofFile.longitude_deg, site.longitude_deg);
  const north = Math.abs(ofFile.latitude_deg - site.latitude_deg);
  const zone = offsetText(ofFile.offset_min);
  const zoneApart_h = offSun_h(ofFile.offset_min, ofFile.longitude_deg);
  if (zoneApart_h > FARTHEST_ZONE_h && ofFile.utc !== true)
    issues.push(
      issue('zone-off-sun', 'weather.file', {
        expected: `a zone within ${FARTHEST_ZONE_h} h of it, east of Greenwich positive`,
        place: { ...place, field: 'time zone' },
      })`the file's zone ${zone} is ${zoneApart_h.toFixed(1)} h from the sun at its longitude
        ${ofFile.longitude_deg} | correct zone or longitude in the line, their signs above all`,
    );
  const distance = distance_km(ofFile, site);
  if (east > FARTHEST_deg || north > FARTHEST_deg)
    issues.push(
      issue('other-place', 'site', {
        expected: `a file from within ${FARTHEST_deg} degrees of ${placeText(site)}`,
        place,
      })`the file is of ${placeText(ofFile)}, ${Math.round(distance)} km from site: the sun there is another |
        take a file of the place, or correct site.latitude_deg and site.longitude_deg`,
    );
  if (issues.length > 0) throw new InputError(issues);

  const notices: Notice[] = [];
  const higher = site.elevation_m - ofFile.elevation_m;
  if (distance > NEAR_km || Math.abs(higher) > NEAR_m) {
    const height =
      Math.abs(higher) > NEAR_m
        ? `, and the site is ${Math.round(Math.abs(higher))} m ${higher > 0 ? 'higher' : 'lower'}`
        : '';
    notices.push(notice('file-site-apart')`weather: ${file} is of ${placeText(ofFile)},
      ${Math.round(distance)} km from site${height}; its weather is used as it is`);
  }
  const standard_min = Math.min(...new Set(clock.offset_min));
  if (standard_min !== ofFile.offset_min)
    notices.push(notice('file-zone-apart')`weather: the stamps of ${file} are in ${zone} and were read so;
      standard time of ${site.time_zone} is ${offsetText(standard_min)}`);
  return notices;
}

type Point = Pick<Site, 'latitude_deg' | 'longitude_deg'>;

const placeText = ({ latitude_deg, longitude_deg }: Point): string => `${latitude_deg}, ${longitude_deg}`;

/** Along a great circle (haversine formula). */
function distance_km(a: Point, b: Point): number {
  const [latA, latB] = [radians(a.latitude_deg), radians(b.latitude_deg)];
  const half = (x: number): number => Math.sin(x / 2) ** 2;
  const h =
    half(latA - latB) +
    Math.cos(latA) * Math.cos(latB) * half(radians(longitudesApart_deg(a.longitude_deg, b.longitude_deg)));
  return 2 * EARTH_km * Math.asin(Math.sqrt(h));
}
