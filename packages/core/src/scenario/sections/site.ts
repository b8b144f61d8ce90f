import * as z from 'zod';
import { isTimeZone } from '../../clock/zone.ts';
import { horizon, name } from './terms.ts';

export const site = z.strictObject({
  name: name(),
  latitude_deg: z.number().min(-90).max(90),
  /** East positive. */
  longitude_deg: z.number().min(-180).max(180),
  elevation_m: z.number().min(-430).max(6000),
  time_zone: z.string().refine(isTimeZone, { error: 'unknown IANA time zone' }),
  horizon,
  /** Coldest air on record, for the voltage of panels in series. */
  record_low_C: z.number().min(-90).max(40).optional(),
});
