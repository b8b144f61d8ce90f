import { expectArguments } from '../basis/arguments.ts';
import { expectWhole } from '../basis/within.ts';
import { localDate } from '../clock/clock.ts';
import type { Ledger } from '../ledger/ledger.ts';
import { shareOf } from './totals.ts';

/** A local day of the leanest days. */
export interface DayFigures {
  /** A local day of the run. */ readonly date: string;
  /** Energy the loads ask for on it. */ readonly wanted_kWh: number;
  /** Energy the arrays offer on it. */ readonly available_kWh: number;
  /** Load left unmet on it. */ readonly unmet_kWh: number;
  /** Energy the generator makes on it. */ readonly generator_kWh: number;
  /** Lowest state of charge on it. */ readonly lowest_soc: number;
  /** State of charge at its end. */ readonly end_soc: number;
}

/** A run of whole local days. */
export interface Stretch {
  /** Local date of the first day. */
  readonly start: string;
  /** Its length. */ readonly days: number;
  /** Array energy offered over load wanted; null if nothing is wanted. */
  readonly sun_to_load: number | null;
  /** State of charge that the played year comes to these days with. */ readonly initial_soc: number;
  /** Lowest state of charge in them. */ readonly lowest_soc: number;
  /** Load left unmet in them. */ readonly unmet_kWh: number;
  /** In time order. */ readonly by_day: readonly DayFigures[];
}

/**
 * One local day of a played year.
 *
 * @param day ordinal of the local day, 0 to days - 1
 */
export function dayOf(ledger: Ledger, day: number): DayFigures {
  expectArguments('dayOf', { ledger });
  const { year, columns } = ledger;
  expectWhole('dayOf', 'day', day, 0, year.clock.days - 1);
  const from = year.clock.day_start[day]!;
  const to = year.clock.day_start[day + 1]!;
  let wanted = 0;
  let available = 0;
  let unmet = 0;
  let generator = 0;
  let lowest = Number.POSITIVE_INFINITY;
  for (let i = from; i < to; i++) {
    wanted += columns.load_wanted_kWh[i]!;
    available += columns.array_available_kWh[i]!;
    unmet += columns.unmet_kWh[i]!;
    generator += columns.generator_kWh[i]!;
    lowest = Math.min(lowest, columns.bank_soc[i]!);
  }
  return {
    date: localDate(year.clock, from),
    wanted_kWh: wanted,
    available_kWh: available,
    unmet_kWh: unmet,
    generator_kWh: generator,
    lowest_soc: lowest,
    end_soc: columns.bank_soc[to - 1]!,
  };
}

/** Load wanted and array energy offered on each local day, kWh. */
export function sunAndLoadByDay({ year: { clock }, columns }: Ledger): {
  readonly wanted: Float64Array;
  readonly available: Float64Array;
} {
  const wanted = new Float64Array(clock.days);
  const available = new Float64Array(clock.days);
  for (let i = 0; i < clock.steps; i++) {
    wanted[clock.day[i]!]! += columns.load_wanted_kWh[i]!;
    available[clock.day[i]!]! += columns.array_available_kWh[i]!;
  }
  return { wanted, available };
}

/**
 * First day of the leanest days: the run of `days` whole local days within the year with the least array energy
 * offered per load wanted. Of equals, as in polar night, the one at whose end the bank is lowest, then the one that
 * wants most. Where no run wants any load, the one with the least array energy.
 */
export function leanestStart(ledger: Ledger, days: number): number {
  const { clock } = ledger.year;
  const { wanted, available } = sunAndLoadByDay(ledger);
  let best = 0;
  let least: readonly number[] = [];
  for (let first = 0; first + days <= clock.days; first++) {
    let sun = 0;
    let load = 0;
    for (let d = first; d < first + days; d++) {
      sun += available[d]!;
      load += wanted[d]!;
    }
    const end_soc = ledger.columns.bank_soc[clock.day_start[first + days]! - 1]!;
    // What differs by rounding alone is equal: a bank at its floor.
    const ranks =
      load > 0 ? [sun / load, Math.round(end_soc * 1e9), -load] : [Number.POSITIVE_INFINITY, sun, 0];
    if (first === 0 || isBefore(ranks, least)) {
      best = first;
      least = ranks;
    }
  }
  return best;
}

/** True if the first figure in which they differ is smaller. */
function isBefore(a: readonly number[], b: readonly number[]): boolean {
  const k = a.findIndex((value, at) => value !== b[at]);
  return k >= 0 && a[k]! < b[k]!;
}

/**
 * The leanest days of a played year, day by day.
 *
 * @param days length in whole local days, 1 to the days of the year
 * @throws RangeError outside that
 */
export function leanestFindings(ledger: Ledger, days: number): Stretch {
  const { clock } = ledger.year;
  if (!Number.isInteger(days) || days < 1 || days > clock.days) {
    throw new RangeError(`leanestFindings: a stretch of ${days} days does not fit a year of ${clock.days}`);
  }
  return stretchOfDays(ledger, leanestStart(ledger, days), days);
}

/** A run of whole local days of a played year, day by day. */
export function stretchOfDays(ledger: Ledger, first: number, days: number): Stretch {
  const { year, plant } = ledger;
  const by_day = Array.from({ length: days }, (_, k) => dayOf(ledger, first + k));
  const sum = (value: (day: DayFigures) => number): number => by_day.reduce((t, day) => t + value(day), 0);
  const from = year.clock.day_start[first]!;
  const initial_soc =
    from > 0 ? ledger.columns.bank_soc[from - 1]! : ledger.start_stock_kWh / plant.bank.capacity_kWh;
  return {
    start: by_day[0]!.date,
    days,
    sun_to_load: shareOf(
      sum((day) => day.available_kWh),
      sum((day) => day.wanted_kWh),
    ),
    initial_soc,
    lowest_soc: by_day.reduce((low, day) => Math.min(low, day.lowest_soc), 1),
    unmet_kWh: sum((day) => day.unmet_kWh),
    by_day,
  };
}
