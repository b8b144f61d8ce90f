import type { Clock } from '../clock/clock.ts';
import type { Load, SeriesLoad } from '../scenario/schema/schema.ts';

/** Rows of a load's file that are shorter than a step, on slots that divide the steps. */
export interface ShortRows {
  /** Length of a slot: that of the rows, where they divide a step. */
  readonly slot_min: number;
  /** Mean power per slot, those of a step side by side. */
  readonly power_kW: Float64Array;
}

/** How far the rows of load files rise above the mean of the step they fall into, kW; one entry a step. */
export interface RowPeaks {
  /** Length of the shortest rows, min. */
  readonly row_min: number;
  /** Of all loads on the AC side together. */
  readonly ac_kW: Float64Array;
  /** Of the loads that hang on no leg alone, and of those on each leg. */
  readonly shared_kW: Float64Array;
  readonly leg_kW: readonly Float64Array[];
}

/** Shortest slot that is looked at: a year of it is 4 MB a column. */
const SHORTEST_min = 1;

/** Slots for rows of a length in steps of another: the longest that divide both; null where rows are no shorter than steps. */
export function slotOf(row_min: number, step_min: number): number | null {
  if (row_min >= step_min) return null;
  const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));
  return Number.isInteger(row_min) ? gcd(step_min, row_min) : SHORTEST_min;
}

/** The clock with each step cut into slots, as far as a series is laid on it. */
export function slotClock(clock: Clock, slot_min: number): Clock {
  const each = clock.step_min / slot_min;
  const start_ms = new Float64Array(clock.steps * each);
  for (let i = 0; i < start_ms.length; i++)
    start_ms[i] = clock.start_ms[Math.floor(i / each)]! + (i % each) * slot_min * 60_000;
  return { ...clock, step_min: slot_min, step_h: slot_min / 60, steps: start_ms.length, start_ms };
}

/**
 * What the rows of load files reach above the means of their steps: summed row by row, so that peaks of several
 * loads count together only where they fall together.
 *
 * @param rows by place of the load; loads whose rows are no shorter than a step are left out
 * @returns null if there is no such load on the AC side
 */
export function rowPeaks(
  rows: readonly { readonly index: number; readonly short: ShortRows }[],
  loads: readonly Load[],
  clock: Clock,
): RowPeaks | null {
  const ac = rows.filter(({ index }) => (loads[index] as SeriesLoad).bus !== 'dc');
  if (ac.length === 0) return null;
  const slot_min = ac.reduce((least, { short }) => Math.min(least, short.slot_min), clock.step_min);
  // Slots of 15 and of 10 min have those of 5 in common.
  const common = ac.reduce((slot, { short }) => slotOf(short.slot_min, slot) ?? slot, slot_min);
  const legOf = (index: number): number | undefined => (loads[index] as SeriesLoad).leg;
  const above = (chosen: typeof ac): Float64Array => {
    const most = new Float64Array(clock.steps);
    if (chosen.length === 0) return most;
    const each = clock.step_min / common;
    for (let i = 0; i < clock.steps; i++) {
      let highest = 0;
      let sum = 0;
      for (let k = 0; k < each; k++) {
        let power = 0;
        for (const { index, short } of chosen) {
          const slots = clock.step_min / short.slot_min;
          power += loads[index]!.scale * short.power_kW[i * slots + Math.floor((k * slots) / each)]!;
        }
        if (power > highest) highest = power;
        sum += power;
      }
      most[i] = highest - sum / each;
    }
    return most;
  };
  const legs = Math.max(0, ...ac.map(({ index }) => legOf(index) ?? 0));
  return {
    row_min: slot_min,
    ac_kW: above(ac),
    shared_kW: above(ac.filter(({ index }) => legOf(index) === undefined)),
    leg_kW: Array.from({ length: legs }, (_, leg) =>
      above(ac.filter(({ index }) => legOf(index) === leg + 1)),
    ),
  };
}
