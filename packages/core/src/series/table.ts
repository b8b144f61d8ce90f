import { CsvError, type InfoRecord, parse } from 'csv-parse/sync';
import { InputError, type Issue } from '../basis/errors.ts';

/** Called for each row that isn't empty, the header first; `line` is its line in the file, from 1. */
type EachRow = (cells: readonly string[], line: number) => void;

/**
 * Goes through the rows of a delimited text (RFC 4180; any line ending, byte order mark allowed).
 *
 * @throws InputError if a quoted cell is not closed or has text after its closing quote
 */
export function eachRow(text: string, delimiter: string, file: string, each: EachRow): void {
  const start = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  // Without a quote a line break is a row's end and a delimiter a cell's: splitting does what the parser does, ten
  // times as fast. Measured: a year of minutes, 525,600 rows, in 0.3 s against 2.6 s.
  if (text.includes('"')) quotedRows(text.slice(start), delimiter, file, each);
  else plainRows(text, start, delimiter, each);
}

function plainRows(text: string, start: number, delimiter: string, each: EachRow): void {
  const lineEnd = text.includes('\n') ? '\n' : '\r';
  let line = 0;
  for (let from = start; from < text.length; ) {
    let to = text.indexOf(lineEnd, from);
    if (to < 0) to = text.length;
    line++;
    const row = text.slice(from, text.charCodeAt(to - 1) === 13 ? to - 1 : to);
    if (row !== '' && row.trim() !== '') each(row.split(delimiter), line);
    from = to + 1;
  }
}

function quotedRows(text: string, delimiter: string, file: string, each: EachRow): void {
  try {
    parse(text, {
      delimiter,
      relax_column_count: true,
      skip_empty_lines: true,
      record_delimiter: ['\r\n', '\n', '\r'],
      // Rows are taken one by one and dropped, so that a year of minutes needs no memory for its texts.
      on_record: (cells: string[], context: InfoRecord) => {
        if (cells.length > 1 || cells[0]!.trim() !== '') each(cells, context.lines);
        return null;
      },
    });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = typeof error.lines === 'number' ? error.lines : undefined;
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
