/** Year after year against arithmetic on paper. */

import {
  agedPlant,
  newYearPreparer,
  type PreparedYear,
  plantOf,
  playYear,
  playYears,
  readScenario,
  type Scenario,
} from '@longnight/core';
import type { BankLife } from '@longnight/core/bank';
import { hoursByYear } from '@longnight/core/study';
import { describe, expect, it } from 'vitest';
import { yearsBasis } from '../../packages/cli/src/render/report/years.ts';
import { winterOf } from '../../packages/core/src/study/years/years.ts';
import { plantWith } from '../support/plant.ts';
import { yearOf } from '../support/year.ts';

const DAY = 24;
const constant = (steps: number, value: number): Float64Array => new Float64Array(steps).fill(value);
const life = (given: Partial<BankLife>): BankLife => ({
  cycle_life: null,
  life_cycles: null,
  life_years: null,
  end_of_life_share: 0.8,
  end_of_life_resistance_factor: 1,
  ...given,
});

/** Nights of 8 h that take `night_kWh` out of the bank, days that fill it again. */
function nights(night_kWh: number, days = 365): PreparedYear {
  const load_kW = Float64Array.from({ length: DAY * days }, (_, i) => (i % DAY < 8 ? night_kWh / 8 : 0));
  const sun = Float64Array.from({ length: DAY * days }, (_, i) => (i % DAY >= 9 && i % DAY < 17 ? 1 : 0));
  return yearOf({ dc_kW_per_kWp: [sun], load_kW });
}
const still = { array_ageing_share_per_year: [0] };

describe('a bank of 5 kWh that loses 2 % of its capacity a year', () => {
  const plant = plantWith({ size_kWp: 2, bank_life: life({ life_years: 10 }) });
  const answer = playYears({ years: 12, plant, yearOf: () => nights(4.55), ...still });

  it('is 1, 0.98, 0.96 ... of itself, worn after ten years, and new again', () => {
    answer.by_year.forEach(({ capacity_share, life_used_share, replaced }, k) => {
      expect(capacity_share).toBeCloseTo(1 - 0.02 * (k % 10), 9);
      expect(life_used_share).toBeCloseTo(((k % 10) + 1) / 10, 9);
      expect(replaced).toEqual(k === 10 ? [{ path: 'bank', times: 1 }] : []);
    });
    expect(answer.bank_end_of_life_years).toBeCloseTo(10, 6);
  });

  it('carries nights of 4.55 kWh for five years, fails by what is missing in the sixth, and carries them when new', () => {
    answer.by_year.forEach(({ unmet_kWh, year }, k) => {
      const short_kWh = Math.max(0, 4.55 - 5 * (1 - 0.02 * (k % 10)));
      expect(unmet_kWh, `year ${year}`).toBeCloseTo(365 * short_kWh, 6);
    });
    // As in the first year, day by day: the bank is full in each evening and only the night before it is not its own.
    const [first, again] = [answer.by_year[0]!, answer.by_year[10]!];
    expect(again.served_kWh).toBeCloseTo(first.served_kWh, 9);
    expect(again.lowest_soc).toBeCloseTo(first.lowest_soc, 9);
    expect(again.equivalent_full_cycles).toBeCloseTo(first.equivalent_full_cycles, 9);
    // The last hour of the first night.
    expect(answer.first_failure).toEqual({
      year: 6,
      calendar_year: 2030,
      time: '2030-01-01T07:00',
      winter: '2029/30',
    });
  });

  it('outlasts the years asked for, and then says no year', () => {
    const short = playYears({ years: 3, plant, yearOf: () => nights(4.55), ...still });
    expect(short.bank_end_of_life_years).toBeNull();
    expect(short.first_failure).toBeNull();
    expect(short.by_year).toEqual(answer.by_year.slice(0, 3));
  });
});

