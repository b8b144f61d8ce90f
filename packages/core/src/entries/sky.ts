/** Clear skies, the split of global light into beam and diffuse, and what a weather file is worth. */

export * from '../findings/weather.ts';
export type { Gridded, Series } from '../series/types.ts';
export { clearSkyGlobalYear } from '../sky/clear-sky.ts';
export type { ClockShift } from '../sky/clock-shift.ts';
export { type Decomposition, type Split, splitGlobal } from '../sky/decompose.ts';
export { QUALITY_TESTS, type QualityId } from '../sky/quality.ts';
