import { type Axis, combinations, digitsOf, type FigureName } from '@longnight/core';
import Table from 'cli-table3';
import { axisWords, type SweepManifest } from '../files/sweep-manifest.ts';
import { amount, counted, fixed, percent, socPercent } from './figures.ts';
import type { Paint } from './paint.ts';
import { plain, wrapped } from './plain-text.ts';
import { figure, type NumberedRow, type SweepDigest } from './sweep-digest.ts';
import { decimal } from './sweep-rows.ts';

const WIDTH = 80;
/** Longest name of a part or a file in the table; the whole of it stands in sweep.csv. */
const LONGEST = 24;

interface Column {
  /** Lines of the heading. */
  readonly heading: readonly string[];
  readonly cell: (row: NumberedRow) => string;
}

/** The figures that the table may show, the most telling first: those at the end give way when it gets too wide. */
const TELLING: readonly {
  readonly name: FigureName;
  readonly words: string;
  readonly unit: string;
  readonly text: (value: number) => string;
}[] = [
  { name: 'unmet.energy_kWh', words: 'unmet energy', unit: 'kWh', text: amount },
  { name: 'unmet.hours', words: 'unmet hours', unit: 'h', text: amount },
  { name: 'generator.run_hours', words: 'generator runs', unit: 'h', text: amount },
  { name: 'money.capital', words: 'capital', unit: '', text: (value) => fixed(value, 0) },
  { name: 'money.total', words: 'cost over years', unit: '', text: (value) => fixed(value, 0) },
  { name: 'bank.lowest_soc', words: 'lowest charge', unit: '%', text: socPercent },
  { name: 'autonomy.dark_hours.least', words: 'dark hours, least', unit: 'h', text: amount },
];

/** The same where rows are chosen by their price. */
const PRICED = [...TELLING].sort(
  (a, b) => Number(b.name === 'money.capital') - Number(a.name === 'money.capital'),
);

/** Where a sweep was written, for the last line. */
export interface Written {
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
    ({ name }) => digest.range(name).count > 0 && !digest.same(name),
  );
  const columns = fitting(
    keyColumns(made.axes),
    figures.map((telling) => figureColumn(telling, made)),
    rows,
  );
  const title = wrapped(plain(made.site), WIDTH).map(paint.heading);
  const below = [
    ...sentence(rule(digest)),
    ...sentence(sameInAll(made, digest)),
    ...sentence(holding(made, digest, paint)),
    ...sentence(contradictions(digest)),
    ...(written === null ? [] : sentence(`Files: ${written.names.join(', ')} in ${written.folder}`)),
  ];
  return `${[...title, ...wrapped(over(made, digest), WIDTH), '', ...tableLines(columns, rows, paint), '', ...below].join('\n')}\n`;
}

/** What was played. */
function over({ axes, designs, part }: SweepManifest, { list }: SweepDigest): string {
  const all = combinations(axes);
  const whole = counted(designs, 'design');
  const sampled = designs < all ? ` (an even sample of ${fixed(all, 0)} combinations)` : '';
  const share = part === null ? '' : `Part ${part.number} of ${part.of}, ${list.count} of `;
  return `${share}${whole}${sampled}: ${axes.map((axis) => plain(axisWords(axis))).join(', ')}`;
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

function figureColumn(telling: (typeof TELLING)[number], made: SweepManifest): Column {
  const unit = telling.name.startsWith('money.') ? plain(made.currency ?? '') : telling.unit;
  return {
    heading: [...telling.words.split(' '), unit].filter((line) => line !== ''),
    cell: (row) => {
      const value = figure(row, telling.name);
      return Number.isNaN(value) ? 'n/a' : telling.text(value);
    },
  };
}

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

function rule(digest: SweepDigest): string | null {
  const { rows, rule: by, of } = digest.shown();
  const { count } = digest.list;
  switch (by) {
    case 'all':
      return null;
    case 'front':
      return (
        `${of} of ${counted(count, 'design')} ${of === 1 ? 'is' : 'are'} beaten by no other: every one cheaper to buy leaves ` +
        `more unserved, or as much with more generator hours. ${rows.length < of ? `${rows.length} of them are shown.` : 'They are shown.'}`
      );
    case 'spread':
      return `Shown: ${rows.length} of ${counted(count, 'design')}, spread evenly over the values.`;
  }
}

function sameInAll(made: SweepManifest, digest: SweepDigest): string | null {
  if (digest.played < 2) return null;
  const same = TELLING.filter(({ name }) => digest.range(name).count > 0 && digest.same(name)).map(
    ({ name, words, unit, text }) => {
      const value = text(digest.range(name).least);
      const behind = name.startsWith('money.') ? plain(made.currency ?? '') : unit;
      return `${words} ${value}${behind === '' ? '' : ` ${behind}`}`;
    },
  );
  return same.length === 0 ? null : `The same in all: ${same.join('; ')}.`;
}

function holding(made: SweepManifest, digest: SweepDigest, paint: Paint): string | null {
  const { played, holding: held, cheapest } = digest;
  if (played === 0) return paint.bad('No design could be played.');
  if (held === 0) return `Every design leaves something unserved${shareWords(digest)}.`;
  if (held === played) return 'No design leaves anything unserved.';
  const some = `${held} of ${played} designs leave nothing unserved`;
  if (cheapest === null || digest.range('money.capital').count < played) return `${some}${sizes(digest)}.`;
  const price = `${fixed(figure(cheapest, 'money.capital'), 0)} ${plain(made.currency ?? '')}`.trimEnd();
  return `${some}; the cheapest of them to buy is design ${cheapest.index + 1} at ${price}.`;
}

const shareWords = (digest: SweepDigest): string => {
  const { least } = digest.range('unmet.share');
  return Number.isFinite(least) ? `, at least ${percent(least)} of what the loads want` : '';
};

/** The smallest of those that leave nothing unserved, where sizes differ. */
function sizes(digest: SweepDigest): string {
  const words = (row: NumberedRow): string =>
    `design ${row.index + 1}, ${amount(figure(row, 'array.size_kWp'))} kWp with ${amount(figure(row, 'bank.usable_kWh'))} kWh usable`;
  const { smallestArray: array, smallestBank: bank } = digest;
  const found = [
    array === null || digest.same('array.size_kWp') ? [] : `the smallest array among them: ${words(array)}`,
    bank === null || digest.same('bank.usable_kWh') ? [] : `the smallest bank: ${words(bank)}`,
  ].flat();
  return found.map((text) => `; ${text}`).join('');
}

function contradictions({ contradictory, firstContradiction: first }: SweepDigest): string | null {
  if (first === null) return null;
  const [were, their] = contradictory === 1 ? ['was', 'its'] : ['were', 'their'];
  return (
    `${counted(contradictory, 'design')} ${were} not played, because ${their} values contradict each other; ` +
    `design ${first.index + 1}: ${plain(first.contradiction ?? '')}`
  );
}
