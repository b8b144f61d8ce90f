import type { Axis } from '@longnight/core';
import { DESIGN_FIGURES, digitsOf, readAxis } from '@longnight/core/study';
import { cellOf, figure, type NumberedRow, type Range, type SweepDigest } from '../../sweep/digest.ts';
import type { SweepManifest } from '../../sweep/manifest.ts';
import { figureText, titleOf, unitOf } from '../document/figure-words.ts';
import { amount, counted, percent } from '../document/figures.ts';
import { list, paragraph, type Section, table } from '../document/html.ts';
import { pageDocument } from '../document/page.ts';
import { plain } from '../document/plain-text.ts';
import type { ChartedName } from '../drawing/grid.ts';
import { figure as drawn } from '../drawing/page-svg.ts';
import { scatter } from '../drawing/scatter.ts';
import { chartTitle } from '../drawing/words.ts';
import { designText, valuesOf, valueText } from '../size/answers.ts';
import { againSection } from '../week/page.ts';
import { chartsSection } from './page-charts.ts';
import {
  contradictionWords,
  currencyOf,
  dangerWords,
  frontWords,
  holdingWords,
  overWords,
  sameInAllWords,
  TELLING,
} from './words.ts';

const figures = true as const;
/** Dots of the front that are drawn at most. */
const DOTS = 300;
/** Rows of a table at most. */
const ROWS = 20;

/** sweep.html: what holds, the best of it, the charts, the front, how far each figure goes. */
export function sweepPage(made: SweepManifest, digest: SweepDigest): string {
  const read = [made.scenario, ...made.parts_files, ...made.series_files];
  return pageDocument({
    title: `${plain(made.site)}: ${counted(made.designs, 'design')}`,
    about: [made.over, `${overWords(made, digest)}. Whatever else, each design is as in the file.`],
    sections: [
      holdsSection(made, digest),
      ...(digest.played === digest.dangerous ? [] : [bestSection(made, digest)]),
      chartsSection(made, digest.grid),
      ...frontSections(made, digest),
      ...(digest.played === 0 ? [] : [rangesSection(made, digest)]),
      {
        id: 'cautions',
        title: 'Cautions',
        sentence: 'These designs are models; whoever wires one needs these as well.',
        body: [list(made.cautions)],
      },
      againSection(
        sweepCommand(made),
        { version: made.longnight, read },
        'sweep.csv holds every design with every figure.',
      ),
    ],
    foot: `Made by Longnight ${made.longnight} from ${made.scenario.name}.`,
  });
}

function holdsSection(made: SweepManifest, digest: SweepDigest): Section {
  const more = [dangerWords(digest), sameInAllWords(made, digest), contradictionWords(digest)];
  return {
    id: 'holds',
    title: 'What holds',
    sentence: holdingWords(made, digest),
    tone: digest.holding === 0 ? 'verdict fails' : 'verdict',
    body: [
      ...more.filter((text) => text !== null).map((text) => paragraph(text)),
      paragraph('Each design is played over one year: another year may leave more unserved.'),
    ],
  };
}

/** The designs that are best at something, each with what it is best at. */
function bestRows({ cheapest, leastTotal, leastUnmet, smallestArray, smallestBank, holding }: SweepDigest) {
  const best: readonly (readonly [string, NumberedRow | null])[] =
    holding === 0
      ? [['least unserved', leastUnmet]]
      : [
          ['cheapest to buy', cheapest],
          ['least cost over the years', leastTotal],
          ['smallest array', smallestArray],
          ['smallest bank', smallestBank],
        ];
  return best.filter((one): one is readonly [string, NumberedRow] => one[1] !== null);
}

