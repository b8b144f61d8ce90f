import type { Report, Spread } from '@longnight/core';
import {
  FILES,
  figures,
  type LateTable,
  lateTable,
  NO_TABLE,
  present,
  tableOf,
} from '../document/document.ts';
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
  interface Row {
    readonly title: string;
    readonly spread: Spread;
    readonly worst: number;
    readonly text: (value: number) => string;
  }
  const rows: readonly Row[] = present([
    { title: 'unmet, kWh', spread: unmet_kWh, worst: worst.unmet_kWh, text: (value) => fixed(value, 2) },
    generator_run_hours && {
      title: 'generator, h',
      spread: generator_run_hours,
      worst: worst.generator_run_hours ?? 0,
      text: (value) => fixed(value, 0),
    },
    { title: 'lowest SoC, %', spread: lowest_soc, worst: worst.lowest_soc, text: socPercent },
  ]);
  return lateTable(
    {
      id: 'ensemble',
      title: 'Other years that fit the same means',
      label: counted(years, 'drawn year'),
      sentence: ensembleSentences(ensemble).join(' '),
      blocks: [{ kind: 'list', on: FILES, items: ensembleBasis(ensemble) }],
    },
    tableOf('Spread over the drawn years', rows, [
      ['over the drawn years', ({ title }) => title],
      [figures('1 in 10 below'), ({ spread, text }) => text(spread.p10)],
      [figures('half below'), ({ spread, text }) => text(spread.p50)],
      [figures('1 in 10 above'), ({ spread, text }) => text(spread.p90)],
      [figures('worst drawn year'), ({ worst, text }) => text(worst)],
    ]),
  );
}

const COLUMNS = ['seed', 'unmet_kWh', 'unmet_hours', 'lowest_soc', 'generator_run_hours'] as const;

/** seeds.csv: one row a drawn year, the names of report.json. */
export const seedsCsv = ({ by_seed }: Ensemble): string => figuresCsv(COLUMNS, by_seed);
