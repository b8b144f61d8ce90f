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
} satisfies Record<string, readonly [expected: string, isOne: (value: unknown) => boolean]>;

/** The fields of one kind are all that is looked at: it costs nothing beside what is done with them. */
function has(...fields: readonly string[]): (value: unknown) => boolean {
  return (value) => typeof value === 'object' && value !== null && fields.every((field) => field in value);
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

/** What a value is, in a word or two. */
export function kindOf(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (value === null) return 'null';
  if (typeof value === 'object') return `an object of class ${value.constructor?.name ?? 'unknown'}`;
  return typeof value === 'number' ? String(value) : `a ${typeof value}`;
}
