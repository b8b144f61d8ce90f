import { expectArgument } from '../basis/arguments.ts';
import { kindOf } from '../basis/kind.ts';
import { expectWithin } from '../basis/within.ts';
import type { Clock } from '../clock/clock.ts';
import type { LedgerColumn } from './columns.ts';

/** What a row of a table of the year covers. Hours, days and months are those of the local wall clock. */
export const PERIODS = ['step', 'hour', 'day', 'month'] as const;
/** Name of a period that a row covers. */
export type Period = (typeof PERIODS)[number];

/**
 * First step of each period of a year, ascending. An hour that comes twice, as when clocks are put back, is two.
 *
 * @param clock with at least one step
 * @returns one entry a period and one more: the number of steps
 * @throws RangeError for a period that is none, TypeError for a clock that is none
 */
export function periodStarts(clock: Clock, period: Period): Uint32Array {
  expectArgument('periodStarts', 'clock', clock, 'clock');
  if (!PERIODS.includes(period))
    throw new RangeError(`periodStarts: period is ${kindOf(period)}; expected ${PERIODS.join(', ')}`);
  const { steps, day, local_minute, offset_min, month } = clock;
  const hourOf = (i: number): number => Math.floor(local_minute[i]! / 60);
  const begins = (i: number): boolean => {
    switch (period) {
      case 'step':
        return true;
      case 'hour':
        return day[i] !== day[i - 1] || hourOf(i) !== hourOf(i - 1) || offset_min[i] !== offset_min[i - 1];
      case 'day':
        return day[i] !== day[i - 1];
      case 'month':
        // Where a clock is put back over midnight the month stays, as the day does.
        return month[i]! > month[i - 1]!;
    }
  };
  const starts = [0];
  for (let i = 1; i < steps; i++) if (begins(i)) starts.push(i);
  return Uint32Array.from([...starts, steps]);
}

/**
 * A column of steps as a column of periods: energies and hours add up, a state is the one at the period's end, a mean
 * is the mean of its steps, which are all of one length.
 *
 * @param values a column of the ledger, one entry a step, in its own unit
 * @param kind how the column adds up
 * @param starts from `periodStarts`
 * @throws RangeError for a kind that is none or starts that don't fit, TypeError for a column that is none
 */
export function overPeriods(
  values: Float64Array,
  kind: LedgerColumn['kind'],
  starts: Uint32Array,
): Float64Array {
  expectArgument('overPeriods', 'values', values, 'column');
  expectArgument('overPeriods', 'starts', starts, 'starts');
  expectWithin('overPeriods', 'starts.length', starts.length, 2, values.length + 1);
  expectWithin('overPeriods', 'last of starts', starts.at(-1)!, 1, values.length);
  if (!['sum', 'mean', 'state'].includes(kind))
    throw new RangeError(`overPeriods: kind is ${kindOf(kind)}; expected sum, mean or state`);
  const over = new Float64Array(starts.length - 1);
  for (let p = 0; p < over.length; p++) {
    const [from, to] = [starts[p]!, starts[p + 1]!];
    if (kind === 'state') {
      over[p] = values[to - 1]!;
      continue;
    }
    let sum = 0;
    for (let i = from; i < to; i++) sum += values[i]!;
    over[p] = kind === 'sum' ? sum : sum / (to - from);
  }
  return over;
}
