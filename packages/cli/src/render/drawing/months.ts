import type { MonthRow, Report } from '@longnight/core';
import { max, sum } from 'd3-array';
import { scaleBand, scaleLinear } from 'd3-scale';
import { figureColumns, type Table } from '../document/document.ts';
import { fixed, MONTHS } from '../document/figures.ts';
import { tickText } from './chart-svg.ts';
import { type Drawing, legend, line, type Room, rect, text, WIDTH } from './page-svg.ts';

/** A part of a stack: whose it is, how it is filled and what it is called. */
interface Part {
  readonly fill: string;
  readonly words: string;
  readonly of: (row: MonthRow) => number;
}

const SERVED: Part = { fill: 'f-served e-ink', words: 'served', of: (row) => row.served_kWh };
const UNMET: Part = { fill: 'f-unmet e-unmet', words: 'unmet', of: (row) => row.unmet_kWh };

/** Where energy came from, the parts that the plant has. */
const sourcesOf = ({ generator, shore, alternator }: Report): readonly Part[] => [
  { fill: 'f-sun', words: 'sun used', of: (row) => row.sun_used_kWh },
  ...(generator === null
    ? []
    : [{ fill: 'f-engine e-engine', words: 'generator', of: (row: MonthRow) => row.generator_kWh }]),
  ...(shore === null
    ? []
    : [{ fill: 'f-socket e-socket', words: 'socket', of: (row: MonthRow) => row.shore_kWh }]),
  ...(alternator === null
    ? []
    : [{ fill: 'f-engine e-engine', words: 'alternator', of: (row: MonthRow) => row.alternator_kWh }]),
];

const LEFT = 46;

/** Two stacks a month, wanted beside what came in; curtailed sun hangs below on a scale of its own. */
export function monthStacks(report: Report, room: Room): Drawing {
  const width = WIDTH[room];
  const rows = report.by_month;
  const wanted = report.unmet.energy_kWh > 0 ? [SERVED, UNMET] : [SERVED];
  const sources = sourcesOf(report);
  const key = legend(
    [...wanted, ...sources].map(({ fill, words }) => [fill, words] as const),
    LEFT,
    22,
    width - LEFT,
  );
  const top = 34 + key.height;
  const bottom = top + (room === 'wide' ? 170 : 150);
  const x = scaleBand(
    rows.map(({ month }) => month),
    [LEFT, width],
  ).padding(0.18);
  const half = x.bandwidth() / 2;
  const y = scaleLinear([0, highest(rows, [wanted, sources])], [bottom, top]).nice(4);
  const body = [
    text(
      LEFT,
      12,
      room === 'wide'
        ? 'kWh a month: left what is wanted, right what comes in'
        : 'kWh: left wanted, right what comes in',
      't-bold',
    ),
    ...key.body,
    ...axis(y, 4, width),
  ];
  for (const row of rows) {
    const from = x(row.month)!;
    body.push(
      ...stack(row, wanted, from, half - 0.5, y),
      ...stack(row, sources, from + half + 0.5, half - 0.5, y),
      text(from + half, bottom + 16, monthName(row, room), 't-mid'),
    );
  }
  body.push(line([LEFT, bottom], [width, bottom], 'axis'));
  const lower = bottom + 54;
  const most = max(rows, (row) => row.curtailed_kWh) ?? 0;
  if (most === 0) {
    body.push(text(LEFT, lower - 8, 'No sun is curtailed in any month.', 't-faint'));
    return { width, height: lower, body };
  }
  const depth = room === 'wide' ? 70 : 60;
  const down = scaleLinear([0, most], [lower, lower + depth]).nice(4);
  body.push(
    text(
      LEFT,
      lower - 10,
      room === 'wide' ? 'Sun curtailed, kWh a month, on a scale of its own' : 'Sun curtailed, kWh, own scale',
      't-bold',
    ),
    ...axis(down, 2, width),
    ...rows.map((row) =>
      rect(x(row.month)!, lower, x.bandwidth(), down(row.curtailed_kWh) - lower, 'f-unused e-unused'),
    ),
    line([LEFT, lower], [width, lower], 'axis'),
  );
  return { width, height: lower + depth + 8, body };
}

const monthName = ({ month }: MonthRow, room: Room): string =>
  room === 'wide' ? MONTHS[month - 1]! : MONTHS[month - 1]![0]!;

const highest = (rows: readonly MonthRow[], stacks: readonly (readonly Part[])[]): number =>
  Math.max(1e-9, ...rows.flatMap((row) => stacks.map((parts) => sum(parts, (part) => part.of(row)))));

function stack(
  row: MonthRow,
  parts: readonly Part[],
  x: number,
  width: number,
  y: (value: number) => number,
): string[] {
  let below = 0;
  return parts.flatMap(({ fill, of }) => {
    const value = of(row);
    if (value <= 0) return [];
    const [foot, head] = [y(below), y(below + value)];
    below += value;
    // An unmet watt-hour must not vanish beside hundreds of kWh.
    const height = fill.startsWith('f-unmet') ? Math.max(2, foot - head) : foot - head;
    return [rect(x, foot - height, width, height, fill)];
  });
}

function axis(y: ReturnType<typeof scaleLinear<number>>, count: number, width: number): string[] {
  const ticks = y.ticks(count);
  const step = ticks.length > 1 ? ticks[1]! - ticks[0]! : 1;
  return ticks.flatMap((tick) => [
    line([LEFT, y(tick)], [width, y(tick)], 'hair'),
    text(LEFT - 6, y(tick) + 4, tickText(tick, step), 't-end t-faint'),
  ]);
}

/** The months as figures; what came in is served, losses and what the bank gained. */
export function monthTable(report: Report): Table {
  const columns: readonly (readonly [string, (row: MonthRow) => number, number])[] = [
    ['wanted', (row) => row.wanted_kWh, 1],
    ['served', (row) => row.served_kWh, 1],
    ['unmet', (row) => row.unmet_kWh, 2],
    ...sourcesOf(report).map(({ words, of }) => [words, of, 1] as const),
    ...(report.load.surplus_kWh === null
      ? []
      : [['into surplus loads', (row: MonthRow) => row.surplus_load_kWh, 1] as const]),
    ['losses', (row) => row.losses_kWh, 1],
    ['bank gained', (row) => row.bank_gained_kWh, 1],
    ['curtailed', (row) => row.curtailed_kWh, 0],
  ];
  return {
    kind: 'table',
    folded: 'till_printed',
    caption: 'kWh by month. What comes in is served, lost, gained by the bank or taken as surplus',
    columns: [{ title: 'month' }, ...figureColumns(...columns.map(([title]) => [title] as const))],
    rows: report.by_month.map((row) => [
      MONTHS[row.month - 1]!,
      ...columns.map(([, of, decimals]) => fixed(of(row), decimals)),
    ]),
    sums: ['year', ...columns.map(([, of, decimals]) => fixed(sum(report.by_month, of), decimals))],
  };
}
