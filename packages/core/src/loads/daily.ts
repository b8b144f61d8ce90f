import { chosenDays, type WallClock } from '../clock/wall.ts';
import { overlap_min } from '../clock/window.ts';
import type { DailyLoad } from '../scenario/schema/schema.ts';

type ShapeName = Extract<DailyLoad['shape'], string>;

/**
 * Weights of the named shapes by local clock hour, midnight first. `flat` is what it says. The other two are invented
 * for Longnight and measured nowhere: percent of a day's energy, chosen to look like a household that is out by day
 * and like a workshop with a lunch break.
 */
export const SHAPES: Readonly<Record<ShapeName, readonly number[]>> = {
  flat: Array.from({ length: 24 }, () => 1),
  evening: [2, 1, 1, 1, 1, 2, 4, 5, 4, 3, 2, 2, 3, 3, 2, 3, 4, 6, 9, 11, 11, 9, 6, 5],
  working_day: [1, 1, 1, 1, 1, 1, 2, 4, 9, 10, 10, 9, 6, 9, 10, 9, 7, 3, 1, 1, 1, 1, 1, 1],
};

/**
 * Adds a load of so many kWh a day to a sum. Every chosen day gets exactly `energy_kWh_day × month_factor`, those of
 * 23 and 25 hours too; the shape says how it spreads over the clock hours. Should all weight lie in an hour that the
 * clocks skip, that day's energy is spread evenly.
 *
 * @param sum_kW mean power per step, added to in place
 */
export function addDaily(load: DailyLoad, wall: WallClock, sum_kW: Float64Array): void {
  const weights = typeof load.shape === 'string' ? SHAPES[load.shape] : load.shape;
  const bySlot = wall.slots.map(({ minute, length_min }) =>
    weights.reduce(
      (sum, w, hour) => sum + w * overlap_min(minute, minute + length_min, hour * 60, hour * 60 + 60),
      0,
    ),
  );
  const byLength = wall.slots.map((slot) => slot.length_min);
  const patterns = wall.kinds.map((slots) => sharesOfDay(slots, bySlot) ?? sharesOfDay(slots, byLength)!);
  const chosen = chosenDays(wall, load.days, load.months);
  const step_h = wall.step_min / 60;
  // Mean power if the whole day's energy fell into one step.
  const day_kW = Float64Array.from(
    wall.month,
    (month, d) => (chosen[d]! * load.energy_kWh_day * load.month_factors[month - 1]!) / step_h,
  );
  const { step, slot, kind } = wall;
  for (const { day, from, to } of wall.runs) {
    const scale_kW = day_kW[day]!;
    if (scale_kW === 0) continue;
    const pattern = patterns[kind[day]!]!;
    for (let p = from; p < to; p++) sum_kW[step[p]!]! += scale_kW * pattern[slot[p]!]!;
  }
}

/** Share of a day's energy per slot; undefined if none of the day's slots has weight. */
function sharesOfDay(slots: readonly number[], weights: readonly number[]): Float64Array | undefined {
  const total = slots.reduce((sum, s) => sum + weights[s]!, 0);
  return total === 0 ? undefined : Float64Array.from(weights, (w) => w / total);
}
