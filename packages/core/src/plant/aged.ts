import type { Bank } from './bank.ts';
import type { Plant } from './plant.ts';

/**
 * The same bank with a share of its capacity left: it stores less between full and floor. Its amps stay, as do the
 * resistance of a resistive one and the shape of a kinetic one.
 */
const withCapacityLeft = (bank: Bank, share: number): Bank => ({
  ...bank,
  capacity_kWh: bank.capacity_kWh * share,
  floor_kWh: bank.floor_kWh * share,
});

/**
 * A plant some years on.
 *
 * @param capacity_share of the bank's capacity left, above 0
 * @param array_share of each array's output left, in the order of the arrays
 */
export const agedPlant = (plant: Plant, capacity_share: number, array_share: readonly number[]): Plant => ({
  ...plant,
  arrays: plant.arrays.map((array, a) => ({ ...array, size_kWp: array.size_kWp * array_share[a]! })),
  bank: withCapacityLeft(plant.bank, capacity_share),
});
