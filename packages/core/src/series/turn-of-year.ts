import { type Notice, notice } from '../basis/notices.ts';
import { HOUR_ms, MINUTE_ms } from '../basis/units.ts';
import type { Clock } from '../clock/clock.ts';
import type { Series } from './types.ts';

/** Zones differ by less; what is missing beyond it is a gap. */
const MOST_h = 26;

/**
 * Closes a year that a file was read as of: where the site's year begins before the file's, or ends after it, because
 * the file is in another zone, the hours come from the file's other end. Does nothing to a series of dated rows, or to
 * one that is not a whole year.
 */
export function closeYear(series: Series, clock: Clock, path: string): { series: Series; notices: Notice[] } {
  const year = series.as_of_year;
  const { start_ms, end_ms } = series;
  const n = start_ms.length;
  if (year === null || n < 2) return { series, notices: [] };
  const row_ms = end_ms[0]! - start_ms[0]!;
  const span_ms = end_ms[n - 1]! - start_ms[0]!;
  if (span_ms !== Date.UTC(year + 1, 0, 1) - Date.UTC(year, 0, 1)) return { series, notices: [] };
  const from_ms = clock.start_ms[0]!;
  const to_ms = clock.start_ms[clock.steps - 1]! + clock.step_min * MINUTE_ms;
  const before = rowsIn(start_ms[0]! - from_ms, row_ms);
  const after = rowsIn(to_ms - end_ms[n - 1]!, row_ms);
  if (before + after === 0) return { series, notices: [] };
  const rows = Array.from({ length: n }, (_, r) => r);
  // Rows that miss in the file are missing here: intervals are counted back from its ends, not rows.
  const head = rows.filter((r) => start_ms[r]! >= end_ms[n - 1]! - before * row_ms);
  const body = rows.filter((r) => end_ms[r]! > from_ms && start_ms[r]! < to_ms);
  const tail = rows.filter((r) => start_ms[r]! < start_ms[0]! + after * row_ms);
  const around = (column: Float64Array | Uint32Array, shift: number): number[] => [
    ...head.map((r) => column[r]! - shift),
    ...body.map((r) => column[r]!),
    ...tail.map((r) => column[r]! + shift),
  ];
  const hours = ((before + after) * row_ms) / HOUR_ms;
  return {
    series: {
      ...series,
      start_ms: Float64Array.from(around(start_ms, span_ms)),
      end_ms: Float64Array.from(around(end_ms, span_ms)),
      line: Uint32Array.from(around(series.line, 0)),
      values: new Map([...series.values].map(([name, v]) => [name, Float64Array.from(around(v, 0))])),
    },
    notices: [
      notice('year-closed', before + after)`${path}: the year of ${series.file} is not that of
        ${clock.time_zone}: ${hours} h at the turn of the year come from its other end`,
    ],
  };
}

const rowsIn = (span_ms: number, row_ms: number): number =>
  span_ms <= 0 || span_ms > MOST_h * HOUR_ms ? 0 : Math.ceil(span_ms / row_ms);
