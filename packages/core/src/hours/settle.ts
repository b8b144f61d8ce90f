import type { Columns } from '../ledger/columns.ts';
import { chargeRoom_kWh } from '../plant/bank.ts';
import { acFromDc_kW, dcForAc_kW } from '../plant/inverter.ts';
import type { StepParts } from './parts.ts';

/** What one step hands to the next. The only mutable state of a played year. */
export interface Memory {
  stock_kWh: number;
  generator_on: boolean;
  /** Hours since the generator last started. */
  ran_h: number;
}

/** What a step is given from outside, as columns. */
export interface StepGivens {
  /** Array energy at the trackers' DC side. */
  readonly tracked_kWh: Float64Array;
  readonly bank_temperature_C: Float64Array;
}

/** Below this an energy counts as none: rounding of sums, a billion times under a watt-hour's worth. */
const NOTHING_kWh = 1e-12;

/**
 * Settles one step: who serves the load, what the bank gives or takes, what is unserved and unused and which limit
 * did it. Reads the wanted load and the three array columns at `i`, writes every other ledger column at `i`, and moves
 * `memory` on. The order is that of the design: what the bank can do, what the sun offers, whether the generator runs,
 * loads, surplus, causes, books.
 *
 * @param given columns, not numbers: a number handed to a function this large is boxed on the heap at each step
 */
