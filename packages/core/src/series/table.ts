import { refusal } from '../basis/errors.ts';
import type { Table } from './layout.ts';

/** No row of a table is longer; a line of commas would take ten times its length in memory. */
const MOST_CHARACTERS = 2 ** 20;
const LONG_FIX = 'check that this is the file you mean, and that its rows end with a line break';

/** Called for each row that isn't empty, the header first; `line` is its first line in the file, from 1. */
type EachRow = (cells: readonly string[], line: number) => void;

/**
 * Goes through the rows of a delimited text (RFC 4180; any line ending, byte order mark allowed), comments and the
 * lines before the table left out.
 *
 * @throws InputError if a line is longer than any row is, a quoted cell is not closed, or a quote stands anywhere but around a cell
 */
export function eachRow(text: string, table: Table, file: string, each: EachRow): void {
  const { delimiter, comment } = table;
  const isComment = (row: string): boolean => comment !== undefined && row.trimStart().startsWith(comment);
  const lineEnd = lineEndOf(text);
  let line = (table.lines_before ?? 0) + 1;
  for (let from = startOf(text, line - 1); from < text.length; line++) {
    let to = endOfLine(text, from, lineEnd);
    const row = lineOf(text, from, to);
    if (row.length > MOST_CHARACTERS)
      throw refusal('long-line', { file, line }, 'this line has over a million characters', LONG_FIX);
    if (row.trim() !== '' && !isComment(row)) {
      // Without a quote a line break is a row's end and a delimiter a cell's.
      const quoted = row.includes(QUOTE) ? quotedRow(text, from, delimiter, lineEnd) : undefined;
      if (quoted === null)
        throw refusal('quotes', { file, line }, 'the quotes of a cell do not match', QUOTES_FIX);
      const cells = quoted?.cells ?? row.split(delimiter);
      if (cells.length > 1 || (cells[0]!.trim() !== '' && !isComment(cells[0]!))) each(cells, line);
      // A quoted cell may run over several lines.
      for (; quoted !== undefined && to < quoted.end; line++) to = endOfLine(text, to + 1, lineEnd);
    }
    from = to + 1;
  }
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

function endOfLine(text: string, from: number, lineEnd: string): number {
  const to = text.indexOf(lineEnd, from);
  return to < 0 ? text.length : to;
}

/** A line without the carriage return that may stand before its end. */
const lineOf = (text: string, from: number, to: number): string =>
  text.slice(from, to > from && text.charCodeAt(to - 1) === 13 ? to - 1 : to);

/** The first lines of a text, without their ends. */
export function firstLines(text: string, most: number): string[] {
  const lines: string[] = [];
  const lineEnd = lineEndOf(text);
  for (let from = startOf(text, 0); from < text.length && lines.length < most; ) {
    const to = endOfLine(text, from, lineEnd);
    lines.push(lineOf(text, from, Math.min(to, from + MOST_CHARACTERS)));
    from = to + 1;
  }
  return lines;
}

/** The cells of one line, quotes taken off unless they don't match. */
export const cellsOf = (line: string, delimiter: string): string[] =>
  quotedRow(line, 0, delimiter, '\n')?.cells ?? line.split(delimiter);

const QUOTE = '"';
const QUOTES_FIX = 'close each quoted cell with a quote, and write a quote inside it twice';

/** A stray quote opens a cell that takes in all up to the next one: no number and no time does that. */
export const isOverLines = (cell: string): boolean => /[\r\n]/.test(cell.trim());
export const OVER_LINES: [message: string, fix: string] = [
  'a quoted cell runs over several lines',
  QUOTES_FIX,
];

/**
 * The cells of the row that begins at `from`, and where it ends: at its line break, or the text's end. Null if its
 * quotes don't match.
 */
function quotedRow(
  text: string,
  from: number,
  delimiter: string,
  lineEnd: string,
): { cells: string[]; end: number } | null {
  const isLineEnd = (at: number): boolean => at >= text.length || text[at] === lineEnd;
  const isRowEnd = (at: number): boolean => isLineEnd(at) || (text[at] === '\r' && isLineEnd(at + 1));
  const cells: string[] = [];
  for (let at = from; ; at++) {
    let end = at;
    if (text[at] === QUOTE) {
      // A quote inside the cell is written twice.
      do {
        end = text.indexOf(QUOTE, end + 1) + 1;
        if (end === 0) return null;
      } while (text[end] === QUOTE);
      cells.push(text.slice(at + 1, end - 1).replaceAll('""', QUOTE));
    } else {
      while (text[end] !== delimiter && !isRowEnd(end)) if (text[end++] === QUOTE) return null;
      cells.push(text.slice(at, end));
    }
    if (isRowEnd(end)) return { cells, end };
    if (text[end] !== delimiter) return null;
    at = end;
  }
}
