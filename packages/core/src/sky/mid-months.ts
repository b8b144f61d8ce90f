import type { Clock } from '../clock/clock.ts';

/**
 * Monthly values as straight lines between the middles of the months, so that nothing jumps at midnight of the first.
 * The year closes on itself: before mid-January comes its own December.
 */

/** Steps [from, to) of one month that lie between the same two middles. There are 24 of them in a year. */
export interface HalfMonth {
  readonly from: number;
  readonly to: number;
  /** Month that the steps belong to, 0 to 11. */
  readonly month: number;
  /** Months whose middles lie before and after the steps, 0 to 11. */
  readonly before: number;
  readonly after: number;
  /** Weight of the month after at the middle of step `from`, 0 to 1; the rest belongs to the month before. */
  readonly share: number;
  /** Growth of that weight from one step to the next. */
  readonly perStep: number;
}

/** The halves of the months of a clock, in order. */
export function halfMonths(clock: Clock): HalfMonth[] {
  const { steps, month } = clock;
  const first = new Array<number>(13).fill(steps);
  for (let d = clock.days - 1; d >= 0; d--) {
    const start = clock.day_start[d]!;
    first[month[start]! - 1] = start;
  }
  const middle = (m: number): number => (first[m]! + first[m + 1]!) / 2;
  const halves: HalfMonth[] = [];
  for (let m = 0; m < 12; m++) {
    const turn = Math.ceil(middle(m) - 0.5);
    const before = (m + 11) % 12;
    const after = (m + 1) % 12;
    const last = middle(before) - (m === 0 ? steps : 0);
    const next = middle(after) + (m === 11 ? steps : 0);
    const half = (from: number, to: number, a: number, b: number, start: number, end: number): HalfMonth => ({
      from,
      to,
      month: m,
      before: a,
      after: b,
      share: (from + 0.5 - start) / (end - start),
      perStep: 1 / (end - start),
    });
    halves.push(half(first[m]!, turn, before, m, last, middle(m)));
    halves.push(half(turn, first[m + 1]!, m, after, middle(m), next));
  }
  return halves;
}

/** Straight lines through twelve values at the middles of the months, one value a step; their unit is kept. */
export function drawThrough(values: readonly number[], halves: readonly HalfMonth[]): Float64Array {
  const out = new Float64Array(halves[halves.length - 1]!.to);
  for (const { from, to, before, after, share, perStep } of halves) {
    const slope = (values[after]! - values[before]!) * perStep;
    let value = values[before]! + (values[after]! - values[before]!) * share;
    for (let i = from; i < to; i++) {
      out[i] = value;
      value += slope;
    }
  }
  return out;
}

/** A figure of each of the twelve months, January first. */
export const byMonth = (value: number | readonly number[]): readonly number[] =>
  typeof value === 'number' ? new Array<number>(12).fill(value) : value;
