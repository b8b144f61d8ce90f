import { IANAZone } from 'luxon';
import { expectArgument } from '../basis/arguments.ts';
import { DAY_ms, MINUTE_ms } from '../basis/units.ts';
import { expectWhole } from '../basis/within.ts';
import { expectZone, offsetTable, offsetText } from './zone.ts';

export { isTimeZone } from './zone.ts';

/**
 * A local civil year cut into equal steps. Step i covers [start_ms[i], start_ms[i] + step_min).
 * The year begins and ends at local midnight, so it has 8,760 or 8,784 hours, and the days on which
 * daylight saving changes have 23 or 25. In a year in which a zone changed its standard time it has an hour (or, at
 * the date line, a day) more or less; if that leaves a part of a step, the last step runs on into the next year.
 * All arrays have `steps` entries unless said otherwise.
 */
export interface Clock {
  /** Local calendar year. */ readonly year: number;
  /** IANA name. */ readonly time_zone: string;
  /** Length of a step. */ readonly step_min: number;
  /** Length of a step in hours. */ readonly step_h: number;
  /** How many the year has. */ readonly steps: number;
  /** Start of the step, UTC epoch ms. */ readonly start_ms: Float64Array;
  /** Local offset from UTC at the start of the step, minutes east. */ readonly offset_min: Int16Array;
  /** Minutes since local midnight by the wall clock at the start of the step, 0 to 1439. */
  readonly local_minute: Int16Array;
  /** Local calendar month, 1 to 12. */ readonly month: Uint8Array;
  /** ISO weekday, Monday 1 to Sunday 7. */ readonly weekday: Uint8Array;
  /** Ordinal of the local day within the year, 0 to days - 1. Never falls, even where a clock is put back over midnight. */
  readonly day: Uint16Array;
  /** Local days in the year: 365 or 366; one less where a zone skipped a day at the date line. */
  readonly days: number;
  /** First step of each local day; `days + 1` entries, the last is `steps`. */
  readonly day_start: Uint32Array;
}

/**
 * Builds the clock of one local year.
 *
 * @param year calendar year, 1900 to 2200
 * @param time_zone IANA name; checked by the scenario schema
 * @param step_min 60, 30, 20, 15, 10 or 5
 * @throws RangeError if the zone is unknown or the step does not divide an hour
 */
export function buildClock(year: number, time_zone: string, step_min: number): Clock {
  expectWhole('buildClock', 'year', year, 1900, 2200);
  expectZone('buildClock', 'time_zone', time_zone);
  expectWhole('buildClock', 'step_min', step_min, 1, 60);
  if (60 % step_min !== 0)
    throw new RangeError(`buildClock: step_min is ${step_min}; expected minutes that divide an hour`);
  const zone = IANAZone.create(time_zone);
  const first_ms = newYear_ms(year, zone);
  const end_ms = newYear_ms(year + 1, zone);
  const step_ms = step_min * MINUTE_ms;
  const steps = Math.ceil((end_ms - first_ms) / step_ms);

  const start_ms = new Float64Array(steps);
  const offset_min = new Int16Array(steps);
  const local_minute = new Int16Array(steps);
  const month = new Uint8Array(steps);
  const weekday = new Uint8Array(steps);
  const day = new Uint16Array(steps);
  const dayStarts: number[] = [];
  const table = offsetTable({ kind: 'iana', name: time_zone }, first_ms, end_ms);
  let lastDay = Number.NEGATIVE_INFINITY;
  let k = 0;
  for (let i = 0; i < steps; i++) {
    const t = first_ms + i * step_ms;
    while (k + 1 < table.from_ms.length && t >= table.from_ms[k + 1]!) k++;
    const offset = table.offset_min[k]!;
    const local_ms = t + offset * MINUTE_ms;
    const local = new Date(local_ms);
    start_ms[i] = t;
    offset_min[i] = offset;
    local_minute[i] = local.getUTCHours() * 60 + local.getUTCMinutes();
    month[i] = local.getUTCMonth() + 1;
    weekday[i] = local.getUTCDay() === 0 ? 7 : local.getUTCDay();
    const dayNumber = Math.floor(local_ms / DAY_ms);
    if (dayNumber > lastDay) {
      dayStarts.push(i);
      lastDay = dayNumber;
    }
    day[i] = dayStarts.length - 1;
  }
  dayStarts.push(steps);
  return {
    year,
    time_zone,
    step_min,
    step_h: step_min / 60,
    steps,
    start_ms,
    offset_min,
    local_minute,
    month,
    weekday,
    day,
    days: dayStarts.length - 1,
    day_start: Uint32Array.from(dayStarts),
  };
}

/** Local midnight of 1 January, UTC epoch ms: the offset is asked for at the instant itself, not at midnight in UTC. */
function newYear_ms(year: number, zone: IANAZone): number {
  const wall_ms = Date.UTC(year, 0, 1);
  const guess_ms = wall_ms - zone.offset(wall_ms) * MINUTE_ms;
  return wall_ms - zone.offset(guess_ms) * MINUTE_ms;
}

const two = (n: number): string => (n < 10 ? `0${n}` : `${n}`);

function expectStep(where: string, clock: Clock, step: number): void {
  expectArgument(where, 'clock', clock, 'clock');
  expectWhole(where, 'step', step, 0, clock.steps - 1);
}

/** ISO 8601 local date of a step, `2025-12-19`. */
export function localDate(clock: Clock, step: number): string {
  expectStep('localDate', clock, step);
  const local = new Date(clock.start_ms[step]! + clock.offset_min[step]! * MINUTE_ms);
  return `${local.getUTCFullYear()}-${two(local.getUTCMonth() + 1)}-${two(local.getUTCDate())}`;
}

/** ISO 8601 local time with offset of a step's start, `2025-12-19T07:00:00+01:00`. */
export function localTime(clock: Clock, step: number): string {
  expectStep('localTime', clock, step);
  const offset = clock.offset_min[step]!;
  const time = new Date(clock.start_ms[step]! + offset * MINUTE_ms).toISOString().slice(11, 16);
  return `${localDate(clock, step)}T${time}:00${offsetText(offset)}`;
}

/** ISO 8601 UTC time of a step's start, `2025-12-19T06:00:00Z`. */
export function utcTime(clock: Clock, step: number): string {
  expectStep('utcTime', clock, step);
  return `${new Date(clock.start_ms[step]!).toISOString().slice(0, 19)}Z`;
}
