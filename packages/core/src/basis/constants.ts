/**
 * Physical constants, each with its source. Nothing here is a default of a scenario: those live in
 * scenario/schema.ts and are listed in every report.
 */

/** Total solar irradiance at one astronomical unit, W/m². Source: Kopp & Lean 2011, Geophys. Res. Lett. 38, L01706 (1360.8, rounded). */
export const SOLAR_CONSTANT_W_m2 = 1361;

/** Irradiance at standard test conditions, W/m². Source: IEC 60904-3 / IEC 61215. */
export const STC_IRRADIANCE_W_m2 = 1000;

/** Cell temperature at standard test conditions, °C. Source: IEC 60904-3 / IEC 61215. */
export const STC_CELL_TEMPERATURE_C = 25;
