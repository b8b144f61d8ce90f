import { DAY_ms, MINUTE_ms } from '../basis/units.ts';
import type { Clock } from './clock.ts';
import { offsetTable } from './zone.ts';

/** A stretch of the clock face: from `minute` since local midnight, `length_min` long, never over midnight. */
interface Slot {
  readonly minute: number;
  readonly length_min: number;
}

/** Pieces `from` up to, not including, `to` lie on `day`. Where clocks go back over midnight a day has two runs. */
interface DayRun {
  readonly day: number;
  readonly from: number;
  readonly to: number;
}

/**
 * The steps of a clock as stretches of wall clock. A step is one piece, or several where midnight or a change of the
 * clocks falls into it (half-hour zones, Lord Howe). A year has few distinct slots, so a load is worked out once for
 * each slot and then only looked up for its 8,760 pieces.
 */
export interface WallClock {
  /** Step of each piece, ascending. */
  readonly step: Uint32Array;
  /** Runs of pieces on one local calendar day. Day 0 is the one before the year: a window that began then may run on. */
  readonly runs: readonly DayRun[];
  /** Slot of each piece. */
  readonly slot: Uint16Array;
  readonly slots: readonly Slot[];
  /** Month 1 to 12 of each day. */
  readonly month: Uint8Array;
  /** ISO weekday 1 to 7 of each day. */
  readonly weekday: Uint8Array;
  /** Days with the same slots are of one kind: the plain day, the one of 23 hours, the one of 25. */
  readonly kind: Uint16Array;
  /** Slots of each kind of day, a repeated hour twice. */
  readonly kinds: readonly (readonly number[])[];
  readonly step_min: number;
  readonly steps: number;
}

/** Loads, timetables and the check of starts ask for the same clock's stretches: cut once, they are used by all. */
const cut = new WeakMap<Clock, WallClock>();

/** Cuts a clock's steps into stretches of wall clock. */
export function wallClock(clock: Clock): WallClock {
  const wall = cut.get(clock) ?? stretches(clock);
  cut.set(clock, wall);
  return wall;
}

function stretches(clock: Clock): WallClock {
  const step_ms = clock.step_min * MINUTE_ms;
  const first_ms = clock.start_ms[0]!;
  const end_ms = clock.start_ms[clock.steps - 1]! + step_ms;
  const table = offsetTable({ kind: 'iana', name: clock.time_zone }, first_ms, end_ms);
  const step: number[] = [];
  const day: number[] = [];
  const slot: number[] = [];
  const slots: Slot[] = [];
  const slotAt = new Map<string, number>();
  // Day 0 is the day before the first.
  const dayZero = Math.floor((first_ms + table.offset_min[0]! * MINUTE_ms) / DAY_ms) - 1;
  let lastDay = 0;
  let k = 0;
  for (let i = 0; i < clock.steps; i++) {
    const stepEnd = clock.start_ms[i]! + step_ms;
    for (let t = clock.start_ms[i]!; t < stepEnd; ) {
      while (k + 1 < table.from_ms.length && t >= table.from_ms[k + 1]!) k++;
      const local = t + table.offset_min[k]! * MINUTE_ms;
      const dayNumber = Math.floor(local / DAY_ms);
      const minute = (local - dayNumber * DAY_ms) / MINUTE_ms;
      const next = Math.min(stepEnd, t + (dayNumber + 1) * DAY_ms - local, table.from_ms[k + 1] ?? stepEnd);
      const length_min = (next - t) / MINUTE_ms;
      const key = `${minute} ${length_min}`;
      let s = slotAt.get(key);
      if (s === undefined) {
        s = slots.push({ minute, length_min }) - 1;
        slotAt.set(key, s);
      }
      step.push(i);
      day.push(dayNumber - dayZero);
      slot.push(s);
      lastDay = Math.max(lastDay, dayNumber - dayZero);
      t = next;
    }
  }
  const days = calendar(dayZero, lastDay + 1);
  return {
    step: Uint32Array.from(step),
    runs: runsOf(day),
    slot: Uint16Array.from(slot),
    slots,
    ...days,
    ...kindsOf(day, slot, days.year, clock.year),
    step_min: clock.step_min,
    steps: clock.steps,
  };
}

function runsOf(day: readonly number[]): DayRun[] {
  const runs: DayRun[] = [];
  let from = 0;
  for (let p = 1; p <= day.length; p++) {
    if (day[p] === day[from]) continue;
    runs.push({ day: day[from]!, from, to: p });
    from = p;
  }
  return runs;
}

function calendar(dayZero: number, count: number) {
  const year = new Uint16Array(count);
  const month = new Uint8Array(count);
  const weekday = new Uint8Array(count);
  for (let d = 0; d < count; d++) {
    const date = new Date((dayZero + d) * DAY_ms);
    year[d] = date.getUTCFullYear();
    month[d] = date.getUTCMonth() + 1;
    weekday[d] = date.getUTCDay() === 0 ? 7 : date.getUTCDay();
  }
  return { year, month, weekday };
}

function kindsOf(day: readonly number[], slot: readonly number[], yearOf: Uint16Array, year: number) {
  const kind = new Uint16Array(yearOf.length);
  const kinds: number[][] = [];
  const known = new Map<string, number>();
  const slotsOf: number[][] = Array.from(yearOf, () => []);
  for (let p = 0; p < day.length; p++) slotsOf[day[p]!]!.push(slot[p]!);
  for (let d = 1; d < slotsOf.length; d++) {
    // A last step that runs on into the next year shows a sliver of a day: it has the hours of any plain day.
    if (yearOf[d] !== year && d > 1) {
      kind[d] = kind[1]!;
      continue;
    }
    const key = slotsOf[d]!.join();
    let k = known.get(key);
    if (k === undefined) {
      k = kinds.push(slotsOf[d]!) - 1;
      known.set(key, k);
    }
    kind[d] = k;
  }
  return { kind, kinds };
}

/** Monday first, as ISO numbers them. */
export const WEEK = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;

/** 1 for each day of the wall clock that is of the given weekdays and months, else 0. */
export function chosenDays(
  wall: WallClock,
  days: readonly (typeof WEEK)[number][],
  months: readonly number[],
): Uint8Array {
  const isDay = [false, ...WEEK.map((day) => days.includes(day))];
  const isMonth = Array.from({ length: 13 }, (_, month) => months.includes(month));
  return wall.month.map((month, d) => (isMonth[month] && isDay[wall.weekday[d]!] ? 1 : 0));
}
