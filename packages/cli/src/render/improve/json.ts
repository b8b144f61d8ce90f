import type { Judge, Outcome, TriedChange } from '@longnight/core/study';
import { isAsked, judgedJson, judgeJson } from '../check/judge-words.ts';
import { jsonText } from '../document/json.ts';
import type { ImproveShown } from './words.ts';

/** What the years say of a plant; how it is judged is told where somebody asked. */
const outcomeJson = (
  { coldest_bank_C: _, years_held, keeps, bounds, missed, ...figures }: Outcome,
  judge: Judge,
) => ({ ...figures, ...(isAsked(judge) && judgedJson({ years_held, keeps, bounds, missed }, judge)) });

/** What is said of one try in improve.json. */
const entryBy =
  (judge: Judge) =>
  (tried: TriedChange): unknown => ({
    changes: [...new Map(tried.changes.map(({ id, what }) => [id, what])).values()],
    values: tried.values,
    kinds: [...new Set(tried.changes.map((change) => change.kind))],
    times: tried.changes.length,
    holds_then: tried.holds_then,
    unmet_removed_kWh: tried.unmet_removed_kWh,
    generator_saved_h: tried.generator_saved_h,
    extra_money: tried.extra_money,
    money_per_removed_kWh: tried.money_per_removed_kWh,
    after: outcomeJson(tried.outcome, judge),
  });

/**
 * improve.json.
 *
 * @throws Error if a figure is not finite: it must not get out looking like "no such figure"
 */
export function improveJson({ improvement, scenario, possible }: ImproveShown): string {
  const { judge } = improvement;
  const entry = entryBy(judge);
  const content = {
    site: scenario.site.name,
    year: scenario.run.year,
    currency: improvement.currency,
    holds: improvement.holds,
    ranked_by: improvement.ranked_by,
    played_years: improvement.played_years,
    ...(isAsked(judge) && { judged_by: judgeJson(judge, possible) }),
    now: outcomeJson(improvement.now, judge),
    holds_with: improvement.holds_with === null ? null : entry(improvement.holds_with),
    helping: improvement.helping.map(entry),
    repeated: improvement.repeated.map(entry),
    pairs: improvement.pairs.map(entry),
    together: improvement.together.map(entry),
    harming: improvement.harming.map(entry),
    no_difference: improvement.idle.map(entry),
    not_played: improvement.left_out.map(({ change, why }) => ({
      change: change.what,
      values: change.values,
      why,
    })),
    dropped_dangerous: improvement.dropped_dangerous,
    cautions: improvement.cautions,
  };
  return jsonText('improve.json', content);
}
