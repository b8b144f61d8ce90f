/** A point of something that goes with temperature. */
interface Point {
  readonly temperature_C: number;
}

/**
 * Value at a temperature: on a straight line between points, beyond them that of the nearest.
 *
 * @param points one at least, temperature ascending
 */
export function atTemperature<P extends Point>(
  points: readonly P[],
  value: (point: P) => number,
  temperature_C: number,
): number {
  let k = 0;
  while (k < points.length && points[k]!.temperature_C <= temperature_C) k++;
  const low = points[Math.max(0, k - 1)]!;
  const high = points[Math.min(points.length - 1, k)]!;
  const span = high.temperature_C - low.temperature_C;
  const along = span > 0 ? Math.min(1, Math.max(0, (temperature_C - low.temperature_C) / span)) : 0;
  return value(low) + along * (value(high) - value(low));
}
