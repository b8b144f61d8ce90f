import { InputError, issue } from '../basis/errors.ts';
import { notice } from '../basis/notices.ts';
import type { OpenFormatWeather, SeriesWeather } from '../scenario/schema/schema.ts';
import { readEpw } from '../series/epw.ts';
import { readNasaPower } from '../series/nasa-power.ts';
import { readNsrdb } from '../series/nsrdb.ts';
import { noText } from '../series/read.ts';
import { readTmy3 } from '../series/tmy3.ts';
import type { FileTexts, Series } from '../series/types.ts';
import type { Quantity, WeatherFile } from '../series/weather-file.ts';
import { mappedRows } from './mapped.ts';
import type { WeatherRows } from './types.ts';

/** Weather that comes from a file. */
export type FileWeather = SeriesWeather | OpenFormatWeather;

/**
 * Reads a weather file.
 *
 * @param year of the run: typical years are read as of it
 * @throws InputError if the file is missing or can't be read
 */
export function weatherRows(
  weather: FileWeather,
  year: number,
  files: FileTexts,
  scenarioFile: string,
): WeatherRows {
  // Dated rows are the same whichever of their years is run.
  const asOf = weather.kind !== 'series' && weather.years === 'typical' ? year : null;
  const key = JSON.stringify([{ ...weather, gaps: null }, asOf]);
  const known = READ.get(files) ?? new Map<string, Read>();
  READ.set(files, known);
  const text = files.get(weather.file);
  if (text === undefined) throw noText(weather.file, 'weather.file', { file: scenarioFile });
  const before = known.get(key);
  // Numbers may have been changed where they stand, and are read at once.
  if (typeof text !== 'string' && weather.kind === 'series') return mappedRows(weather, text);
  if (typeof text !== 'string') throw noFormat(weather);
  if (before?.text === text) return before.rows;
  const rows = weather.kind === 'series' ? mappedRows(weather, text) : formatRows(weather, asOf, text);
  if (known.size >= MOST_READ) known.clear();
  known.set(key, { text, rows });
  return rows;
}

interface Read {
  readonly text: string;
  readonly rows: WeatherRows;
}

/** A file of many years is read once for all of them, for as long as its text is held. */
const READ = new WeakMap<FileTexts, Map<string, Read>>();
/** Read files that are kept beside each other: a year of minutes in five columns is 34 MB. */
const MOST_READ = 4;

const noFormat = ({ kind }: FileWeather): InputError =>
  new InputError([
    issue('wrong-type', 'weather.kind')`the weather is handed over as numbers, and ${kind} is a format of
      texts | describe it as weather of kind series`,
  ]);

function formatRows(weather: OpenFormatWeather, asOf: number | null, text: string): WeatherRows {
  const file =
    weather.kind === 'nsrdb'
      ? readNsrdb(text, weather.file, asOf, weather.zone)
      : READERS[weather.kind](text, weather.file, asOf);
  const { series, dropped } = withoutEmpty(file);
  const empty = (path: string, name: Quantity, fix: string): InputError => {
    const field = file.columns[name];
    const place = { file: weather.file, line: series.line[0]!, ...(field === undefined ? {} : { field }) };
    const what = field === undefined ? `the file has no column of ${name}` : 'no row has a value';
    return new InputError([issue('empty-column', path, { place })`${what} | ${fix}`]);
  };
  const needed = (['ghi', 'air_temperature'] as const).find((name) => dropped.includes(name));
  if (needed !== undefined)
    throw empty('weather.file', needed, 'take another file, or describe this one as weather of kind series');
  if (!series.values.has('wind') && weather.wind_m_s === undefined) {
    const fix = 'say which wind to use instead: weather.wind_m_s; 1 is on the warm side for cells';
    throw empty('weather.wind_m_s', 'wind', fix);
  }
  return {
    series,
    columns: file.columns,
    site: file.site,
    convention: file.convention,
    wind_m_s: weather.wind_m_s ?? 0,
    notices: dropped.map(
      (name) => notice('empty-column', series.line.length)`weather: column "${file.columns[name]}" has no
        value in any row of ${weather.file} and is not used`,
    ),
    clockKeys: file.site === null ? 'weather.zone' : `the time zone in line ${file.site.line} of the file`,
  };
}

const READERS = { tmy3: readTmy3, epw: readEpw, nasa_power: readNasaPower } as const;

/** The file without the columns that have no value in any row. */
function withoutEmpty({ series }: WeatherFile): { series: Series; dropped: Quantity[] } {
  const dropped = [...series.values]
    .filter(([, v]) => v.every(Number.isNaN))
    .map(([name]) => name as Quantity);
  const values = new Map([...series.values].filter(([name]) => !dropped.includes(name as Quantity)));
  return { series: { ...series, values }, dropped };
}
