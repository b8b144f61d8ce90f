import { type Declare, EVERY_YEAR, IN, outInto, requirement, SEEDS, SET } from '../arguments.ts';

export const declareCompare: Declare = (program, io) => {
  program
    .command('compare')
    .summary('put plants side by side over the same hours')
    .description(
      'Plays several plants over the site, weather, loads and year of the first and puts them side by side: what each ' +
        'can do before an hour is played and what sets it, what the year brings, money, bills of materials, and what ' +
        'the dearer one buys. Over many years all are played in the same ones. Exits 3 if no plant keeps what is required.',
    )
    .argument('<files...>', 'two scenarios or more, YAML or JSON; the hours of the first are used')
    .option(...SET)
    .option(...requirement('a bound to be kept, in place of nothing unmet'))
    .option(...SEEDS)
    .option(...EVERY_YEAR)
    .option(...IN)
    .option(
      ...outInto(
        'compare.html, compare.md, compare.json and compare.csv, and with many years years.csv (each year of each plant)',
      ),
    )
    .action(async (files: readonly string[], given) => (await import('./work.ts')).compare(files, given, io));
};
