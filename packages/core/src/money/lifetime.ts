import type { Bill, Life } from './bill.ts';

/** What a year of the plant wears and burns, as played. */
export interface YearlyUse {
  readonly served_kWh: number;
  readonly equivalent_full_cycles: number;
  readonly generator_run_h: number;
  readonly fuel_L: number;
}

/** The terms on which years are added up. */
export interface Terms {
  /** Whole years. */
  readonly years: number;
  readonly discount_share_per_year: number;
  /** Per litre; null where no fuel is burnt or no price is known. */
  readonly fuel_price_per_L: number | null;
  /** Price of one service of the generator and the run-hours between two; null without. */
  readonly service: { readonly price: number; readonly every_h: number } | null;
}

export interface LifetimeCost {
  readonly capital: number;
  /** Present values over the years. */
  readonly replacements: number;
  readonly fuel: number;
  readonly service: number;
  readonly total: number;
  /** Total over the present value of the energy served: the levelised cost. Null if nothing is served. */
  readonly per_served_kWh: number | null;
}

/** Years until a part is worn at this use; infinite if nothing wears it. */
export function lifeYears(life: Life | null, use: YearlyUse): number {
  if (life === null) return Number.POSITIVE_INFINITY;
  const ends = [Number.POSITIVE_INFINITY];
  if (life.years !== null) ends.push(life.years);
  if (life.cycles !== null && use.equivalent_full_cycles > 0)
    ends.push(life.cycles / use.equivalent_full_cycles);
  if (life.run_h !== null && use.generator_run_h > 0) ends.push(life.run_h / use.generator_run_h);
  return Math.min(...ends);
}

/**
 * Present value of owning a plant: what it costs to buy, its parts again whenever they are worn, fuel and service,
 * every year used as the played one. Yearly costs and energies fall at the end of their year. What is left of a part
 * after the last year counts for nothing.
 *
 * Source: net present value and levelised cost as the textbooks define them: total discounted cost over discounted
 * energy (for example Short, Packey & Holt 1995, NREL/TP-462-5173, ch. 4; recalled).
 *
 * @returns null if a price is missing: of a part on the bill, or of fuel that was burnt
 */
export function lifetimeCost(bill: Bill, terms: Terms, use: YearlyUse): LifetimeCost | null {
  if (bill.capital === null) return null;
  if (use.fuel_L > 0 && terms.fuel_price_per_L === null) return null;
  const now = (year: number): number => (1 + terms.discount_share_per_year) ** -year;
  let annuity = 0;
  for (let year = 1; year <= terms.years; year++) annuity += now(year);
  let replacements = 0;
  for (const line of bill.lines) {
    const lasts = lifeYears(line.life, use);
    if (line.total === null || line.total === 0 || lasts <= 0) continue;
    for (let k = 1; k * lasts < terms.years - 1e-9; k++) replacements += line.total * now(k * lasts);
  }
  const fuel = use.fuel_L * (terms.fuel_price_per_L ?? 0) * annuity;
  const service =
    terms.service === null
      ? 0
      : (use.generator_run_h / terms.service.every_h) * terms.service.price * annuity;
  const total = bill.capital + replacements + fuel + service;
  return {
    capital: bill.capital,
    replacements,
    fuel,
    service,
    total,
    per_served_kWh: use.served_kWh > 0 && annuity > 0 ? total / (use.served_kWh * annuity) : null,
  };
}
