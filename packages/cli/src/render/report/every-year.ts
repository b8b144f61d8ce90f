import type { Report } from '@longnight/core';
import { figureColumns, type LateTable, lateTable, NO_TABLE, textsOf } from '../document/document.ts';
import { fixed, hours, kWh, socPercent } from '../document/figures.ts';
import { yearList } from './verdict-words.ts';

type EveryYear = NonNullable<Report['every_year']>;

/** The worst of the years, which were left out and what they rest on; how many hold is the verdict. */
export function everyYearSentences({ worst, left_out, begins, repeated }: EveryYear): readonly string[] {
  const generator =
    worst.generator_run_hours === null ? '' : `, ${hours(worst.generator_run_hours)} of generator`;
  return [
    `The worst is ${worst.year}: ${kWh(worst.unmet_kWh)} unmet in ${hours(worst.unmet_hours)}${generator}, lowest ` +
      `charge ${socPercent(worst.lowest_soc)} %.`,
    ...(left_out.length === 0
      ? []
      : [`Not played: ${left_out.map(({ year, why }) => `${year} (${why})`).join('; ')}.`]),
    `The first year begins with ${begins === 'closed' ? 'the state it would end with' : 'run.initial_soc'}; every other begins as the one before it ended. ` +
      'All else in this report is about the year of run.year alone' +
      `${begins === 'closed' ? ', which closes on itself' : ''}: its row here may differ.`,
    ...(left_out.length === 0 ? [] : ['Over a year that is left out the state is handed on as it is.']),
    ...repeated.map(
      ({ file, years }) =>
        `${file} holds no ${yearList(years)}: its rows are used again there, date for date, so weekdays are not those of the calendar.`,
    ),
  ];
}

/** Every year of the weather file, before any figure of one of them. */
export function everyYearSections(years: EveryYear | null): LateTable {
  if (years === null) return NO_TABLE;
  const [worst, ...others] = everyYearSentences(years);
  return lateTable(
    {
      id: 'every-year',
      title: 'Every year of the weather file',
      label: 'Every year',
      sentence: worst!,
      blocks: textsOf(others),
    },
    {
      kind: 'table',
      caption: 'Every year of the weather file, each with its own weather, calendar and sun',
      columns: [
        { title: 'year' },
        ...figureColumns(
          ['GHI', 'kWh/m²'],
          ['unmet', 'kWh'],
          ['unmet', 'h'],
          ['generator', 'h'],
          ['lowest SoC', '%'],
        ),
      ],
      rows: years.by_year.map((row) => [
        row.year === years.worst.year ? `${row.year}, the worst` : `${row.year}`,
        fixed(row.ghi_kWh_m2, 0),
        fixed(row.unmet_kWh, 2),
        fixed(row.unmet_hours, 1),
        fixed(row.generator_run_hours, 0),
        socPercent(row.lowest_soc),
      ]),
    },
  );
}
