import { expectWithin, FINITE } from '../basis/within.ts';

/**
 * Rise of the open-circuit voltage of crystalline silicon panels in the cold, by the coldest air of each row of the
 * table; the voltage is that of the data sheet times the factor.
 *
 * Source: NFPA 70 (NEC) Table 690.7(A).
 */
const ROWS: readonly (readonly [from_C: number, factor: number])[] = [
  [20, 1.02],
  [15, 1.04],
  [10, 1.06],
  [5, 1.08],
  [0, 1.1],
  [-5, 1.12],
  [-10, 1.14],
  [-15, 1.16],
  [-20, 1.18],
  [-25, 1.2],
  [-30, 1.21],
  [-35, 1.23],
  [-40, 1.25],
];

/**
 * Factor of the table for an air temperature; between two rows, which the table gives in whole degrees, the colder one.
 *
 * @param air_C lowest expected air temperature, °C
 * @returns 1 from 25 °C up; null below -40 °C, where the table ends
 */
export function coldVoltageFactor(air_C: number): number | null {
  expectWithin('coldVoltageFactor', 'air_C', air_C, -273.15, FINITE);
  if (air_C >= 25) return 1;
  return ROWS.find(([from_C]) => air_C >= from_C)?.[1] ?? null;
}

/** On short-circuit current, for light above 1000 W/m²: the most that a circuit of panels gives. Source: NEC 690.8(A). */
export const MAXIMUM_CURRENT_FACTOR = 1.25;

/** The same, and once more for what flows for hours: for conductors and fuses alone. Source: NEC 690.8(B). */
export const SHORT_CIRCUIT_FACTOR = MAXIMUM_CURRENT_FACTOR * 1.25;
