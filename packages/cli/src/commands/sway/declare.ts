import { type Declare, named, outInto, SCENARIO, SET, several } from '../arguments.ts';

export const declareSway: Declare = (program, io) => {
  program
    .command('sway')
    .summary('find out what the answer hangs on')
    .description(
      'Moves one guess at a time (sun, loads, losses, what the bank holds), plays the year with each value, and ranks the ' +
        'guesses by what turns the verdict, then by what moves unmet energy, generator hours and money. Says how far off ' +
        'each would have to be for the verdict to turn. Ranges are the usual ones unless --move says others.',
    )
    .argument(...SCENARIO)
    .option(...SET)
    .option(
      '--move <key=values>',
      'a guess and its range, KEY=LOW:HIGH, or values to try, KEY=A,B,C; KEY is sun, panels, load (factors), air (kelvins added) or a key of the scenario, [*] for every item of a list; may be given several times',
      several(named),
    )
    .option(
      '--require <requirement>',
      "a bound that a plant must keep to hold, such as 'unmet.share<=0.001', in place of nothing unmet; may be given several times",
      several(named),
    )
    .option(...outInto('sway.html, sway.md, sway.json and sway.csv'))
    .action(async (file: string, given) => (await import('./work.ts')).sway(file, given, io));
};