it('cycles deepen as the bank shrinks: the recursion by hand', () => {
  // Cycles to the end fall as the square of the depth; the same 2 kWh a night are a deeper cycle each year.
  const cycle_life = [
    { depth_share: 0.1, cycles: 150_000 },
    { depth_share: 1, cycles: 1500 },
  ];
  const plant = plantWith({ size_kWp: 2, bank_life: life({ cycle_life, life_years: 1000 }) });
  const answer = playYears({ years: 30, plant, yearOf: () => nights(2), ...still });
  let used = 0;
  let end: number | null = null;
  for (const [k, row] of answer.by_year.entries()) {
    const left = 1 - 0.2 * used;
    expect(row.capacity_share).toBeCloseTo(left, 9);
    const within = (365 * (2 / (5 * left)) ** 2) / 1500;
    const worn_at = (1 - used) / within;
    if (worn_at < 1) end ??= k + worn_at;
    // Bought when it is worn: what is left of that year wears the new one.
    used = worn_at < 1 ? within * (1 - worn_at) : used + within;
    expect(row.replaced).toEqual(worn_at < 1 ? [{ path: 'bank', times: 1 }] : []);
    expect(row.life_used_share).toBeCloseTo(used, 6);
  }
  // With the first year's wear throughout it would be 1500 / (365 × 0.16) = 25.7 years.
  expect(end).toBeLessThan(25);
  expect(answer.bank_end_of_life_years).toBeCloseTo(end!, 6);
});

it('of cycles and calendar the larger counts, not their sum', () => {
  const plant = (life_years: number) =>
    plantWith({
      size_kWp: 2,
      bank_life: life({ cycle_life: [{ depth_share: 0.4, cycles: 3650 }], life_years }),
    });
  const run = (life_years: number) =>
    playYears({ years: 2, plant: plant(life_years), yearOf: () => nights(2), ...still }).by_year[0]!;
  expect(run(5).life_used_share).toBeCloseTo(0.2, 9);
  expect(run(20).life_used_share).toBeCloseTo(0.1, 9);
});

describe('arrays', () => {
  it('give 0.98 of the year before, and what they lack goes unmet', () => {
    // As much sun in each hour as the load wants, and an empty bank.
    const year = yearOf({ dc_kW_per_kWp: [constant(8760, 0.5)], load_kW: constant(8760, 1) });
    const plant = plantWith({ size_kWp: 2, initial_soc: 0 });
    const answer = playYears({ years: 5, plant, yearOf: () => year, array_ageing_share_per_year: [0.02] });
    answer.by_year.forEach(({ unmet_kWh, array_share, capacity_share, life_used_share }, k) => {
      expect(unmet_kWh).toBeCloseTo(8760 * (1 - 0.98 ** k), 6);
      expect(array_share).toBeCloseTo(0.98 ** k, 12);
      expect(capacity_share).toBe(1);
      expect(life_used_share).toBeNull();
    });
    expect(answer.first_failure?.year).toBe(2);
    expect(answer.bank_end_of_life_years).toBeNull();
  });
});

it('a year begins with the charge that the one before left', () => {
  // Ten days of 10 W from 5 kWh: 2.4 kWh a stretch, so 0.52, 0.04, and empty in the third.
  const year = yearOf({ dc_kW_per_kWp: [constant(240, 0)], load_kW: constant(240, 0.01) });
  const answer = playYears({ years: 3, plant: plantWith({ size_kWp: 0 }), yearOf: () => year, ...still });
  expect(answer.by_year.map((row) => row.initial_soc)).toEqual([
    1,
    expect.closeTo(0.52, 9),
    expect.closeTo(0.04, 9),
  ]);
  expect(answer.by_year.map((row) => row.lowest_soc)[0]).toBeCloseTo(0.52, 9);
  expect(answer.by_year[2]!.unmet_kWh).toBeCloseTo(2.4 - 0.2, 9);
  expect(answer.by_year[0]!.array_share).toBeNull();
});

it('the first year is the year itself', () => {
  const year = nights(4.8);
  const plant = plantWith({ size_kWp: 1, floor_soc: 0.2, bank_life: life({ life_years: 10 }) });
  const played = playYear(year, plant);
  const [first] = playYears({ years: 1, plant, yearOf: () => year, ...still }).by_year;
  expect(first!.unmet_kWh).toBe(played.columns.unmet_kWh.reduce((sum, kWh) => sum + kWh, 0));
  expect(first!.unmet_kWh).toBeGreaterThan(0);
  expect(first!.lowest_soc).toBe(Math.min(...played.columns.bank_soc));
});

