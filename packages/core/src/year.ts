import type { ArrayYear } from './array/prepare.ts';
import { prepareArray } from './array/prepare.ts';
import { expectArgument } from './basis/arguments.ts';
import { uniformDraws } from './basis/draws.ts';
import { InputError } from './basis/errors.ts';
import { memo, newNames, ofObject } from './basis/memo.ts';
import { type Assumption, modelled as model, type Notice } from './basis/notices.ts';
import { buildClock, type Clock } from './clock/clock.ts';
import { wallClock } from './clock/wall.ts';
import { windowShare } from './clock/windows.ts';
import { partStepNotices } from './loads/part-steps.ts';
import { followsWeather, prepareLoads, yearSeed } from './loads/prepare.ts';
import { type LoadYear, timesLoad } from './loads/types.ts';
import { type OtherSources, type OtherSourceYear, prepareOthers } from './others/prepare.ts';
import type { ReadScenario } from './scenario/read.ts';
import { allInOneAssumptions } from './scenario/rules/all-in-one-assumptions.ts';
import { bankAssumption } from './scenario/rules/bank-assumption.ts';
import { chemistryAssumptions } from './scenario/rules/chemistry.ts';
import type { ArraySpec, Scenario } from './scenario/schema/schema.ts';
import { type ShoreRule, shoreRule } from './scenario/schema/sources.ts';
import type { FileTexts } from './series/types.ts';
import { AS_IT_IS, type MovedSky, movedSky } from './sky/moved.ts';
import { prepareSky } from './sky/prepare.ts';
import type { SkyYear } from './sky/types.ts';
import type { SunYear } from './sun/year.ts';
import { sunYear } from './sun/year.ts';

/** What comes and goes by the clock. */
export interface Timetables {
  /** 1 for each step in which the generator may not run, else 0; null if it may always. */
  readonly generator_barred: Uint8Array | null;
  /** Uniform draws, one a step, that decide whether a start fails; null if none does. */
  readonly start_draw: Float64Array | null;
  /** 1 for each step that lies wholly in the windows of the socket, else 0; null without one. */
  readonly shore_there: Uint8Array | null;
  /** Share of each step in which the engine runs that charges through the DC-DC charger; null without one. */
  readonly engine_share: Float64Array | null;
}

/** All that a year of hours needs and that does not depend on the sizes of the plant. */
export interface PreparedYear {
  /** What it was made from. */ readonly scenario: Scenario;
  /** Its steps. */ readonly clock: Clock;
  /** Where the sun stands. */ readonly sun: SunYear;
  /** Light and air. */ readonly sky: SkyYear;
  /** Same order as `scenario.arrays`. */ readonly arrays: readonly ArrayYear[];
  /** What is wanted. */ readonly loads: LoadYear;
  /** Same order as `scenario.other_sources`. */ readonly others: readonly OtherSourceYear[];
  /** Temperature of the bank per step, °C. */ readonly bank_temperature_C: Float64Array;
  /** What comes and goes by the clock. */ readonly timetables: Timetables;
  /** What happened while reading. */ readonly notices: readonly Notice[];
  /** What the year rests on. */ readonly assumptions: readonly Assumption[];
}

/**
 * Clock, sun, sky, arrays per kWp and loads of a scenario: the data's way through the house, top to bottom.
 *
 * @param read a scenario as `readScenario` or `scenarioOf` gave it
 * @param file its name, for messages; left out, the one that it was read by
 * @param texts text, or numbers, of every file that `filesNamed` lists; left out, the numbers handed to `scenarioOf`
 * @throws InputError if a series can't be used
 */
export function prepareYear(read: ReadScenario, file?: string, texts?: FileTexts): PreparedYear {
  expectArgument('prepareYear', 'read', read, 'read');
  const name = file ?? read.place('').file;
  const prepare = newYearPreparer(name, texts ?? read.series);
  return inScenario(read, name, () => withAssumptionsOf(read, prepare(read.scenario)));
}

/** What is found wrong with a section as a whole is given the place of its key. */
function inScenario<T>(read: ReadScenario, file: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const placed = error.issues.map((issue) =>
      issue.path === '' ||
      (issue.place !== undefined && (issue.place.line !== undefined || issue.place.file !== file))
        ? issue
        : { ...issue, place: { ...read.place(issue.path), file } },
    );
    throw new InputError(placed, error.more);
  }
}

/** A prepared year with the defaults that its scenario rests on, beside the models. */
export const withAssumptionsOf = (read: ReadScenario, year: PreparedYear): PreparedYear => ({
  ...year,
  assumptions: distinct([...read.assumptions, ...year.assumptions]),
});

/** A year is about 70 kB a column: this many of each stage stay below some 200 MB. */
const KEPT = { site: 32, sky: 128, array: 256, loads: 128 } as const;

