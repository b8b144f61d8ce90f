import { expectArgument } from '../basis/arguments.ts';
import { lastOf } from '../basis/memo.ts';
import { expectWithin } from '../basis/within.ts';
import { type Columns, LEDGER_COLUMNS, newColumns } from '../ledger/columns.ts';
import type { Ledger, PlayedSteps, RowColumn } from '../ledger/ledger.ts';
import type { Begun, PlantState } from '../ledger/state.ts';
import { restedStep } from '../plant/bank-step.ts';
import { coldYear } from '../plant/cold.ts';
import { expectSound } from '../plant/expect-sound.ts';
import type { Plant } from '../plant/plant.ts';
import type { PreparedYear } from '../year.ts';
import { type Asked, type AskedColumns, askYear } from './asked.ts';
import { newFlows } from './flows.ts';

import { nightYear } from './night.ts';
import { type Offered, offerArrays } from './offer.ts';
import { tellOthers } from './others.ts';
import { partsForStep, type StepParts } from './parts.ts';
import { playQuiet, quietNeed } from './quiet.ts';
import { settle } from './settle.ts';
import {
  beginDay,
  isInState,
  putState,
  readState,
  restedState,
  stateOf,
  stateWidth,
  writeState,
} from './state.ts';
import { generatorMemory, type Memory, RARE, type StepGivens, WROTE_GENERATOR, WROTE_OTHER } from './step.ts';

/** Columns that a study plays into again and again, so that a year allocates nothing. */
export interface ReusedColumns extends Offered, AskedColumns {
  /** Of the year that was played last. */ readonly columns: Columns;
  /** Keep what was worked out for the year before while sun and trackers are the same. */
  readonly offered: ReturnType<typeof lastOf<void>>;
  /** The same while loads and inverter are. */ readonly asked: ReturnType<typeof lastOf<Asked>>;
  /** What quiet steps need. Null: every step is settled, quiet or not; slower, and the same. */
  readonly quiet_kWh: Float64Array | null;
  /** `Memory.wrote` of the last year that was played into it. */
  wrote: number;
  /** The state at each local midnight of that year, first and last among them, one row of `stateWidth` each. */
  marks: Float64Array;
}

/** Allocates the memory of the hour loop for years of `steps` steps, to be used again for each. */
export function newReusedColumns(steps: number): ReusedColumns {
  expectWithin('newReusedColumns', 'steps', steps, 0, MOST_STEPS);
  return {
    columns: newColumns(steps),
    offered: lastOf(),
    tracked_kWh: new Float64Array(steps),
    trackable_kWh: new Float64Array(steps),
    ac_sun_kWh: new Float64Array(steps),
    ac_offered_kWh: new Float64Array(steps),
    available_kWh: new Float64Array(steps),
    other_dc_kWh: new Float64Array(steps),
    other_ac_offered_kWh: new Float64Array(steps),
    other_ac_sun_kWh: new Float64Array(steps),
    asked: lastOf(),
    need_kWh: new Float64Array(steps),
    inverted_kWh: new Float64Array(steps),
    quiet_kWh: new Float64Array(steps),
    wrote: 0,
    marks: new Float64Array(0),
  };
}

/** A leap year of minutes, more than any clock has. */
const MOST_STEPS = 366 * 1440;

/**
 * Years in a row that are played at most until one ends as it began. A year in which the bank is once full or once at its
 * floor closes in the second; the rest is for banks that drain or fill from year to year. Where a generator, shedding or the inverter's cut-off
 * switches by state of charge all year, years may go round without ever repeating: of such no more are tried than it
 * takes to leave the full bank of the first behind.
 */
const MOST_ROUNDS = 12;
const MOST_ROUNDS_SWITCHED = 3;

/**
 * Plays a plant through a prepared year.
 *
 * A year has no privileged first of January: unless the plant says with which state of charge it begins
 * (`plant.initial_soc`), or a state is handed on from the year before, it begins with the state it ends with. That state
 * is the one that years in a row, the first begun full, come to: the year is played, then again from its own end, but
 * only to the midnight at which all is as it was in the round before, from where on that round stands as it is.
 *
 * @param reused reused columns, `year.clock.steps` long; the ledger returned then shares them and is overwritten by the
 *   next play. Without it new ones are made.
 * @param handed_on state that the year before left
 * @returns the ledger; every column finite, every step balanced (see ledger/audit.ts)
 * @throws RangeError if the plant has another number of arrays than the year, or a figure that no plant has: a size below
 *   0 or NaN, a floor above the capacity
 */
export function playYear(
  year: PreparedYear,
  plant: Plant,
  reused?: ReusedColumns,
  handed_on: PlantState | null = null,
): Ledger {
  expectArgument('playYear', 'year', year, 'year');
  expectArgument('playYear', 'plant', plant, 'plant');
  const columns = reused ?? newReusedColumns(year.clock.steps);
  expectArgument('playYear', 'reused', columns, 'reused');
  expectWithin(
    'playYear',
    'reused.tracked_kWh.length',
    columns.tracked_kWh.length,
    year.clock.steps,
    year.clock.steps,
  );
  return playCourse(newCourse(year, plant, columns, true), plant, handed_on);
}

