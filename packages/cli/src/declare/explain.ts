import type { Command } from 'commander';
import type { Io } from '../io.ts';
import { named } from './arguments.ts';

/** Declares `longnight explain`; its work is imported only when it is asked for. */
export function declareExplain(program: Command, io: Io): void {
  program
    .command('explain')
    .summary('say what a figure or a column means')
    .description(
      'Says what a figure of report.json or a column of hours.csv means, how it is made and where its definition comes ' +
        'from; without a name it lists all of them.',
    )
    .argument('[term]', 'a dotted name such as unmet.share, its last word, or a column', named)
    .option('--json', 'print it as JSON to standard output, and nothing else')
    .action(async (term: string | undefined, given: { readonly json?: true }) => {
      const { explain } = await import('../commands/explain.ts');
      explain(term ?? null, { json: given.json === true }, io);
    });
}
