import { headJson, jsonText } from '../document/json.ts';
import { type CompareShown, compareCautions } from './rows.ts';

/** compare.json: all rows, limits, bills and what the dearer ones buy as plain data. */
export function compareJson({ comparison, scenario }: CompareShown): string {
  const { plants, rows, asked, currency, dearer, notices } = comparison;
  const { years, discount_share_per_year, fuel_price_per_L } =
    plants.find(({ terms }) => terms !== null)?.terms ?? {};
  const terms = years === undefined ? null : { years, discount_share_per_year, fuel_price_per_L };
  const named = <Row extends { readonly winners: readonly number[] }>(row: Row) => ({
    ...row,
    winners: row.winners.map((k) => plants[k]!.label),
  });
  return jsonText('compare.json', {
    ...headJson(scenario),
    currency,
    terms,
    plants: plants.map(({ label, limits, bill, report }) => ({
      label,
      dangers: report.dangers,
      limits,
      bill: bill.lines,
      unpriced: currency === null ? [] : bill.unpriced,
    })),
    rows: rows.map(named),
    asked: { ...asked, rows: asked.rows.map(named) },
    dearer,
    notices,
    cautions: compareCautions(comparison),
  });
}
