import { isAsked, judgedJson, judgeJson } from '../check/judge-words.ts';
import { headJson, jsonText } from '../document/json.ts';
import { type CompareShown, compareCautions } from './rows.ts';

/** compare.json: all rows, limits, bills and what the dearer ones buy as plain data. */
export function compareJson({ comparison, scenario, possible }: CompareShown): string {
  const { plants, rows, asked, currency, dearer, notices, judge, over_years } = comparison;
  // Service is of a generator, and each plant may have another.
  const { service: _, ...terms } = plants.find((plant) => plant.terms !== null)?.terms ?? { service: null };
  const named = <Row extends { readonly winners: readonly number[] }>(row: Row) => ({
    ...row,
    winners: row.winners.map((k) => plants[k]!.label),
  });
  return jsonText('compare.json', {
    ...headJson(scenario),
    currency,
    terms: 'years' in terms ? terms : null,
    plants: plants.map(({ label, limits, bill, dangers, judged }) => ({
      label,
      dangers,
      limits,
      bill: bill.lines,
      unpriced: currency === null ? [] : bill.unpriced,
      ...(isAsked(judge) && judgedJson(judged, judge)),
    })),
    rows: rows.map(named),
    asked: { ...asked, rows: asked.rows.map(named) },
    dearer,
    ...(isAsked(judge) && { judged_by: judgeJson(judge, possible) }),
    ...(over_years && {
      over_years: {
        rows: over_years.rows.map(({ spreads, ...row }) => ({ ...named(row), spreads })),
        short: plants.map(({ label }, k) => ({
          label,
          years: over_years.short_years[k]!,
          alone: plants.flatMap((other, p) =>
            p === k ? [] : [{ beside: other.label, years: over_years.short_alone[k]![p]! }],
          ),
        })),
      },
    }),
    notices,
    cautions: compareCautions(comparison),
  });
}
