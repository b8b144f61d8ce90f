import { kindOf } from './arguments.ts';

/** Any number that can be counted with: neither infinite nor NaN. */
export const FINITE = Number.MAX_VALUE;

/**
 * Refuses a number that a plant can't have, where it is made: read from a file it never gets this far.
 *
 * @param where the function that was called
 * @param name of its argument's figure, with its unit
 * @throws RangeError naming all four; also for NaN
 */
export function expectWithin(where: string, name: string, value: number, least: number, most: number): void {
  if (typeof value === 'number' && value >= least && value <= most) return;
  const bound =
    most === Number.POSITIVE_INFINITY
      ? `${least} or more`
      : most === FINITE
        ? `a finite number, ${least} or more`
        : `${least} to ${most}`;
  throw new RangeError(`${where}: ${name} is ${kindOf(value)}; expected ${bound}`);
}
