/** Findings against slow, obvious recomputation and arithmetic on paper. */

import { findings, LEDGER_COLUMNS, playYear, staticLimits } from '@longnight/core';
import { sunlessHours } from '@longnight/core/bank';
import { describe, expect, it } from 'vitest';
import { openTracker, type Parts, plantWith } from '../support/plant.ts';
import { randomYear, stream } from '../support/random.ts';
import { limitSaid } from '../support/words.ts';
import { yearOf } from '../support/year.ts';

const DAY = 24;
const constant = (steps: number, value: number): Float64Array => new Float64Array(steps).fill(value);

describe('autonomy in the dark', () => {
  it('equals the loop itself, played from a full bank at each start with the sun taken away', () => {
    const steps = 10 * DAY;
    const given = randomYear(stream(5), steps, 1);
    const parts = {
      size_kWp: 0,
      capacity_Ah: 300,
      floor_soc: 0.15,
      round_trip: 0.9,
      self_discharge_share_per_month: 0.1,
      idle_W: 40,
      loss_linear: 0.05,
      loss_quadratic: 0.03,
      max_discharge_A: 40,
    };
    const year = yearOf({ ...given, dc_kW_per_kWp: [constant(steps, 0)] });
    const { hours, capped } = sunlessHours(year, plantWith(parts));
    expect(capped).toBe(false);
    for (const start of [0, 7, 23, 100, 150, 200]) {
      // The year from `start` on, joined to its own beginning.
      const load_kW = Float64Array.from({ length: steps }, (_, i) => given.load_kW[(start + i) % steps]!);
      const ledger = playYear(
        yearOf({ ...given, dc_kW_per_kWp: [constant(steps, 0)], load_kW }),
        plantWith(parts),
      );
      const first = ledger.columns.unmet_bank_floor_kWh.findIndex((kWh) => kWh > 1e-9);
      expect(Math.floor(hours[start]! + 1e-9)).toBe(first);
    }
  });

  it('is exact for a constant load: usable × discharge efficiency over DC power', () => {
    const year = yearOf({ dc_kW_per_kWp: [constant(5 * DAY, 0)], load_kW: constant(5 * DAY, 0.3) });
    const plant = plantWith({
      capacity_Ah: 200,
      floor_soc: 0.2,
      round_trip: 0.81,
      idle_W: 50,
      loss_linear: 0.1,
    });
    const { hours } = sunlessHours(year, plant);
    for (const h of hours) expect(h).toBeCloseTo((8 * 0.9) / (0.3 * 1.1 + 0.05), 6);
    const report = findings(playYear(year, plant), 3);
    expect(report.autonomy.nominal_days).toBeCloseTo(8 / 7.2, 12);
    expect(report.autonomy.sunless_hours.median).toBeCloseTo(report.autonomy.sunless_hours.least, 6);
  });

  it('says so when a bank outlasts the year', () => {
    const year = yearOf({ dc_kW_per_kWp: [constant(5 * DAY, 0)], load_kW: constant(5 * DAY, 0.01) });
    expect(sunlessHours(year, plantWith({ capacity_Ah: 2000 })).capped).toBe(true);
  });
});

