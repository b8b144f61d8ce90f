/**
 * Published tables of copper and fuses, and what they say of the cable between bank and inverter. They choose no part: local
 * code and a licensed electrician do.
 */

export * from '../wiring/bank-conductor.ts';
export * from '../wiring/cold-voltage.ts';
export { AWG_SIZES, type CopperSize, METRIC_SIZES, STANDARD_RATINGS_A } from '../wiring/copper.ts';
