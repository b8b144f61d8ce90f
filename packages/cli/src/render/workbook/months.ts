import type { Report } from '@longnight/core';
import type { WriteSheet } from 'hucre/xlsx';
import { type HoursSheet, serialOf } from './hours.ts';
import { Cells, formatOf, HEADING, headRow, letters, TITLE } from './sheet.ts';

/** Sums that a month is told by, where the plant has them. */
const SUMS = [
  ['load_wanted_kWh', 'kWh'],
  ['load_served_kWh', 'kWh'],
  ['unmet_kWh', 'kWh'],
  ['array_available_kWh', 'kWh'],
  ['array_used_kWh', 'kWh'],
  ['curtailed_kWh', 'kWh'],
  ['generator_kWh', 'kWh'],
  ['generator_run_h', 'h'],
  ['fuel_L', 'L'],
  ['shore_kWh', 'kWh'],
  ['alternator_kWh', 'kWh'],
  ['losses_kWh', 'kWh'],
] as const;
/** Shown even where the year has none of it: its absence is an answer. */
const ALWAYS: readonly string[] = ['load_wanted_kWh', 'load_served_kWh', 'unmet_kWh', 'array_available_kWh'];

const FIRST = 3;

/** Within these days, by the wall clock: from a cell's date on, up to a date that is no longer in it. */
export const within = (times: string, from: string, to: string): string =>
  `${times},">="&${from},${times},"<"&${to}`;

/** Lowest value of a column that is never above 1, within these days. Older programs have no MINIFS. */
export const lowestWithin = (values: string, times: string, from: string, to: string): string =>
  `1-SUMPRODUCT(MAX((${times}>=${from})*(${times}<${to})*(1-${values})))`;

/** The months as formulas over the hours, and the year below them. */
export function monthsSheet(hours: HoursSheet, report: Report): WriteSheet {
  const sums = SUMS.filter(([name]) => hours.range(name) !== null || ALWAYS.includes(name));
  const cells = new Cells();
  cells.put(0, 0, { value: `${report.site.name}: month by month`, style: TITLE });
  cells.put(1, 0, { value: 'Formulas over the sheet "hours"; days and months by the local clock.' });
  const soc = hours.range('bank_soc');
  cells.texts(
    FIRST - 1,
    ['month', ...sums.map(([name]) => name), 'lowest bank_soc at the end of an hour'],
    HEADING,
  );
  const totals = sums.map(() => 0);
  let lowest = 1;
  for (let m = 0; m < 12; m++) {
    const row = FIRST + m;
    const from = serialOf(Date.UTC(report.run.year, m, 1));
    const to = serialOf(Date.UTC(report.run.year, m + 1, 1));
    const days = { from: `$A${row + 1}`, to: `EDATE($A${row + 1},1)` };
    cells.put(row, 0, { value: from, style: { numFmt: 'mmm yyyy' } });
    sums.forEach(([name, unit], k) => {
      const range = hours.range(name);
      const result = sumBetween(hours, name, from, to);
      totals[k]! += result;
      const formula = range === null ? '0' : `SUMIFS(${range},${within(hours.times, days.from, days.to)})`;
      cells.formula(row, k + 1, formula, result, formatOf(unit, 2));
    });
    if (soc !== null) {
      const least = leastBetween(hours, 'bank_soc', from, to);
      lowest = Math.min(lowest, least);
      cells.formula(row, sums.length + 1, lowestWithin(soc, hours.times, days.from, days.to), least, '0.0%');
    }
  }
  const yearRow = FIRST + 12;
  cells.put(yearRow, 0, { value: 'year', style: HEADING });
  const above = (column: number) => `${letters(column)}${FIRST + 1}:${letters(column)}${yearRow}`;
  sums.forEach(([, unit], k) => {
    cells.formula(yearRow, k + 1, `SUM(${above(k + 1)})`, totals[k]!, formatOf(unit, 2));
  });
  if (soc !== null) cells.formula(yearRow, sums.length + 1, `MIN(${above(sums.length + 1)})`, lowest, '0.0%');

  const column = (name: string): string => {
    const letter = letters(1 + sums.findIndex(([one]) => one === name));
    return `${letter}${FIRST + 1}:${letter}${yearRow}`;
  };
  const series = (name: string, title: string, color: string) =>
    sums.some(([one]) => one === name)
      ? [{ name: title, values: column(name), categories: `A${FIRST + 1}:A${yearRow}`, color }]
      : [];
  return {
    name: 'months',
    columns: [{ width: 12 }, ...sums.map(() => ({ width: 17 })), { width: 17 }],
    rows: [],
    cells: cells.map,
    rowDefs: headRow(FIRST - 1),
    freezePane: { rows: FIRST, columns: 1 },
    charts: [
      {
        ...stacked('Loads by month', 0),
        series: [...series('load_served_kWh', 'served', '2E6E8E'), ...series('unmet_kWh', 'unmet', 'B3372E')],
      },
      {
        ...stacked('What the arrays offer by month', 7),
        series: [
          ...series('array_used_kWh', 'used', 'D9A520'),
          ...series('curtailed_kWh', 'not used', 'C7CCD1'),
        ],
      },
    ],
  };
}

const stacked = (title: string, column: number) => ({
  type: 'column' as const,
  barGrouping: 'stacked' as const,
  title,
  legend: 'bottom' as const,
  axes: {
    y: { title: 'kWh', numberFormat: { formatCode: '#,##0', sourceLinked: false } },
    x: { numberFormat: { formatCode: 'mmm', sourceLinked: false } },
  },
  anchor: { from: { row: FIRST + 14, col: column }, to: { row: FIRST + 32, col: column + 6 } },
});

function* valuesBetween(hours: HoursSheet, name: string, from: number, to: number): Generator<number> {
  const values = hours.shown.find((column) => column.name === name)?.values;
  if (values === undefined) return;
  for (let row = 0; row < hours.rows; row++)
    if (hours.serials[row]! >= from && hours.serials[row]! < to) yield values[row]!;
}

/** What a sum of the sheet gives between two of its dates. */
export function sumBetween(hours: HoursSheet, name: string, from: number, to: number): number {
  let sum = 0;
  for (const value of valuesBetween(hours, name, from, to)) sum += value;
  return sum;
}

/** The lowest value between two dates of the sheet, at most 1. */
export function leastBetween(hours: HoursSheet, name: string, from: number, to: number): number {
  let least = 1;
  for (const value of valuesBetween(hours, name, from, to)) least = Math.min(least, value);
  return least;
}
