import type { Cell, CellStyle, WriteSheet } from 'hucre/xlsx';
import { written } from '../document/written.ts';

/** How a figure with this unit is shown; the unit stands in the cell. */
export function formatOf(unit: string, decimals = 2): string {
  const zeros = decimals > 0 ? `.${'0'.repeat(decimals)}` : '';
  switch (unit) {
    case '1':
      return '0.0%';
    case 'C':
      return '0.0" °C"';
    case 'W/m2':
      return '0" W/m²"';
    default:
      return `#,##0${zeros}" ${unit}"`;
  }
}

export const HEADING: CellStyle = { font: { bold: true }, alignment: { wrapText: true, vertical: 'top' } };
export const PROSE: CellStyle = { alignment: { wrapText: true, vertical: 'top' } };
export const TITLE: CellStyle = { font: { bold: true, size: 14 } };

/** Room for a heading of two lines: names of columns are longer than their figures. */
export const headRow = (row: number): Map<number, { height: number }> => new Map([[row, { height: 32 }]]);

/** `A`, `B`, … `AA`: the letters of a column counted from 0. */
export function letters(column: number): string {
  const before = Math.floor(column / 26);
  return (before > 0 ? letters(before - 1) : '') + String.fromCharCode(65 + (column % 26));
}

/** Cells that are more than a value, row by row. */
export class Cells {
  readonly map = new Map<string, Partial<Cell>>();

  put(row: number, column: number, cell: Partial<Cell>): void {
    const { value, formulaResult } = cell;
    this.map.set(`${row},${column}`, {
      ...cell,
      ...(typeof value === 'number' ? { value: written(value) } : {}),
      ...(typeof formulaResult === 'number' ? { formulaResult: written(formulaResult) } : {}),
    });
  }

  /** A formula, the figure it gives today, and how that is shown. */
  formula(row: number, column: number, formula: string, result: number, numFmt: string): void {
    this.put(row, column, { formula, formulaResult: result, style: { numFmt } });
  }

  texts(row: number, texts: readonly string[], style: CellStyle): void {
    texts.forEach((value, column) => {
      this.put(row, column, { value, style });
    });
  }
}

export type { WriteSheet };
