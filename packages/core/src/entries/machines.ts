/** Inverters and generators: losses, efficiencies, fuel. */

export type { FuelCurve } from '../plant/fuel.ts';
export * from '../plant/generator.ts';
export { buildInverter, type Inverter, type LossCurve } from '../plant/inverter.ts';
export * from '../plant/weighted-efficiency.ts';
