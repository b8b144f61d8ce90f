import {
  type Declare,
  named,
  outInto,
  SCENARIO,
  SET,
  several,
  THREADS,
  VARY,
  wholeNumber,
} from '../arguments.ts';

export const declareSize: Declare = (program, io) => {
  program
    .command('size')
    .summary('find the cheapest design that keeps its requirements')
    .description(
      'Plays the combinations of the values given and picks, among those that keep every requirement, the cheapest one, or ' +
        'the one with the least of another figure; shows what stands beside it, cost against unmet energy, and how the ' +
        'answer moves with a darker winter and a larger load. Exits 3 if none keeps them.',
    )
    .argument(...SCENARIO)
    .option(...SET)
    .requiredOption(...VARY)
    .requiredOption(
      '--require <requirement>',
      "a bound that must be kept, such as 'unmet.share<=0.001'; may be given several times",
      several(named),
    )
    .option(
      '--least <figure>',
      'what the best design has least of: a figure, or cost, which is money.total, or money.capital where not all of it is priced',
      named,
      'cost',
    )
    .option(
      '--seeds <n>',
      "play each design in n years drawn from the monthly means: the scenario's seed and those after it",
      wholeNumber(1, 10_000, 'years'),
    )
    .option(
      '--in <m>',
      'in how many of these years every requirement must be kept (default: all)',
      wholeNumber(1, 10_000, 'years'),
    )
    .option(...THREADS)
    .option(...outInto('size.html, size.md, size.json and size.csv (every design played)'))
    .action(async (file: string, given) => (await import('./work.ts')).size(file, given, io));
};
