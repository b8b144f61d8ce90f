import { prepareArray } from './array/prepare.ts';
import type { ArrayYear } from './array/types.ts';
import type { Assumption, Notice } from './basis/notices.ts';
import { buildClock, type Clock } from './clock/clock.ts';
import { prepareLoads } from './loads/prepare.ts';
import type { LoadYear } from './loads/types.ts';
import type { ReadScenario } from './scenario/read.ts';
import type { Scenario } from './scenario/schema.ts';
import type { FileTexts } from './series/types.ts';
import { prepareSky } from './sky/prepare.ts';
import type { SkyYear } from './sky/types.ts';
import type { SunYear } from './sun/types.ts';
import { sunYear } from './sun/year.ts';

/** All that a year of hours needs and that does not depend on the sizes of the plant. */
export interface PreparedYear {
  readonly scenario: Scenario;
  readonly clock: Clock;
  readonly sun: SunYear;
  readonly sky: SkyYear;
  /** Same order as `scenario.arrays`. */
  readonly arrays: readonly ArrayYear[];
  readonly loads: LoadYear;
  /** Temperature of the bank per step, °C. */
  readonly bank_temperature_C: Float64Array;
  readonly notices: readonly Notice[];
  readonly assumptions: readonly Assumption[];
}

/**
 * Clock, sun, sky, arrays per kWp and loads of a scenario: the data's way through the house, top to bottom.
 *
 * @param read a scenario as `readScenario` gave it
 * @param file its name, for messages
 * @param texts text of every file that `filesNamed` lists
 * @throws InputError if a series can't be used
 */
export function prepareYear(read: ReadScenario, file: string, texts: FileTexts): PreparedYear {
  const { scenario } = read;
  const { site } = scenario;
  const clock = buildClock(scenario.run.year, site.time_zone, scenario.run.step_min);
  const sun = sunYear(clock, site);
  const sky = prepareSky(scenario.weather, site, clock, sun, texts, file);
  const arrays = scenario.arrays.map((spec) => prepareArray(spec, site, clock, sun, sky));
  const loads = prepareLoads(scenario.loads, clock, texts);
  const { temperature } = scenario.bank;
  const bank_temperature_C =
    temperature.kind === 'outdoors'
      ? sky.air_temperature_C
      : new Float64Array(clock.steps).fill(temperature.temperature_C);
  return {
    scenario,
    clock,
    sun,
    sky,
    arrays,
    loads,
    bank_temperature_C,
    notices: [...sky.notices, ...loads.notices],
    assumptions: distinct([
      ...read.assumptions,
      ...sky.assumptions,
      ...arrays.flatMap((array) => array.assumptions),
      ...loads.assumptions,
      ...MODEL_ASSUMPTIONS,
      ...(temperature.kind === 'outdoors' ? [OUTDOOR_BANK] : []),
    ]),
  };
}

const model = (path: string, why: string): Assumption => ({ path, value: null, why, kind: 'model' });

/** What the hour loop leaves out or decides, whatever the scenario. */
const MODEL_ASSUMPTIONS: readonly Assumption[] = [
  model('model.hours', 'powers are means over a step: peaks within it, and motors starting, are not played'),
  model('model.bank', 'voltage stays at the nominal value; efficiency does not vary with current; capacity does not fall with cold or age'),
  model('model.inverter', 'the inverter is on all year and draws its standing loss whenever the DC side can supply it'),
  model('model.dispatch', 'loads are served from the sun first, then from the bank; lower tiers are shed only when power is short'),
];

const OUTDOOR_BANK = model('model.bank_temperature', 'a bank outdoors has the temperature of the air, without heat of its own');

/** Several arrays state the same model once. */
function distinct(assumptions: readonly Assumption[]): readonly Assumption[] {
  const seen = new Set<string>();
  return assumptions.filter((a) => {
    const key = `${a.path}|${a.value}|${a.why}`;
    return seen.has(key) ? false : (seen.add(key), true);
  });
}
