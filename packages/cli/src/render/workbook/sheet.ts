import type { Cell, CellStyle, CellValue, WriteSheet } from 'hucre/xlsx';
import { plain } from '../document/plain-text.ts';
import { written } from '../document/written.ts';

/** How a figure with this unit is shown; the unit stands in the cell. */
export function formatOf(unit: string, decimals = 2): string {
  switch (unit) {
    case '1':
      return '0.0%';
    case 'C':
      return '0.0" °C"';
    case 'W/m2':
      return '0" W/m²"';
    default:
      return `#,##0${decimals > 0 ? `.${'0'.repeat(decimals)}` : ''}" ${unit}"`;
  }
}

export const HEADING: CellStyle = { font: { bold: true }, alignment: { wrapText: true, vertical: 'top' } };
export const PROSE: CellStyle = { alignment: { wrapText: true, vertical: 'top' } };
export const TITLE: CellStyle = { font: { bold: true, size: 14 } };

/** `A`, `B`, … `AA`: the letters of a column counted from 0. */
export function letters(column: number): string {
  const before = Math.floor(column / 26);
  return (before > 0 ? letters(before - 1) : '') + String.fromCharCode(65 + (column % 26));
}

/** What stands in a cell; a formula stands with the figure that it gives today, and a style over that of its column. */
export type Content = CellValue | Partial<Cell>;

/** A table of a workbook: what stands above it, its columns and their rows. */
export interface Sheet extends Pick<WriteSheet, 'name' | 'charts' | 'freezePane' | 'autoFilter'> {
  readonly above?: readonly Content[];
  readonly columns: readonly {
    readonly head: string;
    readonly width: number;
    readonly style?: CellStyle;
  }[];
  readonly rows: readonly (readonly Content[])[];
}

const isCell = (content: Content): content is Partial<Cell> =>
  typeof content === 'object' && content !== null && !(content instanceof Date);

/** Figures as they are written everywhere, text without what steers a screen. */
const shown = <V>(value: V): V => {
  if (typeof value === 'string') return plain(value) as V & string;
  return typeof value === 'number' ? (written(value) as V & number) : value;
};

export function sheetOf({ above = [], columns, rows, ...others }: Sheet): WriteSheet {
  const cells = new Map<string, Partial<Cell>>();
  const put = (row: number, column: number, content: Content, style: CellStyle = {}): void => {
    const { value, formulaResult, ...cell } = isCell(content) ? content : { value: content };
    cells.set(`${row},${column}`, {
      ...cell,
      ...(value === undefined ? {} : { value: shown(value) }),
      ...(formulaResult === undefined ? {} : { formulaResult: shown(formulaResult) }),
      style: { ...style, ...cell.style },
    });
  };
  const lines = [
    ...above.map((content) => [content]),
    columns.map(({ head }) => ({ value: head, style: HEADING })),
    ...rows,
  ];
  lines.forEach((line, row) => {
    line.forEach((content, column) => {
      put(row, column, content, row > above.length ? columns[column]!.style : {});
    });
  });
  // Room for a heading of two lines: names of columns are longer than their figures.
  const isTall = columns.some(({ head, width }) => head.length > width);
  return {
    ...others,
    columns: columns.map(({ width }) => ({ width })),
    rows: [],
    cells,
    ...(isTall ? { rowDefs: new Map([[above.length, { height: 32 }]]) } : {}),
  };
}
