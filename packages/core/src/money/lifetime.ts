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

/** What was used in the year and has no price. */
export const unpricedUse = (terms: Terms, use: YearlyUse): readonly string[] => [
  ...(use.fuel_L > 0 && terms.fuel_price_per_L === null ? ['fuel'] : []),
  ...(use.shore_kWh > 0 && terms.shore_price_per_kWh === null ? ['shore power'] : []),
  ...(use.generator_run_h > 0 && terms.service !== null && terms.service.price === null
    ? ['service of the generator']
    : []),
];

/**
 * Present value of owning a plant: what it costs to buy, its parts again whenever they are worn, fuel, power from the
 * socket and service, every year used as the played one. Yearly costs and energies fall at the end of their year. What is left of a part
 * after the last year counts for nothing; work and freight of an exchange are not in it.
 *
 * Source: net present value and levelised cost as the textbooks define them: total discounted cost over discounted
 * energy (for example Short, Packey & Holt 1995, NREL/TP-462-5173, ch. 4; recalled).
 *
 * @returns null if a price is missing: of a part on the bill, or of fuel, shore power or service that was used
 */
export function lifetimeCost(bill: Bill, terms: Terms, use: YearlyUse): LifetimeCost | null {
  if (bill.capital === null || unpricedUse(terms, use).length > 0) return null;
  const { years, discount_share_per_year: discount, service: servicing } = terms;
  const yearly = annuity(years, discount);
  let replacements = 0;
  for (const { total, life } of bill.lines) {
    // Not 0 × infinity: what costs nothing may be worn as often as it likes.
    if (total! > 0) replacements += total! * replacementsShare(lifeYears(life, use), years, discount);
  }
  const fuel = use.fuel_L * (terms.fuel_price_per_L ?? 0) * yearly;
  const shore = use.shore_kWh * (terms.shore_price_per_kWh ?? 0) * yearly;
  const services = servicing === null ? 0 : use.generator_run_h / servicing.every_h;
  const service = services * (servicing?.price ?? 0) * yearly;
  const total = bill.capital + replacements + fuel + shore + service;
  return {
    capital: bill.capital,
    replacements,
    fuel,
    shore,
    service,
    total,
    per_served_kWh: use.served_kWh > 0 ? total / (use.served_kWh * yearly) : null,
  };
}
