import { expectArgument } from '../../basis/arguments.ts';
import { expectWithin } from '../../basis/within.ts';
import { localTime } from '../../clock/clock.ts';
import { isUnmet } from '../../findings/figures/unmet.ts';
import { balancedBooks } from '../../findings/findings.ts';
import { useOf } from '../../findings/money.ts';
import { shareOf, total } from '../../findings/totals.ts';
import { playedYears } from '../../findings/wear.ts';
import type { Years, YearsRow } from '../../findings/years.ts';
import { newReusedColumns, playYear } from '../../hours/play.ts';
import { stateInBank } from '../../hours/state.ts';
import type { Ledger } from '../../ledger/ledger.ts';
import type { PlantState } from '../../ledger/state.ts';
import { grown, grows } from '../../loads/growth.ts';
import type { Life } from '../../money/bill.ts';
import { UNWORN, wornBy } from '../../money/lifetime.ts';
import { billOfScenario } from '../../money/of-scenario.ts';
import { agedPlant } from '../../plant/aged.ts';
import type { Bank } from '../../plant/bank.ts';
import type { Plant } from '../../plant/plant.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import { lifeUsed } from '../../wear/life.ts';
import { isWorn, throughYear } from '../../wear/worn.ts';
import type { PreparedYear } from '../../year.ts';
import { yearFigures } from './year-figures.ts';

/** A plant to be played on for some years, and the years. */
export interface YearsAsk {
  /** How many, from 1. */ readonly years: number;
  /** The plant as new. */ readonly plant: Plant;
  /** The hours of a year, counted from 0. */ readonly yearOf: (k: number) => PreparedYear;
  /** What each array loses a year, as a share of the year before. */
  readonly array_ageing_share_per_year: readonly number[];
}

/**
 * Plays a plant year after year: each starts with the state that the one before left, a bank that has lost capacity and
 * gained resistance (`agedPlant`), and arrays that give less. The first closes on itself, or starts with
 * `run.initial_soc`. A part whose life is used up is bought anew at that moment (`throughYear`), as the bill over the
 * years has it. The hours know it from the next year on: the year in which it is worn is played to its end with the old
 * one, and a new bank begins at the state of charge at which the old one ended.
 *
 * Of the bank's cycles and years the larger counts; a year is played with what was left at its start. Arrays lose their
 * share of the year before. Both are common practice, no source.
 *
 * @throws BalanceError if the books of a year don't balance
 */
export function playYears(ask: YearsAsk): Years {
  expectArgument('playYears', 'ask', ask, 'object');
  const { years, plant, yearOf, array_ageing_share_per_year } = ask;
  expectWithin('playYears', 'years', years, 1, 1000);
  expectArgument('playYears', 'plant', plant, 'plant');
  expectArgument('playYears', 'yearOf', yearOf, 'function');
  expectArgument('playYears', 'array_ageing_share_per_year', array_ageing_share_per_year, 'list');
  const { bank_life: life } = plant;
  const rows: YearsRow[] = [];
  const others = wearingParts(yearOf(0).scenario);
  let bank_used: readonly number[] = [0, 0];
  let left: { readonly state: PlantState; readonly capacity_kWh: number } | null = null;
  let first_failure: Years['first_failure'] = null;
  let bank_end_of_life_years: number | null = null;
  let reused = newReusedColumns(yearOf(0).clock.steps);
  for (let k = 0; k < years; k++) {
    const year = yearOf(k);
    const used_share = isWorn(bank_used) ? 0 : Math.max(...bank_used);
    const arrays = array_ageing_share_per_year.map((loss, a) => (1 - loss) ** arrayAge_years(others, a, k));
    const aged = agedPlant(plant, used_share, arrays);
    const capacity_kWh = aged.bank.capacity_kWh;
    const handed_on: PlantState | null =
      left === null ? null : stateInBank(left.state, left.capacity_kWh, capacity_kWh);
    if (reused.tracked_kWh.length !== year.clock.steps) reused = newReusedColumns(year.clock.steps);
    const ledger = playYear(year, aged, reused, handed_on);
    balancedBooks(ledger);

    const used = life === null ? null : lifeUsed(ledger, life, capacity_kWh, playedYears(year));
    const bank = throughYear(bank_used, [
      used?.calendar_life_used_share ?? 0,
      used?.cycle_life_used_share ?? 0,
    ]);
    bank_used = bank.used_share;
    if (bank_end_of_life_years === null && bank.times > 0) bank_end_of_life_years = k + bank.first;
    const dark = ledger.columns.unmet_kWh.findIndex(isUnmet);
    if (first_failure === null && dark >= 0) first_failure = failureAt(year, dark, k);
    const row = {
      ...rowOf(ledger, k),
      capacity_share: capacity_kWh / plant.bank.capacity_kWh,
      resistance_factor: resistanceOver(aged.bank, plant.bank),
      array_share: shareOf(sizeOf(aged), sizeOf(plant)),
      cycle_life_used_share: used?.cycle_life_used_share ?? null,
      life_used_share: life === null ? null : Math.max(...bank_used),
    };
    const replaced = others.flatMap((part) => {
      const { times, used_share } = throughYear(part.used_share, wornBy(part.life, useOf(row)));
      part.used_share = used_share;
      return times === 0 ? [] : [{ path: part.path, times }];
    });
    if (bank.times > 0) replaced.unshift({ path: 'bank', times: bank.times });
    rows.push({ ...row, replaced });
    left = { state: ledger.end, capacity_kWh };
  }
  if (bank_end_of_life_years === null && isWorn(bank_used)) bank_end_of_life_years = years;
  return {
    by_year: rows,
    first_failure,
    bank_end_of_life_years,
    begins: plant.initial_soc === null ? 'closed' : 'initial_soc',
    loads_grow: yearOf(0).scenario.loads.some(grows),
    end_of_life_share: life?.end_of_life_share ?? null,
  };
}

