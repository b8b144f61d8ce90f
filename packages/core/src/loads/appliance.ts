import type { ApplianceLoad } from '../scenario/schema.ts';
import type { WallClock } from './wall.ts';
import { addWindows } from './windows.ts';

/**
 * Adds an appliance to a sum: `count × power_W × duty_share` while the wall clock stands in one of its windows.
 *
 * @param sum_kW mean power per step, added to in place
 */
export function addAppliance(load: ApplianceLoad, wall: WallClock, sum_kW: Float64Array): void {
  addWindows(load, wall, (load.power_W * load.count * load.duty_share) / 1000, sum_kW);
}
