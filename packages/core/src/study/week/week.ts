import { expectArgument } from '../../basis/arguments.ts';
import { refusal } from '../../basis/errors.ts';
import { tidy } from '../../basis/rounding.ts';
import { localDate, localTime } from '../../clock/clock.ts';
import { isUnmet } from '../../findings/figures/unmet.ts';
import { type DayFigures, dayOf, leanestStart } from '../../findings/leanest.ts';
import { type Danger, dangersOf } from '../../findings/static/dangers.ts';
import { shareOf, total } from '../../findings/totals.ts';
import { newReusedColumns, playDaysOf, playYear, type ReusedColumns, stateBefore } from '../../hours/play.ts';
import { restedState, stateInBank } from '../../hours/state.ts';
import type { Ledger, PlayedSteps } from '../../ledger/ledger.ts';
import type { PlantState } from '../../ledger/state.ts';
import { timesLoad } from '../../loads/types.ts';
import { withModules } from '../../plant/bank.ts';
import type { Plant } from '../../plant/plant.ts';
import type { PreparedYear } from '../../year.ts';
import { daysOfYear } from './stretch.ts';

const refuse = refusal.bind(null, 'week');

/** What to ask of a stretch of days. */
export interface WeekAsk {
  /** Whole local days. */
  readonly days: number;
  /** First local date, `2026-12-20`; null asks for the leanest days of the year. */
  readonly start: string | null;
  /** State of charge at its beginning; null takes the one of the played year. */
  readonly soc: number | null;
  /** False takes the generator out of the plant. */
  readonly generator: boolean;
}

/** How a plant comes through a stretch of days. */
export interface WeekAnswer {
  /** Local date of the first day. */ readonly start: string;
  /** Whole local days. */ readonly days: number;
  /** State of charge that they begin with. */ readonly initial_soc: number;
  /** State of charge with which the played year comes to these days. */ readonly played_initial_soc: number;
  /** True if nothing above the floor is in the bank at its beginning: then more modules begin as empty. */
  readonly begins_empty: boolean;
  /** True if the plant has a generator and may run it. */ readonly generator: boolean;
  /** Array energy offered over load wanted; null if nothing is wanted. */ readonly sun_to_load:
    | number
    | null;
  /** Energy that the loads ask for. */ readonly wanted_kWh: number;
  /** DC energy that the arrays offer. */ readonly available_kWh: number;
  /** Wanted less served. */ readonly unmet_kWh: number;
  /** Hours of steps with any unmet load. */ readonly unmet_hours: number;
  /** Local start of the first step with unmet load; null if there is none. */
  readonly first_unmet: string | null;
  /** In these days. */ readonly lowest_soc: number;
  /** In these days. */ readonly generator_run_hours: number;
  /** In time order. */ readonly by_day: readonly DayFigures[];
  /** Modules that the plant has. */ readonly modules_parallel: number;
  /**
   * Days that the plant carries its loads if such days follow each other, counted to the first unmet hour; null if
   * it does so for `WEEK_ROUNDS` rounds of the stretch.
   */
  readonly rides_days: number | null;
  /**
   * Modules with which nothing goes unmet in the stretch: the fewest down from those there are, if these do, else the
   * fewest up from them; null if no number up to `MOST_MODULES` does.
   */
  readonly modules_to_ride: number | null;
  /** A number of modules that holds though a larger one fails: more modules don't help steadily. Null if none was found. */
  readonly modules_unsteady: { readonly holds: number; readonly fails: number } | null;
  /** Largest share of the load, in steps of 0.001, with which nothing goes unmet; null if not even 0.001. */
  readonly load_share_to_ride: number | null;
  /** The hours of the stretch. */ readonly year: PreparedYear;
  /** What was played in them. */ readonly ledger: Ledger;
  /** What the plant begins them with, and what the played year hands on to the next. */
  readonly state: PlantState;
  /** Of the whole year. */ readonly played_end: PlantState;
  /** Of the plant in its whole year: days in summer don't tell how cold it gets. */
  readonly dangers: readonly Danger[];
}

/** What an answer starts from beside its question. */
interface WeekFrom {
  /** State with which the played year begins; left out, it begins as the plant says. */
  readonly handed_on?: PlantState | null;
  /** State at the beginning of the days, instead of the one asked for. */
  readonly state?: PlantState;
}

/** Most modules that are tried for a stretch. */
const MOST_MODULES = 1000;
/** So many modules beyond twice those that are enough are tried to see whether more of them hold as well. */
const STEADY_MODULES = 4;
/** A bank with less above its floor, as a share of its capacity, is empty. */
const EMPTY_share = 1e-9;
/** How often the days of a stretch are played after each other before it is taken that they could go on for ever. */
export const WEEK_ROUNDS = 10;

