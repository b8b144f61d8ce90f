import { type Declare, outInto, SET } from '../arguments.ts';

export const declareCompare: Declare = (program, io) => {
  program
    .command('compare')
    .summary('put plants side by side over the same hours')
    .description(
      'Plays several plants over the site, weather, loads and year of the first and puts them side by side: what each ' +
        'can do before an hour is played and what sets it, what the year brings, money, bills of materials, and what ' +
        'the dearer one buys.',
    )
    .argument('<files...>', 'two scenarios or more, YAML or JSON; the hours of the first are used')
    .option(...SET)
    .option(...outInto('compare.html, compare.md, compare.json and compare.csv'))
    .action(async (files: readonly string[], given) => (await import('./work.ts')).compare(files, given, io));
};
