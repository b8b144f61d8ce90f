import { InputError, refusal } from '../basis/errors.ts';
import { MINUTE_ms } from '../basis/units.ts';
import type { GivenSeries } from '../scenario/given.ts';
import type { Wanted } from './layout.ts';
import { RowIssues } from './rows.ts';
import type { Series } from './types.ts';

/**
 * A series that was handed over as numbers; see `readSeries` for the same from a text.
 *
 * @param name what the scenario calls it, for messages
 * @returns its intervals in order; NaN is a missing value, as an empty cell is
 * @throws InputError for a start, a step or columns that are none, columns of different lengths, and values that are
 *   not finite: the first five of each kind and their number
 */
export function givenSeries(given: GivenSeries, name: string, columns: readonly Wanted[]): Series {
  const refuse = (field: string, found: unknown, expected: string): InputError =>
    refusal('not-a-series', `${name}.${field}`, `found ${found}`, undefined, expected);
  const { start_utc_ms, step_min, values } = given;
  const interval_ms = step_min * MINUTE_ms;
  if (!Number.isInteger(start_utc_ms)) throw refuse('start_utc_ms', start_utc_ms, 'whole UTC epoch ms');
  if (!Number.isInteger(interval_ms) || interval_ms <= 0)
    throw refuse('step_min', step_min, 'minutes above 0, whole in ms');
  const issues = new RowIssues(name, 'index');
  let rows = -1;
  const read = columns.map(({ name: ours, column }): readonly [string, Float64Array] => {
    const numbers = values instanceof Float64Array ? values : values?.[column];
    const field = values instanceof Float64Array ? 'values' : `values.${column}`;
    if (!(numbers instanceof Float64Array))
      throw refuse(field, numbers === undefined ? 'nothing' : 'something else', 'a Float64Array');
    if (numbers.length < 2 || (rows >= 0 && numbers.length !== rows))
      throw refuse(field, `${numbers.length} values`, rows < 0 ? 'two or more' : `${rows}, as before it`);
    rows = numbers.length;
    const fix = 'give a finite number, or NaN where it is missing';
    numbers.forEach((value, i) => {
      if (Math.abs(value) === Number.POSITIVE_INFINITY)
        issues.add('not-a-number', i, `${value} is not finite`, fix, column);
    });
    return [ours, numbers];
  });
  if (!issues.isEmpty) throw new InputError(issues.list());
  const start_ms = Float64Array.from({ length: rows }, (_, i) => start_utc_ms + i * interval_ms);
  return {
    file: name,
    start_ms,
    end_ms: start_ms.map((start) => start + interval_ms),
    given: true,
    line: Uint32Array.from(start_ms.keys()),
    values: new Map(read),
    as_of_year: null,
    leap_day: 'as_filed',
  };
}
