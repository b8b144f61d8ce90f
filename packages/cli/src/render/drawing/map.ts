import { scaleLinear } from 'd3-scale';
import type { SweepManifest } from '../../sweep/manifest.ts';
import { figureText } from '../document/figure-words.ts';
import { counted, decimal, fixed } from '../document/figures.ts';
import { FAINT, heading, INK, type Inks, ON_WHITE, pathThrough, px, svgOf, textAt } from './chart-svg.ts';
import { type Contour, contoursOf, type Point } from './contours.ts';
import type { ChartedName, ChartGrid, ChartKey } from './grid.ts';
import { labeller } from './labels.ts';
import { levelsOf, NOTHING } from './levels.ts';
import { axes, DOTTED, dots, type Frame, gapCells, type Linear } from './marks.ts';
import { chartTitle, differs, extent, NONE_OF, sameWords } from './words.ts';

const PLOT = { width: 400, height: 340 } as const;
const LEFT = 76;
const STEP = PLOT.width + 92;
const RIGHT = 30;
/** Room below the axes, and the line that explains the white. */
const BELOW = 58;
const CAPTION = 22;

/** From little to much, ever darker: in grey as well, and told apart by the labels on the lines between them. */
const TINTS = {
  unmet: scaleLinear<string>([0, 0.4, 0.75, 1], ['#fbf1ea', '#e3ab98', '#b5626a', '#7f3a50']).clamp(true),
  hours: scaleLinear<string>([0, 0.4, 0.75, 1], ['#eef5f3', '#9cc6c6', '#4b8896', '#265a70']).clamp(true),
} as const;
type Tints = (typeof TINTS)['unmet'];

/** The figures of a map: unmet energy, and run-hours or hours with unmet load, each with its tints. */
const mapFigures = (grid: ChartGrid): readonly MapFigure[] => [
  { name: 'unmet.energy_kWh', tints: TINTS.unmet },
  {
    name:
      extent(grid.field('generator.run_hours'))[1] > Number.NEGATIVE_INFINITY
        ? 'generator.run_hours'
        : 'unmet.hours',
    tints: TINTS.hours,
  },
];
export interface MapFigure {
  readonly name: ChartedName;
  readonly tints: Tints;
}

/** Those that differ between the designs, and what is said of the others. */
export function mapPanels(grid: ChartGrid): {
  readonly panels: readonly MapFigure[];
  readonly same: readonly string[];
} {
  const figures = mapFigures(grid);
  const panels = figures.filter(({ name }) => differs(grid.field(name)));
  const same = figures
    .filter((figure) => !panels.includes(figure))
    .flatMap(({ name }) => sameWords(grid, name) ?? []);
  return { panels, same };
}

/**
 * Two varied keys: unmet energy and run-hours as contours over both, side by side; what is the same in every design
 * gets a sentence instead of a panel.
 *
 * @returns null if neither differs between the designs
 */
export function chartMap(made: SweepManifest, grid: ChartGrid): string | null {
  const [across, up] = grid.keys as readonly [ChartKey, ChartKey];
  const { panels, same } = mapPanels(grid);
  if (panels.length === 0) return null;
  const width = LEFT + (panels.length - 1) * STEP + PLOT.width + RIGHT;
  const head = heading(made.site, readingAid(made, grid, same), width);
  const top = head.height + 34;
  const body = [
    ...head.body,
    ...panels.flatMap((figure, p) => panel(grid, figure, LEFT + p * STEP, top, made)),
  ];
  const captioned = panels.some(({ name }) => levelsOf(grid.field(name)).border);
  const height = top + PLOT.height + BELOW + (captioned ? CAPTION : 0);
  const title = `${made.site}: designs over ${across.title} and ${up.title}`;
  const words = [...panels.map(({ name }) => mapDescription(grid, name)), ...same].join(' ');
  return svgOf(width, height, title, words, body);
}

function panel(grid: ChartGrid, figure: MapFigure, left: number, top: number, made: SweepManifest): string[] {
  const frame = { left, top, right: left + PLOT.width, bottom: top + PLOT.height };
  const said = whiteWords(grid, figure.name);
  return [
    textAt(left, top - 14, chartTitle(figure.name), { size: 15, bold: true }),
    ...mapPlot(grid, figure, frame, made, ON_WHITE),
    ...(said === null ? [] : [textAt(left, frame.bottom + 64, said, { size: 12, fill: FAINT })]),
  ];
}

/** What the white of a map means; null if it has none. */
export const whiteWords = (grid: ChartGrid, name: ChartedName): string | null =>
  levelsOf(grid.field(name)).border ? `White, within the heavy line: ${NONE_OF[name]}.` : null;

/**
 * One figure over two keys within a frame, with its axes. The field is in colours of its own on any paper.
 *
 * @param room told apart by it are clips of two drawings of one figure in one document
 */
