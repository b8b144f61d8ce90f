import { InputError, issue } from '../basis/errors.ts';
import { HOUR_ms, MINUTE_ms } from '../basis/units.ts';
import type { Wanted } from './layout.ts';
import { readTable } from './read.ts';
import { isOf } from './recognise.ts';
import type { Stamp } from './stamp.ts';
import { type Stamping, standardStamping } from './stamping.ts';
import { cellsOf, firstLines } from './table.ts';
import { stampOf } from './tmy3.ts';
import { notThisFormat, type Quantity, siteFigures, siteOfHead, type WeatherFile } from './weather-file.ts';

/** The cells of a row, in the order of the data dictionary; those that we don't read have short names. */
const NAMES = [
  ...['Year', 'Month', 'Day', 'Hour', 'Minute', 'Flags', 'Dry Bulb Temperature', 'Dew Point', 'Humidity'],
  ...['Pressure', 'Extraterrestrial Horizontal', 'Extraterrestrial Normal', 'Infrared'],
  ...['Global Horizontal Radiation', 'Direct Normal Radiation', 'Diffuse Horizontal Radiation'],
  ...['Global Illuminance', 'Normal Illuminance', 'Diffuse Illuminance', 'Zenith Luminance'],
  ...['Wind Direction', 'Wind Speed', 'Sky Cover', 'Opaque Cover', 'Visibility', 'Ceiling', 'Observation'],
  ...['Codes', 'Precipitable Water', 'Optical Depth', 'Snow Depth', 'Days Since Snow', 'Albedo'],
  ...['Rain Depth', 'Rain Hours'],
];
const COLUMNS: Readonly<Record<Quantity, string>> = {
  ghi: 'Global Horizontal Radiation',
  dni: 'Direct Normal Radiation',
  dhi: 'Diffuse Horizontal Radiation',
  air_temperature: 'Dry Bulb Temperature',
  wind: 'Wind Speed',
};
/** From here on a value stands for a missing one (data dictionary, `\missing`). */
const MISSING_FROM: Readonly<Record<Quantity, number>> = {
  ghi: 9999,
  dni: 9999,
  dhi: 9999,
  air_temperature: 99.9,
  wind: 999,
};
/** Header lines are eight; a few more are looked through. */
const MOST_HEADER_LINES = 40;

/**
 * Reads a weather file of the open text format EPW: header lines from LOCATION to DATA PERIODS, then rows of year,
 * month, day, hour 1 to 24, minute and values.
 *
 * Hour 1 is 00:01 to 01:00, so a stamp ends its row, in the standard time of LOCATION. With several records an hour the
 * minute is the end of each. Irradiances are Wh/m² in the minutes before the stamp; air and wind are of its instant and
 * stand for the row before it.
 *
 * @param year that every row is read as of; null keeps the years of the stamps
 * @throws InputError if the file is not of this form, or its rows can't be read
 *
 * Source: EPW Data Dictionary, Auxiliary Programs documentation of the format (LOCATION, DATA PERIODS, Field: Hour,
 * Global Horizontal Radiation, the missing values).
 */
export function readEpw(text: string, file: string, year: number | null): WeatherFile {
  const head = firstLines(text, MOST_HEADER_LINES);
  if (!isOf('epw', head))
    throw notThisFormat(
      text,
      file,
      1,
      'the first line is not LOCATION',
      'LOCATION, city, …, latitude, longitude, …',
    );
  const periodsAt = head.findIndex((line) => /^\s*DATA PERIODS\s*,/i.test(line));
  if (periodsAt < 0)
    throw notThisFormat(
      text,
      file,
      head.length,
      'there is no line DATA PERIODS in the header',
      'eight header lines, LOCATION to DATA PERIODS',
      'take the file anew: its header is cut or changed',
    );
  const site = siteOfHead(head[0]!, file, [
    ['latitude', 6, -90, 90],
    ['longitude', 7, -180, 180],
    ['time zone', 8, -12, 14],
    ['elevation', 9, -1000, 9999],
  ]);
  const perHour = recordsPerHour(head[periodsAt]!, file, periodsAt + 1);
  const row_ms = HOUR_ms / perHour;
  const stamping: Stamping = {
    columns: ['Year', 'Month', 'Day', 'Hour', 'Minute'],
    read: (cells) => readStamp(cells, perHour, row_ms, year),
    trouble: (stamp) => [
      `"${stamp.slice(0, 40)}" is no time of EPW`,
      perHour === 1
        ? 'write year, month, day and an hour from 1 to 24, the one that ends then'
        : `write year, month, day, hour 1 to 24 and the minute that ends the record: ${60 / perHour} to 60`,
    ],
    ...standardStamping(site.offset_min, year),
  };
  const columns = (Object.keys(COLUMNS) as Quantity[]).map((name): Wanted => {
    return { name, column: COLUMNS[name], missing_from: MISSING_FROM[name] };
  });
  const table = { delimiter: ',', lines_before: periodsAt + 1, names: NAMES };
  const raw = readTable(text, file, table, stamping, columns);
  const row_h = (raw.end_ms[0]! - raw.start_ms[0]!) / HOUR_ms;
  if (Math.abs(row_h * perHour - 1) > 1e-9)
    throw new InputError([
      issue('bad-header', '', {
        place: { file, line: periodsAt + 1 },
      })`the rows are ${60 * row_h} min long, and the header says ${perHour} an hour | correct the second
        figure of DATA PERIODS, or complete the rows`,
    ]);
  return {
    site,
    columns: COLUMNS,
    series: {
      ...raw,
      values: new Map([...raw.values].map(([name, v]) => [name, meanPower(name, v, perHour)])),
    },
    convention:
      `kind epw: a stamp ends its row (hour 1 is 00:01 to 01:00), in the standard time of LOCATION, ${stamping.zoneName} all ` +
      'year; irradiance is the energy of that row, air temperature and wind are of its end and stand for all of it ' +
      '(EPW Data Dictionary)',
  };
}

/** Energy of a row as its mean power. */
const meanPower = (name: string, values: Float64Array, perHour: number): Float64Array =>
  perHour === 1 || name === 'air_temperature' || name === 'wind' ? values : values.map((v) => v * perHour);

function recordsPerHour(periods: string, file: string, line: number): number {
  const cells = cellsOf(periods, ',');
  const place = { file, line };
  const wanted = [
    ['number of data periods', 1, 1, 1],
    ['number of records an hour', 2, 1, 60],
  ] as const;
  const perHour = siteFigures(cells, wanted, place)['number of records an hour'];
  if (60 % perHour === 0) return perHour;
  throw new InputError([
    issue('bad-header', '', {
      place,
    })`${perHour} records an hour are not of whole minutes | correct the second figure of DATA PERIODS`,
  ]);
}

function readStamp(
  cells: readonly string[],
  perHour: number,
  row_ms: number,
  as_of: number | null,
): Stamp | undefined | 'left_out' {
  const [year, month, day, hour, minute] = cells.map((cell) =>
    /^\s*\d+\s*$/.test(cell) ? Number(cell) : -1,
  );
  if (year! < 1 || month! < 1 || month! > 12 || day! < 1 || hour! < 1 || hour! > 24) return undefined;
  // One record an hour ends with it: files write 0 or 60 as its minute.
  const ends_ms = perHour === 1 ? HOUR_ms : minute! * MINUTE_ms;
  if (ends_ms <= 0 || ends_ms > HOUR_ms || ends_ms % row_ms !== 0) return undefined;
  return stampOf(year!, month!, day!, (hour! - 1) * HOUR_ms + ends_ms, as_of);
}
