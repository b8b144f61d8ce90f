import { expectArgument, expectArguments } from '../basis/arguments.ts';
import { expectWithin } from '../basis/within.ts';
import { type Inverter, inputFor } from './inverter.ts';

/** Load in % of the rating, and how much it weighs. */
export type Weights = Readonly<Record<number, number>>;

/** Source: European efficiency, Joint Research Centre Ispra. */
export const EUROPEAN_WEIGHTS: Weights = { 5: 0.03, 10: 0.06, 20: 0.13, 30: 0.1, 50: 0.48, 100: 0.2 };

/** Source: California Energy Commission, test protocol of Bower et al. 2004. */
export const CEC_WEIGHTS: Weights = { 10: 0.04, 20: 0.05, 30: 0.12, 50: 0.21, 75: 0.53, 100: 0.05 };

/**
 * Efficiency of an inverter averaged over loads, idle draw included, 0 to 1: the two figures that data sheets state,
 * made for inverters on a grid. One that feeds loads alone mostly works at far less load.
 */
export function weightedEfficiency(inverter: Inverter, weights: Weights): number {
  expectArguments('weightedEfficiency', { inverter });
  expectArgument('weightedEfficiency', 'weights', weights, 'object');
  const all = Object.entries(weights).reduce((sum, [percent, weight]) => {
    expectWithin('weightedEfficiency', 'a load of weights', Number(percent), 0, 100);
    return sum + weight;
  }, 0);
  // They are printed to hundredths.
  expectWithin('weightedEfficiency', 'the sum of weights', all, 0.99, 1.01);
  return Object.entries(weights).reduce((sum, [percent, weight]) => {
    const ac_kW = (Number(percent) / 100) * inverter.rating_kW;
    return sum + (weight * ac_kW) / inputFor(inverter.curve, ac_kW);
  }, 0);
}