/**
 * The same for many scenarios that differ a little, each stage computed once for what it depends on: sun by site and
 * year, sky by weather, arrays by roof, loads by load list. Sizes and parts change none of them.
 *
 * @returns a function from a scenario, and what its sky is moved by, to its year; its `assumptions` are those of the
 *   models alone
 */
export function newYearPreparer(
  file: string,
  texts: FileTexts,
): (scenario: Scenario, moved?: MovedSky) => PreparedYear {
  expectArgument('newYearPreparer', 'texts', texts, 'map');
  const sites = memo<{ clock: Clock; sun: SunYear }>(KEPT.site);
  const skies = memo<SkyYear>(KEPT.sky);
  const roofs = memo<ArrayYear>(KEPT.array);
  const loadYears = memo<LoadYear>(KEPT.loads);
  const otherYears = memo<OtherSources>(KEPT.loads);
  const tables = memo<{ timetables: Timetables; notices: readonly Notice[] }>(KEPT.loads);
  const rooms = memo<Float64Array>(KEPT.loads);
  const nameOf = newNames();
  const roofName = ofObject((spec: ArraySpec) => nameOf({ ...spec, ...SIZES_OF_ARRAY }));
  const roomOf = (steps: number, temperature_C: number): Float64Array =>
    rooms(`${steps} ${temperature_C}`, () => new Float64Array(steps).fill(temperature_C));
  return (scenario, moved = AS_IT_IS) => {
    expectArgument('newYearPreparer', 'scenario', scenario, 'scenario');
    const { site, weather, run, bank, generator, shore, alternator } = scenario;
    const siteKey = `${nameOf(site)} ${run.year} ${run.step_min} `;
    const { clock, sun } = sites(siteKey, () => {
      const clock = buildClock(run.year, site.time_zone, run.step_min);
      return { clock, sun: sunYear(clock, site) };
    });
    const ownKey = `${siteKey}${nameOf(weather)} `;
    const own = skies(ownKey, () => prepareSky(weather, site, clock, sun, texts, file));
    const skyKey = moved === AS_IT_IS ? ownKey : `${ownKey}${nameOf(moved)} `;
    const sky = skies(skyKey, () => movedSky(own, moved));
    const arrays = scenario.arrays.map((spec) =>
      roofs(skyKey + roofName(spec), () => prepareArray(spec, site, clock, sun, sky)),
    );
    // Only loads that follow the air, or vary, are others under another sky.
    const loadsKey = followsWeather(scenario.loads) ? skyKey : siteKey;
    const sleeps = scenario.inverter.sleep !== undefined;
    const loads = loadYears(`${loadsKey}${sleeps}${run.load_factor} ${nameOf(scenario.loads)}`, () => {
      const air = sky.air_temperature_C;
      const asked = prepareLoads(scenario.loads, clock, texts, air, sleeps, yearSeed(scenario));
      return timesLoad(asked, run.load_factor);
    });
    const { other_sources = [] } = scenario;
    const others = otherYears(`${siteKey}${nameOf(other_sources)}`, () =>
      prepareOthers(other_sources, clock, texts),
    );
    const tablesKey = `${siteKey}${[clockOf(generator), shore, alternator].map((part) => part && nameOf(part))}`;
    const { timetables, notices } = tables(tablesKey, () => ({
      timetables: timetablesOf(scenario, clock),
      notices: windowNotices(scenario, clock),
    }));
    return {
      scenario,
      clock,
      sun,
      sky,
      arrays,
      loads,
      others: others.years,
      bank_temperature_C:
        bank.temperature.kind === 'outdoors'
          ? sky.air_temperature_C
          : roomOf(clock.steps, bank.temperature.temperature_C),
      timetables,
      notices: [...sky.notices, ...loads.notices, ...others.notices, ...notices],
      // A study asks no design for them.
      get assumptions() {
        return distinct([
          ...sky.assumptions,
          ...arrays.flatMap((array) => array.assumptions),
          ...loads.assumptions,
          ...others.assumptions,
          ...(other_sources.length === 0 ? [] : [OTHERS]),
          HOURS,
          dispatch(scenario),
          bankAssumption(bank),
          ...allInOneAssumptions(scenario),
          ...chemistryAssumptions(bank),
          sleeps ? INVERTER_SLEEPS : INVERTER_ON,
          ...(scenario.inverter.cut_off === undefined ? [] : [CUT_OFF]),
          ...(bank.temperature.kind === 'outdoors' ? [OUTDOOR_BANK] : []),
        ]);
      },
    };
  };
}

/** What an array's year per kWp does not depend on. */
const SIZES_OF_ARRAY = {
  size_kWp: 0,
  panels: 0,
  panel_kWp: 0,
  panel: null,
  panels_in_series: 0,
  strings_parallel: 0,
  part: '',
  price: 0,
  life_years: 0,
  ageing_share_per_year: 0,
  tracker: null,
} as const;