function bestSection(made: SweepManifest, digest: SweepDigest): Section {
  const best = bestRows(digest);
  const [title, row] = best[0]!;
  const design = `design ${row.index + 1} (${designText(made.axes, row.index)})`;
  const held = digest.holding > 0;
  const titles = new Map<NumberedRow, string[]>();
  for (const [words, one] of best) titles.set(one, [...(titles.get(one) ?? []), words]);
  const edges = best.flatMap(([, { index }]) => edgeWords(made.axes, index));
  return {
    id: 'best',
    title: held ? 'Best of those that hold' : 'Nearest to holding',
    sentence: held
      ? `Of those that leave nothing unserved ${design} ${title === 'cheapest to buy' ? 'is the cheapest to buy' : `has the ${title}`}.`
      : `Least is unserved in ${design}: ${amount(figure(row, 'unmet.energy_kWh'))} kWh in the year.`,
    body: [
      designTable(
        held ? 'Best among the designs that leave nothing unserved' : 'The design that leaves least unserved',
        made,
        digest,
        [...titles.keys()],
        [...titles.values()].map((words) => words.join(', ')),
      ),
      ...(edges.length === 0
        ? []
        : [
            paragraph(
              `At the edge of what was played: ${[...new Set(edges)].join('; ')}. There may be a better one beyond.`,
            ),
          ]),
    ],
  };
}

/** Keys of which a design has the least or the greatest value that was played. */
function edgeWords(axes: readonly Axis[], index: number): readonly string[] {
  return digitsOf(axes, index).flatMap((digit, k) => {
    const { path, values } = axes[k]!;
    if (values.length < 2 || path === 'weather.seed') return [];
    if (!values.every((value) => typeof value === 'number')) return [];
    const value = values[digit]!;
    const end = value === Math.min(...values) ? 'least' : value === Math.max(...values) ? 'greatest' : null;
    return end === null ? [] : [`${path} ${valueText(value)} is the ${end} of its values`];
  });
}

/** Designs as rows: their keys, then the figures that are not the same in all. */
function designTable(
  caption: string,
  made: SweepManifest,
  digest: SweepDigest,
  rows: readonly NumberedRow[],
  firsts: readonly string[] | null = null,
): string {
  const shown = TELLING.filter((name) => digest.range(name).count > 0 && !digest.same(name));
  return table({
    caption,
    columns: [
      ...(firsts === null ? [] : [{ title: 'what', words: figures }]),
      { title: 'design', figures },
      ...made.axes.map(({ path }) => ({ title: path, figures })),
      ...shown.map((name) => ({ title: titleOf(name, currencyOf(made)), figures })),
    ],
    rows: rows.map((row, k) => [
      ...(firsts === null ? [] : [firsts[k]!]),
      String(row.index + 1),
      ...valuesOf(made.axes, row.index),
      ...shown.map((name) => (row.contradiction !== null ? 'not played' : cellOf(row, name))),
    ]),
  });
}

function frontSections(made: SweepManifest, digest: SweepDigest): readonly Section[] {
  const { rows, rule } = digest.shown();
  const front = digest.front(ROWS);
  const some: Section = {
    id: 'designs',
    title: rule === 'all' ? 'Every design' : 'Some of the designs',
    sentence:
      rule === 'all'
        ? `${counted(rows.length, 'design')}, in the order of sweep.csv.`
        : `${rows.length} of ${counted(digest.list.count, 'design')}, spread evenly over the values.`,
    body: [designTable(rule === 'all' ? 'Every design' : 'Designs spread evenly', made, digest, rows)],
  };
  if (front === null) return [some];
  const names = ['unmet.energy_kWh', 'generator.run_hours'] as const;
  const name = names.find((one) => digest.range(one).count > 0 && !digest.same(one));
  const dots = name === undefined ? [] : digest.front(DOTS)!.rows;
  const section: Section = {
    id: 'front',
    title: 'Designs that no other beats',
    sentence: frontWords(digest.list.count, front),
    body: [
      ...(dots.length < 2 ? [] : [frontFigure(made, digest, dots, name!)]),
      designTable('Designs that no other beats, cheapest first', made, digest, front.rows),
    ],
  };
  return rule === 'all' && front.of < rows.length ? [section, some] : [section];
}

