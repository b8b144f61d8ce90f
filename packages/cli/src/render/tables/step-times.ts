import type { Clock } from '@longnight/core';
import { localDate, utcTime } from '@longnight/core/clock';
import { TIME_COLUMNS } from '@longnight/core/ledger';

/** The columns of a row's beginning, in the order in which `stepTimes` writes them. */
export const TIME_NAMES: readonly string[] = TIME_COLUMNS.map(({ name }) => name);

/**
 * Writes the time columns of a clock's steps, asked for in order: `2026-10-25 02:00,60,2026-10-25 01:00`, or with
 * another delimiter. A year of core's `localTime` and `utcTime` takes longer than all the numbers beside them, so only
 * the first step of a day asks core, and the others change the time within it. tests/cli compares every step.
 */
export function stepTimes(clock: Clock, delimiter = ','): (step: number) => string {
  let day = -1;
  let date = '';
  let utcDay = -1;
  let utcDate = '';
  return (step) => {
    if (clock.day[step] !== day) {
      day = clock.day[step]!;
      date = localDate(clock, step);
    }
    const utcMinutes = clock.start_ms[step]! / 60_000;
    const ofUtcDay = Math.floor(utcMinutes / 1440);
    if (ofUtcDay !== utcDay) {
      utcDay = ofUtcDay;
      utcDate = utcTime(clock, step).slice(0, 10);
    }
    const local = `${date} ${minuteText(clock.local_minute[step]!)}`;
    const utc = `${utcDate} ${minuteText(utcMinutes - utcDay * 1440)}`;
    return `${local}${delimiter}${clock.offset_min[step]!}${delimiter}${utc}`;
  };
}

const two = (n: number): string => (n < 10 ? `0${n}` : `${n}`);
const minuteText = (minute: number): string => `${two(Math.floor(minute / 60))}:${two(minute % 60)}`;
