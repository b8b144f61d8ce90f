import { localTime } from '../clock/clock.ts';
import { type Columns, UNMET_CAUSES, type UnmetCause } from '../ledger/columns.ts';
import type { Ledger } from '../ledger/ledger.ts';
import type { PreparedYear } from '../year.ts';
import type { Report } from './report.ts';
import { byMonth, shareOf, total } from './totals.ts';

/** A step counts as unserved above this: a millionth of a watt-hour, far above rounding. */
export const UNMET_kWh = 1e-9;

/** The ledger column that a cause is booked in. */
export const unmetColumn = (columns: Columns, cause: UnmetCause): Float64Array =>
  columns[`unmet_${cause}_kWh`];

/** What was wanted and what was served, with tiers filled from the first. */
export function loadFindings(year: PreparedYear, ledger: Ledger): Report['load'] {
  const { load_wanted_kWh, load_served_kWh } = ledger.columns;
  const wanted = total(load_wanted_kWh);
  const { tiers, tier_kW } = year.loads;
  const tierWanted = tiers.map(() => 0);
  const tierServed = tiers.map(() => 0);
  let peak = 0;
  for (let i = 0; i < ledger.steps; i++) {
    let left = load_served_kWh[i]!;
    peak = Math.max(peak, load_wanted_kWh[i]!);
    for (let k = 0; k < tiers.length; k++) {
      const asked = tier_kW[k]![i]! * ledger.step_h;
      const got = Math.min(asked, left);
      left -= got;
      tierWanted[k]! += asked;
      tierServed[k]! += got;
    }
  }
  return {
    wanted_kWh: wanted,
    served_kWh: total(load_served_kWh),
    mean_kWh_day: wanted / year.clock.days,
    peak_kW: peak / ledger.step_h,
    wanted_by_month_kWh: byMonth(load_wanted_kWh, year.clock),
    by_tier: tiers.map((tier, k) => ({
      tier,
      wanted_kWh: tierWanted[k]!,
      // Differences of two sums: rounding may leave a trillionth of a kWh on either side of nothing.
      unmet_kWh: Math.max(0, tierWanted[k]! - tierServed[k]!),
    })),
  };
}

/** Unserved load: energy, hours, spells, months, causes. */
export function unmetFindings(year: PreparedYear, ledger: Ledger): Report['unmet'] {
  const { columns, steps, step_h } = ledger;
  const { unmet_kWh, load_wanted_kWh } = columns;
  const spells: { start: string; hours: number; energy_kWh: number }[] = [];
  let unmetSteps = 0;
  let wantedSteps = 0;
  let from = -1;
  let energy = 0;
  for (let i = 0; i <= steps; i++) {
    const dark = i < steps && unmet_kWh[i]! > UNMET_kWh;
    if (i < steps && load_wanted_kWh[i]! > 0) wantedSteps++;
    if (dark) {
      unmetSteps++;
      if (from < 0) from = i;
      energy += unmet_kWh[i]!;
    } else if (from >= 0) {
      spells.push({ start: localTime(year.clock, from), hours: (i - from) * step_h, energy_kWh: energy });
      from = -1;
      energy = 0;
    }
  }
  const energy_kWh = total(unmet_kWh);
  return {
    energy_kWh,
    share: shareOf(energy_kWh, total(load_wanted_kWh)),
    hours: unmetSteps * step_h,
    loss_of_load_probability: shareOf(unmetSteps, wantedSteps),
    longest_hours: spells.reduce((longest, spell) => Math.max(longest, spell.hours), 0),
    spells,
    by_cause_kWh: Object.fromEntries(
      UNMET_CAUSES.map((cause) => [cause, total(unmetColumn(columns, cause))]),
    ) as Record<UnmetCause, number>,
    by_month_kWh: byMonth(unmet_kWh, year.clock),
  };
}
