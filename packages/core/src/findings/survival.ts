import type { SurvivalPoint } from './report.ts';

/** Distances between points of the curve, hours. */
const STEPS_h = [1, 2, 3, 6, 12, 24, 48, 120, 240];
const MOST_POINTS = 60;

/**
 * Of all starts in the year, how many a full bank carries for so many hours and longer: from all at 0 h down to none.
 *
 * @param sorted hours in the dark, ascending, one a start
 * @returns points at equal distances, of which the last is the first with none
 */
export function survival(sorted: readonly number[]): readonly SurvivalPoint[] {
  const longest = sorted.at(-1) ?? 0;
  const step_h = STEPS_h.find((step) => longest / step < MOST_POINTS) ?? STEPS_h.at(-1)!;
  const points: SurvivalPoint[] = [];
  let ended = 0;
  for (let k = 0; ended < sorted.length; k++) {
    while (ended < sorted.length && sorted[ended]! < k * step_h) ended++;
    points.push({ hours: k * step_h, starts_share: 1 - ended / sorted.length });
  }
  return points;
}
