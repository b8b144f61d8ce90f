/** The auditor audited: a played ledger with one wrong cell must not pass, whichever column it stands in. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import {
  audit,
  type Columns,
  findings,
  LEDGER_COLUMNS,
  type Ledger,
  type Plant,
  type PreparedYear,
  plantOf,
  playYear,
  prepareYear,
  readScenario,
} from '@longnight/core';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { imbalance } from '../../packages/cli/src/render/document/figures.ts';
import { banks, drawn, partsWith, withBank, yearWith } from '../support/drawn.ts';
import { plantWith } from '../support/plant.ts';
import { yearOf } from '../support/year.ts';

interface Played {
  readonly year: PreparedYear;
  readonly plant: Plant;
  readonly ledger: Ledger;
}

/** Random plants of all three banks, with and without each feature; the same ones in each run. */
const played: readonly Played[] = fc
  .sample(fc.tuple(drawn(true), banks), { seed: 20, numRuns: 150 })
  .map(([{ seed, step_min, extras, parts }, bank]) => {
    const plant = plantWith(withBank(partsWith(parts, extras), bank));
    const year = yearWith(seed, step_min, extras);
    return { year, plant, ledger: playYear(year, plant) };
  });

const auditOf = ({ year, plant, ledger }: Played) => audit({ ...ledger, year, plant });

/** The same with one cell of a column changed. */
function corrupt(one: Played, name: keyof Columns, i: number, change: (value: number) => number): Played {
  const column = one.ledger.columns[name].slice();
  column[i] = change(column[i]!);
  return { ...one, ledger: { ...one.ledger, columns: { ...one.ledger.columns, [name]: column } } };
}

/** A thousand times the tolerance: kWh, L, h or share. */
const SMALL = 1e-6;

describe('a ledger as it was played', () => {
  it('passes, whatever plant played it', () => {
    expect(Math.max(...played.map((one) => auditOf(one).largest_imbalance_kWh))).toBeLessThan(1e-9);
    expect(new Set(played.map((one) => auditOf(one).tolerance_kWh))).toEqual(new Set([1e-9]));
    expect(auditOf(played[0]!).steps_checked).toBe(played[0]!.ledger.steps);
  });
});

describe('a generator that warms up for longer than a step', () => {
  const extras = {
    shore: false,
    engine: false,
    quiet: false,
    failing: false,
    tiers: false,
    cold: false,
    places: false,
    cuts_off: false,
    stream: false,
  };
  const generator = {
    rating_kW: 0.5,
    fuel: { full_load_L_per_h: 2, half_load_L_per_h: 1.3 },
    warm_up_min: 60,
    starts: { kind: 'at_soc' as const },
    start_soc: 0,
    stop_soc: 0.01,
    min_load_share: 0.02,
    min_run_h: 0,
    connection: 'transfer' as const,
  };

  const dark = {
    name: 'none',
    size_kWp: 0,
    max_input_kW: 0.1,
    max_charge_A: 1,
    max_output_kW: 0.1,
    efficiency: 0.9,
    works: { from_C: Number.NEGATIVE_INFINITY, to_C: Number.POSITIVE_INFINITY },
  };

  // Found by the random plants: all of its first steps burn the same, and rounding chose how long it had run.
  it.each([5, 15, 60] as const)('and runs from the first step of %i min is no imbalance', (step_min) => {
    const plant = plantWith({
      arrays: [dark, dark],
      modules_parallel: 1,
      capacity_Ah: 20,
      floor_soc: 0,
      rating_kW: 0.5,
      initial_soc: 0,
      generator,
      charger: null,
    });
    const ledger = playYear(yearWith(1, step_min, extras), plant);
    expect(ledger.columns.generator_run_h[0]).toBeGreaterThan(0);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-9);
    const begun = playYear(yearWith(1, step_min, extras), plant, undefined, ledger.end);
    expect(audit(begun).largest_imbalance_kWh).toBeLessThan(1e-9);
    const wrong = ledger.columns.fuel_L.slice();
    wrong[1]! += SMALL;
    const seen = audit({ ...ledger, columns: { ...ledger.columns, fuel_L: wrong } });
    expect(seen.largest_imbalance_kWh).toBeGreaterThan(1e-9);
  });
});

