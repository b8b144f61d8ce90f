import type { SweepManifest } from '../../sweep/manifest.ts';
import { evenly } from '../../sweep/spread.ts';
import { asideOf, type Block, type ColumnOf, figures, type Section, textsOf } from '../document/document.ts';
import { figureText } from '../document/figure-words.ts';
import { counted, decimal } from '../document/figures.ts';
import { axisValue } from '../document/key-words.ts';
import type { ChartedName, ChartGrid, ChartKey, SweepChart } from '../drawing/grid.ts';
import { drawing } from '../drawing/page-svg.ts';
import { sweepCharts } from '../drawing/sweep-charts.ts';
import { chartTitle, extent, readingAid } from '../drawing/words.ts';

/** Most values of a key in a table of a chart's figures: the rest stands in sweep.csv. */
const MOST = { curve: 60, across: 12, up: 20 } as const;

/** The charts of a sweep, each with its figures as a table. */
export function chartsSection(made: SweepManifest, grid: ChartGrid): Section {
  const head = { id: 'charts', title: 'What the values do' };
  if (grid.why !== null) return { ...head, sentence: `Nothing is drawn: ${grid.why}.`, blocks: [] };
  const { charts, same } = sweepCharts(made, grid);
  const [first, ...others] = charts.map(({ name }) => rangeSentence(made, grid, name));
  const texts = [...others, ...(same.length === 0 ? [] : [same.join(' ')]), ...readingAid(made, grid)];
  const isMap = grid.keys.length === 2;
  return {
    ...head,
    sentence: first ?? 'The figures that a chart would show are the same in every design.',
    blocks: [
      ...textsOf(texts),
      ...charts.flatMap((chart): Block[] => [
        { kind: 'heading', text: chart.heading },
        drawing(chart, chart.draw),
        ...(isMap ? [mapTable(grid, chart.name)] : []),
      ]),
      ...(isMap || charts.length === 0 ? [] : [curveTable(grid, charts)]),
    ],
  };
}

function curveTable(grid: ChartGrid, charts: readonly SweepChart[]): Block {
  const key = grid.keys[0]!;
  const rows = evenly(key.nodes.length, MOST.curve);
  return asideOf(`Figures over ${key.title}${thinned(rows.length, key)}`, rows, [
    [figures(key.title), (k) => decimal(key.nodes[k]!)],
    ...charts.map(
      ({ heading, name }): ColumnOf<number> => [figures(heading), (k) => cell(name, grid.field(name)[k]!)],
    ),
  ]);
}

function mapTable(grid: ChartGrid, name: ChartedName): Block {
  const [across, up] = grid.keys as readonly [ChartKey, ChartKey];
  const columns = evenly(across.nodes.length, MOST.across);
  const rows = evenly(up.nodes.length, MOST.up);
  const field = grid.field(name);
  const caption = `${chartTitle(name)}, as figures: ${across.title} across${thinned(columns.length, across)}, ${up.title} down${thinned(rows.length, up)}`;
  return asideOf(caption, rows, [
    [figures(up.title), (row) => decimal(up.nodes[row]!)],
    ...columns.map(
      (column): ColumnOf<number> => [
        figures(decimal(across.nodes[column]!)),
        (row) => cell(name, field[row * across.nodes.length + column]!),
      ],
    ),
  ]);
}

const thinned = (count: number, { nodes }: ChartKey): string =>
  count < nodes.length ? ` (${count} of ${nodes.length} values)` : '';

const cell = (name: ChartedName, value: number): string =>
  Number.isNaN(value) ? 'n/a' : figureText(name, value);

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
