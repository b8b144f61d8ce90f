/** Peaks of load files by their own rows, which steps of an hour average away. */

import { findings, plantOf, playYear, prepareYear, type Report, readScenario } from '@longnight/core';
import { describe, expect, it } from 'vitest';
import { noticesSaid, peakConflicts, surgeConflicts } from '../support/words.ts';

const ROWS = 365 * 96;

/** A year of 15-minute rows in UTC, kW, one text a column. */
function csv(columns: Readonly<Record<string, (row: number) => number>>): string {
  const lines = [`time,${Object.keys(columns).join(',')}`];
  for (let r = 0; r < ROWS; r++) {
    const time = new Date(Date.UTC(2026, 0, 1) + r * 900_000).toISOString();
    lines.push([time, ...Object.values(columns).map((power) => power(r))].join(','));
  }
  return lines.join('\n');
}

const load = (name: string, more = ''): string => `
  - kind: series
    name: ${name}
    file: loads.csv
    time: { column: time, zone: UTC, label: start }
    power: { column: ${name}, unit: kW }${more}`;

const plant = (loads: string, more: { step_min?: number; inverter?: string } = {}): string => `
site: { name: test, latitude_deg: 45, longitude_deg: 0, elevation_m: 0, time_zone: Etc/UTC }
weather: { kind: clear-sky, air_temperature_C: 10, turbidity_linke: 3 }
arrays:
  - { name: a, size_kWp: 20, tilt_deg: 30, azimuth_deg: 180, power_temperature_coefficient_per_K: 0, mounting: open_rack, tracker: { max_power_kW: 20, max_charge_A: 400 } }
bank:
  chemistry: lfp
  modules_parallel: 10
  module: { nominal_voltage_V: 50, capacity_Ah: 100, max_charge_A: 100, max_discharge_A: 100 }
  round_trip_efficiency_share: 1
  floor_soc: 0
  min_charge_temperature_C: 0
  temperature: { kind: indoors, temperature_C: 20 }
inverter: { rating_kW: 4, surge_kW: 8, idle_W: 0, efficiency: { loss_linear: 0, loss_quadratic: 0 }${more.inverter ?? ''} }
loads:${loads}
run: { year: 2026, step_min: ${more.step_min ?? 60} }
`;

function reportOf(text: string, rows: string): Report {
  const read = readScenario(text, 'plant.yaml');
  const year = prepareYear(read, 'plant.yaml', new Map([['loads.csv', rows]]));
  const made = plantOf(read.scenario);
  return findings(playYear(year, made));
}

/** 0.5 kW all year, and 4.89 kW for one quarter of an hour: 1.5975 kW over its hour. */
const KETTLE = csv({ house: (r) => (r === 5000 * 4 + 2 ? 4.89 : 0.5) });

describe('rows of 15 minutes played in hours', () => {
  const report = reportOf(plant(load('house')), KETTLE);

  it('are judged by their own peak: 4.89 kW against 4 kW', () => {
    expect(report.peak.ac_peak_kW).toBeCloseTo((4.89 + 3 * 0.5) / 4, 12);
    expect(report.peak.rows).toMatchObject({ row_min: 15, step_min: 15 });
    expect(report.peak.rows!.time).toContain('2026-07-28T08:00');
    expect(report.peak.rows!.peak_kW).toBeCloseTo(4.89, 12);
    expect(peakConflicts(report)).toEqual([
      'The loads want 4.89 kW in a row of 15 min at 2026-07-28 08:00, bank and inverter give 4.00 kW without sun.',
    ]);
    expect(report.surge.running_kW).toBeCloseTo(4.89, 12);
    expect(surgeConflicts(report.surge).join()).toMatch(/4\.89 kW; bank and inverter give 4\.00 kW/);
  });

  it('name the step that would play them, beside the verdict', () => {
    expect(noticesSaid(report.notices, 'row-peak')[0]).toMatch(
      /4\.89 kW .* 60 min they reach 1\.60 kW: run\.step_min: 15 would play them$/,
    );
    expect(report.unmet.energy_kWh).toBe(0);
    const played = reportOf(plant(load('house'), { step_min: 15 }), KETTLE);
    expect(played.peak.rows).toBeNull();
    expect(played.unmet.energy_kWh).toBeCloseTo(0.89 / 4, 9);
    expect(played.notices.some(({ id }) => id === 'row-peak')).toBe(false);
  });

  it('say nothing where they stay below the inverter but for their peak', () => {
    const low = reportOf(plant(load('house')), csv({ house: (r) => (r === 20_002 ? 3.99 : 0.5) }));
    expect(low.peak.conflicts).toEqual([]);
    expect(low.peak.rows!.peak_kW).toBeCloseTo(3.99, 12);
  });
});

describe('several loads from files', () => {
  const rows = csv({
    one: (r) => (r === 20_000 ? 3 : 0),
    two: (r) => (r === 20_001 ? 3 : 0),
    both: (r) => (r === 20_001 ? 1.5 : 0),
  });

  it('add up where their rows fall together, and not within the hour', () => {
    expect(reportOf(plant(load('one') + load('two')), rows).peak.rows!.peak_kW).toBeCloseTo(3, 12);
    const { peak } = reportOf(plant(load('two') + load('both')), rows);
    expect(peak.rows!.peak_kW).toBeCloseTo(4.5, 12);
    expect(peak.conflicts).toHaveLength(1);
  });

  it('leave out the DC side, and take the scale', () => {
    expect(reportOf(plant(load('one', '\n    bus: dc')), rows).peak.rows).toBeNull();
    expect(reportOf(plant(load('one', '\n    scale: 0.5')), rows).peak.rows!.peak_kW).toBeCloseTo(1.5, 12);
  });

  it('fill a leg of its own: 3 kW on a leg of 2 kW', () => {
    const legs = plant(load('one', '\n    leg: 2'), {
      inverter: ', units: 2, legs: 2, output_voltage_V: 120',
    }).replace('rating_kW: 4', 'rating_kW: 2');
    expect(peakConflicts(reportOf(legs, rows))).toEqual([
      expect.stringMatching(/^Leg 2 is asked for 3\.00 kW at .*; it gives 2\.00 kW\.$/),
    ]);
  });
});
