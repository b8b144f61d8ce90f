import type { Command } from 'commander';
import type { Io } from '../../io.ts';
import { outInto, SCENARIO } from '../arguments.ts';

/** Declares `longnight weather`; its work is imported only when it is asked for. */
export function declareWeather(program: Command, io: Io): void {
  program
    .command('weather')
    .summary('show what was read as weather, and put it to the test')
    .description(
      "Shows the weather that a scenario's year is played with, whichever kind it comes from: sums and clearness by " +
        'month, temperatures, gaps and how they were filled, whether its clock fits the sun, and quality tests.',
    )
    .argument(...SCENARIO)
    .option(...outInto('weather.csv and weather.json'))
    .action(async (file: string, given) => (await import('./work.ts')).weather(file, given, io));
}
