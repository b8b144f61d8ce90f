import { Command, CommanderError, InvalidArgumentError } from 'commander';
import manifest from '../package.json' with { type: 'json' };
import { named, several, wholeNumber } from './commands/arguments.ts';
import { declareCompare } from './commands/compare/declare.ts';
import { declareCompletion } from './commands/completion/declare.ts';
import { addExamples } from './commands/examples.ts';
import { declareExplain } from './commands/explain/declare.ts';
import { declareGather } from './commands/gather/declare.ts';
import { declareImprove } from './commands/improve/declare.ts';
import { declareInit } from './commands/init/declare.ts';
import { declareParts } from './commands/parts/declare.ts';
import { declareSchema } from './commands/schema/declare.ts';
import { declareSize } from './commands/size/declare.ts';
import { declareSweep } from './commands/sweep/declare.ts';
import { declareTables, type TablesGiven, tablesGiven } from './commands/tables.ts';
import { styleUsage } from './commands/usage.ts';
import { declareWeather } from './commands/weather/declare.ts';
import { declareWeek } from './commands/week/declare.ts';
import { Ending, EXIT } from './exit-codes.ts';
import { type Io, quietable } from './io.ts';

/**
 * Parses the arguments and runs the command they name. Commands are declared here and their work is imported only
 * when it is asked for: `--help` must not pay for what it doesn't use.
 *
 * @param args what follows the program's name
 * @returns the exit code; never throws
 */
export async function runProgram(args: readonly string[], io: Io): Promise<number> {
  try {
    await declare(io).parseAsync([...args], { from: 'user' });
    return EXIT.ok;
  } catch (error) {
    if (error instanceof Ending) {
      io.err(`${error.message}\n`);
      return error.exitCode;
    }
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.ok : EXIT.badInput;
    const { explainFailure } = await import('./failure.ts');
    return explainFailure(error, io);
  }
}

function declare(world: Io): Command {
  const { io, hush } = quietable(world);
  const program = new Command('longnight')
    .description(
      'Plays a stand-alone solar power plant through every hour of a year and says whether the lights stay on.',
    )
    .version(manifest.version)
    .option('-q, --quiet', 'print nothing but errors; files are written as asked')
    .hook('preAction', (_, command) => {
      if (program.opts().quiet !== true) return;
      if (command.opts().json === true)
        command.error('error: --quiet and --json ask for opposite things; expected one of them');
      hush();
    })
    .exitOverride()
    .configureOutput({
      writeOut: (text) => io.out(text),
      writeErr: (text) => io.err(text),
      getOutHasColors: () => io.colour,
      getErrHasColors: () => false,
    })
    .configureHelp({ helpWidth: 80, showGlobalOptions: true })
    .addHelpText(
      'after',
      [
        '',
        'Exit codes: 0 done, 1 a fault of Longnight, 2 bad usage or input, 3 a danger was',
        'found or a requirement is missed, 130 interrupted.',
        'A year with unmet load is a result, not a failure: it exits 0.',
      ].join('\n'),
    );

  declareInit(program, io);

  program
    .command('check')
    .summary('validate a scenario and show what limits the plant')
    .description(
      'Validates a scenario and the files it names, and prints what the plant can do before an hour is played.',
    )
    .argument('<file>', 'scenario, YAML or JSON', named)
    .option('--json', 'print the same as JSON to standard output, and nothing else')
    .action(async (file: string, given: { json?: true }) => {
      const { check } = await import('./commands/check/work.ts');
      check(file, given.json === true, io);
    });

  const playing = program
    .command('run')
    .summary('play a year')
    .description('Plays the year and prints a summary. Files are written only with --out.')
    .argument('<file>', 'scenario, YAML or JSON', named)
    .option(
      '-o, --out <dir>',
      'write report.html, report.md, report.json, hours.csv and columns.csv into this folder',
      named,
    )
    .option('--json', 'print report.json to standard output, and nothing else')
    .option('--years <n>', 'play on year after year, bank and arrays ageing, 1 to 40', wholeYears)
    .option(
      '--seeds <n>',
      "play n years drawn from the monthly means: the scenario's seed and those after it, 1 to 10000",
      wholeNumber(1, 10_000, 'years'),
    )
    .option('--lean-days <n>', 'how many days the leanest stretch has', wholeDays, 7)
    .option(
      '--require <requirement>',
      "a bound on a figure of report.json, such as 'unmet.share<=0.001'; may be given several times. Exits 3 if one is missed",
      several(named),
    )
    .action(
      async (
        file: string,
        given: TablesGiven & {
          out?: string;
          json?: true;
          leanDays: number;
          years?: number;
          seeds?: number;
          require?: readonly string[];
        },
      ) => {
        const { run } = await import('./commands/run/work.ts');
        const { out = null, require: hold = [], json, years = null, seeds = null } = given;
        const tables = tablesGiven(given);
        await run(
          file,
          { out, json: json === true, years, seeds, lean_days: given.leanDays, hold, tables },
          io,
        );
      },
    );
  declareTables(playing);

  declareWeather(program, io);
  declareWeek(program, io);
  declareCompare(program, io);
  declareSize(program, io);
  declareSweep(program, io);
  declareGather(program, io);
  declareImprove(program, io);
  declareParts(program, io);
  declareSchema(program, io);
  declareExplain(program, io);
  declareCompletion(program, io);
  addExamples(program);
  styleUsage(program);

  return program;
}

function wholeYears(text: string): number {
  const years = Number(text);
  if (!/^\d+$/.test(text) || years < 1 || years > 40)
    throw new InvalidArgumentError('expected a whole number of years from 1 to 40');
  return years;
}

function wholeDays(text: string): number {
  const days = Number(text);
  if (!/^\d+$/.test(text) || days < 1 || days > 365)
    throw new InvalidArgumentError('expected a whole number of days from 1 to 365');
  return days;
}
