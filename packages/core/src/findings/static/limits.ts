import { expectArgument } from '../../basis/arguments.ts';
import type { OneOf } from '../../basis/notices.ts';
import { ampsAtVolts_kW } from '../../basis/units.ts';
import { type Bank, moduleVoltage_V, peakPower_kW } from '../../plant/bank.ts';
import { outputFrom } from '../../plant/inverter.ts';
import type { Charger, Plant, Tracked } from '../../plant/plant.ts';
import { CEC_WEIGHTS, EUROPEAN_WEIGHTS, weightedEfficiency } from '../../plant/weighted-efficiency.ts';
import { type BankConductor, bankConductor } from '../../wiring/bank-conductor.ts';

/** Amps of the modules at a voltage: the nominal one, or of a resistive bank (`half_charged`) that at its terminals. */
interface ModuleAmps {
  modules: number;
  older_modules: number;
  /** How many new modules would carry as much as all of them. */
  current_modules: number;
  /** Of one module. */
  amps_A: number;
  voltage_V: number;
  half_charged: boolean;
}

interface AmpsAt {
  amps_A: number;
  voltage_V: number;
}

/** True if the figure holds what charges the bank beside the all-in-one. */
interface Beside {
  beside: boolean;
}

/** What arrays on the AC side add through the charger; null if there are none. */
interface BesideAc {
  from_ac_kW: number | null;
}

/** What a limit comes from. */
export type LimitReason = OneOf<{
  bank_discharge_current: ModuleAmps;
  bank_charge_current: ModuleAmps;
  bank_peak_current: ModuleAmps;
  /** The scenario does not give the peak of the modules: what they carry all the time. */
  bank_peak_unknown: ModuleAmps;
  inverter_rating: { units: number; unit_kW: number };
  inverter_surge: object;
  all_in_one_current: AmpsAt & Beside;
  all_trackers_current: AmpsAt & Beside;
  all_trackers_power: Beside & { power_kW: number };
  tracker_current: BesideAc & { amps_A: readonly number[]; voltage_V: number };
  tracker_power: BesideAc;
  operating_current: BesideAc & { inputs: readonly AmpsAt[] };
  array_size: BesideAc;
  ac_arrays_size: object;
  array_by_array: object;
  charger_current: AmpsAt;
  /** Sources behind the charger, and its circuits for them. */
  generator_rating: object;
  generator_circuit: object;
  socket_current: object;
  socket_circuit: object;
  ac_arrays: object;
}>;

/** One candidate for what sets a figure. */
export interface Limit {
  /** What it comes from. */ readonly by: LimitReason;
  /** What it alone would allow. */ readonly limit_kW: number;
}

/** A static figure and what stands behind it: limits ascending, the first one sets it. */
export interface StaticFigure {
  /** Null if the plant can't do this at all, e.g. AC charging without a charger. */
  readonly figure_kW: number | null;
  /** Ascending. */ readonly limits: readonly Limit[];
}

/** What the plant can do before an hour is played, and what limits it. */
export interface StaticLimits {
  /** Of the bank, at its nominal voltage. */ readonly capacity_kWh: number;
  /** Of it, above the floor. */ readonly usable_kWh: number;
  /** Continuous, on the DC side of the inverter where the bank's amps bind, without sun. */
  readonly ac_output: StaticFigure & {
    /** What is left of it on the AC side after the inverter's own losses. */
    readonly after_inverter_loss_kW: number;
  };
  /** For a moment, at a motor's start. Where the modules' peak is not given their continuous amps are shown. */
  readonly surge: StaticFigure;
  /** Weighted over loads as data sheets do (European, JRC Ispra; CEC, Bower et al. 2004): grid inverters' loads, not these. */
  readonly inverter_efficiency: { readonly european_share: number; readonly cec_share: number };
  /** From the sun into the bank. */ readonly solar_charging: StaticFigure;
  /** From generator, socket or arrays on the AC side into the bank. */ readonly ac_charging: StaticFigure;
  /** The cable between bank and inverter and its fuse or breaker: what the tables say, no choice of a part. */
  readonly bank_conductor: BankConductor;
}

/** Array power at standard test conditions that the amps of the tracker's input let through; null where they are not known. */
function operatingInput_kW({ string, input: { max_operating_A = null } }: Tracked): number | null {
  if (max_operating_A === null || string === null || string.in_series === null) return null;
  return (string.in_series * string.panel.vmp_V * max_operating_A) / 1000;
}

/** Largest continuous power after conversion to the bank's side: the array's nameplate and the limits of its tracker. */
const trackerOutput_kW = (t: Tracked): number =>
  Math.min(
    t.efficiency * Math.min(t.size_kWp, t.max_input_kW, operatingInput_kW(t) ?? Number.POSITIVE_INFINITY),
    t.max_output_kW,
  );

