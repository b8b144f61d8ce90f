/** Sum of a column. */
export function total(column: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < column.length; i++) sum += column[i]!;
  return sum;
}

/** Quotient, or null where there is nothing to divide by. */
export const shareOf = (part: number, whole: number): number | null => (whole > 0 ? part / whole : null);

/** Step with the highest value of a column. */
export function highest(column: Float64Array): number {
  let at = 0;
  for (let i = 1; i < column.length; i++) if (column[i]! > column[at]!) at = i;
  return at;
}
