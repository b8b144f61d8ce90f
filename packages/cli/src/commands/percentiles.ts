import { refused } from '@longnight/core/scenario';
import { PERCENTILES } from '@longnight/core/study';

export interface PercentilesGiven {
  /** Which percentiles over the years to tell, whole and ascending. */
  readonly percentiles?: readonly number[];
}

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
  return [...new Set([...(percentiles ?? PERCENTILES), 50])].sort((a, b) => a - b);
}
