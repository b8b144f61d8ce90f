/**
 * Shore power, engine charging, a hindered generator and tiers shed on purpose, against arithmetic on paper. No outside
 * source: closed forms.
 */
import { audit, playYear } from '@longnight/core';
import { buildClock } from '@longnight/core/clock';
import { describe, expect, it } from 'vitest';
import { type Parts, plantWith } from '../support/plant.ts';
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
    const plant = plantWith({ shore: socket, charger, initial_soc: 0.2, capacity_Ah: 400 });
    const ledger = playYear(year, plant);
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

describe('a socket beside sun, bank and generator', () => {
  const evening = hours(1, (h) => h >= 17 && h < 22);
  const shoreAt = (on: Float64Array) => ({ shore_there: Uint8Array.from(on) });
  const bigEngine = { ...engine, rating_kW: 5, min_load_share: 0 };

  it('gives way to the generator in steps in which it leaves load unmet', () => {
    // 1.15 kW from the socket, 3 kW asked, an empty bank: the generator carries all five hours, fed or not by the inverter.
    const year = yearOf({
      dc_kW_per_kWp: [constant(DAY, 0)],
      load_kW: evening.map((on) => 3 * on),
      timetables: shoreAt(evening),
    });
    for (const parallel of [false, true]) {
      const shore = { max_kW: 1.15, parallel };
      const plant = plantWith({ shore, generator: bigEngine, initial_soc: 0 });
      const ledger = playYear(year, plant);
      const { columns } = ledger;
      expect(total(columns.unmet_kWh)).toBe(0);
      expect(total(columns.generator_kWh)).toBeCloseTo(15, 12);
      expect(total(columns.shore_kWh)).toBe(0);
      expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
    }
  });

  it('keeps the loads where the generator would serve less of them', () => {
    const year = yearOf({
      dc_kW_per_kWp: [constant(DAY, 0)],
      load_kW: constant(DAY, 3),
      timetables: shoreAt(constant(DAY, 1)),
    });
    const small = { ...bigEngine, rating_kW: 1 };
    const { columns } = playYear(
      year,
      plantWith({ shore: { max_kW: 2, parallel: true }, generator: small, initial_soc: 0 }),
    );
    expect(total(columns.generator_run_h)).toBe(0);
    expect(total(columns.unmet_kWh)).toBeCloseTo(DAY, 12);
  });

  it('charges what it leaves unmet to the generator that may not run, and the books balance', () => {
    const year = yearOf({
      dc_kW_per_kWp: [constant(DAY, 0)],
      load_kW: constant(DAY, 3),
      timetables: { ...shoreAt(constant(DAY, 1)), generator_barred: new Uint8Array(DAY).fill(1) },
    });
    const shore = { max_kW: 2, parallel: true };
    const plant = plantWith({ shore, generator: bigEngine, initial_soc: 0 });
    const ledger = playYear(year, plant);
    expect(total(ledger.columns.unmet_generator_barred_kWh)).toBeCloseTo(DAY, 12);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
  });

  // 2 kW of sun from 9 to 15, 1 kW asked all day, a bank of 5 kWh that is full, a socket all day.
  const bright = () =>
    yearOf({
      dc_kW_per_kWp: [hours(1, (h) => h >= 9 && h < 15)],
      load_kW: constant(DAY, 1),
      timetables: shoreAt(constant(DAY, 1)),
    });
  const socket = { max_kW: 3, parallel: true };

  it('carries what the sun leaves where both can carry loads, or all if the rule says so', () => {
    const bought = (carries?: { kind: 'all' } | { kind: 'after_sun' }): number => {
      const shore = { ...socket, ...(carries ? { carries } : {}) };
      return total(playYear(bright(), plantWith({ size_kWp: 2, shore, charger })).columns.shore_kWh);
    };
    expect(bought({ kind: 'all' })).toBeCloseTo(24, 12);
    expect(bought({ kind: 'after_sun' })).toBeCloseTo(18, 12);
    expect(bought()).toBeCloseTo(18, 12);
  });

  it('leaves sun to a bank that takes it before the loads get it', () => {
    // 2 kW of sun into an empty bank of 100 A at 50 V: all six hours go into it, so the socket carries all of 24 kWh.
    const shore = { ...socket, carries: { kind: 'after_sun' } as const };
    const { columns } = playYear(
      bright(),
      plantWith({ size_kWp: 2, shore, initial_soc: 0, capacity_Ah: 400 }),
    );
    expect(total(columns.bank_charge_kWh)).toBeCloseTo(12, 12);
    expect(total(columns.shore_kWh)).toBeCloseTo(24, 12);
  });

  it('waits for the bank to be down to at_soc, then carries and charges until until_soc', () => {
    // 10 kWh at 1 kW: from full to 0.4 in six hours. Then 2 kW net into the bank, 0.4 to 0.8 in two hours, and again.
    const year = yearOf({
      dc_kW_per_kWp: [constant(DAY, 0)],
      load_kW: constant(DAY, 1),
      timetables: shoreAt(constant(DAY, 1)),
    });
    for (const parallel of [false, true]) {
      const carries = { kind: 'after_bank', at_soc: 0.4, until_soc: 0.8 } as const;
      const shore = { max_kW: 10, parallel, carries };
      const { columns } = playYear(year, plantWith({ shore, charger, capacity_Ah: 200 }));
      const bought = [...columns.shore_kWh];
      const at = (from: number): number[] =>
        bought.slice(from, from + 2).map((kWh) => Math.round(kWh * 1e9) / 1e9);
      expect(bought.slice(0, 6)).toEqual([0, 0, 0, 0, 0, 0]);
      expect(at(6)).toEqual([3.5, 3.5]);
      expect(bought.slice(8, 12)).toEqual([0, 0, 0, 0]);
      expect(at(12)).toEqual([3.5, 3.5]);
    }
  });

  it('carries what sun and bank would leave unmet before its turn, without charging', () => {
    // An inverter of 2 kW and 5 kW asked in one hour; the bank is at 0.9.
    const year = yearOf({
      dc_kW_per_kWp: [constant(DAY, 0)],
      load_kW: hours(1, (h) => h === 3).map((on) => 0.5 + 4.5 * on),
      timetables: shoreAt(constant(DAY, 1)),
    });
    const shore = {
      max_kW: 8,
      parallel: false,
      carries: { kind: 'after_bank', at_soc: 0.2, until_soc: 0.6 } as const,
    };
    const { columns } = playYear(
      year,
      plantWith({ shore, charger, capacity_Ah: 400, rating_kW: 2, initial_soc: 0.9 }),
    );
    expect(total(columns.unmet_kWh)).toBe(0);
    expect([...columns.shore_kWh.slice(0, 5)]).toEqual([0, 0, 0, 5, 0]);
    expect(total(columns.charger_in_kWh)).toBe(0);
  });

  it('is second to the sun beside a parallel generator too', () => {
    // The generator runs for 4 kW in an hour in which the inverter gives 2; the bank is full, so 2 kW of sun carry theirs.
    const year = yearOf({
      dc_kW_per_kWp: [constant(DAY, 1)],
      load_kW: hours(1, (h) => h === 5).map((on) => 1 + 3 * on),
    });
    const generator = { ...bigEngine, connection: 'parallel' } as const;
    const { columns } = playYear(year, plantWith({ size_kWp: 2, rating_kW: 2, generator }));
    expect(columns.generator_kWh[5]).toBeCloseTo(2, 12);
    expect(columns.inverter_out_kWh[5]).toBeCloseTo(2, 12);
    expect(columns.curtailed_kWh[5]).toBeCloseTo(0, 12);
  });
});

