import type { DailyLoad } from '../scenario/schema.ts';

type ShapeName = Extract<DailyLoad['shape'], string>;

/**
 * Weights of the named shapes by local clock hour, midnight first. `flat` is what it says. The other two are invented
 * for Longnight and measured nowhere: percent of a day's energy, chosen to look like a household that is out by day
 * and like a workshop with a lunch break.
 */
export const SHAPES: Readonly<Record<ShapeName, readonly number[]>> = {
  flat: Array.from({ length: 24 }, () => 1),
  evening: [2, 1, 1, 1, 1, 2, 4, 5, 4, 3, 2, 2, 3, 3, 2, 3, 4, 6, 9, 11, 11, 9, 6, 5],
  working_day: [1, 1, 1, 1, 1, 1, 2, 4, 9, 10, 10, 9, 6, 9, 10, 9, 7, 3, 1, 1, 1, 1, 1, 1],
};
