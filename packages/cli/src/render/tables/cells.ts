import { written } from '../document/written.ts';

/** What stands in a cell; null where there is no such figure. */
export type Cell = string | number | boolean | null;

const quoted = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
const cellText = (value: Cell): string =>
  value === null ? '' : quoted(String(typeof value === 'number' ? written(value) : value));

/** RFC 4180: a row of titles, then one each of the others; an empty cell is "no such figure". */
export const cellsCsv = <Row>(
  rows: readonly Row[],
  columns: readonly (readonly [head: string, cell: (row: Row) => Cell])[],
): string =>
  [columns.map(([head]) => head), ...rows.map((row) => columns.map(([, cell]) => cellText(cell(row))))]
    .map((cells) => `${cells.join(',')}\r\n`)
    .join('');
