import { type Declare, named, several } from '../arguments.ts';

export const declareExplain: Declare = (program, io) => {
  program
    .command('explain')
    .summary('say what a word, a figure, a column or a key means')
    .description(
      'Says what a word of the reports means, such as outage or idle draw; what a figure of report.json or a column of ' +
        'hours.csv means, how it is made and where its definition comes from; and what a key of a scenario means, what ' +
        'it takes and what holds without it. Without a name it lists all.',
    )
    .argument(
      '[term...]',
      'a word, a dotted name such as unmet.share or bank.floor_soc, its last word, or a column',
      several(named),
      [],
    )
    .action(async (term: readonly string[], given) => (await import('./work.ts')).explain(term, given, io));
};
