import { InputError, issue, type Place } from '../basis/errors.ts';
import type { GivenSeries } from '../scenario/given.ts';
import type { SeriesTime } from '../scenario/schema/schema.ts';
import { givenSeries } from './given.ts';
import { columnPositions } from './header.ts';
import { instants } from './instants.ts';
import type { Layout, Table, Wanted } from './layout.ts';
import { leapDay } from './leap-day.ts';
import { numberReader, numberTrouble } from './number.ts';
import { RowIssues } from './rows.ts';
import { interval_ms } from './spacing.ts';
import { type Stamping, stampingOf } from './stamping.ts';
import { eachRow, isOverLines, OVER_LINES } from './table.ts';
import type { Series } from './types.ts';

/**
 * Reads a series from a delimited text with a header row, or takes its numbers as they are.
 *
 * @param text the file's text; a byte order mark and any line ending are fine. Or the numbers: `spec` is not used then
 * @param spec how the text is laid out, and how the stamps are to be understood
 * @param columns the columns wanted: our name, and the column's in the file
 * @returns rows in time order, all as long as the file's most common distance of stamps; an empty cell is NaN
 * @throws InputError with all issues of the header, or else of the rows: the first five of each kind and their number
 * @throws RangeError if `spec.time` has no zone or no year; the scenario's schema and check see to it
 */
export const readSeries = (
  text: string | GivenSeries,
  file: string,
  spec: Layout & { readonly time: SeriesTime },
  columns: readonly Wanted[],
): Series =>
  typeof text === 'string'
    ? readTable(text, file, spec, stampingOf(spec.time), columns)
    : givenSeries(text, file, columns);

/** The error for a file that a scenario names and nobody gave. */
export const noText = (file: string, path: string, place?: Place): InputError =>
  new InputError([
    issue('missing-file', path, { expected: 'a readable CSV file', ...(place ? { place } : {}) })`no text was
      given for "${file}" | check the path; it is taken from the folder of the scenario file`,
  ]);

/** The same for a table whose format tells how stamps and columns are to be read; see `readSeries`. */
export function readTable(
  text: string,
  file: string,
  table: Table,
  stamping: Stamping,
  columns: readonly Wanted[],
): Series {
  const issues = new RowIssues(file);
  const readNumber = numberReader(table);
  const wall_ms: number[] = [];
  const offset_min: number[] = [];
  const line: number[] = [];
  const values: number[][] = columns.map(() => []);
  const missing_from = columns.map((column) => column.missing_from ?? Number.POSITIVE_INFINITY);
  let width = -1;
  let toSkip = table.skip_rows ?? 0;
  let leftOut = 0;
  let stampAt: readonly number[] = [];
  let valuesAt: readonly number[] = [];
  const lay = (cells: readonly string[], row: number): void => {
    const wanted = [...stamping.columns, ...columns.map((c) => c.column)];
    const positions = columnPositions(cells, wanted, table.delimiter, { file, line: row });
    width = cells.length;
    stampAt = positions.slice(0, stamping.columns.length);
    valuesAt = positions.slice(stamping.columns.length);
  };
  if (table.names !== undefined) lay(table.names, table.lines_before ?? 0);
  const stampCells: string[] = stamping.columns.map(() => '');
  let rows = 0;

  eachRow(text, table, file, (cells, row) => {
    if (width < 0) {
      lay(cells, row);
      return;
    }
    if (toSkip > 0) {
      toSkip--;
      return;
    }
    rows++;
    if (cells.length !== width) {
      const message = `${cells.length} cells where the header has ${width}`;
      const counted = [message, raggedFix(table, cells.length > width)] as const;
      issues.add('ragged-row', row, ...(cells.some(isOverLines) ? OVER_LINES : counted));
      return;
    }
    for (let k = 0; k < stampCells.length; k++) stampCells[k] = cells[stampAt[k]!]!;
    const stamp = stamping.read(stampCells);
    if (stamp === 'left_out') {
      leftOut++;
      return;
    }
    if (!stamp && rows <= 2 && isSecondHeader(cells, stampAt, valuesAt, readNumber)) {
      const message = 'a row of words below the header: units, or a second header';
      issues.add('second-header', row, message, `set skip_rows: ${(table.skip_rows ?? 0) + rows}`);
      return;
    }
    if (!stamp) issues.add('bad-stamp', row, ...stamping.trouble(stampCells.join(' ')), stamping.columns[0]!);
    for (let c = 0; c < values.length; c++) {
      const cell = cells[valuesAt[c]!]!;
      const value = readNumber(cell);
      if (value === undefined)
        issues.add('not-a-number', row, ...numberTrouble(cell, table), columns[c]!.column);
      if (stamp) values[c]!.push(value === undefined || value >= missing_from[c]! ? Number.NaN : value);
    }
    if (!stamp) return;
    wall_ms.push(stamp.wall_ms);
    offset_min.push(stamp.offset_min);
    line.push(row);
  });

  const repeated =
    stamping.as_of_year !== null &&
    leapDay(stamping.as_of_year, stamping.label, wall_ms, [offset_min, line, ...values]);
  const at_ms = instants({ wall_ms, offset_min, line }, stamping.zone, stamping.zoneName, issues);
  const interval = issues.isEmpty ? interval_ms(at_ms, line, issues, stamping.manyYears) : Number.NaN;
  if (!issues.isEmpty) throw new InputError(issues.list());
  if (Number.isNaN(interval)) {
    const what = width < 0 ? 'the file is empty' : `a series needs two rows or more, here is ${line.length}`;
    throw new InputError([
      issue('too-few-rows', '', { place: { file } })`${what} | give a header and rows that cover the year`,
    ]);
  }
  const { label } = stamping;
  const lead_ms = label === 'start' ? 0 : label === 'end' ? interval : interval / 2;
  const start_ms = at_ms.map((at) => at - lead_ms);
  return {
    file,
    start_ms,
    end_ms: start_ms.map((start) => start + interval),
    given: false,
    line: Uint32Array.from(line),
    values: new Map(columns.map(({ name }, c) => [name, Float64Array.from(values[c]!)])),
    as_of_year: stamping.as_of_year,
    leap_day: repeated ? 'repeated' : leftOut > 0 ? 'left_out' : 'as_filed',
  };
}

/** A row right below the header without a single number where numbers should stand. */
const isSecondHeader = (
  cells: readonly string[],
  stampAt: readonly number[],
  valuesAt: readonly number[],
  readNumber: (cell: string) => number | undefined,
): boolean =>
  valuesAt.every((k) => readNumber(cells[k]!) === undefined || cells[k]!.trim() === '') &&
  stampAt.every((k) => !/\d\d/.test(cells[k]!));

const raggedFix = ({ decimal, delimiter }: Table, isLonger: boolean): string =>
  decimal === 'comma' && delimiter === ',' && isLonger
    ? 'a decimal comma can stand between commas only in quotes: quote the numbers, or set another delimiter'
    : 'give each row as many cells as the header';
