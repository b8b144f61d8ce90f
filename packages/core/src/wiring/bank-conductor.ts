import { expectArguments } from '../basis/arguments.ts';
import type { OneOf } from '../basis/notices.ts';
import { expectSound } from '../plant/expect-sound.ts';
import { inputFor } from '../plant/inverter.ts';
import type { Plant } from '../plant/plant.ts';
import { AWG_SIZES, awgSize, type CopperSize, metricSize, STANDARD_RATINGS_A } from './copper.ts';

/**
 * What the conductor between bank and inverter has to carry, and what that asks of it. One of two poles; of stacked
 * units that of one, each having its own.
 */
export interface BankConductor {
  /** How many inverters have such a conductor, each its own. */
  readonly units: number;
  /** Bank voltage that the inverter's current is worked out at. */
  readonly lowest_voltage_V: number;
  /** True if the scenario gives it; else it is a share of the nominal one. */
  readonly lowest_voltage_given: boolean;
  /** What can flow for hours, largest first. */
  readonly currents: readonly { readonly by: CurrentReason; readonly current_A: number }[];
  readonly continuous_A: number;
  /** 125 % of it. */
  readonly needed_A: number;
  /** The cable of the scenario, or the smallest that carries `needed_A`. */
  readonly cable: {
    readonly size: string;
    readonly parallel: number;
    /** True if the scenario names it. */
    readonly given: boolean;
    /** True if it is one of IEC 60228, false if one of the American sizes. */
    readonly metric: boolean;
    /** Of all in parallel on one pole of one unit. */
    readonly ampacity_A: number;
    readonly resistance_ohm_per_km: number;
  };
  /** There and back at the continuous current; null where the scenario gives no length. */
  readonly voltage_drop: null | {
    readonly length_m: number;
    readonly drop_V: number;
    /** Of the lowest voltage. */
    readonly drop_share: number;
  };
  /** Fuse or breaker: from `needed_A` to what still protects the cable. */
  readonly overcurrent: {
    readonly least_A: number;
    readonly most_A: number;
    /** Standard ratings between the two; empty if there is none. */
    readonly standard_A: readonly number[];
  };
  /** What does not fit together; empty if no conflict was found, which is no proof that there is none. */
  readonly conflicts: readonly ConductorConflict[];
}

/** What can flow for hours; trackers and AC charger are counted on this cable, as in an all-in-one. */
export type CurrentReason = OneOf<{
  /** The inverter at its rating, on a bank near empty. */
  inverter: object;
  /** All that the trackers give, and the AC charger where there is one. */
  chargers: { ac_charger: boolean };
  /** What the modules take of that. */
  modules: { ac_charger: boolean; chargers_A: number };
}>;

/** What does not fit between what is needed, the cable and its fuse. */
export type ConductorConflict =
  /** It carries less than is needed. */
  | 'ampacity'
  /** No standard fuse or breaker lies between what is needed and what the cable allows. */
  | 'no_standard_rating'
  /** Smaller than what the code allows to be laid in parallel. */
  | 'parallel_size';

/** A cell's voltage near empty over its nominal one: 2.8 of 3.2 V, or 1.75 of 2 V. Common practice, no source. */
const LOWEST_VOLTAGE_share = 0.875;

/** For what flows for three hours or more. Source: NEC 215.2(A)(1) and 690.8(B). */
const CONTINUOUS_FACTOR = 1.25;

/** Most cables a pole that are looked at. */
const MOST_PARALLEL = 12;

/**
 * The conductor between bank and inverter: current, cable, voltage drop and the window for its fuse or breaker.
 *
 * The current is the larger of two: the inverter at its rating, its losses in it, on a bank near empty; and the
 * trackers and the AC charger together, as far as the modules take it. Stacked units share both evenly.
 *
 * Source: NEC 310.16, 310.10(G), 240.4(B), (D), 240.6(A), 215.2, 690.8 and Chapter 9 Table 8; IEC 60228 for metric sizes (see
 * copper.ts). Left out: temperature and bundling corrections, terminals below 75 °C, fault current, surge.
 */
