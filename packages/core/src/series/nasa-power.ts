import { refused } from '../basis/errors.ts';
import { readDated } from './dated.ts';
import { isOf } from './recognise.ts';
import { firstLines } from './table.ts';
import { notThisFormat, type Quantity, siteFigures, type WeatherFile } from './weather-file.ts';

const DATE = ['YEAR', 'MO', 'DY', 'HR'];
/** Those but for light and air are recalled. */
const COLUMNS = {
  ghi: ['ALLSKY_SFC_SW_DWN'],
  dni: ['ALLSKY_SFC_SW_DNI'],
  dhi: ['ALLSKY_SFC_SW_DIFF'],
  air_temperature: ['T2M'],
  wind: ['WS10M', 'WS2M'],
} as const;
/** Units that the head may name; in an hour Wh are the mean in W. */
const LIGHT = ['Wh/m^2', 'W/m^2'];
const UNITS = { ghi: LIGHT, dni: LIGHT, dhi: LIGHT, air_temperature: ['C'], wind: ['m/s'] } as const;
const MOST_HEADER_LINES = 120;

/**
 * Reads an hourly CSV of the NASA POWER archive: a head between two lines that say so, with place, height, zone, the code
 * of missing values and the unit of each column; then a table whose columns stand in any order.
 *
 * A stamp begins its hour. Only files in UTC are read: the archive's other time is of the sun, and no clock.
 *
 * @param year that every row is read as of; null keeps the years of the stamps
 * @throws InputError if the file is not of this form, or its rows can't be read
 *
 * Source: files as handed out. That a stamp begins its hour was checked against the sun:
 * tests/behaviour/sky-shared-weather.test.ts.
 */
export function readNasaPower(text: string, file: string, year: number | null): WeatherFile {
  const lines = firstLines(text, MOST_HEADER_LINES);
  if (!isOf('nasa_power', lines))
    throw notThisFormat(text, file, 1, 'the file has no head of NASA POWER', 'a first line "-BEGIN HEADER-"');
  const end = lines.findIndex((line) => /^-END HEADER-/i.test(line));
  if (end < 0)
    throw refused('bad-header', { file, line: lines.length })`the head has no end | take the file anew: its
      head is cut or changed | a line "-END HEADER-"`;
  const head = lines.slice(0, end);
  const found = (what: string, pattern: RegExp): { line: number; cells: readonly string[] } => {
    const at = head.findIndex((line) => pattern.test(line));
    if (at < 0)
      throw refused('bad-header', {
        file,
        line: 1,
      })`the head does not say ${what} | take the file anew, with its
        head`;
    return { line: at + 1, cells: pattern.exec(head[at]!)!.slice(1) };
  };
  const dates = found('the zone of its stamps', /\bthrough\b.*\bin\s+(\w+)\s*$/i);
  if (dates.cells[0]!.toUpperCase() !== 'UTC')
    throw refused('not-utc', {
      file,
      line: dates.line,
    })`the stamps are in ${dates.cells[0]!.slice(0, 20)} | take
      the file anew with its time in UTC | UTC`;
  const place = found('its place', /latitude\s+(\S+)\s+longitude\s+(\S+)/i);
  const { latitude, longitude } = siteFigures(
    place.cells,
    [
      ['latitude', 0, -90, 90],
      ['longitude', 1, -180, 180],
    ],
    { file, line: place.line },
  );
  const height = found('its height', /elevation.*=\s*(\S+)\s*meters/i);
  const { elevation } = siteFigures(height.cells, [['elevation', 0, -430, 9000]], {
    file,
    line: height.line,
  });
  const code = found('what stands for a missing value', /missing.*:\s*(\S+)\s*$/i);
  const { missing } = siteFigures(code.cells, [['missing', 0, -1e9, -100]], { file, line: code.line });
  const layout = {
    lines_before: end + 1,
    date: DATE,
    columns: COLUMNS,
    label: 'start',
    offset_min: 0,
  } as const;
  const { series, columns } = readDated(text, file, { ...layout, missing: [missing] }, year);
  for (const [name, column] of Object.entries(columns) as [Quantity, string][]) {
    const at = head.findIndex((line) => line.trimStart().split(/\s+/, 1)[0] === column);
    const unit = /\(([^()]*)\)\s*$/.exec(head[at] ?? '')?.[1]?.trim();
    if (unit === undefined || !(UNITS[name] as readonly string[]).includes(unit))
      throw refused('wrong-unit', { file, line: at + 1 || 1, field: column })`the head gives ${column} in
        ${unit === undefined ? 'no unit' : `"${unit.slice(0, 20)}"`} | take the file anew in the units of the
        archive's solar community, or describe it as weather of kind series | ${UNITS[name].join(' or ')}`;
  }
  return {
    site: {
      name: 'NASA POWER',
      latitude_deg: latitude,
      longitude_deg: longitude,
      elevation_m: elevation,
      offset_min: 0,
      utc: true,
      line: place.line,
    },
    columns,
    series,
    convention:
      'kind nasa_power: a stamp begins its hour, in UTC; irradiance is the energy of that hour, air temperature and wind ' +
      'stand for all of it; means over a cell of the archive, some 100 km wide for light, 50 km for air',
  };
}
