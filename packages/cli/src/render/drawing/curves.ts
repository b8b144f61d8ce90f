import { scaleLinear } from 'd3-scale';
import type { SweepManifest } from '../../sweep/manifest.ts';
import { figureText } from '../document/figure-words.ts';
import { decimal } from '../document/figures.ts';
import {
  FAINT,
  heading,
  type Inks,
  lineFrom,
  ON_WHITE,
  pathThrough,
  px,
  svgOf,
  textAt,
  tickText,
} from './chart-svg.ts';
import { CHARTED, type ChartedName, type ChartGrid, type ChartKey } from './grid.ts';
import { chartTitle, differs, extent, sameWords, scaleOf } from './words.ts';

const WIDTH = 760;
const LEFT = 78;
const RIGHT = 28;
export const PANEL = 128;
const BETWEEN = 44;
/** Lines of our own ink, each in a panel of its own: colour tells nothing that the panel's title does not. */
const STROKES: Readonly<Record<ChartedName, string>> = {
  'unmet.energy_kWh': '#8a3b55',
  'unmet.hours': '#a8622d',
  'generator.run_hours': '#22687c',
  'bank.lowest_soc': '#5a6b1f',
  'money.capital': '#4d4a86',
  'money.total': '#6b4a2b',
};
/** Up to here each design played gets a dot. */
const DOTTED = 80;
const SEED = 'weather.seed';

/**
 * One varied key: a panel for each figure that differs, each with a scale of its own, above a common axis.
 *
 * @returns null if none does
 */
export function chartCurves(made: SweepManifest, grid: ChartGrid): string | null {
  const key = grid.keys[0]!;
  const { shown, same } = curvePanels(grid);
  if (shown.length === 0) return null;
  const marked = markedOf(made, key);
  const head = heading(made.site, [...readingAid(made, grid, key, marked), ...same].join(' '), WIDTH);
  const across = { left: LEFT, right: WIDTH - RIGHT };
  const body = [...head.body];
  shown.forEach((name, p) => {
    const top = head.height + 34 + p * (PANEL + BETWEEN);
    body.push(
      textAt(LEFT, top - 7, chartTitle(name, made.currency), { bold: true, size: 13 }),
      textAt(WIDTH - RIGHT, top - 7, leastWords(grid, name), { size: 12, fill: FAINT, anchor: 'end' }),
      ...curvePlot(grid, name, { ...across, top }, made, ON_WHITE, STROKES[name]),
    );
  });
  const bottom = head.height + 34 + shown.length * (PANEL + BETWEEN) - BETWEEN;
  body.push(...bottomAxis(key, { ...across, top: bottom }, ON_WHITE));
  const title = `${made.site}: one plant over ${key.title}`;
  return svgOf(
    WIDTH,
    bottom + 58,
    title,
    [...shown.map((name) => curveDescription(grid, name)), ...same].join(' '),
    body,
  );
}

/**
 * Figures that differ, hours with unmet load standing in for run-hours where there are none, and what is said of
 * those that are the same in all.
 */
export function curvePanels(grid: ChartGrid): {
  readonly shown: readonly ChartedName[];
  readonly same: readonly string[];
} {
  const shown = CHARTED.filter(
    (name) => name !== 'unmet.hours' || !differs(grid.field('generator.run_hours')),
  ).filter((name) => differs(grid.field(name)));
  const same = (['unmet.energy_kWh', 'generator.run_hours'] as const)
    .filter((name) => !shown.includes(name))
    .flatMap((name) => sameWords(grid, name) ?? []);
  return { shown, same };
}

/** The value in the file, if it lies among those drawn. */
function markedOf(made: SweepManifest, { axis, nodes }: ChartKey): number | null {
  const value = made.in_file[axis];
  return typeof value === 'number' && value >= nodes[0]! && value <= nodes.at(-1)! ? value : null;
}

/** Where a curve is drawn; it is `PANEL` high. */
interface Across {
  readonly left: number;
  readonly right: number;
  readonly top: number;
}

const acrossScale = ({ nodes }: ChartKey, { left, right }: Across) =>
  scaleLinear([nodes[0]!, nodes.at(-1)!], [left, right]);

