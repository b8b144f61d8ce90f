import { MINUTE_ms } from '../basis/units.ts';
import type { Clock } from '../clock/clock.ts';
import type { Series } from '../series/types.ts';
import type { SunYear } from '../sun/year.ts';

/**
 * Lets the light follow the sun within rows that are longer than the clock's steps: global and diffuse light in
 * proportion to the light from space on the horizontal, beam in proportion to the lit part of each step. A row keeps its
 * mean, the shares of beam and diffuse stay those of the row, and what comes with the sun down stays as it is.
 *
 * Nothing is changed where steps are as long as the rows or longer, or do not tile them. Steps of a row cut by the turn
 * of the year share what the row has.
 *
 * @param values columns on the clock, W/m², as `layOnClock` made them: one value throughout a row
 * @returns the columns of light, in new arrays where they were shaped
 */
export function withinRows(
  values: ReadonlyMap<string, Float64Array>,
  series: Series,
  clock: Clock,
  sun: SunYear,
): { readonly light: ReadonlyMap<string, Float64Array>; readonly isShaped: boolean } {
  const step_ms = clock.step_min * MINUTE_ms;
  const row_ms = series.end_ms[0]! - series.start_ms[0]!;
  const first_ms = series.start_ms[0]!;
  const doTile = row_ms % step_ms === 0 && (clock.start_ms[0]! - first_ms) % step_ms === 0;
  if (row_ms <= step_ms || !doTile) return { light: values, isShaped: false };
  const light = new Map<string, Float64Array>();
  for (const [name, key] of [
    ['ghi', 'extraterrestrial_horizontal_W_m2'],
    ['dhi', 'extraterrestrial_horizontal_W_m2'],
    ['dni', 'up_share'],
  ] as const) {
    const column = values.get(name);
    if (column !== undefined) light.set(name, shaped(column, sun[key], clock, first_ms, row_ms));
  }
  return { light, isShaped: true };
}

function shaped(
  column: Float64Array,
  shape: Float64Array,
  clock: Clock,
  first_ms: number,
  row_ms: number,
): Float64Array {
  const out = column.slice();
  const rowOf = (i: number): number => Math.floor((clock.start_ms[i]! - first_ms) / row_ms);
  for (let from = 0; from < clock.steps; ) {
    const row = rowOf(from);
    let to = from;
    let sum = 0;
    for (; to < clock.steps && rowOf(to) === row; to++) sum += shape[to]!;
    if (sum > 0) for (let i = from; i < to; i++) out[i] = (column[i]! * shape[i]! * (to - from)) / sum;
    from = to;
  }
  return out;
}
