import type { Clock } from './clock.ts';

/** Quarters by month, as they lie about the solstices and equinoxes. */
export const QUARTERS = [
  [12, 1, 2],
  [3, 4, 5],
  [6, 7, 8],
  [9, 10, 11],
] as const;

/** Sums of a column by local calendar month: twelve, January first. */
export function byMonth(column: Float64Array, clock: Clock): readonly number[] {
  const sums = new Array<number>(12).fill(0);
  for (let i = 0; i < column.length; i++) sums[clock.month[i]! - 1]! += column[i]!;
  return sums;
}
