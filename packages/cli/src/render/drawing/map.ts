import { scaleLinear } from 'd3-scale';
import type { SweepManifest } from '../../sweep/manifest.ts';
import { decimal } from '../document/figures.ts';
import { contoursOf } from './contours.ts';
import type { ChartedName, ChartGrid, ChartKey, SweepChart, SweepCharts } from './grid.ts';
import { labeller } from './labels.ts';
import { levelsOf, NOTHING } from './levels.ts';
import {
  axisBelow,
  circle,
  crosses,
  dots,
  type Frame,
  type Linear,
  line,
  type Point,
  path,
  px,
  text,
  through,
  ticksOf,
} from './marks.ts';
import { type Drawing, type Room, WIDTH } from './page-svg.ts';
import {
  chartTitle,
  differs,
  endsWords,
  extent,
  NONE_OF,
  overWords,
  sameWords,
  valueInFile,
} from './words.ts';

/** What is drawn on the field, which is light on any paper. */
const INK = '#22262b';
/** From little to much, ever darker: in grey as well, and told apart by the labels on the lines between them. */
const TINTS = {
  unmet: scaleLinear<string>([0, 0.4, 0.75, 1], ['#fbf1ea', '#e3ab98', '#b5626a', '#7f3a50']).clamp(true),
  hours: scaleLinear<string>([0, 0.4, 0.75, 1], ['#eef5f3', '#9cc6c6', '#4b8896', '#265a70']).clamp(true),
} as const;
/** Up to here each design played gets a dot. */
const DOTTED = 900;

/** Two varied keys: unmet energy, and run-hours or hours with unmet load, as contours over both. */
export function mapCharts(made: SweepManifest, grid: ChartGrid): SweepCharts {
  const hasEngine = Number.isFinite(extent(grid.field('generator.run_hours'))[1]);
  const figures = ['unmet.energy_kWh', hasEngine ? 'generator.run_hours' : 'unmet.hours'] as const;
  const dotted = grid.unplayed.length <= DOTTED ? 'a dot is a design, ' : '';
  const shown = figures.filter((name) => differs(grid.field(name)));
  return {
    charts: shown.map((name, k): SweepChart => {
      const { border } = levelsOf(grid.field(name));
      const white = border ? `White, within the heavy line: ${NONE_OF[name]}. ` : '';
      return {
        name,
        heading: chartTitle(name),
        id: `map-${k}`,
        title: overWords(grid, chartTitle(name)),
        description: endsWords(grid, name),
        caption: `${white}Lines join equal figures; ${dotted}the ring is the plant in the file.`,
        draw: (room) => map(made, grid, name, room),
      };
    }),
    same: figures.filter((name) => !shown.includes(name)).flatMap((name) => sameWords(grid, name) ?? []),
  };
}

