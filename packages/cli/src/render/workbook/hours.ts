import type { WriteSheet } from 'hucre/xlsx';
import type { HoursTable, TableColumn } from '../tables/hours-table.ts';
import { TIME_NAMES } from '../tables/step-times.ts';
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
  /** Columns that are on the sheet: those that are not zero throughout. */
  readonly shown: readonly TableColumn[];
  readonly rows: number;
  /** `hours!$C$2:$C$8761` of a column; null where it is zero throughout. */
  range(name: string): string | null;
  /** The same for the wall-clock times. */
  readonly times: string;
  /** The wall-clock time of each row, as a sheet counts days. */
  readonly serials: readonly number[];
  /** The values of a column from one such time to another; none of a column that is not on the sheet. */
  between(name: string, from: number, to: number): readonly number[];
  /** The figures of each column, as they stand on the sheet. */
  readonly columns: readonly ArrayLike<number>[];
}

/** Every sheet's way to show a date with a time. */
const TIME_FORMAT = 'yyyy-mm-dd hh:mm';
const TIMES = [
  { width: 17, style: { numFmt: TIME_FORMAT } },
  { width: 9, style: { numFmt: '0" min"' } },
  { width: 17, style: { numFmt: TIME_FORMAT } },
];

/** The sheet of hours. Columns that are zero throughout are left out: the sheet of columns names them. */
export function hoursSheet({ clock, starts, columns }: HoursTable): HoursSheet {
  const shown = columns.filter(({ values }) => values.some((value) => value !== 0));
  const rows = starts.length - 1;
  const steps = Array.from(starts.subarray(0, rows));
  const offsets_min = steps.map((step) => clock.offset_min[step]!);
  const serials = steps.map((step, row) => serialOf(clock.start_ms[step]! + offsets_min[row]! * MINUTE_ms));
  const serials_utc = steps.map((step) => serialOf(clock.start_ms[step]!));
  const last = rows + 1;
  const ranged = (column: number): string => `hours!$${letters(column)}$2:$${letters(column)}$${last}`;
  const all = [
    ...TIMES.map((column, k) => ({ ...column, head: TIME_NAMES[k]! })),
    ...shown.map(({ name, unit }) => ({ head: name, width: 14, style: { numFmt: formatOf(unit, 3) } })),
  ];
  return {
    sheet: sheetOf({
      name: 'hours',
      columns: all,
      // A pattern for the rows: withRows writes them.
      rows: [all.map(() => 0)],
      freezePane: { rows: 1, columns: 1 },
      autoFilter: { range: `A1:${letters(all.length - 1)}${last}` },
    }),
    shown,
    rows,
    range: (name) => {
      const column = shown.findIndex((one) => one.name === name);
      return column < 0 ? null : ranged(TIMES.length + column);
    },
    times: ranged(0),
    serials,
    between: (name, from, to) => {
      const values = shown.find((column) => column.name === name)?.values ?? new Float64Array();
      return Array.from(values.filter((_, row) => serials[row]! >= from && serials[row]! < to));
    },
    columns: [serials, offsets_min, serials_utc, ...shown.map(({ values }) => values)],
  };
}