describe('a wrong cell is seen, and in which step it is', () => {
  for (const { name } of LEDGER_COLUMNS) {
    it(`in ${name}`, () => {
      // Several plants, so that banks and sources of each kind are among them.
      const used = played.filter(({ ledger }) => ledger.columns[name].some((value) => value > 0.01));
      expect(used.length).toBeGreaterThan(0);
      for (const one of used.slice(0, 8)) {
        const column = one.ledger.columns[name];
        const inUse = column.findIndex((value, i) => i > 0 && value > 0.01);
        for (const change of [
          (value: number) => value + SMALL,
          (value: number) => value - SMALL,
          () => 0,
          () => Number.NaN,
        ]) {
          const { largest_imbalance_kWh, tolerance_kWh, step } = auditOf(corrupt(one, name, inUse, change));
          expect(largest_imbalance_kWh <= tolerance_kWh, `${change} at ${inUse}`).toBe(false);
          // What is wrong with the stock is wrong with its change in the step after as well; an engine that stood
          // for a step would have to warm up again.
          expect(step - inUse).toBeGreaterThanOrEqual(0);
          expect(step - inUse).toBeLessThanOrEqual(/stock|run_h/.test(name) ? 1 : 0);
        }
        const last = one.ledger.steps - 1;
        expect(auditOf(corrupt(one, name, last, (value) => value + SMALL)).step).toBe(last);
      }
    });
  }

  it('in a plant without a generator: hours and fuel that nothing burns', () => {
    const plant = plantWith({ size_kWp: 1 });
    const year = yearOf({ dc_kW_per_kWp: [new Float64Array(24)], load_kW: new Float64Array(24).fill(0.1) });
    const one = { year, plant, ledger: playYear(year, plant) };
    for (const name of ['generator_run_h', 'fuel_L'] as const)
      expect(auditOf(corrupt(one, name, 3, () => SMALL))).toMatchObject({
        largest_imbalance_kWh: SMALL,
        step: 3,
      });
  });

  it('in the stock at the start', () => {
    const one = played[0]!;
    const start_stock_kWh = one.ledger.start_stock_kWh + SMALL;
    const found = auditOf({ ...one, ledger: { ...one.ledger, start_stock_kWh } });
    expect(found.largest_imbalance_kWh).toBeCloseTo(SMALL, 9);
    expect(found.step).toBe(0);
  });

  it('under another plant or other loads', () => {
    const one = played.find(({ ledger }) => ledger.columns.fuel_L.some((L) => L > 0))!;
    const { bank, generator } = one.plant;
    const plants: Plant[] = [
      { ...one.plant, bank: { ...bank, capacity_kWh: 1.01 * bank.capacity_kWh } },
      { ...one.plant, generator: { ...generator!, warm_up_h: generator!.warm_up_h + 0.01 } },
      { ...one.plant, generator: null },
    ];
    for (const plant of plants)
      expect(auditOf({ ...one, plant }).largest_imbalance_kWh).toBeGreaterThan(1e-6);
    const total_kW = one.year.loads.total_kW.map((kW) => 1.01 * kW);
    const year = { ...one.year, loads: { ...one.year.loads, total_kW } };
    expect(auditOf({ ...one, year }).largest_imbalance_kWh).toBeGreaterThan(1e-6);
  });
});

describe('a generator that ran before the first step', () => {
  it('is warm there, or as warm as its fuel says', () => {
    // Half an hour to warm up, in quarter hours; the ledger without its first steps begins cold, half warm, and warm.
    const generator = {
      rating_kW: 2,
      fuel: { full_load_L_per_h: 1, half_load_L_per_h: 0.6 },
      start_soc: 0.9,
      stop_soc: 0.95,
      min_load_share: 0.1,
      min_run_h: 0,
      warm_up_min: 25,
      connection: 'parallel',
    } as const;
    const charger = { max_charge_A: 20, max_output_kW: 1, efficiency: 0.9 };
    const plant = plantWith({ generator, charger, initial_soc: 0.1, capacity_Ah: 1000 });
    const year = (steps: number): PreparedYear =>
      yearOf({
        dc_kW_per_kWp: [new Float64Array(steps)],
        load_kW: new Float64Array(steps).fill(0.3),
        step_min: 15,
      });
    const { columns, ...ledger } = playYear(year(192), plant);
    for (const from of [0, 1, 2, 3]) {
      const cut = Object.fromEntries(
        LEDGER_COLUMNS.map(({ name }) => [name, columns[name].slice(from, from + 96)]),
      ) as Columns;
      const start_stock_kWh = from === 0 ? ledger.start_stock_kWh : columns.bank_stock_kWh[from - 1]!;
      const one = { year: year(96), plant, ledger: { ...ledger, steps: 96, columns: cut, start_stock_kWh } };
      expect(cut.generator_run_h[0]).toBe(0.25);
      expect(auditOf(one).largest_imbalance_kWh).toBeLessThan(1e-12);
      expect(auditOf(corrupt(one, 'fuel_L', 1, (L) => L + SMALL)).largest_imbalance_kWh).toBeGreaterThan(
        SMALL / 2,
      );
    }
  });
});

describe('what rounding may leave', () => {
  it('grows with the largest flow: an engine of 1e8 kW, larger than any file may have, that spills its least load gives a report', () => {
    const file = resolve(import.meta.dirname, '../../data/demo/holds-with-generator.yaml');
    const text = readFileSync(file, 'utf8');
    const read = readScenario(text, 'plant.yaml');
    const year = prepareYear(read, 'plant.yaml', new Map());
    const plant = plantOf({
      ...read.scenario,
      generator: { ...read.scenario.generator!, rating_kW: 1e8 },
    });
    const ledger = playYear(year, plant);
    const { largest_imbalance_kWh, tolerance_kWh } = audit(ledger);
    // More than a plant of this bank would be let through with, and a few roundings of 3e7 kWh.
    expect(largest_imbalance_kWh).toBeGreaterThan(1e-9);
    expect(tolerance_kWh).toBeLessThan(2e-4);
    expect(findings(ledger).audit.largest_imbalance_kWh).toBe(largest_imbalance_kWh);
  });

  it('is not printed: another processor rounds otherwise', () => {
    expect([0, 3e-15, 9.9e-10].map(imbalance)).toEqual(Array(3).fill('below 1e-9 kWh'));
    expect(imbalance(4e-9)).toBe('4e-9 kWh');
    expect(imbalance(Number.NaN)).toBe('NaN kWh');
  });
});
