import { type Declare, EVERY_YEAR, IN, outInto, requirement, SCENARIO, SEEDS, SET } from '../arguments.ts';

export const declareImprove: Declare = (program, io) => {
  program
    .command('improve')
    .summary('find out what the next part buys')
    .description(
      'Makes one change after another to the plant (one more module, one more panel, a larger inverter, another tilt, ' +
        'a generator that starts earlier), plays each over the same year, and ranks them by the unmet energy they take ' +
        'away, the generator hours they save and what that costs. If no single change makes the plant hold, the best are ' +
        'repeated and paired. Over many years every change is played in all of them.',
    )
    .argument(...SCENARIO)
    .option(...SET)
    .option(...requirement('a bound to be kept, in place of nothing unmet'))
    .option(...SEEDS)
    .option(...EVERY_YEAR)
    .option(...IN)
    .option(...outInto('improve.html, improve.md, improve.json and improve.csv'))
    .action(async (file: string, given) => (await import('./work.ts')).improve(file, given, io));
};
