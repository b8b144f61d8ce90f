/**
 * The hour loop against arithmetic on paper. No outside source: closed forms of constant load, square sun and a bank
 * alone in the dark.
 */
import { audit, playYear } from '@longnight/core';
import { describe, expect, it } from 'vitest';
import { plantWith } from '../support/plant.ts';
import { yearOf } from '../support/year.ts';

const DAY = 24;
const constant = (steps: number, value: number): Float64Array => new Float64Array(steps).fill(value);
const total = (column: Float64Array): number => column.reduce((sum, x) => sum + x, 0);
/** Sun of `kW` per kWp in the hours 6 to 17 of every day. */
const squareSun = (days: number, kW: number): Float64Array =>
  Float64Array.from({ length: days * DAY }, (_, i) => (i % DAY >= 6 && i % DAY < 18 ? kW : 0));

describe('a bank alone in the dark', () => {
  it('serves usable energy × discharge efficiency × inverter efficiency, then nothing', () => {
    // 10 kWh, floor 20 %: 8 kWh; one-way efficiency 0.9 (round trip 0.81); inverter loses 25 % on top of output.
    const steps = 5 * DAY;
    const year = yearOf({ dc_kW_per_kWp: [constant(steps, 0)], load_kW: constant(steps, 0.3) });
    const plant = plantWith({ capacity_Ah: 200, floor_soc: 0.2, round_trip: 0.81, loss_linear: 0.25 });
    const { columns } = playYear(year, plant);
    const deliverable = (8 * 0.9) / 1.25;
    expect(total(columns.load_served_kWh)).toBeCloseTo(deliverable, 9);
    expect(total(columns.unmet_bank_floor_kWh)).toBeCloseTo(0.3 * steps - deliverable, 9);
    const lasts = deliverable / 0.3;
    expect(columns.unmet_kWh[Math.floor(lasts) - 1]).toBe(0);
    expect(columns.unmet_kWh[Math.ceil(lasts)]).toBeCloseTo(0.3, 12);
  });

  it('pays the idle draw all night: 100 W × 10 h is 1 kWh of the bank', () => {
    const year = yearOf({ dc_kW_per_kWp: [constant(DAY, 0)], load_kW: constant(DAY, 0) });
    const { columns } = playYear(year, plantWith({ idle_W: 100 }));
    expect(columns.bank_stock_kWh[9]).toBeCloseTo(5 - 1, 12);
    expect(total(columns.inverter_loss_kWh)).toBeCloseTo(2.4, 12);
  });

  it('loses the stated share of its stock in thirty days', () => {
    const year = yearOf({ dc_kW_per_kWp: [constant(30 * DAY, 0)], load_kW: constant(30 * DAY, 0) });
    const { columns } = playYear(year, plantWith({ self_discharge_share_per_month: 0.03 }));
    expect(columns.bank_soc[30 * DAY - 1]).toBeCloseTo(0.97, 12);
  });
});

describe('constant load under square sun', () => {
  it('needs half a day of load in the bank and one day of load from the array, no more', () => {
    // 12 h of sun a day must carry 24 h: with 1 kW of load, 2 kW of sun and a 12 kWh bank are just enough.
    const days = 20;
    const year = yearOf({ dc_kW_per_kWp: [squareSun(days, 1)], load_kW: constant(days * DAY, 1) });
    const enough = playYear(year, plantWith({ size_kWp: 2, capacity_Ah: 240, initial_soc: 1 }));
    expect(total(enough.columns.unmet_kWh)).toBe(0);
    // After the first morning the bank cycles between empty and full and nothing is curtailed.
    expect(total(enough.columns.curtailed_kWh)).toBeCloseTo(6, 9);
    // A bank of 11 kWh instead: of each night's 12 kWh one stays unmet, as does one kWh of sun each day.
    const small = playYear(year, plantWith({ size_kWp: 2, capacity_Ah: 220, initial_soc: 1 }));
    expect(total(small.columns.unmet_bank_floor_kWh)).toBeCloseTo(days - 1, 9);
    // Sun of 1.5 kW: per day 18 kWh for 24; the rest is unmet once the bank's start is used up.
    const dim = playYear(year, plantWith({ size_kWp: 1.5, capacity_Ah: 240, initial_soc: 0 }));
    expect(total(dim.columns.load_served_kWh) + dim.columns.bank_stock_kWh[days * DAY - 1]!).toBeCloseTo(
      18 * days,
      9,
    );
  });

  it('with losses each way, served = direct sun + what comes back from the bank', () => {
    const days = 10;
    const year = yearOf({ dc_kW_per_kWp: [squareSun(days, 1)], load_kW: constant(days * DAY, 1) });
    // 1.6 kW of sun, load 1 kW: 0.6 kW × 12 h go in, × 0.64 round trip come out in the night that follows.
    const { columns } = playYear(
      year,
      plantWith({ size_kWp: 1.6, capacity_Ah: 1000, max_charge_A: 50, round_trip: 0.64, initial_soc: 0 }),
    );
    const inAday = 0.6 * 12;
    for (let d = 1; d < days; d++) {
      const served = total(columns.load_served_kWh.slice(d * DAY, (d + 1) * DAY));
      expect(served).toBeCloseTo(12 + inAday * 0.64, 9);
    }
  });
});

