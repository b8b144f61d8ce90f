/** Bills and lifetime cost. */

export * from '../money/bill.ts';
export * from '../money/lifetime.ts';
export * from '../money/of-scenario.ts';
