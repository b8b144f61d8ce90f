/** What a scenario may say of an array beyond its tilt: months, strings, and what contradicts itself. */

import {
  audit,
  InputError,
  type Issue,
  improvePlant,
  plantOf,
  playYear,
  prepareYear,
  readScenario,
} from '@longnight/core';
import { stringFindings } from '@longnight/core/array';
import { describe, expect, it } from 'vitest';
import { whatWords } from '../../packages/cli/src/render/improve/change-words.ts';
import { stringSentences } from '../../packages/cli/src/render/report/strings.ts';
import { findings } from '../../packages/core/src/findings/findings.ts';
import { stringConflicts } from '../support/words.ts';

/** An invented hut; what stands in brackets is put in by a test. */
const hut = (
  put: { site?: string; array?: string; tracker?: string; tilt?: string; size?: string } = {},
) => `site:
  name: test hut (invented)
  latitude_deg: 47
  longitude_deg: 11
  elevation_m: 900
  time_zone: Europe/Vienna
${put.site ?? ''}
weather:
  kind: monthly_means
  ghi_kWh_m2_day: [1.2, 2.1, 3.3, 4.5, 5.3, 5.6, 5.8, 5.0, 3.8, 2.4, 1.3, 0.9]
  air_temperature_C: [-3, -2, 2, 6, 11, 14, 16, 16, 12, 8, 2, -2]
  seed: 2
arrays:
  - name: wall
    ${put.size ?? 'size_kWp: 4'}
    tilt_deg: ${put.tilt ?? '60'}
    azimuth_deg: 180
    power_temperature_coefficient_per_K: -0.0035
    mounting: open_rack
${put.array ?? ''}
    tracker:
      max_power_kW: 5
      max_charge_A: 100
${put.tracker ?? ''}
bank:
  chemistry: lfp
  modules_parallel: 2
  module: { nominal_voltage_V: 48, capacity_Ah: 100, max_charge_A: 50, max_discharge_A: 100 }
  round_trip_efficiency_share: 0.94
  floor_soc: 0.1
  min_charge_temperature_C: 0
  temperature: { kind: indoors, temperature_C: 5 }
inverter: { rating_kW: 3, surge_kW: 6, idle_W: 20, efficiency: { loss_linear: 0.02, loss_quadratic: 0.03 } }
loads: [{ kind: appliance, name: lamps, power_W: 300, windows: ["17:30-22:30"] }]
run: { year: 2025 }
`;

const PANEL =
  '    panel: { voc_V: 40, vmp_V: 33, isc_A: 14, imp_A: 13.2, voc_temperature_coefficient_per_K: -0.0025 }';
const STRINGS = `${PANEL}\n    panels_in_series: 5\n    strings_parallel: 2`;
const INPUT = '      max_input_V: 250\n      min_input_V: 120\n      max_input_A: 50';

function issuesOf(text: string): readonly Issue[] {
  try {
    readScenario(text, 'hut.yaml');
  } catch (error) {
    if (error instanceof InputError) return error.issues;
    throw error;
  }
  return [];
}
const yearOf = (text: string) => prepareYear(readScenario(text, 'hut.yaml'), 'hut.yaml', new Map());
const sum = (x: Float64Array): number => x.reduce((s, v) => s + v, 0);

function checkOf(text: string) {
  const year = yearOf(text);
  const [check] = stringFindings(year, plantOf(year.scenario));
  return check!;
}

