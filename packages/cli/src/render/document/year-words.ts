import type { Assumption } from '@longnight/core';
import {
  howSure,
  MOST_YEARS_TO_TELL,
  type PossibleYear,
  type PossibleYears,
  type Statistic,
  yearsToTell,
} from '@longnight/core/study';
import { present } from './document.ts';
import { counted } from './figures.ts';
import { COUNT_LIMIT, runsOf, sentenceCase, sureWords } from './words.ts';

/** `drawn year 92`, `2014`. */
export const yearName = (year: PossibleYear): string =>
  year.kind === 'drawn' ? `drawn year ${year.seed}` : `${year.year}`;

/** The options that ask for the same years. */
export function yearOptions(years: readonly PossibleYear[]): readonly string[] {
  const drawn = years.filter(({ kind }) => kind === 'drawn').length;
  return present([years.length > drawn && '--every-year', drawn > 0 && `--seeds ${drawn}`]);
}

/** Which years are played, which are not, and what drawn ones rest on, in sentences; none where one year is played. */
export function yearsWords({ years, left_out, assumptions }: PossibleYears): readonly string[] {
  const seeds = years.flatMap((year) => (year.kind === 'drawn' ? [year.seed] : []));
  const measured = years.flatMap((year) => (year.kind === 'measured' ? [year] : []));
  const repeated = [...new Set(measured.flatMap((year) => year.repeated))];
  return present([
    measured.length > 0 && `Years of the weather file: ${runsOf(measured.map(({ year }) => year))}.`,
    left_out.length > 0 && `Not played: ${left_out.map(({ year, why }) => `${year} (${why})`).join('; ')}.`,
    ...repeated.map(
      (file) => `Rows of ${file} are used again, date for date, in years that it does not hold.`,
    ),
    seeds.length > 0 && `Drawn years ${runsOf(seeds)}. ${COUNT_LIMIT}`,
    assumptions.length > 0 && restText(assumptions),
  ]);
}

/** What the model takes for granted as it stands, and defaults by their values. */
function restText(assumptions: readonly Assumption[]): string {
  const models = assumptions.filter(({ kind }) => kind === 'model').map(({ why }) => `${sentenceCase(why)}.`);
  const defaults = assumptions
    .filter(({ kind }) => kind === 'default')
    .map(({ path, value }) => `${path} ${value}`);
  return [...models, `By default: ${defaults.join(', ')}.`].join(' ');
}

/** How many years of a count are kept, how sure that makes, and how many years would tell more. */
export function keptWords(held: number, years: number, asked: number): string {
  return `${held} of ${years} years: ${sureWords(howSure(held, years))}. ${tellWords(held, years, asked)}`;
}

/** Whether so many years tell that the share asked for is kept, and how many would. */
function tellWords(held: number, years: number, asked: number): string {
  const share = `${asked} of ${years}`;
  const { told, years: enough } = yearsToTell(held, years, asked);
  if (told) return `That settles it: the share asked for, ${share}, lies outside that range.`;
  if (enough !== null)
    return `That does not settle whether it is ${share} of all such years: at today's share about ${counted(enough, 'year')} would tell.`;
  const why =
    held === asked
      ? held === years
        ? 'no number of years shows that it is all of them'
        : 'it is held in just as many years as asked'
      : `it would take more than ${MOST_YEARS_TO_TELL.toLocaleString('en-US')} years`;
  return `That does not settle whether it is ${share} of all such years: ${why}.`;
}

/** `95th percentile`, `median`. */
export function statisticWords(statistic: Statistic): string {
  if (statistic === 'mean' || statistic === 'worst') return statistic;
  return statistic === 'p50' ? 'median' : `${ordinal(Number(statistic.slice(1)))} percentile`;
}

const ordinal = (number: number): string => {
  const last = number % 10;
  const isTeen = number > 10 && number < 20;
  return `${number}${isTeen ? 'th' : (['th', 'st', 'nd', 'rd'][last] ?? 'th')}`;
};
