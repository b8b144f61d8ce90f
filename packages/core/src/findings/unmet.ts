import { localTime } from '../clock/clock.ts';
import { byMonth } from '../clock/months.ts';
import { type Columns, UNMET_CAUSES, type UnmetCause } from '../ledger/columns.ts';
import type { Ledger } from '../ledger/ledger.ts';
import { type LoadShare, loadShares, winterMonths } from './by-load.ts';
import { isUnmet } from './figures/unmet.ts';
import { shareOf, total } from './totals.ts';

/** What the loads want and get. */
export interface LoadFindings {
  /** Energy the loads ask for in the year. */ readonly wanted_kWh: number;
  /** Energy the loads get. */ readonly served_kWh: number;
  /** Wanted on a mean day. */ readonly mean_kWh_day: number;
  /** Highest mean power over one step. */
  readonly peak_kW: number;
  /** Wanted in each month of the local calendar, January first. */ readonly wanted_by_month_kWh: readonly number[];
  /** The tier that matters most first. */ readonly by_tier: readonly {
    /** Tier of the loads; lower ones are served first. */ readonly tier: number;
    /** What the loads of this tier ask for. */ readonly wanted_kWh: number;
    /** What the loads of this tier do not get. */ readonly unmet_kWh: number;
  }[];
  /** What each load asks for, in the order of the scenario. */ readonly by_load: readonly LoadShare[];
  /** The three months that count as winter: December to February, south of the equator June to August. */ readonly winter_months: readonly number[];
  /** Flexible loads, in none of the tiers; null if there are none. */
  readonly flexible: null | { readonly wanted_kWh: number; readonly unmet_kWh: number };
  /** Into loads that take what would be left unused; neither wanted nor served. Null if there are none. */
  readonly surplus_kWh: number | null;
}

/** Load left unmet. */
export interface UnmetFindings {
  /** Load left unmet in the year. */ readonly energy_kWh: number;
  /** Unmet energy over wanted energy, the loss of power supply probability (LPSP); null if nothing is wanted. */
  readonly share: number | null;
  /** Hours with any unmet load. */
  readonly hours: number;
  /** LOLP: hours with unmet load over hours with load wanted; null if nothing is wanted. */
  readonly loss_of_load_probability: number | null;
  /** Longest outage. */ readonly longest_hours: number;
  /** In time order. */ readonly outages: readonly {
    /** When the outage begins, local time. */ readonly start: string;
    /** Its length: steps one after the other with unmet load. */ readonly hours: number;
    /** What goes unmet in it. */ readonly energy_kWh: number;
  }[];
  /** By what stood in the way. */ readonly by_cause_kWh: Readonly<Record<UnmetCause, number>>;
  /** Twelve, January first, local calendar. */
  readonly by_month_kWh: readonly number[];
}

/** The ledger column that a cause is booked in. */
export const unmetColumn = (columns: Columns, cause: UnmetCause): Float64Array =>
  columns[`unmet_${cause}_kWh`];

/**
 * What was wanted and what was served, with tiers filled from the first, on each side of the inverter for itself; loads
 * that may wait come last.
 */
export function loadFindings(ledger: Ledger): LoadFindings {
  const { year } = ledger;
  const { load_wanted_kWh, load_served_kWh, dc_load_served_kWh, flexible_wanted_kWh, unmet_leg_kWh } =
    ledger.columns;
  const wanted = total(load_wanted_kWh);
  const { tiers, tier_kW, dc_tier_kW } = year.loads;
  const tierWanted = tiers.map(() => 0);
  const tierServed = tiers.map(() => 0);
  const onFullLeg_kWh = new Float64Array(tiers.length);
  let flexibleServed = 0;
  let peak = 0;
  for (let i = 0; i < ledger.steps; i++) {
    let leftOfDc = dc_load_served_kWh[i]!;
    let left = load_served_kWh[i]! - leftOfDc;
    peak = Math.max(peak, load_wanted_kWh[i]!);
    shareOutLeg(ledger, i, unmet_leg_kWh[i]!, onFullLeg_kWh);
    for (let k = 0; k < tiers.length; k++) {
      const asked = tier_kW[k]![i]! * ledger.step_h;
      const ofDc = dc_tier_kW === null ? 0 : dc_tier_kW[k]![i]! * ledger.step_h;
      const gotDc = Math.min(ofDc, leftOfDc);
      const got = Math.min(asked - ofDc - onFullLeg_kWh[k]!, left);
      leftOfDc -= gotDc;
      left -= got;
      tierWanted[k]! += asked;
      tierServed[k]! += got + gotDc;
    }
    flexibleServed += Math.min(flexible_wanted_kWh[i]!, left);
  }
  const flexibleWanted = total(flexible_wanted_kWh);
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
    by_load: loadShares(year),
    winter_months: winterMonths(year.scenario.site.latitude_deg),
    flexible:
      year.loads.flexible.length === 0
        ? null
        : { wanted_kWh: flexibleWanted, unmet_kWh: Math.max(0, flexibleWanted - flexibleServed) },
    surplus_kWh: year.loads.surplus.length === 0 ? null : total(ledger.columns.surplus_load_kWh),
  };
}

/** What a full leg leaves unmet is missing from its own loads, the last tiers first. */
function shareOutLeg(
  {
    year: {
      loads: { leg_tier_kW },
    },
    step_h,
  }: Ledger,
  i: number,
  unmet_kWh: number,
  by_tier_kWh: Float64Array,
): void {
  by_tier_kWh.fill(0);
  if (unmet_kWh <= 0 || leg_tier_kW === null) return;
  const load = (leg: number): number => leg_tier_kW[leg]!.reduce((sum, kW) => sum + kW[i]!, 0);
  let fullest = 0;
  for (let leg = 1; leg < leg_tier_kW.length; leg++) if (load(leg) > load(fullest)) fullest = leg;
  let left = unmet_kWh;
  for (let k = by_tier_kWh.length - 1; k >= 0; k--) {
    by_tier_kWh[k] = Math.min(left, leg_tier_kW[fullest]![k]![i]! * step_h);
    left -= by_tier_kWh[k]!;
  }
}

/** Unmet load: energy, hours, outages, months, causes. */
export function unmetFindings({ year, columns, steps, step_h }: Ledger): UnmetFindings {
  const { unmet_kWh, load_wanted_kWh } = columns;
  const outages: { start: string; hours: number; energy_kWh: number }[] = [];
  let unmetSteps = 0;
  let wantedSteps = 0;
  let from = -1;
  let energy = 0;
  for (let i = 0; i <= steps; i++) {
    const dark = i < steps && isUnmet(unmet_kWh[i]!);
    if (i < steps && load_wanted_kWh[i]! > 0) wantedSteps++;
    if (dark) {
      unmetSteps++;
      if (from < 0) from = i;
      energy += unmet_kWh[i]!;
    } else if (from >= 0) {
      outages.push({ start: localTime(year.clock, from), hours: (i - from) * step_h, energy_kWh: energy });
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
    longest_hours: outages.reduce((longest, one) => Math.max(longest, one.hours), 0),
    outages,
    by_cause_kWh: Object.fromEntries(
      UNMET_CAUSES.map((cause) => [cause, total(unmetColumn(columns, cause))]),
    ) as Record<UnmetCause, number>,
    by_month_kWh: byMonth(unmet_kWh, year.clock),
  };
}
