import { InvalidArgumentError } from 'commander';
import { type Declare, outInto, price, SCENARIO, SET, THREADS, VARY, wholeNumber } from '../arguments.ts';

export const declareSweep: Declare = (program, io) => {
  program
    .command('sweep')
    .summary('play many designs over the same year')
    .description(
      'Plays every combination of the values given, or a sample of them, over the same year and prints a table. ' +
        'With --out, sweep.csv gets one row a design, sweep.html shows what they say, and sweep.svg is a chart if one or two numeric keys vary.',
    )
    .argument(...SCENARIO)
    .option(...SET)
    .requiredOption(...VARY)
    .option(
      '--sample <n>',
      'play an even cover of n combinations instead of all',
      wholeNumber(1, 1e9, 'designs'),
    )
    .option(
      '--hour-worth <money>',
      'what an hour of the generator less is worth to you beyond its priced fuel and service: marks how large an array pays',
      price,
    )
    .option(...outInto('sweep.csv, sweep.html and sweep.svg'))
    .option('--resume', 'go on where an interrupted sweep with the same --out stopped')
    .option('--part <k/n>', 'play the k-th of n shares of the designs; longnight gather joins them', share)
    .option(...THREADS)
    .action(async (file: string, given) => (await import('./work.ts')).sweep(file, given, io));
};

function share(text: string): { number: number; of: number } {
  const match = /^(\d+)\/(\d+)$/.exec(text);
  const [number, of] = [Number(match?.[1]), Number(match?.[2])];
  if (match === null || !(number >= 1 && number <= of && of <= 100_000))
    throw new InvalidArgumentError('expected K/N with K from 1 to N, such as 3/16; N is at most 100000');
  return { number, of };
}
