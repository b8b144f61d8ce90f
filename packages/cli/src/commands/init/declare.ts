import { type Command, InvalidArgumentError } from 'commander';
import type { Io } from '../../io.ts';
import { named, several, wholeNumber } from '../arguments.ts';

function number(text: string): number {
  const value = text.trim() === '' ? Number.NaN : Number(text);
  if (!Number.isFinite(value)) throw new InvalidArgumentError('expected a number');
  return value;
}

/** Declares `longnight init`; its work is imported only when it is asked for. */
export function declareInit(program: Command, io: Io): void {
  program
    .command('init')
    .summary('write a commented starter scenario')
    .description(
      'Writes a commented starter scenario: an invented plant, every key explained with its unit, and the JSON Schema ' +
        'beside it that editors complete it by. On a terminal it asks for site, loads and parts; with any of the ' +
        'options below it asks nothing.',
    )
    .argument('[file]', 'where to write it', named, 'scenario.yaml')
    .option('--force', 'overwrite the file if it is there')
    .option('--example', 'ask nothing: the invented plant as it is')
    .option(
      '--at <place>',
      'latitude and longitude, 44.5,-71.3 or "44.5N 71.3W": a first guess of its sun',
      named,
    )
    .option('--elevation-m <height>', 'above the sea, feet as 1200ft; the land around, unless said', named)
    .option('--site-name <name>', 'name of the site', named)
    .option('--time-zone <zone>', 'IANA name such as Europe/Oslo; by the coordinates, unless said', named)
    .option('--weather <file>', 'a TMY3 or EPW file: the site is read from its head', named)
    .option('--loads <file>', 'a table of measured loads, its column of power named with a unit', named)
    .option('--ghi <list>', 'twelve monthly means of a day, kWh/m² on the horizontal, January first', named)
    .option('--clear-sky', 'no monthly means yet: a sky without clouds, no forecast')
    .option('--air-temperature <list>', 'twelve monthly means, °C; one figure will do for a clear sky', named)
    .option('--daily-kWh <kWh>', 'energy of all loads on a day, instead of appliances', number)
    .option(
      '--parts <file>',
      'a parts file that the scenario names; may be given several times',
      several(named),
    )
    .option('--panel <part>', 'panel of that name, with --panels', named)
    .option('--panels <n>', 'number of panels', wholeNumber(0, 100_000, 'panels'))
    .option('--array-kWp <kWp>', 'size of the array, where panels are not counted', number)
    .option('--array-tilt <deg>', 'from horizontal; by the latitude, unless said', number)
    .option(
      '--array-azimuth <deg>',
      'clockwise from north, 180 for south; towards the equator, unless said',
      number,
    )
    .option('--module <part>', 'battery module of that name', named)
    .option('--modules <n>', 'number of battery modules', wholeNumber(1, 10_000, 'modules'))
    .option('--inverter <part>', 'inverter of that name', named)
    .option('--generator [part]', "generator of that name, or the example's; none unless said")
    .action(async (file: string, flags) => (await import('./work.ts')).init(file, flags, io));
}
