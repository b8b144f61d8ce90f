/** Whatever the functions of the library are handed, they say which argument is wrong and what makes a right one. */

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import * as core from '@longnight/core';
import { annuity } from '@longnight/core/money';
import { firstGuess } from '@longnight/core/place';
import { howSure } from '@longnight/core/study';
import { describe, expect, it } from 'vitest';
import { plantWith } from '../support/plant.ts';
import { yearOf } from '../support/year.ts';

const NONSENSE: readonly unknown[] = [
  ...[undefined, null, {}, Number.NaN, -1, 1e308, '', 'x', [], [null], new Map(), () => 1],
  ...[new Float64Array(3), new Float64Array(1_000_000), Array(10_000).fill(0), true, Symbol('x')],
];

const text = readFileSync(join(import.meta.dirname, '../../data/demo/holds.yaml'), 'utf8');
const read = core.readScenario(text, 'hut.yaml');
const year = core.prepareYear(read);
const plant = core.plantOf(read.scenario);
const ledger = core.playYear(year, plant);
const source = { text, file: 'hut.yaml', partsTexts: new Map() };

/** Arguments that each function takes; what stands beside nonsense is sound. Null for what is no function to be called. */
const SOUND: Readonly<Record<string, readonly unknown[] | null>> = {
  BalanceError: null,
  InputError: null,
  issueText: [{ code: 'x', path: '', message: 'm' }],
  scenarioJsonSchema: [],
  readParts: ['parts: []', 'p.yaml'],
  partsFilesNamed: [text, 'hut.yaml'],
  readScenario: [text, 'hut.yaml', new Map()],
  scenarioOf: [{}, 'hut', new Map()],
  filesNamed: [read.scenario],
  newYearPreparer: ['hut.yaml', new Map()],
  prepareYear: [read, 'hut.yaml', new Map()],
  agedPlant: [plant, 0.9, plant.arrays.map(() => 1)],
  plantOf: [read.scenario],
  newReusedColumns: [24],
  playYear: [year, plant, core.newReusedColumns(year.clock.steps)],
  audit: [ledger],
  overPeriods: [ledger.columns.fuel_L, 'sum', core.periodStarts(year.clock, 'month')],
  periodStarts: [year.clock, 'day'],
  findings: [ledger, 7],
  cautions: [plant],
  dangersOf: [year, plant],
  staticLimits: [plant],
  billOfScenario: [read.scenario],
  headline: [ledger, 10],
  comparePlants: [[], new Map()],
  newVariantMaker: [read, 'hut.yaml', new Map()],
  improvePlant: [source, new Map()],
  sizePlant: [source, [], { holds: [], least: 'unmet_share', years_to_hold: 1 }, {}],
  varyPlant: [source, [], {}],
  swayPlant: [source, new Map()],
  askWeek: [year, plant, { days: 7, generator: true }],
  playEnsemble: [{ scenario: read.scenario, plant, seeds: [1], prepare: () => year }],
  playEveryYear: [read, 'hut.yaml', new Map(), year],
  playYears: [{ years: 1, plant, yearOf: () => year, array_ageing_share_per_year: [0] }],
};

/** Names in messages would be of no use: what JavaScript itself says of a field of nothing. */
const RAW =
  /Cannot |is not iterable|is not a function|undefined|Invalid |Reduce of|out of range|Maximum call/;

/** True if a figure is none, anywhere within what was given back. */
function holdsNaN(value: unknown, depth = 0): boolean {
  if (typeof value === 'number') return Number.isNaN(value);
  if (value instanceof Float64Array) return value.some(Number.isNaN);
  if (typeof value !== 'object' || value === null || depth > 3) return false;
  return Object.values(value).some((one) => holdsNaN(one, depth + 1));
}

describe('every function of the root', () => {
  const functions = Object.entries(core).filter(([, value]) => typeof value === 'function');
  const named = new Map(functions as [string, (...given: unknown[]) => unknown][]);

  it('is listed here', () => {
    expect(Object.keys(SOUND).sort()).toEqual(functions.map(([name]) => name).sort());
  });

  it.each(functions.filter(([name]) => (SOUND[name]?.length ?? 0) > 0).map(([name]) => name))(
    '%s, handed nonsense for any argument, refuses it in words or does without',
    (name) => {
      const work = named.get(name)!;
      const sound = SOUND[name]!;
      const wrong: string[] = [];
      for (let k = 0; k < sound.length; k++)
        for (const nonsense of NONSENSE) {
          const said = `argument ${k} as ${String(nonsense).slice(0, 20)}`;
          try {
            const made = work(...sound.with(k, nonsense));
            const result = name === 'varyPlant' ? [...(made as Iterable<unknown>)] : made;
            if (holdsNaN(result) && !holdsNaN(nonsense)) wrong.push(`${said}: NaN`);
          } catch (error) {
            const { message } = error as Error;
            const isOurs = error instanceof core.InputError || message.includes('expected');
            if (!isOurs || RAW.test(message.split(';')[0]!))
              wrong.push(`${said}: ${String(error).slice(0, 160)}`);
          }
        }
      expect(wrong).toEqual([]);
    },
  );
});

describe('a plant and a year that do not fit', () => {
  const sound = plantWith({ size_kWp: 2 });
  const steps = 48;
  const day = yearOf({ dc_kW_per_kWp: [new Float64Array(steps)], load_kW: new Float64Array(steps) });

  it('is told by the argument: nothing for a bank, a column of another length, reused columns of another year', () => {
    const play =
      (made: unknown, of: unknown = day, reused?: unknown) =>
      () =>
        core.playYear(of as never, made as never, reused as never);
    expect(play({ ...sound, bank: null })).toThrow('playYear: plant.bank is null; expected an object');
    expect(play({ ...sound, arrays: 5 })).toThrow('playYear: plant.arrays is 5; expected a list');
    expect(play(sound, { ...day, bank_temperature_C: new Float64Array(3) })).toThrow(
      'playYear: year.bank_temperature_C.length is 3; expected 48 to 48',
    );
    expect(play(sound, day, core.newReusedColumns(24))).toThrow('reused.tracked_kWh.length is 24');
    expect(play({ ...sound, bank: { ...sound.bank, floor_kWh: -100 } })).toThrow('bank.floor_kWh is -100');
  });
});

describe('what once went on without end', () => {
  it('is refused', () => {
    expect(() => annuity(1e308, 0.03)).toThrow('annuity: years is 1e+308; expected 0 to 1000');
    expect(() => howSure(0, 1e308)).toThrow('howSure: years is 1e+308; expected 1 to 1000000');
    expect(() => firstGuess(Number.NaN, 10, 0)).toThrow(/latitude_deg is NaN; expected -90 to 90/);
  });
});
