import type { Report } from '@longnight/core';
import { min, sum } from 'd3-array';
import type { WriteSheet } from 'hucre/xlsx';
import { daysWords } from '../document/words.ts';
import { type HoursSheet, serialOf } from './hours.ts';
import { formatOf, HEADING, letters, sheetOf, TITLE } from './sheet.ts';

/** A figure of a period, worked out of a column of the hours. */
interface Figure {
  readonly name: string;
  readonly head: string;
  readonly format: string;
  /** Over a range of values, by the wall clock from a cell's date on, up to a date that is no longer in it. */
  formula(values: string, times: string, from: string, to: string): string;
  result(values: readonly number[]): number;
  /** Over the periods. */
  readonly total: 'SUM' | 'MIN';
}

/** Their names end in their units. */
const summed = (name: string): Figure => ({
  name,
  head: name,
  format: formatOf(name.split('_').at(-1)!),
  formula: (values, times, from, to) => `SUMIFS(${values},${times},">="&${from},${times},"<"&${to})`,
  result: (values) => sum(values),
  total: 'SUM',
});

/** A state of charge is never above 1. Older programs have no MINIFS. */
const LOWEST: Figure = {
  name: 'bank_soc',
  head: 'lowest bank_soc at the end of an hour',
  format: '0.0%',
  formula: (values, times, from, to) =>
    `1-SUMPRODUCT(MAX((${times}>=${from})*(${times}<${to})*(1-${values})))`,
  result: (values) => min(values) ?? 0,
  total: 'MIN',
};

/** Sums that a month is told by: always, as its absence is an answer, or where the year has any. */
const MONTH_SUMS = {
  always: ['load_wanted_kWh', 'load_served_kWh', 'unmet_kWh', 'array_available_kWh'],
  any: [
    ...['array_used_kWh', 'curtailed_kWh', 'generator_kWh', 'generator_run_h', 'fuel_L', 'shore_kWh'],
    ...['alternator_kWh', 'other_used_kWh', 'losses_kWh'],
  ],
} as const;
const DAY_SUMS = [...MONTH_SUMS.always, 'generator_kWh'];

/** The number of the row in which the first period stands. */
const FIRST = 4;

interface Periods {
  readonly name: string;
  readonly title: string;
  readonly head: string;
  readonly total: string;
  readonly sums: readonly string[];
  /** Where each begins and the last ends, as a sheet counts days, and how that is shown. */
  readonly starts: readonly number[];
  readonly format: string;
  /** The beginning of the next, worked out of a cell. */
  next(cell: string): string;
}

/** Periods as formulas over the hours, and all of them below. */
function periodsSheet(
  hours: HoursSheet,
  periods: Periods,
  charts: NonNullable<WriteSheet['charts']>,
): WriteSheet {
  const { name, title, head, total, starts, format, next } = periods;
  const figures = [...periods.sums.map(summed), LOWEST];
  const last = FIRST + starts.length - 2;
  const results = figures.map((figure) =>
    starts.slice(0, -1).map((from, p) => figure.result(hours.between(figure.name, from, starts[p + 1]!))),
  );
  return sheetOf({
    name,
    above: [
      { value: title, style: TITLE },
      { value: 'Formulas over the sheet "hours"; days and months by the local clock.' },
    ],
    columns: [
      { head, width: 16, style: { numFmt: format } },
      ...figures.map((figure) => ({ head: figure.head, width: 17, style: { numFmt: figure.format } })),
    ],
    rows: [
      ...starts.slice(0, -1).map((from, p) => {
        const cell = `$A${FIRST + p}`;
        return [
          from,
          ...figures.map((figure, f) => {
            const range = hours.range(figure.name);
            const formula = range === null ? '0' : figure.formula(range, hours.times, cell, next(cell));
            return { formula, formulaResult: results[f]![p]! };
          }),
        ];
      }),
      [
        { value: total, style: HEADING },
        ...figures.map((figure, f) => ({
          formula: `${figure.total}(${letters(f + 1)}${FIRST}:${letters(f + 1)}${last})`,
          formulaResult: figure.total === 'SUM' ? sum(results[f]!) : min(results[f]!)!,
        })),
      ],
    ],
    freezePane: { rows: FIRST - 1, columns: 1 },
    charts,
  });
}

/** What is drawn: a column, what it is called and its colour. */
type Drawn = readonly (readonly [name: string, title: string, color: string])[];

