import { unzipSync, zipSync } from 'fflate';
import { DecimalWriter } from '../tables/decimal-writer.ts';
import { letters } from './sheet.ts';

/**
 * Puts rows of numbers into a sheet of a workbook. A cell as an object of the library costs thirty times what its
 * number costs, and a year has 300,000: so the library writes one row, which says how each column is formatted, and
 * the others are written after its pattern.
 *
 * @param workbook with the sheet, in which row 2 has a number in every column and is the last
 * @param sheet its number, from 1
 * @param columns figures of the rows from the second on, the pattern's own among them
 */
export function withRows(
  workbook: Uint8Array,
  sheet: number,
  columns: readonly ArrayLike<number>[],
): Uint8Array {
  const files = unzipSync(workbook);
  const path = `xl/worksheets/sheet${sheet}.xml`;
  const xml = new TextDecoder().decode(files[path]!);
  const from = xml.indexOf('<row r="2">');
  const end = xml.indexOf('</sheetData>');
  if (from < 0 || end < 0) throw new Error(`${path}: there is no second row to go by`);
  const styles = [...xml.slice(from, end).matchAll(/<c r="[A-Z]+2"(?: s="(\d+)")?>/g)].map(
    ([, style]) => style,
  );
  if (styles.length !== columns.length)
    throw new Error(`${path}: ${styles.length} cells in its second row, ${columns.length} columns to write`);

  const rows = columns[0]!.length;
  const writer = new DecimalWriter(rows * columns.length * 32);
  writer.text(dimensioned(xml.slice(0, from), columns.length, rows + 1));
  const openings = styles.map((style, k) => [
    `<c r="${letters(k)}`,
    style === undefined ? '"><v>' : `" s="${style}"><v>`,
  ]);
  for (let row = 0; row < rows; row++) {
    const number = String(row + 2);
    writer.ascii(`<row r="${number}">`);
    for (let k = 0; k < columns.length; k++) {
      const [before, after] = openings[k]!;
      writer.ascii(before!);
      writer.ascii(number);
      writer.ascii(after!);
      writer.number(columns[k]![row]!, SCALE);
      writer.ascii('</v></c>');
    }
    writer.ascii('</row>');
  }
  writer.text(xml.slice(end));
  return zipSync({ ...files, [path]: writer.bytes() }, { mtime: MADE, level: LEVEL });
}

/** Decimals that the rows of a sheet keep: a year of rounding stays below 1e-5 in any sum. Dates need all of them. */
export const DECIMALS = 9;
const SCALE = 10 ** DECIMALS;

/** The zip format knows no earlier date: whatever is packed carries it. */
const MADE = '1980-01-01T00:00:00';
/** A third of the time that the strongest takes, for a sixth more of size. */
const LEVEL = 1;

const dimensioned = (xml: string, columns: number, rows: number): string =>
  xml.replace(/<dimension ref="[^"]*"\/>/, `<dimension ref="A1:${letters(columns - 1)}${rows}"/>`);
