import { scaleLinear } from 'd3-scale';
import type { SweepManifest } from '../../sweep/manifest.ts';
import { figureText } from '../document/figure-words.ts';
import { decimal } from '../document/figures.ts';
import { sentenceCase } from '../document/words.ts';
import { CHARTED, type ChartedName, type ChartGrid, type SweepChart, type SweepCharts } from './grid.ts';
import { axisBelow, crosses, dots, line, type Point, path, rules, through, ticksOf } from './marks.ts';
import { type Drawing, WIDTH } from './page-svg.ts';
import { chartTitle, differs, endsWords, extent, overWords, sameWords, valueInFile } from './words.ts';

/** Each in a panel of its own: colour tells nothing that the panel's title does not. */
const COLOURS: Readonly<Record<ChartedName, string>> = {
  'unmet.energy_kWh': 'e-unmet',
  'unmet.hours': 'e-unmet',
  'generator.run_hours': 'e-engine',
  'bank.lowest_soc': 'e-bank',
  'money.capital': 'e-socket',
  'money.total': 'e-socket',
};
/** Up to here each design played gets a large dot. */
const DOTTED = 80;

/**
 * One varied key: a chart for each figure that differs, each with a scale of its own. Hours with unmet load stand in
 * for run-hours where there are none.
 */
export function curveCharts(made: SweepManifest, grid: ChartGrid): SweepCharts {
  const [key] = grid.keys;
  const isSeed = key!.path === 'weather.seed';
  const marked = valueInFile(made, key!);
  const aid = [
    ...(isSeed ? ['A dot is a year that the same monthly means allow.'] : []),
    ...(marked === null ? [] : [`Dotted line: the file has ${decimal(marked)}.`]),
  ];
  const shown = CHARTED.filter(
    (name) => name !== 'unmet.hours' || !differs(grid.field('generator.run_hours')),
  ).filter((name) => differs(grid.field(name)));
  return {
    charts: shown.map((name, k): SweepChart => {
      const heading = chartTitle(name, made.currency);
      return {
        name,
        heading,
        id: `curve-${k}`,
        title: overWords(grid, heading),
        description: endsWords(grid, name),
        caption: [leastWords(grid, name), ...(k === 0 ? aid : [])].join(' '),
        draw: (room) => curve(grid, name, isSeed, marked, WIDTH[room]),
      };
    }),
    same: (['unmet.energy_kWh', 'generator.run_hours'] as const)
      .filter((name) => !shown.includes(name))
      .flatMap((name) => sameWords(grid, name) ?? []),
  };
}

function curve(
  grid: ChartGrid,
  name: ChartedName,
  isSeed: boolean,
  marked: number | null,
  width: number,
): Drawing {
  const [left, right, top, bottom] = [58, width - 14, 8, 136];
  const { nodes, title } = grid.keys[0]!;
  const isCharge = name === 'bank.lowest_soc';
  const values = grid.field(name).map((value) => (isCharge ? 100 * value : value));
  const x = scaleLinear([nodes[0]!, nodes.at(-1)!], [left, right]);
  const y = scaleLinear([0, isCharge ? 100 : extent(values)[1]], [bottom, top]).nice(3);
  // The scale makes undefined of a gap.
  const points = nodes.map((value, k): Point => [x(value), y(values[k]!) ?? Number.NaN]);
  const isFew = points.length <= DOTTED;
  const colour = COLOURS[name];
  const known = points.filter(([, height]) => !Number.isNaN(height));
  return {
    width,
    height: bottom + 42,
    body: [
      ...rules(ticksOf(y, 3), left, right),
      ...axisBelow(ticksOf(x, width > 500 ? 8 : 4), { left, right, bottom }, title),
      // Seeds have no order: a line between them would say they had.
      ...(isSeed ? [] : stretches(points).map((stretch) => path(through(stretch), `line ${colour}`))),
      isFew || isSeed ? dots(known, isFew ? 3 : 1.5, ` class="${colour}"`) : '',
      marked === null ? '' : line([x(marked), top], [x(marked), bottom], 'mark'),
      crosses(
        nodes.flatMap((value, k): Point[] => (grid.unplayed[k] ? [[x(value), bottom]] : [])),
        ' class="line e-ink"',
      ),
    ],
  };
}

/** Where the curve is lowest: on a scale that begins at nothing the eye may miss it. */
function leastWords(grid: ChartGrid, name: ChartedName): string {
  const values = grid.field(name);
  const [least] = extent(values);
  const from = values.filter((value) => value === least).length > 1 ? 'first at' : 'at';
  const where = decimal(grid.keys[0]!.nodes[values.indexOf(least)]!);
  return `${sentenceCase(`least ${figureText(name, least)} ${from} ${where}`)}.`;
}

/** Runs of points between gaps. */
function stretches(points: readonly Point[]): Point[][] {
  const found: Point[][] = [[]];
  for (const point of points)
    if (Number.isNaN(point[1])) found.push([]);
    else found.at(-1)!.push(point);
  return found.filter((stretch) => stretch.length > 1);
}
