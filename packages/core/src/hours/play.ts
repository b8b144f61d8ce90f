import { type Columns, newColumns } from '../ledger/columns.ts';
import type { Ledger } from '../ledger/ledger.ts';
import { coldYear } from '../plant/cold.ts';
import type { Plant } from '../plant/plant.ts';
import type { PreparedYear } from '../year.ts';
import { offerArrays } from './offer.ts';
import { partsForStep } from './parts.ts';
import { type Memory, RARE, type StepGivens, settle } from './settle.ts';

/** Columns that a study plays into again and again, so that a year allocates nothing. */
export interface Desk {
  readonly columns: Columns;
  readonly tracked_kWh: Float64Array;
}

export const newDesk = (steps: number): Desk => ({
  columns: newColumns(steps),
  tracked_kWh: new Float64Array(steps),
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
  const { steps, step_h } = year.clock;
  const { total_kW } = year.loads;
  const given: StepGivens = {
    tracked_kWh,
    bank_temperature_C: year.bank_temperature_C,
    day: year.clock.day,
    tier_kW: year.loads.tier_kW,
    ...coldYear(plant.bank, year.bank_temperature_C, step_h),
    ...year.timetables,
  };
  const wanted = columns.load_wanted_kWh;
  for (const name of RARE) columns[name].fill(0);
  offerArrays(year, plant, columns, tracked_kWh);
  const parts = partsForStep(plant, step_h, year.loads.tiers);
  const start_stock_kWh = Math.max(plant.start_soc * plant.bank.capacity_kWh, plant.bank.floor_kWh);
  const memory: Memory = {
    stock_kWh: start_stock_kWh,
    generator_on: false,
    ran_h: 0,
    ran_today_h: 0,
    day: -1,
    fuel_L: plant.generator?.tank_L ?? 0,
    shed: 0,
  };
  for (let i = 0; i < steps; i++) {
    wanted[i] = total_kW[i]! * step_h;
    settle(parts, columns, given, i, memory);
  }
  return { steps, step_h, start_stock_kWh, columns };
}
