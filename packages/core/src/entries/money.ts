/** Lifetime cost of a bill. */

export type { Bill, BillLine, Life } from '../money/bill.ts';
export {
  annuity,
  type LifetimeCost,
  lifetimeCost,
  type Terms,
  type YearCost,
  type YearlyUse,
} from '../money/lifetime.ts';
export { termsOf } from '../money/of-scenario.ts';
