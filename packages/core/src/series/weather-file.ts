import { InputError, type Issue, issue, refusal } from '../basis/errors.ts';
import { otherwise } from './recognise.ts';
import { cellsOf } from './table.ts';
import type { Series } from './types.ts';

/** Where a weather file says that it was measured. */
export interface FileSite {
  readonly name: string;
  readonly latitude_deg: number;
  /** East positive. */
  readonly longitude_deg: number;
  readonly elevation_m: number;
  /** Of its stamps, minutes east of UTC: local standard time, or 0 where `utc` says so. */
  readonly offset_min: number;
  /** True where the stamps are in UTC, whatever the place. */
  readonly utc?: boolean;
  /** Line of the file that says so. */
  readonly line: number;
}

/** A file in an open format. */
export interface WeatherFile {
  /** Null where it comes without the head that says so. */
  readonly site: FileSite | null;
  /** `ghi`, `dni` and `dhi` in W/m², `air_temperature` in °C, `wind` in m/s; those that the file has. */
  readonly series: Series;
  /** What the file calls our columns. */
  readonly columns: Readonly<Partial<Record<Quantity, string>>>;
  /** How the stamps were read, in the words of the report. */
  readonly convention: string;
}

export type Quantity = 'ghi' | 'dni' | 'dhi' | 'air_temperature' | 'wind';

/** Reads figures of a header line; an issue for each that isn't one or can't be. */
export function siteFigures<K extends string>(
  cells: readonly string[],
  wanted: readonly (readonly [name: K, cell: number, least: number, most: number])[],
  place: { readonly file: string; readonly line: number },
): Readonly<Record<K, number>> {
  const issues: Issue[] = [];
  const figures = {} as Record<K, number>;
  for (const [name, cell, least, most] of wanted) {
    const text = (cells[cell] ?? '').trim();
    const value = Number(text);
    figures[name] = value;
    if (text !== '' && value >= least && value <= most) continue;
    const found = text === '' ? 'missing' : `"${text.slice(0, 40)}"`;
    const also = { expected: `a number from ${least} to ${most}`, place: { ...place, field: name } };
    issues.push(issue(
      'bad-header',
      '',
      also,
    )`cell ${cell + 1}, the ${name}, is ${found} | correct the line, or describe the file as weather of kind
      series`);
  }
  if (issues.length > 0) throw new InputError(issues);
  return figures;
}

/**
 * The site that the first line of a file tells: its name in the second cell, the rest where `wanted` says.
 *
 * @throws InputError for each figure that isn't one or can't be
 */
export function siteOfHead(
  head: string,
  file: string,
  wanted: Parameters<typeof siteFigures<'latitude' | 'longitude' | 'time zone' | 'elevation'>>[1],
): FileSite {
  const cells = cellsOf(head, ',');
  const figures = siteFigures(cells, wanted, { file, line: 1 });
  return {
    name: (cells[1] ?? '').trim(),
    latitude_deg: figures.latitude,
    longitude_deg: figures.longitude,
    elevation_m: figures.elevation,
    offset_min: Math.round(60 * figures['time zone']),
    line: 1,
  };
}

/** A header line that a format must have and a file has not. */
export const notThisFormat = (
  text: string,
  file: string,
  line: number,
  message: string,
  expected: string,
  fix = otherwise(text, file),
): InputError => refusal('other-format', { file, line }, message, fix, expected);
