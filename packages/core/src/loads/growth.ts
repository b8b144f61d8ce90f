import type { Load } from '../scenario/schema/schema.ts';

/** By how much a load grows a year, as a share. What takes surplus is never wanted, so nothing of it grows. */
export const growthOf = (load: Load): number => (load.kind === 'surplus' ? 0 : load.growth_share_per_year);

/** A load as large as it is after some years of growth. */
export const grown = <L extends Load>(load: L, years: number): L => ({
  ...load,
  scale: load.scale * (1 + growthOf(load)) ** years,
});

/** True if a load is another one next year. */
export const grows = (load: Load): boolean => growthOf(load) !== 0;
