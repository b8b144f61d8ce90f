import type { Axis, DesignFigureName } from '@longnight/core';
import { DESIGN_FIGURES, digitsOf, type PlayedChunk } from '@longnight/core/study';
import { decimal } from '../render/document/figures.ts';
import { plain } from '../render/document/plain-text.ts';
import { DecimalWriter } from '../render/tables/decimal-writer.ts';
import { textRow } from '../render/tables/hours-csv.ts';

/** What a row of sweep.csv says about a design. */
export interface SweepRow {
  /** In the order of DESIGN_FIGURES; NaN where the plant has no such figure. */
  readonly figures: readonly number[];
  /** Why the design was not played; null if it was. */
  readonly contradiction: string | null;
}

export interface NumberedRow extends SweepRow {
  readonly index: number;
}

export const placeOf = Object.fromEntries(DESIGN_FIGURES.map(({ name }, f) => [name, f])) as Record<
  DesignFigureName,
  number
>;

/** A figure of a row; NaN where the plant has no such figure. */
export const figure = (row: SweepRow, name: DesignFigureName): number => row.figures[placeOf[name]]!;

/** The rows of one sweep as text: RFC 4180, lines ended by CRLF, one line a design. */
export interface SweepRows {
  /** With its line end. */
  readonly header: string;
  /** How the row of a design begins: its number and the values of the varied keys, comma included. */
  start(index: number): string;
  /** The rows of a chunk as UTF-8. */
  write(indices: readonly number[], played: PlayedChunk): Uint8Array;
  /**
   * Reads a row as it stands in the file, without its line end.
   *
   * @returns null if it is not the row of this design
   */
  read(index: number, line: string): SweepRow | null;
}

const sweepColumns = (axes: readonly Axis[]): readonly string[] => [
  'design',
  ...axes.map((axis) => axis.path),
  ...DESIGN_FIGURES.map((figure) => figure.name),
  'contradiction',
];

/** Lays out the rows of a sweep over some axes. Designs are numbered from 1, the last axis varying fastest. */
export function sweepRows(axes: readonly Axis[]): SweepRows {
  // Every value is put into words once: a sweep has far more rows than values.
  const cells = axes.map((axis) => axis.values.map((value) => `,${valueCell(value)}`));
  const beginning = (index: number): string =>
    digitsOf(axes, index).reduce((text, digit, k) => text + cells[k]![digit]!, String(index + 1));
  return {
    header: textRow(sweepColumns(axes)),
    start: (index) => `${beginning(index)},`,
    write(indices, { figures, contradictions }) {
      const writer = new DecimalWriter(indices.length * 24 * DESIGN_FIGURES.length);
      indices.forEach((index, k) => {
        writer.text(beginning(index));
        for (let f = 0; f < DESIGN_FIGURES.length; f++) {
          const value = figures[k * DESIGN_FIGURES.length + f]!;
          if (Number.isNaN(value)) writer.ascii(',');
          else writer.cell(value);
        }
        const why = contradictions[k] ?? null;
        writer.text(why === null ? ',\r\n' : `,${textRow([plain(why)])}`);
      });
      return writer.bytes();
    },
    read(index, line) {
      const start = `${beginning(index)},`;
      if (!line.startsWith(start)) return null;
      const found: number[] = [];
      let from = start.length;
      for (let f = 0; f < DESIGN_FIGURES.length; f++) {
        const to = line.indexOf(',', from);
        const value = to < 0 ? undefined : figureOf(line.slice(from, to));
        if (value === undefined) return null;
        found.push(value);
        from = to + 1;
      }
      const why = textOf(line.slice(from));
      return why === undefined ? null : { figures: found, contradiction: why === '' ? null : why };
    },
  };
}

const valueCell = (value: number | string): string =>
  typeof value === 'number' ? decimal(value) : textRow([plain(value)]).slice(0, -'\r\n'.length);

function figureOf(cell: string): number | undefined {
  if (cell === '') return Number.NaN;
  return /^-?\d+(\.\d+)?$/.test(cell) ? Number(cell) : undefined;
}

/** A text cell without its quotes; undefined if it is torn or not the last. */
function textOf(cell: string): string | undefined {
  const quoted = /^"((?:[^"]|"")*)"$/.exec(cell);
  if (quoted !== null) return quoted[1]!.replaceAll('""', '"');
  return /[",]/.test(cell) ? undefined : cell;
}
