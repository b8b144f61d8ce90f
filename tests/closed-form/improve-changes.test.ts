/** Every change that `improve` knows: what it writes where it has a place, that it is not there where it has none. */
import { describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import { readSource } from '../../packages/core/src/study/designs/study.ts';
import type { Change } from '../../packages/core/src/study/improve/changes/change.ts';
import { changesOfMachines } from '../../packages/core/src/study/improve/changes/machines.ts';
import { changesOfBank, changesOfLoads } from '../../packages/core/src/study/improve/changes/store.ts';
import { changesOfArrays } from '../../packages/core/src/study/improve/changes/sun.ts';
import { array, bank, type Data, evening, inverter, keysOf, mend, plant } from '../support/improvable.ts';

/** Parts that a file may name, each a size larger than the one before. */
const PARTS = [
  ...[1, 2, 3].map((kW) => ({
    name: `inverter-${kW}`,
    kind: 'inverter',
    values: inverter({ rating_kW: kW, surge_kW: 2 * kW }),
  })),
  {
    name: 'all-in-one-5',
    kind: 'inverter',
    values: inverter({ rating_kW: 5, surge_kW: 9 }),
    brings: { charger: { max_charge_A: 60, efficiency_share: 1 } },
  },
  ...[20, 40].map((amps) => ({
    name: `charger-${amps}`,
    kind: 'charger',
    values: { max_charge_A: amps, efficiency_share: 1 },
  })),
  ...[2, 6, 12].map((kW) => ({
    name: `generator-${kW}`,
    kind: 'generator',
    values: { rating_kW: kW, fuel: { full_load_L_per_h: kW / 2, half_load_L_per_h: kW / 3 } },
  })),
  ...[50, 80].map((amps) => ({
    name: `tracker-${amps}`,
    kind: 'tracker',
    values: { max_power_kW: amps / 10, max_charge_A: amps, efficiency_share: 1 },
  })),
];

/** What is changed about a plant, by id; `coldest_bank_C` stands for what its year would find. */
function changesOf(own: Data, parts = false, coldest_bank_C = 20): ReadonlyMap<string, Change> {
  const text = stringify(plant({ ...own, ...(parts ? { parts_files: ['p.yaml'] } : {}) }));
  const partsTexts = new Map(parts ? [['p.yaml', stringify({ parts: PARTS })]] : []);
  const { scenario, source } = readSource({ text, file: 'test.yaml', partsTexts });
  const changeable = { scenario, written: source.written.data as Data, shelf: source.shelf, coldest_bank_C };
  const all = [changesOfArrays, changesOfBank, changesOfMachines, changesOfLoads].flatMap((of) =>
    of(changeable),
  );
  return new Map(all.map((change) => [change.id, change]));
}

const engine = {
  rating_kW: 2,
  fuel: { full_load_L_per_h: 1, half_load_L_per_h: 0.6 },
  start_soc: 0.2,
  stop_soc: 0.8,
};
const panels = { panels: 6, panel_kWp: 0.5, size_kWp: undefined };
const tracker = { max_power_kW: 4, max_charge_A: 60, efficiency_share: 1 };
const ac = { coupling: 'ac', tracker: { max_power_kW: 4, max_output_kW: 3, efficiency_share: 1 } };
const pump = { kind: 'flexible', name: 'pump', energy_kWh: 1, max_power_W: 1000, window: '20:00-23:00' };
const low = { ...evening(500), name: 'low', tier: 3 };
const leg = (own: Data) => ({
  inverter: inverter({ units: 2, legs: 2 }),
  loads: [{ ...evening(800), ...own }],
});

describe('a change is there with its values, or not at all', () => {
  const at = (path: string, value: unknown) => ({ path, value });
  const one = (own: Data, tracked: Data = tracker) => ({ arrays: [array({ tracker: tracked, ...own })] });
  // biome-ignore format: a table is read by rows
  it.each([
    ['arrays[0] more', one(panels), [at('arrays[0].panels', 7)]],
    ['arrays[0] more', one({ ...panels, size_kWp: 3 }), [at('arrays[0].panels', 7), at('arrays[0].size_kWp', 3.5)]],
    ['arrays[0] more', one({ size_kWp: 2 }), [at('arrays[0].size_kWp', 2.2)]],
    ['arrays[0] more', one({ size_kWp: 0 }), null],
    ['arrays[0] more', one({ ...panels, panels_in_series: 3, strings_parallel: 2, panel: { voc_V: 48, vmp_V: 40, isc_A: 13, imp_A: 12.5, voc_temperature_coefficient_per_K: -0.003 } }), [at('arrays[0].panels', 9), at('arrays[0].strings_parallel', 3)]],
    ['arrays[0].tracker', one({}), [at('arrays[0].tracker.max_power_kW', 6), at('arrays[0].tracker.max_charge_A', 90)]],
    ['arrays[0].tracker', one(ac), [at('arrays[0].tracker.max_power_kW', 6), at('arrays[0].tracker.max_output_kW', 4.5)]],
    ['arrays[0] steeper', one({ tilt_deg: 30 }), [at('arrays[0].tilt_deg', 40)]],
    ['arrays[0] flatter', one({ tilt_deg: 30 }), [at('arrays[0].tilt_deg', 20)]],
    ['arrays[0] steeper', one({ tilt_deg: 85 }), [at('arrays[0].tilt_deg', 90)]],
    ['arrays[0] steeper', one({ tilt_deg: 90 }), null],
    ['arrays[0] flatter', one({ tilt_deg: 0 }), null],
    ['arrays[0] steeper', one({ tilt_deg: [90, 80, 70, 60, 50, 40, 30, 40, 50, 60, 70, 85] }), [at('arrays[0].tilt_deg', [90, 90, 80, 70, 60, 50, 40, 50, 60, 70, 80, 90])]],
    ['bank more', { bank: bank({ modules_parallel: 3 }) }, [at('bank.modules_parallel', 4)]],
    ['bank floor', { bank: bank({ floor_soc: 0.2 }) }, [at('bank.floor_soc', 0.15)]],
    ['bank floor', { bank: bank({ floor_soc: 0.05 }) }, [at('bank.floor_soc', 0)]],
    ['bank floor', { bank: bank({ floor_soc: 0.04 }) }, null],
    ['bank floor', { bank: bank({ chemistry: 'lead_acid', floor_soc: 0.55, min_charge_temperature_C: undefined }) }, [at('bank.floor_soc', 0.5)]],
    ['bank floor', { bank: bank({ chemistry: 'lead_acid', floor_soc: 0.5, min_charge_temperature_C: undefined }) }, null],
    ['bank heated', { bank: bank({}) }, null],
    ['inverter', { inverter: inverter({ rating_kW: 2, surge_kW: 5, idle_W: 30 }) }, [at('inverter.rating_kW', 3), at('inverter.surge_kW', 7.5), at('inverter.idle_W', 45)]],
    ['inverter stack', { inverter: inverter({ units: 1 }) }, null],
    ['inverter stack', { inverter: inverter({ units: 2 }) }, [at('inverter.units', 3)]],
    ['inverter stack', leg({}), [at('inverter.units', 4)]],
    ['loads[0] leg 2', leg({ leg: 1 }), [at('loads[0].leg', 2)]],
    ['loads[0] leg 1', leg({ leg: 1 }), null],
    ['loads[0] leg 2', leg({}), null],
    ['charger', {}, null],
    ['charger', { charger: { max_charge_A: 20 } }, null],
    ['charger', { generator: engine, charger: { max_charge_A: 20 } }, [at('charger.max_charge_A', 30)]],
    ['charger', { shore: { max_A: 10, voltage_V: 230 }, charger: { max_charge_A: 20 } }, [at('charger.max_charge_A', 30)]],
    ['charger', { ...one(ac), charger: { max_charge_A: 20 } }, [at('charger.max_charge_A', 30)]],
    ['charger', { generator: engine, inverter: inverter({ units: 2 }), charger: { max_charge_A: 20, built_in: true } }, [at('charger.max_charge_A', 30)]],
    ['generator', { generator: engine }, [at('generator.rating_kW', 3), at('generator.fuel.full_load_L_per_h', 1.5), at('generator.fuel.half_load_L_per_h', 0.9)]],
    ['generator', { generator: { ...engine, fuel: { points: [{ load_share: 0.5, L_per_h: 0.6 }, { load_share: 1, L_per_h: 1 }] } } }, [at('generator.rating_kW', 3), at('generator.fuel.points', [{ load_share: 0.5, L_per_h: 0.9 }, { load_share: 1, L_per_h: 1.5 }])]],
    ['generator', {}, null],
    ['generator new', { generator: engine }, null],
    ['generator new', {}, [at('generator', { rating_kW: 10, fuel: { full_load_L_per_h: 4, half_load_L_per_h: 2.5 }, start_soc: 0.1, stop_soc: 0.6 }), at('charger', { max_charge_A: 160 })]],
    ['generator new', { bank: bank({ floor_soc: 0.5 }, { max_charge_A: 30 }) }, [at('generator', { rating_kW: 10, fuel: { full_load_L_per_h: 4, half_load_L_per_h: 2.5 }, start_soc: 0.55, stop_soc: 0.8 }), at('charger', { max_charge_A: 30 })]],
    ['generator new', { ...one(ac), charger: { max_charge_A: 20 } }, [at('generator', { rating_kW: 10, fuel: { full_load_L_per_h: 4, half_load_L_per_h: 2.5 }, start_soc: 0.1, stop_soc: 0.6 })]],
    ['generator hours', { generator: { ...engine, max_run_h_per_day: 23.5 } }, [at('generator.max_run_h_per_day', 24)]],
    ['generator hours', { generator: engine }, null],
    ['generator quiet', { generator: { ...engine, quiet_windows: ['20:00-06:00'] } }, [at('generator.quiet_windows', [])]],
    ['generator quiet', { generator: engine }, null],
    ['generator earlier', { generator: engine }, [at('generator.start_soc', 0.3)]],
    ['generator earlier', { generator: { ...engine, start_soc: 0.69, stop_soc: 0.79 } }, null],
    ['generator earlier', { generator: { ...engine, start_soc: undefined, starts: { kind: 'on_shortfall' } } }, null],
    ['generator tank', { generator: { ...engine, tank: { capacity_L: 20, refill_every_days: 30 } } }, [at('generator.tank.capacity_L', 30)]],
    ['generator tank', { generator: engine }, null],
    ['generator parallel', { generator: { ...engine, connection: 'transfer' } }, [at('generator.connection', 'parallel')]],
    ['generator parallel', { generator: { ...engine, connection: 'parallel' } }, null],
    ['shore', { shore: { max_A: 10, voltage_V: 230 } }, [at('shore.max_A', 15)]],
    ['shore', {}, null],
    ['shore parallel', { shore: { max_A: 10, voltage_V: 230, connection: 'transfer' } }, [at('shore.connection', 'parallel')]],
    ['shore parallel', { shore: { max_A: 10, voltage_V: 230, connection: 'parallel' } }, null],
    ['engine', { alternator: { max_charge_A: 30, windows: ['08:00-09:00'] } }, [at('alternator.max_charge_A', 45)]],
    ['engine', {}, null],
    ['loads smaller', { loads: [evening(500), { ...low, scale: 2 }] }, [at('loads[0].scale', 0.9), at('loads[1].scale', 1.8)]],
    ['loads wait', { bank: bank({ floor_soc: 0.2 }), loads: [evening(500), { ...pump, min_soc: 0.5 }] }, [at('loads[1].min_soc', 0)]],
    ['loads wait', { bank: bank({ floor_soc: 0.2 }), loads: [evening(500), { ...pump, min_soc: 0.2 }] }, null],
    ['loads shed', { loads: [evening(500), low] }, [at('shedding', [{ tier: 3, shed_soc: 0.2, restore_soc: 0.4 }])]],
    ['loads shed', { bank: bank({ floor_soc: 0.6 }), loads: [evening(500), low] }, [at('shedding', [{ tier: 3, shed_soc: 0.8, restore_soc: 1 }])]],
    ['loads shed', { bank: bank({ floor_soc: 0.61 }), loads: [evening(500), low] }, null],
    ['loads shed', { loads: [evening(500)] }, null],
    ['loads shed', { loads: [evening(500), low], shedding: [{ tier: 3, shed_soc: 0.3, restore_soc: 0.5 }] }, null],
  ] as [string, Data, unknown[] | null][])('%s, case %#', (id, own, values) => {
    expect(changesOf(own).get(id)?.values ?? null).toEqual(values);
  });

  // biome-ignore format: a table is read by rows
  it.each([
    [-0.1, [at('bank.temperature', { kind: 'indoors', temperature_C: 0 })]],
    [0, null],
  ])('a bank that gets down to %d °C', (coldest_C, values) => {
    expect(changesOf({}, false, coldest_C).get('bank heated')?.values ?? null).toEqual(values);
  });

  // biome-ignore format: a table is read by rows
  it.each([
    ['inverter', { inverter: { part: 'inverter-1' } }, [at('inverter.part', 'inverter-2')]],
    ['inverter', { inverter: { part: 'inverter-3' } }, [at('inverter.part', 'all-in-one-5')]],
    ['inverter', { inverter: { part: 'inverter-1', rating_kW: 1.2 } }, [at('inverter.rating_kW', 1.8), at('inverter.surge_kW', 3), at('inverter.idle_W', 0)]],
    ['inverter', { inverter: { part: 'all-in-one-5' } }, [at('inverter.rating_kW', 7.5), at('inverter.surge_kW', 13.5), at('inverter.idle_W', 0)]],
    ['charger', { generator: engine, charger: { part: 'charger-20' } }, [at('charger.part', 'charger-40')]],
    ['charger', { generator: engine }, [at('charger', { part: 'charger-20' })]],
    ['charger', { generator: engine, charger: { part: 'charger-40' } }, [at('charger.max_charge_A', 60)]],
    ['charger', { generator: engine, inverter: { part: 'all-in-one-5' } }, [at('charger', { max_charge_A: 90, efficiency_share: 1 })]],
    ['generator', { generator: { part: 'generator-2', start_soc: 0.2, stop_soc: 0.8 } }, [at('generator.part', 'generator-6')]],
    ['generator', { generator: { part: 'generator-12', start_soc: 0.2, stop_soc: 0.8 } }, [at('generator.rating_kW', 18), at('generator.fuel.full_load_L_per_h', 9), at('generator.fuel.half_load_L_per_h', 6)]],
    ['generator new', {}, [at('generator', { part: 'generator-12', start_soc: 0.1, stop_soc: 0.6 }), at('charger', { max_charge_A: 192 })]],
    ['arrays[0].tracker', { arrays: [array({ tracker: { part: 'tracker-50' } })] }, [at('arrays[0].tracker.part', 'tracker-80')]],
    ['arrays[0].tracker', { arrays: [array({ tracker: { part: 'tracker-80' } })] }, [at('arrays[0].tracker.max_power_kW', 12), at('arrays[0].tracker.max_charge_A', 120)]],
  ] as [string, Data, unknown[]][])('%s from the shelf, case %#', (id, own, values) => {
    expect(changesOf(own, true).get(id)?.values).toEqual(values);
  });

  it('more array than half as much again as the tracker takes is refused, and not a watt less', () => {
    const refused = (size_kWp: number) =>
      changesOf({ arrays: [array({ size_kWp, tracker: { ...tracker, max_power_kW: 4.4 } })] }).get(
        'arrays[0] more',
      )!.refused;
    expect(refused(6)).toBeNull();
    expect(refused(6.01)).toEqual({ id: 'over_tracker', size_kWp: 6.611, power_kW: 4.4, times: 1.5 });
  });
});

describe('each is the answer where arithmetic says so', () => {
  const dark = { arrays: [array({ size_kWp: 0 })], run: { year: 2025, initial_soc: 0 } };
  const hours = (from: number, to: number, power_W: number): Data => ({
    kind: 'appliance',
    name: 'l',
    power_W,
    windows: [`${String(from).padStart(2, '0')}:00-${to}:00`],
  });
  // biome-ignore format: a table is read by rows
  it.each([
    ['a larger socket', { ...dark, inverter: inverter({ rating_kW: 0.001, surge_kW: 0.002 }), shore: { max_A: 10, voltage_V: 100, connection: 'transfer' }, loads: [evening(1400)] }, 0.4 * 365, [['shore.max_A', 15]]],
    ['a larger generator', { ...dark, inverter: inverter({ rating_kW: 0.001, surge_kW: 0.002 }), generator: { ...engine, rating_kW: 1, start_soc: 0.1, stop_soc: 0.2, connection: 'transfer' }, loads: [evening(1400)] }, 0.4 * 365, [['generator.rating_kW', 1.5], ['generator.fuel.full_load_L_per_h', 1.5], ['generator.fuel.half_load_L_per_h', 0.9]]],
    ['a larger charger at the engine', { ...dark, bank: bank({ modules_parallel: 2 }), alternator: { max_charge_A: 20, windows: ['08:00-10:00'] }, loads: [hours(21, 23, 1500)] }, 365, [['alternator.max_charge_A', 30]]],
    ['a lower floor', { bank: bank({ modules_parallel: 2, floor_soc: 0.05 }), loads: [hours(20, 22, 5000)] }, 0.5 * 365, [['bank.floor_soc', 0]]],
  ] as [string, Data, number, [string, unknown][]][])('%s', (_, own, unmet_kWh, values) => {
    const improvement = mend(plant(own));
    expect(improvement.now.unmet_kWh).toBeCloseTo(unmet_kWh, 6);
    const found = improvement.helping.find((tried) => keysOf(tried)[0] === values[0]![0])!;
    expect(found.values).toEqual(values.map(([path, value]) => ({ path, value })));
    expect(found).toMatchObject({ holds_then: true, unmet_removed_kWh: expect.closeTo(unmet_kWh, 6) });
  });
});
