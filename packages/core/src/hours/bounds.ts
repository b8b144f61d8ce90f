import { chargeRoom_kWh } from '../plant/bank-taper.ts';
import { boundCharge, boundDischarge } from './bank-step.ts';
import type { StepParts } from './parts.ts';
import {
  CHARGE_CURRENT,
  CHARGE_MOST,
  COLD,
  DISCHARGE_CURRENT,
  DISCHARGE_MOST,
  DRAWABLE_FLOOR,
  ENGINE_MOST,
  HEATED_CHARGE,
  HEATED_DISCHARGE,
  HELD,
  type Memory,
  STOCK,
  type StepGivens,
  TRACKED,
} from './step.ts';

/** Whether sun, engine and what a warm bank can give cover the heaters of this step. */
export function isHeatedByDc(parts: StepParts, given: StepGivens, i: number, memory: Memory): boolean {
  const { scratch } = memory;
  boundBank(parts, given, i, memory, true);
  scratch[HEATED_DISCHARGE] = scratch[DISCHARGE_MOST]!;
  scratch[HEATED_CHARGE] = scratch[CHARGE_MOST]!;
  return scratch[TRACKED]! + scratch[ENGINE_MOST]! + scratch[DISCHARGE_MOST]! >= given.heat_kWh![i]!;
}

/**
 * What the bank can give and take in a step, warm from its heaters or as cold as it is: `scratch[DISCHARGE_MOST]`,
 * `scratch[CHARGE_MOST]` and what they hang on.
 *
 * `scratch[HELD]` is what rules go by: the state at the end of the step before, since a bank that has just been filled
 * is full whatever it loses in the hour after. A kinetic bank only nears full: it counts as full once it would take no
 * more than its tail current.
 */
export function boundBank(
  parts: StepParts,
  given: StepGivens,
  i: number,
  memory: Memory,
  heated: boolean,
): void {
  const { bank_model } = parts;
  const { bank, scratch } = memory;
  const stock = scratch[STOCK]!;
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
  const cold = heated ? !parts.heated_charges : given.bank_temperature_C[i]! < parts.min_charge_temperature_C;
  scratch[DRAWABLE_FLOOR] = drawableFloor;
  scratch[COLD] = cold ? 1 : 0;
  scratch[HELD] = memory.stock_kWh;
  if (bank_model === null) {
    const current = parts.charge_current_kWh * chargeAmps;
    scratch[DISCHARGE_CURRENT] = parts.discharge_current_kWh;
    scratch[DISCHARGE_MOST] = Math.min(
      Math.max(0, stock - drawableFloor) * parts.discharge_efficiency,
      parts.discharge_current_kWh,
    );
    scratch[CHARGE_CURRENT] = current;
    scratch[CHARGE_MOST] = cold ? 0 : Math.min(chargeRoom_kWh(parts.charging, stock), current);
  } else {
    bank.drawable_floor_kWh = drawableFloor;
    bank.charge_amps_share = chargeAmps;
    boundDischarge(bank_model, bank);
    boundCharge(bank_model, bank);
    scratch[DISCHARGE_CURRENT] = bank.full_current_kWh;
    scratch[DISCHARGE_MOST] = bank.discharge_most_kWh;
    scratch[CHARGE_CURRENT] = bank.charge_current_kWh;
    scratch[CHARGE_MOST] = cold ? 0 : bank.charge_most_kWh;
    if (bank_model.kind === 'kinetic' && bank.room_kWh <= bank_model.tail_kWh)
      scratch[HELD] = parts.capacity_kWh;
  }
}
