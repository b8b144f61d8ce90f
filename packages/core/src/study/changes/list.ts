import type { Change, Changeable } from './change.ts';
import { changesOfMachines } from './machines.ts';
import { changesOfBank, changesOfLoads } from './store.ts';
import { changesOfArrays } from './sun.ts';

/**
 * Changes to one part of a plant that make sense for it, in the order of the scenario. Left out is only what has no
 * place in the plant: what makes no difference is found by playing it.
 */
export const changesOf = (plant: Changeable): readonly Change[] => [
  ...changesOfArrays(plant),
  ...changesOfBank(plant),
  ...changesOfMachines(plant),
  ...changesOfLoads(plant),
];
