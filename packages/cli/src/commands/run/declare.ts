import { Option } from 'commander';
import { type Declare, named, outInto, SCENARIO, SET, several, wholeNumber } from '../arguments.ts';

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
    .option(
      '--seeds <n>',
      "play n years drawn from the monthly means: the scenario's seed and those after it, 1 to 10000",
      wholeNumber(1, 10_000, 'years'),
    )
    .option('--lean-days <n>', 'how many days in a row the leanest days are', wholeNumber(1, 365, 'days'), 7)
    .option(
      '--require <requirement>',
      "a bound on a figure of report.json, such as 'unmet.share<=0.001'; may be given several times. Exits 3 if one is missed",
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