export function bankConductor(plant: Plant): BankConductor {
  expectArguments('bankConductor', { plant });
  expectSound('bankConductor', plant);
  const { bank, inverter, wiring, arrays, charger } = plant;
  const lowest_voltage_V = wiring?.bank_lowest_voltage_V ?? LOWEST_VOLTAGE_share * bank.nominal_voltage_V;
  const { units } = inverter;
  const inverter_A = (1000 * inputFor(inverter.curve, inverter.rating_kW)) / lowest_voltage_V / units;
  const together_A = arrays.reduce(
    (sum, array) => sum + (array.max_charge_A ?? 0),
    charger?.max_charge_A ?? 0,
  );
  const device_kW = plant.all_in_one?.max_charge_kW ?? Number.POSITIVE_INFINITY;
  const chargers_A = Math.min(together_A, (1000 * device_kW) / bank.nominal_voltage_V);
  const modules_A = bank.current_modules * bank.module_max_charge_A;
  const ac_charger = charger !== null;
  const currents: BankConductor['currents'] = [
    { by: { id: 'inverter' } as const, current_A: inverter_A },
    chargers_A <= modules_A
      ? { by: { id: 'chargers', ac_charger } as const, current_A: chargers_A / units }
      : {
          by: { id: 'modules', ac_charger, chargers_A: chargers_A / units } as const,
          current_A: modules_A / units,
        },
  ].sort((a, b) => b.current_A - a.current_A);
  const continuous_A = currents[0]!.current_A;
  const needed_A = CONTINUOUS_FACTOR * continuous_A;

  const named = namedCable(plant);
  const { size, parallel } = named ?? smallestCable(needed_A);
  const most_A = mostProtection_A(size, parallel);
  const ampacity_A = size.ampacity_A * parallel;
  const length_m = wiring?.bank_cable_length_m ?? null;
  const standard_A = standardBetween_A(needed_A, most_A);
  const drop_V =
    length_m === null ? 0 : (2 * length_m * continuous_A * size.resistance_ohm_per_km) / 1000 / parallel;
  return {
    units,
    lowest_voltage_V,
    lowest_voltage_given: wiring?.bank_lowest_voltage_V !== undefined,
    currents,
    continuous_A,
    needed_A,
    cable: {
      size: size.name,
      parallel,
      given: named !== null,
      metric: named !== null && wiring?.cable_AWG === undefined,
      ampacity_A,
      resistance_ohm_per_km: size.resistance_ohm_per_km / parallel,
    },
    voltage_drop: length_m === null ? null : { length_m, drop_V, drop_share: drop_V / lowest_voltage_V },
    overcurrent: { least_A: needed_A, most_A, standard_A },
    conflicts: [
      ...(ampacity_A < needed_A - 1e-9
        ? (['ampacity'] as const)
        : standard_A.length === 0
          ? (['no_standard_rating'] as const)
          : []),
      ...(parallel > 1 && !size.parallel ? (['parallel_size'] as const) : []),
    ],
  };
}

function namedCable({ wiring }: Plant): { size: CopperSize; parallel: number } | null {
  if (wiring === null) return null;
  const { cable_AWG, cable_mm2, cables_parallel: parallel } = wiring;
  if (cable_AWG !== undefined) return { size: awgSize(cable_AWG), parallel };
  return cable_mm2 === undefined ? null : { size: metricSize(cable_mm2), parallel };
}

/** Largest rating of protection that is rounded up to. Source: NEC 240.4(B)(3) (read as quoted by others). */
const ROUNDED_UP_TO_A = 800;

/**
 * Largest fuse or breaker that still protects cables in parallel: their ampacity, or the next standard rating above it
 * up to 800 A. Small sizes stay at the rating of their own.
 *
 * Source: NEC 240.4(B), (C), (D).
 */
function mostProtection_A(size: CopperSize, parallel: number): number {
  const ampacity_A = size.protection_A * parallel;
  if (size.protection_A < size.ampacity_A) return ampacity_A;
  const next_A = STANDARD_RATINGS_A.find((rating) => rating >= ampacity_A) ?? Number.POSITIVE_INFINITY;
  return next_A <= ROUNDED_UP_TO_A ? next_A : ampacity_A;
}

const standardBetween_A = (least_A: number, most_A: number): readonly number[] =>
  STANDARD_RATINGS_A.filter((rating) => rating >= least_A - 1e-9 && rating <= most_A);

/**
 * The smallest American size that may carry a current and has a standard fuse or breaker that protects it at that
 * current; several of the largest beyond that.
 */
function smallestCable(needed_A: number): { size: CopperSize; parallel: number } {
  const fits = (parallel: number) =>
    AWG_SIZES.find(
      (size) =>
        (parallel === 1 || size.parallel) &&
        parallel * size.protection_A >= needed_A - 1e-9 &&
        standardBetween_A(needed_A, mostProtection_A(size, parallel)).length > 0,
    );
  for (let parallel = 1; parallel < MOST_PARALLEL; parallel++) {
    const size = fits(parallel);
    if (size !== undefined) return { size, parallel };
  }
  return { size: AWG_SIZES.at(-1)!, parallel: Math.ceil(needed_A / AWG_SIZES.at(-1)!.ampacity_A - 1e-9) };
}
