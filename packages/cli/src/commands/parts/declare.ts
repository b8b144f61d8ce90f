import { type Declare, named, several } from '../arguments.ts';

export const declareParts: Declare = (program, io) => {
  program
    .command('parts')
    .summary('list the parts that a scenario may name')
    .description(
      'Lists parts by kind with their values, from parts files or from those that a scenario names.',
    )
    .argument('<files...>', 'parts files, or scenarios that name some', several(named))
    .action(async (files: readonly string[], given) => (await import('./work.ts')).parts(files, given, io));
};