describe('a state of charge that rules wait for', () => {
  const leaking = { self_discharge_share_per_month: 0.05, charger, capacity_Ah: 100, taper_start_soc: 0.95 };
  const kinetic: Parts['model'] = {
    kind: 'kinetic',
    capacity_20h_Ah: 100,
    capacity_10h_Ah: 90,
    capacity_5h_Ah: 80,
  };
  const resistive: Parts['model'] = {
    kind: 'resistive',
    cells_series: 16,
    open_circuit: [
      { soc: 0, voltage_V: 2.9 },
      { soc: 1, voltage_V: 3.4 },
    ],
    resistance_mOhm: 20,
    coulombic_efficiency_share: 0.99,
    end_of_life_resistance_factor: 2,
  };

  it.each([undefined, resistive, kinetic])(
    'is reached though the bank discharges itself: model %#',
    (model) => {
      const days = 40;
      const tier = constant(days * DAY, 0.1);
      const year = yearOf({
        dc_kW_per_kWp: [constant(days * DAY, 0)],
        load_kW: constant(days * DAY, 0.2),
        tiers: { numbers: [1, 2], kW: [tier, tier] },
      });
      const parts = { ...leaking, ...(model ? { model } : {}), round_trip: 0.9, initial_soc: 0.9 };
      const shedding = [{ tier: 2, shed_soc: 0.35, restore_soc: 1 }];
      const { columns } = playYear(
        year,
        plantWith({ ...parts, shedding, generator: { ...engine, stop_soc: 1 } }),
      );
      const runs = [...columns.generator_run_h].filter((h, i, all) => h > 0 && !(all[i - 1]! > 0)).length;
      // It starts again and again instead of never stopping, and the shed tier is back each time.
      expect(runs).toBeGreaterThan(5);
      expect(total(columns.generator_run_h)).toBeLessThan(0.6 * days * DAY);
      const shed = [...columns.unmet_shed_kWh].filter((kWh, i, all) => kWh === 0 && all[i - 1]! > 0).length;
      expect(shed).toBeGreaterThan(4);
    },
  );
});

