import { expectArgument } from '../basis/arguments.ts';
import { expectWithin } from '../basis/within.ts';
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
export function agedPlant(plant: Plant, capacity_share: number, array_share: readonly number[]): Plant {
  expectArgument('agedPlant', 'plant', plant, 'plant');
  expectArgument('agedPlant', 'array_share', array_share, 'list');
  expectWithin(
    'agedPlant',
    'array_share.length',
    array_share.length,
    plant.arrays.length,
    plant.arrays.length,
  );
  expectWithin('agedPlant', 'capacity_share', capacity_share, 0, 1);
  return {
    ...plant,
    arrays: plant.arrays.map((array, a) => {
      expectWithin('agedPlant', `array_share[${a}]`, array_share[a]!, 0, 1);
      return { ...array, size_kWp: array.size_kWp * array_share[a]! };
    }),
    bank: withCapacityLeft(plant.bank, capacity_share),
  };
}
