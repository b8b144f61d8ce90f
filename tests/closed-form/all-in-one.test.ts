/** Limits that an all-in-one sets over all that is built into it, and the amps that a tracker works at. */
import { type AllInOne, audit, type Plant, playYear, staticLimits, type Tracked } from '@longnight/core';
import { stringFindings } from '@longnight/core/array';
import { describe, expect, it } from 'vitest';
import { openTracker, type Parts, plantWith } from '../support/plant.ts';
import { limitSaid, stringConflicts } from '../support/words.ts';
import { yearOf } from '../support/year.ts';

const NO_LIMIT: AllInOne = {
  max_charge_kW: Number.POSITIVE_INFINITY,
  max_charge_A: null,
  max_tracker_input_kW: Number.POSITIVE_INFINITY,
  max_tracker_output_kW: Number.POSITIVE_INFINITY,
  max_tracker_A: null,
};
const day = (kW: number): Float64Array => new Float64Array(24).fill(kW);
const builtIn = (size_kWp: number, efficiency: number): Tracked => ({
  ...openTracker(size_kWp, efficiency),
  built_in: true,
});

/** A day of full sun on some arrays. */
function played(parts: Parts, load_kW = 0) {
  const plant: Plant = plantWith({ capacity_Ah: 10_000, max_charge_A: 10_000, initial_soc: 0.2, ...parts });
  const year = yearOf({ dc_kW_per_kWp: plant.arrays.map(() => day(1)), load_kW: day(load_kW) });
  const ledger = playYear(year, plant);
  expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-9);
  return { plant, ledger, columns: ledger.columns };
}

describe('a limit over all trackers', () => {
  const arrays = [builtIn(6, 0.9), builtIn(3, 0.98), openTracker(2, 0.95)];

  it('on what they take: 6 of 9 kW, two thirds of each; the tracker beside them keeps its own', () => {
    const { columns } = played({ arrays, all_in_one: { ...NO_LIMIT, max_tracker_input_kW: 6 } });
    expect(columns.curtailed_tracker_power_kWh[0]).toBeCloseTo(3, 12);
    expect(columns.curtailed_tracker_current_kWh[0]).toBe(0);
    expect(columns.bank_charge_kWh[0]).toBeCloseTo((2 / 3) * (6 * 0.9 + 3 * 0.98) + 2 * 0.95, 12);
  });

  it('on what they put out: booked as current, at the arrays', () => {
    const { columns } = played({ arrays, all_in_one: { ...NO_LIMIT, max_tracker_output_kW: 5 } });
    const out = 6 * 0.9 + 3 * 0.98;
    expect(columns.curtailed_tracker_current_kWh[0]).toBeCloseTo(9 * (1 - 5 / out), 12);
    expect(columns.curtailed_tracker_power_kWh[0]).toBe(0);
    expect(columns.bank_charge_kWh[0]).toBeCloseTo(5 + 2 * 0.95, 12);
  });

  it('just above what they do takes nothing', () => {
    const { columns } = played({
      arrays,
      all_in_one: { ...NO_LIMIT, max_tracker_input_kW: 9.001, max_tracker_output_kW: 8.341 },
    });
    expect(columns.curtailed_kWh[0]).toBeCloseTo(0, 12);
  });

  it('stands among the static limits, and beside it what charges past it', () => {
    const { plant } = played({
      arrays,
      all_in_one: { ...NO_LIMIT, max_tracker_output_kW: 5, max_tracker_A: 100 },
    });
    const { figure_kW, limits } = staticLimits(plant).solar_charging;
    expect(figure_kW).toBeCloseTo(5 + 2 * 0.95, 12);
    expect(limitSaid({ limits })).toBe(
      'current of all trackers of the all-in-one: 100 A at 50 V, and what charges beside them',
    );
  });
});

