import { refused } from '@longnight/core/scenario';

export interface PercentilesGiven {
  /** Which percentiles over the years to tell, whole and ascending. */
  readonly percentiles?: readonly number[];
}

const TOLD: readonly number[] = [5, 50, 95];

/**
 * The percentiles that are told of figures over years; the median is always among them.
 *
 * @param years that are played, 0 for one alone
 * @throws InputError if they are asked for where one year is played
 */
export function percentilesOf({ percentiles }: PercentilesGiven, years: number): readonly number[] {
  if (percentiles !== undefined && years === 0)
    throw refused('percentiles', '--percentiles')`are over many years, and one is played | add --seeds N or
      --every-year, or leave it out`;
  return [...new Set([...(percentiles ?? TOLD), 50])].sort((a, b) => a - b);
}
