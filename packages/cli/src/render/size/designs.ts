import type { Tried, WeakestPoint } from '@longnight/core/study';
import {
  type ColumnOf,
  FILES,
  figures,
  type Section,
  type Table,
  tableOf,
  textsOf,
} from '../document/document.ts';
import { amount, counted, fixed, kWh, percent, price } from '../document/figures.ts';
import { valueAt } from '../document/key-words.ts';
import { LIMIT_WORDS, UNMET_WORDS } from '../document/words.ts';
import { currencyOf, leastText, leastWords, type SizeShown } from './answers.ts';

/** Columns that every table of designs has; empty where a design was not played. */
export function designColumns<Row>(
  { question }: SizeShown,
  of: (row: Row) => Tried | null,
): readonly ColumnOf<Row>[] {
  const { name, behind } = leastWords(question);
  const isMoney = question.ask.least.startsWith('money.');
  const cell = (text: (design: Tried) => string) => (row: Row) => {
    const design = of(row);
    return design === null ? '' : text(design);
  };
  return [
    [
      isMoney ? figures(behind, currencyOf(question)) : figures(name),
      cell(({ least }) => leastText(question, least)),
    ],
    [figures('unmet', 'kWh'), cell(({ unmet_kWh }) => amount(unmet_kWh))],
    [figures('generator', 'h'), cell(({ run_hours: ran }) => (ran === null ? 'none' : fixed(ran, 0)))],
  ];
}

/** Rows of the choice on the screen; files have all that were looked at. */
const CHOICE_ROWS = 6;

/** The designs that can be chosen, each with where it gives out. */
export function choiceSection(shown: SizeShown): Section {
  const { question, answer, choice } = shown;
  const { axes, ask } = question;
  const many = question.possible.years.length > 1;
  const told = (rows: typeof choice): Table =>
    tableOf('Designs to choose from', rows, [
      ...axes.map(
        ({ short, unit }, k): ColumnOf<(typeof choice)[number]> => [
          figures(short, unit),
          ({ tried }) => valueAt(axes, tried.index, k),
        ],
      ),
      ...designColumns<(typeof choice)[number]>(shown, ({ tried }) => tried),
      ask.least !== 'money.capital' &&
        choice.some(({ tried }) => tried.capital !== null) && [
          figures('to buy', currencyOf(question)),
          ({ tried }) => price(tried.capital),
        ],
      [many ? 'weakest point, in its hardest year' : 'weakest point', ({ weakest }) => weakestText(weakest)],
    ]);
  const sentence =
    `${choice.length} of the ${counted(answer.candidates.length, 'design')} that can be chosen, ` +
    `the least ${leastWords(question).name} first. The weakest point is ` +
    `${many ? 'that of the hardest of its years' : 'where it gives out, or would next'}.`;
  return {
    id: 'choice',
    title: 'Designs to choose from',
    blocks: [
      ...textsOf([sentence], FILES),
      { ...told(choice.slice(0, CHOICE_ROWS)), on: ['screen'] },
      { ...told(choice), on: FILES },
    ],
  };
}

/** Where a design gives out, or what it comes closest to. */
const weakestText = ({ cause, unmet_kWh, closest }: WeakestPoint): string =>
  cause === null
    ? `${LIMIT_WORDS[closest.limit]}: ${percent(closest.used_share)} used`
    : `${UNMET_WORDS[cause]}: ${kWh(unmet_kWh)} unmet`;
