import { headJson, jsonText } from '../document/json.ts';
import { type CompareShown, compareCautions } from './rows.ts';

/** compare.json: all rows, limits, bills and what the dearer ones buy as plain data. */
export function compareJson({ comparison, scenario }: CompareShown): string {
  const { plants, rows, asked, currency, dearer, notices } = comparison;
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
