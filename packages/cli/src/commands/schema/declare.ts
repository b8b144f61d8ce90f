import { Argument, type Command } from 'commander';
import type { Io } from '../../io.ts';

/** Declares `longnight schema`; its work is imported only when it is asked for. */
export function declareSchema(program: Command, io: Io): void {
  program
    .command('schema')
    .summary('print the JSON Schema of a file, for editors')
    .description(
      'Prints the JSON Schema (draft 7) of a scenario or of a parts file. With it an editor completes keys, shows what ' +
        'they mean and marks what is wrong; check finds more.',
    )
    .addArgument(
      new Argument('[file]', 'which file it is of').choices(['scenario', 'parts']).default('scenario'),
    )
    .action(async (file: 'scenario' | 'parts') => {
      const { schema } = await import('./work.ts');
      schema(file, io);
    });
}
