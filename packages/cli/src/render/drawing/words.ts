import { extent as extentOf } from 'd3-array';
import type { SweepManifest } from '../../sweep/manifest.ts';
import { figureText, titleOf } from '../document/figure-words.ts';
import { counted, decimal } from '../document/figures.ts';
import { isFactor } from '../document/key-words.ts';
import { listed, sentenceCase } from '../document/words.ts';
import type { ChartedName, ChartGrid, ChartKey } from './grid.ts';
import { NOTHING } from './levels.ts';

/** What a design has where the figure is nothing; no entry where nothing is no special case. */
export const NONE_OF: Readonly<Partial<Record<ChartedName, string>>> = {
  'unmet.energy_kWh': 'nothing goes unmet',
  'unmet.hours': 'nothing goes unmet',
  'generator.run_hours': 'the generator never runs',
};

/** What stands above a chart of a figure. */
export const chartTitle = (name: ChartedName, currency: string | null = null): string =>
  sentenceCase(titleOf(name, currency ?? ''));

/** Infinite the wrong way round where there is no value. */
export function extent(values: Float64Array): readonly [least: number, most: number] {
  const [least = Number.POSITIVE_INFINITY, most = Number.NEGATIVE_INFINITY] = extentOf(values);
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

/** What has to be known to read the charts of a sweep. */
export function readingAid(made: SweepManifest, grid: ChartGrid): readonly string[] {
  const gaps = grid.unplayed.filter(Boolean).length;
  const drawn = grid.unplayed.length;
  return [
    ...(drawn < made.designs ? [`${counted(drawn, 'design')} of ${made.designs} are drawn.`] : []),
    ...(gaps === 0 ? [] : [`Crosses: ${counted(gaps, 'design')} with values that contradict each other.`]),
  ];
}

/** What a reader who can't see a chart is told: the figure at both ends. */
export function endsWords(grid: ChartGrid, name: ChartedName): string {
  const field = grid.field(name);
  const at = (end: 0 | -1): string => {
    const value = field.at(end)!;
    const nodes = grid.keys.map(({ nodes }) => decimal(nodes.at(end)!));
    return `${Number.isNaN(value) ? 'not played' : figureText(name, value)} at ${listed(nodes)}`;
  };
  return `${overWords(grid, chartTitle(name))}: ${at(0)}, ${at(-1)}.`;
}

/** `Unmet energy, kWh, over A and B`. */
export const overWords = ({ keys }: ChartGrid, title: string): string =>
  `${title}, over ${listed(keys.map((key) => key.title))}`;

/** The value of a key in the file, if it lies among those drawn. */
export function valueInFile(made: SweepManifest, { axis, nodes }: ChartKey): number | null {
  const value = isFactor(made.axes[axis]!) ? 1 : made.in_file[axis];
  return typeof value === 'number' && value >= nodes[0]! && value <= nodes.at(-1)! ? value : null;
}
