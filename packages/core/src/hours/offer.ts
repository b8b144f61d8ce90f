import type { Columns } from '../ledger/columns.ts';
import { workingVoltage_V } from '../plant/panel-string.ts';
import type { AllInOne, Plant, Tracked } from '../plant/plant.ts';
import type { PanelSpec } from '../scenario/schema/schema.ts';
import type { PreparedYear } from '../year.ts';

/** What passes the arrays' trackers, one entry a step, kWh. */
export interface Offered {
  /** On the DC side. */
  readonly tracked_kWh: Float64Array;
  /** What the trackers could take from all arrays, at the arrays' terminals. */
  readonly trackable_kWh: Float64Array;
  /** On the AC side, behind inverters that follow the plant's. */
  readonly ac_sun_kWh: Float64Array;
  /** The same before those inverters, at the arrays' terminals. */
  readonly ac_offered_kWh: Float64Array;
  /** What arrays and other sources offer together, at their terminals. */
  readonly available_kWh: Float64Array;
  /** Part of other sources in what can be taken on the DC side, at their terminals; on the AC side; the latter at the bus. */
  readonly other_dc_kWh: Float64Array;
  readonly other_ac_offered_kWh: Float64Array;
  readonly other_ac_sun_kWh: Float64Array;
}

/**
 * What arrays and other sources offer and what their trackers and controllers let through, for every step at once: it depends on sizes and sun
 * alone, not on the bank. Fills `array_available_kWh` and the three tracker columns of the ledger, and `offered`. Arrays on the AC side go to columns of their own. A step whose mean cell
 * temperature puts the string's working voltage outside the tracker's is lost as a whole. Limits over all trackers of
 * an all-in-one take the same share from each of them.
 */
export function offerArrays(year: PreparedYear, plant: Plant, columns: Columns, offered: Offered): void {
  columns.array_available_kWh.fill(0);
  columns.curtailed_tracker_voltage_kWh.fill(0);
  columns.curtailed_tracker_power_kWh.fill(0);
  columns.curtailed_tracker_current_kWh.fill(0);
  columns.curtailed_other_power_kWh.fill(0);
  columns.other_available_kWh.fill(0);
  offered.other_dc_kWh.fill(0);
  offered.other_ac_offered_kWh.fill(0);
  offered.other_ac_sun_kWh.fill(0);
  offered.tracked_kWh.fill(0);
  offered.trackable_kWh.fill(0);
  offered.ac_sun_kWh.fill(0);
  offered.ac_offered_kWh.fill(0);
  const device = plant.all_in_one;
  if (device !== null) {
    // What is built in comes first: until then the columns hold nothing else.
    for (let a = 0; a < plant.arrays.length; a++)
      if (plant.arrays[a]!.built_in) offerArray(year, plant, a, columns, offered);
    clipTogether(year, device, columns, offered);
  }
  for (let a = 0; a < plant.arrays.length; a++)
    if (device === null || !plant.arrays[a]!.built_in) offerArray(year, plant, a, columns, offered);
  offered.available_kWh.set(columns.array_available_kWh);
  for (let k = 0; k < plant.others.length; k++) offerOther(year, plant, k, columns, offered);
}

/** Adds what another source offers, within what its controller puts out, to the sun of its side. */
function offerOther(
  { clock: { step_h, steps }, others }: PreparedYear,
  plant: Plant,
  k: number,
  columns: Columns,
  to: Offered,
): void {
  const { efficiency, max_output_kW, ac } = plant.others[k]!;
  const { power_kW } = others[k]!;
  const most = max_output_kW * step_h;
  const passed_kWh = ac ? to.ac_sun_kWh : to.tracked_kWh;
  const taken_kWh = ac ? to.other_ac_offered_kWh : to.other_dc_kWh;
  for (let i = 0; i < steps; i++) {
    const offered = power_kW[i]! * step_h;
    const passed = Math.min(offered * efficiency, most);
    const taken = passed < offered * efficiency ? passed / efficiency : offered;
    columns.other_available_kWh[i]! += offered;
    columns.curtailed_other_power_kWh[i]! += offered - taken;
    to.available_kWh[i]! += offered;
    to.trackable_kWh[i]! += taken;
    passed_kWh[i]! += passed;
    taken_kWh[i]! += taken;
    if (!ac) continue;
    to.ac_offered_kWh[i]! += taken;
    to.other_ac_sun_kWh[i]! += passed;
  }
}

