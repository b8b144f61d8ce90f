/** The static check of cable, fuse and surge against the tables it cites, and examples worked on paper. */

import { findings, playYear } from '@longnight/core';
import type { Load, WiringSpec } from '@longnight/core/scenario';
import { AWG_SIZES, bankConductor, METRIC_SIZES, STANDARD_RATINGS_A } from '@longnight/core/wiring';
import { describe, expect, it } from 'vitest';
import { conductorSentences } from '../../packages/cli/src/render/report/conductor.ts';
import { openTracker, type Parts, plantWith } from '../support/plant.ts';
import { conductorConflicts, surgeConflicts } from '../support/words.ts';
import { yearOf } from '../support/year.ts';

const SIZES = [14, 12, 10, 8, 6, 4, 3, 2, 1, '1/0', '2/0', '3/0', '4/0'];

describe('the tables', () => {
  it('NEC Table 310.16, copper, 75 °C', () => {
    const ampacity_A = [20, 25, 35, 50, 65, 85, 100, 115, 130, 150, 175, 200, 230];
    expect(AWG_SIZES.map((size) => [size.name, size.ampacity_A])).toEqual(
      SIZES.map((size, k) => [`${size} AWG`, ampacity_A[k]]),
    );
  });

  it('NEC Chapter 9 Table 8, stranded uncoated copper, 75 °C; 2/0 is 0.3173 ohm/km', () => {
    const ohm_per_kft = [
      3.14, 1.98, 1.24, 0.778, 0.491, 0.308, 0.245, 0.194, 0.154, 0.122, 0.0967, 0.0766, 0.0608,
    ];
    AWG_SIZES.forEach((size, k) => {
      expect(size.resistance_ohm_per_km).toBeCloseTo(ohm_per_kft[k]! / 0.3048, 4);
    });
    expect(AWG_SIZES[10]!.resistance_ohm_per_km).toBeCloseTo(0.3173, 4);
  });

  it('NEC 240.4(D): 15, 20 and 30 A protect 14, 12 and 10 AWG; above that the ampacity', () => {
    expect(AWG_SIZES.slice(0, 3).map((size) => size.protection_A)).toEqual([15, 20, 30]);
    for (const size of AWG_SIZES.slice(3)) expect(size.protection_A).toBe(size.ampacity_A);
  });

  it('IEC 60228 class 2 at 20 °C, warmed to 75 °C by its Annex A (0.82 there and back)', () => {
    const at20C = {
      2.5: 7.41,
      4: 4.61,
      6: 3.08,
      10: 1.83,
      16: 1.15,
      25: 0.727,
      35: 0.524,
      50: 0.387,
      70: 0.268,
      95: 0.193,
      120: 0.153,
    };
    expect(METRIC_SIZES.map((size) => size.area_mm2)).toEqual(
      Object.keys(at20C)
        .map(Number)
        .sort((a, b) => a - b),
    );
    for (const { area_mm2, resistance_ohm_per_km } of METRIC_SIZES) {
      const printed = at20C[area_mm2 as keyof typeof at20C];
      expect(resistance_ohm_per_km * 0.82, `${area_mm2} mm²`).toBeCloseTo(printed, printed > 1 ? 1 : 3);
    }
  });

  it('a metric size carries what the largest AWG size with no more copper carries', () => {
    // Areas in the tables of the code: 8 AWG 8.37, 2 AWG 33.6, 1 AWG 42.4, 1/0 53.5, 2/0 67.4, 3/0 85.0, 4/0 107 mm².
    const carries = (mm2: number) => METRIC_SIZES.find((size) => size.area_mm2 === mm2)!.ampacity_A;
    expect([10, 35, 50, 70, 95, 120].map(carries)).toEqual([50, 115, 130, 175, 200, 230]);
    expect(METRIC_SIZES.filter((size) => size.parallel).map((size) => size.area_mm2)).toEqual([70, 95, 120]);
  });

  // Without what the table has for fuses alone, 601 A and those below 15 A (recalled).
  it('NEC 240.6(A), ascending', () => {
    expect(STANDARD_RATINGS_A).toEqual([
      15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400,
      450, 500, 600, 700, 800, 1000, 1200, 1600, 2000, 2500, 3000, 4000, 5000, 6000,
    ]);
  });
});

