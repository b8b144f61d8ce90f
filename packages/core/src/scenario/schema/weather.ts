import * as z from 'zod';
import { parseZone } from '../../clock/zone.ts';
import {
  assumed,
  between,
  byMonth,
  key,
  kind,
  leftOut,
  list,
  optional,
  seed,
  text,
  twelve,
  whole,
} from './key.ts';
import { column, file } from './terms.ts';

const turbidity = () => byMonth(between(1, 12));
const HAZE = 'Linke turbidity, the haze of the air: one figure or twelve, January first';
const airTemperature = () => between(-70, 60);
const AIR = 'Air temperature, monthly means, January first';

const daily_swing_K = assumed(between(0, 40), 8)`Warmest less coldest hour of a mean day | difference between
  the warmest and the coldest hour of a mean day; common practice, no source`;
const WIND = 'Wind speed all year';
const wind_m_s = assumed(between(0, 40), 1)`${WIND} | no wind given: 1 m/s, the wind of the nominal cell
  temperature test (IEC 61215), on the warm side for cells`;
const decomposition = assumed(z.enum(['erbs', 'orgill_hollands']), 'erbs')`How global light is split into beam
  and diffuse; not used where a file has those | splits global light into beam and diffuse where a file does
  not; Erbs, Klein & Duffie 1982, the other fit is Orgill & Hollands 1977`;

export const clearSky = z.strictObject({
  kind: kind('clear-sky')`No cloud all year: no forecast`,
  turbidity_linke: key(turbidity())`${HAZE}`,
  air_temperature_C: key(byMonth(airTemperature()))`${AIR}`,
  daily_swing_K,
  wind_m_s,
});

export const monthlyMeans = z.strictObject({
  kind: kind('monthly_means')`Twelve monthly means, from which one year with runs of dull days is drawn`,
  ghi_kWh_m2_day: key(twelve(between(0, 13)))`Global horizontal irradiation of a mean day, monthly means,
    January first`,
  air_temperature_C: key(twelve(airTemperature()))`${AIR}`,
  daily_swing_K,
  wind_m_s,
  turbidity_linke: assumed(turbidity(), 3)`${HAZE}; shapes the hours of a day only | shapes the hours of a day
    only, its sum is given; clean rural air, common practice, no source`,
  persistence: optional(byMonth(between(0, 0.9)))`How much of a day's weather lives on in the next, a
    correlation: higher where fog or dull weather lasts | 0.15 to 0.6, higher in brighter months`,
  least_clearness: optional(byMonth(between(0.01, 0.6)))`Light of the dullest day over the light above the
    air | 0.05, more in bright months`,
  month_spread_share: optional(byMonth(between(0, 0.5)))`How far a single month's mean strays from its
    long-term mean, one standard deviation as a share of it; 0 gives each month its mean | what the days
    make of it: 0.1 to 0.2 in a dull winter, less in bright months`,
  day_to_day_K: optional(byMonth(between(0, 20)))`How far a day's mean air temperature strays from its
    month's, one standard deviation; 0 for none | 2 to 8, more in cold months and inland`,
  seed: key(seed())`Which of the possible years is drawn: try several`,
});

/** A column in one of some units. */
export const columnIn = <const U extends readonly string[]>(units: U, meaning = 'Unit of the column') =>
  z.strictObject({ column, unit: key(z.enum(units))`${meaning}` });
const irradianceColumn = () => columnIn(['W_m2', 'kJ_m2', 'MJ_m2', 'Wh_m2', 'kWh_m2']);
const WITHOUT_LIGHT = 'global light is split';
const stampColumn = z.union([text(), list(text(), 2, 6)]);
export const seriesTime = z.strictObject({
  column: key(
    stampColumn,
  )`Column of the stamps; of several the cells are joined by a blank, in this order, and
    format says what they are: [year, month, day, hour] with "yyyy M d H"`,
  zone: key(text().refine((zone) => parseZone(zone) !== undefined, { error: 'unknown zone' }))`Zone of the
    stamps: IANA name, UTC, or an offset such as "+01:00"`,
  label: key(z.enum(['start', 'middle', 'end']))`Which instant of its interval a stamp names`,
  format: optional(text())`Luxon format of the stamp | ISO 8601`,
  year: optional(whole(1950, 2150))`Year that every stamp is read as of; for a typical year, or stamps without
    a year`,
});
const longest_h = () => between(0, 72);
const LONGEST = 'Longest run of missing hours that may be filled';
const fill = z.discriminatedUnion('fill', [
  z.strictObject({
    fill: kind('refuse')`A gap is an error`,
    longest_h: assumed(longest_h(), 0)`${LONGEST} | nothing is filled, so no length is allowed`,
  }),
  z.strictObject({
    fill: kind('interpolate')`Light by its clearness, the rest on a straight line`,
    longest_h: key(longest_h())`${LONGEST}`,
  }),
]);
export const gaps = assumed(fill, { fill: 'refuse', longest_h: 0 })`What to do where rows are missing | a gap
  in a series is an error unless the file says how to fill it`;
