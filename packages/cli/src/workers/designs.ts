import type { Axis, InputError } from '@longnight/core';
import { refused } from '@longnight/core/scenario';
import { combinations, MOST_SAMPLED_AXES, sampleDesigns } from '@longnight/core/study';

const refuse = refused.bind(null, 'designs');

/** Most designs that one process plays: some hours on one processor. More is a job for several. */
const MOST_DESIGNS = 5_000_000;

/** Most years of all designs together: some hours as well. */
const MOST_PLAYED = 50_000_000;

/** The designs that a process plays, in the order of their rows. */
export interface DesignList {
  readonly count: number;
  /** Index of the design in place `k`, 0 to count - 1. */
  at(k: number): number;
  /** Designs of the whole sweep, of which this may be a share. */
  readonly whole: number;
  readonly part: { readonly number: number; readonly of: number } | null;
}

type Part = DesignList['part'];

/**
 * Lays out which designs a process plays.
 *
 * @param sample how many of the combinations; null plays them all
 * @param part which of equal shares of that list
 * @throws InputError if they are too many
 */
export function designList(axes: readonly Axis[], sample: number | null, part: Part): DesignList {
  const all = combinations(axes);
  if (sample !== null && axes.length > MOST_SAMPLED_AXES)
    throw refuse('--sample')`${axes.length} keys vary | leave out keys that matter least | at most
      ${MOST_SAMPLED_AXES}: beyond that no cover is even`;
  const whole = sample === null ? all : Math.min(sample, all);
  const { from, to } = shareOf(whole, part);
  // A sample is drawn as a whole, whichever share of it is played.
  if (to - from > MOST_DESIGNS || (whole < all && whole > MOST_DESIGNS))
    throw tooMany(whole, sample !== null);
  return designsOf(axes, sample, part);
}

/** @throws InputError if designs are to be played in too many years each */
export function refuseTooLong({ count }: DesignList, years: number): void {
  if (count * years <= MOST_PLAYED) return;
  throw refuse('--seeds')`${count} designs in ${years} years each are too many for one process | take fewer
    years, --sample for fewer designs, or --part to share them out | at most ${MOST_PLAYED} years in all`;
}

/** The same for designs that are there already, however many. */
export function designsOf(axes: readonly Axis[], sample: number | null, part: Part): DesignList {
  const all = combinations(axes);
  const whole = sample === null ? all : Math.min(sample, all);
  const { from, to } = shareOf(whole, part);
  const count = to - from;
  if (whole === all) return { count, at: (k) => from + k, whole, part };
  const met = sampleDesigns(axes, whole);
  return { count, at: (k) => met[from + k]!, whole, part };
}

/** Places of the whole list that belong to a part. */
export function shareOf(whole: number, part: Part): { readonly from: number; readonly to: number } {
  const start = (number: number, of: number): number =>
    Number((BigInt(whole) * BigInt(number - 1)) / BigInt(of));
  if (part === null) return { from: 0, to: whole };
  return { from: start(part.number, part.of), to: start(part.number + 1, part.of) };
}

function tooMany(whole: number, sampled: boolean): InputError {
  const shares = Math.ceil(whole / MOST_DESIGNS);
  return refuse('--vary')`${whole} designs are too many for one process |
    ${sampled ? 'take a smaller sample' : `take a larger step, or --sample 10000 for an even cover, or play them in ${shares} processes or more: ` + `--part 1/${shares}, --part 2/${shares} and so on`}
    | at most ${MOST_DESIGNS}`;
}
