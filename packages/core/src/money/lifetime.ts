import { expectArgument, expectArguments } from '../basis/arguments.ts';
import { expectNullOr, expectWhole, expectWithin, FINITE } from '../basis/within.ts';
import { type Renewals, throughYear } from '../wear/worn.ts';
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

const USED = ['served_kWh', 'equivalent_full_cycles', 'generator_run_h', 'fuel_L', 'shore_kWh'] as const;

/** The terms on which years are added up. */
export interface Terms {
  /** Whole years. */
  readonly years: number;
  readonly discount_share_per_year: number;
  /** Per litre; null where no fuel is burnt or no price is known. */
  readonly fuel_price_per_L: number | null;
  /** Per kWh from the socket; null where there is none or no price is known. */
  readonly shore_price_per_kWh: number | null;
  /** By how much each gets dearer a year; the prices are those of today. */
  readonly fuel_price_growth_share_per_year: number;
  readonly shore_price_growth_share_per_year: number;
  /** What a part that is still new after the years is worth then, as a share of its price. */
  readonly residual_share: number;
  /** Price of one service of the generator, null if it is not known, and the run-hours between two; null without. */
  readonly service: { readonly price: number | null; readonly every_h: number } | null;
}

/**
 * Refuses terms that no scenario has.
 *
 * @throws RangeError or TypeError naming the first of them
 */
export function expectTerms(where: string, terms: Terms): void {
  expectArgument(where, 'terms', terms, 'object');
  expectWhole(where, 'terms.years', terms.years, 0, 1000);
  for (const key of ['discount_share_per_year', 'residual_share'] as const)
    expectWithin(where, `terms.${key}`, terms[key], 0, 1);
  for (const key of ['fuel_price_growth_share_per_year', 'shore_price_growth_share_per_year'] as const)
    expectWithin(where, `terms.${key}`, terms[key], -0.5, 0.5);
  for (const key of ['fuel_price_per_L', 'shore_price_per_kWh'] as const)
    expectNullOr(where, `terms.${key}`, terms[key]);
  if (terms.service === null) return;
  expectArgument(where, 'terms.service', terms.service, 'object');
  expectNullOr(where, 'terms.service.price', terms.service.price);
  expectWithin(where, 'terms.service.every_h', terms.service.every_h, Number.MIN_VALUE, FINITE);
}

/** What a plant costs over the years, in the currency of its prices. */
export interface LifetimeCost {
  readonly capital: number;
  /** Present values over the years. */
  readonly replacements: number;
  readonly fuel: number;
  readonly shore: number;
  readonly service: number;
  /** Of what is left of the parts after the last year; it is taken off the total. */
  readonly residual: number;
  readonly total: number;
  /** Total over the present value of the energy served: the levelised cost. Null if nothing is served. */
  readonly per_served_kWh: number | null;
  /** What each year pays, in time order. */ readonly by_year: readonly YearCost[];
}

/** What a year pays, in the money of that year. */
export interface YearCost {
  /** 1 is the first. */ readonly year: number;
  /** Energy served in it. */ readonly served_kWh: number;
  /** Parts bought again in it. */ readonly replacements: number;
  /** Fuel burnt in it. */ readonly fuel: number;
  /** Power from the socket. */ readonly shore: number;
  /** Services of the generator. */ readonly service: number;
  /** All of them. */ readonly total: number;
  /** What all of them are worth today. */ readonly present_value: number;
}

/**
 * Present value of 1 paid at the end of each of some years: the sum of ((1 + g) / (1 + d))^k over k = 1 … years.
 *
 * @param growth_share_per_year g: by how much what costs 1 today gets dearer each year
 *
 * Source: uniform and modified uniform present value, Fuller & Petersen 1996, NIST Handbook 135, Life-Cycle Costing
 * Manual (recalled).
 */
export function annuity(years: number, discount_share_per_year: number, growth_share_per_year = 0): number {
  expectWithin('annuity', 'years', years, 0, 1000);
  expectWithin('annuity', 'discount_share_per_year', discount_share_per_year, 0, 1);
  expectWithin('annuity', 'growth_share_per_year', growth_share_per_year, -1, 1);
  let sum = 0;
  for (let year = 1; year <= years; year++)
    sum += ((1 + growth_share_per_year) / (1 + discount_share_per_year)) ** year;
  return sum;
}

/** What a year takes of each life of a part: of its years, its cycles, its run-hours. */
export const wornBy = (life: Life, use: YearlyUse): readonly number[] => [
  life.years === null ? 0 : 1 / life.years,
  life.by_depth
    ? (use.bank_cycle_life_used_share ?? 0)
    : life.cycles === null
      ? 0
      : use.equivalent_full_cycles / life.cycles,
  life.run_h === null ? 0 : use.generator_run_h / life.run_h,
];