function frontFigure(
  made: SweepManifest,
  { cheapest }: SweepDigest,
  rows: readonly NumberedRow[],
  name: ChartedName,
): string {
  const dots = rows.map((row) => ({
    x: figure(row, 'money.capital'),
    y: figure(row, name) || 0,
    name: row.index === cheapest?.index ? `design ${row.index + 1}` : null,
  }));
  const [xTitle, yTitle] = [chartTitle('money.capital', made.currency), chartTitle(name, made.currency)];
  const ends = [dots[0]!, dots.at(-1)!].map(
    ({ x, y }) => `${figureText(name, y)} at ${figureText('money.capital', x)}`,
  );
  return drawn(
    {
      id: 'front-chart',
      title: `${yTitle}, over ${xTitle}`,
      description: `${counted(dots.length, 'design')}, from ${ends.join(' to ')}.`,
      caption: dots.some(({ name }) => name !== null)
        ? 'A dot is a design; the ring is the cheapest that leaves nothing unserved.'
        : 'A dot is a design.',
    },
    { wide: scatter(dots, xTitle, yTitle, 'wide'), narrow: scatter(dots, xTitle, yTitle, 'narrow') },
  );
}

function rangesSection(made: SweepManifest, digest: SweepDigest): Section {
  const soc = digest.range('bank.lowest_soc');
  const unmet = digest.range('unmet.share');
  const shown = DESIGN_FIGURES.filter(({ name }) => digest.range(name).count > 0);
  return {
    id: 'ranges',
    title: 'From least to most',
    sentence: `Over ${counted(digest.played, 'design')} played ${unmet.most === 0 ? 'nothing' : between(unmet)} of what the loads want goes unserved, and the bank comes down to ${between(soc)}.`,
    body: [
      table({
        caption: 'Every figure, over all designs played',
        columns: [
          { title: 'figure', code: true },
          { title: 'least', figures },
          { title: 'most', figures },
          { title: 'unit' },
          { title: 'what it is', words: true },
        ],
        rows: shown.map(({ name, meaning }) => {
          const { least, most, count } = digest.range(name);
          const some =
            count < digest.played ? `; ${counted(count, 'design')} of ${digest.played} have it` : '';
          return [
            name,
            figureText(name, least),
            figureText(name, most),
            unitOf(name, plain(made.currency ?? 'money')),
            `${meaning}${some}`,
          ];
        }),
      }),
      table({
        caption: 'What was varied',
        columns: [
          { title: 'key', code: true },
          { title: 'values', figures },
          { title: 'from' },
          { title: 'to' },
          { title: 'in the file' },
        ],
        rows: made.axes.map(({ path, values }, k) => [
          path,
          String(values.length),
          valueText(values[0]!),
          valueText(values.at(-1)!),
          made.in_file[k] === null ? 'left out' : valueText(made.in_file[k]!),
        ]),
      }),
    ],
  };
}

const between = ({ least, most }: Range): string =>
  percent(least) === percent(most) ? percent(least) : `between ${percent(least)} and ${percent(most)}`;

/** The command that plays the same again. */
function sweepCommand({ scenario, axes, sample }: SweepManifest): string {
  const vary = axes.map((axis) => `--vary '${axisText(axis).replaceAll("'", "'\\''")}'`);
  return `longnight sweep ${[scenario.name, ...vary, ...(sample === null ? [] : [`--sample ${sample}`])].join(' ')} --out DIR`;
}

/** A range where it reads back as the same values; a list otherwise. */
function axisText({ path, values }: Axis): string {
  const [first, second, third] = values;
  if (typeof first === 'number' && typeof second === 'number' && third !== undefined) {
    const step = Number((second - first).toPrecision(12));
    const range = `${path}=${[first, values.at(-1)!, step].map(valueText).join(':')}`;
    // Asked before it is read: what is no range might be one of too many values.
    const evenly = Math.abs((Number(values.at(-1)) - first) / step - (values.length - 1)) < 0.5;
    const read = evenly ? readAxis(range).values : [];
    if (read.length === values.length && read.every((value, k) => value === values[k])) return range;
  }
  return `${path}=${values.map(valueText).join(',')}`;
}
