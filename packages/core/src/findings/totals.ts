import type { Ledger } from '../ledger/ledger.ts';

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

/** What differs by less is equal but for rounding: a bank at its floor. */
const DUST_soc = 1e-9;

/** The first step at whose end the state of charge is as low as it gets. */
export function emptiestStep({ columns: { bank_soc } }: Ledger): number {
  let lowest = 1;
  for (let i = 0; i < bank_soc.length; i++) if (bank_soc[i]! < lowest) lowest = bank_soc[i]!;
  return bank_soc.findIndex((soc) => soc <= lowest + DUST_soc);
}
