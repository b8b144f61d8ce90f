import { expectArgument } from '../../basis/arguments.ts';
import { expectWithin } from '../../basis/within.ts';
import type { FigureName } from '../../findings/figures/figures.ts';
import { isUnmet } from '../../findings/figures/unmet.ts';
import { dangersOf } from '../../findings/static/dangers.ts';
import { sunlessHours } from '../../findings/sunless/autonomy.ts';
import type { Ledger, RowColumn } from '../../ledger/ledger.ts';
import type { Plant } from '../../plant/plant.ts';
import type { PreparedYear } from '../../year.ts';

/**
 * The figures of a report that a study gives for each design, in the order in which a table shows them. One pass over
 * the ledger, where the report takes many.
 */
export const HEADLINE = [
  'unmet.energy_kWh',
  'unmet.share',
  'unmet.hours',
  'unmet.loss_of_load_probability',
  'unmet.longest_hours',
  'generator.run_hours',
  'generator.starts',
  'generator.fuel_L',
  'bank.lowest_soc',
  'bank.equivalent_full_cycles',
  'bank.usable_kWh',
  'autonomy.nominal_days',
  'autonomy.sunless_hours.least',
  'array.size_kWp',
  'array.curtailed_share',
  'load.served_kWh',
  'dangers',
] as const satisfies readonly FigureName[];

/** Name of a headline figure. */
export type HeadlineName = (typeof HEADLINE)[number];

/** Figures of one played design by name; null where the plant has no such figure. */
export type Headline = Readonly<Record<HeadlineName, number | null>>;

/**
 * Reads the headline figures off a played year.
 *
 * @param leastSunless_h shortest time in the dark, which depends on bank, inverter and loads alone: a study of arrays
 *   gives the one it has
 */
export function headline(ledger: Ledger<RowColumn>, sunless_h?: number): Headline {
  expectArgument('headline', 'ledger', ledger, 'ledger');
  const { year, plant } = ledger;
  const leastSunless_h = sunless_h ?? leastSunlessHours(year, plant);
  expectWithin('headline', 'sunless_h', leastSunless_h, 0, Number.POSITIVE_INFINITY);
  const { columns, steps, step_h } = ledger;
  const { load_wanted_kWh, unmet_kWh, generator_run_h, fuel_L, bank_soc, bank_discharge_kWh } = columns;
  const { array_available_kWh, curtailed_kWh } = columns;
  let wanted = 0;
  let unmet = 0;
  let unmetSteps = 0;
  let wantedSteps = 0;
  let lean = 0;
  let longest = 0;
  let lowest = 1;
  let discharged = 0;
  let available = 0;
  let curtailed = 0;
  for (let i = 0; i < steps; i++) {
    wanted += load_wanted_kWh[i]!;
    if (load_wanted_kWh[i]! > 0) wantedSteps++;
    available += array_available_kWh[i]!;
    curtailed += curtailed_kWh[i]!;
    discharged += bank_discharge_kWh[i]!;
    if (bank_soc[i]! < lowest) lowest = bank_soc[i]!;
    const missing = unmet_kWh[i]!;
    unmet += missing;
    if (isUnmet(missing)) {
      unmetSteps++;
      lean++;
      if (lean > longest) longest = lean;
    } else {
      lean = 0;
    }
  }
  let run_h = 0;
  let starts = 0;
  let fuel = 0;
  if (plant.generator !== null) {
    let on = false;
    for (let i = 0; i < steps; i++) {
      const ran = generator_run_h[i]!;
      if (ran > 0) {
        run_h += ran;
        fuel += fuel_L[i]!;
        if (!on) starts++;
      }
      on = ran > 0;
    }
  }
  const usable_kWh = plant.bank.capacity_kWh - plant.bank.floor_kWh;
  return {
    'unmet.energy_kWh': unmet,
    'unmet.share': wanted > 0 ? unmet / wanted : null,
    'unmet.hours': unmetSteps * step_h,
    'unmet.loss_of_load_probability': wantedSteps > 0 ? unmetSteps / wantedSteps : null,
    'unmet.longest_hours': longest * step_h,
    'generator.run_hours': plant.generator === null ? null : run_h,
    'generator.starts': plant.generator === null ? null : starts,
    'generator.fuel_L': plant.generator === null ? null : fuel,
    'bank.lowest_soc': lowest,
    'bank.equivalent_full_cycles': discharged / plant.bank.capacity_kWh,
    'bank.usable_kWh': usable_kWh,
    'autonomy.nominal_days': wanted > 0 ? usable_kWh / (wanted / year.clock.days) : null,
    'autonomy.sunless_hours.least': leastSunless_h,
    'array.size_kWp': plant.arrays.reduce((sum, array) => sum + array.size_kWp, 0),
    'array.curtailed_share': available > 0 ? curtailed / available : null,
    'load.served_kWh': wanted - unmet,
    dangers: dangersOf(year, plant).length,
  };
}

/** Shortest time a full bank carries the loads in the dark, hours. */
export function leastSunlessHours(year: PreparedYear, plant: Plant): number {
  const { hours } = sunlessHours(year, plant);
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < hours.length; i++) if (hours[i]! < least) least = hours[i]!;
  return least;
}
