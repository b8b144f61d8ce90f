import type { Columns } from '../ledger/columns.ts';
import { NOTHING_kWh } from './flows.ts';
import { type Memory, type StepGivens, WROTE_AC_SUN, WROTE_CURTAILED } from './step.ts';

/** Charges curtailed sun, back at the arrays' side of the trackers, to the limit that did it; says what the arrays gave. */
export function bookCurtailed(columns: Columns, given: StepGivens, i: number, memory: Memory): void {
  const { flows } = memory;
  let trackable = given.trackable_kWh[i]!;
  let full = 0;
  let current = 0;
  let cold = 0;
  flows.ac_used_kWh = 0;
  flows.ac_taken_kWh = 0;
  if (flows.ac_sun_kWh > 0) {
    const offered = given.ac_offered_kWh![i]!;
    const used = flows.is_up ? flows.ac_to_load_kWh + flows.ac_to_charger_kWh + flows.ac_to_surplus_kWh : 0;
    const left = flows.ac_sun_kWh - used;
    const atArray = left > 0 ? left * (offered / flows.ac_sun_kWh) : 0;
    let charger = 0;
    let off = 0;
    if (!flows.is_up) off = atArray;
    else if (flows.is_cold) cold = atArray;
    else if (flows.charger_out_kWh >= flows.charger_cap_kWh - NOTHING_kWh) charger = atArray;
    else if (flows.charged_kWh >= flows.charge_current_kWh - NOTHING_kWh) current = atArray;
    else full = atArray;
    trackable -= offered;
    flows.ac_used_kWh = used;
    flows.ac_taken_kWh = offered - atArray;
    memory.wrote |= WROTE_AC_SUN;
    columns.array_ac_kWh[i] = used;
    columns.curtailed_charger_kWh[i] = charger;
    columns.curtailed_inverter_off_kWh[i] = off;
  }
  flows.dc_taken_kWh = trackable;
  if (flows.unused_kWh > 0) {
    const atArray = trackable / flows.tracked_kWh;
    const unused = flows.unused_kWh * atArray;
    if (flows.is_cold) {
      cold += unused;
    } else {
      const atFullCurrent = Math.min(flows.surplus_kWh, flows.charge_current_kWh);
      const sunToBank = Math.min(flows.surplus_kWh, flows.charge_most_kWh);
      const ofFull = Math.min(flows.unused_kWh, Math.max(0, atFullCurrent - sunToBank)) * atArray;
      full += ofFull;
      current += unused - ofFull;
    }
    flows.dc_taken_kWh = trackable - unused;
  }
  if (flows.dc_taken_kWh + flows.ac_taken_kWh < given.available_kWh[i]!) {
    memory.wrote |= WROTE_CURTAILED;
    columns.curtailed_bank_full_kWh[i] = full;
    columns.curtailed_charge_current_kWh[i] = current;
    columns.curtailed_bank_cold_kWh[i] = cold;
  }
}
