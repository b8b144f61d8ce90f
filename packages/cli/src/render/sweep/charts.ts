import type { SweepManifest } from '../../sweep/manifest.ts';
import { evenly } from '../../sweep/spread.ts';
import { type Block, figureColumns, type Section, type Table } from '../document/document.ts';
import { figureText } from '../document/figure-words.ts';
import { counted, decimal } from '../document/figures.ts';
import { axisValue } from '../document/key-words.ts';
import { sentenceCase } from '../document/words.ts';
import type { Inks } from '../drawing/chart-svg.ts';
import {
  bottomAxis,
  curveDescription,
  curvePanels,
  curvePlot,
  leastWords,
  PANEL,
} from '../drawing/curves.ts';
import type { ChartedName, ChartGrid, ChartKey } from '../drawing/grid.ts';
import { type MapFigure, mapDescription, mapPanels, mapPlot, whiteWords } from '../drawing/map.ts';
import { type Drawing, figure, type Room, WIDTH } from '../drawing/page-svg.ts';
import { chartTitle, extent } from '../drawing/words.ts';

/** Lines and words around the fields of a chart follow the page, light or dark. */
const OF_PAGE: Inks = { ink: 'var(--ink)', faint: 'var(--faint)', hair: 'var(--hair)' };
const STROKES: Readonly<Record<ChartedName, string>> = {
  'unmet.energy_kWh': 'var(--unmet)',
  'unmet.hours': 'var(--unmet)',
  'generator.run_hours': 'var(--engine)',
  'bank.lowest_soc': 'var(--bank)',
  'money.capital': 'var(--socket)',
  'money.total': 'var(--socket)',
};
/** Most values of a key in a table of a chart's figures: the rest stands in sweep.csv. */
const MOST = { curve: 60, across: 12, up: 20 } as const;

/** The charts of a sweep, each with its figures as a table. */
export function chartsSection(made: SweepManifest, grid: ChartGrid): Section {
  const head = { id: 'charts', title: 'What the values do' };
  if (grid.why !== null) return { ...head, sentence: `Nothing is drawn: ${grid.why}.`, blocks: [] };
  const shown = grid.keys.length === 1 ? curves(made, grid) : maps(made, grid);
  const [first, ...others] = shown.names.map((name) => rangeSentence(made, grid, name));
  const gaps = grid.unplayed.filter(Boolean).length;
  const drawn = grid.keys.reduce((product, { nodes }) => product * nodes.length, 1);
  return {
    ...head,
    sentence: first ?? 'The figures that a chart would show are the same in every design.',
    blocks: [
      ...[
        ...others,
        ...(shown.same.length === 0 ? [] : [shown.same.join(' ')]),
        ...(drawn < made.designs ? [`${counted(drawn, 'design')} of ${made.designs} are drawn.`] : []),
        ...(gaps === 0
          ? []
          : [`Crosses: ${counted(gaps, 'design')} with values that contradict each other.`]),
      ].map((text) => ({ kind: 'text' as const, text })),
      ...shown.blocks,
    ],
  };
}

interface Shown {
  readonly names: readonly ChartedName[];
  readonly same: readonly string[];
  readonly blocks: readonly Block[];
}

function curves(made: SweepManifest, grid: ChartGrid): Shown {
  const { shown, same } = curvePanels(grid);
  const key = grid.keys[0]!;
  const rows = evenly(key.nodes.length, MOST.curve);
  const drawing = (name: ChartedName, room: Room): Drawing => {
    const across = { left: 58, right: WIDTH[room] - 14, top: 8 };
    return {
      width: WIDTH[room],
      height: 8 + PANEL + 46,
      body: [
        ...curvePlot(grid, name, across, made, OF_PAGE, STROKES[name]),
        ...bottomAxis(key, { ...across, top: 8 + PANEL }, OF_PAGE),
      ],
    };
  };
  const marked = made.in_file[key.axis];
  const dotted = typeof marked === 'number' ? ` Dotted line: the file has ${decimal(marked)}.` : '';
  return {
    names: shown,
    same,
    blocks: [
      ...shown.flatMap((name, k): Block[] => [
        { kind: 'heading', text: chartTitle(name, made.currency) },
        {
          kind: 'drawing',
          draw: () => [
            figure(
              {
                id: `curve-${k}`,
                title: `${chartTitle(name, made.currency)}, over ${key.title}`,
                description: curveDescription(grid, name),
                caption: sentenceOf(leastWords(grid, name)) + (k === 0 ? dotted : ''),
              },
              { wide: drawing(name, 'wide'), narrow: drawing(name, 'narrow') },
            ),
          ],
        },
      ]),
      ...(shown.length === 0
        ? []
        : [
            {
              kind: 'table' as const,
              caption: `Figures over ${key.title}${thinned(rows.length, key)}`,
              folded: true as const,
              columns: figureColumns(
                [key.title],
                ...shown.map((name) => [chartTitle(name, made.currency)] as const),
              ),
              rows: rows.map((k) => [
                decimal(key.nodes[k]!),
                ...shown.map((name) => cell(name, grid.field(name)[k]!)),
              ]),
            },
          ]),
    ],
  };
}

