import { InputError } from '../basis/errors.ts';
import { type Notice, notice } from '../basis/notices.ts';
import { HOUR_ms, MINUTE_ms } from '../basis/units.ts';
import type { Clock } from '../clock/clock.ts';
import type { Gaps } from '../scenario/schema/schema.ts';
import { fillGaps, LONGEST_FILL_h } from './gaps.ts';
import { filledNotice, type GapGroup, gapIssue, type Lattice, wrongYear } from './grid-messages.ts';
import type { Gridded, Series } from './types.ts';

/**
 * Lays a series on a clock: means over the clock's steps, each interval weighted by the part of the step that it
 * covers. What flows in the series' intervals flows in the clock's steps, whatever the two lengths and offsets.
 *
 * @param series as `readSeries` gave it; values may have been converted
 * @param gaps how missing values may be filled; at the ends of the file its nearest value is held
 * @param path scenario path of the series, for messages: `weather`, `loads[3]`
 * @param named what the file calls a column, by our name of it, for messages
 * @returns the series' columns with `clock.steps` finite values each, and what was done to get them
 * @throws InputError if the file is of another year, or has gaps in the clock's year that may not be filled
 */
export function layOnClock(
  series: Series,
  clock: Clock,
  gaps: Gaps,
  path: string,
  named: Readonly<Record<string, string>> = {},
): Gridded {
  const lattice = latticeOf(series, clock);
  const other = wrongYear(series, clock, lattice, path);
  if (other) throw new InputError([other]);

  const refused = new Map<string, GapGroup>();
  const filled = new Map<string, GapGroup>();
  const filledSteps = new Map<string, Uint8Array>();
  const values = new Map<string, Float64Array>();
  for (const [name, column] of series.values) {
    const dense = new Float64Array(lattice.count).fill(Number.NaN);
    for (let r = 0; r < column.length; r++) if (lattice.row[r]! >= 0) dense[lattice.row[r]!] = column[r]!;
    const result = fillGaps(dense, lattice.year, lattice.fileEnds, lattice.interval_ms, gaps);
    group(refused, name, result.refused);
    group(filled, name, result.filled);
    if (result.filled.length > 0) filledSteps.set(name, stepsTouched(clock, result.filled, lattice));
    values.set(name, meansOver(clock, dense, lattice));
  }
  const columns = series.values.size;
  const issues = [...refused.values()].map((g) =>
    gapIssue(g, named, columns, series, clock, lattice, gaps, path),
  );
  if (issues.length > 0) throw new InputError(issues);
  return {
    values,
    filled: filledSteps,
    notices: [
      ...[...filled.values()].map((g) => filledNotice(g, columns, lattice, path)),
      ...lengthNotices(series, clock, lattice, path),
    ],
  };
}

function latticeOf(series: Series, clock: Clock): Lattice {
  const interval_ms = series.end_ms[0]! - series.start_ms[0]!;
  const first_ms = series.start_ms[0]!;
  const year_ms = clock.start_ms[0]!;
  const end_ms = clock.start_ms[clock.steps - 1]! + clock.step_min * MINUTE_ms;
  const intervalOf = (at_ms: number) => Math.round((at_ms - first_ms) / interval_ms);
  const last = intervalOf(series.start_ms[series.start_ms.length - 1]!);
  // Counted from the first row.
  const from = Math.floor((year_ms - first_ms) / interval_ms);
  const to = Math.ceil((end_ms - first_ms) / interval_ms);
  const beyond = Math.ceil((LONGEST_FILL_h * HOUR_ms) / interval_ms) + 1;
  const lowest = Math.max(from - beyond, Math.min(from, 0));
  const highest = Math.min(to + beyond, Math.max(to, last + 1));
  const row = new Int32Array(series.start_ms.length);
  for (let r = 0; r < row.length; r++) {
    const k = intervalOf(series.start_ms[r]!);
    row[r] = k >= lowest && k < highest ? k - lowest : -1;
  }
  return {
    origin_ms: first_ms + lowest * interval_ms,
    interval_ms,
    count: highest - lowest,
    year: {
      from: from - lowest,
      to: to - lowest,
      isCut: {
        before: (year_ms - first_ms) % interval_ms !== 0,
        after: (end_ms - first_ms) % interval_ms !== 0,
      },
    },
    fileEnds: { before: lowest <= 0, after: highest > last },
    row,
  };
}

/** Columns of one file mostly miss the same rows: they are reported together. */
function group(groups: Map<string, GapGroup>, name: string, runs: GapGroup['runs']): void {
  if (runs.length === 0) return;
  const key = runs.map((run) => `${run.from}-${run.to}`).join();
  const known = groups.get(key);
  if (known) known.columns.push(name);
  else groups.set(key, { columns: [name], runs });
}

function meansOver(clock: Clock, dense: Float64Array, { origin_ms, interval_ms }: Lattice): Float64Array {
  const step_ms = clock.step_min * MINUTE_ms;
  const out = new Float64Array(clock.steps);
  for (let i = 0; i < out.length; i++) {
    // Relative to the lattice: exact, because instants and lengths are whole milliseconds.
    const start = clock.start_ms[i]! - origin_ms;
    const end = start + step_ms;
    let k = Math.floor(start / interval_ms);
    if (end <= (k + 1) * interval_ms) {
      out[i] = dense[k]!;
      continue;
    }
    let sum = 0;
    for (; k * interval_ms < end; k++) {
      const part_ms = Math.min(end, (k + 1) * interval_ms) - Math.max(start, k * interval_ms);
      sum += dense[k]! * part_ms;
    }
    out[i] = sum / step_ms;
  }
  return out;
}

/** 1 for each step of the clock that any of the runs reaches into. */
function stepsTouched(clock: Clock, runs: GapGroup['runs'], { origin_ms, interval_ms }: Lattice): Uint8Array {
  const step_ms = clock.step_min * MINUTE_ms;
  const first_ms = clock.start_ms[0]! - origin_ms;
  const out = new Uint8Array(clock.steps);
  for (const { from, to } of runs) {
    const first = Math.floor((from * interval_ms - first_ms) / step_ms);
    const end = Math.ceil((to * interval_ms - first_ms) / step_ms);
    out.fill(1, Math.max(0, first), Math.max(0, end));
  }
  return out;
}

function lengthNotices(series: Series, clock: Clock, lattice: Lattice, path: string): Notice[] {
  const notices: Notice[] = [];
  const { from, to } = lattice.year;
  const outside = lattice.row.reduce((count, k) => count + (k < from || k >= to ? 1 : 0), 0);
  if (outside > 0)
    notices.push(notice('rows-outside-year', outside)`${path}: rows of ${series.file} outside the year
      ${clock.year} were not used: ${outside.toLocaleString('en')}`);
  const interval_min = lattice.interval_ms / MINUTE_ms;
  if (interval_min > clock.step_min)
    notices.push(notice(
      'coarse-series',
      clock.steps,
    )`${path}: values of ${interval_min} min stand for steps of ${clock.step_min} min; what happens within
      them is not seen`);
  if (interval_min < clock.step_min)
    notices.push(
      notice(
        'averaged-series',
        clock.steps,
      )`${path}: values of ${interval_min} min are averaged over steps of ${clock.step_min} min`,
    );
  return notices;
}
