/** Rainflow counting against the worked history of ASTM E1049-85 (2005), section 5.4.4, Fig. 6, and its own rules. */
import { fc, test } from '@fast-check/vitest';
import { rainflow } from '@longnight/core/bank';
import { describe, expect, it } from 'vitest';
import { turningPoints } from '../../packages/core/src/wear/rainflow.ts';

const cyclesOf = (history: readonly number[]): [range: number, mean: number, count: number][] => {
  const { range, mean, count } = rainflow(Float64Array.from(history));
  return Array.from(range, (r, k) => [r, mean[k]!, count[k]!]);
};

const sorted = (rows: readonly (readonly number[])[]): readonly (readonly number[])[] =>
  [...rows].sort((a, b) => a[0]! - b[0]! || a[1]! - b[1]!);

describe('the worked history of ASTM E1049-85, 5.4.4, Fig. 6', () => {
  const history = [-2, 1, -3, 5, -1, 3, -4, 4, -2];

  it('has the ranges, means and counts that the standard prints', () => {
    const printed = [
      [3, -0.5, 0.5],
      [4, -1, 0.5],
      [4, 1, 1],
      [6, 1, 0.5],
      [8, 0, 0.5],
      [8, 1, 0.5],
      [9, 0.5, 0.5],
    ];
    expect(sorted(cyclesOf(history))).toEqual(printed);
  });

  it('has its histogram', () => {
    const counts = new Map<number, number>();
    for (const [range, , count] of cyclesOf(history)) counts.set(range, (counts.get(range) ?? 0) + count);
    expect(Object.fromEntries(counts)).toEqual({ 3: 0.5, 4: 1.5, 6: 0.5, 8: 1, 9: 0.5 });
  });

  it('is no other with points on the way and pauses put in between', () => {
    const drawn = history.flatMap((value, i) => {
      const next = history[i + 1] ?? value;
      return [value, value, value + (next - value) / 4, value + (next - value) / 2];
    });
    expect(cyclesOf(drawn)).toEqual(cyclesOf(history));
  });
});

describe('short and dull histories', () => {
  it('nothing, one value and a constant have no cycle', () => {
    expect(cyclesOf([])).toEqual([]);
    expect(cyclesOf([0.7])).toEqual([]);
    expect(cyclesOf([0.7, 0.7, 0.7])).toEqual([]);
  });

  it('two points, a slope and a slope with landings are half a cycle', () => {
    expect(cyclesOf([1, 0.2])).toEqual([[0.8, 0.6, 0.5]]);
    expect(cyclesOf([0, 1, 2, 3])).toEqual([[3, 1.5, 0.5]]);
    expect(cyclesOf([3, 3, 2, 2, 2, 0, 0])).toEqual([[3, 1.5, 0.5]]);
  });

  it('a plateau turns once', () => {
    expect([...turningPoints(Float64Array.of(0, 2, 2, 2, 1, 1, 3))]).toEqual([0, 2, 1, 3]);
  });

  it('n equal swings from full and back are n cycles', () => {
    const swings = [1, ...Array.from({ length: 365 }, () => [0.4, 1]).flat()];
    const total = cyclesOf(swings).reduce((sum, [, , count]) => sum + count, 0);
    expect(total).toBe(365);
    for (const [range] of cyclesOf(swings)) expect(range).toBeCloseTo(0.6, 12);
  });
});

const histories = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 2, maxLength: 200 });

test.prop([histories])('every stretch between two turns is counted once', (history) => {
  const turns = turningPoints(Float64Array.from(history));
  const cycles = cyclesOf(history);
  const counts = cycles.reduce((sum, [, , count]) => sum + count, 0);
  expect(2 * counts).toBe(Math.max(0, turns.length - 1));
  // What is gone through, up and down, is what the cycles hold: two ranges each.
  let travel = 0;
  for (let i = 1; i < turns.length; i++) travel += Math.abs(turns[i]! - turns[i - 1]!);
  const held = cycles.reduce((sum, [range, , count]) => sum + 2 * count * range, 0);
  expect(held).toBeCloseTo(travel, 9);
});

test.prop([histories])(
  'no range is above highest less lowest, and the whole span is among them',
  (history) => {
    const span = Math.max(...history) - Math.min(...history);
    const ranges = cyclesOf(history).map(([range]) => range);
    for (const range of ranges) expect(range).toBeLessThanOrEqual(span);
    expect(span === 0 ? 0 : Math.max(...ranges)).toBe(span);
  },
);

test.prop([histories])(
  'upside down the ranges and counts are the same, and the means change sign',
  (history) => {
    const turned = cyclesOf(history.map((value) => -value));
    expect(turned.map(([range, , count]) => [range, count])).toEqual(
      cyclesOf(history).map(([range, , count]) => [range, count]),
    );
    cyclesOf(history).forEach(([, mean], k) => {
      expect(turned[k]![1] + mean).toBe(0);
    });
  },
);

test.prop([histories])('backwards in time the same span is gone through', (history) => {
  const sum = (rows: readonly (readonly number[])[]): number =>
    rows.reduce((total, [range, , count]) => total + range! * count!, 0);
  expect(sum(cyclesOf([...history].reverse()))).toBeCloseTo(sum(cyclesOf(history)), 9);
});
