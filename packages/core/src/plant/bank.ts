import { ampsAtVolts_kW } from '../basis/units.ts';
import type { BankSpec } from '../scenario/schema.ts';

/** All modules together. Powers are at the terminals, energies are what is stored. */
export interface Bank {
  readonly modules_parallel: number;
  readonly nominal_voltage_V: number;
  readonly module_max_charge_A: number;
  readonly module_max_discharge_A: number;
  /** For moments; null where the scenario does not give it. */
  readonly module_peak_discharge_A: number | null;
  readonly capacity_kWh: number;
  readonly floor_kWh: number;
  readonly max_charge_kW: number;
  readonly max_discharge_kW: number;
  /** Stored per kWh put in, and given per kWh taken from store: the square root of the round trip each. */
  readonly charge_efficiency: number;
  readonly discharge_efficiency: number;
  readonly taper_start_soc: number;
  readonly taper_end_share: number;
  /** Share of the stock above the floor lost per hour. */
  readonly self_discharge_per_h: number;
  readonly min_charge_temperature_C: number;
  /** Share of the capacity that can be drawn at a temperature, ascending; empty if all of it at any. */
  readonly capacity_at_temperature: readonly { readonly temperature_C: number; readonly share: number }[];
  /** Null without heaters. */
  readonly heater: { readonly keep_C: number; readonly loss_kW_per_K: number } | null;
}

const HOURS_PER_MONTH = 720;

/**
 * Builds the bank from its modules: n modules in parallel store n × V × Ah and carry n × A.
 * The round trip is split evenly between charging and discharging.
 */
export function buildBank(spec: BankSpec): Bank {
  const n = spec.modules_parallel;
  const { nominal_voltage_V, capacity_Ah, max_charge_A, max_discharge_A } = spec.module;
  const capacity_kWh = ampsAtVolts_kW(n * capacity_Ah, nominal_voltage_V);
  const oneWay = Math.sqrt(spec.round_trip_efficiency_share);
  return {
    modules_parallel: n,
    nominal_voltage_V,
    module_max_charge_A: max_charge_A,
    module_max_discharge_A: max_discharge_A,
    module_peak_discharge_A: spec.module.peak_discharge_A ?? null,
    capacity_kWh,
    floor_kWh: capacity_kWh * spec.floor_soc,
    max_charge_kW: ampsAtVolts_kW(n * max_charge_A, nominal_voltage_V),
    max_discharge_kW: ampsAtVolts_kW(n * max_discharge_A, nominal_voltage_V),
    charge_efficiency: oneWay,
    discharge_efficiency: oneWay,
    taper_start_soc: spec.taper_start_soc,
    taper_end_share: spec.taper_end_share,
    self_discharge_per_h: selfDischarge_per_h(spec.self_discharge_share_per_month, spec.floor_soc),
    min_charge_temperature_C: spec.min_charge_temperature_C,
    capacity_at_temperature: spec.capacity_at_temperature ?? [],
    heater:
      spec.heater === undefined
        ? null
        : { keep_C: spec.heater.keep_C, loss_kW_per_K: spec.heater.loss_W_per_K / 1000 },
  };
}

/** The same bank with another number of modules. */
export function withModules(bank: Bank, modules_parallel: number): Bank {
  const factor = modules_parallel / bank.modules_parallel;
  return {
    ...bank,
    modules_parallel,
    capacity_kWh: bank.capacity_kWh * factor,
    floor_kWh: bank.floor_kWh * factor,
    max_charge_kW: bank.max_charge_kW * factor,
    max_discharge_kW: bank.max_discharge_kW * factor,
  };
}

/**
 * Hourly self-discharge such that a full bank left alone for 30 days loses the stated share of its capacity. It is
 * charged to the stock above the floor: below it nothing is drawn, so what is lost there changes no answer, and a
 * larger bank then never serves less than a smaller one, which sizing relies on.
 */
const selfDischarge_per_h = (share_per_month: number, floor_soc: number): number =>
  1 - Math.max(0, 1 - share_per_month / (1 - floor_soc)) ** (1 / HOURS_PER_MONTH);

/** What `chargeRoom_kWh` needs of a bank for steps of one length, worked out once. */
export interface ChargeTerms {
  readonly capacity_kWh: number;
  readonly efficiency: number;
  /** Energy of a step at the full current. */
  readonly current_kWh: number;
  /** Empty share below which the current tapers, and the empty share from which a step at full current stays out of it. */
  readonly taper_share: number;
  readonly clear_share: number;
  /** Empty share filled in a step at full current. */
  readonly fill_share: number;
  /** End share over slope of the taper, and the exponent of a whole step. */
  readonly tail: number;
  readonly exponent: number;
  /** What is left of the empty share, above -tail, after a whole step in the taper. */
  readonly decay: number;
}

/** Works out the terms of `chargeRoom_kWh` for steps of `step_h` hours. */
export function chargeTerms(bank: Bank, step_h: number): ChargeTerms {
  const taper_share = 1 - bank.taper_start_soc;
  const fill_share = (bank.charge_efficiency * bank.max_charge_kW * step_h) / bank.capacity_kWh;
  const isTapering = taper_share > 0 && bank.taper_end_share < 1;
  const slope = isTapering ? (1 - bank.taper_end_share) / taper_share : 0;
  const exponent = fill_share * slope;
  return {
    capacity_kWh: bank.capacity_kWh,
    efficiency: bank.charge_efficiency,
    current_kWh: bank.max_charge_kW * step_h,
    taper_share,
    clear_share: isTapering ? taper_share + fill_share : Number.NEGATIVE_INFINITY,
    fill_share,
    tail: isTapering ? bank.taper_end_share / slope : 0,
    exponent,
    decay: Math.exp(-exponent),
  };
}

/**
 * Energy at the terminals that the bank takes within a step if it is offered all it will take, in kWh.
 *
 * Below `taper_start_soc` the current limit holds. Above it the accepted power falls on a straight line of the empty
 * share x = 1 - soc, from the full limit to `taper_end_share` of it at full, so that dx/dt = -a (e + b x), with
 * a = efficiency × limit / capacity, e the end share and b = (1 - e) / (1 - taper_start). This is its exact
 * integral over the step, so the result does not depend on where in the taper the step begins or how long it is.
 */
export function chargeRoom_kWh(terms: ChargeTerms, stock_kWh: number): number {
  const { capacity_kWh, efficiency, current_kWh, taper_share, tail } = terms;
  const room_kWh = (capacity_kWh - stock_kWh) / efficiency;
  const empty = 1 - stock_kWh / capacity_kWh;
  let into_kWh = current_kWh;
  if (empty < terms.clear_share) {
    const before = empty > taper_share ? (empty - taper_share) / terms.fill_share : 0;
    const decay = before === 0 ? terms.decay : Math.exp(terms.exponent * (before - 1));
    const left = (Math.min(empty, taper_share) + tail) * decay - tail;
    into_kWh = ((empty - Math.max(left, 0)) * capacity_kWh) / efficiency;
  }
  return Math.min(into_kWh, current_kWh, room_kWh);
}
