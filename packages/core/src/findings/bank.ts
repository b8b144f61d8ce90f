import { localTime } from '../clock/clock.ts';
import type { Ledger } from '../ledger/ledger.ts';
import type { Report } from './report.ts';
import { total } from './totals.ts';
import { wearFindings } from './wear.ts';

/** SoC this close to the floor counts as at it. */
const AT_FLOOR_soc = 1e-6;

/** What the bank went through. */
export function bankFindings(ledger: Ledger): Report['bank'] {
  const { year, columns, steps, step_h } = ledger;
  const { bank } = ledger.plant;
  const floor_soc = bank.floor_kWh / bank.capacity_kWh;
  let lowest = 0;
  let atFloor = 0;
  let cold = 0;
  for (let i = 0; i < steps; i++) {
    if (columns.bank_soc[i]! < columns.bank_soc[lowest]!) lowest = i;
    if (columns.bank_soc[i]! <= floor_soc + AT_FLOOR_soc) atFloor++;
    // Heaters that run hold the bank at their own temperature, whatever the air is.
    const heated = columns.heater_kWh[i]! > 0 && bank.heater !== null;
    const temperature_C = heated ? bank.heater.keep_C : year.bank_temperature_C[i]!;
    if (temperature_C < bank.min_charge_temperature_C) cold++;
  }
  const throughput = total(columns.bank_discharge_kWh);
  return {
    capacity_kWh: bank.capacity_kWh,
    usable_kWh: bank.capacity_kWh - bank.floor_kWh,
    throughput_kWh: throughput,
    charged_kWh: total(columns.bank_charge_kWh),
    loss_kWh: total(columns.bank_loss_kWh),
    equivalent_full_cycles: throughput / bank.capacity_kWh,
    initial_soc: ledger.start_stock_kWh / bank.capacity_kWh,
    gained_kWh: ledger.end.stock_kWh - ledger.start_stock_kWh,
    lowest_soc: columns.bank_soc[lowest]!,
    lowest_soc_time: localTime(year.clock, lowest),
    hours_at_floor: atFloor * step_h,
    hours_too_cold_to_charge: cold * step_h,
    wear: wearFindings(ledger),
  };
}
