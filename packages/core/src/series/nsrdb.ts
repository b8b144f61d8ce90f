import { refused } from '../basis/errors.ts';
import { offsetText, parseZone } from '../clock/zone.ts';
import { readDated } from './dated.ts';
import { isOf } from './recognise.ts';
import { cellsOf, firstLines } from './table.ts';
import { type FileSite, notThisFormat, siteFigures, type WeatherFile } from './weather-file.ts';

const DATE = ['Year', 'Month', 'Day', 'Hour', 'Minute'];
const COLUMNS = {
  ghi: ['GHI'],
  dni: ['DNI'],
  dhi: ['DHI'],
  air_temperature: ['Temperature'],
  wind: ['Wind Speed'],
} as const;
const UNITS = { ghi: 'w/m2', dni: 'w/m2', dhi: 'w/m2', air_temperature: 'c', wind: 'm/s' } as const;
/** No value of ours is any of them; recalled. */
const MISSING = [-9999, -9900, -999];

/**
 * Reads a CSV of the National Solar Radiation Database: a line of names and one of values on place, zone and units, then
 * a table whose columns stand in any order. Some come without those two lines: then `zone` must say the zone.
 *
 * A stamp is the instant of its values, so it is the middle of its row, in the standard time that the head names.
 *
 * @param year that every row is read as of; null keeps the years of the stamps
 * @param zone of the stamps where the file has no head; an offset such as "-07:00"
 * @throws InputError if the file is not of this form, or its rows can't be read
 *
 * Source: files as handed out; that a stamp is an instant is seen in their own column of solar zenith angles, and
 * checked against the sun: tests/behaviour/sky-shared-weather.test.ts.
 */
export function readNsrdb(text: string, file: string, year: number | null, zone?: string): WeatherFile {
  const [names = '', values = '', header = ''] = firstLines(text, 3);
  const hasHead = isOf('nsrdb', [names]);
  const table = cellsOf(hasHead ? header : names, ',').map((cell) => cell.trim());
  if (!DATE.every((part) => table.includes(part)))
    throw notThisFormat(
      text,
      file,
      hasHead ? 3 : 1,
      hasHead ? 'line 3 has no columns of a date' : 'the file has neither the head of NSRDB nor its columns',
      `columns such as ${DATE.join(', ')}, GHI`,
    );
  const said = zone === undefined ? undefined : parseZone(zone);
  const said_min = said?.kind === 'fixed' ? said.offset_min : undefined;
  const site = hasHead ? siteOf(names, values, file) : null;
  const offset_min = site?.offset_min ?? said_min;
  if (offset_min === undefined)
    throw refused(
      'no-zone',
      'weather.zone',
    )`${file} has no head, so nothing says the zone of its stamps | say it:
      weather.zone, an offset such as "-07:00"; and see that site is the place of the file`;
  if (said_min !== undefined && said_min !== offset_min)
    throw refused(
      'other-zone',
      'weather.zone',
    )`weather.zone is ${offsetText(said_min)}, and the head of ${file} says
      ${offsetText(offset_min)} | leave weather.zone out, or correct the head`;
  const lines_before = hasHead ? 2 : 0;
  const layout = { lines_before, date: DATE, columns: COLUMNS, missing: MISSING, label: 'middle' } as const;
  return {
    site,
    ...readDated(text, file, { ...layout, offset_min }, year),
    convention:
      `kind nsrdb: a stamp is the middle of its row, in the standard time ${site === null ? 'of weather.zone' : "of the file's head"}, ` +
      `${offsetText(offset_min)} all year; its values are of that instant and stand for all of the row`,
  };
}

function siteOf(names: string, values: string, file: string): FileSite {
  const name = cellsOf(names, ',').map((cell) => cell.trim().toLowerCase());
  const value = cellsOf(values, ',').map((cell) => cell.trim());
  const at = (wanted: string): number => name.indexOf(wanted);
  for (const [quantity, unit] of Object.entries(UNITS) as [keyof typeof UNITS, string][]) {
    const column = COLUMNS[quantity][0];
    const written = value[at(`${column.toLowerCase()} units`)];
    if (written !== undefined && written !== '' && written.toLowerCase() !== unit)
      throw refused('wrong-unit', { file, line: 2, field: `${column} Units` })`the unit of ${column} is
        "${written.slice(0, 20)}" | convert the column, or describe the file as weather of kind series |
        ${unit}`;
  }
  const figures = siteFigures(
    value,
    [
      ['latitude', at('latitude'), -90, 90],
      ['longitude', at('longitude'), -180, 180],
      ['time zone', at('time zone'), -12, 14],
      ['elevation', at('elevation'), -430, 9000],
    ],
    { file, line: 2 },
  );
  return {
    name: value[at('location id')] ?? '',
    latitude_deg: figures.latitude,
    longitude_deg: figures.longitude,
    elevation_m: figures.elevation,
    offset_min: Math.round(60 * figures['time zone']),
    utc: figures['time zone'] === 0,
    line: 2,
  };
}
