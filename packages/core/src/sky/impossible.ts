import { InputError } from '../basis/errors.ts';
import { type Notice, notice } from '../basis/notices.ts';
import { HOUR_ms } from '../basis/units.ts';
import type { Clock } from '../clock/clock.ts';
import { offsetTable } from '../clock/zone.ts';
import type { Gaps } from '../scenario/schema/schema.ts';
import { fillRun } from '../series/gaps.ts';
import { wallText } from '../series/stamp.ts';
import { type Series, sourceWord } from '../series/types.ts';
import type { SunYear } from '../sun/year.ts';
import { fillLights } from './fill-light.ts';
import { type Fault, faultIssues } from './plausible.ts';

/**
 * So many rows of a file may hold values that can't be, before the file itself is in doubt: our own limit, no source. A
 * clock that is an hour wrong makes over one in a hundred such.
 */
const MOST_share = 0.005;

/** Lit hours in a run, or hours of air and wind, that are put in from the values beside it; our own limit, no source. */
const LONGEST_PUT_IN_h = 3;

/** Rows that a notice names by date. */
const DATED = 5;

/**
 * Takes values that can't be as missing, in place, and puts in what the rows beside them say: light by its clearness,
 * air and wind on a straight line. Longer runs stay missing, as gaps are.
 *
 * @param series its values are changed
 * @param sun over its rows
 * @returns a notice for each fault with rows in the clock's year
 * @throws InputError if more rows than one in two hundred are at fault; or if a run is too long and gaps are refused
 */
export function replaceImpossible(
  faults: readonly Fault[],
  series: Series,
  sun: SunYear,
  clock: Clock,
  gaps: Gaps,
): Notice[] {
  if (faults.length === 0) return [];
  const n = series.line.length;
  const row_h = (series.end_ms[0]! - series.start_ms[0]!) / HOUR_ms;
  const faulty = new Set(faults.flatMap(({ rows }) => rows));
  if (faulty.size > MOST_share * n) throw new InputError(faultIssues(faults, series));
  const isLight = ({ quantity }: Fault): boolean => quantity !== 'air_temperature' && quantity !== 'wind';
  const isTooLong = (fault: Fault, run: readonly number[]): boolean => {
    const counted = run.filter((r) => !isLight(fault) || sun.up_share[r]! > 0);
    const isEdge = !isLight(fault) && (run[0] === 0 || run.at(-1) === n - 1);
    return counted.length * row_h > LONGEST_PUT_IN_h || isEdge;
  };
  const tooLong = faults.filter((fault) => runsOf(fault.rows).some((run) => isTooLong(fault, run)));
  if (tooLong.length > 0 && gaps.fill === 'refuse') throw new InputError(faultIssues(tooLong, series));
  const notices = faults.flatMap((fault) => replacedNotice(fault, series, clock));
  const missing = new Map<string, Uint8Array>();
  const filled = new Map<string, Uint8Array>();
  for (const [name, column] of series.values)
    missing.set(
      name,
      Uint8Array.from(column, (v) => +Number.isNaN(v)),
    );
  for (const fault of faults) {
    const column = series.values.get(fault.quantity)!;
    const mask = filled.get(fault.quantity) ?? new Uint8Array(n);
    filled.set(fault.quantity, mask);
    for (const run of runsOf(fault.rows)) {
      for (const r of run) column[r] = Number.NaN;
      if (isTooLong(fault, run)) for (const r of run) missing.get(fault.quantity)![r] = 1;
      else if (isLight(fault)) for (const r of run) mask[r] = 1;
      else fillRun(column, run[0]!, run.at(-1)! + 1);
    }
  }
  // What is missing tells nothing of the rows beside it, and stays missing.
  for (const [name, mask] of filled)
    missing.get(name)!.forEach((is, r) => {
      if (is === 1) mask[r] = 1;
    });
  fillLights({ values: series.values, filled }, sun, { step_h: row_h });
  for (const [name] of filled)
    missing.get(name)!.forEach((is, r) => {
      if (is === 1) series.values.get(name)![r] = Number.NaN;
    });
  return notices;
}

/** Rows that follow each other. */
function runsOf(rows: readonly number[]): number[][] {
  const runs: number[][] = [];
  for (const row of rows) {
    if (runs.at(-1)?.at(-1) === row - 1) runs.at(-1)!.push(row);
    else runs.push([row]);
  }
  return runs;
}

/** How many, when, what stood there and what became of it; for the rows in the year that is played. */
function replacedNotice({ quantity, column, rows, message }: Fault, series: Series, clock: Clock): Notice[] {
  const end_ms = clock.start_ms[clock.steps - 1]! + clock.step_h * HOUR_ms;
  const played = rows.filter((r) => series.end_ms[r]! > clock.start_ms[0]! && series.start_ms[r]! < end_ms);
  if (played.length === 0) return [];
  const dated = played.slice(0, DATED).map((r) => {
    const at = series.start_ms[r]!;
    const [offset_min] = offsetTable({ kind: 'iana', name: clock.time_zone }, at, at).offset_min;
    return `${wallText(at + offset_min! * 60_000)} (${series.given ? 'place' : 'line'} ${series.line[r]}: ${message(r)})`;
  });
  const rest = played.length > DATED ? `; and ${(played.length - DATED).toLocaleString('en')} more` : '';
  const how =
    quantity === 'air_temperature' || quantity === 'wind'
      ? 'on a straight line between the rows beside them'
      : 'by the clearness of the rows beside them';
  return [
    notice('value-cannot-be', played.length)`weather.${quantity}: ${played.length.toLocaleString('en')}
      ${played.length === 1 ? 'value' : 'values'} of column "${column}" can't be and ${played.length === 1 ? 'was' : 'were'}
      taken as missing: ${dated.join('; ')}${rest}; filled ${how}, runs of more than ${LONGEST_PUT_IN_h} h as
      the ${sourceWord(series)}'s gaps are`,
  ];
}
