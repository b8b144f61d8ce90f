import type { Columns } from '../ledger/columns.ts';
import { moveBank } from '../plant/bank-step.ts';
import { GENERATOR, SHORE } from './flows.ts';
import { burnFuel } from './generator.ts';
import type { StepParts } from './parts.ts';
import {
  type Memory,
  type StepGivens,
  WROTE_CHARGER,
  WROTE_DC_LOAD,
  WROTE_ENGINE,
  WROTE_GENERATOR,
  WROTE_HEATER,
  WROTE_SHORE,
  WROTE_SURPLUS,
  WROTE_WAITING,
} from './step.ts';

/** Moves the bank on and writes the step down: the columns of every step, then those of RARE that aren't zero. */
export function closeBooks(
  parts: StepParts,
  columns: Columns,
  given: StepGivens,
  i: number,
  memory: Memory,
): void {
  const { generator, bank_model } = parts;
  const { flows, bank } = memory;
  const charged = flows.charged_kWh;
  const discharged = flows.discharged_kWh;
  const fromSource = flows.carried_kWh + flows.charger_in_kWh - flows.ac_to_charger_kWh;
  const spilled =
    flows.source === GENERATOR ? Math.max(0, (1 - flows.warming) * generator!.min_load_kWh - fromSource) : 0;
  const arrayUsed = flows.dc_taken_kWh + flows.ac_taken_kWh;
  const trackerLoss =
    flows.dc_taken_kWh - (flows.tracked_kWh - flows.unused_kWh) + (flows.ac_taken_kWh - flows.ac_used_kWh);
  let bankLoss: number;
  let end: number;
  if (bank_model === null) {
    bankLoss =
      flows.self_discharge_kWh +
      charged * (1 - parts.charge_efficiency) +
      discharged * (parts.per_discharge_efficiency - 1);
    end = flows.stock_kWh + charged * parts.charge_efficiency - discharged * parts.per_discharge_efficiency;
    // Rounding alone can carry the stock past either end by some 1e-15 of the capacity.
    if (end > parts.capacity_kWh) end = parts.capacity_kWh;
    if (end < parts.floor_kWh) end = parts.floor_kWh;
  } else {
    bank.charged_kWh = charged;
    bank.discharged_kWh = discharged;
    moveBank(bank_model, bank);
    bankLoss = flows.self_discharge_kWh + bank.loss_kWh;
    end = bank.end_kWh;
  }
  const inverterLoss = flows.inverter_in_kWh - flows.inverter_out_kWh;
  const chargerLoss = flows.charger_in_kWh - flows.charger_out_kWh;
  memory.stock_kWh = end;

  columns.load_wanted_kWh[i] = flows.wanted_kWh;
  columns.load_served_kWh[i] = flows.served_kWh;
  columns.array_used_kWh[i] = arrayUsed;
  columns.curtailed_kWh[i] = given.available_kWh[i]! - arrayUsed;
  columns.tracker_loss_kWh[i] = trackerLoss;
  columns.bank_charge_kWh[i] = charged;
  columns.bank_discharge_kWh[i] = discharged;
  columns.bank_loss_kWh[i] = bankLoss;
  columns.bank_stock_kWh[i] = end;
  columns.bank_soc[i] = Math.min(1, end * parts.per_capacity);
  columns.inverter_out_kWh[i] = flows.inverter_out_kWh;
  columns.inverter_loss_kWh[i] = inverterLoss;
  columns.losses_kWh[i] = trackerLoss + bankLoss + flows.heat_kWh + inverterLoss + chargerLoss + spilled;

  let wrote = 0;
  if (flows.heat_kWh > 0) {
    wrote |= WROTE_HEATER;
    columns.heater_kWh[i] = flows.heat_kWh;
  }
  if (flows.engine_kWh > 0) {
    wrote |= WROTE_ENGINE;
    columns.alternator_kWh[i] = flows.engine_kWh;
  }
  if (flows.dc_served_kWh > 0) {
    wrote |= WROTE_DC_LOAD;
    columns.dc_load_served_kWh[i] = flows.dc_served_kWh;
  }
  const flexible = flows.must_kWh + flows.withheld_kWh;
  if (flexible > 0) {
    wrote |= WROTE_WAITING;
    columns.flexible_wanted_kWh[i] = flexible;
  }
  if (flows.surplus_load_kWh > 0) {
    wrote |= WROTE_SURPLUS;
    columns.surplus_load_kWh[i] = flows.surplus_load_kWh;
  }
  if (flows.charger_out_kWh > 0) {
    wrote |= WROTE_CHARGER;
    columns.charger_in_kWh[i] = flows.charger_in_kWh;
    columns.charger_loss_kWh[i] = chargerLoss;
  }
  if (flows.source === GENERATOR) {
    wrote |= WROTE_GENERATOR;
    columns.generator_kWh[i] = fromSource + spilled;
    columns.generator_spilled_kWh[i] = spilled;
    columns.generator_run_h[i] = parts.step_h;
    burnFuel(generator!, columns, i, memory);
  } else if (flows.source === SHORE) {
    wrote |= WROTE_SHORE;
    columns.shore_kWh[i] = fromSource;
  }
  memory.wrote |= wrote;
}
