import { chosenDays, type WallClock } from './wall.ts';
import { DAY_min, overlap_min, parseWindow } from './window.ts';

/** When something is on by the wall clock. */
export interface Timetable {
  readonly windows: readonly string[];
  readonly days: Parameters<typeof chosenDays>[1];
  readonly months: readonly number[];
}

/**
 * Adds `weight` times the share of each step that lies in the windows.
 *
 * A window past midnight belongs to the day on which it starts: `22:00-06:00` on fri ends on Saturday morning. Windows
 * follow the wall clock, so an hour that clocks skip does not count and one that they repeat counts twice.
 *
 * @param sum one entry a step, added to in place
 */
export function addWindows(timetable: Timetable, wall: WallClock, weight: number, sum: Float64Array): void {
  const windows = timetable.windows.map(parseWindow);
  const today = new Float64Array(wall.slots.length);
  const sinceYesterday = new Float64Array(wall.slots.length);
  for (const [s, { minute, length_min }] of wall.slots.entries()) {
    const inWindows_min = (shift: number) =>
      windows.reduce(
        (total, w) =>
          total + overlap_min(minute, minute + length_min, w.start_min - shift, w.end_min - shift),
        0,
      );
    today[s] = (weight * inWindows_min(0)) / wall.step_min;
    sinceYesterday[s] = (weight * inWindows_min(DAY_min)) / wall.step_min;
  }
  const chosen = chosenDays(wall, timetable.days, timetable.months);
  const { step, slot } = wall;
  for (const { day, from, to } of wall.runs) {
    const now = chosen[day]!;
    const before = chosen[day - 1]!;
    if (now === 0 && before === 0) continue;
    for (let p = from; p < to; p++) {
      const s = slot[p]!;
      sum[step[p]!]! += now * today[s]! + before * sinceYesterday[s]!;
    }
  }
}

/** Share of each step that lies in the windows, 0 to 1. */
export function windowShare(timetable: Timetable, wall: WallClock): Float64Array {
  const share = new Float64Array(wall.steps);
  addWindows(timetable, wall, 1, share);
  return share;
}
