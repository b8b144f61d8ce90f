import { ampsAtVolts_kW } from '../../basis/units.ts';
import { type Bank, moduleVoltage_V, peakPower_kW } from '../../plant/bank.ts';
import { outputFrom } from '../../plant/inverter.ts';
import type { Charger, Plant, Tracked } from '../../plant/plant.ts';
import { CEC_WEIGHTS, EUROPEAN_WEIGHTS, weightedEfficiency } from '../../plant/weighted-efficiency.ts';
import { type BankConductor, bankConductor } from '../../wiring/bank-conductor.ts';

/** Amps of the modules at a voltage. */
interface ModuleAmps {
  readonly modules: number;
  readonly older_modules: number;
  /** How many new modules would carry as much as all of them. */
  readonly current_modules: number;
  /** Of one module. */
  readonly amps_A: number;
  readonly voltage_V: number;
  /** True if that is the voltage at half charge, at the terminals of a resistive bank; else it is the nominal one. */
  readonly half_charged: boolean;
}

interface AmpsAt {
  readonly amps_A: number;
  readonly voltage_V: number;
}

interface Beside {
  /** True if the figure holds what charges the bank beside the all-in-one. */
  readonly beside: boolean;
}

interface BesideAc {
  /** What arrays on the AC side add through the charger; null if there are none. */
  readonly from_ac_kW: number | null;
}

/** What a limit comes from. */
export type LimitReason =
  | ({
      readonly id:
        | 'bank_discharge_current'
        | 'bank_charge_current'
        | 'bank_peak_current'
        // The scenario does not give the peak of the modules: what they carry all the time.
        | 'bank_peak_unknown';
    } & ModuleAmps)
  | { readonly id: 'inverter_rating'; readonly units: number; readonly unit_kW: number }
  | {
      readonly id:
        | 'inverter_surge'
        | 'ac_arrays_size'
        | 'array_by_array'
        | 'ac_arrays'
        | 'generator_rating'
        | 'generator_circuit'
        | 'socket_current'
        | 'socket_circuit';
    }
  | ({ readonly id: 'all_in_one_current' | 'all_trackers_current' } & AmpsAt & Beside)
  | ({ readonly id: 'all_trackers_power'; readonly power_kW: number } & Beside)
  | ({ readonly id: 'tracker_power' | 'array_size' } & BesideAc)
  | ({
      readonly id: 'tracker_current';
      readonly amps_A: readonly number[];
      readonly voltage_V: number;
    } & BesideAc)
  | ({ readonly id: 'operating_current'; readonly inputs: readonly AmpsAt[] } & BesideAc)
  | ({ readonly id: 'charger_current' } & AmpsAt);

/** One candidate for what sets a figure. */
export interface Limit {
  readonly by: LimitReason;
  readonly limit_kW: number;
}

/** A static figure and what stands behind it: limits ascending, the first one sets it. */
export interface StaticFigure {
  /** Null if the plant can't do this at all, e.g. AC charging without a charger. */
  readonly figure_kW: number | null;
  readonly limits: readonly Limit[];
}

/** What the plant can do before an hour is played, and what limits it. */
export interface StaticLimits {
  readonly capacity_kWh: number;
  readonly usable_kWh: number;
  /** Continuous, on the DC side of the inverter where the bank's amps bind, without sun. */
  readonly ac_output: StaticFigure & {
    /** What is left of it on the AC side after the inverter's own losses. */
    readonly after_inverter_loss_kW: number;
  };
  /** For a moment, at a motor's start. Where the modules' peak is not given their continuous amps are shown. */
  readonly surge: StaticFigure;
  /** Weighted over loads as data sheets do (European, JRC Ispra; CEC, Bower et al. 2004): grid inverters' loads, not these. */
  readonly inverter_efficiency: { readonly european_share: number; readonly cec_share: number };
  readonly solar_charging: StaticFigure;
  readonly ac_charging: StaticFigure;
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

const ascending = (limits: readonly Limit[]): readonly Limit[] =>
  [...limits].sort((a, b) => a.limit_kW - b.limit_kW);

const figure = (limits: readonly Limit[]): StaticFigure => {
  const sorted = ascending(limits);
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
  const { bank, inverter, charger } = plant;
  // Arrays on the AC side charge through the charger.
  const arrays = plant.arrays.filter((array) => array.ac !== true);
  const voltage_V = bank.nominal_voltage_V;
  const bankDischarge: Limit = {
    by: { id: 'bank_discharge_current', ...moduleAmps(bank, -bank.module_max_discharge_A) },
    limit_kW: bank.max_discharge_kW,
  };
  const bankCharge: Limit = {
    by: { id: 'bank_charge_current', ...moduleAmps(bank, bank.module_max_charge_A) },
    limit_kW: bank.max_charge_kW,
  };
  const allCharging = allInOneCharging(plant);
  const { units } = inverter;
  const rating: Limit = {
    by: { id: 'inverter_rating', units, unit_kW: inverter.rating_kW / units },
    limit_kW: inverter.rating_kW,
  };

  // Which of the two binds is decided on the AC side, where the losses of the inverter count against the bank.
  const fromBank_kW = outputFrom(inverter.curve, bank.max_discharge_kW);
  const output = fromBank_kW < inverter.rating_kW ? [bankDischarge, rating] : [rating, bankDischarge];

  const onAc_kW = sum(
    plant.arrays.filter((array) => array.ac === true),
    trackerOutput_kW,
  );
  const fromAc_kW = charger === null ? 0 : Math.min(onAc_kW * charger.efficiency, charger.max_output_kW);
  const beside_ac: BesideAc = { from_ac_kW: onAc_kW === 0 ? null : fromAc_kW };
  const solar: Limit[] = [
    bankCharge,
    ...(arrays.length === 0
      ? []
      : ([
          {
            by: {
              id: 'tracker_current',
              amps_A: arrays.map((t) => t.max_charge_A!),
              voltage_V,
              ...beside_ac,
            },
            limit_kW: sum(arrays, (t) => t.max_output_kW) + fromAc_kW,
          },
          {
            by: { id: 'tracker_power', ...beside_ac },
            limit_kW: sum(arrays, (t) => t.max_input_kW * t.efficiency) + fromAc_kW,
          },
        ] satisfies Limit[])),
    {
      by: arrays.length === 0 && onAc_kW > 0 ? { id: 'ac_arrays_size' } : { id: 'array_size', ...beside_ac },
      limit_kW: sum(arrays, (t) => t.size_kWp * t.efficiency) + fromAc_kW,
    },
  ];
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
    solar.push({ by: { id: 'array_by_array' }, limit_kW: arrayByArray_kW });
  }

