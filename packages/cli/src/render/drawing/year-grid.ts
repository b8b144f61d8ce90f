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

/** Fifths of the capacity. */
export const LEVELS = 5;

const levelOf = (soc: number): number => Math.min(LEVELS - 1, Math.max(0, Math.floor(soc * LEVELS)));

/**
 * Cells of like level in runs along each day, as lines one cell wide.
 *
 * @returns a path for each level, then one for the hours with unmet load
 */
export function cellPaths(grid: YearGrid, dayRunsDown: boolean): { levels: string[]; unmet: string } {
  const levels = Array.from({ length: LEVELS }, () => '');
  let unmet = '';
  const run = (day: number, from: number, to: number): string =>
    dayRunsDown ? `M${day}.5 ${from}V${to}` : `M${from} ${day}.5H${to}`;
  for (let day = 0; day < grid.days; day++) {
    const at = day * 24;
    for (let from = 0; from < 24; ) {
      if (Number.isNaN(grid.soc[at + from]!)) {
        from++;
        continue;
      }
      const level = levelOf(grid.soc[at + from]!);
      let to = from + 1;
      while (to < 24 && levelOf(grid.soc[at + to]!) === level) to++;
      levels[level] += run(day, from, to);
      from = to;
    }
    for (let from = 0; from < 24; from++) {
      if (grid.unmet_h[at + from] === 0) continue;
      let to = from + 1;
      while (to < 24 && grid.unmet_h[at + to]! > 0) to++;
      unmet += run(day, from, to);
      from = to;
    }
  }
  return { levels, unmet };
}
