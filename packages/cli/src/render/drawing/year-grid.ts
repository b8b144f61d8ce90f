import type { Ledger } from '@longnight/core';
import { isUnmet } from '@longnight/core/findings';

/** A year as days of 24 hours by the wall clock, for drawing. */
export interface YearGrid {
  readonly days: number;
  /** First day of each month. */
  readonly monthStarts: readonly number[];
  /** Lowest state of charge in the hour, at `day * 24 + hour`; NaN where the clock skipped it. */
  readonly soc: Float64Array;
  /** Share of the hour's steps with unmet load, at the same place; an hour that came twice counts twice. */
  readonly unmet_h: Float64Array;
}

export function yearGrid({ year: { clock }, columns, step_h }: Ledger): YearGrid {
  const soc = new Float64Array(clock.days * 24).fill(Number.NaN);
  const unmet_h = new Float64Array(clock.days * 24);
  const monthStarts: number[] = [];
  for (let i = 0; i < clock.steps; i++) {
    const day = clock.day[i]!;
    const cell = day * 24 + Math.floor(clock.local_minute[i]! / 60);
    const now = columns.bank_soc[i]!;
    if (!(soc[cell]! <= now)) soc[cell] = now;
    if (isUnmet(columns.unmet_kWh[i]!)) unmet_h[cell]! += step_h;
    if (i === 0 || clock.month[i] !== clock.month[i - 1]) monthStarts.push(day);
  }
  return { days: clock.days, monthStarts, soc, unmet_h };
}
