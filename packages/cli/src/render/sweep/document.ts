import type { DesignFigureName } from '@longnight/core';
import { DESIGN_FIGURES } from '@longnight/core/study';
import { cellOf, type Range, type SweepDigest } from '../../sweep/digest.ts';
import type { SweepManifest } from '../../sweep/manifest.ts';
import { figure, type NumberedRow } from '../../sweep/rows.ts';
import { againSection } from '../document/again.ts';
import {
  type Block,
  type ColumnOf,
  type Document,
  figures,
  present,
  type Section,
  type Table,
  tableOf,
  textsOf,
} from '../document/document.ts';
import { figureText, unitOf, wordsOf } from '../document/figure-words.ts';
import { amount, counted, percent } from '../document/figures.ts';
import {
  axisTitle,
  designText,
  edgeText,
  settingWords,
  valueAt,
  valueText,
  varyOptions,
} from '../document/key-words.ts';
import { paint } from '../document/paint.ts';
import { plain, WIDTH } from '../document/plain-text.ts';
import { tableLines } from '../document/to-screen.ts';
import type { ChartedName } from '../drawing/grid.ts';
import { drawing } from '../drawing/page-svg.ts';
import { scatter } from '../drawing/scatter.ts';
import { chartTitle } from '../drawing/words.ts';
import { cautionSection } from '../report/dangers.ts';
import { chartsSection } from './charts.ts';
import { growthSections } from './growth.ts';
import {
  contradictionWords,
  currencyOf,
  dangerWords,
  frontWords,
  holdingWords,
  PRICED,
  playedWords,
  ruleWords,
  sameInAllWords,
  TELLING,
} from './words.ts';

/** Dots of the front that are drawn at most. */
const DOTS = 300;
/** Rows of a table at most. */
const ROWS = 20;
/** Longest name of a part or a file in a table of a terminal; the whole of it stands in sweep.csv. */
const LONGEST = 24;

/** What `longnight sweep` and `gather` say: what holds, the best of it, the charts, the front, how far figures go. */
export function sweepDocument(made: SweepManifest, digest: SweepDigest): Document {
  const read = [made.scenario, ...made.parts_files, ...made.series_files];
  const page = (section: Section): Section => ({ ...section, on: ['page'] });
  return {
    title: `${made.site}: ${counted(made.designs, 'design')}`,
    about: [
      `${playedWords(made, digest)}. Whatever else, each design is as in the file. ${made.over}`,
      ...settingWords(made.set),
    ],
    sections: [
      screenSection(made, digest),
      holdsSection(made, digest),
      ...(digest.played === digest.dangerous ? [] : [page(bestSection(made, digest))]),
      ...growthSections(made, digest),
      page(chartsSection(made, digest.grid)),
      ...frontSections(made, digest).map(page),
      ...(digest.played === 0 ? [] : [page(rangesSection(made, digest))]),
      ...cautionSection(made.cautions),
      againSection(
        sweepCommand(made),
        { version: made.longnight, read, set: made.set },
        'sweep.csv holds every design with every figure.',
      ),
    ],
    foot: `Made by Longnight ${made.longnight} from ${made.scenario.name}.`,
  };
}

/** Some of the designs, with as many figures as a terminal is wide; keys as well give way from the last on. */
function screenSection(made: SweepManifest, digest: SweepDigest): Section {
  const { rows, rule: by } = digest.shown();
  const names = (by === 'front' ? PRICED : TELLING).filter((name) => tells(digest, name));
  const whole = designTable('Designs', made, rows, names);
  const cut = (row: readonly string[], columns: number): string[] =>
    row
      .slice(0, columns)
      .map((text) => (plain(text).length > LONGEST ? `${plain(text).slice(0, LONGEST - 1)}…` : text));
  let table: Table = whole;
  for (let columns = whole.columns.length; columns > 1; columns--) {
    table = {
      ...whole,
      columns: whole.columns.slice(0, columns),
      rows: whole.rows.map((row) => cut(row, columns)),
    };
    if (tableLines(table, paint(false)).every((line) => line.length <= WIDTH)) break;
  }
  return { id: 'some', title: '', on: ['screen'], blocks: [table, ...textsOf([ruleWords(digest)])] };
}

