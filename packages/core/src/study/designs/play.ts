import { memo, newNames } from '../../basis/memo.ts';
import type { Figure } from '../../findings/figures/figure.ts';
import { figureNamed } from '../../findings/figures/figures.ts';
import { total } from '../../findings/totals.ts';
import { newReusedColumns, playRow, type ReusedColumns } from '../../hours/play.ts';
import { followsWeather } from '../../loads/prepare.ts';
import { lifetimeCost } from '../../money/lifetime.ts';
import { billOfScenario, termsOf } from '../../money/of-scenario.ts';
import { newPlantBuilder } from '../../plant/plant.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import type { FileTexts } from '../../series/types.ts';
import { lifeUsed } from '../../wear/life.ts';
import { newYearPreparer, type PreparedYear } from '../../year.ts';
import { newAger } from './at-age.ts';
import { type Harder, NOT_HARDER, newHardener } from './harder.ts';
import { HEADLINE, headline, leastSunlessHours } from './headline.ts';

/** Every figure of a design, in the order of a row: the headline, and money. */
const NAMES = [...HEADLINE, 'money.capital', 'money.total', 'money.per_served_kWh'] as const;
/** Name of a figure of a design, as in report.json. */
export type DesignFigureName = (typeof NAMES)[number];
/** Every figure of a design as the table of figures describes it, in the order of a row. */
export const DESIGN_FIGURES: readonly Figure<DesignFigureName>[] = NAMES.map((name) => figureNamed(name));
/** Figures of one design by name; null where the plant has no such figure. */
export type Figures = Readonly<Record<DesignFigureName, number | null>>;

/**
 * Plays designs one after another on one set of columns; what they share is prepared once.
 *
 * @param texts text of every series file that the scenarios name
 * @param harder what to make of each year before it is played
 * @returns a function from a scenario to its figures; the scenario whose own weather a plant that has aged was new in
 *   comes second, and is the first unless that was put into another year
 */
export function newPlayer(
  file: string,
  texts: FileTexts,
  harder: Harder = NOT_HARDER,
): (scenario: Scenario, own?: Scenario) => Figures {
  const yearOf = newYearPreparer(file, texts);
  const harden = newHardener(harder);
  const leanest = memo<number>(1024);
  const nameOf = newNames();
  const plantOf = newPlantBuilder();
  let reused: ReusedColumns | undefined;
  const columnsOf = ({ clock }: PreparedYear): ReusedColumns => {
    if (reused?.tracked_kWh.length !== clock.steps) reused = newReusedColumns(clock.steps);
    return reused;
  };
  const atAge = newAger(harder.age_years, { yearOf, plantOf, columnsOf });
  return (asked, own = asked) => {
    const asNew = plantOf(asked);
    const { scenario, plant, life_used_share } = atAge(asked, own, asNew);
    const year = harden(yearOf(scenario));
    const ledger = playRow(year, plant, columnsOf(year));
    // Time in the dark depends on no arrays, and on weather only by loads that follow
    // it or vary and by a bank in the cold: a study of arrays asks once.
    const { bank, inverter, loads, run, site } = scenario;
    const feelsWeather =
      followsWeather(loads) || bank.heater !== undefined || bank.capacity_at_temperature !== undefined;
    const parts = feelsWeather
      ? [bank, inverter, loads, run, site, scenario.weather]
      : [bank, inverter, loads, run, site];
    const sunless_h = leanest(`${parts.map(nameOf).join(' ')} ${life_used_share}`, () =>
      leastSunlessHours(year, plant),
    );
    const figures = headline(ledger, sunless_h);
    const bill = billOfScenario(scenario);
    const terms = termsOf(scenario);
    const cost =
      terms === null
        ? null
        : lifetimeCost(bill, terms, [
            {
              served_kWh: figures['load.served_kWh'] ?? 0,
              equivalent_full_cycles: figures['bank.equivalent_full_cycles'] ?? 0,
              bank_cycle_life_used_share:
                plant.bank_life === null
                  ? null
                  : lifeUsed(ledger, plant.bank_life, plant.bank.capacity_kWh, 1).cycle_life_used_share,
              generator_run_h: figures['generator.run_hours'] ?? 0,
              fuel_L: figures['generator.fuel_L'] ?? 0,
              shore_kWh: plant.shore === null ? 0 : total(ledger.columns.shore_kWh),
            },
          ]);
    return {
      ...figures,
      // What is bought, however little of it is left.
      'array.size_kWp': asNew.arrays.reduce((sum, array) => sum + array.size_kWp, 0),
      'money.capital': bill.capital,
      'money.total': cost === null ? null : cost.total,
      'money.per_served_kWh': cost === null ? null : cost.per_served_kWh,
    };
  };
}
