/** Loads that follow the air, and days that differ, against arithmetic. All loads are invented. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { InputError, newYearPreparer, readScenario } from '@longnight/core';
import { buildClock } from '@longnight/core/clock';
import type { Load, Weather } from '@longnight/core/scenario';
import { describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';
import { prepareLoads, yearSeed } from '../../packages/core/src/loads/prepare.ts';
import { dayFactors } from '../../packages/core/src/loads/variation.ts';
import { newPlayer } from '../../packages/core/src/study/designs/play.ts';

const utc = buildClock(2025, 'UTC', 60);
type Kind<K extends Load['kind']> = Extract<Load, { kind: K }>;
const temperature = (own: Partial<Kind<'temperature'>>): Kind<'temperature'> => ({
  kind: 'temperature',
  name: 'heat pump',
  tier: 1,
  scale: 1,
  growth_share_per_year: 0,
  daily_variation_share: 0,
  side: 'heating',
  base_temperature_C: 15,
  slope_W_per_K: 60,
  max_power_W: 1500,
  windows: ['00:00-24:00'],
  days: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'],
  months: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
  ...own,
});
const steady = (own: Partial<Kind<'daily'>>): Kind<'daily'> => ({
  kind: 'daily',
  name: 'steady',
  tier: 1,
  scale: 1,
  growth_share_per_year: 0,
  daily_variation_share: 0,
  energy_kWh_day: 24,
  shape: 'flat',
  month_factors: Array(12).fill(1),
  days: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'],
  months: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
  ...own,
});
const NO_FILES = new Map<string, string>();
const at = (load: Load, air: Float64Array): Float64Array => prepareLoads([load], utc, NO_FILES, air).total_kW;
const constant = (air_C: number): Float64Array => new Float64Array(utc.steps).fill(air_C);

describe('heating and cooling that follow the air', () => {
  it.each([
    // 60 W/K: 20 K below the base are 1.2 kW, 40 K would be 2.4 and are capped, at the base and above nothing.
    [-5, 'heating', 1.2],
    [-25, 'heating', 1.5],
    [15, 'heating', 0],
    [30, 'heating', 0],
    [25, 'cooling', 0.6],
    [60, 'cooling', 1.5],
    [14, 'cooling', 0],
  ] as const)('at %d °C, %s: %d kW', (air, side, kW) => {
    for (const power of at(temperature({ side }), constant(air))) expect(power).toBeCloseTo(kW, 12);
  });

  it('is the degree hours times the slope where nothing caps it', () => {
    const air = Float64Array.from({ length: utc.steps }, (_, i) => 10 + 12 * Math.sin(i / 7));
    const kelvin_h = air.reduce((sum, C) => sum + Math.max(0, 15 - C), 0);
    const sum = at(temperature({ max_power_W: 1e6 }), air).reduce((a, b) => a + b, 0);
    expect(sum).toBeCloseTo((kelvin_h * 60) / 1000, 6);
  });

  it('keeps to windows, days and months, and to its scale', () => {
    const load = temperature({ windows: ['06:00-08:30'], days: ['mon'], months: [2], scale: 0.5 });
    // February 2025 has four Mondays; 2.5 h of 0.6 kW each.
    const power = at(load, constant(-5));
    expect(power.reduce((a, b) => a + b, 0)).toBeCloseTo(4 * 2.5 * 0.6, 9);
    // Monday the 3rd: hour 33 × 24 + 8 has half its hour in the window.
    expect(power[33 * 24 + 8]).toBeCloseTo(0.3, 12);
  });

  it('is another under another sky, in a study too', () => {
    const file = 'data/demo/short-of-bank.yaml';
    const data = parse(readFileSync(resolve(import.meta.dirname, '../..', file), 'utf8'));
    const load = { kind: 'temperature', name: 'heat', side: 'heating', base_temperature_C: 12 };
    const withSky = (degrees: number, heat: boolean) => {
      const weather = { ...data.weather, air_temperature_C: Array(12).fill(degrees), day_to_day_K: 0 };
      const loads = heat ? [...data.loads, { ...load, slope_W_per_K: 10, max_power_W: 400 }] : data.loads;
      return readScenario(stringify({ ...data, weather, loads }), file).scenario;
    };
    const yearOf = newYearPreparer(file, new Map());
    const sum = (degrees: number, heat: boolean): number =>
      yearOf(withSky(degrees, heat)).loads.total_kW.reduce((a, b) => a + b, 0);
    expect(sum(20, true)).toBeCloseTo(sum(20, false), 6);
    expect(sum(-10, true) - sum(-10, false)).toBeCloseTo(8760 * 0.22, 0);
    // What does not follow the air is one column, whatever the weather.
    expect(yearOf(withSky(20, false)).loads).toBe(yearOf(withSky(-10, false)).loads);
    const play = newPlayer(newYearPreparer(file, new Map()));
    const dark = (degrees: number): number => play(withSky(degrees, true))['autonomy.sunless_hours.least']!;
    expect(dark(20)).toBeGreaterThan(dark(-10));
  });
});

/** Pearson's, as any textbook has it. */
function correlation(a: Float64Array, b: Float64Array): number {
  const apart = (x: Float64Array): Float64Array => {
    const mean = x.reduce((sum, one) => sum + one, 0) / x.length;
    return x.map((one) => one - mean);
  };
  const [p, q] = [apart(a), apart(b)];
  const sum = (x: Float64Array, y: Float64Array): number => x.reduce((all, one, i) => all + one * y[i]!, 0);
  return sum(p, q) / Math.sqrt(sum(p, p) * sum(q, q));
}

