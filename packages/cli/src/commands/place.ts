import type { Notice } from '@longnight/core';
import { zoneNotices } from '@longnight/core/place';
import type { Scenario } from '@longnight/core/scenario';
import lookUp from '@photostructure/tz-lookup';

export { firstGuess } from '@longnight/core/place';

/** What a table of coordinates says of a place. It is large: this file is imported only by who asks. */

/**
 * IANA name of the time zone at a place, near a border perhaps the neighbour's. The borders are those of OpenStreetMap
 * (ODbL 1.0, © OpenStreetMap contributors) as timezone-boundary-builder has them.
 */
export const zoneAt = (latitude_deg: number, longitude_deg: number): string =>
  lookUp(latitude_deg, longitude_deg);

/** A notice where a scenario's clock is hours from that of its coordinates. */
export const zoneOffPlace = ({ site, run }: Scenario): readonly Notice[] =>
  zoneNotices(site, zoneAt(site.latitude_deg, site.longitude_deg), run.year);
