import type { Layout } from './layout.ts';
import { isOverLines, OVER_LINES } from './table.ts';

/** The number in a cell; NaN if its value is missing, undefined if it holds something else. */
type ReadNumber = (cell: string) => number | undefined;

/** A reader of numbers as a file writes them. */
export function numberReader({ decimal, missing }: Layout): ReadNumber {
  const codes = new Set((missing ?? []).filter((code) => typeof code === 'number'));
  const words = new Set((missing ?? []).filter((code) => typeof code === 'string').map((w) => w.trim()));
  const read = decimal === 'comma' ? readComma : readPoint;
  if (codes.size === 0 && words.size === 0) return read;
  return (cell) => {
    if (words.size > 0 && words.has(cell.trim())) return Number.NaN;
    const value = read(cell);
    return value !== undefined && codes.has(value) ? Number.NaN : value;
  };
}

function readPoint(cell: string): number | undefined {
  const value = Number(cell);
  // `Number` also reads blanks as 0, and 0x10.
  if (value === 0 && cell.trim() === '') return Number.NaN;
  return Math.abs(value) <= MOST && !/[xob]/i.test(cell) ? value : undefined;
}

/** No quantity in any unit is more, nor any code for a missing one; what is made of it stays finite. */
const MOST = 1e100;

/** A point among such numbers groups thousands or is another decimal mark: nobody can tell, so it is no number. */
const readComma = (cell: string): number | undefined =>
  cell.includes('.') ? undefined : readPoint(cell.replace(',', '.'));

/** What is wrong with a cell that is no number, and what to do. */
export function numberTrouble(cell: string, { decimal }: Layout): [message: string, fix: string] {
  const text = cell.trim();
  if (isOverLines(cell)) return OVER_LINES;
  const message =
    Math.abs(Number(text)) > MOST
      ? `"${text.slice(0, 40)}" is beyond any quantity`
      : `"${text.slice(0, 40)}" is not a number`;
  if (decimal === 'comma' && /^[+-]?\d*\.\d+$/.test(text))
    return [`${message} with a decimal comma`, 'write a comma here, or leave out decimal: comma'];
  if (/^[+-]?\d+,\d+$/.test(text))
    return [
      message,
      'write a decimal point, or set decimal: comma if all numbers of the file are written so',
    ];
  if (/^[+-]?\d{1,3}([.,' ]\d{3})+([.,]\d+)?$/.test(text))
    return [message, 'write the number without marks between thousands'];
  return [
    message,
    'write a number; for a missing value list what stands there under missing, or leave the cell empty and set gaps.fill',
  ];
}