export function settle(
  parts: StepParts,
  columns: Columns,
  given: StepGivens,
  i: number,
  memory: Memory,
): void {
  const { inverter, generator } = parts;
  const tracked_kWh = given.tracked_kWh[i]!;
  const wanted = columns.load_wanted_kWh[i]!;

  // What the bank can do.
  const selfDischarge = (memory.stock_kWh - parts.floor_kWh) * parts.self_discharge;
  const stock = memory.stock_kWh - selfDischarge;
  const dischargeMost = Math.min(
    (stock - parts.floor_kWh) * parts.discharge_efficiency,
    parts.discharge_current_kWh,
  );
  const cold = given.bank_temperature_C[i]! < parts.min_charge_temperature_C;
  const chargeMost = cold ? 0 : chargeRoom_kWh(parts.charging, stock);

  // What inverter, sun and bank would serve alone.
  const rating = parts.inverter_rating_kWh;
  const sunAndBank = tracked_kWh + dischargeMost;
  let inverterAsked = Math.min(wanted, rating);
  let dcNeed = dcForAc_kW(inverter, inverterAsked);
  let inverterOut = inverterAsked;
  if (dcNeed > sunAndBank) {
    dcNeed = sunAndBank;
    inverterOut = acFromDc_kW(inverter, sunAndBank);
  }

  // Whether the generator runs.
  let running = false;
  let generatorLoad = 0;
  let chargerMost = 0;
  if (generator !== null) {
    const most = generator.rating_kWh;
    const canCharge = parts.charger_kWh > 0 && chargeMost > NOTHING_kWh;
    const carries = Math.min(wanted, most);
    running = memory.generator_on
      ? memory.ran_h < generator.min_run_h || (canCharge && stock < generator.stop_kWh)
      : canCharge && stock <= generator.start_kWh;
    // A step that would otherwise go unserved starts it, and keeps it running, if it serves more than the rest would.
    const servesMore = generator.parallel ? carries > 0 : carries > inverterOut + NOTHING_kWh;
    if (!running && wanted - inverterOut > NOTHING_kWh && servesMore) running = true;
    // Behind a plain transfer switch it would take the loads down with it if it can't carry what the inverter can.
    if (running && !generator.parallel && carries < inverterOut - NOTHING_kWh) running = false;
    if (running) {
      generatorLoad = carries;
      chargerMost = Math.min(parts.charger_kWh, (most - carries) * parts.charger_efficiency);
      const rest = generator.parallel ? wanted - carries : 0;
      inverterAsked = Math.min(rest, rating);
      inverterOut = inverterAsked;
      dcNeed = dcForAc_kW(inverter, inverterAsked);
      if (inverterAsked > 0 && dcNeed > sunAndBank) {
        dcNeed = sunAndBank;
        inverterOut = acFromDc_kW(inverter, sunAndBank);
      } else if (dcNeed > sunAndBank + chargerMost) {
        dcNeed = sunAndBank + chargerMost;
      }
    }
    memory.ran_h = running ? (memory.generator_on ? memory.ran_h : 0) + parts.step_h : 0;
    memory.generator_on = running;
  }

  // The DC bus: sun first, then what the charger can spare, then the bank; surplus into the bank, sun first.
  const served = generatorLoad + inverterOut;
  const shortOfSun = dcNeed > tracked_kWh ? dcNeed - tracked_kWh : 0;
  const chargerToBus = Math.min(shortOfSun, chargerMost);
  const discharged = shortOfSun - chargerToBus;
  const surplus = tracked_kWh > dcNeed ? tracked_kWh - dcNeed : 0;
  const sunToBank = Math.min(surplus, chargeMost);
  const chargerToBank =
    discharged > 0 ? 0 : Math.max(0, Math.min(chargerMost - chargerToBus, chargeMost - sunToBank));
  const charged = sunToBank + chargerToBank;

  // Unserved, charged to the limits in layers: each gets what stays unserved when all limits behind it are lifted.
  const unmet = wanted - served;
  let unmetFloor = 0;
  let unmetCurrent = 0;
  let unmetInverter = 0;
  let unmetGenerator = 0;
  if (unmet > 0) {
    if (running && !generator!.parallel) {
      unmetGenerator = unmet;
    } else {
      const shortOfDc = inverterAsked - inverterOut;
      unmetInverter = Math.max(0, unmet - shortOfDc);
      if (shortOfDc > 0) {
        const atFullCurrent = Math.min(
          inverterAsked,
          acFromDc_kW(inverter, tracked_kWh + parts.discharge_current_kWh),
        );
        unmetFloor = Math.max(0, atFullCurrent - inverterOut);
        unmetCurrent = shortOfDc - unmetFloor;
      }
    }
  }

  // Unused sun, back at the array's side of the trackers.
  const trackable =
    columns.array_available_kWh[i]! -
    columns.curtailed_tracker_power_kWh[i]! -
    columns.curtailed_tracker_current_kWh[i]!;
  const unused = surplus - sunToBank;
  let curtailedFull = 0;
  let curtailedCurrent = 0;
  let curtailedCold = 0;
  if (unused > 0) {
    const atArray = trackable / tracked_kWh;
    if (cold) {
      curtailedCold = unused * atArray;
    } else {
      const takenAtFullCurrent = Math.min(surplus, parts.charge_current_kWh);
      curtailedFull = Math.max(0, takenAtFullCurrent - sunToBank) * atArray;
      curtailedCurrent = unused * atArray - curtailedFull;
    }
  }
  const arrayUsed = trackable - curtailedFull - curtailedCurrent - curtailedCold;

  // The books.
  const chargerOut = chargerToBus + chargerToBank;
  const chargerIn = chargerOut > 0 ? chargerOut / parts.charger_efficiency : 0;
  let generated = generatorLoad + chargerIn;
  let spilled = 0;
  if (running) {
    const least = generator!.min_load_kWh;
    if (generated < least) {
      spilled = least - generated;
      generated = least;
    }
  }
  const trackerLoss = arrayUsed - (tracked_kWh - unused);
  const bankLoss =
    selfDischarge +
    charged * (1 - parts.charge_efficiency) +
    discharged * (parts.per_discharge_efficiency - 1);
  const inverterLoss = dcNeed - inverterOut;
  const chargerLoss = chargerIn - chargerOut;
  let end = stock + charged * parts.charge_efficiency - discharged * parts.per_discharge_efficiency;
  // Rounding alone can carry the stock past either end by some 1e-15 of the capacity.
  if (end > parts.capacity_kWh) end = parts.capacity_kWh;
  if (end < parts.floor_kWh) end = parts.floor_kWh;
  memory.stock_kWh = end;

  columns.load_served_kWh[i] = served;
  columns.unmet_kWh[i] = unmet;
  columns.unmet_bank_floor_kWh[i] = unmetFloor;
  columns.unmet_bank_current_kWh[i] = unmetCurrent;
  columns.unmet_inverter_rating_kWh[i] = unmetInverter;
  columns.unmet_generator_rating_kWh[i] = unmetGenerator;
  columns.array_used_kWh[i] = arrayUsed;
  columns.curtailed_kWh[i] = columns.array_available_kWh[i]! - arrayUsed;
  columns.curtailed_bank_full_kWh[i] = curtailedFull;
  columns.curtailed_charge_current_kWh[i] = curtailedCurrent;
  columns.curtailed_bank_cold_kWh[i] = curtailedCold;
  columns.tracker_loss_kWh[i] = trackerLoss;
  columns.bank_charge_kWh[i] = charged;
  columns.bank_discharge_kWh[i] = discharged;
  columns.bank_loss_kWh[i] = bankLoss;
  columns.bank_stock_kWh[i] = end;
  columns.bank_soc[i] = Math.min(1, end * parts.per_capacity);
  columns.inverter_out_kWh[i] = inverterOut;
  columns.inverter_loss_kWh[i] = inverterLoss;
  columns.charger_in_kWh[i] = chargerIn;
  columns.charger_loss_kWh[i] = chargerLoss;
  columns.generator_kWh[i] = generated;
  columns.generator_spilled_kWh[i] = spilled;
  columns.generator_run_h[i] = running ? parts.step_h : 0;
  columns.fuel_L[i] = running ? generator!.idle_fuel_L + generator!.fuel_L_per_kWh * generated : 0;
  columns.losses_kWh[i] = trackerLoss + bankLoss + inverterLoss + chargerLoss + spilled;
}
