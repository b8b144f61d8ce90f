import { type Command, InvalidArgumentError } from 'commander';
import type { Io } from '../../io.ts';
import { named, wholeNumber } from '../arguments.ts';

interface Given {
  readonly days: number;
  readonly start?: string;
  readonly soc: number | 'played';
  readonly withoutGenerator?: true;
  readonly everyYear?: true;
  readonly out?: string;
  readonly json?: true;
}

/** Declares `longnight week`; its work is imported only when it is asked for. */
export function declareWeek(program: Command, io: Io): void {
  program
    .command('week')
    .summary('ask whether the bank covers a stretch of days')
    .description(
      'Plays a stretch of days on its own, unless said the leanest of the year and from a full bank: whether it is ' +
        'ridden out, for how many such days, and what more bank or less load would do.',
    )
    .argument('<file>', 'scenario, YAML or JSON', named)
    .option('--days <n>', 'how many local days', wholeNumber(1, 366, 'days'), 7)
    .option(
      '--start <date>',
      'first day, such as 2026-12-20; unless said, the leanest days are looked for',
      named,
    )
    .option(
      '--soc <share>',
      'state of charge it begins with, 0 to 1, or "played": as the played year comes to it',
      stateOfCharge,
      1,
    )
    .option('--without-generator', 'leave the generator out')
    .option('--every-year', 'ask every whole year of the weather file, and show the hardest')
    .option(
      '-o, --out <dir>',
      'write week.html, week.md, week.json and week.csv (its hours) into this folder',
      named,
    )
    .option('--json', 'print week.json to standard output, and nothing else')
    .action(async (file: string, given: Given) => {
      const { lean } = await import('./work.ts');
      await lean(
        file,
        {
          ask: {
            days: given.days,
            start: given.start ?? null,
            soc: given.soc === 'played' ? null : given.soc,
            generator: given.withoutGenerator !== true,
          },
          everyYear: given.everyYear === true,
          out: given.out ?? null,
          json: given.json === true,
        },
        io,
      );
    });
}

function stateOfCharge(text: string): number | 'played' {
  if (text === 'played') return text;
  const soc = Number(text);
  if (!/^(\d+\.?\d*|\.\d+)$/.test(text) || soc > 1)
    throw new InvalidArgumentError('expected a number from 0 to 1, such as 0.8, or the word played');
  return soc;
}