export function mapPlot(
  grid: ChartGrid,
  { name, tints }: MapFigure,
  frame: Frame,
  made: SweepManifest,
  inks: Inks,
  room = '',
): string[] {
  const keys = grid.keys as readonly [ChartKey, ChartKey];
  const [across, up] = keys;
  const x = scaleLinear([across.nodes[0]!, across.nodes.at(-1)!], [frame.left, frame.right]);
  const y = scaleLinear([up.nodes[0]!, up.nodes.at(-1)!], [frame.bottom, frame.top]);
  const field = grid.field(name);
  const { border, lines } = levelsOf(field);
  const [xs, ys] = [across.nodes.map((value) => x(value)), up.nodes.map((value) => y(value))];
  const ring = inFile(made, grid, x, y);
  const label = labeller(frame, ring === null ? [] : [{ x: ring[0], y: ring[1], radius: 12 }]);
  // A line that has no room for its figure would be told by its tint alone: it is left out.
  const labels: string[] = [];
  const found = contoursOf(field, xs, ys, [...(border ? [NOTHING] : []), ...lines])
    .reverse()
    .filter(({ value, lines: drawn }) => {
      if (value === NOTHING) return true;
      const at = label(drawn, amountText(value));
      if (at === null) return false;
      const style = { size: 12, anchor: 'middle', halo: true, turn: at.turn } as const;
      labels.push(textAt(at.x, at.y + 4, amountText(value), style));
      return true;
    })
    .reverse();
  const clip = `clip-${name.replaceAll('.', '-')}${room}`;
  const out = [
    `<clipPath id="${clip}">${box(frame)}</clipPath>`,
    `<g clip-path="url(#${clip})">`,
    box(frame, ` fill="${border ? '#fff' : tints(0)}"`),
    ...found.map((contour, k) => fill(contour, tintOf(tints, k + (border ? 0 : 1), found.length))),
    ...found.map((contour) => stroke(contour)),
    gapCells(grid, xs, ys),
    '</g>',
    ...dots(grid, field, xs, ys),
    ...axes(x, y, frame, keys, inks),
    ...labels,
  ];
  if (ring !== null)
    out.push(
      `<circle cx="${px(ring[0])}" cy="${px(ring[1])}" r="7" fill="none" stroke="#fff" stroke-width="4"/>`,
      `<circle cx="${px(ring[0])}" cy="${px(ring[1])}" r="7" fill="none" stroke="${INK}" stroke-width="1.8"/>`,
    );
  return out;
}

const box = ({ left, top, right, bottom }: Frame, more = ''): string =>
  `<rect x="${left}" y="${top}" width="${right - left}" height="${bottom - top}"${more}/>`;

/** Spread over the whole range; few contours stay light. */
const tintOf = (tints: Tints, k: number, count: number): string => tints(k / Math.max(count, 4));

const fill = ({ rings }: Contour, tint: string): string =>
  `<path d="${rings.map((ring) => pathThrough(ring.slice(0, -1), true)).join('')}" fill="${tint}" fill-rule="evenodd"/>`;

const stroke = ({ value, lines }: Contour): string =>
  lines.length === 0
    ? ''
    : `<path d="${lines.map((line) => pathThrough(line)).join('')}" fill="none" stroke="${INK}" stroke-width="${value === NOTHING ? 2.6 : 0.9}" stroke-linejoin="round"/>`;

/** Where the plant of the file stands, if it lies within the map. */
function inFile(made: SweepManifest, grid: ChartGrid, x: Linear, y: Linear): Point | null {
  const [a, b] = grid.keys.map((key) => made.in_file[key.axis]);
  const within = (key: ChartKey, value: unknown): value is number =>
    typeof value === 'number' && value >= key.nodes[0]! && value <= key.nodes.at(-1)!;
  return within(grid.keys[0]!, a) && within(grid.keys[1]!, b) ? [x(a), y(b)] : null;
}

/** A level is a round number: it is written as it is. */
const amountText = (value: number): string => decimal(Number(value.toPrecision(6)));

function readingAid(made: SweepManifest, grid: ChartGrid, same: readonly string[]): string {
  const [across, up] = grid.keys as readonly [ChartKey, ChartKey];
  const drawn = across.nodes.length * up.nodes.length;
  const played = `${counted(made.designs, 'design')}, each played for a year`;
  const thinned = drawn < made.designs ? `; ${fixed(drawn, 0)} of them are drawn` : '';
  const dots = drawn <= DOTTED ? ': a dot each' : '';
  const cross = grid.unplayed.some(Boolean) ? ', a cross where values contradict each other' : '';
  const lines = 'Lines join equal figures; the ring is the plant in the file.';
  return [`${played}${thinned}${dots}${cross}.`, lines, ...same].join(' ');
}

/** What a reader who can't see a map is told. */
export function mapDescription(grid: ChartGrid, name: ChartedName): string {
  const field = grid.field(name);
  const [across, up] = grid.keys as readonly [ChartKey, ChartKey];
  const at = (k: number): string => {
    const value = field[k]!;
    const [a, b] = [k % across.nodes.length, Math.floor(k / across.nodes.length)];
    const what = Number.isNaN(value) ? 'not played' : figureText(name, value);
    return `${what} at ${decimal(across.nodes[a]!)} and ${decimal(up.nodes[b]!)}`;
  };
  return `${chartTitle(name)}, over ${across.title} and ${up.title}: ${at(0)}, ${at(field.length - 1)}.`;
}