/** Whether a figure is known and not the same in all designs. */
const tells = (digest: SweepDigest, name: DesignFigureName): boolean =>
  digest.range(name).count > 0 && !digest.same(name);

function holdsSection(made: SweepManifest, digest: SweepDigest): Section {
  const more = [dangerWords(digest), sameInAllWords(made, digest), contradictionWords(digest)];
  return {
    id: 'holds',
    title: 'What holds',
    sentence: holdingWords(made, digest),
    tone: digest.holding === 0 ? 'bad' : 'good',
    blocks: textsOf([...more, 'Each design is played over one year: another year may leave more unmet.']),
  };
}

/** The designs that are best at something, each with what it is best at. */
function bestRows({ cheapest, leastTotal, leastUnmet, smallestArray, smallestBank, holding }: SweepDigest) {
  const best: readonly (readonly [string, NumberedRow | null])[] =
    holding === 0
      ? [['least unmet', leastUnmet]]
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
  const edges = edgeText(
    made.axes,
    best.map(([, { index }]) => index),
  );
  return {
    id: 'best',
    title: held ? 'Best of those that hold' : 'Nearest to holding',
    sentence: held
      ? `Of those that leave nothing unmet ${design} ${title === 'cheapest to buy' ? 'is the cheapest to buy' : `has the ${title}`}.`
      : `Least is unmet in ${design}: ${amount(figure(row, 'unmet.energy_kWh'))} kWh in the year.`,
    blocks: [
      designTable(
        held ? 'Best among the designs that leave nothing unmet' : 'The design that leaves least unmet',
        made,
        [...titles.keys()],
        TELLING.filter((name) => tells(digest, name)),
        [...titles.values()].map((words) => words.join(', ')),
      ),
      ...textsOf([edges]),
    ],
  };
}

/** Designs as rows: their keys, then some figures. */
function designTable(
  caption: string,
  made: SweepManifest,
  rows: readonly NumberedRow[],
  names: readonly DesignFigureName[],
  firsts: readonly string[] | null = null,
): Table {
  const what: ColumnOf<NumberedRow> = [{ title: 'what', holds: 'words' }, (_, k) => firsts![k]!];
  return tableOf(caption, rows, [
    firsts !== null && what,
    [figures('design'), ({ index }) => String(index + 1)],
    ...made.axes.map(
      ({ short, unit }, k): ColumnOf<NumberedRow> => [
        figures(short, unit),
        ({ index }) => valueAt(made.axes, index, k),
      ],
    ),
    ...names.map(
      (name): ColumnOf<NumberedRow> => [
        figures(wordsOf(name), unitOf(name, currencyOf(made))),
        (row) => (row.contradiction !== null ? 'not played' : cellOf(row, name)),
      ],
    ),
  ]);
}

function frontSections(made: SweepManifest, digest: SweepDigest): readonly Section[] {
  const { rows, rule } = digest.shown();
  const front = digest.front(ROWS);
  const telling = TELLING.filter((one) => tells(digest, one));
  const isAll = rule === 'all';
  const some: Section = {
    id: 'designs',
    title: isAll ? 'Every design' : 'Some of the designs',
    sentence: isAll
      ? `${counted(rows.length, 'design')}, in the order of sweep.csv.`
      : `${rows.length} of ${counted(digest.list.count, 'design')}, spread evenly over the values.`,
    blocks: [designTable(isAll ? 'Every design' : 'Designs spread evenly', made, rows, telling)],
  };
  if (front === null) return [some];
  const names = ['unmet.energy_kWh', 'generator.run_hours'] as const;
  const name = names.find((one) => tells(digest, one));
  const dots = name === undefined ? [] : digest.front(DOTS)!.rows;
  const section: Section = {
    id: 'front',
    title: 'Designs that no other beats',
    sentence: frontWords(digest.list.count, front),
    blocks: [
      ...(dots.length < 2 ? [] : [frontFigure(made, digest, dots, name!)]),
      designTable('Designs that no other beats, cheapest first', made, front.rows, telling),
    ],
  };
  return isAll && front.of < rows.length ? [section, some] : [section];
}

