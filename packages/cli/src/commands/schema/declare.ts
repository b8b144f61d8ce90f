import { Argument } from 'commander';
import type { Declare } from '../arguments.ts';

export const declareSchema: Declare = (program, io) => {
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
};
