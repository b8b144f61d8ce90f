import type { Report } from '@longnight/core';
import { FILES, figures, type LateTable, lateTable, NO_TABLE, tableOf } from '../document/document.ts';
import { amount, clockTime, counted, fixed, socPercent } from '../document/figures.ts';
import { figuresCsv } from '../tables/hours-csv.ts';

type Years = NonNullable<Report['years']>;

/** When the plant first fails, and when its bank is worn. */
function yearsSentences({ by_year, first_failure, bank_end_of_life_years }: Years): readonly string[] {
  const span = counted(by_year.length, 'year');
  const stated = by_year[0]!.life_used_share !== null;
  return [
    first_failure === null
      ? `All load is served in ${span}.`
      : `First fails in year ${first_failure.year}, ${clockTime(first_failure.time)}` +
        `${first_failure.winter === null ? ', not in winter' : `: the winter of ${first_failure.winter}`}.`,
    bank_end_of_life_years !== null
      ? `The bank is worn after ${amount(bank_end_of_life_years)} years and bought anew.`
      : stated
        ? `The bank outlasts ${span}.`
        : 'The scenario states no life of the bank: it keeps its capacity.',
  ];
}

/** What the resistance of a bank does, where it has one. */
const resists = (rows: Years['by_year']): string =>
  rows[0]!.resistance_factor === null
    ? ''
    : '; its resistance rises to bank.model.end_of_life_resistance_factor times that as new';

/** `bank; generator 2 times`; empty where nothing was bought. */
const boughtText = ({ replaced }: Years['by_year'][number]): string =>
  replaced.map(({ path, times }) => (times === 1 ? path : `${path} ${times} times`)).join('; ');

/** What the years rest on. */
export function yearsBasis({ by_year, begins, loads_grow, end_of_life_share }: Years): readonly string[] {
  const [first, last] = [by_year[0]!.seed, by_year.at(-1)!.seed];
  return [
    first === null
      ? 'Every year has the same weather.'
      : `Each year's weather is drawn anew from the monthly means: drawn years ${first} to ${last}.`,
    loads_grow
      ? 'Each load grows by its growth_share_per_year a year; the calendar is that of the first year, in all of them.'
      : 'Loads and calendar are those of the first year, in all of them.',
    end_of_life_share === null
      ? 'The bank keeps its capacity: the scenario states no bank.cycle_life, bank.life_cycles or bank.life_years.'
      : `Capacity falls on a straight line to ${end_of_life_share} when the life of the bank is used up, by cycles or years, ` +
        `whichever took more${resists(by_year)}. Amps, and an efficiency that is stated, stay.`,
    `The first year begins with ${begins === 'closed' ? 'the state it would end with' : 'run.initial_soc'}; every other begins as the one before it ended.`,
    'Worn parts are bought anew: the year in which a part is worn is played to its end with the old one, and the next begins ' +
      'with the new one. A new bank begins at the state of charge at which the old one ended.',
    'Arrays lose arrays[].ageing_share_per_year each year, beside losses.ageing_share.',
  ];
}

/** Year after year, the bank and the arrays ageing. */
export function yearsSections(years: Years | null): LateTable {
  if (years === null) return NO_TABLE;
  return lateTable(
    {
      id: 'years',
      title: 'Year after year',
      label: `In ${counted(years.by_year.length, 'year')}`,
      sentence: yearsSentences(years).join(' '),
      blocks: [{ kind: 'list', on: FILES, items: yearsBasis(years) }],
    },
    tableOf('Each year as played; bank and arrays are what is left of them at its start', years.by_year, [
      ['year', (row) => `${row.year} (${row.calendar_year})`],
      [figures('unmet', 'kWh'), (row) => fixed(row.unmet_kWh, 2)],
      [figures('lowest SoC', '%'), (row) => socPercent(row.lowest_soc)],
      [figures('generator', 'h'), (row) => fixed(row.generator_run_hours, 0)],
      [figures('bank left', '%'), (row) => fixed(100 * row.capacity_share, 1)],
      [figures('arrays left', '%'), ({ array_share: left }) => fixed(left === null ? null : 100 * left, 1)],
      ['bought anew', boughtText],
    ]),
  );
}

const COLUMNS = [
  'year',
  'calendar_year',
  'seed',
  'wanted_kWh',
  'served_kWh',
  'unmet_kWh',
  'unmet_hours',
  'initial_soc',
  'lowest_soc',
  'generator_run_hours',
  'fuel_L',
  'shore_kWh',
  'equivalent_full_cycles',
  'capacity_share',
  'resistance_factor',
  'array_share',
  'cycle_life_used_share',
  'life_used_share',
  'replaced',
] as const;

/** years.csv: one row a year, the names of report.json. */
export const yearsCsv = ({ by_year }: Years): string =>
  figuresCsv(
    COLUMNS,
    by_year.map((row) => ({ ...row, replaced: boughtText(row) })),
  );
