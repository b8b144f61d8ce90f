import { expectColumn } from '../basis/within.ts';
/** Cycles of one history: `range[k]` was gone through `count[k]` times, 1 for a full cycle and 0.5 for a half. */
export interface Cycles {
  readonly range: Float64Array;
  readonly mean: Float64Array;
  readonly count: Float64Array;
}

/** Points at which a history turns, its two ends included; flat stretches count as one point. */
export function turningPoints(history: Float64Array): Float64Array {
  const points = new Float64Array(history.length);
  let n = 0;
  for (let i = 0; i < history.length; i++) {
    const value = history[i]!;
    if (n > 0 && value === points[n - 1]) continue;
    // A point between its neighbours is passed through, not turned at.
    if (n > 1 && points[n - 1]! > points[n - 2]! === value > points[n - 1]!) points[n - 1] = value;
    else points[n++] = value;
  }
  return points.slice(0, n);
}

/**
 * Rainflow counting of a history.
 *
 * Source: ASTM E1049-85 (2005), section 5.4.4, rules 1 to 6: with X the newest range and Y the one before it, Y counts
 * as a full cycle once X is not smaller, and as a half if it contains the start; what is left at the end counts as
 * halves.
 *
 * @param history values in time order
 * @returns cycles in the order in which they close
 */
export function rainflow(history: Float64Array): Cycles {
  expectColumn('rainflow', 'history', history);
  const points = turningPoints(history);
  const most = Math.max(0, points.length);
  const range = new Float64Array(most);
  const mean = new Float64Array(most);
  const count = new Float64Array(most);
  let cycles = 0;
  const book = (a: number, b: number, times: number): void => {
    range[cycles] = Math.abs(a - b);
    mean[cycles] = (a + b) / 2;
    count[cycles] = times;
    cycles++;
  };
  const stack = new Float64Array(most);
  let top = 0;
  for (let i = 0; i < points.length; i++) {
    stack[top++] = points[i]!;
    while (top >= 3) {
      const x = Math.abs(stack[top - 1]! - stack[top - 2]!);
      const y = Math.abs(stack[top - 2]! - stack[top - 3]!);
      if (x < y) break;
      if (top === 3) {
        // Y contains the starting point: half a cycle, and the start moves on.
        book(stack[0]!, stack[1]!, 0.5);
        stack[0] = stack[1]!;
        stack[1] = stack[2]!;
        top = 2;
      } else {
        book(stack[top - 3]!, stack[top - 2]!, 1);
        stack[top - 3] = stack[top - 1]!;
        top -= 2;
      }
    }
  }
  for (let k = 0; k + 1 < top; k++) book(stack[k]!, stack[k + 1]!, 0.5);
  return { range: range.slice(0, cycles), mean: mean.slice(0, cycles), count: count.slice(0, cycles) };
}