describe('twelve months', () => {
  const monthly = (text: string, m: number): number => {
    const { arrays, clock } = yearOf(text);
    return arrays[0]!.dc_kW_per_kWp.reduce((s, x, i) => s + (clock.month[i] === m ? x : 0), 0);
  };
  it('of tilt: each month is that of an array at its tilt', () => {
    const turned = hut({ tilt: '[70, 70, 50, 35, 20, 15, 15, 25, 40, 60, 70, 75]' });
    expect(monthly(turned, 1)).toBe(monthly(hut({ tilt: '70' }), 1));
    expect(monthly(turned, 6)).toBe(monthly(hut({ tilt: '15' }), 6));
    expect(monthly(turned, 12)).toBe(monthly(hut({ tilt: '75' }), 12));
    const twelve = hut({ tilt: `[${Array(12).fill(60).join(', ')}]` });
    expect(sum(yearOf(twelve).arrays[0]!.plane_W_m2)).toBe(sum(yearOf(hut()).arrays[0]!.plane_W_m2));
  });
  it('of dirt and snow: each takes its share of its month', () => {
    const snow = hut({
      array: '    losses: { soiling_share: 0, snow_share: [0.5, 0.25, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1] }',
    });
    const bare = hut({ array: '    losses: { soiling_share: 0 }' });
    expect(monthly(snow, 1) / monthly(bare, 1)).toBeCloseTo(0.5, 12);
    expect(monthly(snow, 2) / monthly(bare, 2)).toBeCloseTo(0.75, 12);
    expect(monthly(snow, 6)).toBe(monthly(bare, 6));
    expect(monthly(snow, 12)).toBe(0);
    const dirty = hut({ array: '    losses: { soiling_share: [0, 0, 0, 0, 0, 0.1, 0, 0, 0, 0, 0, 0] }' });
    expect(monthly(dirty, 6) / monthly(bare, 6)).toBeCloseTo(0.9, 12);
  });
  it('of tilt can be mended: all months steeper or flatter, none past upright or level', () => {
    const text = hut({ tilt: '[85, 70, 50, 35, 20, 5, 5, 25, 40, 60, 70, 85]' });
    const { helping, idle, harming } = improvePlant(
      { text, file: 'hut.yaml', partsTexts: new Map() },
      new Map(),
    );
    const turned = [...helping, ...idle, ...harming]
      .flatMap(({ changes }) => changes)
      .filter(({ id }) => /steeper|flatter/.test(id));
    expect(turned.map(whatWords).sort()).toEqual([
      'flatter: wall by 10° in every month, from 0 to 90°',
      'steeper: wall by 10° in every month, from 0 to 90°',
    ]);
    expect(turned.find(({ id }) => id.endsWith('steeper'))!.values[0]!.value).toEqual([
      90, 80, 60, 45, 30, 15, 15, 35, 50, 70, 80, 90,
    ]);
  });
  it('of tilt all count: eleven are refused, and one out of range is named', () => {
    expect(issuesOf(hut({ tilt: '[60, 60]' }))[0]).toMatchObject({ path: 'arrays[0].tilt_deg' });
    const over = hut({ tilt: '[60, 60, 60, 60, 60, 60, 60, 60, 60, 60, 60, 95]' });
    expect(issuesOf(over)[0]).toMatchObject({ code: 'out-of-range', path: 'arrays[0].tilt_deg[11]' });
  });
});

describe('models by name', () => {
  it('each says in the assumptions what it is', () => {
    const paths = (array: string) => yearOf(hut({ array })).assumptions.map(({ path }) => path);
    expect(paths('')).toContain('model.array.plane.perez');
    expect(paths('    sky_model: hay_davies')).toContain('model.array.plane.hay_davies');
    expect(paths('    cell_model: { kind: noct, noct_C: 44 }')).toContain('model.array.cell.noct');
    expect(paths('')).toEqual(
      expect.arrayContaining(['arrays[0].sky_model', 'arrays[0].low_light_loss_share']),
    );
  });
  it('a hotter panel and one that is weak in dull light give less', () => {
    const yieldOf = (array: string) => sum(yearOf(hut({ array })).arrays[0]!.dc_kW_per_kWp);
    const noct = (noct_C: number) => yieldOf(`    cell_model: { kind: noct, noct_C: ${noct_C} }`);
    expect(noct(50)).toBeLessThan(noct(44));
    // As much as each step loses: between nothing and twice the figure, for light is seldom below 40 W/m².
    const weak = yieldOf('    low_light_loss_share: 0.05') / yieldOf('');
    expect(weak).toBeGreaterThan(0.95);
    expect(weak).toBeLessThan(0.99);
  });
});

