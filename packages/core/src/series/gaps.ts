import { HOUR_ms } from '../basis/units.ts';
import type { Gaps } from '../scenario/schema/schema.ts';

/** Nothing longer may be filled, whatever a scenario says: the schema's upper bound of `gaps.longest_h`. */
export const LONGEST_FILL_h = 72;

/** A run of intervals without a value: from `from` up to, not including, `to`. */
export interface Run {
  readonly from: number;
  readonly to: number;
  /** What counts against `gaps.longest_h`: at an end of the file, the part in the year only. */
  readonly length_h: number;
}

/** The intervals that touch a year: from `from` up to, not including, `to`. */
export interface YearSpan {
  readonly from: number;
  readonly to: number;
  /** Whether the year begins or ends within its first or last interval. */
  readonly isCut: { readonly before: boolean; readonly after: boolean };
}

/** What became of a column's missing values in the year. */
interface GapResult {
  readonly filled: readonly Run[];
  /** Runs that may not be filled: all of them under `refuse`, the too long ones otherwise. */
  readonly refused: readonly Run[];
}

/**
 * Fills the missing values of one column in place: a straight line between the neighbours of a run; where the file
 * begins or ends, its nearest value is held. A whole year of stamps in the middle of their rows has half a row too
 * little at one end: that is held too, whatever `gaps` say.
 *
 * @param values one entry per interval, NaN where there is no value
 * @param year runs outside of it don't matter
 * @param fileEnds whether `values` begins and ends with the file; if it doesn't, it reaches beyond the year by more than
 *   `LONGEST_FILL_h`
 */
export function fillGaps(
  values: Float64Array,
  year: YearSpan,
  fileEnds: { readonly before: boolean; readonly after: boolean },
  interval_ms: number,
  gaps: Gaps,
): GapResult {
  const filled: Run[] = [];
  const refused: Run[] = [];
  const n = values.length;
  for (let from = 0; from < year.to; from++) {
    if (!Number.isNaN(values[from]!)) continue;
    let to = from + 1;
    while (to < n && Number.isNaN(values[to]!)) to++;
    const inYear = Math.min(to, year.to) - Math.max(from, year.from);
    if (inYear > 0) {
      const isAtEnd = (from === 0 && fileEnds.before) || (to === n && fileEnds.after);
      const length_h = ((isAtEnd ? inYear : to - from) * interval_ms) / HOUR_ms;
      const isEmpty = from === 0 && to === n;
      const isPartOfRow =
        inYear === 1 &&
        ((from <= year.from && fileEnds.before && year.isCut.before) ||
          (to >= year.to && fileEnds.after && year.isCut.after));
      const isAllowed = gaps.fill === 'interpolate' && length_h <= gaps.longest_h + 1e-9;
      const mayFill = (isAllowed || isPartOfRow) && !isEmpty;
      if (mayFill) fillRun(values, from, to);
      (mayFill ? filled : refused).push({ from, to, length_h });
    }
    from = to;
  }
  return { filled, refused };
}

/** A straight line between the neighbours of a run, in place. */
export function fillRun(values: Float64Array, from: number, to: number): void {
  const left = from > 0 ? values[from - 1]! : values[to]!;
  const right = to < values.length ? values[to]! : left;
  for (let k = from; k < to; k++) values[k] = left + ((right - left) * (k - from + 1)) / (to - from + 1);
}
