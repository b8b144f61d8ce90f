/** Rows of hours, days and months by the local clock, on the days when it is put forward or back. */

import { overPeriods, periodStarts } from '@longnight/core';
import { buildClock } from '@longnight/core/clock';
import type { PERIODS } from '@longnight/core/ledger';
import { describe, expect, test } from 'vitest';

/** Lengths of the periods in hours. */
const lengths = (zone: string, step_min: number, period: (typeof PERIODS)[number]): number[] => {
  const clock = buildClock(2026, zone, step_min);
  const starts = periodStarts(clock, period);
  return Array.from({ length: starts.length - 1 }, (_, p) => (starts[p + 1]! - starts[p]!) * clock.step_h);
};

describe('periods of a year', () => {
  test('a step is itself', () => {
    expect(lengths('Europe/Oslo', 15, 'step')).toEqual(new Array(4 * 8760).fill(0.25));
  });

  test('the hour that comes twice is two, the one that is skipped is none', () => {
    expect(lengths('Europe/Oslo', 15, 'hour')).toEqual(new Array(8760).fill(1));
    // Lord Howe Island moves its clocks by half an hour: in April one clock hour is an hour and its second half again.
    const howe = lengths('Australia/Lord_Howe', 30, 'hour');
    expect(howe.reduce((all, length) => all + length, 0)).toBe(8760);
    expect(howe.filter((length) => length !== 1)).toEqual([0.5, 0.5]);
  });

  test('days have 23 and 25 hours twice a year, months hold them', () => {
    const days = lengths('Europe/Oslo', 60, 'day');
    expect(days.length).toBe(365);
    expect(days.flatMap((length, day) => (length === 24 ? [] : [[day, length]]))).toEqual([
      // 29 March and 25 October 2026: the European Union changes clocks on the last Sundays of these months (recalled).
      [87, 23],
      [297, 25],
    ]);
    const months = lengths('Europe/Oslo', 60, 'month');
    const calendar = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31].map((count) => 24 * count);
    calendar[2]! -= 1;
    calendar[9]! += 1;
    expect(months).toEqual(calendar);
  });
});

test('sums add up, states are the last, means are means', () => {
  const values = Float64Array.of(1, 2, 3, 4, 10);
  const starts = Uint32Array.of(0, 2, 5);
  expect([...overPeriods(values, 'sum', starts)]).toEqual([3, 17]);
  expect([...overPeriods(values, 'state', starts)]).toEqual([2, 10]);
  expect([...overPeriods(values, 'mean', starts)]).toEqual([1.5, 17 / 3]);
});
