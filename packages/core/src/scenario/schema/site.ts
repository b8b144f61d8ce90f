import * as z from 'zod';
import { isTimeZone } from '../../clock/zone.ts';
import { horizon, key, name, optional } from './terms.ts';

export const site = key(
  z.strictObject({
    name,
    latitude_deg: key(z.number().min(-90).max(90), 'Latitude, north positive'),
    longitude_deg: key(z.number().min(-180).max(180), 'Longitude, east positive'),
    elevation_m: key(z.number().min(-430).max(6000), 'Above sea level'),
    time_zone: key(
      z.string().refine(isTimeZone, { error: 'unknown IANA time zone' }),
      'IANA name of the time zone; loads follow its wall clock, daylight saving included',
    ),
    horizon: horizon(
      'What stands around higher than the arrays: hills, trees, houses; straight between the points and around the compass, and weather is taken to be that of an open horizon',
      'flat',
    ),
    record_low_C: optional(
      z.number().min(-90).max(40),
      'Coldest air on record, for the voltage of panels in series',
      'the coldest hour of the weather, less 10 K for hours of a file and 25 K for monthly means',
    ),
  }),
  'Where the plant stands',
);
