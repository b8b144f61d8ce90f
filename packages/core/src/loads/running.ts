import type { WallClock } from '../clock/wall.ts';
import { windowShare } from '../clock/windows.ts';
import type { Load } from '../scenario/schema/schema.ts';

/**
 * Adds to mean powers what they lack to the power with every appliance on the AC side, and every flexible load,
 * switched on throughout each step that its window touches.
 *
 * @param weightOf share of a load that counts
 * @param running_kW mean power per step of the loads on the AC side, added to in place
 */
export function switchAllOn(
  loads: readonly Load[],
  wall: WallClock,
  running_kW: Float64Array,
  weightOf: (load: Load) => number = () => 1,
): void {
  for (const load of loads) {
    const weight = weightOf(load);
    if (weight === 0) continue;
    if (load.kind === 'appliance' && load.bus !== 'dc') {
      const share = windowShare(load, wall);
      const all_kW = (weight * load.count * load.power_W * load.scale) / 1000;
      for (let i = 0; i < wall.steps; i++)
        if (share[i]! > 0) running_kW[i]! += all_kW * (1 - share[i]! * load.duty_share);
    } else if (load.kind === 'flexible') {
      const share = windowShare({ windows: [load.window], days: load.days, months: load.months }, wall);
      const all_kW = (weight * load.max_power_W * load.scale) / 1000;
      for (let i = 0; i < wall.steps; i++) if (share[i]! > 0) running_kW[i]! += all_kW;
    }
  }
}
