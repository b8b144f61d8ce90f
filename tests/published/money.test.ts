/** Present values against tables and worked examples of engineering economics. */
import { annuity, type Life, type LifetimeCost, lifetimeCost, type Terms } from '@longnight/core/money';
import { expect, it } from 'vitest';
import { billOf } from '../../packages/core/src/money/bill.ts';

const USE = { served_kWh: 1, equivalent_full_cycles: 0, generator_run_h: 0, fuel_L: 0, shore_kWh: 0 };
const lasting = (years: number): Life => ({ years, cycles: null, run_h: null });
/** A part of a price and life, and how much fuel at 1 a litre each year. */
function costOf(price: number, life: Life | null, fuel_L: number, terms: Partial<Terms>): LifetimeCost {
  const bill = billOf([{ item: 'a', path: null, count: 1, price_each: price, total: price, life }]);
  const all: Terms = {
    years: 20,
    discount_share_per_year: 0,
    fuel_price_per_L: 1,
    shore_price_per_kWh: 1,
    fuel_price_growth_share_per_year: 0,
    shore_price_growth_share_per_year: 0,
    residual_share: 0,
    service: null,
    ...terms,
  };
  return lifetimeCost(bill, all, [{ ...USE, fuel_L }])!;
}

// SPV and UPV at 3 %, as the annual supplements to NIST Handbook 135 print them, tables A-1 and A-2 (recalled).
it.each([
  [5, 0.863, 4.58],
  [10, 0.744, 8.53],
  [15, 0.642, 11.94],
  [20, 0.554, 14.88],
  [25, 0.478, 17.41],
])('at 3 %% after %i years', (years, spv, upv) => {
  expect(annuity(years, 0.03)).toBeCloseTo(upv, 2);
  const terms = { years: years + 1, discount_share_per_year: 0.03 };
  expect(costOf(1, lasting(years), 0, terms).replacements).toBeCloseTo(spv, 3);
});

it('a machine of 18,000 with 250 a year, overhauls of 500 and 800 and 5000 left after 20 years, at 10 %, is worth 19,852', () => {
  // Problem 5-4 of Sullivan, Wicks & Koelling, Engineering Economy, as solved in IE2140 Engineering Economy (2009),
  // tutorial 2 (coursehero.com): -18,000 + 5000 (0.148644) - 250 (8.513564) - 500 (0.513158) - 800 (0.263331).
  const terms = { discount_share_per_year: 0.1 };
  // Of a life of 40 years half is left.
  const machine = costOf(18_000, lasting(40), 250, { ...terms, residual_share: 10_000 / 18_000 });
  // 500 after 7 and 14 years, and 300 more after 14: parts that are not paid for at first.
  const overhauls =
    costOf(500, lasting(7), 0, terms).replacements + costOf(300, lasting(14), 0, terms).replacements;
  expect(machine.residual).toBeCloseTo(5000 * 0.148644, 2);
  expect(machine.fuel).toBeCloseTo(250 * 8.513564, 2);
  expect(machine.total + overhauls).toBeCloseTo(19_852.42, 1);
});

it.each([
  // Rittmann, Engineering Economy Practice Problems, exam 3, problem 3 (studylib.net): at 15 % over 5 years.
  [12_000, 5000, 3000, 27_269],
  [18_000, 4000, 6000, 28_426],
])('a machine of %i with %i a year and %i left costs %i', (price, yearly, left, printed) => {
  const cost = costOf(price, lasting(10), yearly, {
    years: 5,
    discount_share_per_year: 0.15,
    residual_share: (2 * left) / price,
  });
  expect(Math.abs(cost.total - printed)).toBeLessThan(1);
});

it('a price that grows: the sixth payment, and the sum of six', () => {
  // Kalogirou, Solar Energy Engineering, eq. 12.14 (energyprofessionalsymposium.com): payments that begin with 1000 and
  // grow by 5 % are 1276.28 in the sixth year, worth 761 at 9 %.
  const sixth = costOf(0, null, 1000 / 1.05, {
    discount_share_per_year: 0.09,
    fuel_price_growth_share_per_year: 0.05,
  }).by_year[5]!;
  expect(sixth.fuel).toBeCloseTo(1276.28, 2);
  expect(Math.round(sixth.present_value)).toBe(761);
  // 1500 that grow by 10 % are worth 8728 at 8 % over 6 years (ceboardexamgenerator.com, engineering economy, problem
  // 45, which goes on with 1.10 / 1.08 as 1.0185).
  const six = costOf(0, null, 1500 / 1.1, {
    years: 6,
    discount_share_per_year: 0.08,
    fuel_price_growth_share_per_year: 0.1,
  });
  expect(Math.abs(six.fuel - 8728)).toBeLessThan(1);
  expect(six.fuel).toBeCloseTo((1500 / 1.1) * annuity(6, 0.08, 0.1), 9);
});

it('socket and fuel grow each by its own rate', () => {
  const terms = {
    years: 2,
    fuel_price_growth_share_per_year: 0.1,
    shore_price_growth_share_per_year: -0.2,
  };
  const bill = billOf([]);
  const all: Terms = {
    discount_share_per_year: 0,
    fuel_price_per_L: 2,
    shore_price_per_kWh: 0.5,
    residual_share: 0,
    service: null,
    ...terms,
  };
  const { by_year, fuel, shore } = lifetimeCost(bill, all, [{ ...USE, fuel_L: 100, shore_kWh: 10 }])!;
  expect(by_year.map((year) => year.fuel)).toEqual([expect.closeTo(220, 9), expect.closeTo(242, 9)]);
  expect(by_year.map((year) => year.shore)).toEqual([expect.closeTo(4, 9), expect.closeTo(3.2, 9)]);
  expect([fuel, shore]).toEqual([expect.closeTo(462, 9), expect.closeTo(7.2, 9)]);
});
