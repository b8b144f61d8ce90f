import type { SkyYear } from './types.ts';

/** What a whole year's weather may be off by. */
export interface MovedSky {
  /** Factor on all light, beam and diffuse alike. */ readonly sun: number;
  /** Added to the air temperature, K. */ readonly air_K: number;
}

/** By nothing. */
export const AS_IT_IS: MovedSky = { sun: 1, air_K: 0 };

/**
 * The same hours under more or less light, in warmer or colder air. The split into beam and diffuse stays, and so do the
 * dull days: it is a year that was guessed wrong, not another year.
 *
 * @param moved by what; cells get warmer and colder with both
 */
export function movedSky(sky: SkyYear, { sun, air_K }: MovedSky): SkyYear {
  if (sun === 1 && air_K === 0) return sky;
  const times = (column: Float64Array): Float64Array => column.map((value) => value * sun);
  const { coldest_mean: coldest } = sky;
  return {
    ...sky,
    ghi_W_m2: times(sky.ghi_W_m2),
    dni_W_m2: times(sky.dni_W_m2),
    dhi_W_m2: times(sky.dhi_W_m2),
    air_temperature_C: sky.air_temperature_C.map((air_C) => air_C + air_K),
    ...(coldest && { coldest_mean: { ...coldest, air_C: coldest.air_C + air_K } }),
  };
}
