import type { WriteSheet } from 'hucre/xlsx';
import type { HoursTable, TableColumn } from './hours-table.ts';
import { Cells, formatOf, HEADING, headRow, letters } from './workbook-sheet.ts';

const DAY_ms = 86_400_000;
/** Day 1 of a sheet's dates is 1900-01-01, and 1900 counts as a leap year: 25569 is 1970-01-01. */
export const serialOf = (local_ms: number): number => local_ms / DAY_ms + 25_569;

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
}

/** The sheet of hours. Columns that are zero throughout are left out: the sheet of columns names them. */
export function hoursSheet({ clock, starts, columns }: HoursTable): HoursSheet {
  const shown = columns.filter(({ values }) => values.some((value) => value !== 0));
  const rows = starts.length - 1;
  const serials: number[] = [];
  for (let row = 0; row < rows; row++) {
    const step = starts[row]!;
    serials.push(serialOf(clock.start_ms[step]! + clock.offset_min[step]! * 60_000));
  }
  const cells = new Cells();
  cells.texts(0, ['time_local', ...shown.map(({ name }) => name)], HEADING);
  const last = rows + 1;
  const ranged = (column: number): string => `hours!$${letters(column)}$2:$${letters(column)}$${last}`;
  return {
    sheet: {
      name: 'hours',
      columns: [
        { width: 17, numFmt: 'yyyy-mm-dd hh:mm' },
        ...shown.map(({ unit }) => ({ width: 14, numFmt: formatOf(unit, 3) })),
      ],
      // A pattern for the rows: withRows writes them.
      rows: [[], [0, ...shown.map(() => 0)]],
      cells: cells.map,
      rowDefs: headRow(0),
      freezePane: { rows: 1, columns: 1 },
      autoFilter: { range: `A1:${letters(shown.length)}${last}` },
    },
    shown,
    rows,
    range: (name) => {
      const column = shown.findIndex((one) => one.name === name);
      return column < 0 ? null : ranged(column + 1);
    },
    times: ranged(0),
    serials,
  };
}