const sum = <T>(items: readonly T[], value: (item: T) => number): number =>
  items.reduce((total, item) => total + value(item), 0);

/** What sets a figure at so many kW. */
const at = (limit_kW: number, by: LimitReason): Limit => ({ by, limit_kW });

const figure = (limits: readonly Limit[]): StaticFigure => {
  const sorted = [...limits].sort((a, b) => a.limit_kW - b.limit_kW);
  return { figure_kW: sorted[0]?.limit_kW ?? null, limits: sorted };
};

/** @param charge_A of one module, negative if it discharges */
const moduleAmps = (bank: Bank, charge_A: number): ModuleAmps => {
  const half_charged = bank.model.kind === 'resistive';
  return {
    modules: bank.modules_parallel,
    older_modules: sum(bank.older, (group) => group.modules),
    current_modules: bank.current_modules,
    amps_A: Math.abs(charge_A),
    voltage_V: half_charged ? moduleVoltage_V(bank, charge_A) : bank.nominal_voltage_V,
    half_charged,
  };
};

/**
 * What a plant can do before an hour is played: for each figure the limits in ascending order, the first of which sets
 * it. Amps become kW at the bank's nominal voltage: 100 A at 48 V is 4.8 kW (common practice, no source). A charge
 * limit caps what goes into the bank; in a played hour load served at the same time comes on top of it.
 */
export function staticLimits(plant: Plant): StaticLimits {
  expectArgument('staticLimits', 'plant', plant, 'plant');
  const { bank, inverter, charger } = plant;
  // Arrays on the AC side charge through the charger.
  const arrays = plant.arrays.filter((array) => array.ac !== true);
  const voltage_V = bank.nominal_voltage_V;
  const amps = (charge_A: number): ModuleAmps => moduleAmps(bank, charge_A);
  const { max_discharge_kW, module_max_discharge_A, module_peak_discharge_A: peak_A } = bank;
  const { units, rating_kW } = inverter;
  const discharge = amps(-module_max_discharge_A);
  const bankDischarge = at(max_discharge_kW, { id: 'bank_discharge_current', ...discharge });
  const charge = amps(bank.module_max_charge_A);
  const bankCharge = at(bank.max_charge_kW, { id: 'bank_charge_current', ...charge });
  const rating = at(rating_kW, { id: 'inverter_rating', units, unit_kW: rating_kW / units });
  const allCharging = allInOneCharging(plant);

  // Which of the two binds is decided on the AC side, where the losses of the inverter count against the bank.
  const fromBank_kW = outputFrom(inverter.curve, max_discharge_kW);
  const output = fromBank_kW < rating_kW ? [bankDischarge, rating] : [rating, bankDischarge];

  const onAc_kW = onAcSide_kW(plant);
  const fromAc_kW = charger === null ? 0 : Math.min(onAc_kW * charger.efficiency, charger.max_output_kW);
  const beside_ac: BesideAc = { from_ac_kW: onAc_kW === 0 ? null : fromAc_kW };
  const solar: Limit[] = [bankCharge];
  if (arrays.length > 0)
    solar.push(
      at(sum(arrays, (t) => t.max_output_kW) + fromAc_kW, {
        id: 'tracker_current',
        amps_A: arrays.map((t) => t.max_charge_A!),
        voltage_V,
        ...beside_ac,
      }),
      at(sum(arrays, (t) => t.max_input_kW * t.efficiency) + fromAc_kW, {
        id: 'tracker_power',
        ...beside_ac,
      }),
    );
  solar.push(
    at(
      sum(arrays, (t) => t.size_kWp * t.efficiency) + fromAc_kW,
      arrays.length === 0 && onAc_kW > 0 ? { id: 'ac_arrays_size' } : { id: 'array_size', ...beside_ac },
    ),
  );
  const beside_kW =
    sum(
      arrays.filter((t) => !isBuiltIn(t)),
      trackerOutput_kW,
    ) + fromAc_kW;
  solar.push(...operating(arrays, fromAc_kW, beside_ac), ...allTrackers(plant, beside_kW), ...allCharging);
  const builtIn_kW = Math.min(
    sum(arrays.filter(isBuiltIn), trackerOutput_kW),
    ...allTrackers(plant, 0).map(({ limit_kW }) => limit_kW),
  );
  const arrayByArray_kW = builtIn_kW + beside_kW;
  if (solar.every((limit) => arrayByArray_kW < limit.limit_kW - 1e-9)) {
    solar.push(at(arrayByArray_kW, { id: 'array_by_array' }));
  }

  const acCharging: Limit[] = [];
  const best =
    charger === null ? undefined : chargingSources(plant, charger).sort((a, b) => b.limit_kW - a.limit_kW)[0];
  // A charger without a source behind it, as an all-in-one has one on sun alone, charges nothing.
  if (charger !== null && best !== undefined) {
    acCharging.push(
      at(charger.max_output_kW, { id: 'charger_current', amps_A: charger.max_charge_A, voltage_V }),
      bankCharge,
      ...allCharging,
      best,
    );
  }

  return {
    capacity_kWh: bank.capacity_kWh,
    usable_kWh: bank.capacity_kWh - bank.floor_kWh,
    ac_output: {
      figure_kW: output[0]!.limit_kW,
      limits: output,
      after_inverter_loss_kW: Math.min(fromBank_kW, rating_kW),
    },
    surge: figure([
      at(inverter.surge_kW, { id: 'inverter_surge' }),
      peak_A === null
        ? at(max_discharge_kW, { id: 'bank_peak_unknown', ...discharge })
        : at(peakPower_kW(bank, peak_A), { id: 'bank_peak_current', ...amps(-peak_A) }),
    ]),
    inverter_efficiency: {
      european_share: weightedEfficiency(inverter, EUROPEAN_WEIGHTS),
      cec_share: weightedEfficiency(inverter, CEC_WEIGHTS),
    },
    solar_charging: figure(solar),
    ac_charging: figure(acCharging),
    bank_conductor: bankConductor(plant),
  };
}

