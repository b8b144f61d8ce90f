import type { Clock } from '../clock/clock.ts';

/** Sum of a column. */
export function total(column: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < column.length; i++) sum += column[i]!;
  return sum;
}

/** Sums of a column by local calendar month: twelve, January first. */
export function byMonth(column: Float64Array, clock: Clock): readonly number[] {
  const sums = new Array<number>(12).fill(0);
  for (let i = 0; i < column.length; i++) sums[clock.month[i]! - 1]! += column[i]!;
  return sums;
}

/** Quotient, or null where there is nothing to divide by. */
export const shareOf = (part: number, whole: number): number | null => (whole > 0 ? part / whole : null);

/** Step with the highest value of a column. */
export function highest(column: Float64Array): number {
  let at = 0;
  for (let i = 1; i < column.length; i++) if (column[i]! > column[at]!) at = i;
  return at;
}
