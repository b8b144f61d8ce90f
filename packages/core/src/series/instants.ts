import { extent } from 'simple-statistics';
import { DAY_ms, MINUTE_ms } from '../basis/units.ts';
import { type OffsetTable, offsetIndex, offsetTable, offsetText, type Zone } from '../clock/zone.ts';
import type { RowIssues } from './rows.ts';
import { wallText } from './stamp.ts';

/** Stamps of a file in the order of its rows, and the line each stands on. */
interface Stamps {
  readonly wall_ms: readonly number[];
  /** NaN where a stamp gives no offset of its own. */
  readonly offset_min: readonly number[];
  readonly line: readonly number[];
}

/**
 * Turns wall clocks into UTC instants.
 *
 * In an IANA zone a wall clock that comes twice (clocks put back) is the earlier instant, unless the row before is
 * already there: so the first run of the doubled hour is the earlier one and the second the later. A wall clock that
 * never came (clocks put forward) is an issue of its row, as is a stamp whose own offset the zone doesn't have then.
 *
 * @returns UTC epoch ms per stamp; NaN for rows that became an issue
 */
export function instants(stamps: Stamps, zone: Zone, zoneName: string, issues: RowIssues): Float64Array {
  const { wall_ms, offset_min, line } = stamps;
  const n = wall_ms.length;
  const at_ms = new Float64Array(n);
  if (n === 0) return at_ms;
  const [lowest, highest] = extent(wall_ms as number[]);
  const table = offsetTable(zone, lowest - DAY_ms, highest + DAY_ms);
  let k = 0;
  let before = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < n; i++) {
    const wall = wall_ms[i]!;
    const given = offset_min[i]!;
    let at = Number.NaN;
    if (!Number.isNaN(given)) {
      at = wall - given * MINUTE_ms;
      const held = table.offset_min[offsetIndex(table, at)]!;
      if (held !== given) {
        const message = `the stamp's offset ${offsetText(given)} is not the one of ${zoneName} then, ${offsetText(held)}`;
        const fix = `set time.zone to "${offsetText(given)}" if that offset holds all year, or correct the stamps`;
        issues.add('other-offset', line[i]!, message, fix);
        at = Number.NaN;
      }
    } else {
      k = segmentOf(table, wall, k);
      at = instantOf(table, wall, k, before);
      if (Number.isNaN(at)) {
        const standard = offsetText(Math.min(...table.offset_min));
        const message = `${wallText(wall)} never came in ${zoneName}: clocks were put forward over it`;
        const fix = `if the stamps keep standard time all year, set time.zone to "${standard}"`;
        issues.add('skipped-hour', line[i]!, message, fix);
      }
    }
    at_ms[i] = at;
    if (!Number.isNaN(at)) before = at;
  }
  return at_ms;
}

/** Segment of the table that a wall clock most likely falls into, searched from the one before. */
function segmentOf(table: OffsetTable, wall: number, from: number): number {
  let k = from;
  while (k > 0 && wall - table.offset_min[k]! * MINUTE_ms < table.from_ms[k]!) k--;
  while (k + 1 < table.from_ms.length && wall - table.offset_min[k]! * MINUTE_ms >= table.from_ms[k + 1]!)
    k++;
  return k;
}

/** The instant of a wall clock in segment k or a neighbour of it; NaN if it lies in a gap between two. */
function instantOf(table: OffsetTable, wall: number, k: number, before: number): number {
  const last = table.from_ms.length - 1;
  let chosen = Number.NaN;
  for (let j = Math.max(0, k - 1); j <= Math.min(last, k + 1); j++) {
    const at = wall - table.offset_min[j]! * MINUTE_ms;
    const holds = at >= table.from_ms[j]! && (j === last || at < table.from_ms[j + 1]!);
    if (!holds) continue;
    if (Number.isNaN(chosen)) chosen = at;
    else if (chosen <= before && at > before) return at;
  }
  return chosen;
}
