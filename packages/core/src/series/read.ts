import { InputError } from '../basis/errors.ts';
import { parseZone } from '../clock/zone.ts';
import type { SeriesTime } from '../scenario/schema.ts';
import { columnPositions } from './header.ts';
import { instants } from './instants.ts';
import { RowIssues } from './rows.ts';
import { interval_ms } from './spacing.ts';
import { FIRST_YEAR, LAST_YEAR, stampReader } from './stamp.ts';
import { eachRow } from './table.ts';
import type { Series } from './types.ts';

/**
 * Reads a series from a delimited text with a header row.
 *
 * @param text the file's text; a byte order mark and any line ending are fine
 * @param file its name, for messages
 * @param spec delimiter, and how the stamps are to be understood
 * @param columns the columns wanted: our name, and the column's in the file
 * @returns rows in time order, all as long as the file's most common distance of stamps; an empty cell is NaN
 * @throws InputError with all issues of the header, or else of the rows: the first five of each kind and their number
 * @throws RangeError if `spec.time` has no zone or no year; the scenario's schema and check see to it
 */
export function readSeries(
  text: string,
  file: string,
  spec: { readonly delimiter: string; readonly time: SeriesTime },
  columns: readonly { readonly name: string; readonly column: string }[],
): Series {
  const zone = parseZone(spec.time.zone);
  if (!zone) throw new RangeError(`readSeries: unknown zone ${spec.time.zone}`);
  const issues = new RowIssues(file);
  const readStamp = stampReader(spec.time);
  const wall_ms: number[] = [];
  const offset_min: number[] = [];
  const line: number[] = [];
  const values: number[][] = columns.map(() => []);
  let width = -1;
  let stampAt = -1;
  let valuesAt: readonly number[] = [];

  eachRow(text, spec.delimiter, file, (cells, row) => {
    if (width < 0) {
      const wanted = [spec.time.column, ...columns.map((c) => c.column)];
      const positions = columnPositions(cells, wanted, spec.delimiter, { file, line: row });
      width = cells.length;
      stampAt = positions[0]!;
      valuesAt = positions.slice(1);
      return;
    }
    if (cells.length !== width) {
      const message = `${cells.length} cells where the header has ${width}`;
      issues.add('ragged-row', row, message, 'give each row as many cells as the header');
      return;
    }
    const stamp = readStamp(cells[stampAt]!);
    if (!stamp) issues.add('bad-stamp', row, ...stampTrouble(cells[stampAt]!, spec.time), spec.time.column);
    for (let c = 0; c < values.length; c++) {
      const cell = cells[valuesAt[c]!]!;
      const value = readNumber(cell);
      if (value === undefined) issues.add('not-a-number', row, ...numberTrouble(cell), columns[c]!.column);
      if (stamp) values[c]!.push(value ?? Number.NaN);
    }
    if (!stamp) return;
    wall_ms.push(stamp.wall_ms);
    offset_min.push(stamp.offset_min);
    line.push(row);
  });

  const at_ms = instants({ wall_ms, offset_min, line }, zone, spec.time.zone, issues);
  const interval = issues.isEmpty ? interval_ms(at_ms, line, issues) : Number.NaN;
  if (!issues.isEmpty) throw new InputError(issues.list());
  if (Number.isNaN(interval)) {
    const message =
      width < 0 ? 'the file is empty' : `a series needs two rows or more, here is ${line.length}`;
    throw new InputError([
      {
        code: 'too-few-rows',
        path: '',
        message,
        fix: 'give a header and rows that cover the year',
        place: { file },
      },
    ]);
  }
  const { label } = spec.time;
  const lead_ms = label === 'start' ? 0 : label === 'end' ? interval : interval / 2;
  const start_ms = at_ms.map((at) => at - lead_ms);
  return {
    file,
    start_ms,
    end_ms: start_ms.map((start) => start + interval),
    line: Uint32Array.from(line),
    values: new Map(columns.map(({ name }, c) => [name, Float64Array.from(values[c]!)])),
  };
}

/** The number in a cell; NaN if it is empty, undefined if it holds something else. */
function readNumber(cell: string): number | undefined {
  const value = Number(cell);
  // `Number` also reads blanks as 0, and 0x10.
  if (value === 0 && cell.trim() === '') return Number.NaN;
  return Number.isFinite(value) && !/[xob]/i.test(cell) ? value : undefined;
}

function numberTrouble(cell: string): [message: string, fix: string] {
  const text = cell.trim();
  const message = `"${text.slice(0, 40)}" is not a number`;
  if (/^[+-]?\d+,\d+$/.test(text)) return [message, 'write a decimal point, not a comma'];
  return [message, 'write a number; for a missing value leave the cell empty and set gaps.fill'];
}

function stampTrouble(cell: string, time: SeriesTime): [message: string, fix: string] {
  const form = time.format === undefined ? 'an ISO 8601 time' : `a time of the form ${time.format}`;
  const years = time.year === undefined ? `the years ${FIRST_YEAR} to ${LAST_YEAR}` : `the year ${time.year}`;
  const message = `"${cell.trim().slice(0, 40)}" is not ${form} of ${years}`;
  const example = 'describe the stamps with time.format, such as "dd.MM.yyyy HH:mm"';
  return [message, time.format === undefined ? example : 'correct the stamp, or time.format'];
}