describe('what contradicts itself', () => {
  it.each([
    [
      { site: '  horizon: [{ azimuth_deg: 90, height_deg: 3 }, { azimuth_deg: 80, height_deg: 3 }]' },
      'site.horizon[1].azimuth_deg',
      /clockwise from north/,
    ],
    [
      { array: '    horizon: [{ azimuth_deg: 0, height_deg: 3 }, { azimuth_deg: 360, height_deg: 4 }]' },
      'arrays[0].horizon[1].azimuth_deg',
      /once/,
    ],
    [{ array: `${PANEL.replace('vmp_V: 33', 'vmp_V: 41')}` }, 'arrays[0].panel.vmp_V', /data sheet/],
    [{ array: `${PANEL.replace('imp_A: 13.2', 'imp_A: 14.2')}` }, 'arrays[0].panel.imp_A', /data sheet/],
    [{ array: `${PANEL}\n    panel_kWp: 0.55` }, 'arrays[0].panel.vmp_V', /one panel/],
    [{ array: '    panels_in_series: 5' }, 'arrays[0].panels_in_series', /data sheet/],
    [{ array: `${PANEL}\n    strings_parallel: 2` }, 'arrays[0].strings_parallel', /add panels_in_series/],
    [
      { size: 'panels: 9', array: `${PANEL}\n    panel_kWp: 0.435\n    panels_in_series: 4` },
      'arrays[0].panels_in_series',
      /multiple/,
    ],
    [
      { size: 'panels: 9', array: `${STRINGS}\n    panel_kWp: 0.435` },
      'arrays[0].panels_in_series',
      /correct panels/,
    ],
    [{ array: `${STRINGS}\n    panel_kWp: 0.435` }, 'arrays[0].panels_in_series', /correct the strings/],
    [{ tracker: INPUT.replace('120', '260') }, 'arrays[0].tracker.min_input_V', /data sheet of the tracker/],
  ])('%j', (put, path, fix) => {
    const [issue, ...others] = issuesOf(hut(put));
    expect(others).toEqual([]);
    expect(issue).toMatchObject({ code: 'contradiction', path });
    expect(issue!.fix).toMatch(fix);
    expect(issue!.place).toBeDefined();
  });
  it('a nominal cell temperature, measured on a rack, for panels close to a roof', () => {
    const roof = hut({ array: '    cell_model: { kind: noct, noct_C: 45 }' }).replace(
      'open_rack',
      'close_roof',
    );
    expect(issuesOf(roof)[0]).toMatchObject({ code: 'contradiction', path: 'arrays[0].cell_model.kind' });
  });
});

describe('strings on a tracker', () => {
  it('least and most by hand: -20 °C on record, coefficient -0.25 %/K', () => {
    const check = checkOf(hut({ site: '  record_low_C: -20', array: PANEL, tracker: INPUT }));
    // 40 V × (1 + 0.0025 × 45) = 44.5 V; five stay under 250 V, six do not.
    expect(check.panel_cold_V).toBeCloseTo(44.5, 9);
    expect(check.max_in_series).toBe(5);
    expect(check.panel_cold_table_V).toBeCloseTo(40 * 1.18, 9);
    expect(check.max_in_series_table).toBe(5);
    // 33 V less 0.1 V a kelvin, the open voltage's 0.25 % of 40 V.
    expect(check.panel_hot_V).toBeCloseTo(33 - 0.1 * (check.hottest_cell_C - 25), 9);
    expect(check.min_in_series).toBe(Math.ceil(120 / check.panel_hot_V));
    expect(check.in_series).toBeNull();
    expect(check.conflicts).toEqual([]);
    expect(stringSentences(check).join(' ')).toMatch(/not checked against: panels_in_series/);
  });
  it('without a record: the coldest step less 25 K for means, and the hottest cell with 10 K on it', () => {
    const text = hut({ array: PANEL, tracker: INPUT });
    const { sky, arrays } = yearOf(text);
    const check = checkOf(text);
    // Cold days that a seed draws are within the margin: the coldest step is that of a year without them.
    const still = yearOf(text.replace('weather:\n', 'weather:\n  day_to_day_K: 0\n')).sky.air_temperature_C;
    expect(check.coldest_air_C).toBeCloseTo(Math.min(...still) - 25, 9);
    expect(Math.min(...sky.air_temperature_C)).toBeLessThan(Math.min(...still));
    expect(check.coldest_air_from).toMatchObject({ id: 'coldest_step', margin_K: 25, of_means: true });
    expect(stringSentences(check).join(' ')).toMatch(/site\.record_low_C takes its place/);
    expect(check.hottest_cell_C).toBeCloseTo(Math.max(...arrays[0]!.cell_temperature_C) + 10, 9);
  });
  it('that are too long, too short or too many are conflicts, with their figures', () => {
    const long = checkOf(
      hut({ site: '  record_low_C: -20', array: STRINGS.replace('series: 5', 'series: 6'), tracker: INPUT }),
    );
    expect(stringConflicts(long)).toEqual([
      '6 panels in series give 267 V at -20.0 °C, and the tracker stands 250 V: that can destroy it, and start a fire.',
    ]);
    const short = checkOf(hut({ array: STRINGS.replace('series: 5', 'series: 3'), tracker: INPUT }));
    expect(stringConflicts(short)[0]).toMatch(
      /^3 panels in series work at 8\d\.\d V with cells of .* needs 120 V: it stops in the heat/,
    );
    const many = checkOf(
      hut({
        site: '  record_low_C: -20',
        array: STRINGS.replace('parallel: 2', 'parallel: 3'),
        tracker: INPUT,
      }),
    );
    // 3 × 14 A × 1.25; once more × 1.25 is for conductors and fuses.
    expect(stringConflicts(many)).toEqual([
      '3 strings give 42.0 A in short circuit, 52.5 A with 1.25 for bright light, and the tracker stands 50.0 A.',
    ]);
    expect(many.needed_A).toBeCloseTo(65.625, 9);
    expect(stringSentences(many).join(' ')).toMatch(/flows back into one that fails/);
    const none = checkOf(hut({ site: '  record_low_C: -20', array: STRINGS, tracker: INPUT }));
    expect(none.conflicts).toEqual([]);
    expect(none.string_cold_V).toBeCloseTo(222.5, 9);
    const narrow = checkOf(hut({ array: PANEL, tracker: '      max_input_V: 100\n      min_input_V: 90' }));
    expect(stringConflicts(narrow)[0]).toMatch(/No number of panels in series suits/);
  });
  it('are cautioned of, and no one says that they are safe', () => {
    const year = yearOf(hut({ array: STRINGS, tracker: INPUT }));
    const plant = plantOf(year.scenario);
    const report = findings(playYear(year, plant));
    expect(report.cautions.join(' ')).toMatch(/DC voltage that kills/);
    expect(JSON.stringify(report.strings)).not.toMatch(/\bsafe/i);
    // Panels are no less live where the file has no data sheet of them.
    const bare = yearOf(hut());
    const bareReport = findings(playYear(bare, plantOf(bare.scenario)));
    expect(bareReport.strings).toEqual([]);
    expect(bareReport.cautions.join(' ')).toMatch(/DC voltage that kills/);
  });
});

