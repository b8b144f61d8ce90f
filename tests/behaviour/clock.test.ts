/** The clock against the calendar, and its texts against luxon step by step. */

import type { Clock } from '@longnight/core';
import { buildClock, localDate, localTime, utcTime } from '@longnight/core/clock';
import { DateTime } from 'luxon';
import { describe, expect, it } from 'vitest';
import { offsetTable, parseZone } from '../../packages/core/src/clock/zone.ts';

const HOUR_ms = 3_600_000;

/** Hours of each local day, by date, where they aren't 24. */
function oddDays(clock: Clock): Record<string, number> {
  const odd: Record<string, number> = {};
  for (let d = 0; d < clock.days; d++) {
    const hours = (clock.day_start[d + 1]! - clock.day_start[d]!) * clock.step_h;
    if (hours !== 24) odd[localDate(clock, clock.day_start[d]!)] = hours;
  }
  return odd;
}

describe('the length of a year', () => {
  it.each([
    [2023, 8760, 365],
    [2024, 8784, 366],
    [2000, 8784, 366],
    [2100, 8760, 365],
  ])('%i has %i hours on %i days', (year, hours, days) => {
    const clock = buildClock(year, 'UTC', 60);
    expect([clock.steps, clock.days]).toEqual([hours, days]);
    expect(buildClock(year, 'UTC', 15).steps).toBe(4 * hours);
  });

  it('begins and ends at local midnight', () => {
    const clock = buildClock(2025, 'Asia/Kolkata', 60);
    expect(localTime(clock, 0)).toBe('2025-01-01T00:00:00+05:30');
    expect(utcTime(clock, 0)).toBe('2024-12-31T18:30:00Z');
    expect(localTime(clock, clock.steps - 1)).toBe('2025-12-31T23:00:00+05:30');
  });

  it('loses a day where a zone skipped one at the date line', () => {
    const clock = buildClock(2011, 'Pacific/Apia', 60);
    expect(clock.days).toBe(364);
    const dates = Array.from(clock.day_start.subarray(0, clock.days), (step) => localDate(clock, step));
    expect(dates.slice(-2)).toEqual(['2011-12-29', '2011-12-31']);
  });

  it('covers the whole year where standard time changed by half an hour', () => {
    // Caracas left -04:30 for -04:00 in 2016: the year has 8,783.5 hours.
    const clock = buildClock(2016, 'America/Caracas', 60);
    const end_ms = clock.start_ms[clock.steps - 1]! + HOUR_ms;
    expect(end_ms).toBeGreaterThanOrEqual(Date.UTC(2017, 0, 1, 4));
    expect(localDate(clock, clock.steps - 1)).toBe('2016-12-31');
  });
});

describe('daylight saving', () => {
  it.each([
    ['Europe/Oslo', { '2025-03-30': 23, '2025-10-26': 25 }],
    ['Australia/Melbourne', { '2025-04-06': 25, '2025-10-05': 23 }],
    ['America/Santiago', { '2025-04-05': 25, '2025-09-07': 23 }],
    ['Asia/Kolkata', {}],
    ['Etc/GMT-1', {}],
  ])('%s has its short and long days', (zone, expected) => {
    expect(oddDays(buildClock(2025, zone, 60))).toEqual(expected);
  });

  it('of half an hour on Lord Howe', () => {
    expect(oddDays(buildClock(2025, 'Australia/Lord_Howe', 30))).toEqual({
      '2025-04-06': 24.5,
      '2025-10-05': 23.5,
    });
  });

  it('adds no day where clocks go back over midnight', () => {
    // St John's went back from 00:01 to 23:01 until 2011.
    const clock = buildClock(2010, 'America/St_Johns', 5);
    const steps = clock.day.map((day, i) => (i === 0 ? 0 : day - clock.day[i - 1]!));
    expect(clock.days).toBe(365);
    expect(Math.max(...new Set(steps))).toBe(1);
    expect(steps.filter((step) => step === 1).length).toBe(364);
  });

  it('shows the doubled hour with both offsets', () => {
    const clock = buildClock(2025, 'Europe/Oslo', 60);
    const step = clock.day_start[298]!;
    expect(Array.from({ length: 4 }, (_, i) => localTime(clock, step + 1 + i))).toEqual([
      '2025-10-26T01:00:00+02:00',
      '2025-10-26T02:00:00+02:00',
      '2025-10-26T02:00:00+01:00',
      '2025-10-26T03:00:00+01:00',
    ]);
  });
});

describe('every step of a year', () => {
  it.each([
    [2024, 'Europe/Oslo', 60],
    [2025, 'Australia/Lord_Howe', 30],
    [2025, 'Asia/Kathmandu', 60],
    [2025, 'America/St_Johns', 60],
    [2011, 'Pacific/Apia', 60],
    [2025, 'America/Santiago', 15],
    [2025, 'Africa/Casablanca', 60],
  ])('agrees with luxon in %i, %s, %i min', (year, zone, step_min) => {
    const clock = buildClock(year, zone, step_min);
    for (let i = 0; i < clock.steps; i++) {
      const at_ms = clock.start_ms[0]! + i * step_min * 60_000;
      const local = DateTime.fromMillis(at_ms, { zone });
      const read = [
        clock.start_ms[i],
        localTime(clock, i),
        clock.local_minute[i],
        clock.month[i],
        clock.weekday[i],
      ];
      const expected = [
        at_ms,
        local.toISO({ suppressMilliseconds: true }),
        local.hour * 60 + local.minute,
        local.month,
        local.weekday,
      ];
      // One comparison a step keeps 100,000 of them quick.
      if (read.join() !== expected.join()) expect(read).toEqual(expected);
    }
    expect(clock.day[clock.steps - 1]).toBe(clock.days - 1);
  });
});

it('refuses zones it does not know and steps that do not divide an hour', () => {
  expect(() => buildClock(2025, 'Europe/Olso', 60)).toThrow(RangeError);
  expect(() => buildClock(2025, 'UTC', 7)).toThrow(RangeError);
});

describe('zones of series', () => {
  it.each([
    ['UTC', { kind: 'fixed', offset_min: 0 }],
    ['Z', { kind: 'fixed', offset_min: 0 }],
    ['+01:00', { kind: 'fixed', offset_min: 60 }],
    ['-0330', { kind: 'fixed', offset_min: -210 }],
    ['UTC+05:45', { kind: 'fixed', offset_min: 345 }],
    ['Europe/Oslo', { kind: 'iana', name: 'Europe/Oslo' }],
    ['+25:00', undefined],
    ['Europe/Olso', undefined],
    ['', undefined],
  ])('reads %s', (text, zone) => {
    expect(parseZone(text)).toEqual(zone);
  });

  it('lists the offsets of a year to the minute', () => {
    const from = Date.UTC(2025, 0, 1);
    const table = offsetTable({ kind: 'iana', name: 'Europe/Oslo' }, from, Date.UTC(2026, 0, 1));
    expect(table).toEqual({
      from_ms: [from, Date.UTC(2025, 2, 30, 1), Date.UTC(2025, 9, 26, 1)],
      offset_min: [60, 120, 60],
    });
  });
});
