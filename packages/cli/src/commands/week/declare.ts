import { InvalidArgumentError } from 'commander';
import { type Declare, named, outInto, SCENARIO, SET, wholeNumber } from '../arguments.ts';

export const declareWeek: Declare = (program, io) => {
  program
    .command('week')
    .summary('ask whether the bank covers a stretch of days')
    .description(
      'Plays some days in a row on their own, as a rule the leanest week of the year from a full bank: whether the plant ' +
        'rides them out, how many such days it would, and what more bank or less load would do.',
    )
    .argument(...SCENARIO)
    .option(...SET)
    .option('--days <n>', 'how many local days', wholeNumber(1, 366, 'days'), 7)
    .option('--start <date>', 'first day, such as 2026-12-20 (default: that of the leanest days)', named)
    .option(
      '--soc <share>',
      'state of charge it begins with, 0 to 1, or "played": as the played year comes to it',
      stateOfCharge,
      1,
    )
    .option('--without-generator', 'leave the generator out')
    .option('--every-year', 'ask every whole year of the weather file, and show the hardest')
    .option(...outInto('week.html, week.md, week.json and week.csv (its hours)'))
    .action(async (file: string, given) => (await import('./work.ts')).week(file, given, io));
};

function stateOfCharge(text: string): number | 'played' {
  if (text === 'played') return text;
  const soc = Number(text);
  if (!/^(\d+\.?\d*|\.\d+)$/.test(text) || soc > 1)
    throw new InvalidArgumentError('expected a number from 0 to 1, such as 0.8, or the word played');
  return soc;
}
