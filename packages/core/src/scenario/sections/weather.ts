import * as z from 'zod';
import { parseZone } from '../../clock/zone.ts';
import { assumed, byMonth, name, twelve } from './terms.ts';

const turbidity = () => z.number().min(1).max(12);
const airTemperature = () => z.number().min(-70).max(60);

const daily_swing_K = assumed(
  z.number().min(0).max(40),
  8,
  'difference between the warmest and the coldest hour of a mean day; common practice, no source',
);
const wind_m_s = assumed(
  z.number().min(0).max(40),
  1,
  'no wind given: 1 m/s, the wind of the nominal cell temperature test (IEC 61215), on the warm side for cells',
);

const decomposition = assumed(
  z.enum(['erbs', 'orgill_hollands']),
  'erbs',
  'splits global light into beam and diffuse where a file does not; Erbs, Klein & Duffie 1982, the other fit is Orgill & Hollands 1977',
);

export const clearSky = z.strictObject({
  kind: z.literal('clear-sky'),
  turbidity_linke: byMonth(turbidity()),
  air_temperature_C: byMonth(airTemperature()),
  daily_swing_K,
  wind_m_s,
});

export const normals = z.strictObject({
  kind: z.literal('normals'),
  /** Monthly mean of daily global horizontal irradiation, January first. */
  ghi_kWh_m2_day: twelve(z.number().min(0).max(13)),
  air_temperature_C: twelve(airTemperature()),
  daily_swing_K,
  wind_m_s,
  turbidity_linke: assumed(
    byMonth(turbidity()),
    3,
    'shapes the hours of a day only, its sum is given; clean rural air, common practice, no source',
  ),
  decomposition,
  /** Which of the possible years is drawn. */
  seed: z.int().min(0).max(4_294_967_295),
});

const irradianceColumn = z.strictObject({
  column: name(),
  unit: z.enum(['W_m2', 'kJ_m2', 'MJ_m2', 'Wh_m2', 'kWh_m2']),
});
export const seriesTime = z.strictObject({
  column: name(),
  /** IANA name, or a fixed offset such as `+01:00` or `UTC`. */
  zone: name().refine((zone) => parseZone(zone) !== undefined, { error: 'unknown zone' }),
  /** Which instant of its interval a stamp names. There is no default. */
  label: z.enum(['start', 'middle', 'end']),
  /** Luxon format of the stamp; absent means ISO 8601. */
  format: name().optional(),
  /** Year that every stamp is read as of: for a typical year of months from several years, or stamps without one. */
  year: z.int().min(1950).max(2150).optional(),
});
export const gaps = assumed(
  z.discriminatedUnion('fill', [
    z.strictObject({
      fill: z.literal('refuse'),
      longest_h: assumed(z.number().min(0).max(72), 0, 'nothing is filled, so no length is allowed'),
    }),
    z.strictObject({
      fill: z.literal('interpolate'),
      /** Longest run of missing hours that may be filled. */
      longest_h: z.number().min(0).max(72),
    }),
  ]),
  { fill: 'refuse', longest_h: 0 },
  'a gap in a series is an error unless the file says how to fill it',
);
export const csv = {
  /** Path, relative to the scenario file. */
  file: name(),
  delimiter: assumed(z.enum([',', ';', '\t']), ',', 'comma, RFC 4180'),
  /** Decimal mark; absent means a point. A number with the other mark is an error of its row. */
  decimal: z.enum(['point', 'comma']).optional(),
  /** Lines that begin with it are no rows. */
  comment: z.string().min(1).max(5).optional(),
  /** Rows between the header and the first row of values: units, say. */
  skip_rows: z.int().min(0).max(20).optional(),
  /** What stands in a cell whose value is missing; an empty cell always does. */
  missing: z
    .array(z.union([z.number(), z.string().max(20)]))
    .max(20)
    .optional(),
  time: seriesTime,
  gaps,
};

export const series = z.strictObject({
  kind: z.literal('series'),
  ...csv,
  ghi: irradianceColumn,
  dni: irradianceColumn.optional(),
  dhi: irradianceColumn.optional(),
  /** Not used where there is a column of beam or of diffuse light. */
  decomposition,
  air_temperature: z.strictObject({ column: name(), unit: z.enum(['C', 'F', 'K']) }),
  wind: z.strictObject({ column: name(), unit: z.enum(['m_s', 'km_h']) }).optional(),
  wind_m_s,
});

/** Keys of the open formats, which bring columns, units, zone and label of their stamps with them. */
const openFormat = {
  /** Splits global light where the file's beam and diffuse are missing. */
  decomposition,
  /** Path, relative to the scenario file. */
  file: name(),
  /** Whether the rows are read as of `run.year`, or keep the years of their stamps. */
  years: assumed(
    z.enum(['typical', 'own']),
    'typical',
    'rows are read as of run.year, whatever years their months come from',
  ),
  gaps,
  /** For a file without wind. There is no default: most files have one. */
  wind_m_s: z.number().min(0).max(40).optional(),
};
export const tmy3 = z.strictObject({ kind: z.literal('tmy3'), ...openFormat });
export const epw = z.strictObject({ kind: z.literal('epw'), ...openFormat });

export const weather = z.discriminatedUnion('kind', [clearSky, series, normals, tmy3, epw]);

/** Letters of a Luxon format, text in quotes left out: each is a token or a part of one. */
export const formatLetters = (format: string): string => format.replace(/'[^']*'/g, '');

/** True if stamps of a Luxon format have a year: a year, a week year, or a whole date. */
export const hasYear = (format: string): boolean => /[ykDfF]/.test(formatLetters(format));
