import { ofObject } from '../../basis/memo.ts';
import { playRow, type ReusedColumns } from '../../hours/play.ts';
import { grown, grows } from '../../loads/growth.ts';
import { agedPlant } from '../../plant/aged.ts';
import type { Plant } from '../../plant/plant.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import { lifeUsed } from '../../wear/life.ts';
import type { PreparedYear } from '../../year.ts';

/** A design with years of use behind it. */
export interface Aged {
  /** With loads as large as they are by then. */ readonly scenario: Scenario;
  readonly plant: Plant;
  /** Of the bank's life. */ readonly life_used_share: number;
}

/** How a new design is played to see how fast its bank wears. */
export interface AsNew {
  readonly yearOf: (scenario: Scenario) => PreparedYear;
  readonly plantOf: (scenario: Scenario) => Plant;
  /** Columns for its year, which nothing needs any more. */
  readonly columnsOf: (year: PreparedYear) => ReusedColumns;
}

/**
 * Makes designs as old as is asked, each at its weakest up to that age: a part that is bought anew before then stands at
 * the end of its life. Every year takes of the bank what its first takes, so that a design is played once as new, and
 * only if cycles wear its bank; cycles that deepen as the bank shrinks or loads grow are left out. Ageing itself is that
 * of `agedPlant`, arrays lose their share of the year before, and loads grow by theirs. Common practice, no source.
 *
 * @param age_years 0 leaves everything as it is
 * @returns a function from a scenario, the scenario whose own weather its first year has, and its plant as new; the
 *   second is known again by identity, so that a design in many years is played as new once
 */
export function newAger(
  age_years: number,
  { yearOf, plantOf, columnsOf }: AsNew,
): (scenario: Scenario, own: Scenario, plant: Plant) => Aged {
  if (age_years === 0) return (scenario, _, plant) => ({ scenario, plant, life_used_share: 0 });
  const loadsOf = ofObject((loads: Scenario['loads']) =>
    loads.map((load) => (grows(load) ? grown(load, age_years) : load)),
  );
  const usedByAge_share = ofObject((own: Scenario): number => {
    const plant = plantOf(own);
    const { bank_life: life, bank } = plant;
    if (life === null) return 0;
    const calendar = life.life_years === null ? 0 : 1 / life.life_years;
    let cycles = 0;
    if (life.cycle_life !== null || life.life_cycles !== null) {
      const year = yearOf(own);
      const ledger = playRow(year, plant, columnsOf(year));
      cycles = lifeUsed(ledger, life, bank.capacity_kWh, 1).cycle_life_used_share ?? 0;
    }
    return Math.min(1, age_years * Math.max(calendar, cycles));
  });
  return (scenario, own, plant) => {
    const life_used_share = usedByAge_share(own);
    const arrays = scenario.arrays.map(
      ({ ageing_share_per_year, life_years }) =>
        (1 - ageing_share_per_year) ** Math.min(age_years, life_years ?? age_years),
    );
    return {
      scenario: scenario.loads.some(grows) ? { ...scenario, loads: loadsOf(scenario.loads) } : scenario,
      plant: agedPlant(plant, life_used_share, arrays),
      life_used_share,
    };
  };
}
