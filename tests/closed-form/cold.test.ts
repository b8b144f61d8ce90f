/** A bank in the cold against arithmetic on paper. No outside source: closed forms. */
import { audit, playYear } from '@longnight/core';
import { sunlessHours } from '@longnight/core/bank';
import { describe, expect, it } from 'vitest';
import { drawableFloor_kWh } from '../../packages/core/src/plant/cold.ts';
import { openTracker, plantWith } from '../support/plant.ts';
import { yearOf } from '../support/year.ts';

const DAY = 24;
const constant = (steps: number, value: number): Float64Array => new Float64Array(steps).fill(value);
const total = (column: Float64Array): number => column.reduce((sum, x) => sum + x, 0);
const cold = (air_C: number, load = 0.5, sun = 0, days = 1) =>
  yearOf({
    dc_kW_per_kWp: [constant(days * DAY, sun)],
    load_kW: constant(days * DAY, load),
    bank_temperature_C: constant(days * DAY, air_C),
  });
const points = [
  { temperature_C: -20, share: 0.5 },
  { temperature_C: 0, share: 0.9 },
  { temperature_C: 20, share: 1 },
];

describe('capacity against temperature', () => {
  it('is a line through its points, held at both ends, and never less than the floor', () => {
    const { bank } = plantWith({ capacity_at_temperature: points, floor_soc: 0.05 });
    const share = (temperature_C: number): number => 1 - drawableFloor_kWh(bank, temperature_C) / 5;
    expect([-30, -20, -10, 0, 10].map(share).map((s) => Number(s.toFixed(12)))).toEqual([
      0.5, 0.5, 0.7, 0.9, 0.95,
    ]);
    expect(drawableFloor_kWh(bank, 30)).toBeCloseTo(0.25, 12);
  });

  it('leaves in store what the cold keeps back, and charges the unmet load to it', () => {
    // 5 kWh, floor 1; at -10 °C 1.5 kWh stay: 3.5 kWh are served, 0.5 more if it were warm, then the floor.
    const plant = plantWith({ capacity_at_temperature: points, floor_soc: 0.2 });
    const ledger = playYear(cold(-10), plant);
    const { columns } = ledger;
    expect(total(columns.load_served_kWh)).toBeCloseTo(3.5, 12);
    expect(columns.bank_stock_kWh[DAY - 1]).toBeCloseTo(1.5, 12);
    expect(columns.unmet_bank_cold_kWh[7]).toBeCloseTo(0.5, 12);
    expect(total(columns.unmet_bank_floor_kWh)).toBe(0);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
    expect(sunlessHours(cold(-10), plant).hours[0]).toBeCloseTo(7, 9);
  });

  it('gives it back when the bank is warm', () => {
    const steps = 2 * DAY;
    const year = yearOf({
      dc_kW_per_kWp: [constant(steps, 0)],
      load_kW: constant(steps, 0.5),
      bank_temperature_C: Float64Array.from({ length: steps }, (_, i) => (i < DAY ? -20 : 20)),
    });
    const { columns } = playYear(year, plantWith({ capacity_at_temperature: points }));
    expect(total(columns.load_served_kWh.slice(0, DAY))).toBeCloseTo(2.5, 12);
    expect(total(columns.load_served_kWh)).toBeCloseTo(5, 12);
  });
});

