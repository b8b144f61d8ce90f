import { type Command, InvalidArgumentError } from 'commander';
import type { Io } from '../../io.ts';
import { named, price, several, wholeNumber } from '../arguments.ts';

interface Given {
  readonly vary: readonly string[];
  readonly sample?: number;
  readonly hourWorth?: number;
  readonly out?: string;
  readonly resume?: true;
  readonly part?: { readonly number: number; readonly of: number };
  readonly threads?: number;
  readonly json?: true;
}

/** Declares `longnight sweep`; its work is imported only when it is asked for. */
export function declareSweep(program: Command, io: Io): void {
  program
    .command('sweep')
    .summary('play many designs over the same year')
    .description(
      'Plays every combination of the values given, or a sample of them, over the same year and prints a table. ' +
        'With --out, sweep.csv gets one row a design, sweep.html shows what they say, and sweep.svg is a chart if one or two numeric keys vary.',
    )
    .argument('<file>', 'scenario, YAML or JSON', named)
    .requiredOption(
      '--vary <path=values>',
      'a key of the scenario and its values: PATH=A,B,C or PATH=FROM:TO:STEP; may be given several times',
      several(named),
    )
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
    .option('-o, --out <dir>', 'write sweep.csv, sweep.html and sweep.svg into this folder', named)
    .option('--resume', 'go on where an interrupted sweep with the same --out stopped')
    .option('--part <k/n>', 'play the k-th of n shares of the designs; longnight gather joins them', share)
    .option(
      '--threads <n>',
      'worker threads; unless said, one for each processor if there is work for them',
      wholeNumber(1, 256, 'threads'),
    )
    .option('--json', 'print the rows as one JSON document to standard output, and nothing else')
    .action(async (file: string, given: Given) => {
      const { sweep } = await import('./work.ts');
      await sweep(
        file,
        {
          vary: given.vary,
          sample: given.sample ?? null,
          hour_worth: given.hourWorth ?? null,
          out: given.out ?? null,
          resume: given.resume === true,
          part: given.part ?? null,
          threads: given.threads ?? null,
          json: given.json === true,
        },
        io,
      );
    });
}

function share(text: string): { number: number; of: number } {
  const match = /^(\d+)\/(\d+)$/.exec(text);
  const [number, of] = [Number(match?.[1]), Number(match?.[2])];
  if (match === null || !(number >= 1 && number <= of && of <= 100_000))
    throw new InvalidArgumentError('expected K/N with K from 1 to N, such as 3/16; N is at most 100000');
  return { number, of };
}
