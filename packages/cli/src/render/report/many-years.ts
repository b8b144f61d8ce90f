import type { ManyYears, ManyYearsRow, Report } from '@longnight/core';
import type { FigureName } from '@longnight/core/findings';
import { percentile } from '@longnight/core/study';
import {
  asideOf,
  type Block,
  type ColumnOf,
  FILES,
  figures,
  type LateTable,
  lateTable,
  NO_TABLE,
  present,
  type Table,
  tableOf,
  textsOf,
} from '../document/document.ts';
import { amount, counted, fixed, hours, kWh, percent, socPercent } from '../document/figures.ts';
import { COUNT_LIMIT, runsOf, sureWords } from '../document/words.ts';
import { statisticWords } from '../document/year-words.ts';
import { exceedanceCurve, exceeded } from '../drawing/exceedance.ts';
import { drawing } from '../drawing/page-svg.ts';
import { figuresCsv } from '../tables/hours-csv.ts';

/** Words and texts of the figures that are told over many years. */
const TOLD: Readonly<Partial<Record<FigureName, readonly [title: string, text: (value: number) => string]>>> =
  {
    'unmet.energy_kWh': ['unmet, kWh', (value) => fixed(value, 2)],
    'unmet.hours': ['unmet, h', (value) => fixed(value, 1)],
    'unmet.loss_of_load_probability': ['loss-of-load probability', percent],
    'unmet.longest_hours': ['longest outage, h', (value) => fixed(value, 1)],
    'generator.run_hours': ['generator, h', (value) => fixed(value, 0)],
    'bank.lowest_soc': ['lowest SoC, %', socPercent],
  };

/** Every figure over the years: percentiles, mean, the worst of each. */
function spreadTable(caption: string, { over_years }: ManyYears): Table {
  const percents = over_years[0]!.percentiles.map(({ percent }) => percent);
  const textOf = (figure: string, value: number): string => TOLD[figure as FigureName]![1](value);
  return tableOf(caption, over_years, [
    ['over the years', ({ figure }) => TOLD[figure as FigureName]![0]],
    ...percents.map(
      (percent, k): ColumnOf<ManyYears['over_years'][number]> => [
        figures(statisticWords(percentile(percent))),
        ({ figure, percentiles }) => textOf(figure, percentiles[k]!.value),
      ],
    ),
    [figures('mean'), ({ figure, mean }) => textOf(figure, mean)],
    [figures('worst'), ({ figure, worst }) => textOf(figure, worst)],
  ]);
}

/** How often so much is exceeded: drawn where it is exceeded at all, its figures beside it. */
function exceedanceBlocks(id: string, { by_year }: ManyYears): readonly Block[] {
  const shown: readonly (readonly [string, string, (row: ManyYearsRow) => number | null])[] = [
    ['unmet', 'Unmet in a year, kWh', (row) => row.unmet_kWh],
    ['engine', 'Generator in a year, h', (row) => row.generator_run_hours],
  ];
  return shown.flatMap(([colour, title, of]): Block[] => {
    const values = by_year.map((row) => of(row) ?? 0);
    if (values.every((value) => value === values[0])) return [];
    const points = exceeded(values);
    const chart = {
      id: `${id}-${colour}`,
      title: `Share of the years with more than that: ${title}`,
      description: `${counted(by_year.length, 'year')}, from ${amount(points[0]!.value)} to ${amount(points.at(-1)!.value)}.`,
      caption: 'A step down is a year or several; where the curve ends no year has more.',
    };
    return [
      drawing(chart, (room) => exceedanceCurve(points, title, colour, room)),
      asideOf(`${title}: in how many of ${by_year.length} years more than that`, points, [
        [figures('more than'), ({ value }) => amount(value)],
        [figures('years'), ({ years }) => `${years}`],
      ]),
    ];
  });
}

const worstWords = ({ unmet_kWh, unmet_hours, longest_outage_hours, ...row }: ManyYearsRow): string =>
  [
    unmet_hours > 0
      ? `${kWh(unmet_kWh)} unmet in ${hours(unmet_hours)}, the longest outage ${hours(longest_outage_hours)}`
      : 'nothing unmet',
    ...(row.generator_run_hours === null ? [] : [`${hours(row.generator_run_hours)} of generator`]),
    `lowest state of charge ${socPercent(row.lowest_soc)} %`,
  ].join(', ');

