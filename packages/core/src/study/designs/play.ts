import { memo, newNames } from '../../basis/memo.ts';
import type { Figure } from '../../findings/figures/figure.ts';
import { figureNamed } from '../../findings/figures/figures.ts';
import { total } from '../../findings/totals.ts';
import { newReusedColumns, playRow, type ReusedColumns } from '../../hours/play.ts';
import type { Ledger, RowColumn } from '../../ledger/ledger.ts';
import { followsWeather } from '../../loads/prepare.ts';
import { lifetimeCost } from '../../money/lifetime.ts';
import { billOfScenario, termsOf } from '../../money/of-scenario.ts';
import { newPlantBuilder, type Plant } from '../../plant/plant.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import { lifeUsed } from '../../wear/life.ts';
import type { PreparedYear } from '../../year.ts';
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
 * Plays plants one after another on one set of columns; what their years share is prepared once.
 *
 * @param yearOf makes the hours of a scenario, as a `newYearPreparer` does
 * @param play the whole year, or only what a row is read from
 * @param harder what to make of each year before it is played
 * @returns a function from a scenario to its ledger, which the next play overwrites, and to how much of its bank's life
 *   is used; the scenario whose own weather a plant that has aged was new in comes second, and is the first unless that
 *   was put into another year
 */
export function newYearPlayer<Played extends Ledger<RowColumn>>(
  yearOf: (scenario: Scenario) => PreparedYear,
  play: (year: PreparedYear, plant: Plant, reused: ReusedColumns) => Played,
  harder: Harder = NOT_HARDER,
): (scenario: Scenario, own?: Scenario) => { readonly ledger: Played; readonly life_used_share: number } {
  const harden = newHardener(harder);
  const plantOf = newPlantBuilder();
  const columnsOf = newColumns();
  const atAge = newAger(harder.age_years, { yearOf, plantOf, columnsOf });
  return (asked, own = asked) => {
    const { scenario, plant, life_used_share } = atAge(asked, own, plantOf(asked));
    const year = harden(yearOf(scenario));
    return { ledger: play(year, plant, columnsOf(year)), life_used_share };
  };
}

/** One set of columns for years played one after another, made anew only for a year of another length. */
export function newColumns(): (year: PreparedYear) => ReusedColumns {
  let reused = newReusedColumns(0);
  return ({ clock }) => {
    if (reused.tracked_kWh.length !== clock.steps) reused = newReusedColumns(clock.steps);
    return reused;
  };
}

/** The figures of designs, one after another, without their hours. For the parameters see `newYearPlayer`. */
export function newPlayer(
  yearOf: (scenario: Scenario) => PreparedYear,
  harder: Harder = NOT_HARDER,
): (scenario: Scenario, own?: Scenario) => Figures {
  const play = newYearPlayer(yearOf, playRow, harder);
  const figuresOf = newFigureReader();
  return (scenario, own) => {
    const { ledger, life_used_share } = play(scenario, own);
    return figuresOf(ledger, `${life_used_share}`);
  };
}

/**
 * Reads the figures of designs off their ledgers; what several of them share is worked out once.
 *
 * @returns a function from a ledger to its figures; what was made of its year or plant since the scenario comes second,
 *   by a name
 */
export function newFigureReader(): (ledger: Ledger<RowColumn>, made?: string) => Figures {
  const leanest = memo<number>(1024);
  const nameOf = newNames();
  return (ledger, made = '') => {
    const { year, plant } = ledger;
    const { scenario } = year;
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
      // What is bought, however little of it is left.
      'array.size_kWp': scenario.arrays.reduce((sum, array) => sum + array.size_kWp, 0),
      'money.capital': bill.capital,
      'money.total': cost === null ? null : cost.total,
      'money.per_served_kWh': cost === null ? null : cost.per_served_kWh,
    };
  };
}
