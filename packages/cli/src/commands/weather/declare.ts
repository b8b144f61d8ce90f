import type { Command } from 'commander';
import type { Io } from '../../io.ts';
import { named } from '../arguments.ts';

interface Given {
  readonly out?: string;
  readonly json?: true;
}

/** Declares `longnight weather`; its work is imported only when it is asked for. */
export function declareWeather(program: Command, io: Io): void {
  program
    .command('weather')
    .summary('show what was read as weather, and put it to the test')
    .description(
      "Shows the weather that a scenario's year is played with, whichever kind it comes from: sums and clearness by " +
        'month, temperatures, gaps and how they were filled, whether its clock fits the sun, and quality tests.',
    )
    .argument('<file>', 'scenario, YAML or JSON', named)
    .option('-o, --out <dir>', 'write weather.csv and weather.json into this folder', named)
    .option('--json', 'print weather.json to standard output, and nothing else')
    .action(async (file: string, given: Given) => {
      const { weather } = await import('./work.ts');
      weather(file, { out: given.out ?? null, json: given.json === true }, io);
    });
}