/**
 * The winter-week question on its own: a stretch of days from a given state of charge.
 *
 * More bank and less load are found by trying: module by module, and load in steps of a thousandth, so that the answer
 * is exact whatever the losses are. A larger bank begins the stretch with the same state of charge.
 *
 * Asked for the state of the played year, the days are its very hours: all that the plant remembers is handed to them, a
 * generator looks back on the days before them, and a tank is filled on the days on which it is filled in the year. Asked
 * for a state of charge, the plant has rested: generator off, tank full, nothing shed, nothing flexible.
 *
 * @throws InputError if the days do not lie within the year or the state of charge is not within floor and full
 */
export function askWeek(
  year: PreparedYear,
  plantAsGiven: Plant,
  ask: WeekAsk,
  from: WeekFrom = {},
): WeekAnswer {
  expectArgument('askWeek', 'year', year, 'year');
  expectArgument('askWeek', 'plant', plantAsGiven, 'plant');
  expectArgument('askWeek', 'ask', ask, 'object');
  expectArgument('askWeek', 'ask.days', ask.days, 'number');
  const plant = ask.generator ? plantAsGiven : { ...plantAsGiven, generator: null };
  const { clock } = year;
  if (!Number.isInteger(ask.days) || ask.days < 1 || ask.days > clock.days) {
    throw refuse(
      '--days',
      `a stretch of ${ask.days} days does not fit a year of ${clock.days}`,
      `give 1 to ${clock.days} whole days`,
    );
  }
  // As the scenario writes it: 0.1 and not 0.10000000000000002, which would refuse a stretch that begins at the floor.
  const floor = tidy(plant.bank.floor_kWh / plant.bank.capacity_kWh);
  if (ask.soc !== null && !(ask.soc >= floor && ask.soc <= 1)) {
    throw refuse(
      '--soc',
      `${ask.soc} is not between the floor ${floor} and 1`,
      'give a state of charge such as 0.8',
    );
  }
  const reused = newReusedColumns(clock.steps);
  const played = playYear(year, plant, reused, from.handed_on ?? null);
  const first = ask.start === null ? leanestStart(played, ask.days) : dayOfDate(year, ask.start, ask.days);
  const before = clock.day_start[first]! - 1;
  const { capacity_kWh } = plant.bank;
  const played_initial_soc =
    before >= 0 ? played.columns.bank_soc[before]! : played.start_stock_kWh / capacity_kWh;
  const flexible = year.loads.flexible.length;
  const playedState = stateBefore(year, reused, first);
  const state = from.state ?? (ask.soc === null ? playedState : restedState(plant, ask.soc, flexible));
  const lean: Lean = { ...withLead(year, plant, first, ask.days), state, reused: newReusedColumns(0) };
  const stretch = daysOfYear(year, first, ask.days);
  const own = { ...lean, reused: newReusedColumns(lean.led.clock.steps) };
  const ledger: Ledger = { year: stretch, plant, ...playWeek(own, plant) };
  const by_day = Array.from({ length: ask.days }, (_, day) => dayOf(ledger, day));
  const wanted_kWh = total(ledger.columns.load_wanted_kWh);
  const available_kWh = total(ledger.columns.array_available_kWh);
  const dark = firstDark(ledger);
  return {
    start: localDate(clock, clock.day_start[first]!),
    days: ask.days,
    initial_soc: ask.soc ?? (state === playedState ? played_initial_soc : state.stock_kWh / capacity_kWh),
    played_initial_soc,
    begins_empty: state.stock_kWh - plant.bank.floor_kWh <= EMPTY_share * capacity_kWh,
    generator: plant.generator !== null,
    sun_to_load: shareOf(available_kWh, wanted_kWh),
    wanted_kWh,
    available_kWh,
    unmet_kWh: total(ledger.columns.unmet_kWh),
    unmet_hours: darkSteps(ledger) * clock.step_h,
    first_unmet: dark < 0 ? null : localTime(stretch.clock, dark),
    lowest_soc: by_day.reduce((low, day) => Math.min(low, day.lowest_soc), 1),
    generator_run_hours: total(ledger.columns.generator_run_h),
    by_day,
    modules_parallel: plant.bank.modules_parallel,
    rides_days: ridesDays(lean, plant),
    ...modulesToRide(lean, plant, dark < 0),
    load_share_to_ride: loadShareToRide(lean, plant),
    year: stretch,
    ledger,
    state,
    played_end: played.end,
    dangers: dangersOf(year, plantAsGiven),
  };
}

function dayOfDate(year: PreparedYear, date: string, days: number): number {
  const { clock } = year;
  for (let day = 0; day < clock.days; day++) {
    if (localDate(clock, clock.day_start[day]!) !== date) continue;
    if (day + days <= clock.days) return day;
    throw refuse(
      '--start',
      `${days} days from ${date} reach past the end of ${clock.year}`,
      'start earlier or ask for fewer days',
    );
  }
  throw refuse(
    '--start',
    `${date} is no day of the year ${clock.year}`,
    `give a date such as ${clock.year}-12-15`,
  );
}