describe('a limit on all charging', () => {
  const all_in_one: AllInOne = { ...NO_LIMIT, max_charge_kW: 3, max_charge_A: 60 };
  const arrays = [builtIn(4, 1)];

  it('caps what goes into the bank, not what the loads take past it', () => {
    const idle = played({ arrays, all_in_one });
    expect(idle.columns.bank_charge_kWh[0]).toBeCloseTo(3, 12);
    expect(idle.columns.curtailed_charge_current_kWh[0]).toBeCloseTo(1, 12);
    const loaded = played({ arrays, all_in_one }, 2);
    expect(loaded.columns.bank_charge_kWh[0]).toBeCloseTo(2, 12);
    expect(loaded.columns.curtailed_kWh[0]).toBeCloseTo(0, 12);
  });

  it('is shared by sun and charger: 2 kW of sun leave 1 kW to the engine', () => {
    const { columns } = played({
      arrays: [builtIn(2, 1)],
      all_in_one,
      charger: { max_charge_A: 100, max_output_kW: 5, efficiency: 1 },
      generator: {
        rating_kW: 8,
        fuel: { full_load_L_per_h: 2, half_load_L_per_h: 1.2 },
        start_soc: 0.5,
        stop_soc: 0.9,
        min_load_share: 0,
        min_run_h: 1,
        connection: 'transfer',
      },
    });
    expect(columns.bank_charge_kWh[0]).toBeCloseTo(3, 12);
    expect(columns.generator_kWh[0]).toBeCloseTo(1, 12);
  });

  it('holds for every kind of bank, and where the modules let in less they decide', () => {
    const resistive: Parts['model'] = {
      kind: 'resistive',
      open_circuit: [
        { soc: 0, voltage_V: 48 },
        { soc: 1, voltage_V: 54 },
      ],
      cells_series: 1,
      resistance_mOhm: 0.1,
      coulombic_efficiency_share: 1,
      end_of_life_resistance_factor: 2,
    };
    const kinetic: Parts['model'] = {
      kind: 'kinetic',
      capacity_20h_Ah: 10_000,
      capacity_10h_Ah: 9000,
      capacity_5h_Ah: 7800,
    };
    for (const model of [undefined, resistive, kinetic]) {
      const { columns } = played({ arrays, all_in_one, model });
      expect(columns.bank_charge_kWh[0]).toBeCloseTo(3, 12);
      expect(columns.curtailed_charge_current_kWh[0]).toBeCloseTo(1, 9);
    }
    const weak = played({ arrays, all_in_one, max_charge_A: 20 });
    expect(weak.columns.bank_charge_kWh[0]).toBeCloseTo(1, 12);
  });

  it('is named in the static limits of sun and socket', () => {
    const { plant } = played({
      arrays,
      all_in_one,
      charger: { max_charge_A: 100, max_output_kW: 5, efficiency: 1 },
      shore: { max_kW: 10, parallel: true },
    });
    const { solar_charging, ac_charging } = staticLimits(plant);
    for (const { figure_kW, limits } of [solar_charging, ac_charging]) {
      expect(figure_kW).toBe(3);
      expect(limitSaid({ limits })).toBe('all charging of the all-in-one: 60 A at 50 V');
    }
    const { currents } = staticLimits(plant).bank_conductor;
    const together = currents.find(({ by }) => by.id === 'chargers' && by.ac_charger);
    expect(together!.current_A).toBeCloseTo(60, 9);
  });
});

describe('the amps that a tracker works at', () => {
  const panel = { voc_V: 48, vmp_V: 40, isc_A: 10.6, imp_A: 10, voc_temperature_coefficient_per_K: 0 };
  // 3 strings of 2: 2.4 kW at 80 V and 30 A.
  const array = (max_operating_A: number): Tracked => ({
    ...openTracker(2.4),
    string: { panel: { ...panel, vmp_temperature_coefficient_per_K: -0.005 }, in_series: 2, strings: 3 },
    input: { max_V: null, min_V: null, max_A: null, max_operating_A },
  });
  const at = (max_operating_A: number, cell_C: number) => {
    const plant = plantWith({
      capacity_Ah: 10_000,
      max_charge_A: 10_000,
      initial_soc: 0.2,
      arrays: [array(max_operating_A)],
    });
    const year = yearOf({
      dc_kW_per_kWp: [day(1)],
      load_kW: day(0),
      cell_temperature_C: new Float64Array(24).fill(cell_C),
    });
    const ledger = playYear(year, plant);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-9);
    return { year, plant, ledger };
  };
  const clipped = (max_operating_A: number, cell_C: number): number =>
    at(max_operating_A, cell_C).ledger.columns.curtailed_tracker_current_kWh[0]!;

  it('cut what is above them, at the voltage of the string: 20 A at 80 V', () => {
    expect(clipped(20, 25)).toBeCloseTo(2.4 - 1.6, 12);
    expect(clipped(30.001, 25)).toBe(0);
  });

  it('cut more from hot strings, whose voltage is lower', () => {
    expect(clipped(20, 65)).toBeCloseTo(2.4 - 1.6 * 0.8, 12);
  });

  it('are a limit of solar charging, and a conflict of the strings', () => {
    const { plant, year } = at(20, 25);
    const { figure_kW, limits } = staticLimits(plant).solar_charging;
    expect(figure_kW).toBeCloseTo(1.6, 12);
    expect(limitSaid({ limits })).toBe('operating current of tracker inputs: 20 A at 80 V, after conversion');
    expect(staticLimits(at(31, 25).plant).solar_charging.figure_kW).toBeCloseTo(2.4, 12);
    expect(stringConflicts(stringFindings(year, plant)[0]!)).toEqual([
      '3 strings work at 30.0 A in full sun, and the tracker at 20.0 A at most: it holds them back to 67 % of that.',
    ]);
  });
});
