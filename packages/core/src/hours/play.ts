import { type Columns, newColumns } from '../ledger/columns.ts';
import type { Ledger } from '../ledger/ledger.ts';
import type { LoadYear } from '../loads/types.ts';
import { coldYear } from '../plant/cold.ts';
import { deratedRating_kW } from '../plant/inverter.ts';
import type { Plant } from '../plant/plant.ts';
import type { PreparedYear } from '../year.ts';
import { restedStep } from './bank-step.ts';
import { newFlows } from './flows.ts';
import { generatorMemory } from './generator.ts';
import { nightYear } from './night.ts';
import { type Offered, offerArrays } from './offer.ts';
import { partsForStep } from './parts.ts';
import { playQuiet, type QuietYear, quietYear } from './quiet.ts';
import { settle } from './settle.ts';
import { type Memory, RARE, type StepGivens } from './step.ts';

/** Columns that a study plays into again and again, so that a year allocates nothing. */
export interface Desk extends Offered {
  readonly columns: Columns;
  readonly quiet: QuietYear;
  /** `Memory.wrote` of the last year that was played into it. */
  wrote: number;
}

/** Allocates the memory of the hour loop for years of `steps` steps, to be used again for each. */
export const newDesk = (steps: number): Desk => ({
  columns: newColumns(steps),
  tracked_kWh: new Float64Array(steps),
  ac_sun_kWh: new Float64Array(steps),
  ac_offered_kWh: new Float64Array(steps),
  quiet: {
    may: new Uint8Array(steps),
    need_kWh: new Float64Array(steps),
    inverted_kWh: new Float64Array(steps),
  },
  wrote: 0,
});

/**
 * Plays a plant through a prepared year.
 *
 * @param desk reused columns, `year.clock.steps` long; the ledger returned then shares them and is overwritten by the
 *   next play. Without it new ones are made.
 * @returns the ledger; every column finite, every step balanced (see ledger/audit.ts)
 * @throws RangeError if the plant has another number of arrays than the year
 */
export function playYear(year: PreparedYear, plant: Plant, desk: Desk = newDesk(year.clock.steps)): Ledger {
  if (plant.arrays.length !== year.arrays.length) {
    throw new RangeError(
      `playYear: ${plant.arrays.length} arrays in the plant, ${year.arrays.length} in the year`,
    );
  }
  const { columns, tracked_kWh } = desk;
  const { loads } = year;
  const hasAc = plant.arrays.some((array) => array.ac);
  const { steps, step_h } = year.clock;
  const { total_kW } = year.loads;
  RARE.forEach((names, k) => {
    if ((desk.wrote & (1 << k)) !== 0) for (const name of names) columns[name].fill(0);
  });
  // Until this year is played to its end.
  desk.wrote = -1;
  offerArrays(year, plant, columns, desk);
  const parts = partsForStep(plant, step_h, year.loads.tiers);
  const dc_load_kW = loads.dc_tier_kW === null ? null : sumOf(loads.dc_tier_kW);
  const given: StepGivens = {
    tracked_kWh,
    ac_sun_kWh: hasAc ? desk.ac_sun_kWh : null,
    ac_offered_kWh: hasAc ? desk.ac_offered_kWh : null,
    bank_temperature_C: year.bank_temperature_C,
    day: year.clock.day,
    tier_kW: loads.tier_kW,
    dc_load_kW,
    dc_tier_kW: loads.dc_tier_kW,
    leg_tier_kW: loads.leg_tier_kW,
    waiting: loads.waiting,
    surplus: loads.surplus,
    rating_kWh: deratedRating_kWh(plant, year),
    asleep: asleepSteps(plant, loads),
    ...coldYear(plant.bank, year.bank_temperature_C, step_h),
    ...year.timetables,
    night: nightYear(year, plant.generator, parts, desk, dc_load_kW),
  };
  const wanted = columns.load_wanted_kWh;
  const start_stock_kWh = Math.max(plant.start_soc * plant.bank.capacity_kWh, plant.bank.floor_kWh);
  const memory: Memory = {
    stock_kWh: start_stock_kWh,
    shore_on: false,
    bank: restedStep(plant.bank.model, start_stock_kWh),
    ...generatorMemory(plant),
    shed: 0,
    waiting_kWh: new Float64Array(loads.waiting.length),
    surplus_kWh: new Float64Array(loads.surplus.length),
    surplus_day: -1,
    wrote: 0,
    flows: newFlows(),
  };
  for (let i = 0; i < steps; i++) wanted[i] = total_kW[i]! * step_h;
  const quiet = quietYear(parts, given, wanted, desk.quiet);
  for (let i = 0; i < steps; i++) {
    if (quiet !== null) {
      i = playQuiet(parts, columns, given, quiet, i, memory);
      if (i === steps) break;
    }
    settle(parts, columns, given, i, memory);
  }
  desk.wrote = memory.wrote;
  return { steps, step_h, start_stock_kWh, columns };
}

function deratedRating_kWh({ inverter }: Plant, { sky, clock }: PreparedYear): Float64Array | null {
  const rating = deratedRating_kW(inverter, sky.air_temperature_C);
  if (rating !== null) for (let i = 0; i < rating.length; i++) rating[i]! *= clock.step_h;
  return rating;
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
