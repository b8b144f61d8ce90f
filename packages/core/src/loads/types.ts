import type { Assumption, Notice } from '../basis/notices.ts';

/** What is wanted, by tier. */
export interface LoadYear {
  /** Tier numbers present, ascending: the first is served first. */
  readonly tiers: readonly number[];
  /** Mean power wanted per tier, kW; same order as `tiers`, each with `clock.steps` entries. */
  readonly tier_kW: readonly Float64Array[];
  /** Sum over tiers, kW. */
  readonly total_kW: Float64Array;
  readonly notices: readonly Notice[];
  readonly assumptions: readonly Assumption[];
}
