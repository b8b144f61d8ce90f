import { Option } from 'commander';
import {
  type Declare,
  named,
  outInto,
  PERCENTILES,
  SCENARIO,
  SEEDS,
  SET,
  several,
  wholeNumber,
} from '../arguments.ts';

export const declareRun: Declare = (program, io) => {
  program
    .command('run')
    .summary('play a year')
    .description(
      'Plays the year, says whether the plant holds and what gives out first. Files are written only with --out. Exits 3 if ' +
        'a danger is found.',
    )
    .argument(...SCENARIO)
    .option(...SET)
    .option(...outInto('report.html, report.md, report.json, hours.csv and columns.csv'))
    .option(
      '--years <n>',
      'play on year after year, bank and arrays ageing, 1 to 40',
      wholeNumber(1, 40, 'years'),
    )
    .option(...SEEDS)
    .option(...PERCENTILES)
    .option('--lean-days <n>', 'how many days in a row the leanest days are', wholeNumber(1, 365, 'days'), 7)
    .option(
      '--require <requirement>',
      "a bound on a figure of report.json, such as 'unmet.share<=0.001', or on one of many years, such as 'unmet.energy_kWh.p95<=2' with --seeds; may be given several times. Exits 3 if one is missed",
      several(named),
    )
    .addOption(
      new Option(
        '--every <period>',
        'what a row of the table covers; a table of days is days.csv, one of months months.csv',
      )
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
        'between the cells of the CSV files (default: a comma, with decimal commas a semicolon)',
      ).choices([',', ';', 'tab']),
    )
    .option('--xlsx', 'write plant.xlsx too: months, leanest days and hours as a workbook with formulas')
    .option('--parquet', 'write the table as Parquet too')
    .action(async (file: string, given) => (await import('./work.ts')).run(file, given, io));
};
