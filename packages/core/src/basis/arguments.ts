import { kindOf } from './kind.ts';

/** What functions of the library take, by what tells it from anything else. */
const ARGUMENTS = {
  text: ['a text', (value) => typeof value === 'string'],
  number: ['a number', (value) => typeof value === 'number'],
  list: ['a list', (value) => Array.isArray(value)],
  map: ['a Map', (value) => value instanceof Map],
  function: ['a function', (value) => typeof value === 'function'],
  object: ['an object', (value) => typeof value === 'object' && value !== null],
  read: ['what readScenario or scenarioOf gives', has('scenario', 'assumptions', 'place', 'source')],
  scenario: [
    'the scenario that readScenario or scenarioOf gives',
    has('site', 'weather', 'arrays', 'bank', 'inverter', 'loads', 'run'),
  ],
  year: ['what prepareYear gives', has('scenario', 'clock', 'sun', 'sky', 'arrays', 'loads', 'timetables')],
  clock: ['the clock of a prepared year', has('steps', 'step_h', 'start_ms', 'day', 'month')],
  plant: ['what plantOf gives', has('arrays', 'bank', 'inverter', 'shedding')],
  ledger: ['what playYear gives', has('year', 'plant', 'columns', 'steps', 'start_stock_kWh')],
  reused: ['what newReusedColumns gives', has('columns', 'tracked_kWh', 'marks', 'wrote')],
  source: ['the text of a scenario with its name and parts texts', has('text', 'file', 'partsTexts')],
  issue: ['an issue of an InputError', has('code', 'path', 'message')],
  starts: ['what periodStarts gives', (value) => value instanceof Uint32Array],
  column: ['a Float64Array', (value) => value instanceof Float64Array],
  file: ['the name of a file, a text', (value) => typeof value === 'string'],
  axis: ['what readAxis gives', has('path', 'values')],
  axes: ['a list of what readAxis gives', listOf('path', 'values')],
  requirement: ['what readRequirement gives', has('name', 'relation', 'bound')],
  report: ['what findings gives', has('unmet', 'bank', 'array', 'notices')],
  site: ['a place with latitude_deg and longitude_deg', has('latitude_deg', 'longitude_deg')],
  sun: ['what sunYear gives', has('up_share', 'altitude_deg', 'extraterrestrial_normal_W_m2', 'air_mass')],
  panel: ['the data sheet of a panel', has('voc_V', 'vmp_V', 'voc_temperature_coefficient_per_K')],
  bank: ['what buildBank gives', has('model', 'older', 'modules_parallel', 'capacity_kWh')],
  inverter: ['what buildInverter gives', has('curve', 'rating_kW')],
  cycles: ['what rainflow gives', has('range', 'count')],
  cycle_life: [
    'points of a cycle life, at least one',
    (value) => listOf('depth_share', 'cycles')(value) && (value as unknown[]).length > 0,
  ],
  guess: ['what firstGuess gives', has('ghi_kWh_m2_day', 'air_temperature_C')],
  name: ['a name, a text', (value) => typeof value === 'string'],
  names: [
    'a list of names',
    (value) => Array.isArray(value) && value.every((one) => typeof one === 'string'),
  ],
  harder: ['what is to be harder, such as NOT_HARDER', has('load', 'dark_season', 'age_years')],
  grown: ['a list of designs that grow', listOf('size_kWp', 'run_hours', 'fuel_L', 'unmet_kWh')],
  size_ask: ['holds, least and years_to_hold', has('holds', 'least', 'years_to_hold')],
  bill: ['what billOfScenario gives', has('lines', 'capital')],
  spec: [
    'a section of the scenario that readScenario gives',
    (value) => typeof value === 'object' && value !== null,
  ],
} satisfies Record<string, readonly [expected: string, isOne: (value: unknown) => boolean]>;

/** The fields of one kind are all that is looked at: it costs nothing beside what is done with them. */
function has(...fields: readonly string[]): (value: unknown) => boolean {
  return (value) => typeof value === 'object' && value !== null && fields.every((field) => field in value);
}

function listOf(...fields: readonly string[]): (value: unknown) => boolean {
  return (value) => Array.isArray(value) && value.every(has(...fields));
}

/**
 * Refuses an argument of another kind, before a field of nothing is read.
 *
 * @param where the function that was called
 * @param name of its argument
 * @throws TypeError naming both, and what makes such an argument
 */
export function expectArgument(
  where: string,
  name: string,
  value: unknown,
  kind: keyof typeof ARGUMENTS,
): void {
  const [expected, isOne] = ARGUMENTS[kind];
  if (isOne(value)) return;
  throw new TypeError(`${where}: ${name} is ${kindOf(value)}; expected ${expected}`);
}

/**
 * The same for several arguments, each named as its kind.
 *
 * @throws TypeError for the first that is of another
 */
export function expectArguments(
  where: string,
  given: Readonly<Partial<Record<keyof typeof ARGUMENTS, unknown>>>,
): void {
  for (const [kind, value] of Object.entries(given))
    expectArgument(where, kind, value, kind as keyof typeof ARGUMENTS);
}
