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
 * @returns a function from a scenario to its figures
 */
export function newPlayer(
  file: string,
  texts: FileTexts,
  harder: Harder = NOT_HARDER,
): (scenario: Scenario) => Figures {
  const yearOf = newYearPreparer(file, texts);
  const harden = newHardener(harder);
  const play = newYearPlayer();
  return (scenario) => play(scenario, harden(yearOf(scenario)));
}

/**
 * The same for years that are prepared already.
 *
 * @returns a function from a scenario, its year and what was made of that since, by a name, to its figures
 */
export function newYearPlayer(): (scenario: Scenario, year: PreparedYear, made?: string) => Figures {
  const leanest = memo<number>(1024);
  const nameOf = newNames();
  const plantOf = newPlantBuilder();
  let reused: ReusedColumns | undefined;
  return (scenario, year, made = '') => {
    const plant = plantOf(scenario);
    if (reused === undefined || reused.tracked_kWh.length !== year.clock.steps)
      reused = newReusedColumns(year.clock.steps);
    const ledger = playRow(year, plant, reused);
    // Time in the dark depends on no arrays, and on weather only by loads that follow
    // it or vary and by a bank in the cold: a study of arrays asks once.
    const { bank, inverter, loads, run, site } = scenario;
    const feelsWeather =
      followsWeather(loads) || bank.heater !== undefined || bank.capacity_at_temperature !== undefined;
    const parts = feelsWeather
      ? [bank, inverter, loads, run, site, scenario.weather]
      : [bank, inverter, loads, run, site];
    const sunless_h = leanest(`${parts.map(nameOf).join(' ')} ${made}`, () => leastSunlessHours(year, plant));
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
      'money.capital': bill.capital,
      'money.total': cost === null ? null : cost.total,
      'money.per_served_kWh': cost === null ? null : cost.per_served_kWh,
    };
  };
}
