import type { Columns } from '../ledger/columns.ts';
import type { LoadYear } from '../loads/types.ts';
import { deratedRating_kW, inputFor, type LossCurve } from '../plant/inverter.ts';
import type { Plant } from '../plant/plant.ts';
import type { PreparedYear } from '../year.ts';

/** What loads and inverter alone say of each step, whatever sun and bank do; one entry a step. */
export interface Asked {
  /** Loads on the DC side; null without. */
  readonly dc_load_kW: Float64Array | null;
  /** The inverter's rating where heat takes from it, energy of the step; null where it doesn't. */
  readonly rating_kWh: Float64Array | null;
  /** 1 for each step in which all that may be on would not wake the inverter; null if it never sleeps. */
  readonly asleep: Uint8Array | null;
}

/** Filled by `askYear`. */
export interface AskedColumns {
  /** What inverter and DC loads take from the DC side to serve all that is asked; infinite above the rating. */
  readonly need_kWh: Float64Array;
  /** What of it leaves the inverter. */
  readonly inverted_kWh: Float64Array;
}

/**
 * Works out what is wanted and what that asks of the DC side, loads that wait left out.
 *
 * @param curve the inverter's, in energies of a step
 */
export function askYear(
  { loads, sky, clock }: PreparedYear,
  plant: Plant,
  curve: LossCurve,
  { load_wanted_kWh }: Pick<Columns, 'load_wanted_kWh'>,
  { need_kWh, inverted_kWh }: AskedColumns,
): Asked {
  const { steps, step_h } = clock;
  const { total_kW } = loads;
  const dc_load_kW = loads.dc_tier_kW === null ? null : sumOf(loads.dc_tier_kW);
  const rating_kWh = deratedRating_kW(plant.inverter, sky.air_temperature_C);
  if (rating_kWh !== null) for (let i = 0; i < steps; i++) rating_kWh[i]! *= step_h;
  let most = plant.inverter.rating_kW * step_h;
  for (let i = 0; i < steps; i++) {
    const dc = dc_load_kW === null ? 0 : dc_load_kW[i]! * step_h;
    const wanted = total_kW[i]! * step_h;
    const ac = wanted - dc;
    if (rating_kWh !== null) most = rating_kWh[i]!;
    load_wanted_kWh[i] = wanted;
    inverted_kWh[i] = ac;
    need_kWh[i] = ac > most ? Number.POSITIVE_INFINITY : inputFor(curve, ac) + dc;
  }
  return { dc_load_kW, rating_kWh, asleep: asleepSteps(plant, loads) };
}

function sumOf(columns: readonly Float64Array[]): Float64Array {
  const sum = columns[0]!.slice();
  for (const column of columns.slice(1)) for (let i = 0; i < sum.length; i++) sum[i]! += column[i]!;
  return sum;
}

/** Steps in which all that may be on draws less than wakes the inverter; null if it never sleeps. */
export function asleepSteps({ inverter: { sleep } }: Plant, { running_kW }: LoadYear): Uint8Array | null {
  if (sleep === null) return null;
  if (running_kW === null) throw new RangeError('asleepSteps: the loads were prepared without running_kW');
  const below_kW = sleep.below_kW - 1e-12;
  const asleep = new Uint8Array(running_kW.length);
  for (let i = 0; i < asleep.length; i++) if (running_kW[i]! < below_kW) asleep[i] = 1;
  return asleep;
}
