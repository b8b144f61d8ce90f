import { type Declare, outInto, SCENARIO, SET } from '../arguments.ts';

export const declareWeather: Declare = (program, io) => {
  program
    .command('weather')
    .summary('show what was read as weather, and put it to the test')
    .description(
      "Shows the weather that a scenario's year is played with, whichever kind it comes from: sums and clearness by " +
        'month, temperatures, gaps and how they were filled, whether its clock fits the sun, and quality tests.',
    )
    .argument(...SCENARIO)
    .option(...SET)
    .option(...outInto('weather.csv and weather.json'))
    .action(async (file: string, given) => (await import('./work.ts')).weather(file, given, io));
};
