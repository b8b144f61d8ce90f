import type { Command } from 'commander';
import type { Io } from '../../io.ts';
import { named } from '../arguments.ts';

interface Given {
  readonly out?: string;
  readonly json?: true;
}

/** Declares `longnight mend`; its work is imported only when it is asked for. */
export function declareMend(program: Command, io: Io): void {
  program
    .command('mend')
    .summary('find out what the next part buys')
    .description(
      'Makes one change after another to the plant (one more module, one more panel, a larger inverter, another tilt, ' +
        'a generator that starts earlier), plays each over the same year, and ranks them by the unmet energy they take ' +
        'away, the generator hours they save and what that costs. If no single change mends the plant, the best are ' +
        'repeated and paired.',
    )
    .argument('<file>', 'scenario, YAML or JSON', named)
    .option('-o, --out <dir>', 'write mend.md, mend.json and mend.csv into this folder', named)
    .option('--json', 'print mend.json to standard output, and nothing else')
    .action(async (file: string, given: Given) => {
      const { mend } = await import('./work.ts');
      mend(file, { out: given.out ?? null, json: given.json === true }, io);
    });
}
