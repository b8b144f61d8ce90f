/** Inverters and generators: losses, efficiencies, fuel. */

export * from '../plant/fuel.ts';
export * from '../plant/generator.ts';
export * from '../plant/inverter.ts';
export * from '../plant/weighted-efficiency.ts';