describe('report of a random year', () => {
  const steps = 8760;
  const given = randomYear(stream(11), steps, 1);
  const year = yearOf(given);
  const plant = plantWith({
    arrays: [openTracker(4, 0.97)],
    modules_parallel: 2,
    max_charge_A: 50,
    max_discharge_A: 30,
    rating_kW: 2.5,
    round_trip: 0.92,
    floor_soc: 0.1,
    idle_W: 30,
    loss_linear: 0.04,
  });
  const ledger = playYear(year, plant);
  const report = findings(ledger, 7);
  const sum = (name: keyof typeof ledger.columns): number => ledger.columns[name].reduce((t, x) => t + x, 0);

  it('has every sum of the ledger', () => {
    expect(report.load.wanted_kWh).toBeCloseTo(sum('load_wanted_kWh'), 6);
    expect(report.unmet.energy_kWh).toBeCloseTo(sum('unmet_kWh'), 6);
    expect(report.array.curtailed_kWh).toBeCloseTo(sum('curtailed_kWh'), 6);
    expect(report.losses.total_kWh).toBeCloseTo(sum('losses_kWh'), 6);
    expect(report.unmet.by_month_kWh.reduce((a, b) => a + b)).toBeCloseTo(report.unmet.energy_kWh, 6);
    expect(Object.values(report.unmet.by_cause_kWh).reduce((a, b) => a + b)).toBeCloseTo(
      report.unmet.energy_kWh,
      6,
    );
    expect(Object.values(report.array.curtailed_by_cause_kWh).reduce((a, b) => a + b)).toBeCloseTo(
      report.array.curtailed_kWh,
      6,
    );
    expect(report.unmet.outages.reduce((t, s) => t + s.energy_kWh, 0)).toBeCloseTo(
      report.unmet.energy_kWh,
      6,
    );
    expect(report.unmet.outages.reduce((t, s) => t + s.hours, 0)).toBe(report.unmet.hours);
    expect(report.unmet.hours).toBe([...ledger.columns.unmet_kWh].filter((x) => x > 1e-9).length);
    expect(report.unmet.hours).toBeGreaterThan(100);
  });

  it('finds the leanest days that a plain search finds', () => {
    const days = steps / DAY;
    const day = (name: keyof typeof ledger.columns, d: number): number =>
      ledger.columns[name].slice(d * DAY, (d + 1) * DAY).reduce((t, x) => t + x, 0);
    let best = { ratio: Number.POSITIVE_INFINITY, first: -1 };
    for (let first = 0; first + 7 <= days; first++) {
      let sun = 0;
      let load = 0;
      for (let d = first; d < first + 7; d++) {
        sun += day('array_available_kWh', d);
        load += day('load_wanted_kWh', d);
      }
      if (sun / load < best.ratio) best = { ratio: sun / load, first };
    }
    expect(report.leanest_days.sun_to_load).toBeCloseTo(best.ratio, 12);
    const date = new Date(Date.UTC(2025, 0, 1 + best.first)).toISOString().slice(0, 10);
    expect(report.leanest_days.start).toBe(date);
    expect(report.leanest_days.by_day).toHaveLength(7);
    const lowest = Math.min(...ledger.columns.bank_soc.slice(best.first * DAY, (best.first + 7) * DAY));
    expect(report.leanest_days.lowest_soc).toBe(lowest);
  });

  describe('yields as IEC 61836 and IEC 61724:1998 define them', () => {
    // Array yield YA = E_A / P0; final yield Yf = YA × η_LOAD, η_LOAD = E_use / E_in, E_in = E_A + back-up; reference
    // yield Yr = H / (1 kW/m²); PR = Yf / Yr. P0 = 3 kW, H = 4.5 kWh/m².
    const one = yearOf({ dc_kW_per_kWp: [constant(DAY, 4.5 / 24)], load_kW: constant(DAY, 8.4 / 24) });
    const arrayOf = (parts: Parts) => {
      const plant = plantWith({ size_kWp: 3, ...parts });
      return findings(playYear(one, plant), 1).array;
    };

    it('are one and the same in a plant without losses: 8.4 kWh', () => {
      const array = arrayOf({ capacity_Ah: 1 });
      expect(array.array_yield_kWh_per_kWp).toBeCloseTo(2.8, 9);
      expect(array.final_yield_kWh_per_kWp).toBeCloseTo(2.8, 9);
      expect(array.performance_ratio).toBeCloseTo(0.622222, 5);
    });

    it('differ by what is lost on the way to the loads', () => {
      // A tracker of 0.9 and an inverter that takes 1.05 for 1: E_A = 8.4 × 1.05 / 0.9 = 9.8 of 13.5 kWh.
      const array = arrayOf({
        arrays: [openTracker(3, 0.9)],
        capacity_Ah: 1,
        rating_kW: 1,
        loss_linear: 0.05,
      });
      expect(array.array_yield_kWh_per_kWp).toBeCloseTo(9.8 / 3, 9);
      expect(array.final_yield_kWh_per_kWp).toBeCloseTo(8.4 / 3, 9);
      expect(array.performance_ratio).toBeCloseTo(8.4 / 13.5, 9);
    });

    it('leave out what another source gave: a socket that carries half of the loads', () => {
      const half = yearOf({
        dc_kW_per_kWp: [constant(DAY, 4.5 / 24)],
        load_kW: constant(DAY, 8.4 / 24),
        timetables: { shore_there: Uint8Array.from({ length: DAY }, (_, i) => i % 2) },
      });
      const plant = plantWith({ size_kWp: 3, capacity_Ah: 1, shore: { max_kW: 5, parallel: false } });
      const { array, shore } = findings(playYear(half, plant), 1);
      expect(shore!.energy_kWh).toBeCloseTo(4.2, 9);
      expect(array.final_yield_kWh_per_kWp).toBeCloseTo(4.2 / 3, 9);
    });

    it('count what the bank holds more at the end as used, and what it holds less as put in', () => {
      // 13.5 kWh of sun, 8.4 into the loads and 5.1 into the bank; then 5 kWh from the bank in a year without sun.
      const gains = arrayOf({ capacity_Ah: 1000, initial_soc: 0 });
      expect(gains.final_yield_kWh_per_kWp).toBeCloseTo(4.5, 9);
      const falls = arrayOf({ size_kWp: 1, capacity_Ah: 1000, initial_soc: 1 });
      expect(falls.final_yield_kWh_per_kWp).toBeCloseTo(4.5, 9);
      expect(falls.performance_ratio).toBeCloseTo(1, 9);
    });
  });

  it('gives LOLP over the hours with load wanted, and LPSP as unmet over wanted energy', () => {
    // 1 kW in nine hours and 2 kW in three more are 15 kWh; 10 kWh in the bank, without sun, end in the tenth.
    const load_kW = Float64Array.from({ length: DAY }, (_, i) => (i < 9 ? 1 : i < 12 ? 2 : 0));
    const dark = yearOf({ dc_kW_per_kWp: [constant(DAY, 0)], load_kW });
    const plant = plantWith({ voltage_V: 50, capacity_Ah: 200, max_discharge_A: 1000 });
    const { unmet } = findings(playYear(dark, plant), 1);
    expect(unmet.hours).toBe(3);
    expect(unmet.loss_of_load_probability).toBeCloseTo(3 / 12, 12);
    expect(unmet.share).toBeCloseTo(5 / 15, 12);
  });

  it('holds no number that is not finite', () => {
    const walk = (value: unknown, path: string): void => {
      if (typeof value === 'number' && !Number.isFinite(value)) throw new Error(`${path} is ${value}`);
      if (value !== null && typeof value === 'object') {
        for (const [key, inner] of Object.entries(value)) walk(inner, `${path}.${key}`);
      }
      if (value === undefined) throw new Error(`${path} is undefined`);
    };
    walk(report, 'report');
    const idle = yearOf({ dc_kW_per_kWp: [constant(DAY, 0)], load_kW: constant(DAY, 0) });
    walk(findings(playYear(idle, plantWith({})), 1), 'idle');
    expect(LEDGER_COLUMNS.length).toBe(Object.keys(ledger.columns).length);
  });
});

