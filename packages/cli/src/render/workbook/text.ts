import type { FigureName, Report } from '@longnight/core';
import { figureNamed, figuresOfReport } from '@longnight/core/findings';
import { TIME_COLUMNS } from '@longnight/core/ledger';
import type { CellValue, WriteSheet } from 'hucre/xlsx';
import { isShare } from '../document/figure-words.ts';
import { placeWords, weatherWords } from '../document/words.ts';
import { written } from '../document/written.ts';
import { dangerSentence } from '../report/dangers.ts';
import { whyText } from '../report/notice-words.ts';
import { givesOutSentence, verdictSentence } from '../report/verdict-words.ts';
import { COLUMN_TITLES, columnRows } from '../tables/hours-csv.ts';
import type { HoursTable } from '../tables/hours-table.ts';
import type { HoursSheet } from './hours.ts';
import { Cells, formatOf, HEADING, PROSE, TITLE } from './sheet.ts';

/** The figures a reader asks for first. */
const SUMMARY = [
  'load.wanted_kWh',
  'load.served_kWh',
  'unmet.energy_kWh',
  'unmet.share',
  'unmet.hours',
  'unmet.longest_hours',
  'autonomy.nominal_days',
  'autonomy.sunless_hours.least',
  'leanest_days.sun_to_load',
  'leanest_days.lowest_soc',
  'leanest_days.unmet_kWh',
  'array.size_kWp',
  'array.available_kWh',
  'array.used_kWh',
  'array.curtailed_share',
  'array.performance_ratio',
  'bank.capacity_kWh',
  'bank.usable_kWh',
  'bank.lowest_soc',
  'bank.hours_at_floor',
  'bank.equivalent_full_cycles',
  'generator.run_hours',
  'generator.starts',
  'generator.fuel_L',
  'shore.energy_kWh',
  'alternator.energy_kWh',
  'losses.total_kWh',
  'money.capital',
  'money.total',
  'money.per_served_kWh',
] as const satisfies readonly FigureName[];

/** The answers, the figures behind them with their meaning, and the cautions. */
export function summarySheet(report: Report): WriteSheet {
  const figures = figuresOfReport(report);
  const cells = new Cells();
  cells.put(0, 0, { value: report.site.name, style: TITLE });
  const lines = [
    `${placeWords(report.site)}; ${report.run.year}, ${weatherWords(report.run)}`,
    ...report.dangers.map((danger) => `Danger: ${dangerSentence(danger)}`),
    verdictSentence(report),
    givesOutSentence(report),
  ];
  lines.forEach((value, k) => {
    cells.put(1 + k, 0, { value });
  });
  const head = lines.length + 2;
  cells.texts(head, ['figure', 'value', 'meaning', 'formula'], HEADING);
  let row = head + 1;
  for (const name of SUMMARY) {
    const value = figures.get(name);
    // What the plant does not have is left out: no zero stands for it.
    if (value === undefined || value === null) continue;
    const { unit, meaning, formula } = figureNamed(name);
    const numFmt =
      unit === '1' && !isShare(name)
        ? '#,##0.00'
        : unit.startsWith('money')
          ? `#,##0.00" ${report.money!.currency.replaceAll('"', '')}${unit.slice('money'.length)}"`
          : formatOf(unit);
    cells.put(row, 0, { value: name });
    cells.put(row, 1, { value, style: { numFmt } });
    cells.put(row, 2, { value: meaning, style: PROSE });
    cells.put(row, 3, { value: formula ?? '', style: PROSE });
    row++;
  }
  row++;
  cells.put(row++, 0, { value: 'Cautions', style: HEADING });
  for (const caution of report.cautions) cells.put(row++, 0, { value: caution });
  return {
    name: 'summary',
    columns: [{ width: 28 }, { width: 18 }, { width: 60 }, { width: 60 }],
    rows: [],
    cells: cells.map,
  };
}

/** Everything that the scenario did not say. */
export const assumptionsSheet = ({ assumptions }: Report): WriteSheet =>
  textSheet(
    'assumptions',
    ['path', 'value', 'kind', 'why'],
    [36, 16, 10, 100],
    assumptions.map(({ path, value, kind, ...rest }) => [path, value, kind, whyText(rest)]),
  );

/** What the columns of the sheet of hours mean, and which are not on it. */
export function columnsSheet(table: HoursTable, hours: HoursSheet): WriteSheet {
  const there = new Set<string>([...TIME_COLUMNS, ...hours.shown].map((column) => column.name));
  return textSheet(
    'columns',
    [...COLUMN_TITLES, 'on the sheet hours'],
    [32, 8, 18, 80, 24],
    columnRows(table).map((row) => [...row, there.has(row[0]!) ? 'yes' : 'no: zero throughout']),
  );
}

function textSheet(
  name: string,
  titles: readonly string[],
  widths: readonly number[],
  rows: readonly (readonly CellValue[])[],
): WriteSheet {
  const cells = new Cells();
  cells.texts(0, titles, HEADING);
  return {
    name,
    columns: widths.map((width) => ({ width, style: PROSE })),
    rows: [[], ...rows.map((row) => row.map((cell) => (typeof cell === 'number' ? written(cell) : cell)))],
    cells: cells.map,
    freezePane: { rows: 1 },
    autoFilter: { range: `A1:${String.fromCharCode(64 + titles.length)}${rows.length + 1}` },
  };
}
