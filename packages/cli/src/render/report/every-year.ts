import type { Report } from '@longnight/core';
import {
  figures,
  type LateTable,
  lateTable,
  NO_TABLE,
  present,
  tableOf,
  textsOf,
} from '../document/document.ts';
import { fixed, hours, kWh, socPercent } from '../document/figures.ts';
import { runsOf } from '../document/words.ts';

type EveryYear = NonNullable<Report['every_year']>;

/** The worst of the years, which were left out and what they rest on; how many hold is the verdict. */
export function everyYearSentences({ worst, left_out, begins, repeated }: EveryYear): readonly string[] {
  const generator =
    worst.generator_run_hours === null ? '' : `, ${hours(worst.generator_run_hours)} of generator`;
  return present([
    `The worst is ${worst.year}: ${kWh(worst.unmet_kWh)} unmet in ${hours(worst.unmet_hours)}${generator}, lowest ` +
      `charge ${socPercent(worst.lowest_soc)} %.`,
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
export function everyYearSections(years: EveryYear | null): LateTable {
  if (years === null) return NO_TABLE;
  const [worst, ...others] = everyYearSentences(years);
  const title = 'Every year of the weather file';
  return lateTable(
    { id: 'every-year', title, label: 'Every year', sentence: worst!, blocks: textsOf(others) },
    tableOf(`${title}, each with its own weather, calendar and sun`, years.by_year, [
      ['year', ({ year }) => (year === years.worst.year ? `${year}, the worst` : `${year}`)],
      [figures('GHI', 'kWh/m²'), (row) => fixed(row.ghi_kWh_m2, 0)],
      [figures('unmet', 'kWh'), (row) => fixed(row.unmet_kWh, 2)],
      [figures('unmet', 'h'), (row) => fixed(row.unmet_hours, 1)],
      [figures('generator', 'h'), (row) => fixed(row.generator_run_hours, 0)],
      [figures('lowest SoC', '%'), (row) => socPercent(row.lowest_soc)],
    ]),
  );
}