describe('static limits (common practice, no source)', () => {
  const shore = { max_kW: 20, parallel: false } as const;
  const big = { voltage_V: 48, rating_kW: 6, size_kWp: 12, shore } as const;
  const charger = { max_charge_A: 120, max_output_kW: 5.76, efficiency: 0.92 };

  it('a 100 A module at 48 V caps a larger inverter and charger at 4.8 kW', () => {
    const limits = staticLimits(plantWith({ ...big, charger }));
    expect(limits.ac_output.figure_kW).toBeCloseTo(4.8, 12);
    expect(limitSaid(limits.ac_output)).toContain('bank discharge current');
    expect(limits.solar_charging.figure_kW).toBeCloseTo(4.8, 12);
    expect(limits.ac_charging.figure_kW).toBeCloseTo(4.8, 12);
  });

  it('two modules lift that to 9.6 kW or the rating of the device', () => {
    const limits = staticLimits(plantWith({ ...big, charger, modules_parallel: 2 }));
    expect(limits.ac_output.figure_kW).toBe(6);
    expect(limitSaid(limits.ac_output)).toBe('inverter rating');
    expect(limits.ac_output.limits[1]!.limit_kW).toBeCloseTo(9.6, 12);
    expect(limits.solar_charging.figure_kW).toBeCloseTo(9.6, 12);
    expect(limits.ac_charging.figure_kW).toBeCloseTo(5.76, 12);
  });

  it('charge nothing from AC without a source there, whatever the charger', () => {
    const alone = staticLimits(plantWith({ ...big, charger, shore: null }));
    expect(alone.ac_charging).toEqual({ figure_kW: null, limits: [] });
  });

  it('shows the peak amps of the modules where they are given, their continuous ones elsewhere', () => {
    const known = staticLimits(plantWith({ ...big, peak_discharge_A: 150 })).surge;
    expect(known.figure_kW).toBeCloseTo(7.2, 12);
    expect(limitSaid(known)).toBe('bank peak current: 1 module × 150 A at 48 V');
    const unknown = staticLimits(plantWith(big)).surge;
    expect(unknown.figure_kW).toBeCloseTo(4.8, 12);
    expect(limitSaid(unknown)).toContain('not in the file');
  });

  it('51.2 V × 100 Ah stores 5.12 kWh', () => {
    expect(staticLimits(plantWith({ voltage_V: 51.2 })).capacity_kWh).toBeCloseTo(5.12, 12);
  });

  it('decides between amps and rating on the AC side: 4.8 kW of bank through losses is less than a 4.6 kW inverter', () => {
    const limits = staticLimits(plantWith({ voltage_V: 48, rating_kW: 4.6, loss_linear: 0.1 }));
    expect(limitSaid(limits.ac_output)).toContain('bank discharge current');
    expect(limits.ac_output.after_inverter_loss_kW).toBeCloseTo(4.8 / 1.1, 9);
  });
});
