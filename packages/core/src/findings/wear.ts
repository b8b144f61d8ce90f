import type { Ledger } from '../ledger/ledger.ts';
import { cyclesByDepth, lifeUsed, socHistory } from '../wear/life.ts';
import { rainflow } from '../wear/rainflow.ts';
import type { PreparedYear } from '../year.ts';
import type { Report } from './report.ts';

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
export function wearFindings(ledger: Ledger): Report['bank']['wear'] {
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
