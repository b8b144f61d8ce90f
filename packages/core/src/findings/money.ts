import type { Assumption, Notice } from '../basis/notices.ts';
import { grows } from '../loads/growth.ts';
import { lifetimeCost, unpricedUse, type YearlyUse } from '../money/lifetime.ts';
import { billOfScenario, termsOf } from '../money/of-scenario.ts';
import type { Scenario } from '../scenario/schema/schema.ts';
import type { Report, YearsRow } from './report.ts';
import type { StaticLimits } from './static/limits.ts';

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
): Report['money'] {
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
    total: cost?.total ?? null,
    per_served_kWh: cost?.per_served_kWh ?? null,
    per_usable_kWh: perUnit(bill.capital, limits.usable_kWh),
    per_output_kW: perUnit(bill.capital, limits.ac_output.after_inverter_loss_kW),
    rests_on: restsOn(terms.years, uses.length),
  };
}

const useOf = (row: YearsRow): YearlyUse => ({
  served_kWh: row.served_kWh,
  equivalent_full_cycles: row.equivalent_full_cycles,
  bank_cycle_life_used_share: row.cycle_life_used_share,
  generator_run_h: row.generator_run_hours ?? 0,
  fuel_L: row.fuel_L ?? 0,
  shore_kWh: row.shore_kWh ?? 0,
});

function restsOn(years: number, priced: number): readonly string[] {
  const span = (from: number, to: number): string =>
    from === to ? `year ${from} is` : `years ${from} to ${to} are`;
  const asLast = `${span(priced + 1, years)} used as year ${priced} is`;
  if (priced === 1)
    return [years === 1 ? 'One year is played and priced.' : `Only year 1 is played: ${asLast}.`];
  const own = `${span(1, priced)} played, and each is priced by its own use`;
  const sentence = `${own}${priced === years ? '' : `; ${asLast}`}.`;
  return [
    sentence[0]!.toUpperCase() + sentence.slice(1),
    'They are played with nothing bought anew: from when a worn part is bought again, the fuel and wear counted are ' +
      'still those of the plant with the worn one, which is on the dear side.',
  ];
}

/** What the price over the years rests on, as an assumption of the report; none where there is no price. */
export const moneyAssumptions = (money: Report['money']): readonly Assumption[] =>
  money === null || money.total === null
    ? []
    : [{ path: 'model.money.years', value: null, why: money.rests_on.join(' '), kind: 'model' }];

/**
 * Says that loads grow and only the first year of them is played, where its use is priced over several.
 *
 * @returns nothing where no load grows, or no years are added up
 */
export function growthNotices({ loads, money }: Scenario): readonly Notice[] {
  if (money === undefined || money.years === 1) return [];
  const count = loads.filter(grows).length;
  if (count === 0) return [];
  return [
    {
      id: 'growth-not-priced',
      message:
        'loads grow by growth_share_per_year, and only the first year is played: money.total prices every year by ' +
        `the use of the first. longnight run --years ${money.years} plays them and prices each by its own`,
      count,
    },
  ];
}

/** A price over what it buys; null where there is no price, or nothing bought. */
const perUnit = (price: number | null, bought: number): number | null =>
  price === null || bought <= 0 ? null : price / bought;
