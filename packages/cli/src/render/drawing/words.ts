import { figureText, titleOf } from '../document/figure-words.ts';
import { sentenceCase } from '../document/words.ts';
import type { ChartedName, ChartGrid } from './grid.ts';
import { NOTHING } from './levels.ts';

/** What a design has where the figure is nothing; no entry where nothing is no special case. */
export const NONE_OF: Readonly<Partial<Record<ChartedName, string>>> = {
  'unmet.energy_kWh': 'nothing goes unmet',
  'unmet.hours': 'nothing goes unmet',
  'generator.run_hours': 'the generator never runs',
};

/** From the value in the file to the value drawn: a state of charge is drawn in percent. */
export const scaleOf = (name: ChartedName): number => (name === 'bank.lowest_soc' ? 100 : 1);

/** What stands above a chart of a figure. */
export function chartTitle(name: ChartedName, currency: string | null = null): string {
  const title = titleOf(name, currency ?? '');
  return sentenceCase(title);
}

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
  const [value] = extent(grid.field(name));
  if (!Number.isFinite(value)) return null;
  const nothing = NONE_OF[name];
  return value <= NOTHING && nothing !== undefined
    ? `In every design ${nothing}.`
    : `${chartTitle(name)}: ${figureText(name, value)} in every design.`;
}
