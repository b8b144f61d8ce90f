import type { WriteSheet } from 'hucre/xlsx';
import type { HoursTable, TableColumn } from '../tables/hours-table.ts';
import { DECIMALS } from './bytes.ts';
import { formatOf, letters, sheetOf } from './sheet.ts';

const MINUTE_ms = 60_000;
const DAY_min = 1440;
const SCALE = 10 ** DECIMALS;

/**
 * A date and time as a sheet counts days. Day 1 is 1900-01-01, and 1900 counts as a leap year: 25569 is 1970-01-01.
 * The share of the day is rounded up to the decimals that a sheet keeps: HOUR() and the formats cut off, so that what
 * falls short of two o'clock by a part of a second would be 01:59 there. What it is too late is below 0.1 ms.
 *
 * @param local_ms whole minutes
 */
export function serialOf(local_ms: number): number {
  const minutes = Math.round(local_ms / MINUTE_ms);
  const day = Math.floor(minutes / DAY_min);
  return day + 25_569 + Math.ceil(((minutes - day * DAY_min) * SCALE) / DAY_min) / SCALE;
}

/** The hours and where they stand, for formulas. */
export interface HoursSheet {
  readonly sheet: WriteSheet;
  /** Columns as they stand on the sheet: the times, and those that are not zero throughout. */
  readonly shown: readonly TableColumn[];
  /** `hours!$C$2:$C$8761` of a column; null where it is zero throughout. */
  range(name: string): string | null;
  /** The same for the wall-clock times. */
  readonly times: string;
  /** The wall-clock time of each row, as a sheet counts days. */
  readonly serials: Float64Array;
  /** The values of a column from one such time to another; none of a column that is not on the sheet. */
  between(name: string, from: number, to: number): readonly number[];
}

/** What a column of this unit is wide, and how its figures are shown. */
const layoutOf = (unit: string) =>
  unit === 'time'
    ? { width: 17, style: { numFmt: 'yyyy-mm-dd hh:mm' } }
    : unit === 'min'
      ? { width: 9, style: { numFmt: '0" min"' } }
      : { width: 14, style: { numFmt: formatOf(unit, 3) } };

/** The sheet of hours. Columns that are zero throughout are left out: the sheet of columns names them. */
export function hoursSheet({ times, columns }: HoursTable): HoursSheet {
  const dated = times.map((column) =>
    column.unit === 'time' ? { ...column, values: column.values.map(serialOf) } : column,
  );
  const shown = [...dated, ...columns.filter(({ values }) => values.some((value) => value !== 0))];
  const serials = shown[0]!.values;
  const last = serials.length + 1;
  const range = (name: string): string | null => {
    const column = shown.findIndex((one) => one.name === name);
    return column < 0 ? null : `hours!$${letters(column)}$2:$${letters(column)}$${last}`;
  };
  return {
    sheet: sheetOf({
      name: 'hours',
      columns: shown.map(({ name, unit }) => ({ head: name, ...layoutOf(unit) })),
      // A pattern for the rows: withRows writes them.
      rows: [shown.map(() => 0)],
      freezePane: { rows: 1, columns: 1 },
      autoFilter: { range: `A1:${letters(shown.length - 1)}${last}` },
    }),
    shown,
    range,
    times: range(shown[0]!.name)!,
    serials,
    between: (name, from, to) => {
      const values = shown.find((column) => column.name === name)?.values ?? new Float64Array();
      return Array.from(values.filter((_, row) => serials[row]! >= from && serials[row]! < to));
    },
  };
}
