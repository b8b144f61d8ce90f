import type { Ledger, Stretch } from '@longnight/core';
import { localDate, localTime } from '@longnight/core/clock';
import { clockTime } from '../document/figures.ts';
import { sentenceCase } from '../document/words.ts';

/** What a plant may have beside the sun, in the order in which it is drawn. */
export const SOURCES = [
  { of: 'generator', words: 'generator', fill: 'f-engine e-engine', column: 'generator_kWh' },
  { of: 'shore', words: 'socket', fill: 'f-socket e-socket', column: 'shore_kWh' },
  { of: 'alternator', words: 'alternator', fill: 'f-engine e-engine', column: 'alternator_kWh' },
  { of: 'other_sources', words: 'other sources', fill: 'f-engine e-engine', column: 'other_used_kWh' },
] as const;

/** Some whole days of the ledger in intervals of equal length, as they are drawn: means, and the lowest state of charge. */
export interface Stretched {
  readonly interval_h: number;
  readonly count: number;
  readonly offered_kW: Float64Array;
  readonly used_kW: Float64Array;
  readonly wanted_kW: Float64Array;
  readonly served_kW: Float64Array;
  /** Other sources that the plant has, in the order they are drawn. */
  readonly sources: readonly {
    readonly title: string;
    readonly fill: string;
    readonly power_kW: Float64Array;
  }[];
  /** Before the first interval. */
  readonly initial_soc: number;
  /** Lowest in each interval. */
  readonly soc: Float64Array;
  /** Local time at which each begins, `2025-12-19 07:00`. */
  readonly times: readonly string[];
  readonly floor_soc: number;
  /** Where each day begins, in intervals, and its date. */
  readonly days: readonly { readonly at: number; readonly date: string; readonly weekday: number }[];
}

/** More intervals than this are finer than the lines. */
const MOST = 400;
/** Steps that make an interval: whole hours or days of whatever steps there are. */
const TOGETHER = [1, 2, 3, 6, 12, 24, 72, 144, 288];

/** Reads days off the ledger. */
export function stretched(
  ledger: Ledger,
  { start, days: dayCount, initial_soc }: Pick<Stretch, 'start' | 'days' | 'initial_soc'>,
): Stretched {
  const { columns } = ledger;
  const { clock, scenario } = ledger.year;
  const first = clock.day_start.subarray(0, clock.days).findIndex((step) => localDate(clock, step) === start);
  if (first < 0) throw new RangeError(`stretched: no day ${start} in ${clock.year}`);
  const [from, to] = [clock.day_start[first]!, clock.day_start[first + dayCount]!];
  const together = TOGETHER.find((n) => (to - from) / n <= MOST) ?? TOGETHER.at(-1)!;
  const count = Math.ceil((to - from) / together);
  const over = (column: Float64Array, each: (values: Float64Array) => number): Float64Array =>
    Float64Array.from({ length: count }, (_, k) =>
      each(column.subarray(from + k * together, Math.min(to, from + (k + 1) * together))),
    );
  const mean_kW = (column: Float64Array) =>
    over(column, (values) => values.reduce((sum, kWh) => sum + kWh, 0) / values.length / clock.step_h);
  return {
    interval_h: together * clock.step_h,
    count,
    offered_kW: mean_kW(columns.array_available_kWh),
    used_kW: mean_kW(columns.array_used_kWh),
    wanted_kW: mean_kW(columns.load_wanted_kWh),
    served_kW: mean_kW(columns.load_served_kWh),
    sources: SOURCES.filter(({ of }) => scenario[of] !== undefined).map(({ words, fill, column }) => ({
      title: sentenceCase(words),
      fill,
      power_kW: mean_kW(columns[column]),
    })),
    initial_soc,
    soc: over(columns.bank_soc, (values) => Math.min(...values)),
    times: Array.from({ length: count }, (_, k) => clockTime(localTime(clock, from + k * together))),
    floor_soc: scenario.bank.floor_soc,
    days: Array.from({ length: dayCount }, (_, k) => {
      const step = clock.day_start[first + k]!;
      return { at: (step - from) / together, date: localDate(clock, step), weekday: clock.weekday[step]! };
    }),
  };
}
