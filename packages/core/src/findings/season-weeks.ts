import { QUARTERS } from '../clock/months.ts';
import type { Ledger } from '../ledger/ledger.ts';
import { type Stretch, stretchOfDays, sunAndLoadByDay } from './leanest.ts';

/** An ordinary week of a quarter, and the months of that. */
export type SeasonWeek = Stretch & { readonly months: readonly number[] };

const DAYS = 7;

/**
 * An ordinary week of each quarter of the year: of all weeks that lie within its months the one in the middle when they
 * are ranked by sun offered over load wanted. A year cut short may lack some.
 */
export function seasonWeekFindings(ledger: Ledger): readonly SeasonWeek[] {
  const { clock } = ledger.year;
  const { available, wanted } = sunAndLoadByDay(ledger);
  const sumOf = (days: Float64Array, first: number): number =>
    days.subarray(first, first + DAYS).reduce((sum, value) => sum + value, 0);
  const monthOf = (day: number): number => clock.month[clock.day_start[day]!]!;
  return QUARTERS.flatMap((months) => {
    const within = (day: number): boolean => (months as readonly number[]).includes(monthOf(day));
    const ranked = Array.from({ length: Math.max(0, clock.days - DAYS + 1) }, (_, first) => first)
      // Both ends within a quarter of three months, less than a quarter apart: so is all between them.
      .filter((first) => within(first) && within(first + DAYS - 1))
      .map((first) => ({ first, sun: sumOf(available, first), load: sumOf(wanted, first) }))
      // Without load every ratio is the same; then the sun decides, then the date.
      .sort((a, b) => ratio(a) - ratio(b) || a.sun - b.sun || a.first - b.first);
    const middle = ranked[(ranked.length - 1) >> 1];
    return middle === undefined ? [] : [{ months, ...stretchOfDays(ledger, middle.first, DAYS) }];
  });
}

const ratio = ({ sun, load }: { sun: number; load: number }): number =>
  load > 0 ? sun / load : Number.MAX_VALUE;