const wiring = (given: Partial<WiringSpec>): WiringSpec => ({ cables_parallel: 1, ...given });
/** No charging to speak of, so that the inverter sets the current. */
const inverterAlone = (parts: Parts) =>
  bankConductor(plantWith({ voltage_V: 48, arrays: [{ ...openTracker(1), max_charge_A: 1 }], ...parts }));

describe('worked on paper', () => {
  it('5 kW at 48 V with a loss of 5 %: 5.25 kW at 42 V are 125 A, 156.25 A with 125 %, 2/0, a fuse of 175 A', () => {
    const found = inverterAlone({
      rating_kW: 5,
      loss_linear: 0.05,
      wiring: wiring({ bank_cable_length_m: 3 }),
    });
    expect(found.lowest_voltage_V).toBe(42);
    expect(found.continuous_A).toBeCloseTo(125, 9);
    expect(found.needed_A).toBeCloseTo(156.25, 9);
    expect(found.cable).toMatchObject({ size: '2/0 AWG', parallel: 1, given: false, ampacity_A: 175 });
    expect(found.overcurrent.standard_A).toEqual([175]);
    // 2 × 3 m × 125 A × 0.3173 ohm/km
    expect(found.voltage_drop!.drop_V).toBeCloseTo(0.238, 3);
    expect(found.voltage_drop!.drop_share).toBeCloseTo(0.238 / 42, 4);
    expect(found.conflicts).toEqual([]);
  });

  it('140 A all the time need 175 A (NEC 215.2, 690.8), which 2/0 just carries', () => {
    const found = inverterAlone({ rating_kW: 140 * 0.042 });
    expect(found.needed_A).toBeCloseTo(175, 9);
    expect(found.cable.size).toBe('2/0 AWG');
    expect(found.overcurrent.standard_A).toEqual([175]);
    expect(found.voltage_drop).toBeNull();
  });

  it('5 m of 0.268 ohm/km, there and back, drop 0.268 V at 100 A', () => {
    // 70 mm² has that at 20 °C; at 75 °C it is 1.22 times as much.
    const found = inverterAlone({
      rating_kW: 4.8,
      wiring: wiring({ bank_cable_length_m: 5, cable_mm2: 70, bank_lowest_voltage_V: 48 }),
    });
    expect(found.continuous_A).toBeCloseTo(100, 9);
    expect(found.voltage_drop!.drop_V).toBeCloseTo(1.22 * 0.268, 9);
    expect(found.voltage_drop!.drop_share).toBeCloseTo((1.22 * 0.558333) / 100, 7);
    expect(found.cable).toMatchObject({ size: '70 mm²', given: true, ampacity_A: 175 });
  });

  it('beyond 230 A several in parallel from 1/0 on, the fewest and smallest that carry it', () => {
    const cable = (needed_A: number) => {
      const { cable, overcurrent } = inverterAlone({ rating_kW: (needed_A / 1.25) * 0.042 });
      return [cable.parallel, cable.size, cable.ampacity_A, overcurrent.standard_A];
    };
    expect(cable(230)).toEqual([1, '4/0 AWG', 230, [250]]);
    expect(cable(231)).toEqual([2, '1/0 AWG', 300, [250, 300]]);
    expect(cable(450)).toEqual([2, '4/0 AWG', 460, [450, 500]]);
    expect(cable(470)).toEqual([3, '2/0 AWG', 525, [500, 600]]);
  });

  it('NEC 240.4(B): 4/0 of 230 A may have the next standard fuse, 250 A; above 800 A nothing is rounded up', () => {
    const at = (needed_A: number, given?: Partial<WiringSpec>) =>
      inverterAlone({ rating_kW: (needed_A / 1.25) * 0.042, wiring: given ? wiring(given) : null });
    const own = at(226);
    expect(own.cable.size).toBe('4/0 AWG');
    expect(own.overcurrent).toMatchObject({ most_A: 250, standard_A: [250] });
    expect(own.conflicts).toEqual([]);
    // 14 to 10 AWG keep what 240.4(D) gives them: 10 AWG carries 35 A and is fused with 30.
    expect(at(28, { cable_AWG: 10 }).overcurrent.most_A).toBe(30);
    // 4 × 230 A: the next standard rating is 1000 A, and 240.4(B)(3) ends at 800.
    const four = at(905, { cable_AWG: '4/0', cables_parallel: 4 });
    expect(four.overcurrent).toMatchObject({ most_A: 920, standard_A: [] });
    expect(conductorConflicts(four)).toEqual([expect.stringMatching(/No standard fuse or breaker/)]);
    // 5 × 150 A are rounded up to 800 A itself.
    const five = at(745, { cable_AWG: '1/0', cables_parallel: 5 });
    expect(five.overcurrent).toMatchObject({ most_A: 800, standard_A: [800] });
    // 23 × 230 A: more than is looked through, and the fewest of the largest size that carry 5200 A.
    expect(at(5200).cable).toMatchObject({ size: '4/0 AWG', parallel: 23, ampacity_A: 5290 });
    expect(at(5290).cable.parallel).toBe(23);
    // What check picks by itself always has a fuse.
    for (let needed_A = 10; needed_A < 1900; needed_A += 7) {
      const { conflicts, overcurrent } = at(needed_A);
      expect(conflicts, `${needed_A} A`).toEqual([]);
      expect(overcurrent.standard_A.length, `${needed_A} A`).toBeGreaterThan(0);
    }
  });

  it('stacked units have a cable each, that carries its share', () => {
    const of = (units: number) =>
      bankConductor(
        plantWith({
          voltage_V: 48,
          rating_kW: 5,
          units,
          modules_parallel: 6,
          max_charge_A: 100,
          arrays: [{ ...openTracker(5), max_charge_A: 120 }],
        }),
      );
    const three = of(3);
    expect(three.units).toBe(3);
    // 15 kW at 42 V are 357 A in all, and 119 A in each of the three.
    expect(three.continuous_A).toBeCloseTo(5000 / 42, 9);
    expect(three.currents.map(({ current_A }) => current_A)).toEqual([
      expect.closeTo(5000 / 42, 9),
      expect.closeTo(40, 9),
    ]);
    expect(three.cable).toMatchObject({ size: '1/0 AWG', parallel: 1 });
    expect(conductorSentences(three).join(' ')).toMatch(
      /A cable, and a fuse or breaker, for each of the 3 units/,
    );
  });

  it('small sizes by what may protect them: 32 A need 8 AWG, though 10 AWG carries 35', () => {
    expect(inverterAlone({ rating_kW: (32 / 1.25) * 0.042 }).cable.size).toBe('8 AWG');
    expect(inverterAlone({ rating_kW: (30 / 1.25) * 0.042 }).cable.size).toBe('10 AWG');
  });

  it('charging sets the current where it is larger: trackers and charger together, as far as the modules take it', () => {
    const plant = (modules_parallel: number) =>
      plantWith({
        voltage_V: 48,
        rating_kW: 3,
        modules_parallel,
        max_charge_A: 100,
        arrays: [{ ...openTracker(5), max_charge_A: 120 }],
        charger: { max_charge_A: 60, max_output_kW: 2.88, efficiency: 0.9 },
      });
    expect(bankConductor(plant(1)).continuous_A).toBe(100);
    expect(bankConductor(plant(2)).continuous_A).toBe(180);
    expect(bankConductor(plant(2)).currents.map(({ current_A }) => current_A)).toEqual([
      180,
      expect.closeTo(3000 / 42, 9),
    ]);
    // 180 A just as the modules take it, and 5.76 kW at 48 V that an all-in-one lets through of them.
    const { currents } = bankConductor({ ...plant(2), bank: { ...plant(2).bank, module_max_charge_A: 90 } });
    expect(currents[0]).toEqual({ by: { id: 'chargers', ac_charger: true }, current_A: 180 });
    const all_in_one = {
      max_charge_kW: 5.76,
      max_charge_A: 120,
      max_tracker_input_kW: 10,
      max_tracker_output_kW: 10,
      max_tracker_A: null,
    };
    expect(bankConductor({ ...plant(2), all_in_one }).continuous_A).toBe(120);
  });

  it('a given cable that is too small, or too small to be doubled, is a conflict', () => {
    const with_ = (given: Partial<WiringSpec>) => inverterAlone({ rating_kW: 5.25, wiring: wiring(given) });
    expect(conductorConflicts(with_({ cable_AWG: '1/0' }))).toEqual([
      expect.stringMatching(/carries 150 A, less than the 156 A/),
    ]);
    expect(with_({ cable_AWG: '2/0' }).conflicts).toEqual([]);
    expect(conductorConflicts(with_({ cable_AWG: 3, cables_parallel: 2 }))).toEqual([
      expect.stringMatching(/parallel, which the code allows from 1\/0/),
    ]);
    expect(with_({ cable_AWG: 3, cables_parallel: 2 }).cable).toMatchObject({ ampacity_A: 200, parallel: 2 });
    // 112 A: 2 AWG carries 115, 110 is too small a fuse and 125 the next that the code allows.
    const between = inverterAlone({ rating_kW: (112 / 1.25) * 0.042, wiring: wiring({ cable_AWG: 2 }) });
    expect(between.conflicts).toEqual([]);
    expect(between.overcurrent.standard_A).toEqual([125]);
  });
});

