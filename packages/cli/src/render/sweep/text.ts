import type { Axis, DesignFigureName } from '@longnight/core';
import { digitsOf } from '@longnight/core/study';
import Table from 'cli-table3';
import { cellOf, type NumberedRow, type SweepDigest } from '../../sweep/digest.ts';
import type { SweepManifest } from '../../sweep/manifest.ts';
import { decimal } from '../../sweep/rows.ts';
import { unitOf, wordsOf } from '../document/figure-words.ts';
import type { Paint } from '../document/paint.ts';
import { plain, wrapped } from '../document/plain-text.ts';
import {
  contradictionWords,
  currencyOf,
  dangerWords,
  holdingWords,
  overWords,
  PRICED,
  ruleWords,
  sameInAllWords,
  TELLING,
} from './words.ts';

const WIDTH = 80;
/** Longest name of a part or a file in the table; the whole of it stands in sweep.csv. */
const LONGEST = 24;

interface Column {
  /** Lines of the heading. */
  readonly heading: readonly string[];
  readonly cell: (row: NumberedRow) => string;
}

/** Where a sweep was written, for the last line. */
interface Written {
  readonly folder: string;
  readonly names: readonly string[];
}

/** What `sweep` and `gather` print: a table of some rows, the rule by which they were chosen, and what holds. */
export function sweepText(
  made: SweepManifest,
  digest: SweepDigest,
  written: Written | null,
  paint: Paint,
): string {
  const { rows, rule: by } = digest.shown();
  const figures = (by === 'front' ? PRICED : TELLING).filter(
    (name) => digest.range(name).count > 0 && !digest.same(name),
  );
  const columns = fitting(
    keyColumns(made.axes),
    figures.map((name) => figureColumn(name, made)),
    rows,
  );
  const title = wrapped(plain(made.site), WIDTH).map(paint.heading);
  const below = [
    ...sentence(ruleWords(digest)),
    ...sentence(sameInAllWords(made, digest)),
    ...sentence(digest.played === 0 ? paint.bad(holdingWords(made, digest)) : holdingWords(made, digest)),
    ...sentence(dangerWords(digest)).map(paint.bad),
    ...sentence(contradictionWords(digest)),
    ...(written === null ? [] : sentence(`Files: ${written.names.join(', ')} in ${written.folder}`)),
  ];
  return `${[...title, ...wrapped(overWords(made, digest), WIDTH), '', ...tableLines(columns, rows, paint), '', ...below].join('\n')}\n`;
}

const sentence = (text: string | null): readonly string[] => (text === null ? [] : wrapped(text, WIDTH));

function keyColumns(axes: readonly Axis[]): Column[] {
  const keys = axes.map(
    (axis, k): Column => ({
      heading: axis.path
        .split(/(?<=\.)/)
        .flatMap((step) => (step.length > 10 ? step.split(/(?<=_)/) : [step])),
      cell: (row) => valueText(axis.values[digitsOf(axes, row.index)[k]!]!),
    }),
  );
  return [{ heading: ['design'], cell: (row) => String(row.index + 1) }, ...keys];
}

const figureColumn = (name: DesignFigureName, made: SweepManifest): Column => ({
  heading: [...wordsOf(name).split(' '), unitOf(name, currencyOf(made))].filter((line) => line !== ''),
  cell: (row) => cellOf(row, name),
});

function valueText(value: number | string): string {
  if (typeof value === 'number') return decimal(value);
  const text = plain(value);
  return text.length > LONGEST ? `${text.slice(0, LONGEST - 1)}…` : text;
}

/** All columns of keys and as many of the figures as fit; keys as well give way from the last on. */
function fitting(
  keys: readonly Column[],
  figures: readonly Column[],
  rows: readonly NumberedRow[],
): readonly Column[] {
  const width = (column: Column): number =>
    Math.max(...column.heading.map((line) => line.length), ...rows.map((row) => column.cell(row).length)) +
    GAP;
  let room = WIDTH + GAP;
  const fits = (column: Column): boolean => {
    room -= width(column);
    return room >= 0;
  };
  const shownKeys = keys.filter(fits);
  return [...shownKeys, ...figures.filter(fits)];
}

const GAP = 2;

function tableLines(columns: readonly Column[], rows: readonly NumberedRow[], paint: Paint): string[] {
  const none = '';
  const table = new Table({
    chars: {
      top: none,
      'top-mid': none,
      'top-left': none,
      'top-right': none,
      bottom: none,
      'bottom-mid': none,
      'bottom-left': none,
      'bottom-right': none,
      left: none,
      'left-mid': none,
      mid: none,
      'mid-mid': none,
      right: none,
      'right-mid': none,
      middle: ' '.repeat(GAP),
    },
    style: { 'padding-left': 0, 'padding-right': 0, head: [], border: [] },
    colAligns: columns.map(() => 'right' as const),
  });
  table.push(columns.map(({ heading }) => ({ content: heading.join('\n'), vAlign: 'bottom' as const })));
  for (const row of rows) table.push(columns.map((column) => column.cell(row)));
  const lines = table
    .toString()
    .split('\n')
    .map((line) => line.trimEnd());
  const deep = Math.max(...columns.map(({ heading }) => heading.length));
  return lines.map((line, k) => (k < deep ? paint.heading(line) : line));
}