describe('limits in amps, watts and degrees', () => {
  it('caps the output at module amps × volts and says so', () => {
    const year = yearOf({ dc_kW_per_kWp: [constant(DAY, 0)], load_kW: constant(DAY, 6) });
    const { columns } = playYear(year, plantWith({ voltage_V: 48, capacity_Ah: 10_000 }));
    expect(columns.load_served_kWh[0]).toBeCloseTo(4.8, 12);
    expect(columns.unmet_bank_current_kWh[0]).toBeCloseTo(1.2, 12);
  });

  it('adds load served in the same hour on top of the charge limit', () => {
    // 8 kW of sun, 2 kW load, 100 A × 48 V into the bank: 6.8 used, 1.2 unused for want of charge amps.
    const year = yearOf({ dc_kW_per_kWp: [constant(DAY, 1)], load_kW: constant(DAY, 2) });
    const { columns } = playYear(
      year,
      plantWith({ size_kWp: 8, voltage_V: 48, capacity_Ah: 10_000, initial_soc: 0 }),
    );
    expect(columns.array_used_kWh[0]).toBeCloseTo(6.8, 12);
    expect(columns.curtailed_charge_current_kWh[0]).toBeCloseTo(1.2, 12);
  });

  it('charges what is unmet to the limit whose relaxing alone would serve the most', () => {
    // Wanted 10; inverter 8; amps 5 (100 A × 50 V); stock 3: only more stock would serve more.
    const year = yearOf({ dc_kW_per_kWp: [constant(DAY, 0)], load_kW: constant(DAY, 10) });
    const causes = (initial_soc: number): number[] => {
      const { columns } = playYear(year, plantWith({ rating_kW: 8, initial_soc }));
      return [
        columns.load_served_kWh[0]!,
        columns.unmet_bank_floor_kWh[0]!,
        columns.unmet_bank_current_kWh[0]!,
        columns.unmet_inverter_rating_kWh[0]!,
      ];
    };
    expect(causes(0.6)).toEqual([3, 7, 0, 0]);
    // All of the stock is more than the amps carry: only more amps would.
    const amps = playYear(year, plantWith({ rating_kW: 8, capacity_Ah: 1000 }));
    expect(amps.columns.load_served_kWh[0]).toBeCloseTo(5, 12);
    expect(amps.columns.unmet_bank_current_kWh[0]).toBeCloseTo(5, 12);
    // Neither: the inverter.
    const rating = playYear(year, plantWith({ rating_kW: 8, capacity_Ah: 1000, max_discharge_A: 500 }));
    expect(rating.columns.load_served_kWh[0]).toBeCloseTo(8, 12);
    expect(rating.columns.unmet_inverter_rating_kWh[0]).toBeCloseTo(2, 12);
  });

  it('does not charge a bank below its least charging temperature, and still discharges it', () => {
    const year = yearOf({
      dc_kW_per_kWp: [squareSun(1, 1)],
      load_kW: constant(DAY, 0.1),
      bank_temperature_C: constant(DAY, -5),
    });
    const { columns } = playYear(
      year,
      plantWith({ size_kWp: 2, min_charge_temperature_C: 0, initial_soc: 0.8 }),
    );
    expect(total(columns.bank_charge_kWh)).toBe(0);
    expect(total(columns.curtailed_bank_cold_kWh)).toBeCloseTo(12 * 1.9, 9);
    expect(total(columns.bank_discharge_kWh)).toBeCloseTo(1.2, 9);
  });

  it('clips at the tracker input in kW and at its output in amps, and books both at the array', () => {
    const year = yearOf({ dc_kW_per_kWp: [constant(DAY, 1)], load_kW: constant(DAY, 0) });
    const tracked = {
      name: 'a',
      size_kWp: 5,
      max_input_kW: 4,
      max_charge_A: 60,
      max_output_kW: 3,
      efficiency: 0.9,
    };
    const { columns } = playYear(
      year,
      plantWith({ arrays: [tracked], capacity_Ah: 10_000, max_charge_A: 1000, initial_soc: 0 }),
    );
    // 5 offered, 4 taken, 3.6 made, 3 passed: 0.6 / 0.9 unused at the array; loss 1/3.
    expect(columns.curtailed_tracker_power_kWh[0]).toBeCloseTo(1, 12);
    expect(columns.curtailed_tracker_current_kWh[0]).toBeCloseTo(0.6 / 0.9, 12);
    expect(columns.array_used_kWh[0]).toBeCloseTo(3 / 0.9, 12);
    expect(columns.tracker_loss_kWh[0]).toBeCloseTo(3 / 0.9 - 3, 12);
    expect(columns.bank_charge_kWh[0]).toBeCloseTo(3, 12);
  });

  it('tapers on the exact exponential: four quarter hours give the same as one hour', () => {
    const taper = {
      size_kWp: 10,
      capacity_Ah: 100,
      taper_start_soc: 0.8,
      taper_end_share: 0.1,
      initial_soc: 0.7,
    } as const;
    const hour = playYear(
      yearOf({ dc_kW_per_kWp: [constant(DAY, 1)], load_kW: constant(DAY, 0) }),
      plantWith(taper),
    );
    const quarters = playYear(
      yearOf({ dc_kW_per_kWp: [constant(4 * DAY, 1)], load_kW: constant(4 * DAY, 0), step_min: 15 }),
      plantWith(taper),
    );
    expect(quarters.columns.bank_soc[3]).toBeCloseTo(hour.columns.bank_soc[0]!, 12);
    // Full current (5 kW, 1 C) until 80 %: 0.1 h; then x' = -(0.1 + 4.5 x) for 0.9 h from x = 0.2.
    const x = (0.2 + 0.1 / 4.5) * Math.exp(-4.5 * 0.9) - 0.1 / 4.5;
    expect(hour.columns.bank_soc[0]).toBeCloseTo(Math.min(1, 1 - x), 12);
    expect(hour.columns.bank_soc[1]).toBe(1);
  });
});

