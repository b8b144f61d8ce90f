/** The same plant and year said in another way: the same findings, or the difference that the test's name explains. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  findings,
  plantOf,
  playYear,
  prepareYear,
  type Report,
  type ScenarioInput,
  scenarioOf,
} from '@longnight/core';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';

const demo = (): ScenarioInput =>
  parse(readFileSync(join(import.meta.dirname, '../../data/demo/short-of-bank.yaml'), 'utf8'));
const play = (input: ScenarioInput): Report => {
  const year = prepareYear(scenarioOf(input));
  return findings(playYear(year, plantOf(year.scenario)));
};
/** Figures of the year that the parts of a plant have together. */
const figures = ({ load, unmet, bank, array }: Report) => ({
  wanted: load.wanted_kWh,
  served: load.served_kWh,
  unmet: unmet.energy_kWh,
  hours: unmet.hours,
  longest: unmet.longest_hours,
  cycles: bank.equivalent_full_cycles,
  available: array.available_kWh,
  curtailed: array.curtailed_kWh,
});
type Told = ReturnType<typeof figures>;
function expectSame(one: Told, other: Told, factor: Partial<Record<keyof Told, number>> = {}): void {
  for (const name of Object.keys(one) as (keyof Told)[])
    expect(other[name], name).toBeCloseTo(one[name] * (factor[name] ?? 1), 6);
}
const base = figures(play(demo()));

describe('the same findings', () => {
  it('of an array in two halves, each on half a tracker', () => {
    const input = demo();
    const [array] = input.arrays;
    const { max_power_kW, max_charge_A } = array!.tracker;
    const half = {
      ...array!,
      size_kWp: array!.size_kWp / 2,
      tracker: { ...array!.tracker, max_power_kW: max_power_kW / 2, max_charge_A: max_charge_A! / 2 },
    };
    expectSame(
      base,
      figures(play({ ...input, arrays: [half, { ...half, name: 'half' }, ...input.arrays.slice(1)] })),
    );
  });

  it('of a bank of twice as many modules, each of half the amp-hours and amps', () => {
    const input = demo();
    const { module, modules_parallel } = input.bank;
    const half = Object.fromEntries(
      Object.entries(module!).map(([key, value]) => [
        key,
        key.endsWith('_V') ? value : (value as number) / 2,
      ]),
    ) as typeof module;
    const bank = { ...input.bank, modules_parallel: 2 * modules_parallel, module: half };
    expectSame(base, figures(play({ ...input, bank })));
  });

  it('of loads in another order', () => {
    const input = demo();
    expectSame(base, figures(play({ ...input, loads: input.loads.toReversed() })));
  });
});

describe('twice the findings', () => {
  it('of twice the array, bank, inverter and loads: every kWh doubles, hours and cycles stay', () => {
    const input = demo();
    const twice: ScenarioInput = {
      ...input,
      arrays: input.arrays.map((array) => ({
        ...array,
        size_kWp: 2 * array.size_kWp,
        tracker: {
          ...array.tracker,
          max_power_kW: 2 * array.tracker.max_power_kW,
          max_charge_A: 2 * array.tracker.max_charge_A!,
        },
      })),
      bank: { ...input.bank, modules_parallel: 2 * input.bank.modules_parallel },
      inverter: {
        ...input.inverter,
        rating_kW: 2 * input.inverter.rating_kW,
        surge_kW: 2 * input.inverter.surge_kW,
        idle_W: 2 * input.inverter.idle_W,
      },
      loads: input.loads.map((load) => ({ ...load, scale: 2 * (load.scale ?? 1) })),
    };
    const kWh = { wanted: 2, served: 2, unmet: 2, available: 2, curtailed: 2 };
    expectSame(base, figures(play(twice)), kWh);
  });
});

/** A year of clear sky over an invented hut: nothing but sun and calendar in it. */
const clear = (latitude_deg: number, azimuth_deg: number, year: number, firstMonth = 0): ScenarioInput => {
  const input = demo();
  const air_C = [-5, -4, 0, 5, 10, 14, 16, 15, 11, 6, 1, -3];
  return {
    ...input,
    site: { ...input.site, latitude_deg, longitude_deg: 0, time_zone: 'UTC' },
    weather: {
      kind: 'clear-sky',
      turbidity_linke: 3,
      air_temperature_C: air_C.map((_, m) => air_C[(m + firstMonth) % 12]!),
    },
    arrays: input.arrays.map((array) => ({ ...array, azimuth_deg, albedo: 0.2 })),
    loads: [{ kind: 'daily', name: 'all', tier: 1, energy_kWh_day: 12, shape: 'flat' }],
    run: { ...input.run, year },
  };
};

describe('nearly the same findings', () => {
  it('of the other hemisphere with half a year between: the Earth is nearer the sun in January, within 8 % of its light', () => {
    const north = figures(play(clear(50, 180, 2025)));
    const south = figures(play(clear(-50, 0, 2025, 6)));
    expect(south.available / north.available).toBeGreaterThan(0.95);
    expect(south.available / north.available).toBeLessThan(1.08);
    expect(south.wanted).toBeCloseTo(north.wanted, 6);
  });

  it('of a leap year: a day more of load, and a day of winter more of sun', () => {
    const common = figures(play(clear(50, 180, 2025)));
    const leap = figures(play(clear(50, 180, 2024)));
    expect(leap.wanted - common.wanted).toBeCloseTo(12, 6);
    const more = leap.available - common.available;
    expect(more).toBeGreaterThan(0);
    expect(more).toBeLessThan((3 * common.available) / 365);
  });
});