/** The first step with unmet load; -1 if there is none. */
const firstDark = ({ columns }: PlayedSteps): number => columns.unmet_kWh.findIndex(isUnmet);

function darkSteps(ledger: PlayedSteps): number {
  let dark = 0;
  for (let i = 0; i < ledger.steps; i++) if (isUnmet(ledger.columns.unmet_kWh[i]!)) dark++;
  return dark;
}

/** Days to be played, the state before them, and the days before them that a generator looks back on. */
interface Lean {
  /** The days and their lead, as a year; days are counted as in the whole year, so a tank is filled when it is then. */
  readonly led: PreparedYear;
  /** Days of the lead. */
  readonly lead: number;
  readonly days: number;
  readonly state: PlantState;
  /** Columns for the days and their lead, once one was played. */
  reused: ReusedColumns;
}

function withLead(
  year: PreparedYear,
  { generator }: Plant,
  first: number,
  days: number,
): Pick<Lean, 'led' | 'lead' | 'days'> {
  // A day more: look-back is counted in days of 24 hours.
  const looksBack = generator?.night == null ? 0 : generator.night.look_back_days + 1;
  const lead = Math.min(first, looksBack);
  const cut = daysOfYear(year, first - lead, lead + days);
  return {
    led: { ...cut, clock: { ...cut.clock, day: cut.clock.day.map((day) => day + first - lead) } },
    lead,
    days,
  };
}

/** Plays the days of a stretch into its reused. */
function playWeek(lean: Lean, plant: Plant, led = lean.led, state = lean.state): PlayedSteps {
  if (lean.reused.tracked_kWh.length !== led.clock.steps) lean.reused = newReusedColumns(led.clock.steps);
  return playDaysOf(led, plant, state, lean.lead, lean.days, lean.reused);
}

function ridesDays(lean: Lean, plant: Plant): number | null {
  let { state, led } = lean;
  let carried_h = 0;
  for (let round = 0; round < WEEK_ROUNDS; round++) {
    const ledger = playWeek(lean, plant, led, state);
    const { steps, step_h } = ledger;
    const dark = firstDark(ledger);
    if (dark >= 0) return (carried_h + dark * step_h) / 24;
    carried_h += steps * step_h;
    state = ledger.end;
    led = { ...led, clock: { ...led.clock, day: led.clock.day.map((day) => day + lean.days) } };
  }
  return null;
}

/**
 * Up from what is there if that is not enough, else down from it as long as it is. With a generator, which starts by
 * state of charge, a larger bank may fail where a smaller one holds: then it is said which.
 */
function modulesToRide(
  lean: Lean,
  plant: Plant,
  holds: boolean,
): Pick<WeekAnswer, 'modules_to_ride' | 'modules_unsteady'> {
  const { bank } = plant;
  const has = bank.modules_parallel;
  const rides = (n: number): boolean => {
    const larger = withModules(bank, n);
    const state = stateInBank(lean.state, bank.capacity_kWh, larger.capacity_kWh);
    return firstDark(playWeek(lean, { ...plant, bank: larger }, lean.led, state)) < 0;
  };
  let needed = has;
  if (holds) {
    while (needed > 1 && rides(needed - 1)) needed--;
  } else {
    do needed++;
    while (needed <= MOST_MODULES && !rides(needed));
  }
  const modules_to_ride = needed <= MOST_MODULES || holds ? needed : null;
  return { modules_to_ride, modules_unsteady: unsteady() };

  function unsteady(): WeekAnswer['modules_unsteady'] {
    if (!holds) for (let n = has - 1; n >= 1; n--) if (rides(n)) return { holds: n, fails: has };
    if (modules_to_ride === null) return null;
    const from = Math.max(has, modules_to_ride);
    for (let n = from + 1; n <= Math.min(MOST_MODULES, 2 * from + STEADY_MODULES); n++) {
      if (!rides(n)) return { holds: n - 1, fails: n };
    }
    return null;
  }
}

function loadShareToRide(lean: Lean, plant: Plant): number | null {
  for (let thousandths = 1000; thousandths >= 1; thousandths--) {
    const share = thousandths / 1000;
    const led = { ...lean.led, loads: timesLoad(lean.led.loads, share) };
    if (firstDark(playWeek(lean, plant, led, timesFlexible(lean.state, share))) < 0) return share;
  }
  return null;
}

/** What flexible loads still ask for shrinks with them. */
const timesFlexible = (state: PlantState, share: number): PlantState => ({
  ...state,
  flexible_kWh: state.flexible_kWh.map((kWh) => kWh * share),
});