describe('generator', () => {
  const spec = {
    rating_kW: 4,
    fuel: { full_load_L_per_h: 2, half_load_L_per_h: 1.2 },
    start_soc: 0.3,
    stop_soc: 0.6,
    min_load_share: 0.5,
    min_run_h: 1,
    connection: 'transfer',
  } as const;
  const charger = { max_charge_A: 40, max_output_kW: 2, efficiency: 0.8 };

  it('starts at its start SoC, carries the load, charges through the charger and stops at its stop SoC', () => {
    const year = yearOf({ dc_kW_per_kWp: [constant(2 * DAY, 0)], load_kW: constant(2 * DAY, 0.5) });
    const plant = plantWith({ generator: spec, charger, initial_soc: 0.5 });
    const ledger = playYear(year, plant);
    const { columns } = ledger;
    // 2.5 kWh falling 0.5 an hour: 1.5 kWh (30 %) after two hours, so it runs from hour 2.
    expect([...columns.generator_run_h.slice(0, 4)]).toEqual([0, 0, 1, 0]);
    // 0.5 load + 2 / 0.8 charger: 3 kW, above its least load of 2; fuel 0.4 + 0.4 L/kWh × 3.
    expect(columns.generator_kWh[2]).toBeCloseTo(3, 12);
    expect(columns.fuel_L[2]).toBeCloseTo(1.6, 12);
    expect(columns.bank_soc[2]).toBeCloseTo((1.5 + 2) / 5, 12);
    expect(total(columns.unmet_kWh)).toBe(0);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
  });

  it('spills what it must make to keep its least load', () => {
    const year = yearOf({ dc_kW_per_kWp: [constant(DAY, 0)], load_kW: constant(DAY, 0.5) });
    const { columns } = playYear(year, plantWith({ generator: spec, charger: null, initial_soc: 0 }));
    expect(columns.generator_kWh[0]).toBeCloseTo(2, 12);
    expect(columns.generator_spilled_kWh[0]).toBeCloseTo(1.5, 12);
  });

  it('behind a transfer switch leaves what it cannot carry; in parallel the inverter adds to it', () => {
    const year = yearOf({ dc_kW_per_kWp: [constant(DAY, 0)], load_kW: constant(DAY, 6) });
    const alone = playYear(year, plantWith({ generator: spec, charger, initial_soc: 0 })).columns;
    expect(alone.load_served_kWh[0]).toBeCloseTo(4, 12);
    expect(alone.unmet_generator_rating_kWh[0]).toBeCloseTo(2, 12);
    const shared = playYear(
      year,
      plantWith({ generator: { ...spec, connection: 'parallel' }, charger, initial_soc: 0.8, rating_kW: 3 }),
    ).columns;
    expect(shared.load_served_kWh[0]).toBeCloseTo(6, 12);
    expect(shared.bank_discharge_kWh[0]).toBeCloseTo(2, 12);
  });

  it('keeps running for its shortest run', () => {
    const year = yearOf({ dc_kW_per_kWp: [constant(DAY, 0)], load_kW: constant(DAY, 0.1) });
    const { columns } = playYear(
      year,
      plantWith({ generator: { ...spec, stop_soc: 0.31, min_run_h: 3 }, charger, initial_soc: 0.3 }),
    );
    expect([...columns.generator_run_h.slice(0, 4)]).toEqual([1, 1, 1, 0]);
  });
});
