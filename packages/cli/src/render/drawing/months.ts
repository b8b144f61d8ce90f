import type { MonthRow, Report } from '@longnight/core';
import { sum } from 'd3-array';
import { scaleBand, scaleLinear } from 'd3-scale';
import { figureColumns, type Table } from '../document/document.ts';
import { fixed, MONTHS } from '../document/figures.ts';
import { type Linear, legend, line, rect, rules, text, ticksOf, top } from './marks.ts';
import { type Drawing, type Room, WIDTH } from './page-svg.ts';
import { SOURCES } from './stretched.ts';

/** A part of a stack: whose it is, how it is filled and what it is called. */
interface Part {
  readonly fill: string;
  readonly words: string;
  readonly of: (row: MonthRow) => number;
}

const SERVED: Part = { fill: 'f-served e-ink', words: 'served', of: (row) => row.served_kWh };
const UNMET: Part = { fill: 'f-unmet e-unmet', words: 'unmet', of: (row) => row.unmet_kWh };

/** Where energy came from, the parts that the plant has. */
const sourcesOf = (report: Report): readonly Part[] => [
  { fill: 'f-sun', words: 'sun used', of: (row) => row.sun_used_kWh },
  ...SOURCES.filter(({ of }) => report[of] !== null).map(({ fill, words, column }) => ({
    fill,
    words,
    of: (row: MonthRow) => row[column],
  })),
];

const LEFT = 46;

/** Two stacks a month, wanted beside what came in; curtailed sun hangs below on a scale of its own. */
export function monthStacks(report: Report, room: Room): Drawing {
  const wide = room === 'wide';
  const width = WIDTH[room];
  const rows = report.by_month;
  const wanted = report.unmet.energy_kWh > 0 ? [SERVED, UNMET] : [SERVED];
  const sources = sourcesOf(report);
  const swatches = [...wanted, ...sources].map(({ fill, words }) => [fill, words] as const);
  const key = legend(swatches, LEFT, 22, width - LEFT);
  const head = 34 + key.height;
  const bottom = head + (wide ? 170 : 150);
  const x = scaleBand(
    rows.map(({ month }) => month),
    [LEFT, width],
  ).padding(0.18);
  const half = x.bandwidth() / 2;
  const sums = rows.flatMap((row) => [wanted, sources].map((parts) => sum(parts, (part) => part.of(row))));
  const y = scaleLinear([0, Math.max(1e-9, ...sums)], [bottom, head]).nice(4);
  const title = wide
    ? ' a month: left what is wanted, right what comes in'
    : ': left wanted, right what comes in';
  const body = [
    text(LEFT, 12, `kWh${title}`, 't-bold'),
    ...key.body,
    ...rules(ticksOf(y, 4), LEFT, width),
    ...rows.flatMap((row) => {
      const from = x(row.month)!;
      const name = MONTHS[row.month - 1]!;
      return [
        ...stack(row, wanted, from, half - 0.5, y),
        ...stack(row, sources, from + half + 0.5, half - 0.5, y),
        text(from + half, bottom + 16, wide ? name : name[0]!, 't-mid'),
      ];
    }),
    line([LEFT, bottom], [width, bottom], 'axis'),
  ];
  const lower = bottom + 54;
  const most = top(rows.map((row) => row.curtailed_kWh));
  if (most === 0) {
    body.push(text(LEFT, lower - 8, 'No sun is curtailed in any month.', 't-faint'));
    return { width, height: lower, body };
  }
  const depth = wide ? 70 : 60;
  const down = scaleLinear([0, most], [lower, lower + depth]).nice(4);
  const lowerTitle = wide ? ' a month, on a scale of its own' : ', own scale';
  body.push(
    text(LEFT, lower - 10, `Sun curtailed, kWh${lowerTitle}`, 't-bold'),
    ...rules(ticksOf(down, 2), LEFT, width),
    ...rows.map((row) =>
      rect(x(row.month)!, lower, x.bandwidth(), down(row.curtailed_kWh) - lower, 'f-unused e-unused'),
    ),
    line([LEFT, lower], [width, lower], 'axis'),
  );
  return { width, height: lower + depth + 8, body };
}

function stack(row: MonthRow, parts: readonly Part[], x: number, width: number, y: Linear): string[] {
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

/** The months as figures; what came in is served, losses and what the bank gained. */
export function monthTable(report: Report): Table {
  const surplus = { words: 'into surplus loads', of: (row: MonthRow) => row.surplus_load_kWh };
  const columns: readonly (Omit<Part, 'fill'> & { readonly decimals?: number })[] = [
    { words: 'wanted', of: (row) => row.wanted_kWh },
    SERVED,
    { ...UNMET, decimals: 2 },
    ...sourcesOf(report),
    ...(report.load.surplus_kWh === null ? [] : [surplus]),
    { words: 'losses', of: (row) => row.losses_kWh },
    { words: 'bank gained', of: (row) => row.bank_gained_kWh },
    { words: 'curtailed', of: (row) => row.curtailed_kWh, decimals: 0 },
  ];
  return {
    kind: 'table',
    folded: 'till_printed',
    caption: 'kWh by month. What comes in is served, lost, gained by the bank or taken as surplus',
    columns: [{ title: 'month' }, ...figureColumns(...columns.map(({ words }) => [words] as const))],
    rows: report.by_month.map((row) => [
      MONTHS[row.month - 1]!,
      ...columns.map(({ of, decimals = 1 }) => fixed(of(row), decimals)),
    ]),
    sums: ['year', ...columns.map(({ of, decimals = 1 }) => fixed(sum(report.by_month, of), decimals))],
  };
}
