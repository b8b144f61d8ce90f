import type { Ledger } from '../ledger/ledger.ts';
import { cyclesByDepth, type DepthBand, lifeUsed, socHistory } from '../wear/life.ts';
import { rainflow } from '../wear/rainflow.ts';
import type { PreparedYear } from '../year.ts';

/** What the year took of the bank's life. */
export interface WearFindings {
  /** Rainflow cycles of the year in ten bands of depth (ASTM E1049-85). */
  readonly cycles_by_depth: readonly DepthBand[];
  /** Share of the stated cycle life that they take; null without `bank.cycle_life` or `bank.life_cycles`. */
  readonly cycle_life_used_share: number | null;
  /** Share of the stated years; null without `bank.life_years`. */
  readonly calendar_life_used_share: number | null;
  /** If every year is like this one; null if nothing wore the bank. */
  readonly years_to_end_of_life: number | null;
  /** Which of the two ends it. */
  readonly worst: 'cycles' | 'calendar' | null;
}

/** Length of what was played, in years of its own calendar. */
export function playedYears({ clock }: PreparedYear): number {
  const isLeap = new Date(Date.UTC(clock.year, 1, 29)).getUTCMonth() === 1;
  return clock.days / (isLeap ? 366 : 365);
}

/**
 * What the year took of the bank's life, and how long the bank lasts if every year is like it: cycles and calendar are
 * counted each for itself and the larger ends it.
 *
 * @returns null where the scenario states no life of the bank
 */
export function wearFindings(ledger: Ledger): WearFindings | null {
  const { year, plant } = ledger;
  const { bank, bank_life } = plant;
  if (bank_life === null) return null;
  const years = playedYears(year);
  const used = lifeUsed(ledger, bank_life, bank.capacity_kWh, years);
  const cycling = used.cycle_life_used_share ?? 0;
  const calendar = used.calendar_life_used_share ?? 0;
  const larger = Math.max(cycling, calendar);
  return {
    cycles_by_depth: cyclesByDepth(rainflow(socHistory(ledger, bank.capacity_kWh))),
    ...used,
    years_to_end_of_life: larger > 0 ? years / larger : null,
    worst: larger === 0 ? null : cycling > calendar ? 'cycles' : 'calendar',
  };
}
