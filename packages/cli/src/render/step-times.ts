import { type Clock, localDate, localTime, utcTime } from '@longnight/core';

/**
 * Writes `time_local,time_utc`, or with another delimiter between them, of a clock's steps, asked for in order. A year of core's `localTime` and `utcTime` takes
 * longer than all the numbers beside them, so only the first step of a day and of an offset asks core, and the others
 * change the time within it. tests/cli compares every step.
 */
export function stepTimes(clock: Clock, delimiter = ','): (step: number) => string {
  let day = -1;
  let offset_min = Number.NaN;
  let date = '';
  let offset = '';
  let utcDay = -1;
  let utcDate = '';
  return (step) => {
    if (clock.day[step] !== day) {
      day = clock.day[step]!;
      date = localDate(clock, step);
    }
    if (clock.offset_min[step] !== offset_min) {
      offset_min = clock.offset_min[step]!;
      offset = localTime(clock, step).slice(19);
    }
    const utcMinutes = clock.start_ms[step]! / 60_000;
    const ofUtcDay = Math.floor(utcMinutes / 1440);
    if (ofUtcDay !== utcDay) {
      utcDay = ofUtcDay;
      utcDate = utcTime(clock, step).slice(0, 10);
    }
    const utc = minuteText(utcMinutes - utcDay * 1440);
    return `${date}T${minuteText(clock.local_minute[step]!)}:00${offset}${delimiter}${utcDate}T${utc}:00Z`;
  };
}

const two = (n: number): string => (n < 10 ? `0${n}` : `${n}`);
const minuteText = (minute: number): string => `${two(Math.floor(minute / 60))}:${two(minute % 60)}`;
