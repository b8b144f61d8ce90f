import { buildClock, localTime, utcTime } from '@longnight/core/clock';
import { expect, test } from 'vitest';
import { stepTimes, TIME_NAMES } from '../../packages/cli/src/render/tables/step-times.ts';
import { serialOf } from '../../packages/cli/src/render/workbook/hours.ts';

/** `2026-10-25T02:00:00+01:00` as a spreadsheet takes it. */
const plain = (iso: string): string => `${iso.slice(0, 10)} ${iso.slice(11, 16)}`;

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
    const local = localTime(clock, i);
    const [, sign, hours, minutes] = local.match(/([+-])(\d\d):(\d\d)$/)!;
    const offset_min = (sign === '-' ? -1 : 1) * (60 * Number(hours) + Number(minutes));
    const expected = `${plain(local)},${offset_min},${plain(utcTime(clock, i))}`;
    const actual = times(i);
    if (actual !== expected) differ.push(`${actual} instead of ${expected}`);
  }
  expect(differ).toEqual([]);
});

test('both hours that an autumn night calls two are told apart by the offset', () => {
  const clock = buildClock(2026, 'Europe/Oslo', 60);
  const times = stepTimes(clock);
  const rows = Array.from({ length: clock.steps }, (_, i) => times(i));
  expect(TIME_NAMES).toEqual(['time_local', 'utc_offset_min', 'time_utc']);
  expect(rows.filter((row) => row.startsWith('2026-10-25 02:00,'))).toEqual([
    '2026-10-25 02:00,120,2026-10-25 00:00',
    '2026-10-25 02:00,60,2026-10-25 01:00',
  ]);
  expect(new Set(rows).size).toBe(clock.steps);
});

/**
 * HOUR, MINUTE and SECOND of a serial, cut off as a sheet's formulas and formats may: of the share of the day, as
 * ECMA-376-1, 18.17.4 counts it. A sheet that rounds first gets them as well where those that cut off do.
 */
function timeOf(serial: number): readonly [day: number, hour: number, minute: number, second: number] {
  const day = Math.floor(serial);
  const share = serial - day;
  return [day, Math.floor(share * 24), Math.floor(share * 1440) % 60, Math.floor(share * 86_400) % 60];
}

test.each([1901, 1960, 2026, 2080, 2199])(
  'every step of five minutes in %i has its hour and minute by the rules of a sheet',
  (year) => {
    const wrong: string[] = [];
    const first = serialOf(Date.UTC(year, 0, 1));
    // 1899-12-30 is day 0 from March 1900 on.
    expect(first).toBe((Date.UTC(year, 0, 1) - Date.UTC(1899, 11, 30)) / 86_400_000);
    for (let minute = 0; minute < 365 * 1440; minute += 5) {
      const serial = serialOf(Date.UTC(year, 0, 1, 0, minute));
      const expected = [first + Math.floor(minute / 1440), Math.floor(minute / 60) % 24, minute % 60, 0];
      if (timeOf(serial).join() !== expected.join()) wrong.push(`${timeOf(serial)} instead of ${expected}`);
      // What a sheet that keeps nine decimals has of it.
      if (Number(serial.toFixed(9)) !== serial) wrong.push(`${serial} is longer than nine decimals`);
    }
    expect(wrong).toEqual([]);
  },
);
