/** How sure a count of years is: printed exact limits of a binomial share, two-sided 95 %. */
import { howSure } from '@longnight/core/study';
import { expect, it } from 'vitest';

// Table W of Geigy Scientific Tables and its like, per cent (recalled); 0 of n and n of n by hand: 1 - 0.025^(1/n).
it.each([
  [0, 10, 0, 30.85],
  [1, 10, 0.25, 44.5],
  [5, 10, 18.71, 81.29],
  [10, 10, 69.15, 100],
  [8, 10, 44.39, 97.48],
  [19, 20, 75.13, 99.87],
  [18, 20, 68.3, 98.77],
  [90, 100, 82.38, 95.1],
  [100, 100, 96.38, 100],
])('%d of %d: %d to %d %%', (held, years, low, high) => {
  const range = howSure(held, years);
  expect(Math.abs(100 * range.low - low)).toBeLessThan(0.011);
  expect(Math.abs(100 * range.high - high)).toBeLessThan(0.011);
});

it('covers as often as it says: of 2,000 draws of 20 years that hold by 0.9, at least 95 % of ranges have it within', () => {
  let state = 7;
  const draw = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
  let within = 0;
  for (let n = 0; n < 2000; n++) {
    let held = 0;
    for (let k = 0; k < 20; k++) if (draw() < 0.9) held++;
    const { low, high } = howSure(held, 20);
    if (low <= 0.9 && 0.9 <= high) within++;
  }
  expect(within / 2000).toBeGreaterThan(0.945);
});
