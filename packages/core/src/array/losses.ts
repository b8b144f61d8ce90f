import type { ArraySpec } from '../scenario/schema.ts';

/** A figure of each of the twelve months, January first. */
export const twelveOf = (value: number | readonly number[]): readonly number[] =>
  typeof value === 'number' ? new Array<number>(12).fill(value) : value;

/** Share of power left in each month by dirt, snow cover, mismatch, wires and ageing, one after the other. */
export function keptByMonth({ losses }: ArraySpec): readonly number[] {
  const { mismatch_share, wiring_share, ageing_share } = losses;
  const all_year = (1 - mismatch_share) * (1 - wiring_share) * (1 - ageing_share);
  const snow = twelveOf(losses.snow_share);
  return twelveOf(losses.soiling_share).map((dirt, m) => (1 - dirt) * (1 - snow[m]!) * all_year);
}
