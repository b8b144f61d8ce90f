import { Argument } from 'commander';
import type { Declare } from '../arguments.ts';

const SHELLS = ['bash', 'zsh', 'fish', 'powershell'] as const;
export type Shell = (typeof SHELLS)[number];

/**
 * Declares `longnight completion`, and the hidden command that its scripts ask at each press of the key. Declared last:
 * what stands before it is what is completed.
 */
export const declareCompletion: Declare = (program, io) => {
  program
    .command('completion')
    .summary('print a script that completes commands in a shell')
    .description(
      'Prints a script that teaches a shell to complete commands, options and their values. For bash: put ' +
        '`source <(longnight completion bash)` into ~/.bashrc.',
    )
    .addArgument(new Argument('<shell>', 'whose script').choices(SHELLS))
    .action(async (shell: Shell) => {
      const { completion } = await import('./work.ts');
      completion(shell, io);
    });
  program
    .command('complete', { hidden: true })
    .argument('[words...]')
    .allowUnknownOption()
    .helpOption(false)
    .action(async (words: readonly string[]) => {
      const { complete } = await import('./work.ts');
      await complete(program, words, io);
    });
};