/** A part other than the bank that does not last as long as the plant. */
interface Wearing {
  readonly path: string;
  readonly life: Life;
  used_share: readonly number[];
}

const wearingParts = (scenario: Scenario): readonly Wearing[] =>
  billOfScenario(scenario).lines.flatMap(({ path, life }) =>
    path === null || path === 'bank' || life === null ? [] : [{ path, life, used_share: UNWORN }],
  );

/** How old an array is when year `k` begins. */
function arrayAge_years(parts: readonly Wearing[], a: number, k: number): number {
  const array = parts.find(({ path }) => path === `arrays[${a}]`);
  if (array === undefined) return k;
  return isWorn(array.used_share) ? 0 : array.used_share[0]! * array.life.years!;
}

const resistanceOver = ({ model }: Bank, { model: asNew }: Bank): number | null =>
  model.kind === 'resistive' && asNew.kind === 'resistive' && asNew.module_resistance_ohm > 0
    ? model.module_resistance_ohm / asNew.module_resistance_ohm
    : null;

const sizeOf = ({ arrays }: Plant): number => arrays.reduce((sum, array) => sum + array.size_kWp, 0);

function rowOf(
  ledger: Ledger,
  k: number,
): Omit<
  YearsRow,
  | 'capacity_share'
  | 'resistance_factor'
  | 'array_share'
  | 'cycle_life_used_share'
  | 'life_used_share'
  | 'replaced'
> {
  const { columns, plant } = ledger;
  const { clock, scenario } = ledger.year;
  const figures = yearFigures(ledger);
  return {
    year: k + 1,
    calendar_year: clock.year + k,
    seed: scenario.weather.kind === 'monthly_means' ? scenario.weather.seed : null,
    wanted_kWh: total(columns.load_wanted_kWh),
    served_kWh: total(columns.load_served_kWh),
    unmet_kWh: figures.unmet_kWh,
    unmet_hours: figures.unmet_hours,
    initial_soc: ledger.start_stock_kWh / plant.bank.capacity_kWh,
    lowest_soc: figures.lowest_soc,
    generator_run_hours: figures.generator_run_hours,
    fuel_L: plant.generator === null ? null : total(columns.fuel_L),
    shore_kWh: plant.shore === null ? null : total(columns.shore_kWh),
    equivalent_full_cycles: total(columns.bank_discharge_kWh) / plant.bank.capacity_kWh,
  };
}

function failureAt(year: PreparedYear, step: number, k: number): NonNullable<Years['first_failure']> {
  const { clock, scenario } = year;
  const calendar_year = clock.year + k;
  return {
    year: k + 1,
    calendar_year,
    time: `${calendar_year}${localTime(clock, step).slice(4, 16)}`,
    winter: winterOf(scenario.site.latitude_deg, clock.month[step]!, calendar_year),
  };
}

/** The winter half-year that a month belongs to: `2029/30` in the north, `2029` in the south; null in summer. */
export function winterOf(latitude_deg: number, month: number, calendar_year: number): string | null {
  if (latitude_deg < 0) return month >= 4 && month <= 9 ? `${calendar_year}` : null;
  if (month >= 4 && month <= 9) return null;
  const from = month >= 10 ? calendar_year : calendar_year - 1;
  return `${from}/${String((from + 1) % 100).padStart(2, '0')}`;
}

/**
 * The hours of year after year of one scenario: weather from normals is drawn anew, seed by seed; a series and a clear
 * sky stay the same. Loads grow by their share each year; the calendar stays that of the first year.
 *
 * @param first the first year, prepared
 * @param prepare makes the hours of a scenario
 */
export function hoursByYear(
  first: PreparedYear,
  prepare: (scenario: Scenario) => PreparedYear,
): (k: number) => PreparedYear {
  expectArgument('hoursByYear', 'first', first, 'year');
  expectArgument('hoursByYear', 'prepare', prepare, 'function');
  const { scenario } = first;
  const { weather, loads } = scenario;
  const isSame = weather.kind !== 'monthly_means' && !loads.some(grows);
  return (k) =>
    k === 0 || isSame
      ? first
      : prepare({
          ...scenario,
          weather:
            weather.kind === 'monthly_means' ? { ...weather, seed: (weather.seed + k) % 2 ** 32 } : weather,
          loads: loads.map((load) => (grows(load) ? grown(load, k) : load)),
        });
}
