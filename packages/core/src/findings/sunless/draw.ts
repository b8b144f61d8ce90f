import { asleepSteps } from '../../hours/asked.ts';
import { deratedRating_kW, inputFor } from '../../plant/inverter.ts';
import { inverterFloor_kWh, type Plant } from '../../plant/plant.ts';
import type { PreparedYear } from '../../year.ts';

/**
 * What a bank must give on the DC side when it carries the loads alone, without sun and generator: those on the DC
 * side, and the others with the inverter's losses; at most what inverter and modules allow. Flexible loads draw
 * when they can wait no longer. What one leg alone is too small for is left in.
 *
 * @param most_kW what the modules allow, where that is the same in every step
 * @returns kWh at the bank's terminals, one entry a step; heaters are not in it
 */
export function sunlessDraw_kWh(
  year: PreparedYear,
  plant: Plant,
  most_kW = plant.bank.max_discharge_kW,
): Float64Array {
  const { loads, clock, sky } = year;
  const { steps, step_h } = clock;
  const { inverter } = plant;
  const rating_kW = deratedRating_kW(inverter, sky.air_temperature_C);
  const asleep = asleepSteps(plant, loads);
  const flexible_kWh = latest_kWh(year);
  const draw = new Float64Array(steps);
  for (let i = 0; i < steps; i++) {
    let dc_kW = 0;
    if (loads.dc_tier_kW !== null) for (const tier_kW of loads.dc_tier_kW) dc_kW += tier_kW[i]!;
    const flexible_kW = flexible_kWh === null ? 0 : flexible_kWh[i]! / step_h;
    const ac_kW = Math.min(loads.total_kW[i]! - dc_kW + flexible_kW, rating_kW?.[i] ?? inverter.rating_kW);
    const isAsleep = asleep !== null && asleep[i] === 1 && flexible_kW === 0;
    const through_kW = isAsleep ? inverter.sleep!.search_kW : inputFor(inverter.curve, ac_kW);
    draw[i] = Math.min(through_kW + dc_kW, most_kW) * step_h;
  }
  return draw;
}

/** Stock at which loads are no longer carried: the inverter's cut-off, where anything hangs behind it, or the floor. */
export function lowestStock_kWh({ loads }: PreparedYear, plant: Plant): number {
  const { total_kW, dc_tier_kW, flexible } = loads;
  const isAc = (kW: number, i: number): boolean =>
    dc_tier_kW === null || kW - dc_tier_kW.reduce((sum, tier_kW) => sum + tier_kW[i]!, 0) > 1e-12;
  return flexible.length > 0 || total_kW.some(isAc) ? inverterFloor_kWh(plant) : plant.bank.floor_kWh;
}

/** What flexible loads draw when they wait as long as they can; null without any. */
function latest_kWh({ loads: { flexible }, clock: { steps } }: PreparedYear): Float64Array | null {
  if (flexible.length === 0) return null;
  const sum = new Float64Array(steps);
  for (const { asked_kWh, most_kWh, later_kWh } of flexible) {
    let left = 0;
    for (let i = 0; i < steps; i++) {
      if (asked_kWh[i]! > 0) left = asked_kWh[i]!;
      const now = Math.min(most_kWh[i]!, left, Math.max(0, left - later_kWh[i]!));
      left -= now;
      sum[i]! += now;
    }
  }
  return sum;
}