describe('all at once, and the worst start', () => {
  const appliance = (name: string, given: Partial<Extract<Load, { kind: 'appliance' }>>): Load => ({
    kind: 'appliance',
    name,
    tier: 1,
    power_W: 100,
    count: 1,
    windows: ['00:00-24:00'],
    days: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'],
    months: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
    duty_share: 1,
    scale: 1,
    growth_share_per_year: 0,
    daily_variation_share: 0,
    ...given,
  });
  // Invented: a freezer at a third of the time, two pumps from 10 to 12, a kettle from 18 to 19, 50 W beside them.
  const loads = [
    appliance('freezer', { power_W: 120, duty_share: 1 / 3, start_W: 900 }),
    appliance('pump', { power_W: 700, count: 2, windows: ['10:00-12:00'], start_W: 2800, duty_share: 0.5 }),
    appliance('kettle', { power_W: 2000, windows: ['18:00-19:00'] }),
  ];
  const mean_kW = (hour: number): number =>
    0.05 + 0.04 + (hour >= 10 && hour < 12 ? 0.7 : 0) + (hour === 18 ? 2 : 0);
  const year = yearOf({
    dc_kW_per_kWp: [new Float64Array(48)],
    load_kW: Float64Array.from({ length: 48 }, (_, i) => mean_kW(i % 24)),
    loads,
  });
  const surge = (parts: Parts) => {
    const plant = plantWith({ size_kWp: 0, rating_kW: 4, voltage_V: 50, max_discharge_A: 100, ...parts });
    return findings(playYear(year, plant), 1).surge;
  };

  it('counts everything on, then the start that adds most at its hour', () => {
    const found = surge({});
    // At 18: 50 W, freezer 120 W, kettle 2000 W.
    expect(found.running_kW).toBeCloseTo(2.17, 9);
    expect(found.running_time).toContain('T18:00');
    // At 10: 50 + 120 + 2 × 700 W, and one pump that starts with 2800 instead of 700 W.
    expect(found.peak_kW).toBeCloseTo(3.67, 9);
    expect(found.peak_time).toContain('T10:00');
    expect(found.start).toEqual({ name: 'pump', start_W: 2800 });
    expect(found.conflicts).toEqual([]);
  });

  it('holds it against rating, surge rating and the amps of the bank', () => {
    expect(surgeConflicts(surge({ rating_kW: 2 }))).toEqual([
      expect.stringMatching(/2\.17 kW.*2\.00 kW all the time/),
    ]);
    expect(surge({ rating_kW: 1.8 }).conflicts).toHaveLength(2);
    // 60 A at 50 V are 3 kW all the time; 80 A for moments are 4 kW.
    expect(surgeConflicts(surge({ max_discharge_A: 60 }))).toEqual([
      expect.stringMatching(/peak is not in the file/),
    ]);
    expect(surge({ max_discharge_A: 60, peak_discharge_A: 80 }).conflicts).toEqual([]);
    expect(surgeConflicts(surge({ max_discharge_A: 60, peak_discharge_A: 70 }))).toEqual([
      expect.stringMatching(/3\.67 kW; its modules give 3\.50 kW for moments/),
    ]);
  });
});
