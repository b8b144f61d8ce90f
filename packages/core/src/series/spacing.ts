import { DAY_ms, HOUR_ms } from '../basis/units.ts';
import type { RowIssues } from './rows.ts';

/**
 * The interval of a series: the most common distance of neighbouring rows, in ms; the shorter one of two equally
 * common. Rows that repeat, go back in time, or stand off the interval become issues; one that leaves out whole
 * intervals is a gap and none of this function's business.
 *
 * @param at_ms instants of the rows, in the file's order
 * @param manyYears what to do where rows go back by half a year or more
 * @returns NaN if there is no interval: fewer than two rows, or rows out of order
 */
export function interval_ms(
  at_ms: Float64Array,
  line: readonly number[],
  issues: RowIssues,
  manyYears: string,
): number {
  const counts = new Map<number, number>();
  let isOrdered = true;
  for (let i = 1; i < at_ms.length; i++) {
    const step = at_ms[i]! - at_ms[i - 1]!;
    if (step > 0) {
      counts.set(step, (counts.get(step) ?? 0) + 1);
      continue;
    }
    isOrdered = false;
    if (step === 0)
      issues.add(
        'duplicate-stamp',
        line[i]!,
        'the same time as the row before',
        `remove one of them; ${PUT_BACK}`,
      );
    else issues.add('wrong-order', line[i]!, 'earlier than the row before', orderFix(step, manyYears));
  }
  if (!isOrdered || counts.size === 0) return Number.NaN;
  let interval = 0;
  let most = 0;
  for (const [step, count] of counts) {
    if (count < most || (count === most && step > interval)) continue;
    interval = step;
    most = count;
  }
  for (let i = 1; i < at_ms.length; i++) {
    const step = at_ms[i]! - at_ms[i - 1]!;
    if (step % interval === 0) continue;
    const message = `${minutes(step)} min after the row before, in a series of ${minutes(interval)} min`;
    issues.add('uneven', line[i]!, message, 'bring the rows to one interval');
  }
  return interval;
}

const minutes = (span_ms: number): number => Number((span_ms / 60_000).toFixed(3));

/** A wall clock that is read as one offset has an hour twice in autumn. */
const PUT_BACK = 'if clocks were put back there, set time.zone to the IANA name of the place';

function orderFix(step_ms: number, manyYears: string): string {
  if (step_ms < -180 * DAY_ms) return manyYears;
  // The day's last row, at 00:00, still bears its date.
  if (step_ms < -DAY_ms / 2 && step_ms > -DAY_ms)
    return 'a midnight that closes a day is 24:00, or 00:00 of the next day; otherwise sort the rows by time';
  if (step_ms >= -HOUR_ms) return `sort the rows by time; ${PUT_BACK}`;
  return 'sort the rows by time';
}