/** How the plant fares in other years that fit the same means. */
export function ensembleSections({ ensemble, run }: Pick<Report, 'ensemble' | 'run'>): LateTable {
  if (ensemble === null) return NO_TABLE;
  const means = run.seed === null ? 'the monthly means of the weather file' : 'the same monthly means';
  const { by_year, years_held, held_share, worst, begins } = ensemble;
  const seeds = by_year.map(({ seed }) => seed!);
  return lateTable(
    {
      id: 'ensemble',
      title: 'Other years that fit the same means',
      label: counted(by_year.length, 'drawn year'),
      sentence:
        `Holds in ${years_held} of ${counted(by_year.length, 'year')} drawn from ${means} (drawn year${seeds.length > 1 ? 's' : ''} ${runsOf(seeds)}): ` +
        `${sureWords(held_share)}. ${COUNT_LIMIT} The worst is drawn year ${worst.seed}: ${worstWords(worst)}.`,
      blocks: [
        ...exceedanceBlocks('drawn', ensemble),
        {
          kind: 'list',
          on: FILES,
          items: [
            `The weather is drawn from ${means} with the seeds (drawn years) ${runsOf(seeds)}; days of loads that vary are drawn anew in each, failed starts of a generator are the same in all.`,
            `Each year begins with the plant as new and with ${begins === 'closed' ? 'the state it ends with' : 'run.initial_soc'}: these are possible years, not years in a row.`,
            'Drawn months stray from their long-term means as their days make them, or as far as weather.month_spread_share says; over many years the means are those given.',
            'The worst year is the one with most unmet energy; where several have the same, the one with most generator hours, then the lowest state of charge.',
          ],
        },
      ],
    },
    spreadTable('Over the drawn years', ensemble),
  );
}

/** The worst of the years, which were left out and what they rest on; how many hold is the verdict. */
export function everyYearSentences({ worst, left_out, begins, repeated }: ManyYears): readonly string[] {
  return present([
    `The worst is ${worst.year}: ${worstWords(worst)}.`,
    left_out.length > 0 && `Not played: ${left_out.map(({ year, why }) => `${year} (${why})`).join('; ')}.`,
    `The first year begins with ${begins === 'closed' ? 'the state it would end with' : 'run.initial_soc'}; every other begins as the one before it ended. ` +
      'All else in this report is about the year of run.year alone' +
      `${begins === 'closed' ? ', which closes on itself' : ''}: its row here may differ.`,
    left_out.length > 0 && 'Over a year that is left out the state is handed on as it is.',
    ...repeated.map(
      ({ file, years }) =>
        `${file} holds no ${runsOf(years)}: its rows are used again there, date for date, so weekdays are not those of the calendar.`,
    ),
  ]);
}

/** Every year of the weather file, before any figure of one of them. */
export function everyYearSections(years: ManyYears | null): LateTable {
  if (years === null) return NO_TABLE;
  const [worst, ...others] = everyYearSentences(years);
  const title = 'Every year of the weather file';
  const over = { ...spreadTable('Over these years', years), on: FILES };
  const blocks = [over, ...exceedanceBlocks('every', years), ...textsOf(others)];
  return lateTable(
    { id: 'every-year', title, label: 'Every year', sentence: worst!, blocks },
    tableOf(`${title}, each with its own weather, calendar and sun`, years.by_year, [
      ['year', ({ year }) => (year === years.worst.year ? `${year}, the worst` : `${year}`)],
      [figures('GHI', 'kWh/m²'), (row) => fixed(row.ghi_kWh_m2, 0)],
      [figures('unmet', 'kWh'), (row) => fixed(row.unmet_kWh, 2)],
      [figures('unmet', 'h'), (row) => fixed(row.unmet_hours, 1)],
      [figures('longest', 'h'), (row) => fixed(row.longest_outage_hours, 1)],
      [figures('generator', 'h'), (row) => fixed(row.generator_run_hours, 0)],
      [figures('lowest SoC', '%'), (row) => socPercent(row.lowest_soc)],
    ]),
  );
}

const COLUMNS = [
  'seed',
  'unmet_kWh',
  'unmet_hours',
  'loss_of_load_probability',
  'longest_outage_hours',
  'lowest_soc',
  'generator_run_hours',
] as const;

/** seeds.csv: one row a drawn year, the names of report.json. */
export const seedsCsv = ({ by_year }: ManyYears): string => figuresCsv(COLUMNS, by_year);
