import { lifetimeCost, unpricedUse, type YearlyUse } from '../money/lifetime.ts';
import { billOfScenario, termsOf } from '../money/of-scenario.ts';
import type { Scenario } from '../scenario/schema.ts';
import type { Report, StaticLimits } from './report.ts';

/**
 * What the plant costs to buy and to own.
 *
 * @param use what the played year wore and burnt; every year is taken to be like it
 */
export function moneyFindings(scenario: Scenario, limits: StaticLimits, use: YearlyUse): Report['money'] {
  const terms = termsOf(scenario);
  if (terms === null) return null;
  const bill = billOfScenario(scenario);
  const cost = lifetimeCost(bill, terms, use);
  return {
    currency: scenario.money!.currency,
    years: terms.years,
    discount_share_per_year: terms.discount_share_per_year,
    bill: bill.lines,
    unpriced: [...bill.unpriced, ...unpricedUse(terms, use)],
    capital: bill.capital,
    replacements: cost?.replacements ?? null,
    fuel: cost?.fuel ?? null,
    shore: cost?.shore ?? null,
    service: cost?.service ?? null,
    total: cost?.total ?? null,
    per_served_kWh: cost?.per_served_kWh ?? null,
    per_usable_kWh: perUnit(bill.capital, limits.usable_kWh),
    per_output_kW: perUnit(bill.capital, limits.ac_output.after_inverter_loss_kW),
  };
}

/** A price over what it buys; null where there is no price, or nothing bought. */
export const perUnit = (price: number | null, bought: number): number | null =>
  price === null || bought <= 0 ? null : price / bought;
