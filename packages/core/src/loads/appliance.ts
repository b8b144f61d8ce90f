import type { ApplianceLoad } from '../scenario/schema.ts';
import { DAY_min, overlap_min, parseWindow } from '../scenario/window.ts';
import { chosenDays, type WallClock } from './wall.ts';

/**
 * Adds an appliance to a sum: `count × power_W × duty_share` while the wall clock stands in one of its windows.
 *
 * A window past midnight belongs to the day on which it starts: `22:00-06:00` on fri ends on Saturday morning. Windows
 * follow the wall clock, so an hour that clocks skip is not drawn and one that they repeat is drawn twice.
 *
 * @param sum_kW mean power per step, added to in place
 */
export function addAppliance(load: ApplianceLoad, wall: WallClock, sum_kW: Float64Array): void {
  const power_kW = (load.power_W * load.count * load.duty_share) / 1000;
  const windows = load.windows.map(parseWindow);
  const today = new Float64Array(wall.slots.length);
  const sinceYesterday = new Float64Array(wall.slots.length);
  for (const [s, { minute, length_min }] of wall.slots.entries()) {
    const inWindows_min = (shift: number) =>
      windows.reduce(
        (sum, w) => sum + overlap_min(minute, minute + length_min, w.start_min - shift, w.end_min - shift),
        0,
      );
    today[s] = (power_kW * inWindows_min(0)) / wall.step_min;
    sinceYesterday[s] = (power_kW * inWindows_min(DAY_min)) / wall.step_min;
  }
  const chosen = chosenDays(wall, load.days, load.months);
  const { step, slot } = wall;
  for (const { day, from, to } of wall.runs) {
    const now = chosen[day]!;
    const before = chosen[day - 1]!;
    if (now === 0 && before === 0) continue;
    for (let p = from; p < to; p++) {
      const s = slot[p]!;
      sum_kW[step[p]!]! += now * today[s]! + before * sinceYesterday[s]!;
    }
  }
}
