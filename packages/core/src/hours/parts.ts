import { type ModelParts, modelParts } from '../plant/bank-step.ts';
import { type ChargeTerms, chargeTerms } from '../plant/bank-taper.ts';
import { chargeAmps_share, drawableFloor_kWh } from '../plant/cold.ts';
import { type FuelCurve, fuelAt_L_per_h, fuelPerStep } from '../plant/fuel.ts';
import type { EngineGenerator } from '../plant/generator.ts';
import { curvePerStep, type LossCurve } from '../plant/inverter.ts';
import { type Charger, inverterFloor_kWh, type Plant, type Shore } from '../plant/plant.ts';

/**
 * A plant as one step sees it: its limits as energies of a step, worked out once a year, so that the loop neither
 * converts nor divides. Everything in kWh per step unless its name says otherwise.
 */
export interface StepParts {
  readonly step_h: number;
  readonly capacity_kWh: number;
  readonly per_capacity: number;
  readonly floor_kWh: number;
  /** Share of the stock above the floor lost in a step. */
  readonly self_discharge: number;
  readonly discharge_efficiency: number;
  readonly per_discharge_efficiency: number;
  readonly charge_efficiency: number;
  readonly discharge_current_kWh: number;
  readonly charge_current_kWh: number;
  /** Most that an all-in-one and what stands beside it put into the bank, whatever its modules take. */
  readonly device_charge_kWh: number;
  readonly min_charge_temperature_C: number;
  readonly charging: ChargeTerms;
  /** Null for a bank of fixed efficiency. */
  readonly bank_model: ModelParts | null;
  readonly inverter: LossCurve;
  readonly inverter_rating_kWh: number;
  readonly legs: number;
  /** Stock down to which it draws, that at which it cuts off (less than nothing if it never does), and that of its return. */
  readonly inverter_floor_kWh: number;
  readonly cut_off_kWh: number;
  readonly reconnect_kWh: number;
  /** Drawn while it looks for a load in its sleep. */
  readonly search_kWh: number;
  /** Most out of the charger, and the same on the circuits of socket and generator. */
  readonly charger_kWh: number;
  readonly shore_charger_kWh: number;
  readonly generator_charger_kWh: number;
  readonly charger_efficiency: number;
  readonly generator: GeneratorParts | null;
  readonly shore_kWh: number;
  readonly shore_parallel: boolean;
  /** True if sun that the bank can't take carries loads before the socket does. */
  readonly shore_after_sun: boolean;
  /** Stocks at which the socket takes over and hands back; above all there is where it carries whenever it is there. */
  readonly shore_at_kWh: number;
  readonly shore_until_kWh: number;
  readonly alternator_kWh: number;
  readonly shedding: readonly ShedParts[];
  /** Stock that can't be drawn while the heaters hold the bank at their temperature. */
  readonly heated_floor_kWh: number;
  /** True if the heaters hold it warm enough to be charged. */
  readonly heated_charges: boolean;
  /** Share of the charge amps that the modules take while the heaters run. */
  readonly heated_charge_amps_share: number;
}

/** A tier's shedding, in energies stored. `tier` is its place among the tiers of the loads. */
export interface ShedParts {
  readonly tier: number;
  readonly shed_kWh: number;
  readonly restore_kWh: number;
}

const chargerOn_kW = (charger: Charger | null, input_kW = Number.POSITIVE_INFINITY): number =>
  charger === null ? 0 : Math.min(charger.max_output_kW, input_kW * charger.efficiency);

function shoreStocks(shore: Shore | null, capacity_kWh: number) {
  if (shore === null || shore.carries.kind !== 'after_bank')
    return { shore_at_kWh: Number.POSITIVE_INFINITY, shore_until_kWh: Number.POSITIVE_INFINITY };
  const { at_soc, until_soc } = shore.carries;
  return { shore_at_kWh: at_soc * capacity_kWh, shore_until_kWh: (until_soc - 1e-9) * capacity_kWh };
}

/** A bank that has reached either but for rounding has reached it. */
function cutOffStocks({ bank: { capacity_kWh }, inverter: { cut_off } }: Plant) {
  if (cut_off === null) return { cut_off_kWh: -1, reconnect_kWh: -1 };
  return {
    cut_off_kWh: (cut_off.cut_off_soc + 1e-9) * capacity_kWh,
    reconnect_kWh: (cut_off.reconnect_soc - 1e-9) * capacity_kWh,
  };
}

/**
 * Works a plant out for steps of `step_h` hours.
 *
 * @param tiers tier numbers of the loads, ascending; a rule for a tier without loads falls away
 */
