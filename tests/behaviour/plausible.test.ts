/** What looks like a slip is said beside the answer: for each rule a figure just within its limit and one just beyond. */

import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import {
  findings,
  InputError,
  plantOf,
  playYear,
  prepareYear,
  type Report,
  readScenario,
} from '@longnight/core';
import { describe, expect, it } from 'vitest';
import { noticesSaid } from '../support/words.ts';

const DATA = resolve(import.meta.dirname, '../../data');
const PARTS = new Map(
  readdirSync(join(DATA, 'parts')).map((name) => [
    `../parts/${name}`,
    readFileSync(join(DATA, 'parts', name), 'utf8'),
  ]),
);

function noticesOf(text: string): Report['notices'] {
  const read = readScenario(text, 'plant.yaml', PARTS);
  const year = prepareYear(read, 'plant.yaml', new Map());
  const plant = plantOf(read.scenario);
  return findings(playYear(year, plant)).notices;
}

/** 5 kWh a day, 0.25 kW of it at once. */
const BASE = `
site: { name: test, latitude_deg: 50, longitude_deg: 0, elevation_m: 0, time_zone: Etc/UTC }
weather: { kind: clear-sky, air_temperature_C: 10, turbidity_linke: 3 }
arrays:
  - name: roof
    size_kWp: 4
    tilt_deg: 40
    azimuth_deg: 180
    power_temperature_coefficient_per_K: 0
    mounting: open_rack
    tracker: { max_power_kW: 5, max_charge_A: 100 }
bank:
  chemistry: lfp
  modules_parallel: 1
  module: { nominal_voltage_V: 50, capacity_Ah: 200, max_charge_A: 100, max_discharge_A: 100 }
  round_trip_efficiency_share: 0.9
  floor_soc: 0.1
  min_charge_temperature_C: 0
  temperature: { kind: indoors, temperature_C: 20 }
inverter: { rating_kW: 4, surge_kW: 2000, idle_W: 20, efficiency: { loss_linear: 0, loss_quadratic: 0 } }
loads:
  - { kind: appliance, name: pump, power_W: 250, windows: ["00:00-20:00"] }
run: { year: 2025 }
`;

function swap(text: string, from: string, to: string): string {
  expect(text).toContain(from);
  return text.replace(from, to);
}
const swapped = (pairs: readonly (readonly [string, string])[]): string =>
  pairs.reduce((text, [from, to]) => swap(text, from, to), BASE);

type Swaps = readonly (readonly [string, string])[];
const azimuth = (deg: number): Swaps => [['azimuth_deg: 180', `azimuth_deg: ${deg}`]];
const south: Swaps = [['latitude_deg: 50', 'latitude_deg: -35']];
const size = (kWp: number): Swaps => [['size_kWp: 4', `size_kWp: ${kWp}`]];
const starts = (W: number, power_W = 250): Swaps => [['power_W: 250', `power_W: ${power_W}, start_W: ${W}`]];
const acArray = (kW: number): Swaps => [
  ['mounting: open_rack', 'mounting: open_rack\n    coupling: ac'],
  ['max_charge_A: 100 }', `max_output_kW: ${kW} }`],
];
const inverter = (more: string): Swaps => [['idle_W: 20', `idle_W: 20, ${more}`]];
const module = (Ah: number): Swaps => [['capacity_Ah: 200', `capacity_Ah: ${Ah}`]];
const CHARGER: Swaps = [['\nloads:', '\ncharger: { max_charge_A: 60 }\nloads:']];
const BUILT_IN: Swaps = [['max_charge_A: 100 }\nbank', 'max_charge_A: 100, built_in: true }\nbank']];