export function monthsSheet(hours: HoursSheet, { site, run }: Report): WriteSheet {
  const sums = [...MONTH_SUMS.always, ...MONTH_SUMS.any.filter((name) => hours.range(name) !== null)];
  const rows = (letter: string): string => `${letter}${FIRST}:${letter}${FIRST + 11}`;
  const stacked = (title: string, column: number, drawn: Drawn) => ({
    type: 'column' as const,
    barGrouping: 'stacked' as const,
    title,
    legend: 'bottom' as const,
    axes: {
      y: { title: 'kWh', numberFormat: { formatCode: '#,##0', sourceLinked: false } },
      x: { numberFormat: { formatCode: 'mmm', sourceLinked: false } },
    },
    anchor: { from: { row: FIRST + 13, col: column }, to: { row: FIRST + 31, col: column + 6 } },
    series: drawn.flatMap(([name, called, color]) => {
      const k = (sums as readonly string[]).indexOf(name);
      return k < 0 ? [] : [{ name: called, values: rows(letters(k + 1)), categories: rows('A'), color }];
    }),
  });
  return periodsSheet(
    hours,
    {
      name: 'months',
      title: `${site.name}: month by month`,
      head: 'month',
      total: 'year',
      sums,
      starts: Array.from({ length: 13 }, (_, m) => serialOf(Date.UTC(run.year, m, 1))),
      format: 'mmm yyyy',
      next: (cell) => `EDATE(${cell},1)`,
    },
    [
      stacked('Loads by month', 0, [
        ['load_served_kWh', 'served', '2E6E8E'],
        ['unmet_kWh', 'unmet', 'B3372E'],
      ]),
      stacked('What the arrays offer by month', 7, [
        ['array_used_kWh', 'used', 'D9A520'],
        ['curtailed_kWh', 'curtailed', 'C7CCD1'],
      ]),
    ],
  );
}

/** The leanest days, and their hours drawn: charge, then loads and sun, as they share no scale. */
export function leanestSheet(hours: HoursSheet, { leanest_days: lean }: Report): WriteSheet {
  const start = serialOf(Date.parse(`${lean.start}T00:00:00Z`));
  const end = start + lean.days;
  const first = hours.serials.findIndex((serial) => serial >= start);
  const after = hours.serials.findIndex((serial) => serial >= end);
  const last = after < 0 ? hours.serials.length : after;
  const part = (range: string): string =>
    range.replace(/\$2:\$([A-Z]+)\$\d+$/, (_, letter) => `$${first + 2}:$${letter}$${last + 1}`);
  const lines = (title: string, y: string, at: number, drawn: Drawn) => ({
    // Points in time and not labels: a program that takes the hours for days would draw one point a day.
    type: 'scatter' as const,
    scatterStyle: 'lineMarker' as const,
    title,
    legend: 'bottom' as const,
    axes: {
      y: {
        title: y,
        numberFormat: { formatCode: y === 'kWh' ? '0.0' : '0%', sourceLinked: false },
        scale: y === 'kWh' ? { min: 0 } : { min: 0, max: 1 },
      },
      x: {
        numberFormat: { formatCode: 'ddd d mmm', sourceLinked: false },
        scale: { min: start, max: end, majorUnit: Math.ceil(lean.days / 7) },
      },
    },
    anchor: { from: { row: at, col: 0 }, to: { row: at + 16, col: 7 } },
    series: drawn.flatMap(([name, called, color]) => {
      const range = hours.range(name);
      if (range === null) return [];
      const marker = { symbol: 'none' as const };
      return [{ name: called, values: part(range), categories: part(hours.times), color, marker }];
    }),
  });
  const below = FIRST + lean.days + 1;
  const charts = [
    lines('State of charge', 'share', below, [['bank_soc', 'state of charge', '2E6E8E']]),
    lines('Loads and sun, kWh an hour', 'kWh', below + 17, [
      ['load_wanted_kWh', 'wanted', '2E6E8E'],
      ['unmet_kWh', 'unmet', 'B3372E'],
      ['array_available_kWh', 'arrays offer', 'D9A520'],
      ['generator_kWh', 'generator', '6B6B6B'],
    ]),
  ];
  return periodsSheet(
    hours,
    {
      name: 'leanest days',
      title: `Leanest ${daysWords(lean.days)}, from ${lean.start}`,
      head: 'day',
      total: 'all',
      sums: DAY_SUMS,
      starts: Array.from({ length: lean.days + 1 }, (_, day) => start + day),
      format: 'ddd yyyy-mm-dd',
      next: (cell) => `(${cell}+1)`,
    },
    charts.filter((chart) => chart.series.length > 0),
  );
}
