import type { Ledger } from './ledger.ts';

/** What the check of the books found. */
export interface Audit {
  /** Largest imbalance found, kWh. */
  readonly largest_imbalance_kWh: number;
  /** Step in which it was found. */
  readonly step: number;
  readonly steps_checked: number;
}

/**
 * Checks the books of a played year from its columns alone: in every step both buses, the bank's stock, the plant as
 * a whole, and each total against its causes. A column that was written wrongly shows up here, whoever wrote it.
 */
export function audit(ledger: Ledger): Audit {
  const c = ledger.columns;
  let largest = 0;
  let at = 0;
  let stock = ledger.start_stock_kWh;
  for (let i = 0; i < ledger.steps; i++) {
    const stored = c.bank_stock_kWh[i]! - stock;
    stock = c.bank_stock_kWh[i]!;
    const charged = c.bank_charge_kWh[i]!;
    const discharged = c.bank_discharge_kWh[i]!;
    const used = c.array_used_kWh[i]!;
    const served = c.load_served_kWh[i]!;
    const unmet = c.unmet_kWh[i]!;
    const curtailed = c.curtailed_kWh[i]!;
    const generated = c.generator_kWh[i]!;
    const spilled = c.generator_spilled_kWh[i]!;
    const inverted = c.inverter_out_kWh[i]!;
    const charger_in = c.charger_in_kWh[i]!;
    const tracker_loss = c.tracker_loss_kWh[i]!;
    const bank_loss = c.bank_loss_kWh[i]!;
    const inverter_loss = c.inverter_loss_kWh[i]!;
    const charger_loss = c.charger_loss_kWh[i]!;
    const losses = c.losses_kWh[i]!;

    const shore = c.shore_kWh[i]!;
    const heater = c.heater_kWh[i]!;
    const engine = c.engine_charging_kWh[i]!;

    const array_ac = c.array_ac_kWh[i]!;
    const dc_served = c.dc_load_served_kWh[i]!;
    const surplus_load = c.surplus_load_kWh[i]!;

    const ac_bus =
      inverted + array_ac + generated + shore - (served - dc_served) - surplus_load - charger_in - spilled;
    const dc_bus =
      used -
      tracker_loss -
      array_ac +
      engine +
      (charger_in - charger_loss) +
      discharged -
      charged -
      (inverted + inverter_loss) -
      heater -
      dc_served;
    const bank = stored - charged + discharged + bank_loss;
    const plant = used + generated + shore + engine - served - surplus_load - stored - losses;
    const loss_parts = losses - tracker_loss - bank_loss - heater - inverter_loss - charger_loss - spilled;
    const load = c.load_wanted_kWh[i]! - served - unmet;
    const unmet_causes =
      unmet -
      c.unmet_bank_floor_kWh[i]! -
      c.unmet_bank_cold_kWh[i]! -
      c.unmet_bank_current_kWh[i]! -
      c.unmet_inverter_rating_kWh[i]! -
      c.unmet_leg_kWh[i]! -
      c.unmet_inverter_asleep_kWh[i]! -
      c.unmet_generator_rating_kWh[i]! -
      c.unmet_generator_barred_kWh[i]! -
      c.unmet_fuel_kWh[i]! -
      c.unmet_shore_rating_kWh[i]! -
      c.unmet_shed_kWh[i]!;
    const sun = c.array_available_kWh[i]! - used - curtailed;
    const curtailed_causes =
      curtailed -
      c.curtailed_bank_full_kWh[i]! -
      c.curtailed_charge_current_kWh[i]! -
      c.curtailed_bank_cold_kWh[i]! -
      c.curtailed_charger_kWh[i]! -
      c.curtailed_inverter_off_kWh[i]! -
      c.curtailed_tracker_voltage_kWh[i]! -
      c.curtailed_tracker_power_kWh[i]! -
      c.curtailed_tracker_current_kWh[i]!;

    const worst = Math.max(
      Math.abs(ac_bus),
      Math.abs(dc_bus),
      Math.abs(bank),
      Math.abs(plant),
      Math.abs(loss_parts),
      Math.abs(load),
      Math.abs(unmet_causes),
      Math.abs(sun),
      Math.abs(curtailed_causes),
    );
    // Written so that a NaN, which compares false with everything, is caught as well.
    if (!(worst <= largest)) {
      largest = worst;
      at = i;
    }
  }
  return { largest_imbalance_kWh: largest, step: at, steps_checked: ledger.steps };
}