function frontFigure(
  made: SweepManifest,
  { cheapest }: SweepDigest,
  rows: readonly NumberedRow[],
  name: ChartedName,
): Block {
  const dots = rows.map((row) => ({
    x: figure(row, 'money.capital'),
    y: figure(row, name) || 0,
    name: row.index === cheapest?.index ? `design ${row.index + 1}` : null,
  }));
  const [xTitle, yTitle] = [chartTitle('money.capital', made.currency), chartTitle(name, made.currency)];
  const ends = [dots[0]!, dots.at(-1)!].map(
    ({ x, y }) => `${figureText(name, y)} at ${figureText('money.capital', x)}`,
  );
  const chart = {
    id: 'front-chart',
    title: `${yTitle}, over ${xTitle}`,
    description: `${counted(dots.length, 'design')}, from ${ends.join(' to ')}.`,
    caption: dots.some(({ name }) => name !== null)
      ? 'A dot is a design; the ring is the cheapest that leaves nothing unmet.'
      : 'A dot is a design.',
  };
  return drawing(chart, (room) => scatter(dots, xTitle, yTitle, room));
}

function rangesSection(made: SweepManifest, digest: SweepDigest): Section {
  const soc = digest.range('bank.lowest_soc');
  const unmet = digest.range('unmet.share');
  const shown = DESIGN_FIGURES.filter(({ name }) => digest.range(name).count > 0);
  const had = (count: number): string =>
    count < digest.played ? `; ${counted(count, 'design')} of ${digest.played} have it` : '';
  return {
    id: 'ranges',
    title: 'From least to most',
    sentence: `Over ${counted(digest.played, 'design')} played ${unmet.most === 0 ? 'nothing' : between(unmet)} of what the loads want goes unmet, and the bank comes down to ${between(soc)}.`,
    blocks: [
      tableOf('Every figure, over all designs played', shown, [
        ['figure', ({ name }) => wordsOf(name)],
        [figures('least'), ({ name }) => figureText(name, digest.range(name).least)],
        [figures('most'), ({ name }) => figureText(name, digest.range(name).most)],
        ['unit', ({ name }) => unitOf(name, made.currency ?? 'money')],
        [
          { title: 'what it is', holds: 'words' },
          ({ name, meaning }) => `${meaning}${had(digest.range(name).count)}`,
        ],
        [{ title: 'column of sweep.csv', holds: 'code' }, ({ name }) => name],
      ]),
      tableOf('What was varied', made.axes, [
        [{ title: 'what', holds: 'words' }, axisTitle],
        [figures('values'), ({ values }) => String(values.length)],
        ['from', ({ values }) => valueText(values[0]!)],
        ['to', ({ values }) => valueText(values.at(-1)!)],
        ['in the file', (_, k) => (made.in_file[k] === null ? 'left out' : valueText(made.in_file[k]!))],
        [{ title: 'key', holds: 'code' }, ({ path }) => path],
      ]),
    ],
  };
}

const between = ({ least, most }: Range): string =>
  percent(least) === percent(most) ? percent(least) : `between ${percent(least)} and ${percent(most)}`;

/** The command that plays the same again. */
function sweepCommand({ scenario, axes, sample, hour_worth }: SweepManifest): string {
  const options = present([
    ...varyOptions(axes),
    sample !== null && `--sample ${sample}`,
    hour_worth !== null && `--hour-worth ${hour_worth}`,
  ]);
  return `longnight sweep ${[scenario.name, ...options].join(' ')} --out DIR`;
}
