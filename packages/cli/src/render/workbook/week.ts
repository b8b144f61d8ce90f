import type { Report } from '@longnight/core';
import type { WriteSheet } from 'hucre/xlsx';
import { daysWords } from '../document/words.ts';
import { type HoursSheet, serialOf } from './hours.ts';
import { leastBetween, lowestWithin, sumBetween, within } from './months.ts';
import { Cells, formatOf, HEADING, headRow, letters, TITLE } from './sheet.ts';

const SUMS = [
  'load_wanted_kWh',
  'load_served_kWh',
  'unmet_kWh',
  'array_available_kWh',
  'generator_kWh',
] as const;
const FIRST = 3;

/** The leanest days day by day, as formulas over the hours, and its hours drawn. */
export function leanestSheet(hours: HoursSheet, report: Report): WriteSheet {
  const { leanest_days: lean } = report;
  const cells = new Cells();
  cells.put(0, 0, {
    value: `Leanest ${daysWords(lean.days)}, from ${lean.start}`,
    style: TITLE,
  });
  cells.put(1, 0, { value: 'Formulas over the sheet "hours"; days by the local clock.' });
  cells.texts(FIRST - 1, ['day', ...SUMS, 'lowest bank_soc at the end of an hour'], HEADING);
  const soc = hours.range('bank_soc');
  lean.by_day.forEach((day, d) => {
    const row = FIRST + d;
    const from = serialOf(Date.parse(`${day.date}T00:00:00Z`));
    const [cell, next] = [`$A${row + 1}`, `($A${row + 1}+1)`];
    cells.put(row, 0, { value: from, style: { numFmt: 'ddd yyyy-mm-dd' } });
    SUMS.forEach((name, k) => {
      const range = hours.range(name);
      const formula = range === null ? '0' : `SUMIFS(${range},${within(hours.times, cell, next)})`;
      cells.formula(row, k + 1, formula, sumBetween(hours, name, from, from + 1), formatOf('kWh', 2));
    });
    if (soc !== null)
      cells.formula(
        row,
        SUMS.length + 1,
        lowestWithin(soc, hours.times, cell, next),
        leastBetween(hours, 'bank_soc', from, from + 1),
        '0.0%',
      );
  });
  const end = FIRST + lean.by_day.length;
  cells.put(end, 0, { value: 'all', style: HEADING });
  SUMS.forEach((name, k) => {
    const from = serialOf(Date.parse(`${lean.start}T00:00:00Z`));
    const letter = letters(k + 1);
    cells.formula(
      end,
      k + 1,
      `SUM(${letter}${FIRST + 1}:${letter}${end})`,
      sumBetween(hours, name, from, from + lean.days),
      formatOf('kWh', 2),
    );
  });
  return {
    name: 'leanest days',
    columns: [{ width: 16 }, ...SUMS.map(() => ({ width: 17 })), { width: 17 }],
    rows: [],
    cells: cells.map,
    rowDefs: headRow(FIRST - 1),
    freezePane: { rows: FIRST, columns: 1 },
    charts: chartsOf(hours, report, end + 2),
  };
}

/** State of charge, then loads and sun, hour by hour: two charts, as they share no scale. */
function chartsOf(hours: HoursSheet, { leanest_days: lean }: Report, row: number): WriteSheet['charts'] & {} {
  const from = serialOf(Date.parse(`${lean.start}T00:00:00Z`));
  const first = hours.serials.findIndex((serial) => serial >= from);
  const after = hours.serials.findIndex((serial) => serial >= from + lean.days);
  const last = after < 0 ? hours.rows : after;
  const part = (range: string): string =>
    range.replace(/\$2:\$([A-Z]+)\$\d+$/, (_, letter) => `$${first + 2}:$${letter}$${last + 1}`);
  const series = (name: string, title: string, color: string) => {
    const range = hours.range(name);
    return range === null
      ? []
      : [
          {
            name: title,
            values: part(range),
            categories: part(hours.times),
            color,
            marker: { symbol: 'none' as const },
          },
        ];
  };
  const lines = (title: string, y: string, at: number) => ({
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
        scale: {
          min: hours.serials[first]!,
          max: hours.serials[first]! + lean.days,
          majorUnit: Math.ceil(lean.days / 7),
        },
      },
    },
    anchor: { from: { row: at, col: 0 }, to: { row: at + 16, col: 7 } },
  });
  const charts = [
    { ...lines('State of charge', 'share', row), series: series('bank_soc', 'state of charge', '2E6E8E') },
    {
      ...lines('Loads and sun, kWh an hour', 'kWh', row + 17),
      series: [
        ...series('load_wanted_kWh', 'wanted', '2E6E8E'),
        ...series('unmet_kWh', 'unmet', 'B3372E'),
        ...series('array_available_kWh', 'arrays offer', 'D9A520'),
        ...series('generator_kWh', 'generator', '6B6B6B'),
      ],
    },
  ];
  return charts.filter((chart) => chart.series.length > 0);
}
