import type { Command } from 'commander';
import type { Io } from '../../io.ts';
import { named, several, wholeNumber } from '../arguments.ts';

interface Given {
  readonly vary: readonly string[];
  readonly require: readonly string[];
  readonly least: string;
  readonly seeds?: number;
  readonly in?: number;
  readonly threads?: number;
  readonly out?: string;
  readonly json?: true;
}

/** Declares `longnight size`; its work is imported only when it is asked for. */
export function declareSize(program: Command, io: Io): void {
  program
    .command('size')
    .summary('find the cheapest design that keeps its requirements')
    .description(
      'Plays the combinations of the values given and picks, among those that keep every requirement, the one with the least ' +
        'figure; shows what stands beside it, cost against unmet energy, and how the answer moves with a darker ' +
        'winter and a larger load. Exits 3 if none keeps them.',
    )
    .argument('<file>', 'scenario, YAML or JSON', named)
    .requiredOption(
      '--vary <path=values>',
      'a key of the scenario and its values: PATH=A,B,C or PATH=FROM:TO:STEP; may be given several times',
      several(named),
    )
    .requiredOption(
      '--require <requirement>',
      "a bound that must be kept, such as 'unmet.share<=0.001'; may be given several times",
      several(named),
    )
    .option(
      '--least <figure>',
      'the figure to make as small as can be; cost stands for money.total, or for money.capital where not all of it is priced',
      named,
      'cost',
    )
    .option(
      '--seeds <n>',
      "play each design in n years drawn from the monthly means: the scenario's seed and those after it",
      wholeNumber(1, 10_000, 'years'),
    )
    .option(
      '--in <m>',
      'in how many of these years every requirement must be kept; all unless said',
      wholeNumber(1, 10_000, 'years'),
    )
    .option(
      '--threads <n>',
      'worker threads; unless said, one for each processor if there is work for them',
      wholeNumber(1, 256, 'threads'),
    )
    .option(
      '-o, --out <dir>',
      'write size.html, size.md, size.json and size.csv (every design played) into this folder',
      named,
    )
    .option('--json', 'print size.json to standard output, and nothing else')
    .action(async (file: string, given: Given) => {
      const { size } = await import('./work.ts');
      await size(
        file,
        {
          vary: given.vary,
          hold: given.require,
          least: given.least,
          seeds: given.seeds ?? null,
          in: given.in ?? null,
          threads: given.threads ?? null,
          out: given.out ?? null,
          json: given.json === true,
        },
        io,
      );
    });
}
