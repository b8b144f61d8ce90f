import { type Assumption, modelled } from '../basis/notices.ts';
import { DAY_ms } from '../basis/units.ts';
import type { SeriesTime } from '../scenario/schema/schema.ts';
import type { Series } from './types.ts';

/**
 * Gives a leap year its 29 February where a file that is read as of that year has none: the rows of 28 February once
 * more. Does nothing in a common year, or where the file stops before March.
 *
 * @param year that the rows are read as of
 * @param wall_ms wall clocks of the rows; rows are put in in place, and into each of `columns`
 * @returns whether rows were put in
 */
export function leapDay(
  year: number,
  label: SeriesTime['label'],
  wall_ms: number[],
  columns: readonly number[][],
): boolean {
  const day_ms = Date.UTC(year, 1, 29);
  if (new Date(day_ms).getUTCMonth() !== 1) return false;
  // The end of a day's last row is midnight: it goes with the day that it closes.
  const within = (wall: number, from_ms: number): boolean => {
    const at = label === 'end' ? wall - 1 : wall;
    return at >= from_ms && at < from_ms + DAY_ms;
  };
  if (wall_ms.some((wall) => within(wall, day_ms)) || !wall_ms.some((wall) => wall > day_ms + DAY_ms))
    return false;
  const first = wall_ms.findIndex((wall) => within(wall, day_ms - DAY_ms));
  if (first < 0) return false;
  let after = first;
  while (after < wall_ms.length && within(wall_ms[after]!, day_ms - DAY_ms)) after++;
  const copied = wall_ms.slice(first, after).map((wall) => wall + DAY_ms);
  wall_ms.splice(after, 0, ...copied);
  for (const column of columns) column.splice(after, 0, ...column.slice(first, after));
  return true;
}

/** What became of 29 February, in the words of the report; empty if the file and the year agree. */
export function leapDayAssumptions(series: Series, path: string): Assumption[] {
  const { leap_day, as_of_year } = series;
  if (leap_day === 'as_filed') return [];
  const why =
    leap_day === 'repeated'
      ? `the file has no 29 February and ${as_of_year} has one: 28 February is used twice`
      : `the file has a 29 February and ${as_of_year} has none: its rows are left out`;
  return [modelled(`${path}.leap_day`, why)];
}
