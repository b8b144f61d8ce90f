import { HOUR_ms, MINUTE_ms } from '../basis/units.ts';
import type { SeriesTime } from '../scenario/schema/schema.ts';
import type { Wanted } from './layout.ts';
import { readTable } from './read.ts';
import { type Stamping, standardStamping } from './stamping.ts';
import { cellsOf, firstLines } from './table.ts';
import { stampOf } from './tmy3.ts';
import type { Series } from './types.ts';
import type { Quantity } from './weather-file.ts';

/** How an archive lays out a table whose columns stand in any order, with the parts of each date in their own. */
interface DatedTable {
  /** Lines of the text before its header row. */
  readonly lines_before: number;
  /** Columns of year, month, day, hour 0 to 23 and, if there is one, minute. */
  readonly date: readonly string[];
  /** What the archive calls a quantity; of several names the first that the header has. */
  readonly columns: Readonly<Record<Quantity, readonly string[]>>;
  readonly missing: readonly number[];
  readonly label: SeriesTime['label'];
  /** Minutes east of UTC, all year. */
  readonly offset_min: number;
}

/**
 * Reads such a table: light and air temperature must be in it, the other quantities may.
 *
 * @param year that every row is read as of; null keeps the years of the stamps
 * @returns its series, and what the header calls each column
 * @throws InputError if a column that must be there is not, or rows can't be read
 */
export function readDated(
  text: string,
  file: string,
  table: DatedTable,
  year: number | null,
): { readonly series: Series; readonly columns: Readonly<Partial<Record<Quantity, string>>> } {
  const header = cellsOf(firstLines(text, table.lines_before + 1).at(table.lines_before) ?? '', ',');
  const names = new Set(header.map((cell) => cell.trim()));
  const columns: Partial<Record<Quantity, string>> = {};
  for (const [name, known] of Object.entries(table.columns) as [Quantity, readonly string[]][]) {
    const column = known.find((one) => names.has(one));
    const isNeeded = name === 'ghi' || name === 'air_temperature';
    if (column !== undefined || isNeeded) columns[name] = column ?? known[0]!;
  }
  const stamping: Stamping = {
    columns: table.date,
    read: (cells) => {
      const [own, month, day, hour, minute = 0] = cells.map((cell) =>
        /^\s*\d+\s*$/.test(cell) ? Number(cell) : -1,
      );
      if (own! < 1 || month! < 1 || month! > 12 || day! < 1 || hour! < 0 || hour! > 23) return undefined;
      if (minute < 0 || minute > 59) return undefined;
      return stampOf(own!, month!, day!, hour! * HOUR_ms + minute * MINUTE_ms, year);
    },
    trouble: (stamp) => [
      `"${stamp.slice(0, 40)}" is no ${table.date.join(', ')} of this format`,
      'write whole figures: a month from 1 to 12, a day that it has, an hour from 0 to 23, a minute from 0 to 59',
    ],
    ...standardStamping(table.offset_min, year, table.label),
  };
  const wanted = Object.entries(columns).map(([name, column]): Wanted => ({ name, column }));
  const { lines_before, missing } = table;
  return {
    series: readTable(text, file, { delimiter: ',', lines_before, missing }, stamping, wanted),
    columns,
  };
}