export function partsForStep(plant: Plant, step_h: number, tiers: readonly number[]): StepParts {
  const { bank, charger, generator, shore } = plant;
  return {
    step_h,
    capacity_kWh: bank.capacity_kWh,
    per_capacity: 1 / bank.capacity_kWh,
    floor_kWh: bank.floor_kWh,
    self_discharge: bank.self_discharge_per_h * step_h,
    discharge_efficiency: bank.discharge_efficiency,
    per_discharge_efficiency: 1 / bank.discharge_efficiency,
    charge_efficiency: bank.charge_efficiency,
    discharge_current_kWh: bank.max_discharge_kW * step_h,
    charge_current_kWh: bank.max_charge_kW * step_h,
    device_charge_kWh: (plant.all_in_one?.max_charge_kW ?? Number.POSITIVE_INFINITY) * step_h,
    min_charge_temperature_C: bank.min_charge_temperature_C,
    charging: chargeTerms(bank, step_h),
    bank_model: modelParts(bank, step_h),
    inverter: curvePerStep(plant.inverter.curve, step_h),
    inverter_rating_kWh: plant.inverter.rating_kW * step_h,
    legs: plant.inverter.legs,
    inverter_floor_kWh: inverterFloor_kWh(plant),
    ...cutOffStocks(plant),
    search_kWh: (plant.inverter.sleep?.search_kW ?? 0) * step_h,
    charger_kWh: charger === null ? 0 : charger.max_output_kW * step_h,
    shore_charger_kWh: chargerOn_kW(charger, charger?.max_shore_input_kW) * step_h,
    generator_charger_kWh: chargerOn_kW(charger, charger?.max_generator_input_kW) * step_h,
    charger_efficiency: charger === null ? 1 : charger.efficiency,
    generator: generator === null ? null : generatorPerStep(generator, bank.capacity_kWh, step_h),
    heated_floor_kWh: bank.heater === null ? bank.floor_kWh : drawableFloor_kWh(bank, bank.heater.keep_C),
    heated_charges: bank.heater !== null && bank.heater.keep_C >= bank.min_charge_temperature_C,
    heated_charge_amps_share: bank.heater === null ? 1 : chargeAmps_share(bank, bank.heater.keep_C),
    shore_kWh: shore === null ? 0 : shore.max_kW * step_h,
    shore_parallel: shore?.parallel ?? false,
    shore_after_sun: (shore?.parallel ?? false) && shore?.carries.kind !== 'all',
    ...shoreStocks(shore, bank.capacity_kWh),
    alternator_kWh: plant.alternator_kW * step_h,
    shedding: plant.shedding.flatMap(({ tier, shed_soc, restore_soc }) =>
      tiers.includes(tier)
        ? [
            {
              tier: tiers.indexOf(tier),
              shed_kWh: shed_soc * bank.capacity_kWh,
              // A bank that has reached it but for rounding has reached it.
              restore_kWh: (restore_soc - 1e-9) * bank.capacity_kWh,
            },
          ]
        : [],
    ),
  };
}

/** A generator as one step sees it; energies in kWh and fuel in litres of a step. */
export interface GeneratorParts {
  readonly step_h: number;
  readonly rating_kWh: number;
  readonly min_load_kWh: number;
  /** Stock at or below which it starts; less than nothing where none starts it. */
  readonly start_kWh: number;
  readonly stop_kWh: number;
  readonly min_run_h: number;
  readonly warm_up_h: number;
  readonly parallel: boolean;
  readonly max_run_h_per_day: number;
  readonly tank_L: number | null;
  readonly refill_every_days: number;
  readonly start_failure_share: number;
  /** Fuel of a whole step at the least load. */
  readonly least_L: number;
  readonly fuel: FuelCurve;
}

/** Works a generator out for steps of `step_h` hours. */
export function generatorPerStep(
  generator: EngineGenerator,
  capacity_kWh: number,
  step_h: number,
): GeneratorParts {
  const fuel = fuelPerStep(generator.fuel, step_h);
  const min_load_kWh = generator.min_load_kW * step_h;
  return {
    step_h,
    rating_kWh: generator.rating_kW * step_h,
    min_load_kWh,
    start_kWh: generator.start_soc === null ? -1 : generator.start_soc * capacity_kWh,
    // A bank that has reached its stop SoC but for rounding has reached it.
    stop_kWh: (generator.stop_soc - 1e-9) * capacity_kWh,
    min_run_h: generator.min_run_h - 1e-9,
    warm_up_h: generator.warm_up_h,
    parallel: generator.parallel,
    // All day is no limit: the day on which clocks go back has 25 hours.
    max_run_h_per_day:
      generator.max_run_h_per_day < 24 ? generator.max_run_h_per_day + 1e-9 : Number.POSITIVE_INFINITY,
    tank_L: generator.tank_L,
    refill_every_days: generator.refill_every_days,
    start_failure_share: generator.start_failure_share,
    least_L: fuelAt_L_per_h(fuel, min_load_kWh),
    fuel,
  };
}
