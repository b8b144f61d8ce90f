import { expectArgument } from './arguments.ts';
import { kindOf } from './kind.ts';

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

/**
 * The same for a number that counts or points at something.
 *
 * @throws RangeError as `expectWithin`, and for a number that is not whole
 */
export function expectWhole(where: string, name: string, value: number, least: number, most: number): void {
  expectWithin(where, name, value, least, most);
  if (Number.isInteger(value)) return;
  throw new RangeError(`${where}: ${name} is ${value}; expected a whole number, ${least} to ${most}`);
}

/** The same for an amount, 0 or more, that may be unknown. */
export function expectNullOr(where: string, name: string, value: number | null): void {
  if (value !== null) expectWithin(where, name, value, 0, FINITE);
}

/**
 * Refuses a column that does not fit, before a hole in it goes through all that is made of it.
 *
 * @throws TypeError for what is no Float64Array, RangeError for another length or a value that is no finite number
 */
export function expectColumn(where: string, name: string, column: Float64Array, length?: number): void {
  expectArgument(where, name, column, 'column');
  if (length !== undefined) expectWithin(where, `${name}.length`, column.length, length, length);
  for (let i = 0; i < column.length; i++)
    if (!Number.isFinite(column[i]!))
      throw new RangeError(`${where}: ${name}[${i}] is ${column[i]}; expected a finite number`);
}
