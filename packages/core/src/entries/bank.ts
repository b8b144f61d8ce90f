/** Banks: what they hold, give and take at each charge and temperature, how long they carry loads in the dark, and wear. */

export { sunlessHours } from '../findings/sunless/autonomy.ts';
export * from '../plant/bank.ts';
export * from '../plant/bank-kinetic.ts';
export * from '../plant/bank-life.ts';
export {
  type OpenCircuit,
  openCircuit,
  openCircuit_V,
  type ResistiveModel,
} from '../plant/bank-resistive.ts';
export * from '../plant/bank-taper.ts';
export * from '../plant/cold.ts';
export { fitKinetic, type KineticFit } from '../scenario/rules/kinetic-fit.ts';
export * from '../wear/life.ts';
export { type Cycles, rainflow } from '../wear/rainflow.ts';
