import { jsonText } from '../document/json.ts';
import { type CompareShown, compareCautions } from './rows.ts';

/** compare.json: all rows, limits, bills and what the dearer ones buy as plain data. */
export function compareJson({ comparison, scenario }: CompareShown): string {
  const { plants, rows, asked, currency, dearer, notices } = comparison;
  const { site, run, weather } = scenario;
  const named = <Row extends { readonly winners: readonly number[] }>(row: Row) => ({
    ...row,
    winners: row.winners.map((k) => plants[k]!.label),
  });
  const terms = plants.find((plant) => plant.terms !== null)?.terms ?? null;
  return jsonText('compare.json', {
    longnight: { format: 1 },
    site: { name: site.name },
    run: {
      year: run.year,
      weather: weather.kind,
      seed: weather.kind === 'monthly_means' ? weather.seed : null,
    },
    currency,
    terms:
      terms === null
        ? null
        : {
            years: terms.years,
            discount_share_per_year: terms.discount_share_per_year,
            fuel_price_per_L: terms.fuel_price_per_L,
          },
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
