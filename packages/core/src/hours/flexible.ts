import { inputFor, outputFrom } from '../plant/inverter.ts';
import { NO_SOURCE } from './flows.ts';
import type { StepParts } from './parts.ts';
import type { Memory, StepGivens } from './step.ts';

/**
 * What flexible loads ask for in a step. `must_kWh`, `could_kWh` and `withheld_kWh` of the flows.
 */
export function askFlexible(parts: StepParts, given: StepGivens, i: number, memory: Memory): void {
  const { flexible_kWh, flows } = memory;
  let must = 0;
  let could = 0;
  let withheld = 0;
  for (let k = 0; k < given.flexible.length; k++) {
    const load = given.flexible[k]!;
    if (load.asked_kWh[i]! > 0) flexible_kWh[k] = load.asked_kWh[i]!;
    const most = Math.min(load.most_kWh[i]!, flexible_kWh[k]!);
    if (most <= 0) continue;
    const now = Math.min(most, Math.max(0, flexible_kWh[k]! - load.later_kWh[i]!));
    flexible_kWh[k]! -= now;
    if (memory.stock_kWh < load.min_soc * parts.capacity_kWh) withheld += now;
    else {
      must += now;
      could += most - now;
    }
  }
  flows.must_kWh = must;
  flows.could_kWh = could;
  flows.withheld_kWh = withheld;
}

/** Flexible loads take the sun that is left before the bank does, past the inverter or through it. */
export function sunToFlexible(parts: StepParts, given: StepGivens, i: number, memory: Memory): void {
  const { inverter } = parts;
  const { flows } = memory;
  const could = flows.could_kWh;
  const left = flows.tracked_kWh - flows.dc_need_kWh;
  const past = Math.max(0, Math.min(could, flows.ac_spare_kWh - flows.spoken_for_kWh));
  let through = Math.min(could - past, flows.rating_kWh - flows.inverter_out_kWh);
  let more = 0;
  if (through > 0 && left > 0) {
    more = inputFor(inverter, flows.inverter_out_kWh + through) - flows.inverter_in_kWh;
    if (more > left) {
      more = left;
      through = Math.max(0, outputFrom(inverter, flows.inverter_in_kWh + more) - flows.inverter_out_kWh);
    }
  } else {
    through = 0;
  }
  flows.ac_spare_kWh -= past;
  flows.ac_to_load_kWh += past;
  flows.inverter_in_kWh += more;
  flows.inverter_out_kWh += through;
  flows.dc_need_kWh += more;
  flows.taken_kWh = past + through;
  flows.wanted_kWh += flows.taken_kWh;
  flows.must_kWh += flows.taken_kWh;
  flows.charger_most_kWh = Math.min(flows.charger_cap_kWh, flows.ac_spare_kWh * parts.charger_efficiency);
  feedFlexible(given, i, memory);
}

/** Loads that take surplus get what nothing else takes: sun on the AC side first, then what is unused on the DC side. */
export function unusedToSurplus(parts: StepParts, given: StepGivens, i: number, memory: Memory): void {
  const { inverter } = parts;
  const { flows } = memory;
  flows.surplus_load_kWh = 0;
  flows.ac_to_surplus_kWh = 0;
  const { ac_spare_kWh: acSpare, unused_kWh: unused, inverter_in_kWh, inverter_out_kWh } = flows;
  if (given.surplus.length === 0 || memory.inverter_off || (unused <= 0 && acSpare <= 0)) return;
  if (flows.source !== NO_SOURCE && !flows.is_parallel) return;
  const most = outputFrom(inverter, inverter_in_kWh + unused) - inverter_out_kWh;
  flows.could_kWh = acSpare + Math.max(0, Math.min(most, flows.rating_kWh - inverter_out_kWh));
  feedSurplus(given, i, memory);
  let surplusLoad = flows.taken_kWh;
  const past = Math.min(acSpare, surplusLoad);
  flows.ac_spare_kWh = acSpare - past;
  // Rounding of sums alone must not wake the inverter.
  if (unused === 0) surplusLoad = past;
  const through = surplusLoad - past;
  if (through > 0) {
    const asked = inputFor(inverter, inverter_out_kWh + through) - inverter_in_kWh;
    const more = Math.max(0, Math.min(unused, asked));
    flows.inverter_out_kWh += through;
    flows.inverter_in_kWh += more;
    flows.unused_kWh -= more;
  }
  flows.surplus_load_kWh = surplusLoad;
  flows.ac_to_surplus_kWh = past;
}

/** Hands `flows.taken_kWh` out to the flexible loads, in the order of the scenario. */
function feedFlexible(given: StepGivens, i: number, memory: Memory): void {
  const { flexible_kWh, flows } = memory;
  let left = flows.taken_kWh;
  for (let k = 0; k < given.flexible.length && left > 0; k++) {
    const load = given.flexible[k]!;
    // What could wait no longer has been taken off already.
    const got = Math.min(left, load.most_kWh[i]!, flexible_kWh[k]!);
    flexible_kWh[k]! -= got;
    left -= got;
  }
}

/** Hands surplus, at most `flows.could_kWh`, out in the order of the scenario; `flows.taken_kWh` is what was taken. */
function feedSurplus(given: StepGivens, i: number, memory: Memory): void {
  const { surplus_kWh, flows } = memory;
  if (memory.surplus_day !== given.day[i]!) {
    memory.surplus_day = given.day[i]!;
    for (let k = 0; k < given.surplus.length; k++) surplus_kWh[k] = given.surplus[k]!.max_kWh_day;
  }
  let left = flows.could_kWh;
  let taken = 0;
  for (let k = 0; k < given.surplus.length && left > 0; k++) {
    const got = Math.min(left, given.surplus[k]!.most_kWh[i]!, surplus_kWh[k]!);
    surplus_kWh[k]! -= got;
    left -= got;
    taken += got;
  }
  flows.taken_kWh = taken;
}