/** Adds what one array offers, within the limits of its own tracker. */
function offerArray(
  year: PreparedYear,
  plant: Plant,
  a: number,
  columns: Columns,
  { tracked_kWh, trackable_kWh, ac_sun_kWh, ac_offered_kWh }: Offered,
): void {
  const available = columns.array_available_kWh;
  const outside = columns.curtailed_tracker_voltage_kWh;
  const clippedPower = columns.curtailed_tracker_power_kWh;
  const clippedCurrent = columns.curtailed_tracker_current_kWh;
  const { step_h, steps } = year.clock;
  const tracked = plant.arrays[a]!;
  const { dc_kW_per_kWp, cell_temperature_C } = year.arrays[a]!;
  const { from_C, to_C } = tracked.works;
  const size_kWp = tracked.size_kWp;
  const most_in = tracked.max_input_kW * step_h;
  const most_out = tracked.max_output_kW * step_h;
  const efficiency = tracked.efficiency;
  const isAc = tracked.ac === true;
  const out_kWh = isAc ? ac_sun_kWh : tracked_kWh;
  const limit = operatingLimit(tracked);
  for (let i = 0; i < steps; i++) {
    const offered = dc_kW_per_kWp[i]! * size_kWp * step_h;
    if (offered === 0) continue;
    const cell = cell_temperature_C[i]!;
    available[i]! += offered;
    if (cell < from_C || cell > to_C) {
      outside[i]! += offered;
      continue;
    }
    let taken = offered;
    if (offered > most_in) {
      taken = most_in;
      clippedPower[i]! += offered - most_in;
    }
    if (limit !== null) {
      const most = workingVoltage_V(limit.panel, cell) * limit.kW_per_V * step_h;
      if (most < taken) {
        clippedCurrent[i]! += taken - most;
        taken = most;
      }
    }
    const made = taken * efficiency;
    const passed = Math.min(made, most_out);
    out_kWh[i]! += passed;
    if (passed < made) {
      taken = passed / efficiency;
      (isAc ? clippedPower : clippedCurrent)[i]! += (made - passed) / efficiency;
    }
    trackable_kWh[i]! += taken;
    if (isAc) ac_offered_kWh[i]! += taken;
  }
}

/**
 * What a tracker takes at most by the current that it works at, for each volt of one panel; null where it or the string
 * is not known. The string is taken to stay at its voltage of most power: held to fewer amps it would go up a little.
 */
function operatingLimit({ string, input }: Tracked): { panel: PanelSpec; kW_per_V: number } | null {
  const { max_operating_A = null } = input;
  if (string === null || string.in_series === null || max_operating_A === null) return null;
  return { panel: string.panel, kW_per_V: (string.in_series * max_operating_A) / 1000 };
}

/** Takes from all trackers of an all-in-one alike what is above its limits over them. */
function clipTogether(
  { clock: { steps, step_h } }: PreparedYear,
  { max_tracker_input_kW, max_tracker_output_kW }: AllInOne,
  columns: Columns,
  { tracked_kWh, trackable_kWh }: Offered,
): void {
  const most_in = max_tracker_input_kW * step_h;
  const most_out = max_tracker_output_kW * step_h;
  for (let i = 0; i < steps; i++) {
    const out = tracked_kWh[i]!;
    if (out === 0) continue;
    const taken = trackable_kWh[i]!;
    const byInput = most_in / taken;
    const byOutput = most_out / out;
    const kept = Math.min(byInput, byOutput);
    if (kept >= 1) continue;
    const column =
      byInput <= byOutput ? columns.curtailed_tracker_power_kWh : columns.curtailed_tracker_current_kWh;
    column[i]! += (1 - kept) * taken;
    trackable_kWh[i] = kept * taken;
    tracked_kWh[i] = kept * out;
  }
}
