import type { Scenario } from '../../scenario/schema/schema.ts';
import type { PathValue } from '../designs/designer.ts';
import type { Change, ChangedValue } from './changes/change.ts';
import type { Outcome } from './outcome.ts';

/** One change, or several at once, played. */
export interface TriedChange {
  /** The changes made; the same one several times if it was repeated. */
  readonly changes: readonly Change[];
  /** What to write into the scenario for all of them. */
  readonly values: readonly ChangedValue[];
  readonly outcome: Outcome;
  /**
   * How much nearer it brings the plant to what is required: unmet energy it takes away, or with bounds that were given
   * how much less far they are missed, as `Outcome.missed` has it; negative if further.
   */
  readonly nearer: number;
  /** Unmet energy it takes away, a year; negative if it adds some. */
  readonly unmet_removed_kWh: number;
  /** Run-hours it saves, a year; null without a generator. */
  readonly generator_saved_h: number | null;
  /** Bill of the changed plant less the bill of this one; null where a price isn't known. */
  readonly extra_money: number | null;
  readonly money_per_removed_kWh: number | null;
  /** True if it then keeps what is required: nothing unmet, unless bounds were given. */
  readonly holds_then: boolean;
}

/** A plant in the middle of being changed. */
export interface State {
  readonly changes: readonly Change[];
  readonly values: readonly PathValue[];
  readonly scenario: Scenario;
  readonly outcome: Outcome;
}

/** What a changed plant brings against the one it was made from. */
export function triedOf(base: State, { changes, outcome }: State): TriedChange {
  const removed = base.outcome.unmet_kWh - outcome.unmet_kWh;
  const known = changes.every((change) => change.priced);
  const [before, after] = [base.outcome.capital, outcome.capital];
  const extra = known && before !== null && after !== null ? after - before : null;
  // Later values stand in for earlier ones of the same key.
  const last = new Map<string, ChangedValue>();
  for (const value of changes.flatMap((change) => change.values)) last.set(value.path, value);
  return {
    changes,
    values: [...last.values()],
    outcome,
    nearer: base.outcome.missed - outcome.missed,
    unmet_removed_kWh: removed,
    generator_saved_h:
      base.outcome.generator_run_h === null || outcome.generator_run_h === null
        ? null
        : base.outcome.generator_run_h - outcome.generator_run_h,
    extra_money: extra,
    money_per_removed_kWh: extra === null || !(removed > 1e-6) ? null : extra / removed,
    holds_then: outcome.keeps,
  };
}
