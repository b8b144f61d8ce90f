import { type Command, Option } from 'commander';
import type { TableOptions } from '../render/tables/tables.ts';

/** What commander hands over of the options of `declareTables`. */
export interface TablesGiven {
  readonly csvDecimal: TableOptions['decimal'];
  readonly csvDelimiter?: NonNullable<TableOptions['delimiter']>;
  readonly every: TableOptions['every'];
  readonly xlsx?: true;
  readonly parquet?: true;
}

/** Adds the options that say which tables of the year are written, and how. */
export const declareTables = (command: Command): Command =>
  command
    .addOption(
      new Option('--every <period>', 'what a row of the table covers; days.csv and months.csv are named so')
        .choices(['step', 'hour', 'day', 'month'])
        .default('step'),
    )
    .addOption(
      new Option('--csv-decimal <mark>', 'decimals of the CSV files')
        .choices(['point', 'comma'])
        .default('point'),
    )
    .addOption(
      new Option(
        '--csv-delimiter <mark>',
        'between the cells of the CSV files; unless said a comma, with decimal commas a semicolon',
      ).choices([',', ';', 'tab']),
    )
    .option('--xlsx', 'write plant.xlsx too: months, leanest days and hours as a workbook with formulas')
    .option('--parquet', 'write the table as Parquet too');

export const tablesGiven = (given: TablesGiven): TableOptions => ({
  decimal: given.csvDecimal,
  delimiter: given.csvDelimiter ?? null,
  every: given.every,
  xlsx: given.xlsx === true,
  parquet: given.parquet === true,
});
