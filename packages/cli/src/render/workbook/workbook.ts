import type { Report } from '@longnight/core';
import { writeXlsx } from 'hucre/xlsx';
import { plain } from '../document/plain-text.ts';
import type { HoursTable } from '../tables/hours-table.ts';
import { withRows } from './bytes.ts';
import { hoursSheet } from './hours.ts';
import { leanestSheet, monthsSheet } from './periods.ts';
import { assumptionsSheet, columnsSheet, summarySheet } from './text.ts';

/** A date that no clock gives, so that the same plant makes the same bytes. */
const MADE = new Date(Date.UTC(2000, 0, 1));

/**
 * plant.xlsx: the year as a workbook. Its months and its leanest days are formulas over its hours, so that whoever
 * doubts a figure can follow it. The only place that knows the library which writes it.
 *
 * @param table of hours
 */
export async function workbook(table: HoursTable, report: Report): Promise<Uint8Array> {
  const hours = hoursSheet(table);
  const sheets = [
    summarySheet(report),
    monthsSheet(hours, report),
    leanestSheet(hours, report),
    hours.sheet,
    assumptionsSheet(report),
    columnsSheet(table, hours),
  ];
  const bytes = await writeXlsx({
    sheets,
    properties: {
      title: plain(report.site.name),
      creator: 'longnight',
      created: MADE,
      modified: MADE,
    },
  });
  return withRows(
    bytes,
    sheets.indexOf(hours.sheet) + 1,
    hours.shown.map(({ values }) => values),
  );
}
