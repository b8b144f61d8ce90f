import type { Report } from '@longnight/core';
import { counted, fixed, hours, kWh, socPercent } from './figures.ts';
import { bullets, escaped, table } from './markdown-text.ts';

type EveryYear = NonNullable<Report['every_year']>;

/** How many years hold, and the worst of them. */
export function everyYearSentences({ by_year, worst, left_out }: EveryYear, run: number): readonly string[] {
  const failing = by_year.filter((row) => row.unmet_hours > 0);
  const holds =
    failing.length === 0
      ? `Holds in all ${counted(by_year.length, 'year')} of the weather file.`
      : `Does not hold in ${failing.length} of ${counted(by_year.length, 'year')} of the weather file: ` +
        `${failing.map((row) => row.year).join(', ')}.`;
  const generator =
    worst.generator_run_hours === null ? '' : `, ${hours(worst.generator_run_hours)} of generator`;
  return [
    holds,
    `The worst is ${worst.year}: ${kWh(worst.unmet_kWh)} unserved in ${hours(worst.unmet_hours)}${generator}, lowest ` +
      `charge ${socPercent(worst.lowest_soc)} %. All else here is about ${run}${run === worst.year ? ', the worst one' : ''}.`,
    ...(left_out.length === 0
      ? []
      : [`Not played: ${left_out.map(({ year, why }) => `${year} (${why})`).join('; ')}.`]),
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
export const everyYearSection = (years: EveryYear, run: number): string =>
  [
    everyYearSentences(years, run).slice(0, 2).map(escaped).join(' '),
    table(
      EVERY_YEAR_TITLES.map((title, k) => (k === 0 ? { title } : { title, figures: true })),
      everyYearCells(years),
    ),
    'Each year has its own weather, calendar and sun, and begins with run.start_soc.',
    ...(years.left_out.length === 0
      ? []
      : ['Not played:', bullets(years.left_out.map(({ year, why }) => escaped(`${year}: ${why}`)))]),
  ].join('\n\n');
