/** A scenario given as an object: what its text would say, word for word. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  InputError,
  type Issue,
  plantOf,
  playYear,
  prepareYear,
  readScenario,
  type ScenarioInput,
  scenarioOf,
} from '@longnight/core';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';

const DEMO = join(import.meta.dirname, '../../data/demo');
const demo = (name: string): string => readFileSync(join(DEMO, `${name}.yaml`), 'utf8');

/** Nothing in it but what has no default. */
const small: ScenarioInput = {
  site: {
    name: 'Object hut (invented)',
    latitude_deg: 59,
    longitude_deg: 10,
    elevation_m: 100,
    time_zone: 'Europe/Oslo',
  },
  weather: { kind: 'clear-sky', air_temperature_C: 8, turbidity_linke: 3 },
  arrays: [
    {
      name: 'roof',
      size_kWp: 2,
      tilt_deg: 60,
      azimuth_deg: 180,
      power_temperature_coefficient_per_K: -0.0035,
      mounting: 'open_rack',
      tracker: { max_power_kW: 2, max_charge_A: 40 },
    },
  ],
  bank: {
    chemistry: 'lfp',
    modules_parallel: 1,
    module: { nominal_voltage_V: 51.2, capacity_Ah: 100, max_charge_A: 50, max_discharge_A: 100 },
    round_trip_efficiency_share: 0.94,
    floor_soc: 0.1,
    temperature: { kind: 'indoors', temperature_C: 15 },
  },
  inverter: {
    rating_kW: 2,
    surge_kW: 4,
    idle_W: 10,
    efficiency: {
      points: [
        { load_share: 0.1, efficiency_share: 0.9 },
        { load_share: 1, efficiency_share: 0.92 },
      ],
    },
  },
  loads: [{ kind: 'daily', name: 'all', tier: 1, energy_kWh_day: 2, shape: 'flat' }],
  run: { year: 2026 },
};

function issuesOf(work: () => unknown): readonly Issue[] {
  try {
    work();
  } catch (error) {
    if (error instanceof InputError) return error.issues;
    throw error;
  }
  return [];
}
/** All that is said of an issue but where it stands, in an order of its own. */
const said = (issues: readonly Issue[]) =>
  issues
    .map(({ place: _, ...issue }) => issue)
    .sort((a, b) => `${a.path} ${a.code}`.localeCompare(`${b.path} ${b.code}`));

/** A copy with a value set, or taken out where it is undefined. */
function changed(path: readonly (string | number)[], value: unknown): ScenarioInput {
  const copy = structuredClone(small);
  let at = copy as unknown as Record<string | number, unknown>;
  for (const step of path.slice(0, -1)) at = at[step] as Record<string | number, unknown>;
  at[path.at(-1)!] = value;
  return copy;
}

describe('a scenario given as an object', () => {
  it.each(['holds', 'holds-with-generator', 'short-of-bank', 'parts-sun-alone', 'parts-with-generator'])(
    'is that of its text: %s',
    (name) => {
      const text = demo(name);
      const parts = new Map(
        (parse(text).parts_files ?? []).map((file: string) => [file, readFileSync(join(DEMO, file), 'utf8')]),
      ) as Map<string, string>;
      const read = readScenario(text, 'f.yaml', parts);
      const made = scenarioOf(parse(text), 'f', parts);
      expect(made.scenario).toEqual(read.scenario);
      expect(made.assumptions).toEqual(read.assumptions);
      expect(made.assumptions.length).toBeGreaterThan(3);
    },
  );

  it('plays, and is a copy: what is done to the object later changes nothing', () => {
    const input = structuredClone(small);
    const made = scenarioOf(input);
    input.bank.floor_soc = 0.9;
    expect(made.scenario.bank.floor_soc).toBe(0.1);
    const year = prepareYear(made, 'scenario', new Map());
    const { columns } = playYear(year, plantOf(year.scenario));
    expect(columns.load_served_kWh.reduce((sum, kWh) => sum + kWh, 0)).toBeGreaterThan(100);
  });

  it.each<[path: (string | number)[], value: unknown]>([
    [['bank', 'floor_soc'], 2],
    [['bank', 'floor_soc'], Number.NaN],
    [['bank', 'floor_soc'], 'low'],
    [['bank', 'flor_soc'], 0.2],
    [['bank', 'module', 'capacity_Ah'], undefined],
    [['bank'], undefined],
    [['inverter', 'rating_kW'], -5],
    [['arrays'], []],
    [['arrays', 0, 'tilt_deg'], null],
    [['weather', 'kind'], 'sunny'],
    [['loads', 0, 'energy_kWh_day'], '2 kWh'],
    [['site', 'time_zone'], 'Europe/Olso'],
    [['loads', 0, 'daily_variation_share'], 0.2],
  ])('with %j as %j is refused in the words for its text, by its path', (path, value) => {
    const input = changed(path, value);
    const issues = issuesOf(() => scenarioOf(input));
    // JSON has no word for NaN; YAML has.
    const text = JSON.stringify(input, (_, inside) => (Number.isNaN(inside) ? 'NAN' : inside));
    const theirs = issuesOf(() => readScenario(text.replace('"NAN"', '.nan'), 'f.yaml'));
    expect(issues.length).toBeGreaterThan(0);
    expect(said(issues)).toEqual(said(theirs));
    for (const issue of issues) {
      expect(issue.place).toEqual({ file: 'scenario' });
      expect(issue.path).not.toBe('');
    }
  });

  it('says of a wrong value what a file is told, with a path for a line', () => {
    expect(() => scenarioOf(changed(['bank', 'floor_soc'], 2), 'my hut')).toThrow(
      /^my hut: bank\.floor_soc: found 2; expected .*\n {4}fix: /,
    );
  });

  it('takes a key that is undefined as left out', () => {
    expect(scenarioOf(changed(['generator'], undefined)).scenario).toEqual(scenarioOf(small).scenario);
    expect(scenarioOf(changed(['bnak'], undefined)).scenario).toEqual(scenarioOf(small).scenario);
  });

  it('is no date, function, typed array, class or cycle', () => {
    const cycle: Record<string, unknown> = {};
    cycle.again = cycle;
    class Bank {
      floor_soc = 0.1;
    }
    for (const [value, found] of [
      [new Date(0), /run: found an object of class Date/],
      [() => 1, /run: found a function/],
      [1n, /run: found a bigint/],
      [new Float64Array(2), /run: found an object of class Float64Array/],
      [new Bank(), /run: found an object of class Bank/],
      [cycle, /run: far too many levels/],
    ] as const)
      expect(() => scenarioOf(changed(['run'], value))).toThrow(found);
    for (const value of [null, undefined, 'site: x', [small], new Map()])
      expect(issuesOf(() => scenarioOf(value as never))[0]).toMatchObject({ code: 'not-a-mapping' });
  });
});
