import type { FoundIn } from '../basis/notices.ts';
import { grows } from '../loads/growth.ts';
import type { BillLine } from '../money/bill.ts';
import { lifetimeCost, unpricedUse, type YearCost, type YearlyUse } from '../money/lifetime.ts';
import { billOfScenario, termsOf } from '../money/of-scenario.ts';
import type { Scenario } from '../scenario/schema/schema.ts';
import type { StaticLimits } from './static/limits.ts';
import type { YearsRow } from './years.ts';

/** What the plant costs. Sums are null where a price is missing: see `unpriced`. */
export interface Money {
  /** The scenario's own word; nothing is converted. */
  readonly currency: string;
  /** Over which costs are added up. */ readonly years: number;
  /** What a cost is worth less for each year that it is put off. */ readonly discount_share_per_year: number;
  /**
   * How many of the years were played and are priced by their own use, and parts bought again as they were played;
   * those after them are used as the last.
   */
  readonly years_priced: number;
  /** What it consists of. */ readonly bill: readonly BillLine[];
  /** What has no price: items of the bill, and fuel or shore power if any was used. */
  readonly unpriced: readonly string[];
  /** The whole bill. */
  readonly capital: number | null;
  /** Present values over the years. */
  readonly replacements: number | null;
  /** Present value of the fuel. */ readonly fuel: number | null;
  /** Present value of power from the socket. */ readonly shore: number | null;
  /** Present value of the generator's services. */ readonly service: number | null;
  /** Present value of what is left of the parts after the last year, taken off the total. */ readonly residual:
    | number
    | null;
  /** Present value of all that the plant costs over the years. */ readonly total: number | null;
  /** Total over the present value of the energy served: the levelised cost. */
  readonly per_served_kWh: number | null;
  /** What each year pays, in the money of that year; empty where a price is missing. */
  readonly by_year: readonly YearCost[];
  /** Capital over the bank between full and floor. */
  readonly per_usable_kWh: number | null;
  /** Capital over continuous AC output, the inverter's losses in it. */
  readonly per_output_kW: number | null;
}

/** Which use the years are priced by. */
export interface MoneyAssumption {
  readonly path: 'model.money.years';
  readonly value: null;
  readonly why: { readonly id: 'years_priced' } & Pick<Money, 'years' | 'years_priced'>;
  readonly kind: 'model';
  readonly moves: 'money';
}

/** Loads grow, and only their first year is played, whose use is priced over all years. */
export type GrowthNotice = FoundIn<{ 'growth-not-priced': { loads: number; years: number } }>;

/**
 * What the plant costs to buy and to own.
 *
 * @param use what the played year wore and burnt
 * @param played years that were played on from it; each is priced by its own use, and those after them as the last
 */
export function moneyFindings(
  scenario: Scenario,
  limits: StaticLimits,
  use: YearlyUse,
  played: readonly YearsRow[] | null,
): Money | null {
  const terms = termsOf(scenario);
  if (terms === null) return null;
  const bill = billOfScenario(scenario);
  const uses = (played?.map(useOf) ?? [use]).slice(0, terms.years);
  const cost = lifetimeCost(bill, terms, uses);
  return {
    currency: scenario.money!.currency,
    years: terms.years,
    discount_share_per_year: terms.discount_share_per_year,
    years_priced: uses.length,
    bill: bill.lines,
    unpriced: [...bill.unpriced, ...unpricedUse(terms, uses)],
    capital: bill.capital,
    replacements: cost?.replacements ?? null,
    fuel: cost?.fuel ?? null,
    shore: cost?.shore ?? null,
    service: cost?.service ?? null,
    residual: cost?.residual ?? null,
    total: cost?.total ?? null,
    per_served_kWh: cost?.per_served_kWh ?? null,
    by_year: cost?.by_year ?? [],
    per_usable_kWh: perUnit(bill.capital, limits.usable_kWh),
    per_output_kW: perUnit(bill.capital, limits.ac_output.after_inverter_loss_kW),
  };
}

type UsedRow = Pick<
  YearsRow,
  | 'served_kWh'
  | 'equivalent_full_cycles'
  | 'cycle_life_used_share'
  | 'generator_run_hours'
  | 'fuel_L'
  | 'shore_kWh'
>;

/** What a year of several wore and burnt. */
export const useOf = (row: UsedRow): YearlyUse => ({
  served_kWh: row.served_kWh,
  equivalent_full_cycles: row.equivalent_full_cycles,
  bank_cycle_life_used_share: row.cycle_life_used_share,
  generator_run_h: row.generator_run_hours ?? 0,
  fuel_L: row.fuel_L ?? 0,
  shore_kWh: row.shore_kWh ?? 0,
});

/** What the price over the years rests on, as an assumption of the report; none where there is no price. */
export const moneyAssumptions = (money: Money | null): readonly MoneyAssumption[] =>
  money === null || money.total === null
    ? []
    : [
        {
          path: 'model.money.years',
          value: null,
          why: { id: 'years_priced', years: money.years, years_priced: money.years_priced },
          kind: 'model',
          moves: 'money',
        },
      ];

/**
 * Says that loads grow and only the first year of them is played, where its use is priced over several.
 *
 * @returns nothing where no load grows, or no years are added up
 */
export function growthNotices({ loads, money }: Scenario): readonly GrowthNotice[] {
  if (money === undefined || money.years === 1) return [];
  const growing = loads.filter(grows).length;
  return growing === 0 ? [] : [{ id: 'growth-not-priced', values: { loads: growing, years: money.years } }];
}

/** A price over what it buys; null where there is no price, or nothing bought. */
const perUnit = (price: number | null, bought: number): number | null =>
  price === null || bought <= 0 ? null : price / bought;
