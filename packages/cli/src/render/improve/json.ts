import type { TriedChange } from '@longnight/core/study';
import { jsonText } from '../document/json.ts';
import { changeWords, type MendShown } from './words.ts';

/** What is said of one try in mend.json. */
const entry = (tried: TriedChange): unknown => {
  const { coldest_bank_C: _, ...outcome } = tried.outcome;
  return {
    change: changeWords(tried),
    values: tried.values,
    kinds: [...new Set(tried.changes.map((change) => change.kind))],
    times: tried.changes.length,
    mends: tried.mends,
    unmet_removed_kWh: tried.unmet_removed_kWh,
    generator_saved_h: tried.generator_saved_h,
    extra_money: tried.extra_money,
    money_per_removed_kWh: tried.money_per_removed_kWh,
    after: outcome,
  };
};

/**
 * mend.json.
 *
 * @throws Error if a figure is not finite: it must not get out looking like "no such figure"
 */
export function mendJson({ mending, scenario }: MendShown): string {
  const { coldest_bank_C: _, ...now } = mending.now;
  const content = {
    site: scenario.site.name,
    year: scenario.run.year,
    currency: mending.currency,
    holds: mending.holds,
    ranked_by: mending.ranked_by,
    played_years: mending.played_years,
    now,
    mended_by: mending.mended_by === null ? null : entry(mending.mended_by),
    helping: mending.helping.map(entry),
    repeated: mending.repeated.map(entry),
    pairs: mending.pairs.map(entry),
    together: mending.together.map(entry),
    harming: mending.harming.map(entry),
    no_difference: mending.idle.map(entry),
    not_played: mending.left_out.map(({ change, why }) => ({
      change: change.words,
      values: change.values,
      why,
    })),
    dropped_dangerous: mending.dropped_dangerous,
    cautions: mending.cautions,
  };
  return jsonText('mend.json', content);
}
