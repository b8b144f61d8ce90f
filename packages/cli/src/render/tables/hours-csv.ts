import type { Period } from '@longnight/core';
import { stringify } from 'csv-stringify/sync';
import { written } from '../document/written.ts';
import { DecimalWriter, type Marks, PLAIN_MARKS } from './decimal-writer.ts';
import type { HoursTable } from './hours-table.ts';
import { stepTimes, TIME_NAMES } from './step-times.ts';

/** The file of a table by what its rows cover. */
export const CSV_NAMES: Readonly<Record<Period, string>> = {
  step: 'hours.csv',
  hour: 'hours.csv',
  day: 'days.csv',
  month: 'months.csv',
};

/** What the columns of that file mean. */
export const COLUMNS_NAME = 'columns.csv';

/**
 * The whole ledger as RFC 4180 text, one row a period, lines ended by CRLF; sums made from it are those of report.json.
 *
 * @returns UTF-8; the header names each column with its unit
 */
export function hoursCsv(table: HoursTable, marks: Marks = PLAIN_MARKS): Uint8Array {
  const { clock, starts, columns } = table;
  const times = stepTimes(clock, marks.delimiter);
  const values = columns.map((column) => column.values);
  const rows = starts.length - 1;
  const writer = new DecimalWriter(rows * columns.length * 12, marks);
  writer.text(textRow([...TIME_NAMES, ...columns.map((column) => column.name)], marks));
  for (let row = 0; row < rows; row++) {
    writer.ascii(times(starts[row]!));
    for (const column of values) writer.cell(column[row]!);
    writer.ascii('\r\n');
  }
  return writer.bytes();
}

/** What a column's figure says of a row that covers many steps. */
const KIND_WORDS = {
  start: 'start of the row',
  sum: 'sum over the row',
  state: 'at the end of the row',
  mean: 'mean over the row',
} as const;

/** Name, unit, kind and meaning of each column of a table, its times among them. */
export const columnRows = ({ times, columns }: HoursTable): readonly (readonly string[])[] =>
  [...times, ...columns].map(({ name, unit, kind, meaning }) => [name, unit, KIND_WORDS[kind], meaning]);

export const COLUMN_TITLES = ['column', 'unit', 'kind', 'meaning'] as const;

/** columns.csv: what the columns of hours.csv mean, as a table beside it, so that neither needs comments. */
export const columnsCsv = (table: HoursTable, marks: Marks = PLAIN_MARKS): string =>
  [COLUMN_TITLES, ...columnRows(table)].map((row) => textRow(row, marks)).join('');

/**
 * A row of text cells: quoted where RFC 4180 asks for it, and marked with an apostrophe where a spreadsheet would take
 * the cell for a formula.
 */
export function textRow(cells: readonly string[], { delimiter }: Marks = PLAIN_MARKS): string {
  return stringify([[...cells]], { escape_formulas: true, record_delimiter: 'windows', delimiter });
}

/** Rows of figures by their names: RFC 4180, empty where there is no such figure. */
const cellOf = (value: number | string | null): string =>
  typeof value === 'number' ? String(written(value)) : (value ?? '');

export const figuresCsv = <Name extends string>(
  names: readonly Name[],
  rows: readonly Readonly<Record<Name, number | string | null>>[],
): string =>
  [names, ...rows.map((row) => names.map((name) => cellOf(row[name])))]
    .map((cells) => textRow(cells))
    .join('');
