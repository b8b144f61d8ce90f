import type { FigureName, Report } from '@longnight/core';
import { figureNamed, figuresOfReport } from '@longnight/core/findings';
import type { WriteSheet } from 'hucre/xlsx';
import { isShare } from '../document/figure-words.ts';
import { plain } from '../document/plain-text.ts';
import { placeWords, weatherWords } from '../document/words.ts';
import { dangerSentence } from '../report/dangers.ts';
import { whyText } from '../report/notice-words.ts';
import { givesOutSentence, verdictSentence } from '../report/verdict-words.ts';
import { COLUMN_TITLES, columnRows } from '../tables/hours-csv.ts';
import type { HoursTable } from '../tables/hours-table.ts';
import type { HoursSheet } from './hours.ts';
import { formatOf, HEADING, letters, PROSE, type Sheet, sheetOf, TITLE } from './sheet.ts';

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
  return sheetOf({
    name: 'summary',
    above: [
      { value: report.site.name, style: TITLE },
      `${placeWords(report.site)}; ${report.run.year}, ${weatherWords(report.run)}`,
      ...report.dangers.map((danger) => `Danger: ${dangerSentence(danger)}`),
      verdictSentence(report),
      givesOutSentence(report),
      '',
    ],
    columns: [
      { head: 'figure', width: 28 },
      { head: 'value', width: 18 },
      { head: 'meaning', width: 60, style: PROSE },
      { head: 'formula', width: 60, style: PROSE },
    ],
    rows: [
      ...SUMMARY.flatMap((name) => {
        const value = figures.get(name);
        // What the plant does not have is left out: no zero stands for it.
        if (value === undefined || value === null) return [];
        const { unit, meaning, formula } = figureNamed(name);
        const numFmt =
          unit === '1' && !isShare(name)
            ? '#,##0.00'
            : unit.startsWith('money')
              ? `#,##0.00" ${plain(report.money!.currency).replaceAll('"', '')}${unit.slice('money'.length)}"`
              : formatOf(unit);
        return [[name, { value, style: { numFmt } }, meaning, formula ?? '']];
      }),
      [],
      [{ value: 'Cautions', style: HEADING }],
      ...report.cautions.map((caution) => [caution]),
    ],
  });
}

/** Everything that the scenario did not say. */
export const assumptionsSheet = ({ assumptions }: Report): WriteSheet =>
  textSheet(
    'assumptions',
    [
      ['path', 36],
      ['value', 16],
      ['kind', 10],
      ['why', 100],
    ],
    assumptions.map(({ path, value, kind, ...rest }) => [path, value, kind, whyText(rest)]),
  );

/** What the columns of the sheet of hours mean, and which are not on it. */
export function columnsSheet(table: HoursTable, hours: HoursSheet): WriteSheet {
  const there = new Set<string>(hours.shown.map((column) => column.name));
  const widths = [32, 8, 18, 80];
  return textSheet(
    'columns',
    [...COLUMN_TITLES.map((head, k) => [head, widths[k]!] as const), ['on the sheet hours', 24]],
    columnRows(table).map((row) => [...row, there.has(row[0]!) ? 'yes' : 'no: zero throughout']),
  );
}

const textSheet = (
  name: string,
  columns: readonly (readonly [head: string, width: number])[],
  rows: Sheet['rows'],
): WriteSheet =>
  sheetOf({
    name,
    columns: columns.map(([head, width]) => ({ head, width, style: PROSE })),
    rows,
    freezePane: { rows: 1 },
    autoFilter: { range: `A1:${letters(columns.length - 1)}${rows.length + 1}` },
  });