it('a bank that lasts 0.4 years is bought at 0.4, 0.8, 1.2 ... and is never older than that', () => {
  const plant = plantWith({ size_kWp: 2, bank_life: life({ life_years: 0.4 }) });
  const answer = playYears({ years: 3, plant, yearOf: () => nights(1), ...still });
  expect(answer.by_year.map(({ replaced }) => replaced[0]!.times)).toEqual([2, 2, 3]);
  // Of 0.4 years 0.2 are gone after the first, none after the second: that one is worn as it ends.
  expect(answer.by_year.map(({ capacity_share }) => capacity_share)).toEqual([
    1,
    expect.closeTo(1 - 0.2 / 2, 9),
    1,
  ]);
  expect(answer.bank_end_of_life_years).toBeCloseTo(0.4, 9);
});

it('full cycles wear a bank as cycles of full depth against depth do', () => {
  // 2 of 5 kWh a night make 146 full cycles a year; the points keep the energy the same at any depth.
  const played = (given: Partial<BankLife>) =>
    playYears({
      years: 4,
      plant: plantWith({ size_kWp: 2, bank_life: life(given) }),
      yearOf: () => nights(2),
      ...still,
    }).by_year.map(({ life_used_share, capacity_share }) => [life_used_share, capacity_share]);
  const full = played({ life_cycles: 1000 });
  expect(full[0]![0]).toBeCloseTo(0.146, 9);
  expect(full.flat()).toEqual(
    played({ cycle_life: [{ depth_share: 1, cycles: 1000 }] })
      .flat()
      .map((value) => expect.closeTo(value!, 9)),
  );
});

describe('a resistive bank', () => {
  const model = {
    kind: 'resistive' as const,
    open_circuit: [
      { soc: 0, voltage_V: 50 },
      { soc: 1, voltage_V: 50 },
    ],
    cells_series: 1,
    resistance_mOhm: 50,
    coulombic_efficiency_share: 1,
    end_of_life_resistance_factor: 2,
  };
  const bank_life = life({ life_years: 10, end_of_life_resistance_factor: 3 });

  it('has 1, 1.2, 1.4 ... times its resistance, and loses I² R with it', () => {
    const plant = plantWith({ size_kWp: 2, model, bank_life });
    const answer = playYears({ years: 12, plant, yearOf: () => nights(2), ...still });
    answer.by_year.forEach(({ resistance_factor }, k) => {
      expect(resistance_factor).toBeCloseTo(1 + 0.2 * (k % 10), 9);
    });
    // 250 W out of 50 V behind R: P = I (50 - I R).
    const drawn_W = (R: number): number => (50 * (50 - Math.sqrt(2500 - 4 * R * 250))) / (2 * R);
    for (const k of [0, 5, 9, 10]) {
      const factor = 1 + 0.2 * (k % 10);
      const left_kWh = 5 * (1 - 0.02 * (k % 10));
      expect(answer.by_year[k]!.lowest_soc).toBeCloseTo(
        1 - (8 * drawn_W(0.05 * factor)) / 1000 / left_kWh,
        9,
      );
    }
  });

  it('keeps its amps, at the volts that are left behind more resistance', () => {
    const plant = plantWith({ model, bank_life, max_charge_A: 20, max_discharge_A: 40 });
    const old = agedPlant(plant, 0.5, [1]).bank;
    expect(old.max_charge_kW).toBeCloseTo((20 * (50 + 20 * 0.1)) / 1000, 12);
    expect(old.max_discharge_kW).toBeCloseTo((40 * (50 - 40 * 0.1)) / 1000, 12);
    expect(old.module_max_discharge_A).toBe(40);
    expect(old.capacity_kWh).toBeCloseTo(0.9 * plant.bank.capacity_kWh, 12);
    expect(agedPlant(plant, 0, [1])).toEqual(plant);
  });
});

