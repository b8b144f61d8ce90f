import { InputError } from '../basis/errors.ts';
import { localDate, localTime } from '../clock/clock.ts';
import type { SpellDay } from '../findings/report.ts';
import { darkestStart, dayOf } from '../findings/spell.ts';
import { shareOf, total } from '../findings/totals.ts';
import { UNMET_kWh } from '../findings/unmet.ts';
import { playYear } from '../hours/play.ts';
import type { Ledger } from '../ledger/ledger.ts';
import { withModules } from '../plant/bank.ts';
import type { Plant } from '../plant/plant.ts';
import type { PreparedYear } from '../year.ts';
import { withLoadTimes } from './harder.ts';
import { daysOfYear } from './stretch.ts';

/** What to ask of a stretch of days. */
export interface SpellAsk {
  /** Whole local days. */
  readonly days: number;
  /** First local date, `2026-12-20`; null asks for the darkest spell of the year. */
  readonly start: string | null;
  /** State of charge at its beginning; null takes the one of the played year. */
  readonly soc: number | null;
  /** False takes the generator out of the plant. */
  readonly generator: boolean;
}

/** How a plant comes through a stretch of days. */
export interface SpellAnswer {
  readonly start: string;
  readonly days: number;
  readonly start_soc: number;
  /** State of charge with which the played year comes to these days. */
  readonly played_start_soc: number;
  /** True if the plant has a generator and may run it. */
  readonly generator: boolean;
  readonly sun_to_load: number | null;
  readonly wanted_kWh: number;
  readonly available_kWh: number;
  readonly unmet_kWh: number;
  readonly unmet_hours: number;
  /** Local start of the first step with unserved load; null if there is none. */
  readonly first_unmet: string | null;
  readonly lowest_soc: number;
  readonly generator_run_hours: number;
  readonly by_day: readonly SpellDay[];
  /** Modules that the plant has. */
  readonly modules_parallel: number;
  /**
   * Days that the plant carries its loads if such days follow each other, counted to the first unserved hour; null if
   * it does so for `SPELL_ROUNDS` rounds of the spell.
   */
  readonly rides_days: number | null;
  /** Fewest modules with which nothing goes unserved in the spell; null if no number up to `MOST_MODULES` does. */
  readonly modules_to_ride: number | null;
  /** Largest share of the load, in steps of 0.001, with which nothing goes unserved; null if not even 0.001. */
  readonly load_share_to_ride: number | null;
  /** The hours of the spell. */
  readonly year: PreparedYear;
  readonly ledger: Ledger;
}

/** Most modules that are tried for a spell. */
export const MOST_MODULES = 1000;
/** How often the days of a spell are played after each other before it is taken that they could go on for ever. */
export const SPELL_ROUNDS = 10;

/**
 * The winter-week question on its own: a stretch of days from a given state of charge.
 *
 * More bank and less load are found by trying: module by module, and load in steps of a thousandth, so that the answer
 * is exact whatever the losses are. A larger bank begins the spell with the same state of charge.
 *
 * @throws InputError if the days do not lie within the year or the state of charge is not within floor and full
 */
export function askSpell(year: PreparedYear, plantAsGiven: Plant, ask: SpellAsk): SpellAnswer {
  const plant = ask.generator ? plantAsGiven : { ...plantAsGiven, generator: null };
  const { clock } = year;
  if (!Number.isInteger(ask.days) || ask.days < 1 || ask.days > clock.days) {
    throw refuse(
      'days',
      `a spell of ${ask.days} days does not fit a year of ${clock.days}`,
      `give 1 to ${clock.days} whole days`,
    );
  }
  // As the scenario writes it: 0.1 and not 0.10000000000000002, which would refuse a spell that begins at the floor.
  const floor = Number((plant.bank.floor_kWh / plant.bank.capacity_kWh).toPrecision(12));
  if (ask.soc !== null && !(ask.soc >= floor && ask.soc <= 1)) {
    throw refuse(
      'soc',
      `${ask.soc} is not between the floor ${floor} and 1`,
      'give a state of charge such as 0.8',
    );
  }
  const played = playYear(year, plant);
  const first =
    ask.start === null ? darkestStart(year, played, ask.days) : dayOfDate(year, ask.start, ask.days);
  const from = clock.day_start[first]!;
  const played_start_soc =
    from > 0 ? played.columns.bank_soc[from - 1]! : played.start_stock_kWh / plant.bank.capacity_kWh;
  const start_soc = ask.soc ?? played_start_soc;
  const stretch = daysOfYear(year, first, ask.days);
  const at = (p: Plant): Plant => ({ ...p, start_soc });
  const ledger = playYear(stretch, at(plant));
  const by_day = Array.from({ length: ask.days }, (_, day) => dayOf(stretch, ledger, day));
  const wanted_kWh = total(ledger.columns.load_wanted_kWh);
  const available_kWh = total(ledger.columns.array_available_kWh);
  const dark = firstDark(ledger);
  return {
    start: localDate(clock, from),
    days: ask.days,
    start_soc,
    played_start_soc,
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
    rides_days: ridesDays(stretch, at(plant)),
    modules_to_ride: modulesToRide(stretch, at(plant)),
    load_share_to_ride: loadShareToRide(stretch, at(plant)),
    year: stretch,
    ledger,
  };
}

const refuse = (path: string, message: string, fix: string): InputError =>
  new InputError([{ code: 'spell', path: `--${path}`, message, fix }]);

function dayOfDate(year: PreparedYear, date: string, days: number): number {
  const { clock } = year;
  for (let day = 0; day < clock.days; day++) {
    if (localDate(clock, clock.day_start[day]!) !== date) continue;
    if (day + days <= clock.days) return day;
    throw refuse(
      'start',
      `${days} days from ${date} reach past the end of ${clock.year}`,
      'start earlier or ask for fewer days',
    );
  }
  throw refuse(
    'start',
    `${date} is no day of the year ${clock.year}`,
    `give a date such as ${clock.year}-12-15`,
  );
}

/** The first step with unserved load; -1 if there is none. */
const firstDark = ({ columns }: Ledger): number => columns.unmet_kWh.findIndex((kWh) => kWh > UNMET_kWh);

function darkSteps(ledger: Ledger): number {
  let dark = 0;
  for (let i = 0; i < ledger.steps; i++) if (ledger.columns.unmet_kWh[i]! > UNMET_kWh) dark++;
  return dark;
}

function ridesDays(stretch: PreparedYear, plant: Plant): number | null {
  let soc = plant.start_soc;
  let carried_h = 0;
  for (let round = 0; round < SPELL_ROUNDS; round++) {
    const ledger = playYear(stretch, { ...plant, start_soc: soc });
    const { columns, steps, step_h } = ledger;
    const dark = firstDark(ledger);
    if (dark >= 0) return (carried_h + dark * step_h) / 24;
    carried_h += steps * step_h;
    soc = columns.bank_soc[steps - 1]!;
  }
  return null;
}

function modulesToRide(stretch: PreparedYear, plant: Plant): number | null {
  for (let n = 1; n <= MOST_MODULES; n++) {
    if (firstDark(playYear(stretch, { ...plant, bank: withModules(plant.bank, n) })) < 0) return n;
  }
  return null;
}

function loadShareToRide(stretch: PreparedYear, plant: Plant): number | null {
  for (let thousandths = 1000; thousandths >= 1; thousandths--) {
    const share = thousandths / 1000;
    if (firstDark(playYear(withLoadTimes(stretch, share), plant)) < 0) return share;
  }
  return null;
}
