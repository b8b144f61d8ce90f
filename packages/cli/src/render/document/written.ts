/**
 * Numbers as files hold them: the one place that says how exactly. Engines of JavaScript differ in the last digits of
 * `Math.pow`, `exp` and `sin`, and sums carry that on; without rounding the same plant gives other bytes on another
 * Node. Twelve digits are far more than any figure means and far fewer than engines agree on.
 */

/** Significant digits; of numbers below 1 it is decimals, as what is smaller than that is the rounding of sums. */
const DIGITS = 12;

/** How many steps a unit is divided into for a number of this size; a power of ten, 1 at least. */
export function stepsInOne(size: number): number {
  let steps = 10 ** DIGITS;
  for (let top = 1; size >= top && steps > 1; top *= 10) steps /= 10;
  return steps;
}

/** A number with 12 significant digits, and none beyond the twelfth decimal. Whole numbers stay; there is no minus zero. */
export function written(value: number): number {
  if (Number.isInteger(value)) return value + 0;
  const steps = stepsInOne(Math.abs(value));
  return Math.round(value * steps) / steps + 0;
}
