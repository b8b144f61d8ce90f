import type { WallClock } from '../clock/wall.ts';
import { windowShare } from '../clock/windows.ts';
import type { TemperatureLoad } from '../scenario/schema/schema.ts';

/**
 * Adds heating or cooling that follows the air: `slope_W_per_K` for each kelvin beyond the base temperature, at most
 * `max_power_W`, while the wall clock stands in one of its windows.
 *
 * Source: the degree-hour form of the variable-base degree-day method, ASHRAE Handbook Fundamentals, chapter on energy
 * estimating (recalled). Left out: sun through the windows, heat stored in walls, and that the slope of a heat pump,
 * which is electrical here, grows as it gets colder.
 *
 * @param air_temperature_C mean of each step
 * @param sum_kW mean power per step, added to in place
 */
export function addTemperature(
  load: TemperatureLoad,
  wall: WallClock,
  air_temperature_C: Float64Array,
  sum_kW: Float64Array,
): void {
  const share = windowShare(load, wall);
  const sign = load.side === 'heating' ? 1 : -1;
  for (let i = 0; i < wall.steps; i++) {
    const beyond_K = sign * (load.base_temperature_C - air_temperature_C[i]!);
    if (beyond_K > 0)
      sum_kW[i]! += (share[i]! * Math.min(load.max_power_W, beyond_K * load.slope_W_per_K)) / 1000;
  }
}
