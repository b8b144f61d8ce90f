import type { Command } from 'commander';
import type { Io } from '../../io.ts';
import { named } from '../arguments.ts';

interface Given {
  readonly out?: string;
  readonly json?: true;
}

/** Declares `longnight compare`; its work is imported only when it is asked for. */
export function declareCompare(program: Command, io: Io): void {
  program
    .command('compare')
    .summary('put plants side by side over the same hours')
    .description(
      'Plays several plants over the site, weather, loads and year of the first and puts them side by side: what each ' +
        'can do before an hour is played and what sets it, what the year brings, money, bills of materials, and what ' +
        'the dearer one buys.',
    )
    .argument('<files...>', 'two scenarios or more, YAML or JSON; the hours of the first are used')
    .option(
      '-o, --out <dir>',
      'write compare.html, compare.md, compare.json and compare.csv into this folder',
      named,
    )
    .option('--json', 'print compare.json to standard output, and nothing else')
    .action(async (files: readonly string[], given: Given) => {
      const { compare } = await import('./work.ts');
      await compare(files, { out: given.out ?? null, json: given.json === true }, io);
    });
}
