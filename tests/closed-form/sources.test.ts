/**
 * Shore power, engine charging, a hindered generator and tiers shed on purpose, against arithmetic on paper. No outside
 * source: closed forms.
 */
import { audit, playYear } from '@longnight/core';
import { describe, expect, it } from 'vitest';
import { plantWith } from '../support/plant.ts';
import { yearOf } from '../support/year.ts';

const DAY = 24;
const constant = (steps: number, value: number): Float64Array => new Float64Array(steps).fill(value);
const total = (column: Float64Array): number => column.reduce((sum, x) => sum + x, 0);
const hours = (days: number, isOn: (hour: number) => boolean): Float64Array =>
  Float64Array.from({ length: days * DAY }, (_, i) => (isOn(i % DAY) ? 1 : 0));
const charger = { max_charge_A: 40, max_output_kW: 2, efficiency: 0.8 };
const engine = {
  rating_kW: 4,
  fuel: { full_load_L_per_h: 2, half_load_L_per_h: 1.2 },
  start_soc: 0.3,
  stop_soc: 0.6,
  min_load_share: 0.25,
  min_run_h: 1,
  connection: 'transfer',
} as const;

describe('shore power', () => {
  const dark = (load: number, share: Float64Array) =>
    yearOf({
      dc_kW_per_kWp: [constant(share.length, 0)],
      load_kW: constant(share.length, load),
      timetables: { shore_there: Uint8Array.from(share) },
    });
  const socket = { max_kW: 3, parallel: false };

  it('carries the loads and charges through the charger while it is there', () => {
    // Socket 3 kW from 22 to 6; load 0.5 kW; charger 2 kW into the bank from 2.5 kW of AC.
    const year = dark(
      0.5,
      hours(1, (h) => h >= 22 || h < 6),
    );
    const ledger = playYear(year, plantWith({ shore: socket, charger, initial_soc: 0.2, capacity_Ah: 400 }));
    const { columns } = ledger;
    expect(columns.shore_kWh[0]).toBeCloseTo(0.5 + 2.5, 12);
    expect(columns.bank_charge_kWh[0]).toBeCloseTo(2, 12);
    expect(columns.shore_kWh[12]).toBe(0);
    expect(columns.bank_discharge_kWh[12]).toBeCloseTo(0.5, 12);
    expect(total(columns.unmet_kWh)).toBe(0);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
  });

  it('leaves what the socket cannot carry behind a transfer switch, nothing beside an inverter that adds to it', () => {
    const year = dark(5, constant(DAY, 1));
    const alone = playYear(year, plantWith({ shore: socket, charger, initial_soc: 0 })).columns;
    expect(alone.unmet_shore_rating_kWh[0]).toBeCloseTo(2, 12);
    const shared = playYear(year, plantWith({ shore: { ...socket, parallel: true }, charger })).columns;
    expect(shared.load_served_kWh[0]).toBeCloseTo(5, 12);
    expect(shared.bank_discharge_kWh[0]).toBeCloseTo(2, 12);
  });

  it('keeps the generator off', () => {
    const year = dark(0.5, constant(DAY, 1));
    const plant = plantWith({ shore: socket, charger, generator: engine, initial_soc: 0 });
    expect(total(playYear(year, plant).columns.generator_run_h)).toBe(0);
  });
});

describe('engine charging', () => {
  it('comes after the sun and before the bank, and only while the engine runs', () => {
    // 0.4 kW of sun, 1 kW of load, 2 kW of engine from 8 to 10.
    const year = yearOf({
      dc_kW_per_kWp: [constant(DAY, 1)],
      load_kW: constant(DAY, 1),
      timetables: { engine_share: hours(1, (h) => h >= 8 && h < 10) },
    });
    const ledger = playYear(year, plantWith({ size_kWp: 0.4, engine_charging_kW: 2, capacity_Ah: 1000 }));
    const { columns } = ledger;
    expect(columns.bank_discharge_kWh[7]).toBeCloseTo(0.6, 12);
    expect(columns.engine_charging_kWh[8]).toBeCloseTo(2, 12);
    expect(columns.bank_charge_kWh[8]).toBeCloseTo(1.4, 12);
    expect(columns.engine_charging_kWh[10]).toBe(0);
    expect(total(columns.curtailed_kWh)).toBe(0);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
  });

  it('makes no more than the loads and a full bank take', () => {
    const year = yearOf({
      dc_kW_per_kWp: [constant(DAY, 0)],
      load_kW: constant(DAY, 0.3),
      timetables: { engine_share: constant(DAY, 1) },
    });
    const { columns } = playYear(year, plantWith({ engine_charging_kW: 2 }));
    expect(total(columns.engine_charging_kWh)).toBeCloseTo(0.3 * DAY, 9);
  });
});

