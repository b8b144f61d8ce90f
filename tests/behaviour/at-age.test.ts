/** A design at an age against the same plant typed anew as it is by then. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import {
  findings,
  newReusedColumns,
  newYearPreparer,
  plantOf,
  playYear,
  prepareYear,
  type Report,
  readScenario,
} from '@longnight/core';
import { NOT_HARDER, newChunkPlayer, readAxis } from '@longnight/core/study';
import { describe, expect, it } from 'vitest';
import { newAger } from '../../packages/core/src/study/designs/at-age.ts';
import { newPlayer } from '../../packages/core/src/study/designs/play.ts';

const FILE = 'data/demo/holds-with-generator.yaml';
const PLAIN = readFileSync(resolve(import.meta.dirname, '../..', FILE), 'utf8').replace(
  /^ {2}(life_.*|cycle_life:(\n {4}- .*)*)\n/gm,
  '',
);
const swap = (text: string, from: string | RegExp, to: string | ((...all: string[]) => string)): string => {
  const swapped = text.replace(from, to as string);
  expect(swapped).not.toBe(text);
  return swapped;
};
const reportOf = (text: string): Report => {
  const read = readScenario(text, FILE);
  return findings(playYear(prepareYear(read, FILE, new Map()), plantOf(read.scenario)));
};
const GROWTH = 0.03;
/** Every load grows. */
const growing = swap(PLAIN, /^( {2}- kind: .*\n)/gm, `$1    growth_share_per_year: ${GROWTH}\n`);
const withLife = (life: string, text = growing): string => swap(text, /(\nbank:\n)/, `$1${life}`);
const atAge = (text: string, age_years: number) =>
  newPlayer(newYearPreparer(FILE, new Map()), { ...NOT_HARDER, age_years })(
    readScenario(text, FILE).scenario,
  );
/** The plant as it is after some years, typed as a new one. */
function typed(text: string, left_share: number, years: number): string {
  const times = (factor: number) => (_: string, key: string, value: string) =>
    `${key}${Number(value) * factor}`;
  const bank = text.replace(/(capacity_Ah: )([\d.]+)/, times(left_share));
  const array = swap(bank, /(size_kWp: )([\d.]+)/, times(0.995 ** years));
  return swap(array, /( {4}growth_share_per_year: [\d.]+)\n/g, `    scale: ${(1 + GROWTH) ** years}\n`);
}

describe('a design at an age', () => {
  const compared = (text: string, left_share: number, years: number): void => {
    const figures = atAge(text, years);
    const { unmet, generator, bank, load } = reportOf(typed(text, left_share, years));
    expect(figures['unmet.energy_kWh']).toBeCloseTo(unmet.energy_kWh, 6);
    expect(figures['generator.run_hours']).toBeCloseTo(generator!.run_hours, 6);
    expect(figures['generator.fuel_L']).toBeCloseTo(generator!.fuel_L, 6);
    expect(figures['bank.lowest_soc']).toBeCloseTo(bank.lowest_soc, 9);
    expect(figures['bank.usable_kWh']).toBeCloseTo(bank.usable_kWh, 9);
    expect(figures['load.served_kWh']).toBeCloseTo(load.served_kWh, 6);
  };

  it('has lost what its years took, and its loads have grown', () => {
    compared(withLife('  life_years: 15\n'), 1 - (0.2 * 12) / 15, 12);
  });

  it('has lost what the cycles of its first year take, as often as it is old', () => {
    const text = withLife('  life_years: 40\n  cycle_life: [{ depth_share: 0.5, cycles: 1500 }]\n');
    const used = reportOf(text).bank.wear!.cycle_life_used_share!;
    expect(used).toBeGreaterThan(1 / 40);
    expect(8 * used).toBeLessThan(1);
    compared(text, 1 - 0.2 * 8 * used, 8);
  });

  it('stands at the end of the life of its bank where that ends before', () => {
    compared(withLife('  life_years: 7\n  end_of_life_share: 0.7\n'), 0.7, 12);
  });

  it('keeps its capacity where no life is stated, and is itself at no age', () => {
    compared(growing, 1, 12);
    expect(atAge(growing, 0)).toEqual(
      newPlayer(newYearPreparer(FILE, new Map()))(readScenario(growing, FILE).scenario),
    );
  });

  it('is sized by what is bought', () => {
    expect(atAge(growing, 12)['array.size_kWp']).toBe(reportOf(growing).array.size_kWp);
  });
});

it('in drawn years wears as in the year of the scenario, which is played once, whatever years a thread is given', () => {
  const text = withLife('  cycle_life: [{ depth_share: 0.5, cycles: 1500 }]\n');
  const source = { text, file: FILE, partsTexts: new Map<string, string>() };
  const axes = [readAxis('bank.modules_parallel=3')];
  const years = [7, 8, 9].map((seed) => ({ kind: 'drawn', seed }) as const);
  const chunk = { indices: [0], harder: { ...NOT_HARDER, age_years: 9 } };
  const whole = newChunkPlayer({ source, texts: new Map(), axes, years })(chunk).figures;
  const apart = years.flatMap((year) => [
    ...newChunkPlayer({ source, texts: new Map(), axes, years: [year] })(chunk).figures,
  ]);
  expect([...whole]).toEqual(apart);

  const { scenario } = readScenario(text, FILE);
  const prepare = newYearPreparer(FILE, new Map());
  let played = 0;
  const age = newAger(9, {
    yearOf: prepare,
    plantOf,
    columnsOf: ({ clock }) => {
      played++;
      return newReusedColumns(clock.steps);
    },
  });
  const shares = years.map(({ seed }) => {
    const drawn = { ...scenario, weather: { ...scenario.weather, seed } as typeof scenario.weather };
    return age(drawn, scenario, plantOf(drawn)).life_used_share;
  });
  expect(new Set(shares).size).toBe(1);
  expect(played).toBe(1);
});
