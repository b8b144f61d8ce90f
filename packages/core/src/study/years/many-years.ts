import type { ManyYears, ManyYearsRow } from '../../findings/years.ts';
import type { Plant } from '../../plant/plant.ts';
import { howSure } from './how-sure.ts';
import { type FigureOf, overYears, percentile } from './over-years.ts';

/** Figures of a report that are told of each of many years, by their names in a row. */
const OF_A_YEAR = {
  'unmet.energy_kWh': 'unmet_kWh',
  'unmet.hours': 'unmet_hours',
  'unmet.loss_of_load_probability': 'loss_of_load_probability',
  'unmet.longest_hours': 'longest_outage_hours',
  'generator.run_hours': 'generator_run_hours',
  'bank.lowest_soc': 'lowest_soc',
} as const satisfies Readonly<Record<string, keyof ManyYearsRow>>;
type Told = keyof typeof OF_A_YEAR;

/** Names of the figures that many years have statistics of. */
export const MANY_YEARS_FIGURES = Object.keys(OF_A_YEAR) as readonly Told[];

/** A figure of a row by its name in a report. */
export const figureOfRow =
  (row: ManyYearsRow): FigureOf =>
  (name) =>
    row[OF_A_YEAR[name as Told]];

/** Percentiles that are told unless others are asked for. */
export const PERCENTILES: readonly number[] = [5, 50, 95];

/**
 * Sums up the rows of many years of one plant.
 *
 * @param rows at least one
 * @param percentiles whole, 1 to 99
 */
export function manyYears(
  rows: readonly ManyYearsRow[],
  plant: Plant,
  percentiles: readonly number[],
  file: Pick<ManyYears, 'left_out' | 'repeated'> = { left_out: [], repeated: [] },
): ManyYears {
  const held = rows.filter((row) => row.unmet_hours === 0).length;
  const told = MANY_YEARS_FIGURES.filter((name) => rows.every((row) => figureOfRow(row)(name) !== null));
  return {
    years_held: held,
    held_share: howSure(held, rows.length),
    by_year: rows,
    worst: rows.reduce((a, b) => (isHarder(b, a) ? b : a)),
    over_years: told.map((figure) => {
      const values = rows.map((row) => figureOfRow(row)(figure));
      return {
        figure,
        percentiles: percentiles.map((percent) => ({
          percent,
          value: overYears(figure, percentile(percent), values)!,
        })),
        mean: overYears(figure, 'mean', values)!,
        worst: overYears(figure, 'worst', values)!,
      };
    }),
    ...file,
    begins: plant.initial_soc === null ? 'closed' : 'initial_soc',
  };
}

/** More unmet comes first, then more hours of the generator, then the lower bank; of equals the earlier year. */
function isHarder(a: ManyYearsRow, b: ManyYearsRow): boolean {
  if (a.unmet_kWh !== b.unmet_kWh) return a.unmet_kWh > b.unmet_kWh;
  const [runs, runsB] = [a.generator_run_hours ?? 0, b.generator_run_hours ?? 0];
  return runs !== runsB ? runs > runsB : a.lowest_soc < b.lowest_soc;
}