describe('a generator that may not run', () => {
  const night = (days: number, load = 0.5) => ({
    dc_kW_per_kWp: [constant(days * DAY, 0)],
    load_kW: constant(days * DAY, load),
  });
  const runHours = (column: Float64Array): number[] =>
    Array.from({ length: column.length / DAY }, (_, d) => total(column.slice(d * DAY, (d + 1) * DAY)));

  it('keeps its quiet hours, and the unmet load is charged to them', () => {
    const barred = Uint8Array.from({ length: DAY }, (_, h) => (h < 6 ? 1 : 0));
    const year = yearOf({ ...night(1), timetables: { generator_barred: barred } });
    const { columns } = playYear(year, plantWith({ generator: engine, charger, initial_soc: 0 }));
    expect([...columns.generator_run_h.slice(0, 7)]).toEqual([0, 0, 0, 0, 0, 0, 1]);
    expect(total(columns.unmet_generator_barred_kWh)).toBeCloseTo(3, 12);
    expect(total(columns.unmet_kWh)).toBeCloseTo(3, 12);
  });

  it('keeps its daily limit', () => {
    const { columns } = playYear(
      yearOf(night(3)),
      plantWith({ generator: { ...engine, max_run_h_per_day: 2 }, initial_soc: 0 }),
    );
    expect(runHours(columns.generator_run_h)).toEqual([2, 2, 2]);
    expect(total(columns.unmet_generator_barred_kWh)).toBeCloseTo(3 * 22 * 0.5, 9);
  });

  it('burns what is in the tank and then stands until it is filled', () => {
    // Load 2 kW: 0.4 + 0.4 × 2 = 1.2 L an hour; 6 L last five hours; filled every second day.
    const { columns } = playYear(
      yearOf(night(4, 2)),
      plantWith({ generator: { ...engine, tank: { capacity_L: 6, refill_every_days: 2 } }, initial_soc: 0 }),
    );
    expect(runHours(columns.generator_run_h)).toEqual([5, 0, 5, 0]);
    expect(total(columns.fuel_L)).toBeCloseTo(12, 9);
    expect(total(columns.unmet_fuel_kWh)).toBeCloseTo((96 - 10) * 2, 9);
  });

  it('fails to start where the draw says so, and tries again', () => {
    const draws = Float64Array.from({ length: 10 * DAY }, (_, i) => (i % 4 === 0 ? 0.1 : 0.9));
    const year = yearOf({ ...night(10), timetables: { start_draw: draws } });
    const failing = { ...engine, min_run_h: 0, start_failure: { share: 0.2, seed: 1 } };
    const { columns } = playYear(year, plantWith({ generator: failing, initial_soc: 0 }));
    // The first attempt fails, the second succeeds, and then it never stops: nothing charges the bank.
    expect([...columns.generator_run_h.slice(0, 6)]).toEqual([0, 1, 1, 1, 1, 1]);
    expect(total(columns.unmet_generator_barred_kWh)).toBeCloseTo(0.5, 12);
  });
});

describe('tiers shed on purpose', () => {
  it('leave at one state of charge and come back at a higher one, without fluttering', () => {
    // 5 kWh bank, two tiers of 0.5 kW each, no sun for eight hours, then 1.2 kW of it.
    const tier = constant(DAY, 0.5);
    const year = yearOf({
      dc_kW_per_kWp: [hours(1, (h) => h >= 8)],
      load_kW: constant(DAY, 1),
      tiers: { numbers: [1, 2], kW: [tier, tier] },
    });
    const shedding = [{ tier: 2, shed_soc: 0.5, restore_soc: 0.7 }];
    const ledger = playYear(year, plantWith({ size_kWp: 1.2, initial_soc: 0.9, shedding }));
    const { columns } = ledger;
    // 4.5 kWh falls 1 an hour to 2.5 (0.5) after two hours; then 0.5 an hour to 0 after seven; in hour 7 all is dark.
    expect([...columns.unmet_shed_kWh.slice(0, 8)]).toEqual([0, 0, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5]);
    expect(columns.unmet_bank_floor_kWh[7]).toBeCloseTo(0.5, 12);
    // From hour 8 the bank gains 0.7 an hour: 3.5 kWh (0.7) is reached after five hours, so tier 2 is back in hour 13.
    expect(columns.unmet_shed_kWh[12]).toBeCloseTo(0.5, 12);
    expect(columns.unmet_shed_kWh[13]).toBe(0);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
  });
});
