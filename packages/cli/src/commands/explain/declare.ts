import type { Command } from 'commander';
import type { Io } from '../../io.ts';
import { named } from '../arguments.ts';

/** Declares `longnight explain`; its work is imported only when it is asked for. */
export function declareExplain(program: Command, io: Io): void {
  program
    .command('explain')
    .summary('say what a figure, a column or a key means')
    .description(
      'Says what a figure of report.json or a column of hours.csv means, how it is made and where its definition comes ' +
        'from; and what a key of a scenario means, what it takes and what holds without it. Without a name it lists all.',
    )
    .argument(
      '[term]',
      'a dotted name such as unmet.share or bank.floor_soc, its last word, or a column',
      named,
    )
    .option('--json', 'print it as JSON to standard output, and nothing else')
    .action(async (term: string | undefined, given: { readonly json?: true }) => {
      const { explain } = await import('./work.ts');
      explain(term ?? null, { json: given.json === true }, io);
    });
}
