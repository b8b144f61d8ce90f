import type { Axis, DesignFigureName, Figures } from '@longnight/core';
import {
  DESIGN_FIGURES,
  digitsOf,
  figuresOf,
  howSure,
  overYears,
  type PlayedChunk,
  percentile,
  type Statistic,
} from '@longnight/core/study';
import { decimal } from '../render/document/figures.ts';
import { plain } from '../render/document/plain-text.ts';
import { DecimalWriter } from '../render/tables/decimal-writer.ts';
import { textRow } from '../render/tables/hours-csv.ts';

/** What a row of sweep.csv says about a design. */
export interface SweepRow {
  /** In the order of DESIGN_FIGURES, medians where many years are played; NaN where the plant has no such figure. */
  readonly figures: readonly number[];
  /** All that stands in its columns, in the order of `columnsOf`. */
  readonly columns: readonly number[];
  /** True if nothing is unmet in any of its years. */
  readonly holds: boolean;
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

/** The years that each design of a sweep is played in, and what is told of its figures over them. */
export interface RowYears {
  readonly count: number;
  /** Whole, 1 to 99, ascending, 50 among them: charts and tables read it. */
  readonly percentiles: readonly number[];
}

/** One column of figures: a figure, or a statistic of it over the years, or how many years hold. */
interface FigureColumn {
  readonly header: string;
  readonly of: (years: readonly Figures[]) => number | null;
}

/** Figures of the parts alone, the same whatever year is played. */
const OF_PARTS: ReadonlySet<DesignFigureName> = new Set([
  'bank.usable_kWh',
  'array.size_kWp',
  'money.capital',
]);

/** The statistic by which a figure of many years is told in one number. */
const inOne = (name: DesignFigureName): Statistic => (name === 'dangers' ? 'worst' : 'p50');

/** The columns of figures; of many years their percentiles, how many years hold, and how sure that is. */
export function columnsOf(years: RowYears | null): readonly FigureColumn[] {
  if (years === null)
    return DESIGN_FIGURES.map(({ name }) => ({ header: name, of: ([year]) => year![name] }));
  const over =
    (name: DesignFigureName, statistic: Statistic): FigureColumn['of'] =>
    (all) =>
      // A figure that the plant lacks has no percentiles.
      all[0]![name] === null
        ? null
        : overYears(
            name,
            statistic,
            all.map((year) => year[name]),
          );
  const held = (all: readonly Figures[]): number => all.filter((year) => year['unmet.hours'] === 0).length;
  return [
    ...DESIGN_FIGURES.flatMap(({ name }): FigureColumn[] =>
      OF_PARTS.has(name) || name === 'dangers'
        ? [{ header: name, of: over(name, inOne(name)) }]
        : years.percentiles.map((percent) => ({
            header: `${name}.${percentile(percent)}`,
            of: over(name, percentile(percent)),
          })),
    ),
    { header: YEARS_HELD, of: held },
    { header: 'held_share.low', of: (all) => howSure(held(all), years.count).low },
    { header: 'held_share.high', of: (all) => howSure(held(all), years.count).high },
  ];
}

export const YEARS_HELD = 'years_held';

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

/**
 * Lays out the rows of a sweep over some axes. Designs are numbered from 1, the last axis varying fastest.
 *
 * @param years that each is played in; null for the scenario's own
 */
export function sweepRows(axes: readonly Axis[], years: RowYears | null = null): SweepRows {
  const columns = columnsOf(years);
  const place = new Map(columns.map(({ header }, k) => [header, k]));
  const places = DESIGN_FIGURES.map(({ name }) => place.get(name) ?? place.get(`${name}.${inOne(name)}`)!);
  const heldAt = place.get(YEARS_HELD);
  // Every value is put into words once: a sweep has far more rows than values.
  const cells = axes.map((axis) => axis.values.map((value) => `,${valueCell(value)}`));
  const beginning = (index: number): string =>
    digitsOf(axes, index).reduce((text, digit, k) => text + cells[k]![digit]!, String(index + 1));
  return {
    header: textRow([
      'design',
      ...axes.map((axis) => axis.path),
      ...columns.map(({ header }) => header),
      'contradiction',
    ]),
    start: (index) => `${beginning(index)},`,
    write(indices, played) {
      const writer = new DecimalWriter(indices.length * 24 * columns.length);
      indices.forEach((index, k) => {
        writer.text(beginning(index));
        const all = figuresOf(played, k, years?.count ?? 0);
        for (const { of } of columns) {
          const value = all === null ? null : of(all);
          if (value === null) writer.ascii(',');
          else writer.cell(value);
        }
        const why = played.contradictions[k] ?? null;
        writer.text(why === null ? ',\r\n' : `,${textRow([plain(why)])}`);
      });
      return writer.bytes();
    },
    read(index, line) {
      const start = `${beginning(index)},`;
      if (!line.startsWith(start)) return null;
      const found: number[] = [];
      let from = start.length;
      for (let f = 0; f < columns.length; f++) {
        const to = line.indexOf(',', from);
        const value = to < 0 ? undefined : figureOf(line.slice(from, to));
        if (value === undefined) return null;
        found.push(value);
        from = to + 1;
      }
      const why = textOf(line.slice(from));
      if (why === undefined) return null;
      const figures = places.map((f) => found[f]!);
      const holds =
        heldAt === undefined ? figures[placeOf['unmet.hours']] === 0 : found[heldAt] === years!.count;
      return { figures, columns: found, holds, contradiction: why === '' ? null : why };
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