const isBuiltIn = (array: Tracked): boolean => array.built_in === true;

/** What may charge the bank through an all-in-one, trackers and charger together. */
function allInOneCharging({ all_in_one, bank }: Plant): Limit[] {
  if (all_in_one === null || all_in_one.max_charge_A === null) return [];
  const { max_charge_A: amps_A, max_charge_kW: limit_kW } = all_in_one;
  const voltage_V = bank.nominal_voltage_V;
  const beside = ampsAtVolts_kW(amps_A, voltage_V) < limit_kW;
  return [at(limit_kW, { id: 'all_in_one_current', amps_A, voltage_V, beside })];
}

/** What the trackers' inputs let through by their amps, where that is known of each of them. */
function operating(arrays: readonly Tracked[], fromAc_kW: number, beside: BesideAc): Limit[] {
  const most_kW = arrays.map(operatingInput_kW);
  if (arrays.length === 0 || most_kW.includes(null)) return [];
  const inputs = arrays.map(({ string, input }) => ({
    amps_A: input.max_operating_A!,
    voltage_V: string!.in_series! * string!.panel.vmp_V,
  }));
  const limit_kW = arrays.reduce((total, t, k) => total + most_kW[k]! * t.efficiency, fromAc_kW);
  return [at(limit_kW, { id: 'operating_current', inputs, ...beside })];
}

/**
 * Limits over all trackers of an all-in-one.
 *
 * @param beside_kW what else reaches the bank from the sun
 */
function allTrackers({ arrays, all_in_one, bank }: Plant, beside_kW: number): Limit[] {
  if (all_in_one === null) return [];
  const { max_tracker_A: amps_A, max_tracker_output_kW, max_tracker_input_kW: power_kW } = all_in_one;
  const best = Math.max(0, ...arrays.filter(isBuiltIn).map((t) => t.efficiency));
  const beside = beside_kW > 0;
  const voltage_V = bank.nominal_voltage_V;
  return [
    ...(Number.isFinite(power_kW)
      ? [at(power_kW * best + beside_kW, { id: 'all_trackers_power', power_kW, beside })]
      : []),
    ...(amps_A === null
      ? []
      : [at(max_tracker_output_kW + beside_kW, { id: 'all_trackers_current', amps_A, voltage_V, beside })]),
  ];
}

/** What arrays on the AC side give at most. */
const onAcSide_kW = ({ arrays }: Plant): number =>
  sum(
    arrays.filter((array) => array.ac === true),
    trackerOutput_kW,
  );

/** What each source puts into the bank through the charger, with no load on it. */
function chargingSources(plant: Plant, charger: Charger): Limit[] {
  const { generator, shore } = plant;
  const found: Limit[] = [];
  const add = (source: SourceId, source_kW: number, circuit = source, circuit_kW = source_kW): void => {
    const most_kW = Math.min(source_kW, circuit_kW);
    found.push(at(most_kW * charger.efficiency, { id: circuit_kW < source_kW ? circuit : source }));
  };
  if (generator !== null)
    add('generator_rating', generator.rating_kW, 'generator_circuit', charger.max_generator_input_kW);
  if (shore !== null) add('socket_current', shore.max_kW, 'socket_circuit', charger.max_shore_input_kW);
  const onAc_kW = onAcSide_kW(plant);
  if (onAc_kW > 0) add('ac_arrays', onAc_kW);
  return found;
}

type SourceId = 'generator_rating' | 'generator_circuit' | 'socket_current' | 'socket_circuit' | 'ac_arrays';