function maps(made: SweepManifest, grid: ChartGrid): Shown {
  const { panels, same } = mapPanels(grid);
  const [across, up] = grid.keys as readonly [ChartKey, ChartKey];
  const drawing = (panel: MapFigure, room: Room): Drawing => {
    const wide = room === 'wide';
    const frame = { left: 62, top: 8, right: (wide ? 560 : WIDTH.narrow) - 14, bottom: wide ? 368 : 268 };
    return {
      width: wide ? 560 : WIDTH.narrow,
      height: frame.bottom + 46,
      body: mapPlot(grid, panel, frame, made, OF_PAGE, `-${room}`),
    };
  };
  return {
    names: panels.map(({ name }) => name),
    same,
    blocks: panels.flatMap((panel, k): Block[] => {
      const title = chartTitle(panel.name);
      const aid = 'Lines join equal figures; the ring is the plant in the file.';
      return [
        { kind: 'heading', text: title },
        {
          kind: 'drawing',
          draw: () => [
            figure(
              {
                id: `map-${k}`,
                title: `${title}, over ${across.title} and ${up.title}`,
                description: mapDescription(grid, panel.name),
                caption: [whiteWords(grid, panel.name), aid].filter((text) => text !== null).join(' '),
              },
              { wide: drawing(panel, 'wide'), narrow: drawing(panel, 'narrow') },
            ),
          ],
        },
        mapTable(grid, panel.name),
      ];
    }),
  };
}

function mapTable(grid: ChartGrid, name: ChartedName): Table {
  const [across, up] = grid.keys as readonly [ChartKey, ChartKey];
  const columns = evenly(across.nodes.length, MOST.across);
  const rows = evenly(up.nodes.length, MOST.up);
  const field = grid.field(name);
  return {
    kind: 'table',
    caption: `${chartTitle(name)}, as figures: ${across.title} across${thinned(columns.length, across)}, ${up.title} down${thinned(rows.length, up)}`,
    folded: true,
    columns: figureColumns([up.title], ...columns.map((k) => [decimal(across.nodes[k]!)] as const)),
    rows: rows.map((row) => [
      decimal(up.nodes[row]!),
      ...columns.map((column) => cell(name, field[row * across.nodes.length + column]!)),
    ]),
  };
}

const thinned = (count: number, { nodes }: ChartKey): string =>
  count < nodes.length ? ` (${count} of ${nodes.length} values)` : '';

const cell = (name: ChartedName, value: number): string =>
  Number.isNaN(value) ? 'n/a' : figureText(name, value);

const sentenceOf = (text: string): string => `${sentenceCase(text)}.`;

/** From where to where a figure goes among the designs drawn. */
function rangeSentence(made: SweepManifest, grid: ChartGrid, name: ChartedName): string {
  const field = grid.field(name);
  const [least, most] = extent(field);
  const at = (value: number): string => {
    let k = field.indexOf(value);
    const words = grid.keys.map(({ axis, nodes }) => {
      const node = k % nodes.length;
      k = Math.floor(k / nodes.length);
      return axisValue(made.axes[axis]!, nodes[node]!);
    });
    const others = field.filter((other) => other === value).length - 1;
    const more = others === 0 ? '' : ` and in ${counted(others, 'other design')}`;
    return `${cell(name, value)} at ${words.join('; ')}${more}`;
  };
  return `${chartTitle(name, made.currency)}: from ${at(least)} to ${at(most)}.`;
}
