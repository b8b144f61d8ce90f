import { sum } from 'simple-statistics';
import { type Issue, issue } from '../basis/errors.ts';
import { type Notice, notice } from '../basis/notices.ts';
import { HOUR_ms, MINUTE_ms } from '../basis/units.ts';
import type { Clock } from '../clock/clock.ts';
import type { Gaps } from '../scenario/schema/schema.ts';
import { LONGEST_FILL_h, type Run, type YearSpan } from './gaps.ts';
import { wallText } from './stamp.ts';
import { placeOf, type Series, sourceWord } from './types.ts';

/**
 * The intervals of a series that matter to a clock's year. Interval k covers [origin_ms + k × interval_ms, one more);
 * the year and enough beyond it that a gap at its edge is seen whole.
 */
export interface Lattice {
  readonly origin_ms: number;
  readonly interval_ms: number;
  readonly count: number;
  /** Intervals that touch the year: from `from` up to, not including, `to`. */
  readonly year: YearSpan;
  /** Whether the file has nothing before the first, and nothing after the last interval. */
  readonly fileEnds: { readonly before: boolean; readonly after: boolean };
  /** Interval of each row of the series; rows outside have none, -1. */
  readonly row: Int32Array;
}

/** Columns that miss the very same intervals. */
export interface GapGroup {
  readonly columns: string[];
  readonly runs: readonly Run[];
}

/** Gaps named one by one; the rest is only counted. */
const NAMED = 5;

/** An issue if most of the year is missing and the file holds more of another year; undefined otherwise. */
export function wrongYear(series: Series, clock: Clock, lattice: Lattice, path: string): Issue | undefined {
  const { from, to } = lattice.year;
  const inYear = lattice.row.reduce((count, k) => count + (k >= from && k < to ? 1 : 0), 0);
  if (inYear * 2 >= to - from) return undefined;
  const rows = new Map<number, number>();
  const offset_ms = clock.offset_min[0]! * MINUTE_ms;
  for (const start of series.start_ms) {
    const year = new Date(start + offset_ms).getUTCFullYear();
    rows.set(year, (rows.get(year) ?? 0) + 1);
  }
  // A row or two over the turn of the year don't make it covered.
  const covered = [...rows].filter(([, count]) => count * 100 >= to - from).map(([year]) => year);
  const [best, most] = [...rows].reduce((a, b) => (b[1] > a[1] ? b : a));
  if (best === clock.year || most <= inYear) return undefined;
  const part = (year: number): string =>
    rows.get(year)! * 100 < 99 * (to - from) ? `a part of ${year}` : `${year}`;
  const years = (covered.length > 0 ? covered : [best]).map(part).join(', ');
  return issue('wrong-year', path, { place: placeOf(series) })`the ${sourceWord(series)} covers ${years}, the
    run is for ${clock.year} | set run.year: ${best}`;
}

/** What is missing, from when to when, and what would help. */
export function gapIssue(
  { columns, runs }: GapGroup,
  named: Readonly<Record<string, string>>,
  columnsInAll: number,
  series: Series,
  clock: Clock,
  lattice: Lattice,
  gaps: Gaps,
  path: string,
): Issue {
  const first = runs.slice(0, NAMED).map((run) => rangeText(run, clock, lattice));
  const rest = runs.length > NAMED ? `, and ${runs.length - NAMED} more` : '';
  const missing = `${missingText(runs, lattice)}${only(columns, columnsInAll)}`;
  return issue('gap', pathOf(path, columns, columnsInAll), {
    expected: 'a value for every hour of the year',
    place: placeOf(
      series,
      rowBefore(series, lattice, runs[0]!.from),
      columns.length === 1 ? named[columns[0]!] : undefined,
    ),
  })`${missing}: ${first.join(', ')}${rest} (time at the site) | ${fixFor(runs, gaps, sourceWord(series))}`;
}

/** What was filled, as a notice. */
export function filledNotice(
  { columns, runs }: GapGroup,
  columnsInAll: number,
  lattice: Lattice,
  path: string,
): Notice {
  const longest_h = Math.max(...runs.map((run) => run.length_h));
  const where = pathOf(path, columns, columnsInAll);
  const missing = `${missingText(runs, lattice)}${only(columns, columnsInAll)}`;
  return notice('gap-filled', missingIntervals(runs, lattice))`${where}: ${missing}, filled from the values
    beside it; longest ${hours(longest_h)}`;
}

const hours = (length_h: number): string => `${Number(length_h.toFixed(2)).toLocaleString('en')} h`;

const missingIntervals = (runs: readonly Run[], { year }: Lattice): number =>
  sum(runs.map((run) => Math.min(run.to, year.to) - Math.max(run.from, year.from)));

function missingText(runs: readonly Run[], lattice: Lattice): string {
  const gaps = runs.length === 1 ? 'one gap' : `${runs.length.toLocaleString('en')} gaps`;
  return `${hours((missingIntervals(runs, lattice) * lattice.interval_ms) / HOUR_ms)} missing in ${gaps}`;
}

/** `weather.wind` if one column of several is concerned. */
const pathOf = (path: string, columns: readonly string[], inAll: number): string =>
  columns.length === 1 && inAll > 1 ? `${path}.${columns[0]}` : path;

const only = (columns: readonly string[], inAll: number): string =>
  columns.length > 1 && columns.length < inAll ? ` of ${columns.join(', ')}` : '';

function rangeText(run: Run, clock: Clock, lattice: Lattice): string {
  const at = (k: number): string => {
    const at_ms = lattice.origin_ms + k * lattice.interval_ms;
    const step = Math.floor((at_ms - clock.start_ms[0]!) / (clock.step_min * MINUTE_ms));
    const offset_min = clock.offset_min[Math.min(Math.max(step, 0), clock.steps - 1)]!;
    return wallText(at_ms + offset_min * MINUTE_ms);
  };
  return `${at(Math.max(run.from, lattice.year.from))} to ${at(Math.min(run.to, lattice.year.to))}`;
}

/** The last row before an interval; the first row if there is none before. */
function rowBefore(series: Series, lattice: Lattice, interval: number): number {
  const at_ms = lattice.origin_ms + interval * lattice.interval_ms;
  const next = series.start_ms.findIndex((start) => start >= at_ms);
  const row = next < 0 ? series.line.length - 1 : next - 1;
  return Math.max(0, row);
}

function fixFor(runs: readonly Run[], gaps: Gaps, source: string): string {
  const longest_h = Math.ceil(Math.max(...runs.map((run) => run.length_h)));
  if (longest_h > LONGEST_FILL_h)
    return `complete the ${source}, or take another: nothing longer than ${LONGEST_FILL_h} h is filled`;
  if (gaps.fill === 'refuse')
    return `complete the ${source}, or set gaps: { fill: interpolate, longest_h: ${longest_h} }`;
  return `complete the ${source}, or raise gaps.longest_h to ${longest_h}`;
}
