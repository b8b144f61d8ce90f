/** Banks: what they hold, give and take, how long they carry loads in the dark, and what cycles wear. */

export { sunlessHours } from '../findings/sunless/autonomy.ts';
export { type Bank, type BankModel, buildBank, type OlderModules, withModules } from '../plant/bank.ts';
export type { KineticModel } from '../plant/bank-kinetic.ts';
export type { BankLife, CycleLifePoint } from '../plant/bank-life.ts';
export type { OpenCircuit, ResistiveModel } from '../plant/bank-resistive.ts';
export { fitKinetic, type KineticFit } from '../scenario/rules/kinetic-fit.ts';
export { cycleLifeUsed_share } from '../wear/life.ts';
export { type Cycles, rainflow } from '../wear/rainflow.ts';
