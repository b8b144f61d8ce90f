import * as z from 'zod';
import { isTimeZone } from '../../clock/zone.ts';
import { between, key, optional } from './key.ts';
import { horizon, name } from './terms.ts';

export const site = z.strictObject({
  name,
  latitude_deg: key(between(-90, 90))`Latitude, north positive`,
  longitude_deg: key(between(-180, 180))`Longitude, east positive`,
  elevation_m: key(between(-430, 6000))`Above sea level`,
  time_zone: key(z.string().refine(isTimeZone, { error: 'unknown IANA time zone' }))`IANA name of the time
    zone; loads follow its wall clock, daylight saving included`,
  horizon: optional(horizon())`What stands around higher than the arrays: hills, trees, houses; straight
    between the points and around the compass, and weather is taken to be that of an open horizon | flat`,
  record_low_C: optional(between(-90, 40))`Coldest air on record, for the voltage of panels in series | the
    coldest hour of the weather, less 10 K for hours of a file and 25 K for monthly means`,
});
