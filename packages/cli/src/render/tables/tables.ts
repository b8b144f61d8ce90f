import type { Ledger, Period, Report } from '@longnight/core';
import { refused } from '@longnight/core/scenario';
import type { Output } from '../../files/output-set.ts';
import { present } from '../document/document.ts';
import { type Marks, PLAIN_MARKS } from './decimal-writer.ts';
import { COLUMNS_NAME, CSV_NAMES, columnsCsv, hoursCsv } from './hours-csv.ts';
import { type HoursTable, hoursTable } from './hours-table.ts';

/** Which tables of the year `run` writes, as the user asked for them. */
export interface TableOptions {
  readonly csvDecimal: 'point' | 'comma';
  /** Unless said, the one that goes with the decimals. */
  readonly csvDelimiter?: ',' | ';' | 'tab';
  readonly every: Period;
  readonly xlsx?: true;
  readonly parquet?: true;
}

/** Names of the files, in the order in which they are written. */
export const tableNames = ({ every, xlsx, parquet }: TableOptions): readonly string[] =>
  present([CSV_NAMES[every], COLUMNS_NAME, xlsx && 'plant.xlsx', parquet && PARQUET_NAME(every)]);

const PARQUET_NAME = (every: Period): string => CSV_NAMES[every].replace(/csv$/, 'parquet');

/** Names that any options lead to. */
export const ALL_TABLE_NAMES: readonly string[] = [
  ...new Set(
    (Object.keys(CSV_NAMES) as Period[]).flatMap((every) => [CSV_NAMES[every], PARQUET_NAME(every)]),
  ),
  COLUMNS_NAME,
  'plant.xlsx',
];

/**
 * What parts the cells and the decimals of the CSV files.
 *
 * @throws InputError where both would be a comma
 */
function marksOf({ csvDecimal: decimal, csvDelimiter: delimiter }: TableOptions): Marks {
  if (decimal === 'comma' && delimiter === ',')
    throw refused('csv-marks', "--csv-decimal comma --csv-delimiter ','")`a comma can't part both the cells
      and the decimals of one file | add --csv-delimiter ';' or --csv-delimiter tab, or leave
      --csv-delimiter out: with decimal commas it is ';' | two marks that differ`;
  if (decimal === 'point' && delimiter === undefined) return PLAIN_MARKS;
  const between = delimiter ?? ';';
  return { delimiter: between === 'tab' ? '\t' : between, decimal: decimal === 'comma' ? ',' : '.' };
}

/**
 * Refuses options that can't be kept before anything is played.
 *
 * @throws InputError if a table is asked for and no folder to write it into, or marks that can't be told apart
 */
export function checkTables(options: TableOptions, out: string | undefined): void {
  marksOf(options);
  if (out !== undefined) return;
  const idle = present([
    options.every !== 'step' && `--every ${options.every}`,
    options.csvDecimal !== 'point' && `--csv-decimal ${options.csvDecimal}`,
    options.csvDelimiter !== undefined && `--csv-delimiter '${options.csvDelimiter}'`,
    options.xlsx && '--xlsx',
    options.parquet && '--parquet',
  ]);
  if (idle.length === 0) return;
  throw refused('no-out', idle.join(' '))`says how tables are written, and none is written | add --out DIR |
    a folder to write into`;
}

/** The tables that were asked for. What makes workbooks is loaded only if one is. */
export async function tableOutputs(
  ledger: Ledger,
  report: Report,
  options: TableOptions,
): Promise<readonly Output[]> {
  const marks = marksOf(options);
  const table = hoursTable(ledger, options.every);
  const outputs: Output[] = [
    { name: CSV_NAMES[options.every], text: hoursCsv(table, marks) },
    { name: COLUMNS_NAME, text: columnsCsv(table, marks) },
  ];
  if (options.xlsx) {
    const { workbook } = await import('../workbook/workbook.ts');
    // Rows of hours at most: a sheet of five-minute steps is more than most programs open.
    const hours: HoursTable = options.every === 'hour' ? table : hoursTable(ledger, 'hour');
    outputs.push({ name: 'plant.xlsx', text: await workbook(hours, report) });
  }
  if (options.parquet) {
    const { hoursParquet } = await import('./hours-parquet.ts');
    outputs.push({ name: PARQUET_NAME(options.every), text: hoursParquet(table) });
  }
  return outputs;
}