/** What of a generator is a matter of the clock, not of sizes. */
const clockOf = (generator: Scenario['generator']): object | undefined =>
  generator && [generator.quiet_windows, generator.start_failure?.seed];

const EVERY_DAY = {
  days: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const,
  months: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
};

function timetablesOf({ generator, shore, alternator }: Scenario, clock: Clock): Timetables {
  const wall = wallClock(clock);
  const quiet = generator?.quiet_windows ?? [];
  const failing = generator?.start_failure;
  return {
    generator_barred:
      quiet.length === 0
        ? null
        : Uint8Array.from(windowShare({ windows: quiet, ...EVERY_DAY }, wall), (share) =>
            share > 0 ? 1 : 0,
          ),
    start_draw: failing === undefined ? null : uniformDraws(failing.seed, clock.steps),
    // A socket that is there for a part of a step can't carry the loads of all of it: the rest might be dark.
    shore_there:
      shore === undefined
        ? null
        : Uint8Array.from(windowShare(shore, wall), (share) => (share > 1 - 1e-9 ? 1 : 0)),
    engine_share: alternator === undefined ? null : windowShare(alternator, wall),
  };
}

/** Windows that are played by whole steps, where they lie beside them: loads and a running engine take the share. */
function windowNotices({ generator, shore }: Scenario, clock: Clock): Notice[] {
  const windows = generator?.quiet_windows ?? [];
  return [
    ...partStepNotices('generator.quiet_windows', { windows, ...EVERY_DAY }, clock, 'taken'),
    ...(shore === undefined ? [] : partStepNotices('shore.windows', shore, clock, 'lost')),
  ];
}

const HOURS = model(
  'model.hours',
  'powers are means over a step: peaks within it, and motors starting, are not played',
  null,
  'verdict_most',
);

const INVERTER_ON = model(
  'model.inverter',
  'the inverter is on all year and draws its idle draw whenever the DC side can supply it',
);
const INVERTER_SLEEPS = model(
  'model.inverter',
  'the inverter sleeps while all AC loads that may be on draw less than sleep.below_W together: then it draws sleep.search_W and gives nothing; while awake it draws its idle draw whenever the DC side can supply it',
);
const OTHERS = model(
  'other_sources',
  'other sources give what is told of them in every year that is played, whatever its weather; what of sun and sources on one side nobody takes is taken off both alike, and a source that is held back needs a diversion load or a brake; sunless hours and leanest days are reckoned without them',
  null,
  'verdict_most',
);

const CUT_OFF = model(
  'inverter.cut_off',
  'the inverter goes by state of charge: down to cut_off_soc it draws on the bank, and from the next step on it is off until a step begins at reconnect_soc or above; a device goes by voltage, which sags under load and rises in the sun, so that it cuts off and comes back sooner; while it is off it draws nothing, sun on the AC side stands still, and generator or socket carry loads and charge',
  null,
  'verdict_most',
);

/** Which source carries what, as it was played. */
function dispatch({ shore, generator }: Scenario): Assumption {
  const why = [
    'loads on the DC side are served before those behind the inverter; lower tiers go short first, and are shed on purpose only by a rule of shedding',
    'where nothing else stands behind the loads, the sun carries them first, then the bank',
  ];
  if (shore !== undefined) {
    why.push(SHORE_CARRIES[shoreRule(shore).kind]);
    if (shore.carries?.kind !== 'all' && shore.connection === 'parallel') why.push(SUN_THEN('socket'));
  }
  if (generator !== undefined)
    why.push(
      generator.connection === 'parallel'
        ? SUN_THEN('generator')
        : 'while the generator runs, the loads hang on it alone and the sun charges the bank',
    );
  if (shore !== undefined && generator !== undefined)
    why.push(
      'while the socket is there the generator runs only in steps in which loads would go unmet, and then in its place',
    );
  return model('model.dispatch', why.join('; '));
}

const SHORE_CARRIES: Readonly<Record<ShoreRule['kind'], string>> = {
  all: 'while the socket is there it carries all loads and the sun charges the bank',
  after_sun: 'while the socket is there it carries what the sun leaves and charges the bank',
  after_bank:
    'sun and bank carry the loads until the bank is down to shore.carries.at_soc, or would leave load unmet; then the socket carries them and charges the bank, until shore.carries.until_soc',
};

const SUN_THEN = (source: string): string =>
  `while the ${source} carries loads, the sun charges the bank, and what the bank can't take carries loads before the ${source} does`;

const OUTDOOR_BANK = model(
  'model.bank_temperature',
  'a bank outdoors has the temperature of the air, without heat of its own, unless its heaters run',
);

/** Several arrays state the same model once. */
function distinct(assumptions: readonly Assumption[]): readonly Assumption[] {
  const byText = new Map(assumptions.map((a) => [`${a.path}|${a.value}|${a.why}`, a]));
  return [...byText.values()];
}