/** One figure over two keys within a frame, with its axes. */
function map(made: SweepManifest, grid: ChartGrid, name: ChartedName, room: Room): Drawing {
  const [width, bottom] = room === 'wide' ? [560, 368] : [WIDTH.narrow, 268];
  const frame = { left: 62, top: 8, right: width - 14, bottom };
  const [across, up] = grid.keys as readonly [ChartKey, ChartKey];
  const x = scaleLinear([across.nodes[0]!, across.nodes.at(-1)!], [frame.left, frame.right]);
  const y = scaleLinear([up.nodes[0]!, up.nodes.at(-1)!], [frame.bottom, frame.top]);
  const [xs, ys] = [across.nodes.map((value) => x(value)), up.nodes.map((value) => y(value))];
  const field = grid.field(name);
  const { border, lines } = levelsOf(field);
  const [a, b] = [valueInFile(made, across), valueInFile(made, up)];
  const ring: Point[] = a === null || b === null ? [] : [[x(a), y(b)]];
  const label = labeller(
    frame,
    ring.map(([x, y]) => ({ x, y, radius: 12 })),
  );
  // A line that has no room for its figure would be told by its tint alone: it is left out. The highest first.
  const labels: string[] = [];
  const found = contoursOf(field, xs, ys, [...(border ? [NOTHING] : []), ...lines])
    .reverse()
    .filter(({ value, lines: drawn }) => {
      if (value === NOTHING) return true;
      // A level is a round number: it is written as it is.
      const words = decimal(Number(value.toPrecision(6)));
      const at = label(drawn, words);
      if (at !== null) labels.push(text(at.x, at.y + 4, words, '', at.turn));
      return at !== null;
    })
    .reverse();
  const tints = TINTS[name === 'unmet.energy_kWh' ? 'unmet' : 'hours'];
  // Spread over the whole range; few contours stay light.
  const tint = (k: number): string => tints((k + (border ? 0 : 1)) / Math.max(found.length, 4));
  const clip = `clip-${name.replaceAll('.', '-')}-${room}`;
  const all = [...field.keys()];
  const at = (k: number): Point => [xs[k % xs.length]!, ys[Math.floor(k / xs.length)]!];
  const few = field.length <= DOTTED;
  return {
    width,
    height: bottom + 42,
    body: [
      `<clipPath id="${clip}">${path(boxOf(frame))}</clipPath>`,
      `<g clip-path="url(#${clip})">`,
      path(boxOf(frame), '', ` fill="${border ? '#fff' : tints(0)}"`),
      ...found.map(({ rings }, k) =>
        path(
          rings.map((ring) => through(ring.slice(0, -1), true)).join(''),
          '',
          ` fill="${tint(k)}" fill-rule="evenodd"`,
        ),
      ),
      `<g fill="none" stroke="${INK}" stroke-width="0.9" stroke-linejoin="round">`,
      ...found
        .filter(({ lines }) => lines.length > 0)
        .map(({ value, lines }) =>
          path(
            lines.map((line) => through(line)).join(''),
            '',
            value === NOTHING ? ' stroke-width="2.6"' : '',
          ),
        ),
      '</g>',
      gapCells(grid, xs, ys),
      '</g>',
      few
        ? dots(
            all.filter((k) => !Number.isNaN(field[k]!)).map(at),
            1.2,
            ` stroke="${INK}" stroke-opacity="0.5"`,
          )
        : '',
      few ? crosses(all.filter((k) => grid.unplayed[k]).map(at), ` stroke="${INK}"`) : '',
      path(boxOf(frame), 'axis'),
      ...axes(x, y, frame, across, up),
      `<g class="t-mid" fill="${INK}" stroke="#fff" stroke-width="3.5" stroke-linejoin="round" paint-order="stroke">`,
      ...labels,
      '</g>',
      ...ring.flatMap((point) => [
        circle(point, 7, ' fill="none" stroke="#fff" stroke-width="4"'),
        circle(point, 7, ` fill="none" stroke="${INK}" stroke-width="1.8"`),
      ]),
    ],
  };
}

const boxOf = ({ left, top, right, bottom }: Frame): string =>
  `M${px(left)} ${px(top)}H${px(right)}V${px(bottom)}H${px(left)}Z`;

/** Grey over what was not played. */
function gapCells(grid: ChartGrid, xs: readonly number[], ys: readonly number[]): string {
  const edge = (list: readonly number[], k: number, to: -1 | 1): number =>
    (list[k]! + (list[k + to] ?? list[k]!)) / 2;
  const cells = grid.unplayed.flatMap((is, k) => {
    const [column, row] = [k % xs.length, Math.floor(k / xs.length)];
    const [left, right] = [edge(xs, column, -1), edge(xs, column, 1)];
    return is ? [boxOf({ left, right, top: edge(ys, row, -1), bottom: edge(ys, row, 1) })] : [];
  });
  return cells.length === 0 ? '' : path(cells.join(''), '', ' fill="#e4e6e8"');
}

function axes(x: Linear, y: Linear, frame: Frame, across: ChartKey, up: ChartKey): string[] {
  const { left, top, bottom } = frame;
  // Nobody buys half a module: whole values have whole ticks.
  const ticks = (scale: Linear, { nodes }: ChartKey) =>
    ticksOf(scale, 7, (tick) => Number.isInteger(tick) || !nodes.every(Number.isInteger));
  return [
    ...axisBelow(ticks(x, across), frame, across.title),
    ...ticks(y, up).flatMap(({ at, words }) => [
      line([left - 5, at], [left, at], 'axis'),
      text(left - 9, at + 4, words, 't-end t-faint'),
    ]),
    text(left - 44, (top + bottom) / 2, up.title, 't-mid', -90),
  ];
}
