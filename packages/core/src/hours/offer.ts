import type { Columns } from '../ledger/columns.ts';
import type { Plant } from '../plant/plant.ts';
import type { PreparedYear } from '../year.ts';

/** What passes the arrays' trackers, one entry a step, kWh. */
export interface Offered {
  /** On the DC side. */
  readonly tracked_kWh: Float64Array;
  /** On the AC side, behind inverters that follow the plant's. */
  readonly ac_sun_kWh: Float64Array;
  /** The same before those inverters, at the arrays' terminals. */
  readonly ac_offered_kWh: Float64Array;
}

/**
 * What the arrays offer and what their trackers let through, for every step at once: it depends on sizes and sun
 * alone, not on the bank. Fills `array_available_kWh` and the three tracker columns of the ledger, and `tracked_kWh` with
 * the energy at the trackers' DC side. Arrays on the AC side go to columns of their own. A step whose mean cell
 * temperature puts the string's working voltage outside the tracker's is lost as a whole.
 */
export function offerArrays(
  year: PreparedYear,
  plant: Plant,
  columns: Columns,
  { tracked_kWh, ac_sun_kWh, ac_offered_kWh }: Offered,
): void {
  const available = columns.array_available_kWh.fill(0);
  const outside = columns.curtailed_tracker_voltage_kWh.fill(0);
  const clippedPower = columns.curtailed_tracker_power_kWh.fill(0);
  const clippedCurrent = columns.curtailed_tracker_current_kWh.fill(0);
  const step_h = year.clock.step_h;
  const steps = year.clock.steps;
  tracked_kWh.fill(0);
  ac_sun_kWh.fill(0);
  ac_offered_kWh.fill(0);
  for (let a = 0; a < plant.arrays.length; a++) {
    const tracked = plant.arrays[a]!;
    const { dc_kW_per_kWp, cell_temperature_C } = year.arrays[a]!;
    const { from_C, to_C } = tracked.works;
    const size_kWp = tracked.size_kWp;
    const most_in = tracked.max_input_kW * step_h;
    const most_out = tracked.max_output_kW * step_h;
    const efficiency = tracked.efficiency;
    const isAc = tracked.ac === true;
    const out_kWh = isAc ? ac_sun_kWh : tracked_kWh;
    for (let i = 0; i < steps; i++) {
      const offered = dc_kW_per_kWp[i]! * size_kWp * step_h;
      if (offered === 0) continue;
      const cell = cell_temperature_C[i]!;
      if (cell < from_C || cell > to_C) {
        available[i]! += offered;
        outside[i]! += offered;
        continue;
      }
      const taken = Math.min(offered, most_in);
      const made = taken * efficiency;
      const passed = Math.min(made, most_out);
      available[i]! += offered;
      out_kWh[i]! += passed;
      if (isAc) ac_offered_kWh[i]! += passed / efficiency;
      clippedPower[i]! += offered - taken;
      if (passed < made) (isAc ? clippedPower : clippedCurrent)[i]! += (made - passed) / efficiency;
    }
  }
}