/** The same for one row among many: columns that no row is read from hold what was in them before. */
export const playRow = (year: PreparedYear, plant: Plant, reused: ReusedColumns): Ledger<RowColumn> =>
  playCourse(newCourse(year, plant, reused, false), plant, null);

function playCourse(course: Course, plant: Plant, handed_on: PlantState | null): Ledger {
  const { year, memory, width, reused } = course;
  const { marks } = reused;
  const { days, steps, step_h } = year.clock;
  const flexible = year.loads.flexible.length;
  const given =
    handed_on ?? (plant.initial_soc === null ? null : restedState(plant, plant.initial_soc, flexible));
  putState(given ?? restedState(plant, 1, flexible), marks, 0);
  readState(memory, marks, 0);
  playDays(course, 0, days);
  const begun: Begun = given === null ? close(course) : { kind: 'given', rounds: 1 };
  finish(course, plant, 0, steps);
  reused.wrote = memory.wrote;
  return {
    year,
    plant,
    steps,
    step_h,
    start_stock_kWh: marks[0]!,
    begun,
    end: stateOf(memory, marks, days * width),
    columns: reused.columns,
  };
}

/** The state at the midnight before a local day of the year that was played last into a reused; `days` is its end. */
export function stateBefore(year: PreparedYear, reused: ReusedColumns, day: number): PlantState {
  const flexible_kWh = year.loads.flexible.map(() => 0);
  return stateOf({ flexible_kWh }, reused.marks, day * stateWidth({ flexible_kWh }));
}

/**
 * Plays some local days of a year, as a part of it: what the plant looks back on and the days on which a tank is filled
 * are those of the year.
 *
 * @param state before the first of them
 * @param first ordinal of the first day; `count` from there must lie within the year
 * @returns their steps alone, in columns that share the reused's
 */
export function playDaysOf(
  year: PreparedYear,
  plant: Plant,
  state: PlantState,
  first: number,
  count: number,
  reused: ReusedColumns = newReusedColumns(year.clock.steps),
): PlayedSteps {
  const course = newCourse(year, plant, reused, true);
  const { memory, width } = course;
  const { day_start, step_h } = year.clock;
  putState(state, reused.marks, first * width);
  readState(memory, reused.marks, first * width);
  playDays(course, first, first + count);
  const [from, to] = [day_start[first]!, day_start[first + count]!];
  finish(course, plant, from, to);
  reused.wrote = memory.wrote;
  return {
    steps: to - from,
    step_h,
    start_stock_kWh: state.stock_kWh,
    begun: { kind: 'given', rounds: 1 },
    end: stateOf(memory, reused.marks, (first + count) * width),
    columns: cutColumns(reused.columns, from, to),
  };
}

/** A year on its way through the loop. */
interface Course {
  readonly year: PreparedYear;
  readonly parts: StepParts;
  readonly given: StepGivens;
  readonly memory: Memory;
  /** Infinite in steps that are not quiet; null for a plant without any. */
  readonly need_kWh: Float64Array | null;
  readonly reused: ReusedColumns;
  /** Numbers of one row of `reused.marks`. */
  readonly width: number;
}

function newCourse(year: PreparedYear, plant: Plant, reused: ReusedColumns, whole: boolean): Course {
  expectSound('playYear', plant);
  if (plant.arrays.length !== year.arrays.length) {
    throw new RangeError(
      `playYear: ${plant.arrays.length} arrays in the plant, ${year.arrays.length} in the year`,
    );
  }
  const { columns } = reused;
  const { loads, clock } = year;
  const { steps: n } = clock;
  for (const [name, column] of [
    ['bank_temperature_C', year.bank_temperature_C],
    ['loads.total_kW', loads.total_kW],
    ...year.arrays.map((array, k) => [`arrays[${k}].dc_kW_per_kWp`, array.dc_kW_per_kWp] as const),
  ] as const) {
    expectArgument('playYear', `year.${name}`, column, 'column');
    expectWithin('playYear', `year.${name}.length`, column.length, n, n);
  }
  if (plant.others.length !== year.others.length)
    throw new RangeError(
      `playYear: ${plant.others.length} other sources in the plant, ${year.others.length} in the year`,
    );
  const hasAc = plant.arrays.some((array) => array.ac) || plant.others.some((other) => other.ac);
  const { steps, step_h, days } = clock;
  clearRare(columns, reused.wrote, 0, steps);
  // Until this year is played to its end.
  reused.wrote = -1;
  reused.offered(
    [columns, clock, plant.all_in_one, ...year.arrays, ...plant.arrays, ...year.others, ...plant.others],
    () => offerArrays(year, plant, columns, reused),
  );
  const parts = partsForStep(plant, step_h, year.loads.tiers);
  const asked = reused.asked([columns, clock, loads, year.sky, plant.inverter], () =>
    askYear(year, plant, parts.inverter, columns, reused),
  );
  const given: StepGivens = {
    whole,
    available_kWh: plant.others.length > 0 ? reused.available_kWh : columns.array_available_kWh,
    tracked_kWh: reused.tracked_kWh,
    trackable_kWh: reused.trackable_kWh,
    ac_sun_kWh: hasAc ? reused.ac_sun_kWh : null,
    ac_offered_kWh: hasAc ? reused.ac_offered_kWh : null,
    bank_temperature_C: year.bank_temperature_C,
    day: clock.day,
    tier_kW: loads.tier_kW,
    dc_tier_kW: loads.dc_tier_kW,
    leg_tier_kW: loads.leg_tier_kW,
    flexible: loads.flexible,
    surplus: loads.surplus,
    inverted_kWh: reused.inverted_kWh,
    ...asked,
    ...coldYear(plant.bank, year.bank_temperature_C, step_h),
    ...year.timetables,
    night: nightYear(year, plant.generator, parts, reused, asked.dc_load_kW),
  };
  const memory: Memory = {
    stock_kWh: plant.bank.capacity_kWh,
    shore_on: false,
    inverter_off: false,
    bank: restedStep(plant.bank.model, plant.bank.capacity_kWh),
    ...generatorMemory(plant),
    shed: 0,
    flexible_kWh: new Float64Array(loads.flexible.length),
    surplus_kWh: new Float64Array(loads.surplus.length),
    surplus_day: -1,
    wrote: 0,
    flows: newFlows(),
  };
  const room = reused.quiet_kWh;
  const need_kWh = room === null ? null : quietNeed(parts, given, reused, room);
  const width = stateWidth(memory);
  if (reused.marks.length < (days + 1) * width) reused.marks = new Float64Array((days + 1) * width);
  return { year, parts, given, memory, need_kWh, reused, width };
}

