/** Pieces of a sweep that are easier to see alone: which designs are played, what is kept of their rows. */
import { DESIGN_FIGURES, readAxis } from '@longnight/core/study';
import { expect, test } from 'vitest';
import { decimal } from '../../packages/cli/src/render/document/figures.ts';
import { SweepDigest } from '../../packages/cli/src/sweep/digest.ts';
import { FrontKeeper } from '../../packages/cli/src/sweep/front.ts';
import { sweepRows } from '../../packages/cli/src/sweep/rows.ts';
import { evenly, spreadDesigns } from '../../packages/cli/src/sweep/spread.ts';
import { designList, designsOf } from '../../packages/cli/src/workers/designs.ts';
import { front } from '../../packages/core/src/study/size/front.ts';

test('shares are contiguous, cover the list once and differ by one design at most', () => {
  const axes = [readAxis('a=1:7:1'), readAxis('b=1:11:1')];
  for (const sample of [null, 50])
    for (const of of [1, 2, 5, 16, 100]) {
      const whole = designsOf(axes, sample, null);
      const shares = Array.from({ length: of }, (_, k) => designList(axes, sample, { number: k + 1, of }));
      const indices = shares.flatMap((share) => Array.from({ length: share.count }, (_, k) => share.at(k)));
      expect(indices).toEqual(Array.from({ length: whole.count }, (_, k) => whole.at(k)));
      const counts = shares.map((share) => share.count);
      expect(Math.max(...counts) - Math.min(...counts)).toBeLessThanOrEqual(1);
    }
});

test('a share of a billion is laid out without laying out the billion', () => {
  const axes = ['a', 'b', 'c'].map((key) => readAxis(`${key}=1:1000:1`));
  const share = designList(axes, null, { number: 250, of: 250 });
  expect([share.count, share.at(0), share.at(share.count - 1)]).toEqual([4e6, 996e6, 1e9 - 1]);
});

test('an even spread has both ends of each key and at most twenty designs', () => {
  expect(evenly(7, 3)).toEqual([0, 3, 6]);
  expect(evenly(3, 20)).toEqual([0, 1, 2]);
  for (const lengths of [[100], [30, 40], [3, 500], [9, 9, 9], [2, 2, 2, 2, 2]]) {
    const axes = lengths.map((n, k) => readAxis(`${'abcde'[k]}=1:${n}:1`));
    const list = designsOf(axes, null, null);
    const spread = [...spreadDesigns(axes, list, 20)];
    expect(spread.length).toBeGreaterThan(10);
    expect(spread.length).toBeLessThanOrEqual(20);
    expect(new Set(spread).size).toBe(spread.length);
    if (lengths.length < 3) expect([Math.min(...spread), Math.max(...spread)]).toEqual([0, list.count - 1]);
  }
});

test('the front kept row by row is the front of the whole list', () => {
  // A small linear congruence: costs and figures with many ties.
  let state = 7;
  const next = (below: number): number => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return Math.floor((state / 2147483648) * below);
  };
  for (let round = 0; round < 200; round++) {
    const cost = Array.from({ length: 60 }, () => next(12));
    const figure = Array.from({ length: 60 }, () => next(12));
    const keeper = new FrontKeeper<number>();
    cost.forEach((c, k) => {
      keeper.take(c, [figure[k]!, 0], k);
    });
    expect(keeper.items()).toEqual(front(cost, figure));
    expect(keeper.met).toBe(keeper.items().length);
  }
});

test('numbers of keys are plain decimals that read back as themselves', () => {
  for (const value of [
    0,
    -0,
    1,
    -3.25,
    0.1 + 0.2,
    1e-7,
    -2.5e-9,
    1.7976931348623157e308,
    5e-324,
    123456789012345680000,
    3e21,
  ]) {
    const text = decimal(value);
    expect(text).toMatch(/^-?\d+(\.\d+)?$/);
    if (Math.abs(value) > 1e-90 || value === 0) expect(Number(text)).toBe(value === 0 ? 0 : value);
  }
});

test('what is kept of a sweep does not grow with its designs', () => {
  const axes = [readAxis('a=1:400:1'), readAxis('b=1:500:1')];
  const list = designsOf(axes, null, null);
  const digest = new SweepDigest(
    axes.map((axis) => ({ ...axis, short: axis.path, words: axis.path, unit: '' })),
    list,
  );
  const rows = sweepRows(axes);
  const capital = DESIGN_FIGURES.findIndex(({ name }) => name === 'money.capital');
  // The worst that can come: every design costs more than the one before and is better.
  for (let k = 0; k < list.count; k++) {
    const figures = DESIGN_FIGURES.map(({ name }, f) =>
      name === 'dangers' ? 0 : f === capital ? k : 1 - k / list.count + f,
    );
    digest.take(k, { figures, columns: figures, holds: false, contradiction: null });
  }
  const { rows: shown, rule, of } = digest.shown();
  expect([shown.length, rule, of]).toEqual([20, 'front', list.count]);
  expect([shown[0]!.index, shown.at(-1)!.index]).toEqual([0, list.count - 1]);
  expect(digest.grid.field('unmet.energy_kWh').length).toBe(120 * 120);
  expect(rows.start(0)).toBe('1,1,1,');
});