/** Of a part as it is bought. */
export const UNWORN: readonly number[] = [0, 0, 0];

/**
 * Present value of what is bought at price 1 within year `k`, each at its own moment. A geometric sum, so that a part
 * that lasts an hour costs no more to reckon with than one that lasts ten years.
 */
function presentOf({ times, first, every }: Renewals, k: number, discount_share_per_year: number): number {
  if (times === 0) return 0;
  const once = (1 + discount_share_per_year) ** -(k + first);
  if (times === 1 || discount_share_per_year === 0) return times * once;
  const each = (1 + discount_share_per_year) ** -every;
  return (once * (1 - each ** times)) / (1 - each);
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
 * Present value of owning a plant: what it costs to buy, its parts again at the moment they are worn, fuel, power from
 * the socket and service, each year by its own use. Yearly costs and energies fall at the end of their year. A part that
 * is worn just as the years end is not bought again; one that is not worn is worth `residual_share` of its price in
 * proportion to the life it has left, as straight-line depreciation has it. Work and freight of an exchange are not in it.
 *
 * Source: net present value, levelised cost and salvage value as the textbooks define them: total discounted cost over
 * discounted energy (for example Short, Packey & Holt 1995, NREL/TP-462-5173, ch. 4; recalled).
 *
 * @param uses of the years that were played, at least one: those after them are used as the last, those beyond
 *   `terms.years` don't count
 * @returns null if a price is missing: of a part on the bill, or of fuel, shore power or service that was used
 */
export function lifetimeCost(bill: Bill, terms: Terms, uses: readonly YearlyUse[]): LifetimeCost | null {
  expectArguments('lifetimeCost', { bill });
  expectArgument('lifetimeCost', 'bill.lines', bill.lines, 'list');
  expectNullOr('lifetimeCost', 'bill.capital', bill.capital);
  expectTerms('lifetimeCost', terms);
  expectArgument('lifetimeCost', 'uses', uses, 'list');
  expectWithin('lifetimeCost', 'uses.length', uses.length, Math.min(1, terms.years), FINITE);
  for (const [k, use] of uses.entries()) {
    expectArgument('lifetimeCost', `uses[${k}]`, use, 'object');
    for (const name of USED) expectWithin('lifetimeCost', `uses[${k}].${name}`, use[name], 0, FINITE);
  }
  const { years, discount_share_per_year: discount, service: servicing, residual_share } = terms;
  const played = uses.slice(0, years);
  if (bill.capital === null || unpricedUse(terms, played).length > 0) return null;
  const parts = bill.lines.flatMap(({ total, life }) =>
    life === null || total === 0 ? [] : [{ price: total!, life, used_share: UNWORN }],
  );
  const by_year: YearCost[] = [];
  const present = { replacements: 0, fuel: 0, shore: 0, service: 0, served_kWh: 0 };
  for (let k = 0; k < years; k++) {
    const use = played[Math.min(k, played.length - 1)]!;
    const grown = (growth: number): number => (1 + growth) ** (k + 1);
    const fuel = use.fuel_L * (terms.fuel_price_per_L ?? 0) * grown(terms.fuel_price_growth_share_per_year);
    const shore =
      use.shore_kWh * (terms.shore_price_per_kWh ?? 0) * grown(terms.shore_price_growth_share_per_year);
    const service =
      servicing === null ? 0 : (use.generator_run_h / servicing.every_h) * (servicing.price ?? 0);
    let replacements = 0;
    const before = present.replacements;
    for (const part of parts) {
      const renewed = throughYear(part.used_share, wornBy(part.life, use));
      part.used_share = renewed.used_share;
      replacements += part.price * renewed.times;
      present.replacements += part.price * presentOf(renewed, k, discount);
    }
    const later = (1 + discount) ** -(k + 1);
    present.fuel += fuel * later;
    present.shore += shore * later;
    present.service += service * later;
    present.served_kWh += use.served_kWh * later;
    const total = replacements + fuel + shore + service;
    by_year.push({
      year: k + 1,
      served_kWh: use.served_kWh,
      replacements,
      fuel,
      shore,
      service,
      total,
      present_value: present.replacements - before + (fuel + shore + service) * later,
    });
  }
  const left = parts.reduce(
    (sum, { price, used_share }) => sum + price * Math.max(0, 1 - Math.max(...used_share)),
    0,
  );
  const residual = residual_share * left * (1 + discount) ** -years;
  const { served_kWh, ...paid } = present;
  const total = bill.capital + paid.replacements + paid.fuel + paid.shore + paid.service - residual;
  return {
    capital: bill.capital,
    ...paid,
    residual,
    total,
    per_served_kWh: served_kWh > 0 ? total / served_kWh : null,
    by_year,
  };
}
