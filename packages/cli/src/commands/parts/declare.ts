import type { Command } from 'commander';
import type { Io } from '../../io.ts';
import { named, several } from '../arguments.ts';

/** Declares `longnight parts`; its work is imported only when it is asked for. */
export function declareParts(program: Command, io: Io): void {
  program
    .command('parts')
    .summary('list the parts that a scenario may name')
    .description(
      'Lists parts by kind with their values, from parts files or from those that a scenario names.',
    )
    .argument('<files...>', 'parts files, or scenarios that name some', several(named))
    .action(async (files: readonly string[], given) => (await import('./work.ts')).parts(files, given, io));
}