it('parts with a life of years or run-hours are bought when it ends, and an array is new again', () => {
  const year = nights(1);
  const array = { name: 'a', life_years: 2.5, tracker: { life_years: 4 } };
  const scenario = { ...year.scenario, arrays: [array] } as unknown as Scenario;
  const played = playYears({
    years: 6,
    plant: plantWith({ size_kWp: 2 }),
    yearOf: () => ({ ...year, scenario }),
    array_ageing_share_per_year: [0.1],
  }).by_year;
  expect(played.map(({ replaced }) => replaced.map(({ path }) => path))).toEqual([
    [],
    [],
    ['arrays[0]'],
    [],
    ['arrays[0].tracker'],
    ['arrays[0]'],
  ]);
  // The one bought after 2.5 years is half a year old when the fourth begins.
  const ages = [0, 1, 2, 0.5, 1.5, 0];
  played.forEach(({ array_share }, k) => {
    expect(array_share).toBeCloseTo(0.9 ** ages[k]!, 9);
  });
});

it('a winter is named by the hemisphere', () => {
  expect(winterOf(60, 12, 2029)).toBe('2029/30');
  expect(winterOf(60, 2, 2030)).toBe('2029/30');
  expect(winterOf(60, 11, 2099)).toBe('2099/00');
  expect(winterOf(60, 7, 2030)).toBeNull();
  expect(winterOf(-40, 7, 2030)).toBe('2030');
  expect(winterOf(-40, 12, 2030)).toBeNull();
});

it('draws weather from normals anew by seed, and keeps any other', () => {
  const asked: number[] = [];
  const first = nights(1, 1);
  const drawn = {
    ...first,
    scenario: { ...first.scenario, weather: { kind: 'monthly_means', seed: 4_294_967_294 } },
  };
  const prepare = (scenario: Scenario): PreparedYear => {
    asked.push((scenario.weather as { seed: number }).seed);
    return { ...first, scenario };
  };
  const hours = hoursByYear(drawn as PreparedYear, prepare);
  expect(hours(0)).toBe(drawn);
  hours(1);
  hours(2);
  expect(asked).toEqual([4_294_967_295, 0]);
  expect(hoursByYear(first, prepare)(7)).toBe(first);
  expect(asked).toHaveLength(2);
});

it('loads grow by their share each year, compounding, each for itself; the first year does not', () => {
  // 1 kW that grows by 10 % and 0.5 kW that falls by 20 %, on a 365-day year.
  const load = (name: string, power_W: number, growth_share_per_year: number): string =>
    `  - { kind: appliance, name: ${name}, power_W: ${power_W}, growth_share_per_year: ${growth_share_per_year} }\n`;
  const text = (loads: string): string => `
site: { name: s, latitude_deg: 10, longitude_deg: 0, elevation_m: 0, time_zone: Etc/UTC }
weather: { kind: clear-sky, turbidity_linke: 3, air_temperature_C: 20 }
arrays:
  - name: a
    size_kWp: 0.1
    tilt_deg: 10
    azimuth_deg: 180
    power_temperature_coefficient_per_K: -0.0035
    mounting: open_rack
    tracker: { max_power_kW: 1, max_charge_A: 20 }
bank:
  chemistry: lfp
  modules_parallel: 1
  module: { nominal_voltage_V: 51.2, capacity_Ah: 100, max_charge_A: 50, max_discharge_A: 50 }
  round_trip_efficiency_share: 0.95
  floor_soc: 0.1
  min_charge_temperature_C: 0
  temperature: { kind: indoors, temperature_C: 20 }
inverter: { rating_kW: 5, surge_kW: 8, idle_W: 20, efficiency: { loss_linear: 0.02, loss_quadratic: 0.02 } }
loads:
${loads}run: { year: 2025 }
`;
  const shelf = newYearPreparer('s.yaml', new Map());
  const play = (loads: string) => {
    const { scenario } = readScenario(text(loads), 's.yaml');
    const first = shelf(scenario);
    const yearOf = hoursByYear(first, shelf);
    return playYears({ years: 4, plant: plantOf(scenario), yearOf, ...still });
  };
  const growing = play(load('up', 1000, 0.1) + load('down', 500, -0.2));
  growing.by_year.forEach(({ wanted_kWh }, k) => {
    expect(wanted_kWh).toBeCloseTo(8760 * (1.1 ** k + 0.5 * 0.8 ** k), 6);
  });
  expect(yearsBasis(growing).join(' ')).toContain('growth_share_per_year');
  const steady = play(load('up', 1000, 0));
  expect(new Set(steady.by_year.map((row) => row.wanted_kWh)).size).toBe(1);
  expect(yearsBasis(steady).join(' ')).not.toContain('growth_share_per_year');
});
