import { localTime } from '../clock/clock.ts';
import type { Ledger } from '../ledger/ledger.ts';
import { emptiestStep, total } from './totals.ts';
import { type WearFindings, wearFindings } from './wear.ts';

/** What the bank went through. */
export interface BankFindings {
  /** Energy of the bank between empty and full, at its nominal voltage. */ readonly capacity_kWh: number;
  /** Between full and floor, before discharge losses. */
  readonly usable_kWh: number;
  /** Energy discharged, at the terminals. */
  readonly throughput_kWh: number;
  /** Energy charged, at the terminals. */ readonly charged_kWh: number;
  /** Lost in the bank: charging, discharging, self-discharge. */ readonly loss_kWh: number;
  /** Throughput over capacity. */
  readonly equivalent_full_cycles: number;
  /** State of charge with which the year begins. */
  readonly initial_soc: number;
  /** What it holds at the end of the year less what it held at the beginning: 0 if the year closes. */
  readonly gained_kWh: number;
  /** Lowest state of charge of the year. */ readonly lowest_soc: number;
  /** Start of the step at whose end it is reached first, local time. */ readonly lowest_soc_time: string;
  /** Hours that end with the bank at its floor. */ readonly hours_at_floor: number;
  /** Hours in which the bank is below its least charging temperature. */ readonly hours_too_cold_to_charge: number;
  /** Null where the scenario states no life of the bank. */
  readonly wear: WearFindings | null;
}

/** SoC this close to the floor counts as at it. */
const AT_FLOOR_soc = 1e-6;

/** What the bank went through. */
export function bankFindings(ledger: Ledger): BankFindings {
  const { year, columns, steps, step_h } = ledger;
  const { bank } = ledger.plant;
  const floor_soc = bank.floor_kWh / bank.capacity_kWh;
  const lowest = emptiestStep(ledger);
  let atFloor = 0;
  let cold = 0;
  for (let i = 0; i < steps; i++) {
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
