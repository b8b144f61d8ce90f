import type { Report } from '@longnight/core';
import { fixed, hours, kWh, socPercent } from '../document/figures.ts';
import { bullets, escaped, table } from '../document/markdown-text.ts';
import { yearList } from './verdict-words.ts';

type EveryYear = NonNullable<Report['every_year']>;

/** The worst of the years, which were left out and what they rest on; how many hold is the verdict. */
export function everyYearSentences({ worst, left_out, begins, repeated }: EveryYear): readonly string[] {
  const generator =
    worst.generator_run_hours === null ? '' : `, ${hours(worst.generator_run_hours)} of generator`;
  return [
    `The worst is ${worst.year}: ${kWh(worst.unmet_kWh)} unserved in ${hours(worst.unmet_hours)}${generator}, lowest ` +
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

/** Titles of the table of years. */
export const EVERY_YEAR_TITLES = [
  'year',
  'GHI, kWh/m²',
  'unmet, kWh',
  'unmet, h',
  'generator, h',
  'lowest SoC, %',
] as const;

/** Its cells, a row a year. */
export const everyYearCells = ({ by_year }: EveryYear): string[][] =>
  by_year.map((row) => [
    `${row.year}`,
    fixed(row.ghi_kWh_m2, 0),
    fixed(row.unmet_kWh, 2),
    fixed(row.unmet_hours, 1),
    fixed(row.generator_run_hours, 0),
    socPercent(row.lowest_soc),
  ]);

/** The years as lines of plain text, under 80 characters each; the worst is marked. */
export function everyYearLines(years: EveryYear): readonly string[] {
  const marks = years.by_year.map((row) => (row.year === years.worst.year ? '  worst' : ''));
  const rows = [[...EVERY_YEAR_TITLES], ...everyYearCells(years)];
  const widths = EVERY_YEAR_TITLES.map((_, k) => Math.max(...rows.map((row) => row[k]!.length)));
  return rows.map(
    (row, r) => row.map((cell, k) => cell.padStart(widths[k]!)).join('  ') + (marks[r - 1] ?? ''),
  );
}

/** The years for report.md. */
export const everyYearSection = (years: EveryYear): string =>
  [
    table(
      EVERY_YEAR_TITLES.map((title, k) => (k === 0 ? { title } : { title, figures: true })),
      everyYearCells(years),
    ),
    bullets(everyYearSentences(years).map(escaped)),
  ].join('\n\n');
