import { scaleLinear } from 'd3-scale';
import type { SweepManifest } from '../files/sweep-manifest.ts';
import { CHARTED, type ChartedName, type ChartGrid, type ChartKey } from './chart-grid.ts';
import {
  FAINT,
  HAIR,
  heading,
  INK,
  lineFrom,
  pathThrough,
  px,
  svgOf,
  textAt,
  tickText,
} from './chart-svg.ts';
import { CHART_WORDS, differs, extent, sameWords } from './chart-words.ts';
import { amount } from './figures.ts';
import { decimal } from './sweep-rows.ts';

const WIDTH = 760;
const LEFT = 78;
const RIGHT = 28;
const PANEL = 128;
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
  const shown = panelsOf(grid);
  if (shown.length === 0) return null;
  const [first, last] = [key.nodes[0]!, key.nodes.at(-1)!];
  const inFile = made.in_file[key.axis];
  const marked = typeof inFile === 'number' && inFile >= first && inFile <= last ? inFile : null;
  const same = (['unmet.energy_kWh', 'generator.run_hours'] as const)
    .filter((name) => !shown.includes(name))
    .flatMap((name) => sameWords(grid, name) ?? []);
  const head = heading(made.site, [...readingAid(made, grid, key, marked), ...same].join(' '), WIDTH);
  const x = scaleLinear([first, last], [LEFT, WIDTH - RIGHT]);
  const body = [...head.body];
  shown.forEach((name, p) => {
    const top = head.height + 34 + p * (PANEL + BETWEEN);
    body.push(...panel(grid, name, x, top, made));
    if (marked !== null)
      body.push(lineFrom([x(marked), top], [x(marked), top + PANEL], INK, 'stroke-dasharray="1.5 4"'));
    if (grid.unplayed.some(Boolean)) body.push(crosses(grid, key, x, top + PANEL));
  });
  const bottom = head.height + 34 + shown.length * (PANEL + BETWEEN) - BETWEEN;
  body.push(...bottomAxis(x, bottom, key.path));
  const title = `${made.site}: one plant over ${key.path}`;
  return svgOf(WIDTH, bottom + 58, title, [description(grid, key, shown), ...same].join(' '), body);
}

/** Figures that differ; hours with unserved load stand in for run-hours where there are none. */
const panelsOf = (grid: ChartGrid): readonly ChartedName[] =>
  CHARTED.filter((name) => name !== 'unmet.hours' || !differs(grid.field('generator.run_hours'))).filter(
    (name) => differs(grid.field(name)),
  );

function panel(
  grid: ChartGrid,
  name: ChartedName,
  x: (value: number) => number,
  top: number,
  made: SweepManifest,
): string[] {
  const key = grid.keys[0]!;
  // Seeds have no order: a line between them would say they had.
  const unordered = key.path === SEED;
  const { scale } = CHART_WORDS[name];
  const values = grid.field(name).map((value) => value * scale);
  const domain: [number, number] = name === 'bank.lowest_soc' ? [0, 100] : [0, extent(values)[1]];
  const y = scaleLinear(domain, [top + PANEL, top]).nice(3);
  const ticks = y.ticks(3);
  const step = ticks.length > 1 ? ticks[1]! - ticks[0]! : 1;
  const stroke = STROKES[name];
  const out = [
    textAt(LEFT, top - 7, titleOf(name, made), { bold: true, size: 13 }),
    textAt(WIDTH - RIGHT, top - 7, leastWords(values, key), { size: 12, fill: FAINT, anchor: 'end' }),
  ];
  for (const tick of ticks)
    out.push(
      lineFrom([LEFT, y(tick)], [WIDTH - RIGHT, y(tick)], tick === 0 ? FAINT : HAIR),
      textAt(LEFT - 8, y(tick) + 4, tickText(tick, step), { anchor: 'end', size: 12, fill: FAINT }),
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
  return out;
}

/** Where the curve is lowest: on a scale that begins at nothing the eye may miss it. */
function leastWords(values: Float64Array, key: ChartKey): string {
  const [least] = extent(values);
  const at = values.indexOf(least);
  const from = values.filter((value) => value === least).length > 1 ? 'first at' : 'at';
  return `least ${amount(least)} ${from} ${decimal(key.nodes[at]!)}`;
}

function titleOf(name: ChartedName, made: SweepManifest): string {
  const { title } = CHART_WORDS[name];
  return name.startsWith('money.') && made.currency !== null ? `${title}, ${made.currency}` : title;
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
const crosses = (grid: ChartGrid, key: ChartKey, x: (value: number) => number, y: number): string =>
  `<path d="${key.nodes
    .map((value, k) => (grid.unplayed[k] ? `M${px(x(value) - 4)} ${px(y - 4)}l8 8m0 -8l-8 8` : ''))
    .join('')}" stroke="${INK}" stroke-width="1.3"/>`;

function bottomAxis(x: ReturnType<typeof scaleLinear<number>>, y: number, path: string): string[] {
  const ticks = x.ticks(8);
  const step = ticks.length > 1 ? ticks[1]! - ticks[0]! : 1;
  return [
    lineFrom([LEFT, y], [WIDTH - RIGHT, y], FAINT),
    ...ticks.flatMap((tick) => [
      lineFrom([x(tick), y], [x(tick), y + 5], FAINT),
      textAt(x(tick), y + 19, tickText(tick, step), { anchor: 'middle', size: 12, fill: FAINT }),
    ]),
    textAt((LEFT + WIDTH - RIGHT) / 2, y + 38, path, { anchor: 'middle' }),
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

function description(grid: ChartGrid, key: ChartKey, shown: readonly ChartedName[]): string {
  const [first, last] = [0, key.nodes.length - 1];
  return shown
    .map((name) => {
      const { title, scale } = CHART_WORDS[name];
      const at = (k: number): string => {
        const value = grid.field(name)[k]!;
        return Number.isNaN(value) ? 'not played' : amount(value * scale);
      };
      return `${title}: ${at(first)} at ${decimal(key.nodes[first]!)}, ${at(last)} at ${decimal(key.nodes[last]!)}.`;
    })
    .join(' ');
}
