import * as z from 'zod';
import { parseZone } from '../../clock/zone.ts';
import { assumed, byMonth, column, file, key, kind, optional, seed, text, twelve } from './terms.ts';

const turbidity = () => byMonth(z.number().min(1).max(12));
const HAZE = 'Linke turbidity, the haze of the air: one figure or twelve, January first';
const airTemperature = () => z.number().min(-70).max(60);
const AIR = 'Air temperature, monthly means, January first';

const daily_swing_K = assumed(
  z.number().min(0).max(40),
  'Warmest less coldest hour of a mean day',
  8,
  'difference between the warmest and the coldest hour of a mean day; common practice, no source',
);
const WIND = 'Wind speed all year';
const wind_m_s = assumed(
  z.number().min(0).max(40),
  WIND,
  1,
  'no wind given: 1 m/s, the wind of the nominal cell temperature test (IEC 61215), on the warm side for cells',
);
const decomposition = assumed(
  z.enum(['erbs', 'orgill_hollands']),
  'How global light is split into beam and diffuse; not used where a file has those',
  'erbs',
  'splits global light into beam and diffuse where a file does not; Erbs, Klein & Duffie 1982, the other fit is Orgill & Hollands 1977',
);

export const clearSky = z.strictObject({
  kind: kind('clear-sky', 'No cloud all year: no forecast'),
  turbidity_linke: key(turbidity(), HAZE),
  air_temperature_C: key(byMonth(airTemperature()), AIR),
  daily_swing_K,
  wind_m_s,
});

export const normals = z.strictObject({
  kind: kind('normals', 'Twelve monthly means, from which one year with runs of dull days is drawn'),
  ghi_kWh_m2_day: key(
    twelve(z.number().min(0).max(13)),
    'Global horizontal irradiation of a mean day, monthly means, January first',
  ),
  air_temperature_C: key(twelve(airTemperature()), AIR),
  daily_swing_K,
  wind_m_s,
  turbidity_linke: assumed(
    turbidity(),
    `${HAZE}; shapes the hours of a day only`,
    3,
    'shapes the hours of a day only, its sum is given; clean rural air, common practice, no source',
  ),
  decomposition,
  seed: key(seed(), 'Which of the possible years is drawn: try several'),
});

const irradianceColumn = () =>
  z.strictObject({
    column,
    unit: key(z.enum(['W_m2', 'kJ_m2', 'MJ_m2', 'Wh_m2', 'kWh_m2']), 'Unit of the column'),
  });
const WITHOUT_LIGHT = 'global light is split';
export const seriesTime = z.strictObject({
  column,
  zone: key(
    text().refine((zone) => parseZone(zone) !== undefined, { error: 'unknown zone' }),
    'Zone of the stamps: IANA name, UTC, or an offset such as "+01:00"',
  ),
  label: key(z.enum(['start', 'middle', 'end']), 'Which instant of its interval a stamp names'),
  format: optional(text(), 'Luxon format of the stamp', 'ISO 8601'),
  year: optional(
    z.int().min(1950).max(2150),
    'Year that every stamp is read as of; for a typical year, or stamps without a year',
  ),
});
const longest_h = () => z.number().min(0).max(72);
const LONGEST = 'Longest run of missing hours that may be filled';
export const gaps = assumed(
  z.discriminatedUnion('fill', [
    z.strictObject({
      fill: kind('refuse', 'A gap is an error'),
      longest_h: assumed(longest_h(), LONGEST, 0, 'nothing is filled, so no length is allowed'),
    }),
    z.strictObject({
      fill: kind('interpolate', 'Light by its clearness, the rest on a straight line'),
      longest_h: key(longest_h(), LONGEST),
    }),
  ]),
  'What to do where rows are missing',
  { fill: 'refuse', longest_h: 0 },
  'a gap in a series is an error unless the file says how to fill it',
);
export const csv = {
  file,
  delimiter: assumed(
    z.enum([',', ';', '\t']),
    'Sign between the columns of the CSV file',
    ',',
    'comma, RFC 4180',
  ),
  decimal: optional(
    z.enum(['point', 'comma']),
    'Decimal mark; a number with the other one is an error of its row',
    'a point',
  ),
  comment: optional(z.string().min(1).max(5), 'Lines that begin with it are no rows'),
  skip_rows: optional(
    z.int().min(0).max(20),
    'Rows between the header and the first row of values; 1 for a row of units',
  ),
  missing: optional(
    z.array(z.union([z.number(), z.string().max(20)])).max(20),
    'What stands in a cell whose value is missing; an empty cell always does',
  ),
  time: key(seriesTime, 'Column of time stamps and how they are to be read'),
  gaps,
};

export const series = z.strictObject({
  kind: kind('series', 'Rows of an hour or less of a CSV file'),
  ...csv,
  ghi: key(irradianceColumn(), 'Global horizontal irradiance'),
  dni: optional(irradianceColumn(), 'Direct normal irradiance', WITHOUT_LIGHT),
  dhi: optional(irradianceColumn(), 'Diffuse horizontal irradiance', WITHOUT_LIGHT),
  decomposition,
  air_temperature: key(
    z.strictObject({ column, unit: key(z.enum(['C', 'F', 'K']), 'Unit of the column') }),
    'Air temperature',
  ),
  wind: optional(
    z.strictObject({ column, unit: key(z.enum(['m_s', 'km_h']), 'Unit of the column') }),
    'Wind speed',
    'wind_m_s',
  ),
  wind_m_s,
});

/** Keys of the open formats, which bring columns, units, zone and label of their stamps with them. */
const openFormat = {
  decomposition,
  file,
  years: assumed(
    z.enum(['typical', 'own']),
    'Rows are read as of the year that is played, or keep the years of their stamps',
    'typical',
    'rows are read as of run.year, whatever years their months come from',
  ),
  gaps,
  wind_m_s: optional(z.number().min(0).max(40), WIND, 'the wind of the file; one without wind asks for it'),
};
export const tmy3 = z.strictObject({
  kind: kind('tmy3', 'An open format of weather archives, which says itself how it is read'),
  ...openFormat,
});
export const epw = z.strictObject({
  kind: kind('epw', 'Another open format of weather archives, which says itself how it is read'),
  ...openFormat,
});

export const weather = z.discriminatedUnion('kind', [clearSky, series, normals, tmy3, epw]);

/** Letters of a Luxon format, text in quotes left out: each is a token or a part of one. */
export const formatLetters = (format: string): string => format.replace(/'[^']*'/g, '');

/** True if stamps of a Luxon format have a year: a year, a week year, or a whole date. */
export const hasYear = (format: string): boolean => /[ykDfF]/.test(formatLetters(format));
