import { expectArgument } from '../basis/arguments.ts';
import { fuelAt_L_per_h } from '../plant/fuel.ts';
import type { EngineGenerator } from '../plant/generator.ts';
import type { Ledger } from './ledger.ts';

/** What the check of the books found. */
export interface Audit {
  /** Largest imbalance found, kWh; NaN where a figure is none. */ readonly largest_imbalance_kWh: number;
  /** Step in which it was found. */ readonly step: number;
  /** All of the ledger. */ readonly steps_checked: number;
  /** Most that rounding alone may leave: `TOLERANCE_share` of the largest flow of the ledger, `TOLERANCE_kWh` at least. */
  readonly tolerance_kWh: number;
}

/** Largest imbalance of any step that a report is given out with, in a plant of up to 1,000 kWh in a step. */
const TOLERANCE_kWh = 1e-9;
/** The same beyond that: a sum of some twenty flows rounds to 1e-15 of the largest, our own choice, no source. */
const TOLERANCE_share = 1e-12;

/**
 * Checks the books of a played year from its columns: in every step both buses, the bank's stock and state of charge,
 * the plant as a whole, each total against its causes, what is wanted against the loads, and hours and fuel of the
 * generator against its curve and warm-up. A column that was written wrongly shows up here, whoever wrote it.
 *
 * A state of charge counts as energy of the bank, an hour of the generator as one at its rating, a litre as what the
 * rating makes of it.
 */
export function audit(ledger: Ledger): Audit {
  expectArgument('audit', 'ledger', ledger, 'ledger');
  const { step_h, steps, columns: c } = ledger;
  const { bank, generator } = ledger.plant;
  const { total_kW } = ledger.year.loads;
  let largest = 0;
  let at = 0;
  let stock = ledger.start_stock_kWh;
  let flow = stock;
  // What a litre makes at the rating.
  const kWh_per_L =
    generator === null ? 1 : generator.rating_kW / fuelAt_L_per_h(generator.fuel, generator.rating_kW);
  const engine = generator === null ? null : engineMiss(generator, step_h, kWh_per_L);
  for (let i = 0; i < steps; i++) {
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
    const alternator = c.alternator_kWh[i]!;

    // Of the sun and of other sources.
    const past = c.array_ac_kWh[i]! + c.other_ac_kWh[i]!;
    const other = c.other_used_kWh[i]!;
    const other_curtailed = c.other_curtailed_kWh[i]!;
    const dc_served = c.dc_load_served_kWh[i]!;
    const surplus_load = c.surplus_load_kWh[i]!;

    const ac_bus =
      inverted + past + generated + shore - (served - dc_served) - surplus_load - charger_in - spilled;
    const dc_bus =
      used +
      other -
      tracker_loss -
      past +
      alternator +
      (charger_in - charger_loss) +
      discharged -
      charged -
      (inverted + inverter_loss) -
      heater -
      dc_served;
    const bank_store = stored - charged + discharged + bank_loss;
    const plant = used + other + generated + shore + alternator - served - surplus_load - stored - losses;
    const loss_parts = losses - tracker_loss - bank_loss - heater - inverter_loss - charger_loss - spilled;
    const wanted = c.load_wanted_kWh[i]!;
    const load = wanted - served - unmet;
    const asked = wanted - total_kW[i]! * step_h - c.flexible_wanted_kWh[i]!;
    const unmet_causes =
      unmet -
      c.unmet_bank_floor_kWh[i]! -
      c.unmet_bank_cold_kWh[i]! -
      c.unmet_bank_current_kWh[i]! -
      c.unmet_inverter_rating_kWh[i]! -
      c.unmet_leg_kWh[i]! -
      c.unmet_inverter_asleep_kWh[i]! -
      c.unmet_inverter_cut_off_kWh[i]! -
      c.unmet_generator_rating_kWh[i]! -
      c.unmet_generator_barred_kWh[i]! -
      c.unmet_fuel_kWh[i]! -
      c.unmet_shore_rating_kWh[i]! -
      c.unmet_shed_kWh[i]!;
    const sun = c.array_available_kWh[i]! - used - curtailed;
    const offered = c.other_available_kWh[i]! - other - other_curtailed;
    const curtailed_causes =
      curtailed +
      other_curtailed -
      c.curtailed_bank_full_kWh[i]! -
      c.curtailed_charge_current_kWh[i]! -
      c.curtailed_bank_cold_kWh[i]! -
      c.curtailed_charger_kWh[i]! -
      c.curtailed_inverter_off_kWh[i]! -
      c.curtailed_tracker_voltage_kWh[i]! -
      c.curtailed_tracker_power_kWh[i]! -
      c.curtailed_tracker_current_kWh[i]! -
      c.curtailed_other_power_kWh[i]!;

    const soc = (c.bank_soc[i]! - Math.min(1, stock / bank.capacity_kWh)) * bank.capacity_kWh;
    const run_h = c.generator_run_h[i]!;
    const fuel_L = c.fuel_L[i]!;
    const ran = engine === null ? Math.abs(run_h) + Math.abs(fuel_L) : engine(run_h, generated, fuel_L);

    flow = Math.max(
      flow,
      stock,
      c.array_available_kWh[i]!,
      c.other_available_kWh[i]!,
      generated,
      shore,
      wanted,
      charger_in,
      fuel_L * kWh_per_L,
    );
    const worst = Math.max(
      Math.abs(ac_bus),
      Math.abs(dc_bus),
      Math.abs(bank_store),
      Math.abs(plant),
      Math.abs(loss_parts),
      Math.abs(load),
      Math.abs(unmet_causes),
      Math.abs(sun),
      Math.abs(offered),
      Math.abs(curtailed_causes),
      Math.abs(asked),
      Math.abs(soc),
      ran,
    );
    // Written so that a NaN, which compares false with everything, is caught as well, and ends it: no later step is worse.
    if (!(worst <= largest)) {
      largest = worst;
      at = i;
      if (Number.isNaN(worst)) break;
    }
  }
  return {
    largest_imbalance_kWh: largest,
    step: at,
    steps_checked: steps,
    tolerance_kWh: Math.max(TOLERANCE_kWh, TOLERANCE_share * flow),
  };
}