/** Rule, what just passes, what does not, and what is said of it. */
const RULES: readonly (readonly [string, Swaps, Swaps, RegExp])[] = [
  ['faces-the-pole', azimuth(46), azimuth(45), /roof at 45° faces north, .* 180 is south/],
  ['faces-the-pole', azimuth(314), azimuth(315), /faces north/],
  ['faces-the-pole', [...south, ...azimuth(0)], [...south, ...azimuth(180)], /faces south, .* 0 is north/],
  [
    'faces-the-pole',
    [...azimuth(0), ['tilt_deg: 40', 'tilt_deg: 9']],
    [...azimuth(0), ['tilt_deg: 40', 'tilt_deg: 10']],
    /faces north/,
  ],
  [
    'faces-the-pole',
    [...azimuth(0), ['latitude_deg: 50', 'latitude_deg: 23']],
    [...azimuth(0), ['latitude_deg: 50', 'latitude_deg: 24']],
    /faces north/,
  ],
  ['array-too-large', size(100), size(100.1), /100 kWp of array for 5 kWh a day is far more/],
  ['array-too-large', size(100), size(5000), /5000 kWp .*looks like W, which would be 5 kWp/],
  ['array-too-small', size(0.5), size(0.49), /can't serve it in any climate/],
  [
    'array-too-large',
    size(4),
    [['power_W: 250', 'power_W: 0.25']],
    /so is the bank: the loads look like kW, which would be 5 kWh a day/,
  ],
  [
    'array-too-small',
    size(4),
    [...size(4), ['power_W: 250', 'power_W: 250000']],
    /5000 kWh a day can't .*look like Wh, which would be 5 kWh/,
  ],
  [
    'bank-out-of-scale',
    [...module(1000), ['modules_parallel: 1', 'modules_parallel: 10']],
    [...module(1001), ['modules_parallel: 1', 'modules_parallel: 10']],
    /501 kWh for 5 kWh a day lasts 100 days/,
  ],
  ['module-capacity', module(2000), module(2001), /2001 Ah at 50 V are 100 kWh/],
  [
    'module-capacity',
    module(2000),
    [...module(5120), ['nominal_voltage_V: 50', 'nominal_voltage_V: 48']],
    /5120 Ah at 48 V are 246 kWh .*looks like Wh, which would be 107 Ah/,
  ],
  [
    'inverter-out-of-scale',
    [['rating_kW: 4', 'rating_kW: 50']],
    [['rating_kW: 4', 'rating_kW: 50.1']],
    /50\.1 kW for loads of 0\.25 kW at most/,
  ],
  [
    'inverter-out-of-scale',
    [['rating_kW: 4', 'rating_kW: 50']],
    [['rating_kW: 4', 'rating_kW: 1500']],
    /looks like W, which would be 1\.5 kW/,
  ],
  [
    'idle-draw',
    [['idle_W: 20', 'idle_W: 2']],
    [['idle_W: 20', 'idle_W: 1.99']],
    /1\.99 W drawn by an inverter of 4 kW/,
  ],
  [
    'idle-draw',
    [['idle_W: 20', 'idle_W: 0']],
    [['idle_W: 20', 'idle_W: 0.06']],
    /looks like kW, which would be 60 W/,
  ],
  ['start-power', starts(5000), starts(5001), /pump starts with 5001 W, 20 times its 250 W/],
  [
    'start-power',
    starts(5000),
    starts(1000, 0.25),
    /4000 times its 0\.25 W; power_W looks like kW, which would be 250 W/,
  ],
  ['ac-array-beyond-inverter', acArray(4), acArray(4.1), /4\.1 kW beside an inverter of 4 kW/],
  [
    'built-in-limits-nothing',
    [...inverter('max_total_charge_A: 90'), ...BUILT_IN],
    inverter('max_total_charge_A: 90'),
    /max_total_charge_A limits nothing: no tracker and no charger/,
  ],
  [
    'built-in-limits-nothing',
    [...inverter('max_total_tracker_kW: 5'), ...BUILT_IN],
    inverter('max_total_tracker_kW: 5'),
    /max_total_tracker_kW limits nothing: no tracker is built_in/,
  ],
  [
    'one-charger-for-a-stack',
    CHARGER,
    [...CHARGER, ...inverter('units: 2')],
    /60 A are counted once for 2 stacked/,
  ],
  [
    'operating-amps-unplayed',
    [],
    [['max_charge_A: 100 }\nbank', 'max_charge_A: 100, max_operating_A: 12 }\nbank']],
    /max_operating_A cuts nothing: without panel/,
  ],
];

describe('a figure that is likely a slip', () => {
  it('is none in the plant that the others are changed from', () => {
    expect(noticesOf(BASE)).toEqual([]);
  });

  it.each(RULES)('%s: said beyond the limit, not within it', (id, within, beyond, words) => {
    expect(noticesOf(swapped(within)).filter((notice) => notice.id === id)).toEqual([]);
    const said = noticesSaid(noticesOf(swapped(beyond)), id);
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(words);
  });

  it.each([
    ...readdirSync(join(DATA, 'plants')).map((name) => join(DATA, 'plants', name)),
    ...readdirSync(join(DATA, 'demo'))
      .filter((name) => name.endsWith('.yaml'))
      .map((name) => join(DATA, 'demo', name)),
  ])('is in no plant of data: %s', (path) => {
    expect(noticesOf(readFileSync(path, 'utf8'))).toEqual([]);
  });
});

describe('a figure beyond its key that fits in another unit', () => {
  const fixOf = (from: string, to: string): string => {
    try {
      readScenario(swap(BASE, from, to), 'plant.yaml');
    } catch (error) {
      if (error instanceof InputError) return error.issues[0]!.fix ?? '';
      throw error;
    }
    throw new Error('nothing was refused');
  };

  it.each([
    ['size_kWp: 4', 'size_kWp: 4400000', /looks like W: then write 4400$/],
    ['temperature_C: 20 }', 'temperature_C: 68 }', /looks like °F \(subtract 32 and divide by 1\.8: 20\)$/],
    ['temperature_C: 20 }', 'temperature_C: 293.15 }', /looks like K \(subtract 273\.15: 20\)$/],
    ['capacity_Ah: 200', 'capacity_Ah: 200000', /looks like mAh: then write 200$/],
    ['elevation_m: 0', 'elevation_m: 9500', /looks like feet \(multiply by 0\.3048: 2900\)$/],
    ['nominal_voltage_V: 50', 'nominal_voltage_V: 51200', /looks like mV: then write 51\.2$/],
  ])('%s as %s: the unit it looks like', (from, to, words) => {
    expect(fixOf(from, to)).toMatch(words);
  });

  it('names none where it fits in no unit', () => {
    expect(fixOf('tilt_deg: 40', 'tilt_deg: 400')).toBe('lower it to 90 or less');
  });
});
