import type { ChartedName, ChartGrid } from './chart-grid.ts';
import { NOTHING } from './chart-levels.ts';
import { amount } from './figures.ts';

/** How a charted figure is spoken of. */
interface ChartWords {
  readonly title: string;
  /** What a design has where the figure is nothing; null where nothing is no special case. */
  readonly nothing: string | null;
  /** From the value in the file to the value drawn. */
  readonly scale: number;
}

export const CHART_WORDS: Readonly<Record<ChartedName, ChartWords>> = {
  'unmet.energy_kWh': { title: 'Unmet energy, kWh in the year', nothing: 'nothing goes unserved', scale: 1 },
  'unmet.hours': { title: 'Hours with unserved load', nothing: 'nothing goes unserved', scale: 1 },
  'generator.run_hours': {
    title: 'Generator run-hours in the year',
    nothing: 'the generator never runs',
    scale: 1,
  },
  'bank.lowest_soc': { title: 'Lowest charge of the bank, %', nothing: null, scale: 100 },
  'money.capital': { title: 'Capital', nothing: null, scale: 1 },
  'money.total': { title: 'Cost over the years, present value', nothing: null, scale: 1 },
};

export function extent(values: Float64Array): readonly [least: number, most: number] {
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const value of values) {
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return [least, most];
}

/** True if a figure differs between the designs, by more than the dust of sums. */
export function differs(field: Float64Array): boolean {
  const [least, most] = extent(field);
  return most > NOTHING && most > least;
}

/** What is said of a figure that does not; null if there is none. */
export function sameWords(grid: ChartGrid, name: ChartedName): string | null {
  const { title, nothing, scale } = CHART_WORDS[name];
  const [value] = extent(grid.field(name));
  if (!Number.isFinite(value)) return null;
  return value <= NOTHING && nothing !== null
    ? `In every design ${nothing}.`
    : `${title}: ${amount(value * scale)} in every design.`;
}