export const csv = {
  file,
  delimiter: leftOut(z.enum([',', ';', '\t']), ',')`Sign between the columns of the CSV file | comma, RFC
    4180`,
  decimal: optional(z.enum(['point', 'comma']))`Decimal mark; a number with the other one is an error of its
    row | a point`,
  comment: optional(z.string().min(1).max(5))`Lines that begin with it are no rows`,
  skip_rows: optional(whole(0, 20))`Rows between the header and the first row of values; 1 for a row of
    units`,
  missing: optional(z.array(z.union([z.number(), z.string().max(20)])).max(20))`What stands in a cell whose
    value is missing; an empty cell always does`,
  time: key(seriesTime)`Column of time stamps and how they are to be read`,
  gaps,
};

export const series = z.strictObject({
  kind: kind('series')`Rows of an hour or less of a CSV file`,
  ...csv,
  ghi: key(irradianceColumn())`Global horizontal irradiance`,
  dni: optional(irradianceColumn())`Direct normal irradiance | ${WITHOUT_LIGHT}`,
  dhi: optional(irradianceColumn())`Diffuse horizontal irradiance | ${WITHOUT_LIGHT}`,
  decomposition,
  air_temperature: key(columnIn(['C', 'F', 'K']))`Air temperature`,
  wind: optional(columnIn(['m_s', 'km_h']))`Wind speed | wind_m_s`,
  wind_m_s,
});

/** Keys of the open formats, which bring columns, units, zone and label of their stamps with them. */
const openFormat = {
  decomposition,
  file,
  gaps,
  wind_m_s: optional(between(0, 40))`${WIND} | the wind of the file; one without wind asks for it`,
};
const years = z.enum(['typical', 'own']);
const YEARS = 'Rows are read as of the year that is played, or keep the years of their stamps';
/** Of archives of typical years. */
const typicalYears = assumed(years, 'typical')`${YEARS} | rows are read as of run.year, whatever years their
  months come from`;
/** Of archives of the years that were. */
const ownYears = assumed(years, 'own')`${YEARS} | the archive hands out the years that were: run.year chooses
  one`;
export const tmy3 = z.strictObject({
  kind: kind('tmy3')`An open format of weather archives, which says itself how it is read`,
  ...openFormat,
  years: typicalYears,
});
export const epw = z.strictObject({
  kind: kind('epw')`Another open format of weather archives, which says itself how it is read`,
  ...openFormat,
  years: typicalYears,
});
export const nsrdb = z.strictObject({
  kind: kind('nsrdb')`CSV of the National Solar Radiation Database, years from satellites`,
  ...openFormat,
  years: ownYears,
  zone: optional(
    text().refine((zone) => parseZone(zone)?.kind === 'fixed', { error: 'not an offset' }),
  )`Zone of
    the stamps of a file without a head, an offset such as "-07:00" | the head says it`,
});
export const nasaPower = z.strictObject({
  kind: kind('nasa_power')`Hourly CSV of the NASA POWER archive, years from satellites`,
  ...openFormat,
  years: ownYears,
});

export const weather = z.discriminatedUnion('kind', [
  clearSky,
  series,
  monthlyMeans,
  tmy3,
  epw,
  nsrdb,
  nasaPower,
]);

/** Letters of a Luxon format, text in quotes left out: each is a token or a part of one. */
export const formatLetters = (format: string): string => format.replace(/'[^']*'/g, '');

/** True if stamps of a Luxon format have a year: a year, a week year, or a whole date. */
export const hasYear = (format: string): boolean => /[ykDfF]/.test(formatLetters(format));
