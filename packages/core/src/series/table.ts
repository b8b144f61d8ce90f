import { CsvError, type InfoRecord, parse } from 'csv-parse/sync';
import { InputError, type Issue } from '../basis/errors.ts';
import type { Table } from './layout.ts';

/** Called for each row that isn't empty, the header first; `line` is its line in the file, from 1. */
type EachRow = (cells: readonly string[], line: number) => void;

/**
 * Goes through the rows of a delimited text (RFC 4180; any line ending, byte order mark allowed), comments and the
 * lines before the table left out.
 *
 * @throws InputError if a quoted cell is not closed or has text after its closing quote
 */
export function eachRow(text: string, table: Table, file: string, each: EachRow): void {
  const before = table.lines_before ?? 0;
  const start = startOf(text, before);
  // Without a quote a line break is a row's end and a delimiter a cell's: splitting does what the parser does, ten
  // times as fast. Measured: a year of minutes, 525,600 rows, in 0.3 s against 2.6 s.
  if (text.includes('"', start)) quotedRows(text.slice(start), before, table, file, each);
  else plainRows(text, start, before, table, each);
}

/** The first character after a byte order mark and so many lines. */
function startOf(text: string, lines: number): number {
  let at = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  const lineEnd = lineEndOf(text);
  for (let line = 0; line < lines; line++) {
    const to = text.indexOf(lineEnd, at);
    if (to < 0) return text.length;
    at = to + 1;
  }
  return at;
}

const lineEndOf = (text: string): string => (text.includes('\n') ? '\n' : '\r');

/** The first lines of a text, without their ends. */
export function firstLines(text: string, most: number): string[] {
  const lines: string[] = [];
  const lineEnd = lineEndOf(text);
  for (let from = startOf(text, 0); from < text.length && lines.length < most; ) {
    let to = text.indexOf(lineEnd, from);
    if (to < 0) to = text.length;
    lines.push(text.slice(from, text.charCodeAt(to - 1) === 13 ? to - 1 : to));
    from = to + 1;
  }
  return lines;
}

/** The cells of one line, quotes taken off. */
export function cellsOf(line: string, delimiter: string): string[] {
  if (!line.includes('"')) return line.split(delimiter);
  const [cells = []] = parse(line, { delimiter, relax_column_count: true, relax_quotes: true }) as string[][];
  return cells;
}

function plainRows(
  text: string,
  start: number,
  before: number,
  { delimiter, comment }: Table,
  each: EachRow,
): void {
  const lineEnd = lineEndOf(text);
  let line = before;
  for (let from = start; from < text.length; ) {
    let to = text.indexOf(lineEnd, from);
    if (to < 0) to = text.length;
    line++;
    const row = text.slice(from, text.charCodeAt(to - 1) === 13 ? to - 1 : to);
    const isRow =
      row !== '' && row.trim() !== '' && (comment === undefined || !row.trimStart().startsWith(comment));
    if (isRow) each(row.split(delimiter), line);
    from = to + 1;
  }
}

function quotedRows(text: string, before: number, table: Table, file: string, each: EachRow): void {
  const { delimiter, comment } = table;
  try {
    parse(text, {
      delimiter,
      relax_column_count: true,
      skip_empty_lines: true,
      record_delimiter: ['\r\n', '\n', '\r'],
      ...(comment === undefined ? {} : { comment, comment_no_infix: true }),
      // Rows are taken one by one and dropped, so that a year of minutes needs no memory for its texts.
      on_record: (cells: string[], context: InfoRecord) => {
        // The parser knows comments at the very beginning of a line only.
        if (comment !== undefined && cells[0]!.trimStart().startsWith(comment)) return null;
        if (cells.length > 1 || cells[0]!.trim() !== '') each(cells, before + context.lines);
        return null;
      },
    });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = typeof error.lines === 'number' ? before + error.lines : undefined;
    const issue: Issue = {
      code: 'quotes',
      path: '',
      message: 'the quotes of a cell do not match',
      fix: 'close each quoted cell with a quote, and write a quote inside it twice',
      place: { file, ...(line === undefined ? {} : { line }) },
    };
    throw new InputError([issue]);
  }
}
