import { expectArgument } from '../basis/arguments.ts';
import { expectNullOr, expectWithin, FINITE } from '../basis/within.ts';
import { annuity, expectTerms, type Terms } from '../money/lifetime.ts';

/** One of several designs that differ in the size of their arrays. */
export interface GrownDesign {
  readonly size_kWp: number;
  /** Hours a year that the generator runs. */ readonly run_hours: number;
  /** Litres a year. */ readonly fuel_L: number;
  /** Energy a year. */ readonly unmet_kWh: number;
  /** To buy; null where a price is missing. */ readonly capital: number | null;
  /** Over the years of the terms; null where a price is missing. */ readonly total: number | null;
}

/** What a year of a larger array brings over the next smaller one, for each kWp between them. */
export interface GrowthStep {
  /** Places of the two in the list of designs. */ readonly from: number;
  readonly to: number;
  readonly added_kWp: number;
  /** Hours of the generator saved a year; below zero where it runs longer. */ readonly saved_hours: number;
  /** Litres saved a year. */ readonly saved_fuel_L: number;
  /** Energy a year less unmet. */ readonly saved_unmet_kWh: number;
  /** Fuel and service saved a year, and what the hours saved are worth beyond them; null where neither is known. */
  readonly worth: number | null;
  /** All else that the larger costs more, as even payments a year over the years of the terms; null without prices. */
  readonly cost: number | null;
  /** Whether its worth is its cost or more; null where one of them is not known. */ readonly pays:
    | boolean
    | null;
}

/** Steps between neighbours, and where to stop. */
export interface Growth {
  /** Smallest first. */ readonly steps: readonly GrowthStep[];
  /**
   * Place of the design up to which all steps together are worth most over their cost: beyond it no number of steps pays
   * for itself, and up to it each last stretch does. Null where a worth or a cost is not known.
   */
  readonly knee: number | null;
}

/**
 * What each further kWp of array saves, design by design. Savings are rough where a panel more shifts a start of the
 * generator, so that the knee is not the first step that fails to pay, but the largest sum of worth less cost.
 *
 * Common practice, no source: marginal worth against marginal cost, with costs made even by the annuity of
 * `money/lifetime.ts`. What is saved of unmet energy has no price and is left out of the worth.
 *
 * @param designs sizes ascending, each larger than the one before
 * @param terms of the scenario; null without a `money` section
 * @param hour_worth what an hour of the generator less is worth beyond priced fuel and service, in the currency of the
 *   prices; null if nobody says
 * @throws RangeError if a size is not larger than the one before
 */
export function growthSteps(
  designs: readonly GrownDesign[],
  terms: Terms | null,
  hour_worth: number | null,
): Growth {
  expectArgument('growthSteps', 'designs', designs, 'grown');
  for (const [k, design] of designs.entries())
    for (const key of ['size_kWp', 'run_hours', 'fuel_L', 'unmet_kWh'] as const)
      expectWithin('growthSteps', `designs[${k}].${key}`, design[key], 0, FINITE);
  for (const [k, { capital, total }] of designs.entries()) {
    expectNullOr('growthSteps', `designs[${k}].capital`, capital);
    expectNullOr('growthSteps', `designs[${k}].total`, total);
  }
  if (terms !== null) expectTerms('growthSteps', terms);
  expectNullOr('growthSteps', 'hour_worth', hour_worth);
  const steps = designs.slice(1).map((design, k) => stepTo(k, designs[k]!, design, terms, hour_worth));
  if (steps.length === 0 || steps.some(({ pays }) => pays === null)) return { steps, knee: null };
  let [knee, most, sum] = [0, 0, 0];
  for (const { to, added_kWp, worth, cost } of steps) {
    sum += (worth! - cost!) * added_kWp;
    if (sum > most) [knee, most] = [to, sum];
  }
  return { steps, knee };
}

/** Price of a litre as an even one over the years of the terms, where fuel gets dearer. */
function evenFuelPrice_per_L(terms: Terms): number {
  const { years, discount_share_per_year: discount, fuel_price_growth_share_per_year: growth } = terms;
  return ((terms.fuel_price_per_L ?? 0) * annuity(years, discount, growth)) / annuity(years, discount);
}

function stepTo(
  from: number,
  before: GrownDesign,
  design: GrownDesign,
  terms: Terms | null,
  hour_worth: number | null,
): GrowthStep {
  const added_kWp = design.size_kWp - before.size_kWp;
  if (!(added_kWp > 0)) throw new RangeError(`design ${from + 1} is not larger than the one before it`);
  const saved_hours = (before.run_hours - design.run_hours) / added_kWp;
  const saved_fuel_L = (before.fuel_L - design.fuel_L) / added_kWp;
  const even = terms === null ? null : annuity(terms.years, terms.discount_share_per_year);
  const fuel = terms === null ? 0 : evenFuelPrice_per_L(terms);
  const more = (a: number | null, b: number | null): number | null =>
    a === null || b === null || even === null ? null : (b - a) / even / added_kWp;
  const total = more(before.total, design.total);
  const running =
    terms === null || total === null
      ? null
      : saved_fuel_L * fuel +
        (terms.service === null ? 0 : (saved_hours / terms.service.every_h) * (terms.service.price ?? 0));
  const beyond = hour_worth === null ? null : hour_worth * saved_hours;
  // Without a sum over the years what is saved is worth what is said of it, against the price to buy.
  const worth = running === null ? beyond : running + (beyond ?? 0);
  const cost = total === null ? more(before.capital, design.capital) : total + running!;
  return {
    from,
    to: from + 1,
    added_kWp,
    saved_hours,
    saved_fuel_L,
    saved_unmet_kWh: (before.unmet_kWh - design.unmet_kWh) / added_kWp,
    worth,
    cost,
    pays: worth === null || cost === null ? null : worth >= cost,
  };
}