describe('days that differ', () => {
  it('have factors of mean 1 and of the variation asked for', () => {
    const n = 200_000;
    for (const c of [0.1, 0.3, 0.8]) {
      const factors = dayFactors(n, c, 7);
      const mean = factors.reduce((a, b) => a + b, 0) / n;
      const deviation = Math.sqrt(factors.reduce((a, f) => a + (f - mean) ** 2, 0) / n);
      // Five standard errors of the mean; the deviation of a log-normal has a fatter error, some 1 % here.
      expect(Math.abs(mean - 1)).toBeLessThan((5 * c) / Math.sqrt(n));
      expect(deviation / c).toBeGreaterThan(0.96);
      expect(deviation / c).toBeLessThan(1.04);
      expect(Math.min(...factors.subarray(0, 1000))).toBeGreaterThan(0);
      // Half of a log-normal lies below its median, exp(-sigma² / 2).
      const below = factors.filter((f) => f < 1 / Math.sqrt(1 + c * c)).length / n;
      expect(below).toBeCloseTo(0.5, 2);
    }
  });

  it('multiply whole local days and leave the rest alone', () => {
    const varied = at(steady({ daily_variation_share: 0.3, variation_seed: 5 }), constant(0));
    const factors = dayFactors(utc.days, 0.3, 5);
    expect(new Set(factors).size).toBe(365);
    varied.forEach((kW, i) => {
      expect(kW).toBeCloseTo(factors[Math.floor(i / 24)]!, 12);
    });
    const oslo = buildClock(2025, 'Europe/Oslo', 60);
    const { total_kW } = prepareLoads(
      [steady({ daily_variation_share: 0.3, variation_seed: 5 }), steady({ name: 'other' })],
      oslo,
      NO_FILES,
      new Float64Array(oslo.steps),
    );
    for (let d = 0; d < oslo.days; d++) {
      const day = total_kW.subarray(oslo.day_start[d], oslo.day_start[d + 1]);
      expect(day.reduce((a, b) => a + b, 0)).toBeCloseTo(24 * factors[d]! + 24, 9);
    }
  });

  it('are the same for the same seed and others for another', () => {
    const of = (seed: number) =>
      at(temperature({ daily_variation_share: 0.2, variation_seed: seed }), constant(0));
    expect(of(1)).toEqual(of(1));
    expect(of(1)).not.toEqual(of(2));
  });

  it('are drawn anew in every drawn and measured year, together where the seed is one, and kept by a clear sky', () => {
    const file = 'data/demo/short-of-bank.yaml';
    const text = readFileSync(resolve(import.meta.dirname, '../..', file), 'utf8');
    const { scenario } = readScenario(text, file);
    const [one, two] = [steady({}), steady({ name: 'two' })].map((load) => ({
      ...load,
      daily_variation_share: 0.3,
      variation_seed: 5,
    })) as [Load, Load];
    const yearOf = newYearPreparer(file, new Map());
    const drawn = (seed: number, loads: readonly Load[] = [one]): Float64Array =>
      yearOf({ ...scenario, weather: { ...scenario.weather, seed } as Weather, loads: [...loads] }).loads
        .total_kW;
    expect(drawn(13)).toEqual(drawn(13));
    // Two years of one load are no more alike than two loads: 365 pairs correlate within four standard errors of none.
    for (const [a, b] of [
      [drawn(13), drawn(14)],
      [drawn(13), drawn(14, [{ ...one, variation_seed: 4 } as Load])],
      [drawn(5), drawn(5, [{ ...one, variation_seed: 6 } as Load])],
    ] as const)
      expect(Math.abs(correlation(a, b))).toBeLessThan(4 / Math.sqrt(365));
    expect(drawn(13, [one, two])).toEqual(drawn(13).map((kW) => 2 * kW));

    const weatherOf = (weather: object, year: number): Float64Array => {
      const run = { ...scenario.run, year };
      const made = yearSeed({ ...scenario, run, weather: weather as Weather });
      return prepareLoads([one], utc, NO_FILES, constant(0), false, made).total_kW;
    };
    expect(weatherOf({ kind: 'tmy3' }, 2019)).not.toEqual(weatherOf({ kind: 'tmy3' }, 2020));
    expect(weatherOf({ kind: 'clear-sky' }, 2019)).toEqual(weatherOf({ kind: 'clear-sky' }, 2020));

    // The leanest hours in the dark are those of the year's own loads, whichever years were played before it.
    const play = newPlayer(newYearPreparer(file, new Map()));
    const dark = (seed: number, player = newPlayer(newYearPreparer(file, new Map()))): number =>
      player({ ...scenario, weather: { ...scenario.weather, seed } as Weather, loads: [one] })[
        'autonomy.sunless_hours.least'
      ]!;
    expect([dark(13, play), dark(14, play)]).toEqual([dark(13), dark(14)]);
    expect(dark(13)).not.toBe(dark(14));
  });

  it('are refused without a seed', () => {
    const file = 'data/demo/holds.yaml';
    const data = parse(readFileSync(resolve(import.meta.dirname, '../..', file), 'utf8'));
    const read = (own: object) =>
      readScenario(stringify({ ...data, loads: [{ ...data.loads[0], ...own }] }), file);
    expect(() => read({ daily_variation_share: 0.2 })).toThrow(InputError);
    expect(() => read({ daily_variation_share: 0.2 })).toThrow(/variation_seed/);
    expect(read({ daily_variation_share: 0.2, variation_seed: 0 }).scenario.loads[0]).toMatchObject({
      variation_seed: 0,
    });
    expect(read({}).scenario.loads[0]).toMatchObject({ daily_variation_share: 0 });
  });
});
