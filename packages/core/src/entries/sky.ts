/** Clear skies, the split of global light into beam and diffuse, and what a weather file is worth. */

export * from '../findings/weather.ts';
export type { Gridded, Series } from '../series/types.ts';
export * from '../sky/clear-sky.ts';
export type { ClockShift } from '../sky/clock-shift.ts';
export * from '../sky/decompose.ts';
export { hoursOfDays } from '../sky/monthly-means.ts';
export * from '../sky/prepare.ts';
export { QUALITY_TESTS, type QualityId } from '../sky/quality.ts';