describe('hours outside the voltages of the tracker', () => {
  it('are lost, each whole, and the books balance', () => {
    // 4 × 33 V, less 0.4 V a kelvin: below 126 V with cells above 40 °C.
    const text = hut({
      array: STRINGS.replace('series: 5', 'series: 4'),
      tracker: '      min_input_V: 126\n      max_input_V: 250',
    });
    const year = yearOf(text);
    const plant = plantOf(year.scenario);
    expect(plant.arrays[0]!.works.to_C).toBeCloseTo(40, 9);
    const ledger = playYear(year, plant);
    const { curtailed_tracker_voltage_kWh: outside, array_available_kWh: offered } = ledger.columns;
    const { cell_temperature_C } = year.arrays[0]!;
    let wrong = 0;
    for (let i = 0; i < ledger.steps; i++) {
      if (outside[i] !== (cell_temperature_C[i]! > 40 ? offered[i] : 0)) wrong++;
    }
    expect(wrong).toBe(0);
    expect(sum(outside)).toBeGreaterThan(10);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-9);
    const report = findings(ledger);
    expect(report.array.curtailed_by_cause_kWh.tracker_voltage).toBeCloseTo(sum(outside), 9);
  });
  it('are none where a string fits, or where nothing is known of it', () => {
    for (const text of [
      hut({ array: STRINGS, tracker: INPUT }),
      hut({ array: PANEL, tracker: INPUT }),
      hut(),
    ]) {
      const year = yearOf(text);
      expect(sum(playYear(year, plantOf(year.scenario)).columns.curtailed_tracker_voltage_kWh)).toBe(0);
    }
  });
  it('mend buys whole strings, and a larger tracker that stands the same', () => {
    const text = hut({
      size: 'panels: 10',
      array: `${STRINGS}\n    panel_kWp: 0.435`,
      tracker: INPUT.replace('A: 50', 'A: 60'),
    }).replace('power_W: 300', 'power_W: 2500');
    const { helping, idle, harming, left_out } = improvePlant(
      { text, file: 'hut.yaml', partsTexts: new Map() },
      new Map(),
    );
    expect(left_out).toEqual([]);
    const more = [...helping, ...idle, ...harming]
      .flatMap(({ changes }) => changes)
      .find(({ id }) => id === 'arrays[0] more')!;
    expect(whatWords(more)).toBe('one more string of 5');
    expect(more.values).toEqual([
      { path: 'arrays[0].panels', value: 15 },
      { path: 'arrays[0].strings_parallel', value: 3 },
    ]);
  });
});