describe('engine charging', () => {
  it('comes after the sun and before the bank, and only while the engine runs', () => {
    // 0.4 kW of sun, 1 kW of load, 2 kW of engine from 8 to 10.
    const year = yearOf({
      dc_kW_per_kWp: [constant(DAY, 1)],
      load_kW: constant(DAY, 1),
      timetables: { engine_share: hours(1, (h) => h >= 8 && h < 10) },
    });
    const plant = plantWith({ size_kWp: 0.4, alternator_kW: 2, capacity_Ah: 1000 });
    const ledger = playYear(year, plant);
    const { columns } = ledger;
    expect(columns.bank_discharge_kWh[7]).toBeCloseTo(0.6, 12);
    expect(columns.alternator_kWh[8]).toBeCloseTo(2, 12);
    expect(columns.bank_charge_kWh[8]).toBeCloseTo(1.4, 12);
    expect(columns.alternator_kWh[10]).toBe(0);
    expect(total(columns.curtailed_kWh)).toBe(0);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
  });

  it('makes no more than the loads and a full bank take', () => {
    const year = yearOf({
      dc_kW_per_kWp: [constant(DAY, 0)],
      load_kW: constant(DAY, 0.3),
      timetables: { engine_share: constant(DAY, 1) },
    });
    const { columns } = playYear(year, plantWith({ alternator_kW: 2 }));
    expect(total(columns.alternator_kWh)).toBeCloseTo(0.3 * DAY, 9);
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

  it('without a limit runs all 25 hours of the day on which clocks go back, and a stated limit holds on it', () => {
    const clock = buildClock(2025, 'Europe/Berlin', 60);
    const october26 = clock.start_ms.indexOf(Date.UTC(2025, 9, 25, 22));
    const ran = (max_run_h_per_day: number): number => {
      const year = { ...yearOf(night(365)), clock };
      const plant = plantWith({ generator: { ...engine, max_run_h_per_day }, initial_soc: 0 });
      const { columns } = playYear(year, plant);
      if (max_run_h_per_day === 24) expect(total(columns.unmet_kWh)).toBe(0);
      return total(columns.generator_run_h.slice(october26, october26 + 25));
    };
    expect(clock.day[october26 + 24]).toBe(clock.day[october26]);
    expect(ran(24)).toBe(25);
    expect(ran(23.5)).toBe(23);
    expect(ran(4)).toBe(4);
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
    const plant = plantWith({ size_kWp: 1.2, initial_soc: 0.9, shedding });
    const ledger = playYear(year, plant);
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