  const acCharging: Limit[] = [];
  const best =
    charger === null ? undefined : chargingSources(plant, charger).sort((a, b) => b.limit_kW - a.limit_kW)[0];
  // A charger without a source behind it, as an all-in-one has one on sun alone, charges nothing.
  if (charger !== null && best !== undefined) {
    acCharging.push(
      {
        by: { id: 'charger_current', amps_A: charger.max_charge_A, voltage_V },
        limit_kW: charger.max_output_kW,
      },
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
      after_inverter_loss_kW: Math.min(fromBank_kW, inverter.rating_kW),
    },
    surge: figure([
      { by: { id: 'inverter_surge' }, limit_kW: inverter.surge_kW },
      bank.module_peak_discharge_A === null
        ? {
            by: { id: 'bank_peak_unknown', ...moduleAmps(bank, -bank.module_max_discharge_A) },
            limit_kW: bank.max_discharge_kW,
          }
        : {
            by: { id: 'bank_peak_current', ...moduleAmps(bank, -bank.module_peak_discharge_A) },
            limit_kW: peakPower_kW(bank, bank.module_peak_discharge_A),
          },
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
  return [{ by: { id: 'all_in_one_current', amps_A, voltage_V, beside }, limit_kW }];
}

/** What the trackers' inputs let through by their amps, where that is known of each of them. */
function operating(arrays: readonly Tracked[], fromAc_kW: number, beside: BesideAc): Limit[] {
  const most_kW = arrays.map(operatingInput_kW);
  if (arrays.length === 0 || most_kW.includes(null)) return [];
  const inputs = arrays.map(({ string, input }) => ({
    amps_A: input.max_operating_A!,
    voltage_V: string!.in_series! * string!.panel.vmp_V,
  }));
  return [
    {
      by: { id: 'operating_current', inputs, ...beside },
      limit_kW: arrays.reduce((total, t, k) => total + most_kW[k]! * t.efficiency, fromAc_kW),
    },
  ];
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
  const found: Limit[] = [];
  if (Number.isFinite(power_kW))
    found.push({ by: { id: 'all_trackers_power', power_kW, beside }, limit_kW: power_kW * best + beside_kW });
  if (amps_A !== null)
    found.push({
      by: { id: 'all_trackers_current', amps_A, voltage_V: bank.nominal_voltage_V, beside },
      limit_kW: max_tracker_output_kW + beside_kW,
    });
  return found;
}

/** What each source puts into the bank through the charger, with no load on it. */
function chargingSources({ generator, shore, arrays }: Plant, charger: Charger): Limit[] {
  const { max_generator_input_kW = Number.POSITIVE_INFINITY, max_shore_input_kW = Number.POSITIVE_INFINITY } =
    charger;
  const onAc_kW = sum(
    arrays.filter((array) => array.ac === true),
    trackerOutput_kW,
  );
  const through = (id: 'generator_rating' | 'socket_current' | 'ac_arrays', source_kW: number): Limit => ({
    by: { id },
    limit_kW: source_kW * charger.efficiency,
  });
  const within = (limit: Limit, id: 'generator_circuit' | 'socket_circuit', circuit_kW: number): Limit => {
    const limit_kW = circuit_kW * charger.efficiency;
    return limit_kW < limit.limit_kW ? { by: { id }, limit_kW } : limit;
  };
  return [
    ...(generator === null
      ? []
      : [
          within(
            through('generator_rating', generator.rating_kW),
            'generator_circuit',
            max_generator_input_kW,
          ),
        ]),
    ...(shore === null
      ? []
      : [within(through('socket_current', shore.max_kW), 'socket_circuit', max_shore_input_kW)]),
    ...(onAc_kW === 0 ? [] : [through('ac_arrays', onAc_kW)]),
  ];
}
