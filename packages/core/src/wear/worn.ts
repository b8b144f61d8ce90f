/** How often a part was worn and bought anew within a year. Times are shares of the year: 0 is its beginning. */
export interface Renewals {
  readonly times: number;
  /** When it was worn first; at 1 or later if not in this year. */ readonly first: number;
  /** From one time to the next. */ readonly every: number;
  /** What is used of the part in place at the end of the year, by what wears it. */
  readonly used_share: readonly number[];
}

/** Rounding of sums: a life of which less than this is left is used up. */
const DUST = 1e-9;

/** True if one of the lives of a part is used up. */
export const isWorn = (used_share: readonly number[]): boolean =>
  used_share.some((share) => share >= 1 - DUST);

/**
 * Goes with a part through a year of even use. It is worn when the first of its lives is used up, and bought anew at
 * that moment; all of its lives then begin again. Worn just as the year ends it is bought in the next. Common practice,
 * no source.
 *
 * @param used_share of each life, at the beginning of the year
 * @param within_share what the year takes of each, in the same order
 */
export function throughYear(used_share: readonly number[], within_share: readonly number[]): Renewals {
  let first = Number.POSITIVE_INFINITY;
  used_share.forEach((used, k) => {
    const within = within_share[k]!;
    if (used >= 1 - DUST) first = 0;
    else if (within > 0) first = Math.min(first, (1 - used) / within);
  });
  const every = 1 / Math.max(...within_share);
  if (first >= 1 - DUST)
    return { times: 0, first, every, used_share: used_share.map((used, k) => used + within_share[k]!) };
  const times = Math.max(1, Math.ceil((1 - DUST - first) / every));
  const last = times === 1 ? first : first + (times - 1) * every;
  return { times, first, every, used_share: within_share.map((within) => within * (1 - last)) };
}
