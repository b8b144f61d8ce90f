import { expectArgument } from '../basis/arguments.ts';
import { BalanceError } from '../basis/errors.ts';
import { expectWithin } from '../basis/within.ts';
import { localTime } from '../clock/clock.ts';
import { type Audit, audit } from '../ledger/audit.ts';
import type { Ledger } from '../ledger/ledger.ts';
import { arrayFindings } from './array.ts';
import { bankFindings } from './bank.ts';
import { beginningNotices, beginningOf } from './begun.ts';
import { generatorFindings, generatorStepNotices } from './generator.ts';
import { givesOutFindings } from './gives-out.ts';
import { reportHead } from './head.ts';
import { leanestFindings } from './leanest.ts';
import { growthNotices, moneyAssumptions, moneyFindings } from './money.ts';
import { monthFindings } from './months.ts';
import { otherFindings } from './other-sources.ts';
import type { Report } from './report.ts';
import { seasonWeekFindings } from './season-weeks.ts';
import { cautions } from './static/cautions.ts';
import { dangersOf } from './static/dangers.ts';
import { staticLimits } from './static/limits.ts';
import { meanPeak, rowPeakNotices } from './static/mean-peak.ts';
import { plausibilityNotices } from './static/plausible.ts';
import { stringFindings } from './static/strings.ts';
import { surgeFindings } from './static/surge.ts';
import { autonomyFindings } from './sunless/autonomy.ts';
import { total } from './totals.ts';
import { loadFindings, unmetFindings } from './unmet.ts';

/**
 * Audits a played year.
 *
 * @throws BalanceError if the books don't balance within `Audit.tolerance_kWh` in every step: then there is no answer to give
 */
export function balancedBooks(ledger: Ledger): Audit {
  const books = audit(ledger);
  if (!(books.largest_imbalance_kWh <= books.tolerance_kWh)) {
    throw new BalanceError(
      `the books miss ${books.largest_imbalance_kWh} kWh in the step at ${localTime(ledger.year.clock, books.step)}`,
    );
  }
  return books;
}

/**
 * Reads the report off a played year.
 *
 * @param lean_days length of the leanest days in local days
 * @param years what playing on from it gave, of which the played one is the first: then each is priced by its own use
 * @throws BalanceError if the books don't balance within `Audit.tolerance_kWh` in every step: then there is no answer to give
 * @throws RangeError if `lean_days` does not fit the year
 */
export function findings(ledger: Ledger, lean_days = 7, years: Report['years'] = null): Report {
  expectArgument('findings', 'ledger', ledger, 'ledger');
  expectWithin('findings', 'lean_days', lean_days, 1, ledger.year.clock.days);
  const { year, plant } = ledger;
  const { scenario, clock } = year;
  const books = balancedBooks(ledger);
  const load = loadFindings(ledger);
  const unmet = unmetFindings(ledger);
  const { columns } = ledger;
  const generator = generatorFindings(ledger);
  const bank = bankFindings(ledger);
  const limits = staticLimits(plant);
  const surge = surgeFindings(year, plant, limits);
  const peak = meanPeak(ledger, limits);
  const use = {
    served_kWh: load.served_kWh,
    equivalent_full_cycles: bank.equivalent_full_cycles,
    bank_cycle_life_used_share: bank.wear?.cycle_life_used_share ?? null,
    generator_run_h: generator?.run_hours ?? 0,
    fuel_L: generator?.fuel_L ?? 0,
    shore_kWh: total(columns.shore_kWh),
  };
  const money = moneyFindings(scenario, limits, use, years?.by_year ?? null);
  return {
    ...reportHead(year),
    verdict: { holds: unmet.hours === 0 },
    dangers: dangersOf(year, plant),
    load,
    unmet,
    by_month: monthFindings(ledger),
    autonomy: autonomyFindings(year, plant, load.mean_kWh_day),
    leanest_days: leanestFindings(ledger, lean_days),
    season_weeks: seasonWeekFindings(ledger),
    gives_out_first: givesOutFindings(ledger, unmet),
    generator,
    shore: plant.shore === null ? null : drawnFrom(ledger, columns.shore_kWh),
    alternator: plant.alternator_kW === 0 ? null : drawnFrom(ledger, columns.alternator_kWh),
    other_sources: otherFindings(ledger),
    array: arrayFindings(ledger),
    bank,
    losses: {
      total_kWh: total(columns.losses_kWh),
      tracker_kWh: total(columns.tracker_loss_kWh),
      bank_kWh: total(columns.bank_loss_kWh),
      heater_kWh: total(columns.heater_kWh),
      inverter_kWh: total(columns.inverter_loss_kWh),
      charger_kWh: total(columns.charger_loss_kWh),
      generator_spilled_kWh: total(columns.generator_spilled_kWh),
    },
    limits,
    peak,
    surge,
    strings: stringFindings(year, plant),
    money,
    years,
    every_year: null,
    ensemble: null,
    audit: { largest_imbalance_kWh: books.largest_imbalance_kWh, steps_checked: books.steps_checked },
    cautions: cautions(plant),
    notices: [
      ...year.notices,
      ...beginningNotices(ledger),
      ...rowPeakNotices(peak, clock.step_min),
      ...plausibilityNotices(scenario, plant, {
        load_kWh_day: load.mean_kWh_day,
        running_kW: surge.running_kW,
      }),
      ...generatorStepNotices(scenario),
      ...(years === null ? growthNotices(scenario) : []),
    ],
    assumptions: [...year.assumptions, beginningOf(ledger), ...moneyAssumptions(money)],
  };
}

/** Energy from a source and the hours in which it gave any. */
function drawnFrom(ledger: Ledger, column: Float64Array): { energy_kWh: number; hours: number } {
  let steps = 0;
  for (let i = 0; i < column.length; i++) if (column[i]! > 0) steps++;
  return { energy_kWh: total(column), hours: steps * ledger.step_h };
}