/** One figure over one key, without the axis below it. */
export function curvePlot(
  grid: ChartGrid,
  name: ChartedName,
  across: Across,
  made: SweepManifest,
  inks: Inks,
  stroke: string,
): string[] {
  const key = grid.keys[0]!;
  const { left, right, top } = across;
  const x = acrossScale(key, across);
  // Seeds have no order: a line between them would say they had.
  const unordered = key.path === SEED;
  const values = grid.field(name).map((value) => value * scaleOf(name));
  const domain: [number, number] = name === 'bank.lowest_soc' ? [0, 100] : [0, extent(values)[1]];
  const y = scaleLinear(domain, [top + PANEL, top]).nice(3);
  const ticks = y.ticks(3);
  const step = ticks.length > 1 ? ticks[1]! - ticks[0]! : 1;
  const out: string[] = [];
  for (const tick of ticks)
    out.push(
      lineFrom([left, y(tick)], [right, y(tick)], tick === 0 ? inks.faint : inks.hair),
      textAt(left - 8, y(tick) + 4, tickText(tick, step), { anchor: 'end', size: 12, fill: inks.faint }),
    );
  // The scale makes undefined of a gap.
  const points = key.nodes.map((value, k) => [x(value), y(values[k]!) ?? Number.NaN] as const);
  if (!unordered)
    for (const stretch of stretches(points))
      out.push(
        `<path d="${pathThrough(stretch)}" fill="none" stroke="${stroke}" stroke-width="2" stroke-linejoin="round"/>`,
      );
  if (points.length <= DOTTED || unordered)
    out.push(
      `<g fill="${stroke}">${points
        .filter(([, at]) => !Number.isNaN(at))
        .map(([at, of]) => `<circle cx="${px(at)}" cy="${px(of)}" r="${points.length <= DOTTED ? 3 : 1.5}"/>`)
        .join('')}</g>`,
    );
  const marked = markedOf(made, key);
  if (marked !== null)
    out.push(lineFrom([x(marked), top], [x(marked), top + PANEL], inks.ink, 'stroke-dasharray="1.5 4"'));
  if (grid.unplayed.some(Boolean)) out.push(crosses(grid, key, x, top + PANEL, inks));
  return out;
}

/** Where the curve is lowest: on a scale that begins at nothing the eye may miss it. */
export function leastWords(grid: ChartGrid, name: ChartedName): string {
  const key = grid.keys[0]!;
  const values = grid.field(name);
  const [least] = extent(values);
  const at = values.indexOf(least);
  const from = values.filter((value) => value === least).length > 1 ? 'first at' : 'at';
  return `least ${figureText(name, least)} ${from} ${decimal(key.nodes[at]!)}`;
}

/** Runs of points between gaps. */
function stretches(points: readonly (readonly [number, number])[]): (readonly [number, number])[][] {
  const found: (readonly [number, number])[][] = [[]];
  for (const point of points)
    if (Number.isNaN(point[1])) found.push([]);
    else found.at(-1)!.push(point);
  return found.filter((stretch) => stretch.length > 1);
}

/** Marks on the base line for designs that were not played. */
const crosses = (
  grid: ChartGrid,
  key: ChartKey,
  x: (value: number) => number,
  y: number,
  { ink }: Inks,
): string =>
  `<path d="${key.nodes
    .map((value, k) => (grid.unplayed[k] ? `M${px(x(value) - 4)} ${px(y - 4)}l8 8m0 -8l-8 8` : ''))
    .join('')}" stroke="${ink}" stroke-width="1.3"/>`;

/** The axis below curves. */
export function bottomAxis(key: ChartKey, across: Across, { ink: fill, faint }: Inks): string[] {
  const { left, right, top: y } = across;
  const x = acrossScale(key, across);
  const ticks = x.ticks(right - left > 400 ? 8 : 4);
  const step = ticks.length > 1 ? ticks[1]! - ticks[0]! : 1;
  return [
    lineFrom([left, y], [right, y], faint),
    ...ticks.flatMap((tick) => [
      lineFrom([x(tick), y], [x(tick), y + 5], faint),
      textAt(x(tick), y + 19, tickText(tick, step), { anchor: 'middle', size: 12, fill: faint }),
    ]),
    textAt((left + right) / 2, y + 38, key.title, { anchor: 'middle', fill }),
  ];
}

function readingAid(made: SweepManifest, grid: ChartGrid, key: ChartKey, marked: number | null): string[] {
  const count = made.axes[key.axis]!.values.length;
  const values =
    key.nodes.length < count ? `${key.nodes.length} of ${count} values drawn` : `${count} values`;
  return [
    key.path === SEED
      ? `One plant under ${values} of the seed: each dot is a year that the same monthly means allow.`
      : `One plant with ${values} of one key, a year played for each.`,
    marked === null ? '' : `Dotted line: the file has ${decimal(marked)}.`,
    grid.unplayed.some(Boolean) ? 'Crosses: values that contradict others in the file.' : '',
  ].filter((text) => text !== '');
}

/** What a reader who can't see a curve is told. */
export function curveDescription(grid: ChartGrid, name: ChartedName): string {
  const { nodes } = grid.keys[0]!;
  const [first, last] = [0, nodes.length - 1];
  const at = (k: number): string => {
    const value = grid.field(name)[k]!;
    return Number.isNaN(value) ? 'not played' : figureText(name, value);
  };
  return `${chartTitle(name)}: ${at(first)} at ${decimal(nodes[first]!)}, ${at(last)} at ${decimal(nodes[last]!)}.`;
}
