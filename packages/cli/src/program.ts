import { Command, CommanderError } from 'commander';
import manifest from '../package.json' with { type: 'json' };
import { declareCheck } from './commands/check/declare.ts';
import { declareCompare } from './commands/compare/declare.ts';
import { declareCompletion } from './commands/completion/declare.ts';
import { addExamples } from './commands/examples.ts';
import { declareExplain } from './commands/explain/declare.ts';
import { declareGather } from './commands/gather/declare.ts';
import { declareImprove } from './commands/improve/declare.ts';
import { declareInit } from './commands/init/declare.ts';
import { declareParts } from './commands/parts/declare.ts';
import { declareRun } from './commands/run/declare.ts';
import { declareSchema } from './commands/schema/declare.ts';
import { declareSize } from './commands/size/declare.ts';
import { declareSway } from './commands/sway/declare.ts';
import { declareSweep } from './commands/sweep/declare.ts';
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
    .version(manifest.version, '-V, --version', 'print the version')
    .helpOption('-h, --help', 'show this help')
    .helpCommand('help [command]', 'show the help of a command')
    .option('-q, --quiet', 'print errors and dangers alone, beside what --json and --out ask for')
    .hook('preAction', (_, command) => {
      if (program.opts().quiet === true) hush(command.opts().json === true || printsText(command));
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

  const declares = [
    declareInit,
    declareCheck,
    declareRun,
    declareWeather,
    declareWeek,
    declareCompare,
    declareSize,
    declareSweep,
    declareGather,
    declareImprove,
    declareSway,
    declareParts,
    declareSchema,
    declareExplain,
    declareCompletion,
  ];
  for (const declare of declares) declare(program, io);
  for (const command of program.commands)
    if (!printsText(command))
      command.option(
        '--json',
        'print the result as one JSON document to standard output, and nothing else there',
      );
  addExamples(program);
  styleUsage(program);

  return program;
}

/** True for what prints a text of its own, for a file or another program: it is the same with `--quiet`. */
const printsText = (command: Command): boolean =>
  ['schema', 'completion', 'complete'].includes(command.name());
