/**
 * What a further kWp saves, against the calculus of a plant that is all formula: hours H/s over an array of s kWp, so that
 * each further kWp saves H/s², which at a price c is worth it up to s = √(H·w/c). Algebra, no source needed.
 */
import { type GrownDesign, growthSteps } from '@longnight/core/study';
import { expect, test } from 'vitest';

const [HOURS, PER_KWP, FIXED] = [1800, 600, 5000];
const [years, discount] = [20, 0.04];
// Closed form of the sum of a geometric series.
const EVEN = (1 - (1 + discount) ** -years) / discount;
const terms = {
  years,
  discount_share_per_year: discount,
  fuel_price_per_L: 2,
  shore_price_per_kWh: null,
  fuel_price_growth_share_per_year: 0,
  shore_price_growth_share_per_year: 0,
  residual_share: 0,
  service: { price: 50, every_h: 100 },
};
/** An hour burns 1.5 L and half a crown of service: 3.5 crowns. */
const HOUR = 1.5 * 2 + 50 / 100;
const design = (size_kWp: number, total = true): GrownDesign => {
  const run_hours = HOURS / size_kWp;
  const capital = FIXED + PER_KWP * size_kWp;
  return {
    size_kWp,
    run_hours,
    fuel_L: 1.5 * run_hours,
    unmet_kWh: 0,
    capital,
    total: total ? capital + EVEN * HOUR * run_hours : null,
  };
};
const sizes = Array.from({ length: 2000 }, (_, k) => 2 + k / 50);
const kneeOf = (designs: readonly GrownDesign[], worth: number | null): number =>
  designs[growthSteps(designs, terms, worth).knee!]!.size_kWp;

test('each step saves the difference of the formula, and costs what the array costs a year', () => {
  const { steps } = growthSteps([design(3), design(4), design(6)], terms, 1);
  for (const [k, [a, b]] of [[3, 4] as const, [4, 6] as const].entries()) {
    const saved = HOURS / (a * b);
    expect(steps[k]).toMatchObject({ from: k, to: k + 1, added_kWp: b - a, saved_unmet_kWh: 0 });
    expect(steps[k]!.saved_hours).toBeCloseTo(saved, 9);
    expect(steps[k]!.saved_fuel_L).toBeCloseTo(1.5 * saved, 9);
    expect(steps[k]!.worth).toBeCloseTo((HOUR + 1) * saved, 9);
    expect(steps[k]!.cost).toBeCloseTo(PER_KWP / EVEN, 9);
  }
});

test.each([null, 2, 7])('the knee lies where the derivative says, an hour worth %s more', (worth) => {
  const at = Math.sqrt((HOURS * (HOUR + (worth ?? 0)) * EVEN) / PER_KWP);
  expect(
    Math.abs(
      kneeOf(
        sizes.map((size) => design(size)),
        worth,
      ) - at,
    ),
  ).toBeLessThan(0.03);
});

test('without a sum over the years only what is said of an hour counts, against the price to buy', () => {
  const designs = sizes.map((size) => design(size, false));
  const at = Math.sqrt((HOURS * 10 * EVEN) / PER_KWP);
  expect(Math.abs(kneeOf(designs, 10) - at)).toBeLessThan(0.03);
  expect(growthSteps(designs, terms, null).knee).toBeNull();
});

test('without prices there are steps and no knee', () => {
  const bare = [3, 4, 5].map((size) => ({ ...design(size, false), capital: null }));
  const { steps, knee } = growthSteps(bare, null, 4);
  expect(knee).toBeNull();
  expect(steps.map(({ cost, pays }) => [cost, pays])).toEqual([
    [null, null],
    [null, null],
  ]);
  expect(steps[0]!.saved_hours).toBeCloseTo(HOURS / 12, 9);
});

test('a step that fails alone is passed over where the next makes up for it; where none pays the first design is the knee', () => {
  const uneven = [100, 100, 20].map((run_hours, k) => ({ ...design(4 + k, false), run_hours }));
  const price = PER_KWP / EVEN;
  const at = growthSteps(uneven, terms, (2.1 * price) / 80);
  expect(at.steps.map(({ pays }) => pays)).toEqual([false, true]);
  expect(at.knee).toBe(2);
  expect(growthSteps(uneven, terms, (1.9 * price) / 80).knee).toBe(0);
});

test('designs that do not grow are refused', () => {
  expect(() => growthSteps([design(4), design(4)], terms, null)).toThrow(RangeError);
});
