import { HOUR_ms } from '../basis/units.ts';
import { readTable } from './read.ts';
import { isOf } from './recognise.ts';
import type { Stamp } from './stamp.ts';
import { type Stamping, standardStamping } from './stamping.ts';
import { firstLines } from './table.ts';
import { notThisFormat, type Quantity, siteOfHead, type WeatherFile } from './weather-file.ts';

const COLUMNS: Readonly<Record<Quantity, string>> = {
  ghi: 'GHI (W/m^2)',
  dni: 'DNI (W/m^2)',
  dhi: 'DHI (W/m^2)',
  air_temperature: 'Dry-bulb (C)',
  wind: 'Wspd (m/s)',
};
const DATE = 'Date (MM/DD/YYYY)';
const TIME = 'Time (HH:MM)';

/**
 * Reads a typical meteorological year of the third kind: a line on the site, a line of column names, hours stamped
 * 01:00 to 24:00.
 *
 * A stamp ends its hour, in local standard time all year. Irradiances are Wh/m² in the hour, which is their mean in
 * W/m²; air and wind are of the stamp's instant and stand for the hour before it.
 *
 * @param year that every row is read as of; null keeps the years of the stamps
 * @throws InputError if the file is not of this form, or its rows can't be read
 *
 * Source: the format is that of Wilcox & Marion 2008, NREL/TP-581-43156 (recalled; its field descriptions, "during the
 * 60-minute period ending at the timestamp" and "local standard time", seen as copied in public code). That stamps end
 * their hours was checked against the sun: tests/behaviour/sky-shared-weather.test.ts.
 */
export function readTmy3(text: string, file: string, year: number | null): WeatherFile {
  const [head = '', names = ''] = firstLines(text, 2);
  if (!isOf('tmy3', [head, names])) {
    const message =
      names.trim() === '' ? 'the file ends after one line' : 'line 2 has no column names of TMY3';
    throw notThisFormat(
      text,
      file,
      2,
      message,
      `column names such as "${DATE}", "${TIME}", "${COLUMNS.ghi}"`,
    );
  }
  const site = siteOfHead(head, file, [
    ['time zone', 3, -12, 14],
    ['latitude', 4, -90, 90],
    ['longitude', 5, -180, 180],
    ['elevation', 6, -430, 6000],
  ]);
  const stamping: Stamping = {
    columns: [DATE, TIME],
    read: ([date, time]) => readStamp(date!, time!, year),
    trouble: (stamp) => [
      `"${stamp.slice(0, 40)}" is no hour of TMY3`,
      'write MM/DD/YYYY, and 01:00 to 24:00 for the hour that ends then',
    ],
    ...standardStamping(site.offset_min, year),
  };
  const columns = (Object.keys(COLUMNS) as Quantity[]).map((name) => ({ name, column: COLUMNS[name] }));
  return {
    site,
    columns: COLUMNS,
    series: readTable(text, file, { delimiter: ',', lines_before: 1, missing: [MISSING] }, stamping, columns),
    convention:
      `kind tmy3: a stamp ends its hour, in the local standard time of the file's first line, ${stamping.zoneName} all year; ` +
      'irradiance is the energy of that hour, air temperature and wind are of its end and stand for all of it ' +
      '(format of Wilcox & Marion 2008, NREL/TP-581-43156)',
  };
}

/** What stands for a missing value in files of this format; recalled, and seen in one used in the tests. */
const MISSING = -9900;

const DAY = /^\s*(\d\d?)\/(\d\d?)\/(\d{4})\s*$/;
/** Some files write the last hour as 24:00:00. */
const HOUR = /^\s*(\d\d?):00(?::00)?\s*$/;

function readStamp(date: string, time: string, year: number | null): Stamp | undefined | 'left_out' {
  const day = DAY.exec(date);
  const hour = Number(HOUR.exec(time)?.[1] ?? 0);
  if (!day || hour < 1 || hour > 24) return undefined;
  return stampOf(Number(day[3]), Number(day[1]), Number(day[2]), hour * HOUR_ms, year);
}

/**
 * A stamp of a calendar day and a time since its midnight, read as of a year. A 29 February that this year lacks is left
 * out; a day that its own year lacks is no stamp.
 */
export function stampOf(
  own: number,
  month: number,
  date: number,
  sinceMidnight_ms: number,
  year: number | null,
): Stamp | undefined | 'left_out' {
  const isDay = (y: number): boolean => {
    const at = new Date(Date.UTC(y, month - 1, date));
    return at.getUTCMonth() === month - 1 && at.getUTCDate() === date;
  };
  const isLeapDay = month === 2 && date === 29;
  // Typical years set all dates to one year, and keep a 29 February that this one may not have.
  if (!isDay(own) && !(isLeapDay && year !== null)) return undefined;
  if (year !== null && !isDay(year)) return 'left_out';
  const wall_ms = Date.UTC(year ?? own, month - 1, date) + sinceMidnight_ms;
  return { wall_ms, offset_min: Number.NaN };
}
