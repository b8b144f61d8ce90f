/** What the next part buys, where arithmetic says which part it is. Every plant here is invented. */

import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { type Improvement, InputError, improvePlant, newYearPreparer, readScenario } from '@longnight/core';
import type { TriedChange } from '@longnight/core/study';
import { describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';
import { whatWords } from '../../packages/cli/src/render/improve/change-words.ts';
import { parsePath } from '../../packages/core/src/scenario/text/path.ts';
import { setAt } from '../../packages/core/src/study/designs/designer.ts';
import { newPlayer } from '../../packages/core/src/study/designs/play.ts';
import { compareTries } from '../../packages/core/src/study/improve/rank.ts';
import { array, bank, type Data, evening, inverter, keysOf, mend, plant } from '../support/improvable.ts';

const helpingKeys = (improvement: Improvement): string[] => improvement.helping.flatMap(keysOf);
const by = (tries: readonly TriedChange[], key: string): TriedChange =>
  tries.find((tried) => keysOf(tried).includes(key))!;

describe('the part that gives out is the part that holds_then', () => {
  it('a bank of 5 kWh and a night of more than 6: one more module', () => {
    const improvement = mend(plant({}));
    // 0.5 kW over the hours of the night that the bank does not last.
    const nights = 364;
    expect(improvement.now.unmet_kWh).toBeGreaterThan(nights * 0.4);
    expect(improvement.now.unmet_kWh).toBeLessThan(nights * 2.5);
    expect(improvement.helping[0]!.values).toEqual([{ path: 'bank.modules_parallel', value: 2 }]);
    expect(improvement.helping[0]!.outcome.unmet_kWh).toBe(0);
    expect(improvement.holds_with).toBe(improvement.helping[0]);
    expect(improvement.idle.flatMap(keysOf)).toContain('inverter.rating_kW');
    expect(improvement.pairs).toEqual([]);
  });

  it('20 A at 50 V and an hour of 1.5 kW: half a kWh a day, until there is a second module', () => {
    const improvement = mend(
      plant({ bank: bank({}, { capacity_Ah: 400, max_discharge_A: 20 }), loads: [evening(1500)] }),
    );
    expect(improvement.now.unmet_kWh).toBeCloseTo(0.5 * 365, 9);
    expect(improvement.holds_with!.values).toEqual([{ path: 'bank.modules_parallel', value: 2 }]);
    expect(improvement.holds_with!.unmet_removed_kWh).toBeCloseTo(0.5 * 365, 9);
    // A tenth less is 1.35 kW.
    expect(by(improvement.helping, 'loads[0].scale').outcome.unmet_kWh).toBeCloseTo(0.35 * 365, 9);
    expect(helpingKeys(improvement)).toEqual([
      'bank.modules_parallel',
      'generator',
      'charger',
      'loads[0].scale',
    ]);
  });

  it('an inverter of 1 kW and an hour of 1.4 kW: the next size, and no module', () => {
    const improvement = mend(
      plant({
        bank: bank({ modules_parallel: 4 }),
        inverter: inverter({ rating_kW: 1, surge_kW: 2 }),
        loads: [evening(1400)],
      }),
    );
    expect(improvement.now.unmet_kWh).toBeCloseTo(0.4 * 365, 9);
    expect(improvement.holds_with!.values).toEqual([
      { path: 'inverter.rating_kW', value: 1.5 },
      { path: 'inverter.surge_kW', value: 3 },
      { path: 'inverter.idle_W', value: 0 },
    ]);
    expect(improvement.idle.flatMap(keysOf)).toContain('bank.modules_parallel');
  });

  it('too little sun for the load: a panel brings what each of the others brings', () => {
    const panels = 4;
    const improvement = mend(
      plant({
        arrays: [array({ panels, panel_kWp: 0.1, size_kWp: undefined })],
        bank: bank({ modules_parallel: 10 }),
        run: { year: 2025, initial_soc: 0.2 },
      }),
    );
    const served = 12 * 365 - improvement.now.unmet_kWh;
    const more = by(improvement.helping, 'arrays[0].panels');
    expect(more.values).toEqual([{ path: 'arrays[0].panels', value: panels + 1 }]);
    // Lossless, never full and empty in the end: what is served is the sun and the 10 kWh that were there.
    expect(more.unmet_removed_kWh).toBeCloseTo((served - 10) / panels, 6);
    // A module more brings the fifth of it that it is charged with when the year begins, and no more.
    expect(by(improvement.helping, 'bank.modules_parallel').unmet_removed_kWh).toBeCloseTo(1, 6);
    expect(by(improvement.helping, 'loads[0].scale').unmet_removed_kWh).toBeCloseTo(0.1 * 12 * 365, 6);
    // An engine does all of it; of what is there already, a panel does most.
    const parts = improvement.helping.filter((tried) => tried.changes[0]!.kind === 'part');
    expect(parts.map(keysOf).slice(0, 2)).toEqual([['generator', 'charger'], ['arrays[0].panels']]);
    expect(parts[1]).toBe(more);
    expect(improvement.repeated.map(keysOf)).toContainEqual(['arrays[0].panels']);
    const enough = by(improvement.repeated, 'arrays[0].panels');
    expect(enough.holds_then).toBe(true);
    // One less does not: the number is the first that holds.
    const one = enough.values[0]!.value as number;
    const fewer = mend(
      plant({
        arrays: [array({ panels: one - 1, panel_kWp: 0.1, size_kWp: undefined })],
        bank: bank({ modules_parallel: 10 }),
        run: { year: 2025, initial_soc: 0.2 },
      }),
    );
    expect(fewer.holds).toBe(false);
  });

  it('a generator that sleeps when the load is awake: no quiet hours', () => {
    const improvement = mend(
      plant({
        arrays: [array({ size_kWp: 0 })],
        bank: bank({}),
        run: { year: 2025, initial_soc: 0 },
        generator: {
          rating_kW: 2,
          fuel: { full_load_L_per_h: 1, half_load_L_per_h: 0.6 },
          start_soc: 0.1,
          stop_soc: 0.2,
          quiet_windows: ['20:00-06:00'],
        },
        loads: [evening(1000)],
      }),
    );
    expect(improvement.now.unmet_kWh).toBeCloseTo(365, 9);
    expect(improvement.holds_with!.values).toEqual([{ path: 'generator.quiet_windows', value: [] }]);
    expect(improvement.holds_with!.outcome.generator_run_h).toBe(365);
    expect(improvement.holds_with!.generator_saved_h).toBe(-365);
    expect(improvement.idle.flatMap(keysOf)).toContain('generator.rating_kW');
  });

  it('a generator of an hour a day for a load of two: an hour more', () => {
    const improvement = mend(
      plant({
        arrays: [array({ size_kWp: 0 })],
        run: { year: 2025, initial_soc: 0 },
        generator: {
          rating_kW: 2,
          fuel: { full_load_L_per_h: 1, half_load_L_per_h: 0.6 },
          start_soc: 0.1,
          stop_soc: 0.2,
          max_run_h_per_day: 1,
        },
        loads: [{ ...evening(1000), windows: ['20:00-22:00'] }],
      }),
    );
    expect(improvement.now.unmet_kWh).toBeCloseTo(365, 9);
    expect(improvement.holds_with!.values).toEqual([{ path: 'generator.max_run_h_per_day', value: 2 }]);
  });

  it('a bank that is too cold to be charged: warmth', () => {
    const improvement = mend(
      plant({
        bank: bank({ modules_parallel: 3, temperature: { kind: 'indoors', temperature_C: -5 } }),
      }),
    );
    expect(improvement.now.unmet_kWh).toBeGreaterThan(1000);
    expect(improvement.holds_with!.values).toEqual([
      { path: 'bank.temperature', value: { kind: 'indoors', temperature_C: 0 } },
    ]);
  });
});

describe('where no single change is enough', () => {
  // 1 kW of inverter, 1 kW of amps, 1.4 kW wanted: either alone changes nothing, both take all away.
  const both = plant({
    bank: bank({}, { capacity_Ah: 400, max_discharge_A: 20 }),
    inverter: inverter({ rating_kW: 1, surge_kW: 2 }),
    loads: [evening(1400)],
  });

  it('two limits that bind together need a pair', () => {
    const improvement = mend(both);
    expect(improvement.now.unmet_kWh).toBeCloseTo(0.4 * 365, 9);
    expect(improvement.idle.flatMap(keysOf)).toEqual(
      expect.arrayContaining(['bank.modules_parallel', 'inverter.rating_kW']),
    );
    expect(keysOf(improvement.holds_with).sort()).toEqual([
      'bank.modules_parallel',
      'inverter.idle_W',
      'inverter.rating_kW',
      'inverter.surge_kW',
    ]);
    expect(improvement.holds_with!.outcome.unmet_kWh).toBe(0);
    expect(improvement.pairs[0]).toBe(improvement.holds_with);
  });

  it('says that nothing does where nothing does', () => {
    // Nothing charges the bank: no sun, and no source.
    const improvement = mend(
      plant({ arrays: [array({ size_kWp: 0 })], run: { year: 2025, initial_soc: 0 } }),
    );
    expect(improvement.now.unmet_kWh).toBeCloseTo(12 * 365, 6);
    expect(keysOf(improvement.holds_with)).toEqual(['generator', 'charger']);
    expect(improvement.helping.map((tried) => tried.changes[0]!.kind)).toEqual(['part', 'loads']);
    expect(improvement.repeated).toEqual([]);
    expect(improvement.together).toEqual([]);
    // Nor does another engine, where the tank holds a litre for the whole year.
    const engine = {
      rating_kW: 2,
      fuel: { full_load_L_per_h: 1, half_load_L_per_h: 0.6 },
      start_soc: 0.1,
      stop_soc: 0.2,
      tank: { capacity_L: 1, refill_every_days: 366 },
    };
    const dry = mend(
      plant({ arrays: [array({ size_kWp: 0 })], run: { year: 2025, initial_soc: 0 }, generator: engine }),
    );
    expect(dry.now.unmet_kWh).toBeGreaterThan(4000);
    expect(dry.holds_with).toBeNull();
  });

  it('goes on repeating past a step that brings nothing', () => {
    // A short day, a small tank: with a generator more of a part does not always bring more.
    const file = 'data/demo/holds-with-generator.yaml';
    // A tracker that takes many times the array, or there would be an end to adding.
    const wide = (text: string): string => text.replace('{ max_power_kW: 6,', '{ max_power_kW: 60,');
    const text = wide(readFileSync(resolve(import.meta.dirname, '../..', file), 'utf8')).replace(
      '  min_run_h: 2',
      '  min_run_h: 2\n  quiet_windows: ["16:00-10:00"]\n  max_run_h_per_day: 2\n  tank: { capacity_L: 12, refill_every_days: 30 }',
    );
    const improvement = improvePlant({ text, file, partsTexts: new Map() }, new Map());
    expect(improvement.now.unmet_hours).toBeGreaterThan(100);
    const size = by(improvement.repeated, 'arrays[0].size_kWp');
    expect(size.holds_then).toBe(true);
    // Fifteen times is where the sixteenth brings nothing.
    expect(size.changes.length).toBeGreaterThan(16);
  });

  it('is the same each time', () => {
    expect(mend(both)).toEqual(mend(both));
  });
});

describe('what is said of a change', () => {
  const FILE = 'data/demo/short-of-bank.yaml';
  const TEXT = readFileSync(resolve(import.meta.dirname, '../..', FILE), 'utf8');

  it('is what a file that says so gives', () => {
    const improvement = improvePlant({ text: TEXT, file: FILE, partsTexts: new Map() }, new Map());
    const play = newPlayer(newYearPreparer(FILE, new Map()));
    const tries = [
      ...improvement.helping,
      ...improvement.repeated,
      ...improvement.pairs.slice(0, 3),
      ...improvement.harming,
    ];
    expect(tries.length).toBeGreaterThan(12);
    for (const { values, outcome } of tries) {
      const data = values.reduce<unknown>((at, v) => setAt(at, parsePath(v.path), v.value), parse(TEXT));
      const figures = play(readScenario(stringify(data), FILE).scenario);
      expect(figures['unmet.energy_kWh']).toBeCloseTo(outcome.unmet_kWh, 9);
      expect(figures['bank.lowest_soc']).toBeCloseTo(outcome.lowest_soc, 12);
    }
  });

  it('has a price only where the bill has one', () => {
    const money = { currency: 'crowns', years: 10, discount_share_per_year: 0 };
    const improvement = mend(
      plant({
        money: { ...money, lines: [{ name: 'busbar', price: 7, per: 'module' }] },
        arrays: [array({ price: 1000, tracker: { max_power_kW: 100, max_charge_A: 1000, price: 100 } })],
        bank: bank({ price: 900 }),
        inverter: inverter({ price: 500 }),
      }),
    );
    const module = by(improvement.helping, 'bank.modules_parallel');
    expect(module.extra_money).toBe(907);
    expect(module.money_per_removed_kWh).toBeCloseTo(907 / improvement.now.unmet_kWh, 9);
    const all = [...improvement.helping, ...improvement.idle, ...improvement.harming];
    // 500 is the price of the inverter as it is, not of one that is 1.5 times as large.
    expect(by(all, 'inverter.rating_kW').extra_money).toBeNull();
    expect(by(all, 'arrays[0].size_kWp').extra_money).toBeNull();
    expect(by(all, 'arrays[0].tilt_deg').extra_money).toBe(0);
  });

  it('takes the next part from the shelf, with its price', () => {
    const parts = [1, 3, 2].map((kW) => ({
      name: `inverter-${kW}kW`,
      kind: 'inverter',
      values: { ...inverter({ rating_kW: kW, surge_kW: 2 * kW }), price: 100 * kW },
    }));
    const source = {
      text: stringify(
        plant({
          parts_files: ['p.yaml'],
          money: { currency: 'crowns', years: 10, discount_share_per_year: 0 },
          arrays: [array({ price: 1, tracker: { max_power_kW: 100, max_charge_A: 1000, price: 1 } })],
          bank: bank({ modules_parallel: 4, price: 1 }),
          inverter: { part: 'inverter-1kW' },
          loads: [evening(1400)],
        }),
      ),
      file: 'test.yaml',
      partsTexts: new Map([['p.yaml', stringify({ parts })]]),
    };
    const improvement = improvePlant(source, new Map());
    expect(improvement.holds_with!.values).toEqual([{ path: 'inverter.part', value: 'inverter-2kW' }]);
    expect(improvement.holds_with!.extra_money).toBe(100);
  });

  it('of a plant that holds: hours saved, then the lowest state of charge', () => {
    const file = 'data/demo/holds-with-generator.yaml';
    const text = readFileSync(resolve(import.meta.dirname, '../..', file), 'utf8');
    const { helping, holds, now, holds_with, ranked_by } = improvePlant(
      { text, file, partsTexts: new Map() },
      new Map(),
    );
    expect([holds, ranked_by, holds_with]).toEqual([true, 'margin', null]);
    expect(helping.length).toBeGreaterThan(2);
    const saved = helping.map((tried) => tried.generator_saved_h!);
    expect(saved).toEqual([...saved].sort((a, b) => b - a));
    for (const { outcome } of helping) {
      expect(outcome.unmet_hours).toBe(0);
      expect(outcome.generator_run_h! < now.generator_run_h! || outcome.lowest_soc > now.lowest_soc).toBe(
        true,
      );
    }
  });

  it('is refused for a scenario that is not sound', () => {
    expect(() => mend(plant({ bank: bank({ floor_soc: 2 }) }))).toThrow(InputError);
    expect(() =>
      mend(plant({ run: { year: 2025, initial_soc: 0 }, bank: bank({ floor_soc: 0.5 }) })),
    ).toThrow(InputError);
  });
});

describe('plants with more than one place', () => {
  const stack = (own: Data) => inverter({ units: 2, legs: 2, rating_kW: 1, surge_kW: 2, ...own });
  const onLeg = (name: string, leg: number): Data => ({ ...evening(800), name, leg });

  it('two loads of 800 W on a leg of 1 kW while the other is idle: one of them on the other leg, for nothing', () => {
    const improvement = mend(
      plant({
        bank: bank({ modules_parallel: 4 }),
        inverter: stack({}),
        loads: [onLeg('a', 1), onLeg('b', 1)],
      }),
    );
    expect(improvement.now.unmet_kWh).toBeCloseTo(0.6 * 365, 9);
    expect(by(improvement.helping, 'loads[0].leg')).toMatchObject({
      holds_then: true,
      values: [{ path: 'loads[0].leg', value: 2 }],
    });
    expect(by(improvement.helping, 'loads[1].leg').holds_then).toBe(true);
    // A unit more on each leg does it too: 2 kW a leg.
    expect(by(improvement.helping, 'inverter.units')).toMatchObject({
      holds_then: true,
      values: [{ path: 'inverter.units', value: 4 }],
    });
    expect(whatWords(by(improvement.helping, 'inverter.rating_kW').changes[0]!)).toBe(
      '2 inverters of 1.5 kW instead of 1 kW',
    );
  });

  it('a single inverter is not stacked, and has no leg to put a load on', () => {
    const improvement = mend(
      plant({ inverter: inverter({ rating_kW: 1, surge_kW: 2 }), loads: [onLeg('a', 1)] }),
    );
    const keys = [...improvement.helping, ...improvement.idle, ...improvement.harming].flatMap(keysOf);
    expect(keys).not.toContain('inverter.units');
    expect(keys).not.toContain('loads[0].leg');
  });

  it('a load that goes without below 90 % of a charge that is never there: it may draw at any', () => {
    const improvement = mend(
      plant({
        arrays: [array({ size_kWp: 0.001 })],
        bank: bank({ modules_parallel: 200 }),
        loads: [
          {
            kind: 'flexible',
            name: 'pump',
            energy_kWh: 1,
            max_power_W: 1000,
            window: '20:00-23:00',
            min_soc: 0.9,
          },
        ],
        run: { year: 2025, initial_soc: 0.8 },
      }),
    );
    expect(improvement.now.unmet_kWh).toBeCloseTo(365, 6);
    expect(improvement.holds_with!.values).toEqual([{ path: 'loads[0].min_soc', value: 0 }]);
  });

  it('a charger is larger for sun on the AC side too, without generator or socket', () => {
    const ac = { max_power_kW: 100, max_output_kW: 100, efficiency_share: 1 };
    const improvement = mend(
      plant({
        arrays: [array({ coupling: 'ac', tracker: ac })],
        charger: { max_charge_A: 4, efficiency_share: 1 },
        bank: bank({ modules_parallel: 3 }),
      }),
    );
    expect(by(improvement.helping, 'charger.max_charge_A').unmet_removed_kWh).toBeGreaterThan(100);
  });
});

describe('the order of changes', () => {
  const tried = (removed: number, saved: number | null, money: number | null, soc = 0): TriedChange =>
    ({
      nearer: removed,
      unmet_removed_kWh: removed,
      generator_saved_h: saved,
      extra_money: money,
      outcome: { lowest_soc: soc },
    }) as unknown as TriedChange;

  it('is energy removed, then hours saved, then energy per money, an unknown price last', () => {
    const best = [
      tried(9, 0, null),
      tried(5, 3, 900),
      tried(5, 1, 0),
      tried(5, 1, 10),
      tried(5, 1, 20),
      tried(5, 1, null),
      tried(1, 50, 0),
    ];
    const shuffled = [3, 0, 6, 2, 5, 1, 4].map((k) => best[k]!);
    expect(shuffled.sort(compareTries('unmet', { unmet_hours: 1 }))).toEqual(best);
  });

  it('is hours saved, then the lowest state of charge, then money, for a plant that holds', () => {
    const best = [tried(0, 9, 50, 0.2), tried(0, 2, 50, 0.4), tried(0, 2, 10, 0.3), tried(0, 2, 20, 0.3)];
    const shuffled = [2, 3, 0, 1].map((k) => best[k]!);
    expect(shuffled.sort(compareTries('margin', { unmet_hours: 0 }))).toEqual(best);
  });
});
