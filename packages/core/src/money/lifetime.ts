import { expectWithin } from '../basis/within.ts';
import type { Bill, Life } from './bill.ts';

/** What a year of the plant wears and burns, as played. */
export interface YearlyUse {
  readonly served_kWh: number;
  readonly equivalent_full_cycles: number;
  /** Of the bank's cycle life against depth; null where the scenario states none. */
  readonly bank_cycle_life_used_share?: number | null;
  readonly generator_run_h: number;
  readonly fuel_L: number;
  /** Energy from the socket. */
  readonly shore_kWh: number;
}

/** The terms on which years are added up. */
export interface Terms {
  /** Whole years. */
  readonly years: number;
  readonly discount_share_per_year: number;
  /** Per litre; null where no fuel is burnt or no price is known. */
  readonly fuel_price_per_L: number | null;
  /** Per kWh from the socket; null where there is none or no price is known. */
  readonly shore_price_per_kWh: number | null;
  /** Price of one service of the generator, null if it is not known, and the run-hours between two; null without. */
  readonly service: { readonly price: number | null; readonly every_h: number } | null;
}

/** What a plant costs over the years, in the currency of its prices. */
export interface LifetimeCost {
  readonly capital: number;
  /** Present values over the years. */
  readonly replacements: number;
  readonly fuel: number;
  readonly shore: number;
  readonly service: number;
  readonly total: number;
  /** Total over the present value of the energy served: the levelised cost. Null if nothing is served. */
  readonly per_served_kWh: number | null;
}

/** Years until a part is worn at this use, whichever end comes first; infinite if nothing wears it. */
export function lifeYears(life: Life | null, use: YearlyUse): number {
  if (life === null) return Number.POSITIVE_INFINITY;
  const ends = [Number.POSITIVE_INFINITY];
  if (life.years !== null) ends.push(life.years);
  if (life.by_depth) {
    const used = use.bank_cycle_life_used_share ?? 0;
    if (used > 0) ends.push(1 / used);
  } else if (life.cycles !== null && use.equivalent_full_cycles > 0)
    ends.push(life.cycles / use.equivalent_full_cycles);
  if (life.run_h !== null && use.generator_run_h > 0) ends.push(life.run_h / use.generator_run_h);
  return Math.min(...ends);
}

/**
 * Present value of 1 paid at the end of each of some years: the sum of (1 + d)^-k over k = 1 … years. Common practice, no
 * source: it follows from what discounting is.
 */
export function annuity(years: number, discount_share_per_year: number): number {
  expectWithin('annuity', 'years', years, 0, 1000);
  expectWithin('annuity', 'discount_share_per_year', discount_share_per_year, 0, 1);
  let sum = 0;
  for (let year = 1; year <= years; year++) sum += (1 + discount_share_per_year) ** -year;
  return sum;
}

/**
 * Present value of a part bought again each time it is worn within the years, as a share of its price. One that is worn
 * just as the years end is not bought again. A geometric sum, so that a part that lasts an hour costs no more to reckon
 * with than one that lasts ten years. Common practice, no source.
 *
 * @param lasts_years above zero, or infinite
 */
export function replacementsShare(
  lasts_years: number,
  years: number,
  discount_share_per_year: number,
): number {
  const times = Math.max(0, Math.ceil(years / lasts_years - 1e-9) - 1);
  if (times === 0) return 0;
  const each = (1 + discount_share_per_year) ** -lasts_years;
  return each === 1 ? times : (each * (1 - each ** times)) / (1 - each);
}

/**
 * The same for a part that is used otherwise year after year: it is worn when its years, its cycles or its run-hours
 * are, counted from when it was bought; within a year use is even. Years after the last use are like it. Common practice,
 * no source.
 *
 * @param uses at least one; the first is the first year's
 */
export function replacementsByYear(
  life: Life | null,
  uses: readonly YearlyUse[],
  years: number,
  discount_share_per_year: number,
): number {
  const last = uses.length - 1;
  // A life is used up by shares of a year's use: calendar apart, as it does not change from year to year.
  const calendar_years = life?.years ?? Number.POSITIVE_INFINITY;
  const byUse = life === null ? [] : usedUp(life, uses);
  /** When a part that is bought at this time is worn. */
  const endOf = (bought: number): number =>
    Math.min(bought + calendar_years, ...byUse.map((shares) => wornAt(shares, bought)));
  let sum = 0;
  for (let at = 0; at < last; ) {
    at = endOf(at);
    if (!(at < years - 1e-9)) return sum;
    sum += (1 + discount_share_per_year) ** -at;
    if (at >= last) {
      const even = lifeYears(life, uses[last]!);
      return (
        sum +
        (1 + discount_share_per_year) ** -at * replacementsShare(even, years - at, discount_share_per_year)
      );
    }
  }
  return replacementsShare(lifeYears(life, uses[0]!), years, discount_share_per_year);
}

