import type { DesignFigureName } from '@longnight/core';
import { digitsOf } from '@longnight/core/study';
import { placeOf, type SweepRow } from '../../sweep/rows.ts';
import { evenly, isGrid } from '../../sweep/spread.ts';
import type { DesignList } from '../../workers/designs.ts';
import { axisTitle, type NamedAxis, scaleOf } from '../document/key-words.ts';
import type { Chart, Drawing, Room } from './page-svg.ts';

/** Values of a key that a chart has room for: more would be finer than its lines. */
const MOST_NODES = { curve: 600, map: 120 } as const;

/** Figures that a chart may show. */
export const CHARTED = [
  'unmet.energy_kWh',
  'unmet.hours',
  'generator.run_hours',
  'bank.lowest_soc',
  'money.capital',
  'money.total',
] as const satisfies readonly DesignFigureName[];
export type ChartedName = (typeof CHARTED)[number];

/** One varied key of a chart: the values drawn, ascending. */
export interface ChartKey {
  readonly axis: number;
  readonly path: string;
  /** What stands along it. */
  readonly title: string;
  readonly nodes: readonly number[];
}

/** The figures of a sweep over one or two numeric keys, at the values that are drawn. */
export interface ChartGrid {
  /** None, with the reason why there is no chart; one for curves; two for a map. */
  readonly keys: readonly ChartKey[];
  readonly why: string | null;
  take(index: number, row: SweepRow): void;
  /** One figure, the first key varying fastest; NaN where there is none. */
  field(name: ChartedName): Float64Array;
  /** True where a design contradicted itself. */
  readonly unplayed: readonly boolean[];
}

/** A chart of a sweep: on its page, and in its file of charts. */
export interface SweepChart extends Chart {
  readonly name: ChartedName;
  readonly heading: string;
  readonly caption: string;
  readonly draw: (room: Room) => Drawing;
}

export interface SweepCharts {
  readonly charts: readonly SweepChart[];
  /** What is said of figures that are the same in all designs. */
  readonly same: readonly string[];
}

export function chartGrid(axes: readonly NamedAxis[], list: DesignList): ChartGrid {
  const varied = axes.map((_, k) => k).filter((k) => axes[k]!.values.length > 1);
  const why = whyNone(axes, varied, list);
  const most = varied.length === 1 ? MOST_NODES.curve : MOST_NODES.map;
  const keys = why === null ? varied.map((k) => chartKey(axes[k]!, k, most)) : [];
  const size = keys.reduce((product, key) => product * key.nodes.length, why === null ? 1 : 0);
  const fields = new Map(CHARTED.map((name) => [name, new Float64Array(size).fill(Number.NaN)]));
  const unplayed = new Array<boolean>(size).fill(false);
  // Which node each value of an axis is; -1 for those that are not drawn.
  const nodeOf = keys.map(({ axis, nodes }) => {
    const places = new Map<unknown, number>(nodes.map((value, node) => [value, node]));
    return scaleOf(axes[axis]!)!.map((value) => places.get(value) ?? -1);
  });
  const take = (index: number, row: SweepRow): void => {
    if (size === 0) return;
    const digits = digitsOf(axes, index);
    let at = 0;
    let stride = 1;
    for (let k = 0; k < keys.length; k++) {
      const node = nodeOf[k]![digits[keys[k]!.axis]!]!;
      if (node < 0) return;
      at += node * stride;
      stride *= keys[k]!.nodes.length;
    }
    if (row.contradiction !== null) unplayed[at] = true;
    else for (const [name, field] of fields) field[at] = row.figures[placeOf[name]]!;
  };
  return { keys, why, take, field: (name) => fields.get(name)!, unplayed };
}

function chartKey(axis: NamedAxis, k: number, most: number): ChartKey {
  const scale = scaleOf(axis)!;
  const nodes = evenly(scale.length, most).map((digit) => scale[digit]!);
  return { axis: k, path: axis.path, title: axisTitle(axis), nodes: nodes.sort((a, b) => a - b) };
}

function whyNone(axes: readonly NamedAxis[], varied: readonly number[], list: DesignList): string | null {
  if (list.part !== null) return 'longnight gather draws it when all parts are there';
  if (varied.length === 0) return 'no key has more than one value';
  const named = varied.find((k) => scaleOf(axes[k]!) === null);
  if (named !== undefined) return `the values of ${axes[named]!.words} are names, which have no scale`;
  if (varied.length > 2) return `${varied.length} keys vary; a chart shows one or two`;
  if (!isGrid(axes, list)) return 'a sample leaves gaps that lines would hide';
  const seed = varied.find((k) => axes[k]!.path === 'weather.seed');
  if (varied.length === 2 && seed !== undefined) return 'seeds have no order that a map could have';
  return null;
}
