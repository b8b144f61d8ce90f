/** One way to vary: a variant is what a file with those values would be, its year prepared once where it may be. */
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import {
  findings,
  InputError,
  newVariantMaker,
  partsFilesNamed,
  plantOf,
  playYear,
  prepareYear,
  readScenario,
} from '@longnight/core';
import { describe, expect, it } from 'vitest';

const FILE = join(import.meta.dirname, '../../data/demo/parts-with-generator.yaml');
const TEXT = readFileSync(FILE, 'utf8');
const parts = new Map(
  partsFilesNamed(TEXT, FILE).map((name) => [name, readFileSync(join(dirname(FILE), name), 'utf8')]),
);
const readText = (text: string) => readScenario(text, FILE, parts);
const read = readText(TEXT);
const variant = newVariantMaker(read);
const reportOf = ({ year, plant }: ReturnType<typeof variant>) => findings(playYear(year, plant));

/** What the file would say if it had the other text in the place of one. */
function reportWith(was: string, is: string) {
  const text = TEXT.replace(was, is);
  expect(text).not.toBe(TEXT);
  const edited = readText(text);
  return findings(playYear(prepareYear(edited), plantOf(edited.scenario)));
}
const refused = (changes: Readonly<Record<string, unknown>>): string => {
  try {
    variant(changes);
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
  return '';
};

describe('a variant', () => {
  const asIs = variant();

  it('without changes is the scenario as it stands', () => {
    expect(asIs.scenario).toEqual(read.scenario);
    expect(reportOf(asIs)).toEqual(findings(playYear(prepareYear(read), plantOf(read.scenario))));
  });

  it('has the price of its own bank, where a plant changed by hand keeps that of the old one', () => {
    const larger = variant({ 'bank.modules_parallel': 8 });
    const report = reportOf(larger);
    expect(report.money!.capital).toBeGreaterThan(1.1 * reportOf(asIs).money!.capital!);
    expect(report).toEqual(reportWith('modules_parallel: 4', 'modules_parallel: 8'));
    const byHand = findings(playYear(asIs.year, { ...asIs.plant, bank: larger.plant.bank }));
    expect(byHand.bank.capacity_kWh).toBe(report.bank.capacity_kWh);
    expect(byHand.money!.capital).toBe(reportOf(asIs).money!.capital);
  });

  it('has the dangers, tilt, loads and assumptions of its own', () => {
    expect(reportOf(variant({ 'arrays[0].tilt_deg': 40 }))).toEqual(
      reportWith('tilt_deg: 75', 'tilt_deg: 40'),
    );
    expect(reportOf(variant({ 'weather.seed': 14 }))).toEqual(reportWith('seed: 92', 'seed: 14'));
    // A default that is written out is none any more.
    const isDefault = (path: string, { assumptions }: { assumptions: readonly { path: string }[] }) =>
      assumptions.some((one) => one.path === path);
    expect(isDefault('loads[0].duty_share', asIs.year)).toBe(true);
    expect(isDefault('loads[0].duty_share', variant({ 'loads[0].duty_share': 0.9 }).year)).toBe(false);
  });

  it('takes several values, whole sections, and undefined to take a key out', () => {
    const alone = variant({ generator: undefined, 'bank.modules_parallel': 6 });
    expect(alone.plant.generator).toBeNull();
    expect(alone.plant.bank.modules_parallel).toBe(6);
    expect(reportOf(alone).generator).toBeNull();
    const shore = { max_A: 16, voltage_V: 230, windows: ['02:00-05:00'] };
    expect(variant({ shore, 'shore.max_A': 10 }).scenario.shore!.max_A).toBe(10);
    // Taken out, a key is again what its part lends.
    expect(variant({ 'generator.rating_kW': 9 }).plant.generator!.rating_kW).toBe(9);
    expect(variant({ 'generator.rating_kW': undefined }).plant.generator!.rating_kW).toBe(4);
  });

  it('shares what it leaves alone of the year with the others, and changes none of them', () => {
    const before = JSON.stringify(read.scenario);
    const sizes = variant({ 'arrays[0].panels': 20, 'bank.modules_parallel': 2 });
    expect(sizes.year.sky).toBe(asIs.year.sky);
    expect(sizes.year.arrays[0]).toBe(asIs.year.arrays[0]);
    expect(sizes.year.loads).toBe(asIs.year.loads);
    const turned = variant({ 'arrays[0].azimuth_deg': 200 });
    expect(turned.year.sky).toBe(asIs.year.sky);
    expect(turned.year.arrays[0]).not.toBe(asIs.year.arrays[0]);
    expect(JSON.stringify(read.scenario)).toBe(before);
    expect(variant().scenario).toEqual(asIs.scenario);
  });

  it('is refused for what the scenario has not, or can not have', () => {
    expect(refused({ 'bank.modules_paralel': 3 })).toMatch(
      /bank\.modules_paralel: is no key.*\n.*bank\.modules_parallel/,
    );
    expect(refused({ 'arrays.tilt_deg': 3 })).toMatch(/arrays is a list of 1.*\n.*arrays\[0\]\.tilt_deg/);
    expect(refused({ 'arrays[4].tilt_deg': 3 })).toMatch(/is no key/);
    expect(refused({ 'bank.modules_parallel': -1 })).toMatch(/bank\.modules_parallel/);
    expect(refused({ 'bank.modules_parallel': Number.NaN })).toMatch(/bank\.modules_parallel/);
    expect(refused({ 'generator.start_soc': 0.9 })).toMatch(/generator/);
    expect(refused({ 'generator.part': 'diesel-5kW' })).toMatch(/no part is named/);
  });
});

describe('a ledger', () => {
  it('knows its year and its plant', () => {
    const { year, plant } = variant({ 'bank.modules_parallel': 5 });
    const ledger = playYear(year, plant);
    expect(ledger.year).toBe(year);
    expect(ledger.plant).toBe(plant);
  });
});
