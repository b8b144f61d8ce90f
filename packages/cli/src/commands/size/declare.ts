import {
  type Declare,
  EVERY_YEAR,
  IN,
  named,
  outInto,
  requirement,
  SCENARIO,
  SEEDS,
  SET,
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
    .requiredOption(...requirement('a bound that must be kept'))
    .option(
      '--least <figure>',
      'what the best design has least of: a figure, or cost, which is money.total, or money.capital where not all of it is priced',
      named,
      'cost',
    )
    .option(...SEEDS)
    .option(...EVERY_YEAR)
    .option(...IN)
    .option(
      '--at-age <years>',
      'keep every requirement with the plant as old as that: bank and arrays aged, loads grown',
      wholeNumber(1, 40, 'years'),
    )
    .option(...THREADS)
    .option(...outInto('size.html, size.md, size.json and size.csv (every design played)'))
    .action(async (file: string, given) => (await import('./work.ts')).size(file, given, io));
};