/** Plays days `from` up to, not including, `to`, and marks the state before each and after the last. */
function playDays(course: Course, from: number, to: number): void {
  const { year, parts, memory, reused, width } = course;
  const { day_start } = year.clock;
  for (let day = from; day < to; day++) {
    writeState(parts, memory, reused.marks, day * width);
    playSteps(course, day_start[day]!, day_start[day + 1]!);
  }
  writeState(parts, memory, reused.marks, to * width);
}

function playSteps({ year, parts, given, memory, need_kWh, reused }: Course, from: number, to: number): void {
  const { columns } = reused;
  const { total_kW } = year.loads;
  const { step_h } = year.clock;
  // Those that wait were added to it in the round, or the year, before.
  if (given.flexible.length > 0)
    for (let i = from; i < to; i++) columns.load_wanted_kWh[i] = total_kW[i]! * step_h;
  for (let i = from; i < to; i++) {
    if (need_kWh !== null && !memory.generator_on && memory.shed === 0 && !memory.inverter_off) {
      i = playQuiet(parts, columns, given, need_kWh, i, to, memory);
      if (i === to) break;
    }
    settle(parts, columns, given, i, memory);
  }
}

/** Plays a year that has been played once again from its own end, until it begins as it ends. */
function close(course: Course): Begun {
  const { year, parts, memory, reused, width } = course;
  const { marks, columns } = reused;
  const { days, day_start } = year.clock;
  let switched = 0;
  for (let rounds = 1; ; rounds++) {
    if (isInState(parts, memory, marks, 0)) return { kind: 'closed', rounds };
    if (parts.shedding.length > 0 || parts.cut_off_kWh >= 0 || (memory.wrote & WROTE_GENERATOR) !== 0)
      switched++;
    if (rounds === MOST_ROUNDS || switched === MOST_ROUNDS_SWITCHED) return { kind: 'not_closed', rounds };
    beginDay(memory);
    for (let day = 0; day < days; day++) {
      if (isInState(parts, memory, marks, day * width)) {
        // From here on the round before stands, and its end is what this one began with.
        readState(memory, marks, days * width);
        return { kind: 'closed', rounds: rounds + 1 };
      }
      writeState(parts, memory, marks, day * width);
      clearRare(columns, memory.wrote, day_start[day]!, day_start[day + 1]!);
      playSteps(course, day_start[day]!, day_start[day + 1]!);
    }
    writeState(parts, memory, marks, days * width);
  }
}

/** Tells other sources from the sun in the steps that were played. */
function finish({ memory, reused }: Course, { others }: Plant, from: number, to: number): void {
  if (others.length === 0) return;
  memory.wrote |= WROTE_OTHER;
  tellOthers(reused.columns, reused, from, to);
}

/** A step expects zeros in the columns of `RARE`: those that `wrote` names are cleared from step `from` up to `to`. */
function clearRare(columns: Columns, wrote: number, from: number, to: number): void {
  for (let k = 0; k < RARE.length; k++) {
    if ((wrote & (1 << k)) !== 0) for (const name of RARE[k]!) columns[name].fill(0, from, to);
  }
}

const cutColumns = (columns: Columns, from: number, to: number): Columns =>
  Object.fromEntries(LEDGER_COLUMNS.map(({ name }) => [name, columns[name].subarray(from, to)])) as Columns;
