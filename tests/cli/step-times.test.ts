import { buildClock, localTime, utcTime } from '@longnight/core';
import { expect, test } from 'vitest';
import { stepTimes } from '../../packages/cli/src/render/step-times.ts';

test.each([
  ['Europe/Oslo', 2026, 60],
  ['Australia/Lord_Howe', 2024, 10],
  ['Asia/Kathmandu', 2025, 30],
  ['America/St_Johns', 2023, 15],
  ['Pacific/Apia', 2011, 60],
])('the times of every step in %s, %i are those of core', (zone, year, step_min) => {
  const clock = buildClock(year, zone, step_min);
  const times = stepTimes(clock);
  const differ: string[] = [];
  for (let i = 0; i < clock.steps; i++) {
    const expected = `${localTime(clock, i)},${utcTime(clock, i)}`;
    const actual = times(i);
    if (actual !== expected) differ.push(`${actual} instead of ${expected}`);
  }
  expect(differ).toEqual([]);
});