describe('heaters', () => {
  const heater = { keep_C: 5, loss_kW_per_K: 0.01 };
  const charger = { max_charge_A: 40, max_output_kW: 2, efficiency: 0.8 };
  /** An empty bank at -12 °C that may be charged from 0 °C on: 17 K × 10 W/K = 0.17 kW of heat. */
  const frozen = { heater, initial_soc: 0, capacity_Ah: 400, charger, min_charge_temperature_C: 0 };
  const icy = (load: number, timetables = {}, more = {}) =>
    yearOf({
      dc_kW_per_kWp: [constant(DAY, 0)],
      load_kW: constant(DAY, load),
      bank_temperature_C: constant(DAY, -12),
      timetables,
      ...more,
    });

  it('run from the socket, which then charges the bank', () => {
    const there = { shore_there: new Uint8Array(DAY).fill(1) };
    const year = icy(0.5, there);
    const plant = plantWith({ ...frozen, shore: { max_kW: 3.5, parallel: false } });
    const ledger = playYear(year, plant);
    const { columns } = ledger;
    // 0.5 to the load, 2.5 into the charger: 2 out of it, of which 0.17 warm the bank.
    expect(columns.shore_kWh[0]).toBeCloseTo(3, 12);
    expect(columns.heater_kWh[0]).toBeCloseTo(0.17, 12);
    expect(columns.bank_charge_kWh[0]).toBeCloseTo(1.83, 12);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
  });

  it('stay cold where the loads leave the socket too little for them', () => {
    const there = { shore_there: new Uint8Array(DAY).fill(1) };
    const { columns } = playYear(
      icy(3.4, there),
      plantWith({ ...frozen, shore: { max_kW: 3.5, parallel: false } }),
    );
    // 0.1 kW are left, 0.08 behind the charger.
    expect(total(columns.heater_kWh)).toBe(0);
    expect(total(columns.bank_charge_kWh)).toBe(0);
  });

  it('are started by a generator that is to charge the bank', () => {
    const generator = {
      rating_kW: 4,
      fuel: { full_load_L_per_h: 2, half_load_L_per_h: 1.2 },
      start_soc: 0.1,
      stop_soc: 0.5,
      min_load_share: 0,
      min_run_h: 0,
      connection: 'transfer',
    } as const;
    // Nothing is asked: only the charge that is wanted starts it. 10 of 20 kWh in 5.5 h at 1.83 kW.
    const [year, plant] = [icy(0), plantWith({ ...frozen, generator })];
    const ledger = playYear(year, plant);
    expect([...ledger.columns.generator_run_h.slice(0, 8)]).toEqual([1, 1, 1, 1, 1, 1, 0, 0]);
    expect(ledger.columns.bank_charge_kWh[0]).toBeCloseTo(1.83, 12);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
    // Where it may not run, nothing is warmed.
    const barred = icy(0, { generator_barred: new Uint8Array(DAY).fill(1) });
    expect(total(playYear(barred, plant).columns.heater_kWh)).toBe(0);
  });

  it('run from sun on the AC side, through the charger', () => {
    // 0.05 kW of DC sun hold the inverter up; 1 kW of sun on the AC side meets 0.4 kW of load.
    const arrays = [
      { ...openTracker(0.05), name: 'dc' },
      { ...openTracker(1), name: 'ac', ac: true },
    ];
    const year = icy(0.4, {}, { dc_kW_per_kWp: [constant(DAY, 1), constant(DAY, 1)] });
    const plant = plantWith({ ...frozen, arrays, idle_W: 50 });
    const ledger = playYear(year, plant);
    // 0.6 kW are left: 0.48 behind the charger, of which 0.17 warm the bank.
    expect(ledger.columns.heater_kWh[0]).toBeCloseTo(0.17, 12);
    expect(ledger.columns.bank_charge_kWh[0]).toBeCloseTo(0.31, 12);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
  });

  it('draw loss × (keep - air) before the loads, and only while the air is colder', () => {
    // 15 K × 10 W/K = 150 W; load 0.5 kW: 0.65 kW from a 5 kWh bank last 7.7 h.
    const plant = plantWith({ heater });
    const ledger = playYear(cold(-10), plant);
    expect(ledger.columns.heater_kWh[0]).toBeCloseTo(0.15, 12);
    expect(ledger.columns.bank_discharge_kWh[0]).toBeCloseTo(0.65, 12);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
    expect(sunlessHours(cold(-10), plant).hours[0]).toBeCloseTo(5 / 0.65, 9);
    expect(total(playYear(cold(8), plant).columns.heater_kWh)).toBe(0);
  });

  it('let a cold bank be charged: from the sun the heater comes first, the rest goes in', () => {
    // 1 kW of sun, no load, -10 °C: without heaters nothing goes in, with them 0.85 kWh an hour.
    const sunny = cold(-10, 0, 1);
    const bare = plantWith({ size_kWp: 1, min_charge_temperature_C: 0, initial_soc: 0 });
    expect(total(playYear(sunny, bare).columns.bank_charge_kWh)).toBe(0);
    const { columns } = playYear(
      sunny,
      plantWith({ size_kWp: 1, min_charge_temperature_C: 0, initial_soc: 0, heater }),
    );
    expect(columns.bank_charge_kWh[0]).toBeCloseTo(0.85, 12);
    // Heaters that hold the bank below its least charging temperature are of no use for that.
    const weak = { ...heater, keep_C: -5 };
    const chilled = playYear(
      sunny,
      plantWith({ size_kWp: 1, min_charge_temperature_C: 0, initial_soc: 0, heater: weak }),
    );
    expect(total(chilled.columns.bank_charge_kWh)).toBe(0);
  });

  it('stay off where nothing can feed them', () => {
    const { columns } = playYear(cold(-10, 0.5), plantWith({ heater, initial_soc: 0 }));
    expect(total(columns.heater_kWh)).toBe(0);
    expect(total(columns.unmet_kWh)).toBeCloseTo(12, 12);
  });
});
