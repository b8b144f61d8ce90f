import { type Declare, outInto } from '../arguments.ts';

export const declareGather: Declare = (program, io) => {
  program
    .command('gather')
    .summary('join the parts of a sweep')
    .description(
      'Joins what `sweep --part` wrote, on one machine or on many, into the sweep.csv, sweep.html and sweep.svg that the whole ' +
        'sweep would have written.',
    )
    .argument('<paths...>', 'folders with parts, or the parts themselves (sweep.part-KofN.csv)')
    .requiredOption(...outInto('sweep.csv, sweep.html and sweep.svg'))
    .action(async (paths: readonly string[], given) => (await import('./work.ts')).gather(paths, given, io));
};
