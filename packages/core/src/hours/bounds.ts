import { boundCharge, boundDischarge } from '../plant/bank-step.ts';
import { chargeRoom_kWh } from '../plant/bank-taper.ts';
import type { StepParts } from './parts.ts';
import type { Memory, StepGivens } from './step.ts';

/** What sun, engine and bank can do in a step by the state of the bank. Heaters come before the loads, and heat all or nothing. */
export function boundByState(parts: StepParts, given: StepGivens, i: number, memory: Memory): void {
  const { flows, bank } = memory;
  flows.tracked_kWh = given.tracked_kWh[i]!;
  flows.engine_most_kWh = given.engine_share === null ? 0 : given.engine_share[i]! * parts.alternator_kWh;
  flows.self_discharge_kWh = (memory.stock_kWh - parts.floor_kWh) * parts.self_discharge;
  flows.stock_kWh = memory.stock_kWh - flows.self_discharge_kWh;
  if (parts.bank_model !== null) {
    bank.before_kWh = memory.stock_kWh;
    bank.stock_kWh = flows.stock_kWh;
  }
  flows.heat_asked_kWh = given.heat_kWh === null ? 0 : given.heat_kWh[i]!;
  flows.heat_kWh = 0;
  flows.is_frozen = false;
  if (flows.heat_asked_kWh > 0) {
    boundBank(parts, given, i, memory, true);
    flows.heated_discharge_kWh = flows.discharge_most_kWh;
    flows.heated_charge_kWh = flows.charge_most_kWh;
    flows.is_frozen =
      flows.tracked_kWh + flows.engine_most_kWh + flows.discharge_most_kWh < flows.heat_asked_kWh;
    if (!flows.is_frozen) {
      flows.heat_kWh = flows.heat_asked_kWh;
      return;
    }
  }
  boundBank(parts, given, i, memory, false);
}

/**
 * What the bank can give and take in a step, warm from its heaters or as cold as it is.
 *
 * `held_kWh` is what rules go by: the state at the end of the step before, since a bank that has just been filled is full
 * whatever it loses in the hour after. A kinetic bank only nears full: it counts as full once it would take no more than
 * its tail current.
 */
export function boundBank(
  parts: StepParts,
  given: StepGivens,
  i: number,
  memory: Memory,
  heated: boolean,
): void {
  const { bank_model } = parts;
  const { bank, flows } = memory;
  const drawableFloor = heated
    ? parts.heated_floor_kWh
    : given.drawable_floor_kWh === null
      ? parts.floor_kWh
      : given.drawable_floor_kWh[i]!;
  const chargeAmps = heated
    ? parts.heated_charge_amps_share
    : given.charge_amps_share === null
      ? 1
      : given.charge_amps_share[i]!;
  flows.drawable_floor_kWh = drawableFloor;
  flows.is_cold = heated
    ? !parts.heated_charges
    : given.bank_temperature_C[i]! < parts.min_charge_temperature_C;
  flows.held_kWh = memory.stock_kWh;
  if (bank_model === null) {
    flows.discharge_current_kWh = parts.discharge_current_kWh;
    flows.discharge_most_kWh = Math.min(
      Math.max(0, flows.stock_kWh - drawableFloor) * parts.discharge_efficiency,
      parts.discharge_current_kWh,
    );
    flows.reserved_kWh =
      parts.inverter_floor_kWh <= drawableFloor
        ? 0
        : flows.discharge_most_kWh -
          Math.min(
            Math.max(0, flows.stock_kWh - parts.inverter_floor_kWh) * parts.discharge_efficiency,
            parts.discharge_current_kWh,
          );
    flows.charge_current_kWh = Math.min(parts.charge_current_kWh * chargeAmps, parts.device_charge_kWh);
    flows.charge_most_kWh = flows.is_cold
      ? 0
      : Math.min(chargeRoom_kWh(parts.charging, flows.stock_kWh), flows.charge_current_kWh);
  } else {
    bank.charge_amps_share = chargeAmps;
    let toInverter = Number.POSITIVE_INFINITY;
    if (parts.inverter_floor_kWh > drawableFloor) {
      bank.drawable_floor_kWh = parts.inverter_floor_kWh;
      boundDischarge(bank_model, bank);
      toInverter = bank.discharge_most_kWh;
    }
    bank.drawable_floor_kWh = drawableFloor;
    boundDischarge(bank_model, bank);
    flows.reserved_kWh = Math.max(0, bank.discharge_most_kWh - toInverter);
    boundCharge(bank_model, bank);
    flows.discharge_current_kWh = bank.full_current_kWh;
    flows.discharge_most_kWh = bank.discharge_most_kWh;
    flows.charge_current_kWh = Math.min(bank.charge_current_kWh, parts.device_charge_kWh);
    flows.charge_most_kWh = flows.is_cold ? 0 : Math.min(bank.charge_most_kWh, parts.device_charge_kWh);
    if (bank_model.kind === 'kinetic' && bank.room_kWh <= bank_model.tail_kWh)
      flows.held_kWh = parts.capacity_kWh;
  }
}