/** Of each life that use ends, the share that each year takes. */
function usedUp(life: Life, uses: readonly YearlyUse[]): readonly (readonly number[])[] {
  const { cycles, by_depth, run_h } = life;
  return [
    ...(by_depth ? [uses.map((use) => use.bank_cycle_life_used_share ?? 0)] : []),
    ...(cycles === null || by_depth ? [] : [uses.map((use) => use.equivalent_full_cycles / cycles)]),
    ...(run_h === null ? [] : [uses.map((use) => use.generator_run_h / run_h)]),
  ];
}

/** When a life that begins at some time, in years, is used up; infinite if that never comes. */
function wornAt(shares: readonly number[], bought: number): number {
  let left = 1;
  let at = bought;
  for (let k = Math.floor(bought); k < shares.length - 1; k++) {
    const within = shares[k]! * (k + 1 - at);
    if (within > 0 && within >= left - 1e-12) return at + left / shares[k]!;
    left -= within;
    at = k + 1;
  }
  const even = shares.at(-1)!;
  return even > 0 ? at + left / even : Number.POSITIVE_INFINITY;
}

/** What was used in any of the years and has no price. */
export function unpricedUse(terms: Terms, uses: readonly YearlyUse[]): readonly string[] {
  const isUsed = (amount: (use: YearlyUse) => number): boolean => uses.some((use) => amount(use) > 0);
  return [
    ...(terms.fuel_price_per_L === null && isUsed((use) => use.fuel_L) ? ['fuel'] : []),
    ...(terms.shore_price_per_kWh === null && isUsed((use) => use.shore_kWh) ? ['shore power'] : []),
    ...(terms.service !== null && terms.service.price === null && isUsed((use) => use.generator_run_h)
      ? ['service of the generator']
      : []),
  ];
}

/**
 * Present value of owning a plant: what it costs to buy, its parts again whenever they are worn, fuel, power from the
 * socket and service, each year by its own use. Yearly costs and energies fall at the end of their year. What is left of a part
 * after the last year counts for nothing; work and freight of an exchange are not in it.
 *
 * Source: net present value and levelised cost as the textbooks define them: total discounted cost over discounted
 * energy (for example Short, Packey & Holt 1995, NREL/TP-462-5173, ch. 4; recalled).
 *
 * @param uses of the years that were played, at least one: those after them are used as the last, those beyond
 *   `terms.years` don't count
 * @returns null if a price is missing: of a part on the bill, or of fuel, shore power or service that was used
 */
export function lifetimeCost(bill: Bill, terms: Terms, uses: readonly YearlyUse[]): LifetimeCost | null {
  const { years, discount_share_per_year: discount, service: servicing } = terms;
  const played = uses.slice(0, years);
  if (bill.capital === null || unpricedUse(terms, played).length > 0) return null;
  /** Present value of what each year has of something. */
  const present = (amount: (use: YearlyUse) => number): number => {
    const after = amount(played.at(-1)!) * (annuity(years, discount) - annuity(played.length, discount));
    return played.reduce((sum, use, k) => sum + amount(use) * (1 + discount) ** -(k + 1), after);
  };
  let replacements = 0;
  for (const { total, life } of bill.lines) {
    // Not 0 × infinity: what costs nothing may be worn as often as it likes.
    if (total! > 0) replacements += total! * replacementsByYear(life, played, years, discount);
  }
  const fuel = present((use) => use.fuel_L) * (terms.fuel_price_per_L ?? 0);
  const shore = present((use) => use.shore_kWh) * (terms.shore_price_per_kWh ?? 0);
  const service =
    servicing === null
      ? 0
      : (present((use) => use.generator_run_h) / servicing.every_h) * (servicing.price ?? 0);
  const total = bill.capital + replacements + fuel + shore + service;
  const served_kWh = present((use) => use.served_kWh);
  return {
    capital: bill.capital,
    replacements,
    fuel,
    shore,
    service,
    total,
    per_served_kWh: served_kWh > 0 ? total / served_kWh : null,
  };
}
