import type { Report, Spread } from '@longnight/core';
import { figureColumns, type LateTable, lateTable, NO_TABLE } from '../document/document.ts';
import { counted, fixed, hours, kWh, socPercent } from '../document/figures.ts';
import { COUNT_LIMIT, sureWords } from '../document/words.ts';
import { figuresCsv } from '../tables/hours-csv.ts';

type Ensemble = NonNullable<Report['ensemble']>;

/** In how many of the drawn years the plant holds, and what the worst of them is like. */
function ensembleSentences(ensemble: Ensemble): readonly string[] {
  const { years, first_seed, last_seed, years_held, held_share, worst } = ensemble;
  const seeds =
    first_seed === last_seed ? `drawn year ${first_seed}` : `drawn years ${first_seed} to ${last_seed}`;
  const engine =
    worst.generator_run_hours === null ? '' : `${hours(worst.generator_run_hours)} of generator, `;
  return [
    `Holds in ${years_held} of ${counted(years, 'year')} drawn from the same means (${seeds}): ${sureWords(held_share)}. ${COUNT_LIMIT}`,
    `The worst is drawn year ${worst.seed}: ${worst.unmet_hours > 0 ? `${kWh(worst.unmet_kWh)} unmet in ${hours(worst.unmet_hours)}` : 'nothing unmet'}, ` +
      `${engine}lowest state of charge ${socPercent(worst.lowest_soc)} %.`,
  ];
}

/** What the drawn years rest on. */
const ensembleBasis = ({ first_seed, last_seed, begins }: Ensemble): readonly string[] => [
  `The weather is drawn from the same monthly means with the seeds (drawn years) ${first_seed} to ${last_seed}; loads, their variation and failed starts of a generator are those of the scenario's own seeds, in all of them.`,
  `Each year begins with the plant as new and with ${begins === 'closed' ? 'the state it ends with' : 'run.initial_soc'}: these are possible years, not years in a row.`,
  'Drawn months stray from their long-term means as their days make them, or as far as weather.month_spread_share says; over many years the means are those given.',
  'The worst year is the one with most unmet energy; where several have the same, the one with most generator hours, then the lowest state of charge.',
];

/** How the plant fares in other years that fit the same means. */
export function ensembleSections(ensemble: Ensemble | null): LateTable {
  if (ensemble === null) return NO_TABLE;
  const { unmet_kWh, generator_run_hours, lowest_soc, worst, years } = ensemble;
  const row = (title: string, spread: Spread, of: number, text: (value: number) => string): string[] => [
    title,
    text(spread.p10),
    text(spread.p50),
    text(spread.p90),
    text(of),
  ];
  const whole = (value: number): string => fixed(value, 0);
  return lateTable(
    {
      id: 'ensemble',
      title: 'Other years that fit the same means',
      label: counted(years, 'drawn year'),
      sentence: ensembleSentences(ensemble).join(' '),
      blocks: [{ kind: 'list', on: ['markdown', 'page'], items: ensembleBasis(ensemble) }],
    },
    {
      kind: 'table',
      caption: 'Spread over the drawn years',
      columns: [
        { title: 'over the drawn years' },
        ...figureColumns(['1 in 10 below'], ['half below'], ['1 in 10 above'], ['worst drawn year']),
      ],
      rows: [
        row('unmet, kWh', unmet_kWh, worst.unmet_kWh, (value) => fixed(value, 2)),
        ...(generator_run_hours === null
          ? []
          : [row('generator, h', generator_run_hours, worst.generator_run_hours ?? 0, whole)]),
        row('lowest SoC, %', lowest_soc, worst.lowest_soc, socPercent),
      ],
    },
  );
}

const COLUMNS = ['seed', 'unmet_kWh', 'unmet_hours', 'lowest_soc', 'generator_run_hours'] as const;

/** seeds.csv: one row a drawn year, the names of report.json. */
export const seedsCsv = ({ by_seed }: Ensemble): string => figuresCsv(COLUMNS, by_seed);