/**
 * Reckons hours and fuel of a generator again, in powers and hours where the loop has energies of a step.
 *
 * @returns how far the next step, from the first on, is from what it should be, as energy
 */
function engineMiss(
  { rating_kW, min_load_kW, warm_up_h, fuel }: EngineGenerator,
  step_h: number,
  kWh_per_L: number,
): (run_h: number, made_kWh: number, fuel_L: number) => number {
  /** Fuel of a step so long after the start: at the least load until it is warm, then for what it makes. */
  const fuelAfter_L = (ran_h: number, made_kWh: number): number => {
    const cold_h = Math.min(step_h, Math.max(0, warm_up_h - ran_h));
    const warm_h = step_h - cold_h;
    const cold_L = cold_h * fuelAt_L_per_h(fuel, min_load_kW);
    return warm_h > 0 ? cold_L + warm_h * fuelAt_L_per_h(fuel, made_kWh / warm_h) : cold_L;
  };
  /** Two fits of a step's fuel that differ by less than this differ by rounding. */
  const same_L = 1e-9 * step_h * fuelAt_L_per_h(fuel, rating_kW);
  /**
   * Hours since its last start that its fuel allows; null before the first step, before which it may have started: a
   * cold step fits several of them, and those after it tell which.
   */
  let ran_h: readonly number[] | null = null;
  return (run_h, made_kWh, fuel_L) => {
    if (!(run_h > 0)) {
      ran_h = FROM_START;
      return Math.abs(run_h) * rating_kW + Math.abs(made_kWh) + Math.abs(fuel_L) * kWh_per_L;
    }
    ran_h ??= Array.from({ length: Math.ceil(warm_up_h / step_h) + 1 }, (_, k) => k * step_h);
    const misses_L = ran_h.map((hours) => Math.abs(fuel_L - fuelAfter_L(hours, made_kWh)));
    const least_L = Math.min(...misses_L);
    ran_h = ran_h.filter((_, k) => !(misses_L[k]! > least_L + same_L)).map((hours) => hours + step_h);
    return Math.abs(run_h - step_h) * rating_kW + least_L * kWh_per_L;
  };
}

const FROM_START: readonly number[] = [0];
