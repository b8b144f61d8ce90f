import { type Declare, SCENARIO, SET } from '../arguments.ts';

export const declareCheck: Declare = (program, io) => {
  program
    .command('check')
    .summary('validate a scenario and show what limits the plant')
    .description(
      'Validates a scenario and the files it names, and prints what the plant can do before an hour is played. Exits 3 if a ' +
        'danger is found.',
    )
    .argument(...SCENARIO)
    .option(...SET)
    .action(async (file: string, given) => (await import('./work.ts')).check(file, given, io));
};
