/**
 * Rules between values, each at its edge: a scenario just within says nothing, one just beyond says what is wrong and
 * where. Thresholds are what the words of the rule say (a stop above a start), unless a source stands beside them.
 */
import { InputError, type Issue, readScenario } from '@longnight/core';
import { fitKinetic } from '@longnight/core/bank';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { allInOneAssumptions } from '../../packages/core/src/scenario/rules/all-in-one-assumptions.ts';
import { bankAssumption } from '../../packages/core/src/scenario/rules/bank-assumption.ts';
import { clockNotices } from '../../packages/core/src/scenario/rules/site.ts';
import { parsePath, valueAt } from '../../packages/core/src/scenario/text/path.ts';
import { setAt } from '../../packages/core/src/study/designs/designer.ts';

/** An invented hut that has one of everything. */
const HUT = {
  site: {
    name: 'edge hut (invented)',
    latitude_deg: 47,
    longitude_deg: 11,
    elevation_m: 900,
    time_zone: 'Etc/UTC',
  },
  weather: { kind: 'clear-sky', turbidity_linke: 3, air_temperature_C: 5 },
  arrays: [
    {
      name: 'wall',
      size_kWp: 4,
      tilt_deg: 60,
      azimuth_deg: 180,
      power_temperature_coefficient_per_K: -0.004,
      mounting: 'open_rack',
      tracker: { max_power_kW: 5, max_charge_A: 100 },
    },
  ],
  bank: {
    chemistry: 'lfp',
    modules_parallel: 2,
    module: { nominal_voltage_V: 48, capacity_Ah: 100, max_charge_A: 50, max_discharge_A: 100 },
    round_trip_efficiency_share: 0.94,
    floor_soc: 0.1,
    temperature: { kind: 'outdoors' },
  },
  inverter: {
    rating_kW: 4,
    surge_kW: 8,
    idle_W: 20,
    efficiency: { loss_linear: 0.02, loss_quadratic: 0.03 },
  },
  generator: {
    rating_kW: 4,
    fuel: { full_load_L_per_h: 1.6, half_load_L_per_h: 1 },
    start_soc: 0.3,
    stop_soc: 0.8,
  },
  charger: { max_charge_A: 40 },
  shore: { max_A: 16, voltage_V: 230 },
  loads: [
    { kind: 'appliance', name: 'lamps', power_W: 60 },
    { kind: 'daily', name: 'house', energy_kWh_day: 2, shape: 'flat', tier: 2 },
  ],
  run: { year: 2025 },
};

/** Values by their paths; undefined takes a key out. */
type Edits = Readonly<Record<string, unknown>>;
const edited = (...all: readonly Edits[]): unknown =>
  all
    .flatMap(Object.entries)
    .reduce((data, [path, value]) => setAt(data, parsePath(path), value), HUT as unknown);

function issuesOf(text: string): readonly Issue[] {
  try {
    readScenario(text, 'hut.json');
  } catch (error) {
    if (error instanceof InputError) return error.issues;
    throw error;
  }
  return [];
}

/** What is said of a hut; each issue must stand on the line of its key, or of the mapping that a key is missing in. */
function saidOf(...all: readonly Edits[]): string[] {
  const data = edited(...all);
  const text = JSON.stringify(data, null, 1);
  return issuesOf(text).map(({ path, message, fix, expected, place }) => {
    const steps = parsePath(path);
    const key = steps.at(valueAt(data, steps) === undefined ? -2 : -1);
    if (typeof key === 'string') expect(text.split('\n')[place!.line! - 1], path).toContain(`"${key}"`);
    return `${path}: ${message}${expected === undefined ? '' : ` (${expected})`} | ${fix}`;
  });
}

/** `path: value` with the value in YAML, `~` for none. */
function entry(text: string): [path: string, value: string] {
  const at = text.indexOf(': ');
  return [text.slice(0, at), text.slice(at + 2)];
}
const value = (text: string): unknown => parse(text) ?? undefined;
/** Edits as text, one behind the other with semicolons between. */
const given = (text: string): Edits =>
  Object.fromEntries(
    text
      .split('; ')
      .filter(Boolean)
      .map(entry)
      .map(([path, to]) => [path, value(to)]),
  );

/**
 * A table of edges. `path: 1 → 2` is a value within and one beyond; below it stands what is said beyond, one line an
 * issue. What stands behind `with` holds for the rows below, up to the next.
 */
function held(table: string): void {
  const rows: { edge: string; shared: Edits; sides: readonly Edits[]; said: string[] }[] = [];
  let shared: Edits = {};
  for (const line of table.split('\n').map((each) => each.trim())) {
    if (line === '' || line.startsWith('#')) continue;
    if (line.startsWith('with')) shared = given(line.slice(5));
    else if (line.startsWith('= ')) rows.at(-1)!.said.push(line.slice(2));
    else {
      const [path, values] = entry(line);
      rows.push({
        edge: line,
        shared,
        sides: values.split(' → ').map((to) => ({ [path]: value(to) })),
        said: [],
      });
    }
  }
  it.each(rows)('$edge', ({ shared: also, sides: [within, beyond], said }) => {
    expect(said, 'something is said').not.toEqual([]);
    expect(saidOf(also, within!), 'within').toEqual([]);
    expect(saidOf(also, beyond!), 'beyond').toEqual(said.map((words) => expect.stringContaining(words)));
  });
}

const PANEL = '{ voc_V: 50, vmp_V: 40, isc_A: 11, imp_A: 10, voc_temperature_coefficient_per_K: -0.003 }';
const CURVE = '[{ soc: 0, voltage_V: 46 }, { soc: 0.6, voltage_V: 50 }, { soc: 1, voltage_V: 52 }]';
const resistive = (open_circuit = CURVE): string =>
  `bank.round_trip_efficiency_share: ~; bank.model: { kind: resistive, resistance_mOhm: 20, open_circuit: ${open_circuit} }`;
const KINETIC = '{ kind: kinetic, capacity_20h_Ah: 100, capacity_10h_Ah: 90, capacity_5h_Ah: 78 }';
const ZEROS = `[${Array(24).fill(0).join(', ')}]`;
const weather = (format: string): string =>
  `{ kind: series, file: w.csv, ghi: { column: g, unit: W_m2 }, air_temperature: { column: a, unit: C }, time: { column: t, zone: UTC, label: start, format: "${format}" } }`;

describe('site', () => {
  held(`
    with site.time_zone: Etc/UTC
    # 15° an hour; the six hours are ours, no source.
    site.longitude_deg: 90 → 90.1
    = site.longitude_deg: at longitude 90.1 the sun stands highest at 06:00 by standard time of Etc/UTC, 6.0 h from noon (within 6 h of it) | check its sign
    with site.time_zone: Etc/GMT-5
    # A clock of 75° east: with the other sign -30 is 3 h from it, -29 is farther.
    site.longitude_deg: -15 → -30
    = highest at 19:00 by standard time of Etc/GMT-5, 7.0 h from noon (within 6 h of it) | did you mean 30? East
    site.longitude_deg: 75 → -29
    = highest at 18:56 by standard time of Etc/GMT-5, 6.9 h from noon (within 6 h of it) | check its sign
    with site.longitude_deg: -30; site.time_zone: Etc/GMT-5
    site.latitude_deg: 85.01 → 85
    = site.longitude_deg: at longitude -30
    site.latitude_deg: -85.01 → -85
    = site.longitude_deg: at longitude -30
    with site.horizon: [{ azimuth_deg: 10, height_deg: 3 }, { azimuth_deg: 360, height_deg: 3 }]
    site.horizon[0].azimuth_deg: 10 → 0
    = site.horizon[1].azimuth_deg: 360 is north again, which has a height at 0 already | list
    site.horizon[1].azimuth_deg: 11 → 10
    = site.horizon[1].azimuth_deg: 10 does not come after 10 | list each azimuth once, clockwise
    with arrays[0].horizon: [{ azimuth_deg: 10, height_deg: 3 }, { azimuth_deg: 360, height_deg: 3 }]
    arrays[0].horizon[1].azimuth_deg: 11 → 9
    = arrays[0].horizon[1].azimuth_deg: 9 does not come after 10
    # Tokens of Luxon (its table of tokens, recalled): y, k, D, f and F hold a year; M, d, L, o, H, t and T none.
    with weather: ${weather('MM-dd HH:mm')}
    weather.time.year: 2025 → ~
    = weather.time.format: stamps of the form "MM-dd HH:mm" have no year | say which year they are of: set time.year
    with weather: ${weather("d 'day of' LLL T")}
    weather.time.year: 2025 → ~
    = weather.time.format: stamps of the form "d 'day of' LLL T" have no year
    with weather: ${weather("o 'yearly' t")}
    weather.time.format: yyyy-MM-dd → MM-dd
    = weather.time.format: stamps of the form "MM-dd" have no year
    weather.time.format: kkkk-WW-c → WW-c
    = stamps of the form "WW-c" have no year
    weather.time.format: D t → t
    = stamps of the form "t" have no year
    weather.time.format: FFF → ccc
    = stamps of the form "ccc" have no year
    weather.time.format: f → o
    = stamps of the form "o" have no year
  `);

  it('a notice beyond 3 h (ours, no source) and none at 3', () => {
    const said = (longitude_deg: number) =>
      clockNotices({ ...HUT.site, longitude_deg }, 2025).map(({ id, message }) => `${id}: ${message}`);
    expect(said(45)).toEqual([]);
    expect(said(-45)).toEqual([]);
    expect(said(45.1)).toEqual([
      'clock-off-sun: site: at longitude 45.1 the sun stands highest at 09:00 by standard time of Etc/UTC, 3.0 h from noon: check its sign (east of Greenwich is positive, west negative) and site.time_zone',
    ]);
  });
});

describe('names, each once', () => {
  held(`
    with arrays: ${JSON.stringify([HUT.arrays[0], HUT.arrays[0]])}
    arrays[1].name: roof → wall
    = arrays[1].name: "wall" is the name of arrays[0] already
    with
    loads[1].name: house → lamps
    = loads[1].name: "lamps" is the name of loads[0] already
    with other_sources: [{ kind: constant, name: a, power_W: 5 }, { kind: constant, name: b, power_W: 5 }, { kind: constant, name: c, power_W: 5 }]
    other_sources[2].name: c → b
    = other_sources[2].name: "b" is the name of other_sources[1] already | give each its own name
  `);
});

describe('arrays', () => {
  held(`
    with arrays[0].panels: 10; arrays[0].panel_kWp: 0.4
    arrays[0].panel_kWp: 0.4 → ~
    = arrays[0].panels: 10 panels of unknown size | add panel_kWp
    arrays[0].size_kWp: 4 → 4.001
    = arrays[0].panels: 10 panels of 0.4 kWp are 4 kWp, not 4.001
    # What a spreadsheet rounds off is the same size: a part in 1e9, and as much of a kWp below one.
    arrays[0].size_kWp: 4.000000003 → 4.000000005
    = are 4 kWp, not 4.000000005
    with arrays[0].panels: 1; arrays[0].panel_kWp: 0.5
    arrays[0].size_kWp: 0.4999999991 → 0.4999999989
    = are 0.5 kWp, not 0.4999999989
    with arrays[0].cell_model: { kind: noct, noct_C: 45 }
    arrays[0].mounting: open_rack → close_roof
    = arrays[0].cell_model.kind: noct_C is measured on an open rack, and this array is a close_roof, which runs hotter
    with arrays[0].mounting: close_roof
    arrays[0].cell_model: { kind: faiman } → { kind: noct, noct_C: 45 }
    = arrays[0].cell_model.kind: noct_C is measured
    with arrays[0].panel: ${PANEL}
    arrays[0].panel.vmp_V: 49.9 → 50
    = arrays[0].panel.vmp_V: 50 V is not below voc_V 50
    arrays[0].panel.imp_A: 10.9 → 11
    = arrays[0].panel.imp_A: 11 A is not below isc_A 11
    # 40 V × 10 A are 0.4 kW; 3 % is our allowance for rounding, no source: 0.38835 and 0.41237 kW.
    arrays[0].panel_kWp: 0.3884 → 0.3883
    = arrays[0].panel.vmp_V: 40 V × 10 A is 0.4 kW, and panel_kWp is 0.3883
    arrays[0].panel_kWp: 0.4123 → 0.4124
    = arrays[0].panel.vmp_V: 40 V × 10 A is 0.4 kW, and panel_kWp is 0.4124
    with arrays[0].panel: ${PANEL}; arrays[0].strings_parallel: 2
    arrays[0].panels_in_series: 2 → ~
    = arrays[0].strings_parallel: 2 strings of how many panels each?
    with arrays[0].panels_in_series: 5
    arrays[0].panel: ${PANEL} → ~
    = arrays[0].panels_in_series: strings of panels with unknown voltage
    with arrays[0].panel: ${PANEL}; arrays[0].panels: 10; arrays[0].panel_kWp: 0.4
    arrays[0].panels_in_series: 5 → 4
    = arrays[0].panels_in_series: 10 panels make no whole strings of 4 | count 4 panels or a multiple
    with arrays[0].panel: ${PANEL}; arrays[0].panels: 10; arrays[0].panel_kWp: 0.4; arrays[0].panels_in_series: 5
    arrays[0].strings_parallel: 2 → 3
    = arrays[0].panels_in_series: 3 strings of 5 are 15 panels, not 10
    with arrays[0].panel: ${PANEL}; arrays[0].panel_kWp: 0.4; arrays[0].panels_in_series: 5; arrays[0].strings_parallel: 2
    arrays[0].size_kWp: 4 → 4.1
    = arrays[0].panels_in_series: 2 strings of 5 panels are 4 kWp, not 4.1
    with arrays[0].tracker.max_input_V: 250
    arrays[0].tracker.min_input_V: 249 → 250
    = arrays[0].tracker.min_input_V: 250 V is not below max_input_V 250
    with arrays[0].tracker.max_input_A: 20
    arrays[0].tracker.max_operating_A: 20 → 20.1
    = arrays[0].tracker.max_operating_A: 20.1 A is above max_input_A 20
    with
    arrays[0].tracker.max_charge_A: 100 → ~
    = arrays[0].tracker: a tracker on the DC side needs max_charge_A
    arrays[0].tracker.max_output_kW: ~ → 3
    = arrays[0].tracker.max_output_kW: a tracker on the DC side has no max_output_kW
    with arrays[0].coupling: ac; arrays[0].tracker: { max_power_kW: 5, max_output_kW: 3 }
    arrays[0].tracker.built_in: false → true
    = arrays[0].tracker.built_in: an array on the AC side has an inverter of its own
    arrays[0].tracker.max_output_kW: 3 → ~
    = arrays[0].tracker: an array on the AC side needs max_output_kW
    arrays[0].tracker.max_charge_A: ~ → 50
    = arrays[0].tracker.max_charge_A: an array on the AC side has no max_charge_A
  `);

  it('one limit of a tracker alone contradicts nothing', () => {
    for (const key of ['min_input_V', 'max_input_V', 'max_input_A', 'max_operating_A'])
      expect(saidOf({ [`arrays[0].tracker.${key}`]: 1000 }), key).toEqual([]);
  });
});

describe('bank', () => {
  held(`
    with bank.floor_soc: 0.5; generator: ~
    bank.self_discharge_share_per_month: 0.49 → 0.5
    = bank.self_discharge_share_per_month: a share of 0.5 a month empties a full bank to its floor of 0.5
    with
    run.initial_soc: 0.1 → 0.09
    = run.initial_soc: 0.09 is below the bank's floor of 0.1 | start at 0.1 or more
    bank.module.peak_discharge_A: 100 → 99.9
    = bank.module.peak_discharge_A: 99.9 A is less than max_discharge_A 100
    bank.round_trip_efficiency_share: 0.94 → ~
    = bank.round_trip_efficiency_share: missing, and no bank.model says how else the bank loses energy (a number from 0.3 to 1)
    with bank.model: { kind: fixed_efficiency }
    bank.round_trip_efficiency_share: 0.94 → ~
    = missing, and a bank of kind fixed_efficiency needs it (a number from 0.3 to 1) | add "round_trip_efficiency_share: …" to bank
    with bank.cycle_life: [{ depth_share: 0.5, cycles: 6000 }, { depth_share: 0.8, cycles: 5000 }]
    bank.cycle_life[1].depth_share: 0.51 → 0.5
    = bank.cycle_life[1].depth_share: depth 0.5 does not come after 0.5 | list each depth once, lowest first
    bank.cycle_life[1].cycles: 5999 → 6000
    = bank.cycle_life[1].cycles: 6000 cycles at depth 0.8 are not fewer than 6000 at 0.5
    with bank.heater: { keep_C: 5, loss_W_per_K: 1 }
    bank.temperature: { kind: outdoors } → { kind: indoors, temperature_C: 5 }
    = bank.heater: the bank is indoors, at a temperature of its own
    with bank.capacity_at_temperature: [{ temperature_C: -20, share: 0.5 }, { temperature_C: 0, share: 0.5 }]
    bank.capacity_at_temperature[1].temperature_C: -19 → -20
    = bank.capacity_at_temperature[1].temperature_C: -20 °C does not come after -20 °C | list each temperature once, coldest first
    bank.capacity_at_temperature[1].share: 0.5 → 0.49
    = bank.capacity_at_temperature[1].share: a share of 0.49 at 0 °C is less than 0.5 in the greater cold
    with bank.max_charge_A_at_temperature: [{ temperature_C: -20, max_charge_A: 9 }, { temperature_C: 0, max_charge_A: 9 }]
    bank.max_charge_A_at_temperature[1].temperature_C: -19 → -20
    = bank.max_charge_A_at_temperature[1].temperature_C: -20 °C does not come after -20 °C
    bank.max_charge_A_at_temperature[0].max_charge_A: 50 → 50.1
    = bank.max_charge_A_at_temperature[0].max_charge_A: 50.1 A is more than module.max_charge_A 50
    with bank.model: ${KINETIC}
    bank.module.capacity_Ah: 100 → 101
    = bank.module.capacity_Ah: 101 Ah is none of the three capacities of bank.model
    bank.module.capacity_Ah: 90 → 89.999
    = bank.module.capacity_Ah: 89.999 Ah is none
    bank.module.capacity_Ah: 78 → 78.001
    = bank.module.capacity_Ah: 78.001 Ah is none
    with bank.older: [{ modules: 1, capacity_share: 0.8 }, { modules: 1, capacity_share: 0.7 }]
    bank.older[1].resistance_factor: ~ → 1.3
    = bank.older[1].resistance_factor: only a resistive bank reads it
    with ${resistive()}
    bank.round_trip_efficiency_share: ~ → 0.9
    = bank.round_trip_efficiency_share: a resistive bank works its losses out from resistance_mOhm and current
    bank.model.open_circuit[0].soc: 0 → 0.001
    = bank.model.open_circuit[0].soc: begins at 0.001 | begin with the empty module: soc 0
    bank.model.open_circuit[2].soc: 1 → 0.999
    = bank.model.open_circuit[2].soc: ends at 0.999 | end with the full module: soc 1
    bank.model.open_circuit[1].soc: 0.001 → 0
    = bank.model.open_circuit[1].soc: 0 does not come after 0 | list each state of charge once
    bank.model.open_circuit[1].voltage_V: 46 → 45.9
    = bank.model.open_circuit[1].voltage_V: 45.9 V at 0.6 is less than 46 V at 0
    bank.older: [{ modules: 1, capacity_share: 0.8, resistance_factor: 1.3 }] → [{ modules: 1, capacity_share: 0.8 }]
    = bank.older[0].resistance_factor: missing: the modules of a resistive bank share its current by their resistance (a number from 1 to 100)
    # 100 A through 230 mΩ are 23 V, half of 46 V.
    bank.model.resistance_mOhm: 229.9 → 230
    = bank.model.resistance_mOhm: 100 A lose 23 V of the 46 V of an empty module: half or more
    # At half charge 0.75 and 1.35 of the nominal 48 V are 36 and 64.8 V; both shares are ours, no source.
    with ${resistive('[{ soc: 0, voltage_V: 30 }, { soc: 0.25, voltage_V: 34 }, { soc: 1, voltage_V: 40 }]')}
    bank.model.open_circuit[2].voltage_V: 40 → 39.9
    = bank.model.open_circuit: 35.97 V at half charge do not fit a module of 48 V | give the voltages of a module, or of a cell with cells_series
    with ${resistive('[{ soc: 0, voltage_V: 60 }, { soc: 1, voltage_V: 69 }]')}
    bank.model.open_circuit[1].voltage_V: 69.5 → 69.8
    = bank.model.open_circuit: 64.9 V at half charge do not fit a module of 48 V | give the voltages of a module
    # One cell of 3.2 V taken for a module of fifteen; through fifteen of 3 V, 225 mΩ lose half of 45 V.
    with ${resistive('[{ soc: 0, voltage_V: 3 }, { soc: 1, voltage_V: 3.4 }]')}
    bank.model.cells_series: 15 → ~
    = bank.model.open_circuit: 3.2 V at half charge do not fit a module of 48 V | if the points are of one cell, add cells_series: 15
    with ${resistive('[{ soc: 0, voltage_V: 3 }, { soc: 1, voltage_V: 3.4 }]')}; bank.model.cells_series: 15
    bank.model.resistance_mOhm: 224.9 → 225
    = bank.model.resistance_mOhm: 100 A lose 22.5 V of the 45 V of an empty module
    # 20 mΩ lose 2 V as new, and 11.5 times as much when worn.
    with ${resistive()}; bank.life_years: 10
    bank.model.end_of_life_resistance_factor: 11.4 → 11.5
    = bank.model.end_of_life_resistance_factor: 100 A lose 23 V of the 46 V of an empty module when it is worn: half or more
    with ${resistive()}; bank.model.end_of_life_resistance_factor: 11.5
    bank.life_cycles: ~ → 3000
    = bank.model.end_of_life_resistance_factor: 100 A
    bank.cycle_life: ~ → [{ depth_share: 0.5, cycles: 6000 }]
    = bank.model.end_of_life_resistance_factor: 100 A
  `);

  // Closed form (Manwell and McGowan 1993): 1/C(T) = 1/qmax + s g(kT) with g(x) = (1 - e^-x) / x, s = (1/c - 1) / qmax;
  // of a battery that gives 100 Ah in 20 h.
  const kineticOf = (most: number, rate_per_h: number) => {
    const g = (hours: number) => (1 - Math.exp(-rate_per_h * hours)) / (rate_per_h * hours);
    const s = (1 / 100 - 1 / most) / g(20);
    const [c20, c10, c5] = [20, 10, 5].map((hours) => 1 / (1 / most + s * g(hours))) as [
      number,
      number,
      number,
    ];
    return { capacities: [c20, c10, c5] as const, available_share: 1 / (1 + s * most) };
  };
  it.each([
    [990, 0.05],
    [300, 0.2],
    [120, 0.4],
    [101, 3],
  ])('a kinetic battery of %d Ah in all and a rate of %d is found again', (most, rate_per_h) => {
    const { capacities, available_share } = kineticOf(most, rate_per_h);
    expect(fitKinetic(...capacities)).toEqual({
      most: expect.closeTo(most, 4),
      rate_per_h: expect.closeTo(rate_per_h, 6),
      available_share: expect.closeTo(available_share, 6),
    });
  });
  /** Of 100 Ah at 20 h: what is lost down to 10 h, as a multiple of what is lost between 10 and 5 h. */
  const bent = (multiple: number, per_Ah = 0.001): readonly [number, number, number] => [
    100,
    1 / (0.01 + multiple * per_Ah),
    1 / (0.01 + (multiple + 1) * per_Ah),
  ];
  // The multiple falls from 2, where nothing comes free, to 1/2, where all does: series and limit of g for small and large x.
  it.each([
    [[100, 100, 90], /gives more the slower/],
    [[100, 90, 90], /gives more the slower/],
    [bent(2), /too much is lost between 20 h and 10 h/],
    [bent(0.499), /too little is lost between 20 h and 10 h/],
    [kineticOf(1010, 0.05).capacities, /more than ten times the capacity at 20 h/],
  ] as const)('%j is of no kinetic battery', ([c20, c10, c5], why) => {
    expect(fitKinetic(c20, c10, c5)).toMatch(why);
    expect(
      saidOf({
        'bank.model': { kind: 'kinetic', capacity_20h_Ah: c20, capacity_10h_Ah: c10, capacity_5h_Ah: c5 },
      }),
    ).toEqual([expect.stringMatching(/^bank\.model: no kinetic battery gives /)]);
  });
  it('just within what a kinetic battery can be', () => {
    expect(fitKinetic(...bent(0.51))).toMatchObject({ most: expect.any(Number) });
    expect(fitKinetic(...bent(1.99))).not.toMatch(/too much/);
  });

  it.each([
    [
      '',
      /^voltage stays at the nominal value; efficiency does not vary with current; within a year capacity/,
    ],
    [
      'bank.model: { kind: fixed_efficiency }',
      /^voltage stays at the nominal value; efficiency does not vary/,
    ],
    [
      'bank.older: [{ modules: 1, capacity_share: 0.8 }]',
      /by their capacity and are at one state of charge; the first/,
    ],
    [
      `${resistive()}; bank.older: [{ modules: 1, capacity_share: 0.8, resistance_factor: 2 }]`,
      /at the nominal voltage.*by their resistance/,
    ],
    [
      'bank.max_charge_A_at_temperature: [{ temperature_C: 0, max_charge_A: 9 }]',
      /where the amps of max_charge_A_at_temperature/,
    ],
    [`bank.model: ${KINETIC}`, /a module holds 113 Ah .*of which 49\.3 % are ready.*not of the rated 100 Ah/],
  ])('its model says what it rests on: %s', (edits, words) => {
    const { scenario } = readScenario(JSON.stringify(edited(given(edits))), 'hut.json');
    expect(bankAssumption(scenario.bank).why).toMatch(words);
  });
});

describe('inverter and its cable', () => {
  held(`
    with
    inverter.surge_kW: 4 → 3.99
    = inverter.surge_kW: 3.99 kW is less than the rating of 4 kW
    with inverter.efficiency: { points: [{ load_share: 0.5, efficiency_share: 0.5 }, { load_share: 0.75, efficiency_share: 0.7 }] }
    inverter.efficiency.points[1].load_share: 0.71 → 0.5
    = inverter.efficiency.points[1].load_share: load 0.5 does not come after 0.5 | list each load once
    # 2 kW out of 4, then 3 kW out of 4 again.
    inverter.efficiency.points[1].efficiency_share: 0.749 → 0.75
    = inverter.efficiency.points[1].efficiency_share: efficiency 0.75 at load 0.75 draws no more than the point before it
    # 0.4 kW at 20 W of loss: 400 of 420 W, 0.95238.
    with inverter.efficiency: { points: [{ load_share: 0.1, efficiency_share: 0.9 }] }
    inverter.efficiency.points[0].efficiency_share: 0.9523 → 0.9524
    = inverter.efficiency.points[0].efficiency_share: efficiency 0.9524 at load 0.1 is a loss of 20 W, less than the 20 W it stands for all the time | points include the idle draw: give 0.952 or less here
    with inverter.legs: 3
    inverter.units: 6 → 4
    = inverter.units: 4 units can't be spread over 3 legs | give 3, or a multiple
    with inverter.legs: 2
    inverter.units: 2 → ~
    = inverter.units: 1 unit can't be spread over 2 legs
    with inverter.derating: { temperature: { kind: outdoors }, points: [{ temperature_C: 40, share: 0.9 }, { temperature_C: 50, share: 0.9 }] }
    inverter.derating.points[1].temperature_C: 41 → 40
    = inverter.derating.points[1].temperature_C: 40 °C does not come after 40 °C | list each temperature once, coldest first
    inverter.derating.points[1].share: 0.9 → 0.91
    = inverter.derating.points[1].share: a share of 0.91 at 50 °C is more than 0.9 where it is cooler
    with inverter.sleep.below_W: 30
    inverter.sleep.search_W: 20 → 20.1
    = inverter.sleep.search_W: asleep it draws 20.1 W, more than the 20 W of idle_W awake
    with inverter.cut_off: { cut_off_soc: 0.2, reconnect_soc: 0.3 }
    inverter.cut_off.cut_off_soc: 0.1 → 0.09
    = inverter.cut_off.cut_off_soc: 0.09 is below the bank's floor of 0.1: the bank never gets there
    inverter.cut_off.reconnect_soc: 0.201 → 0.2
    = inverter.cut_off.reconnect_soc: comes back at 0.2, which is not above cut_off_soc 0.2
    with wiring.cable_AWG: 2/0
    wiring.cable_mm2: ~ → 70
    = wiring.cable_mm2: 70 mm² beside 2/0 AWG | give the size of the cable once
    with wiring.cable_mm2: 70
    wiring.bank_lowest_voltage_V: 48 → 48.1
    = wiring.bank_lowest_voltage_V: 48.1 V is above the nominal 48 V
  `);

  // An all-in-one of two units, an array on one of its trackers, its own charger: what rests on how they are shared.
  const STACK =
    'inverter.units: 2; inverter.max_total_charge_A: 90; arrays[0].tracker.built_in: true; charger.built_in: true';
  const [wall] = HUT.arrays;
  /** One on a tracker of the all-in-one, one beside it. */
  const two = (other: object): string =>
    JSON.stringify([
      { ...wall!, tracker: { ...wall!.tracker, built_in: true } },
      { ...wall!, name: 'roof', ...other },
    ]);
  it.each([
    ['', ''],
    ['inverter.max_total_tracker_kW: 6', 'inverter.units 2'],
    ['inverter.max_total_tracker_A: 120', 'inverter.units 2'],
    ['inverter.max_total_tracker_kW: 6; inverter.units: 1', ''],
    ['inverter.max_total_tracker_kW: 6; inverter.max_total_charge_A: ~; arrays[0].tracker.built_in: ~', ''],
    ['alternator: { max_charge_A: 30, windows: ["08:00-09:00"] }', 'inverter.max_total_charge_A 90'],
    ['charger.built_in: ~', 'inverter.max_total_charge_A 90'],
    ['charger.built_in: ~; inverter.max_total_charge_A: ~', ''],
    ['arrays[0].tracker.built_in: ~', 'inverter.max_total_charge_A 90'],
    ['arrays[0].tracker.built_in: ~; charger: ~', ''],
    [`arrays: ${two({})}`, 'inverter.max_total_charge_A 90'],
    [`arrays: ${two({ coupling: 'ac', tracker: { max_power_kW: 5, max_output_kW: 3 } })}`, ''],
  ])('an all-in-one with %s rests on %s', (edits, said) => {
    const { scenario } = readScenario(JSON.stringify(edited(given(STACK), given(edits))), 'hut.json');
    expect(
      allInOneAssumptions(scenario)
        .map(({ path, value: of }) => `${path} ${of}`)
        .join(),
    ).toBe(said);
  });
});

describe('generator, charger and socket', () => {
  held(`
    with
    generator.start_soc: 0.79 → 0.8
    = generator.start_soc: starts at 0.8, which is not below stop_soc 0.8
    generator.start_soc: 0.1 → 0.09
    = generator.start_soc: 0.09 is below the bank's floor of 0.1: the bank never gets there, so it would never start | start at 0.1 or more
    generator.start_soc: 0.3 → ~
    = generator.start_soc: missing, and starts is of kind at_soc | add the state of charge at which it starts
    with generator.start_soc: ~; generator.starts: { kind: on_shortfall }
    generator.stop_soc: 0.11 → 0.1
    = generator.stop_soc: 0.1 is not above the bank's floor of 0.1 | stop above 0.1
    generator.starts.kind: on_shortfall → before_night
    = generator.start_soc: missing, and starts is of kind before_night | add the state of charge that the bank shall keep through the night
    with
    generator.warm_up_min: 59 → 60
    = generator.warm_up_min: 60 min is not less than min_run_h 1: it might stop before it carries anything | give a shorter time, or let min_run_h be above 1
    with generator.min_run_h: 0
    generator.warm_up_min: 0 → 1
    = generator.warm_up_min: 1 min is not less than min_run_h 0
    # A window that ends where it begins would be a whole day: barred, on the socket, charging.
    with generator.quiet_windows: [22:00-06:00, 05:00-07:00]
    generator.quiet_windows[1]: 22:00-22:01 → 22:00-22:00
    = generator.quiet_windows[1]: "22:00-22:00" ends where it begins | write "00:00-24:00" for the whole day
    # In steps of an hour by default, and of a quarter.
    with
    generator.max_run_h_per_day: 1 → 0.9
    = generator.max_run_h_per_day: 0.9 h is less than a step of 60 min: it would never run | give a longer time, or a shorter run.step_min
    with run.step_min: 15
    generator.max_run_h_per_day: 0.25 → 0.24
    = generator.max_run_h_per_day: 0.24 h is less than a step of 15 min
    with shore.windows: [08:00-09:00, 09:00-10:00]
    shore.windows[1]: 10:00-10:01 → 10:00-10:00
    = shore.windows[1]: "10:00-10:00" ends where it begins
    # Each half of an hour on its own: together they would count as the whole of it.
    shore.windows[1]: 09:00-09:30 → 08:59-09:30
    = shore.windows[1]: "08:59-09:30" overlaps "08:00-09:00" | join them
    with alternator: { max_charge_A: 30, windows: [08:00-09:00, 09:00-10:00] }
    alternator.windows[1]: 10:00-10:01 → 10:00-10:00
    = alternator.windows[1]: "10:00-10:00" ends where it begins
    alternator.windows[1]: 09:00-09:30 → 08:59-09:30
    = alternator.windows[1]: "08:59-09:30" overlaps "08:00-09:00" | join them
    with
    generator.fuel.half_load_L_per_h: 1.59 → 1.6
    = generator.fuel.half_load_L_per_h: half load burns 1.6 L/h, which is not less than the 1.6 L/h of full load
    generator.fuel.half_load_L_per_h: 0.8 → 0.79
    = generator.fuel.half_load_L_per_h: 0.79 L/h is less than half of the 1.6 L/h at full load: the line through both would give fuel back at idle | give 0.8 L/h or more
    # Half of the tenth of a litre that a kWh takes of fuel with 10 kWh in a litre (handbooks, recalled): 0.05 L × 4 kW.
    with generator.fuel.half_load_L_per_h: 0.15
    generator.fuel.full_load_L_per_h: 0.2 → 0.199
    = generator.fuel.full_load_L_per_h: 0.199 L/h for 4 kW is more than any fuel gives (at least 0.2 L/h)
    with generator.fuel: { points: [{ load_share: 0.25, L_per_h: 0.09 }, { load_share: 0.5, L_per_h: 1 }] }
    generator.fuel: { points: [{ load_share: 0.25, L_per_h: 0.09 }, { load_share: 0.5, L_per_h: 0.1 }] } → { points: [{ load_share: 0.25, L_per_h: 0.09 }, { load_share: 0.5, L_per_h: 0.099 }] }
    = generator.fuel.points[1].L_per_h: 0.099 L/h for 2 kW is more than any fuel gives (at least 0.1 L/h)
    with generator.fuel: { points: [{ load_share: 0.25, L_per_h: 0.5 }, { load_share: 0.5, L_per_h: 1 }, { load_share: 1, L_per_h: 3 }] }
    generator.fuel.points[0].L_per_h: 0.5 → 0.499
    = generator.fuel.points[0].L_per_h: the line through the points at 0.25 and 0.5 would give fuel back at idle: -0.002 L/h
    generator.fuel.points[2].load_share: 0.501 → 0.5
    = generator.fuel.points[2].load_share: load 0.5 does not come after 0.5
    generator.fuel.points[2].L_per_h: 1.01 → 1
    = generator.fuel.points[2].L_per_h: 1 L/h at load 1 is not more than 1 L/h at 0.5
    # Mains may be 5 % low (ours, no source): 114 of 120 V.
    with shore: ~; generator.voltage_V: 240; charger.input_at_voltage: [{ voltage_V: 120, max_input_W: 900 }, { voltage_V: 240, max_input_W: 1000 }]
    charger.input_at_voltage[1].voltage_V: 121 → 120
    = charger.input_at_voltage[1].voltage_V: 120 V does not come after 120 V | list each voltage once, lowest first
    generator.voltage_V: 114 → ~
    = generator: the charger draws by voltage, but the file does not say what the generator gives | add generator.voltage_V
    generator.voltage_V: 114 → 113.9
    = generator.voltage_V: 113.9 V is less than any voltage of charger.input_at_voltage: nothing would be charged
    with generator: ~; charger.input_at_voltage: [{ voltage_V: 120, max_input_W: 900 }]
    shore.voltage_V: 114 → 113.9
    = shore.voltage_V: 113.9 V is less than any voltage
    with shore.carries.kind: after_sun
    shore.connection: parallel → ~
    = shore.carries.kind: behind a transfer switch the loads hang on the socket alone
    with shore.carries: { kind: after_bank, at_soc: 0.5, until_soc: 0.6 }
    shore.carries.until_soc: 0.51 → 0.5
    = shore.carries.at_soc: takes over at 0.5, which is not below until_soc 0.5
    shore.carries.at_soc: 0.1 → 0.09
    = shore.carries.at_soc: 0.09 is below the bank's floor of 0.1: the bank never gets there | take over at 0.1 or more
  `);

  it('no charger asks for no voltages, and behind a switch a socket may carry all', () => {
    expect(saidOf(given('charger: ~'))).toEqual([]);
    expect(saidOf(given('shore.carries.kind: all'))).toEqual([]);
  });
  it.each([
    ['', ''],
    ['shore: ~', ''],
    ['generator: ~', ''],
    ['charger: ~; generator: ~', ''],
    ['generator: ~; shore: ~', 'charger: the charger stands idle: no generator and no shore power'],
    ['charger: ~', "generator: the generator carries loads but can't charge the bank"],
  ])('parts that stand idle with %s: %s', (edits, said) => {
    const { assumptions } = readScenario(JSON.stringify(edited(given(edits))), 'hut.json');
    const found = assumptions
      .filter(({ kind }) => kind === 'model')
      .map(({ path, why }) => `${path}: ${why}`);
    expect(found).toEqual(said === '' ? [] : [expect.stringContaining(said)]);
  });
});

describe('loads', () => {
  held(`
    with loads[0].windows: ["08:00-09:00", "09:00-10:00"]; loads[0].days: [mon, tue]
    loads[0].windows[0]: 08:00-09:00 → 08:00-09:01
    = loads[0].windows[1]: "09:00-10:00" overlaps "08:00-09:01" | join them
    loads[0].windows[1]: 22:00-08:00 → 22:00-08:01
    = loads[0].windows[1]: "22:00-08:01" overlaps "08:00-09:00"
    loads[0].windows[1]: 23:59-24:00 → 23:59-23:59
    = loads[0].windows[1]: "23:59-23:59" ends where it begins | write "00:00-24:00" for the whole day
    with loads[0].windows: ["08:00-09:00", "09:00-10:00"]; loads[0].days: [mon, wed]
    loads[0].windows[0]: 08:00-09:00 → 08:00-09:01
    = loads[0].windows[1]: "09:00-10:00" overlaps "08:00-09:01"
    with loads[0].windows: ["22:00-06:00", "05:00-07:00"]
    loads[0].days: [mon, wed] → [sun, mon]
    = loads[0].windows[1]: "05:00-07:00" overlaps "22:00-06:00"
    loads[0].windows[0]: 22:00-05:00 → 22:00-05:01
    = loads[0].windows[1]: "05:00-07:00" overlaps "22:00-05:01"
    with
    loads[0].start_W: 60 → 59.9
    = loads[0].start_W: starts with 59.9 W, which is less than its power_W 60
    with loads[1].shape: ${ZEROS}
    loads[1].energy_kWh_day: 0 → 0.001
    = loads[1].shape: all 24 weights are zero, so the energy has no hour to go to
    loads[1].shape[23]: 0.1 → 0
    = loads[1].shape: all 24 weights are zero
    with
    loads[1].daily_variation_share: 0 → 0.01
    = loads[1].daily_variation_share: days vary by 0.01, but no seed says how they are drawn
    with loads[0].daily_variation_share: 0.2
    loads[0].variation_seed: 0 → ~
    = loads[0].daily_variation_share: days vary by 0.2, but no seed
    # 1.5 kW for two hours, and for the eight over midnight.
    with loads[1]: { kind: flexible, name: car, energy_kWh: 3, max_power_W: 1500, window: "08:00-10:00" }
    loads[1].energy_kWh: 3 → 3.001
    = loads[1].energy_kWh: 3.001 kWh don't go through 1500 W in the window 08:00-10:00: at most 3 kWh do
    loads[1].window: 08:00-10:00 → 08:00-08:00
    = loads[1].window: "08:00-08:00" ends where it begins
    with loads[1]: { kind: flexible, name: car, energy_kWh: 3, max_power_W: 1500, window: "22:00-06:00" }
    loads[1].energy_kWh: 12 → 12.01
    = at most 12 kWh do | ask for less
    with loads[0].bus: dc
    loads[0].leg: ~ → 1
    = loads[0].leg: a load on the DC side has no leg
    loads[0].voltage_V: ~ → 48
    = loads[0].voltage_V: voltage_V is held against what the inverter gives
    with
    loads[0].leg: 1 → 2
    = loads[0].leg: leg 2, but the inverter has one leg | set inverter.legs
    with inverter.legs: 2; inverter.units: 2
    loads[0].leg: 2 → 3
    = loads[0].leg: leg 3, but the inverter has 2 legs
    with loads[0].voltage_V: 230
    inverter.output_voltage_V: 230 → ~
    = loads[0].voltage_V: needs 230 V, but the file does not say what the inverter gives
    # Within 6 % voltages are called alike (115 and 120 V, 230 and 240 V: names of networks, common practice, no source).
    with inverter.output_voltage_V: 200
    loads[0].voltage_V: 212 → 212.1
    = loads[0].voltage_V: needs 212.1 V; the inverter gives 200 V: it can't be served | stack units for it
    loads[0].voltage_V: 188 → 187.9
    = loads[0].voltage_V: needs 187.9 V; the inverter gives 200 V: it can't be served
    # Two legs of a split phase are twice the voltage apart, two of three phases √3 times: 200 and 173.2 of 100 V.
    with inverter.output_voltage_V: 100; inverter.legs: 2; inverter.units: 2
    loads[0].voltage_V: 212 → 212.1
    = loads[0].voltage_V: needs 212.1 V; the inverter gives 100 V, and 200 V between legs: it can't be served | check both voltages
    loads[0].voltage_V: 188 → 173
    = loads[0].voltage_V: needs 173 V; the inverter gives 100 V, and 200 V between legs
    with inverter.output_voltage_V: 100; inverter.legs: 3; inverter.units: 3
    loads[0].voltage_V: 183.5 → 183.7
    = loads[0].voltage_V: needs 183.7 V; the inverter gives 100 V, and 173 V between legs
    with inverter.output_voltage_V: 100; inverter.legs: 2; inverter.units: 2; loads[0].leg: 2
    loads[0].voltage_V: 100 → 200
    = loads[0].leg: 200 V stands between two legs, not on leg 2 alone
    with inverter.output_voltage_V: 100; inverter.legs: 2; inverter.units: 2; loads[0].voltage_V: 200
    loads[0].leg: ~ → 1
    = loads[0].leg: 200 V stands between two legs, not on leg 1 alone
    with shedding: [{ tier: 2, shed_soc: 0.3, restore_soc: 0.4 }]
    shedding[0].restore_soc: 0.31 → 0.3
    = shedding[0].restore_soc: comes back at 0.3, which is not above shed_soc 0.3
    shedding[0].shed_soc: 0.1 → 0.09
    = shedding[0].shed_soc: 0.09 is below the bank's floor of 0.1: the bank never gets there, so tier 2 would never be shed | shed at 0.1 or more
    shedding[0].tier: 2 → 3
    = shedding[0].tier: no load is of tier 3
    shedding[0].tier: 2 → 1
    = shedding[0].shed_soc: tier 1 would be shed while tier 2, which matters less, is not | shed tier 2 at the same soc
    with shedding: [{ tier: 2, shed_soc: 0.3, restore_soc: 0.4 }, { tier: 1, shed_soc: 0.3, restore_soc: 0.4 }]
    shedding[1].tier: 1 → 2
    = shedding[1].tier: tier 2 has a rule already
    shedding[0].shed_soc: 0.3 → 0.29
    = shedding[1].shed_soc: tier 1 would be shed before tier 2, which matters less, or come back before it does
    shedding[0].restore_soc: 0.4 → 0.39
    = shedding[1].shed_soc: tier 1 would be shed before tier 2
    shedding[1].shed_soc: 0.29 → 0.301
    = shedding[1].shed_soc: tier 1 would be shed before tier 2
  `);
});

describe('one value, and what to do about it', () => {
  held(`
    with
    bank.module.capacity_Ah: 100 → 100001
    = found 100001 (a number from 0.001 to 100000) | lower it to 100000 or less; it looks like mAh: then write 100
    inverter.surge_kW: 100000 → 100001
    = lower it to 100000 or less; it looks like W: then write 100
    generator.min_run_h: 72 → 73
    = lower it to 72 or less; it looks like min: then write 1.217
    wiring.bank_cable_length_m: 1000 → 1001
    = | lower it to 1000 or less
    inverter.idle_W: 0 → -0.1
    = inverter.idle_W: found -0.1 (a number from 0 to 10000) | raise it to 0 or more
    arrays[0].albedo: 1 → 100
    = | this is a share, not a percentage: write 1
    arrays[0].albedo: 0 → 101
    = | lower it to 1 or less
    bank.modules_parallel: 1 → 2.4
    = (a whole number from 1 to 10000) | write 2
    loads[0].power_W: 60 → "60"
    = found the text "60" (a number from 0 to 1000000) | remove the quotes: 60
    loads[0].power_W: 60.5 → 60,5
    = | use a decimal point: 60.5
    loads[0].power_W: 60 → 60 W
    = | write the bare number: 60
    loads[0].power_W: 60 → 60 kW
    = | the unit is in the key: give the value in W, as a bare number
    loads[0].power_W: 60 → 60 %
    = | write the bare number: 60
    loads[0].duty_share: 0.6 → 60 %
    = | write the share: 0.6
    loads[0].power_W: 60 → much
    = | write a plain number, without quotes or unit
    loads[0].months: [5] → 5
    = found 5 (a list of 1 to 12 whole numbers from 1 to 12) | write a list: [5]
    loads[0].days: [mon] → mon
    = found the text "mon" (a list of mon, tue, wed, thu, fri, sat or sun) | write a list: ["mon"]
    loads[0].days: [mon] → []
    = found an empty list (a list of mon, tue, wed, thu, fri, sat or sun) | write at least one
    loads[0].windows: [08:00-10:00] → [8 to 10]
    = loads[0].windows[0]: found the text "8 to 10" (a window such as "17:30-23:00") | write "08:00-10:00"
    bank.chemistry: lfp → 5
    = found 5 (lfp or lead_acid) | write lfp, or another of these words
    bank.chemistry: lfp → lithium iron phosphate of the last century
    = found the text "lithium iron phosphate of the last ce…" (lfp or lead_acid) | write one of these words
    bank.temperature: { kind: outdoors } → 5
    = found 5 (a mapping with kind: indoors or outdoors) | write its keys on the lines below it, indented
    bank.temperature.kind: outdoors → ~
    = bank.temperature.kind: missing (indoors or outdoors) | add "kind: indoors" or another of them
    inverter.efficiency: { loss_linear: 0, loss_quadratic: 0 } → 0.9
    = found 0.9 (a mapping with points, or a mapping with loss_linear, loss_quadratic) | write its keys
    weather.turbidity_linke: 3 → clear
    = found the text "clear" (a number from 1 to 12, or a list of 12 of them) | write a plain number
    loads[1].shape: flat → flaat
    = found the text "flaat" (flat, evening or working_day, or a list of 24 numbers from 0 to 1000000) | did you mean "flat"?
    run.step_min: 5 → 20
    = found 20 (60, 30, 15, 10 or 5) | write one of these numbers
    run.year: 2150 → 2151
    = run.year: found 2151 (a whole number from 1950 to 2150) | lower it to 2150 or less
    site.name: ${'x'.repeat(200)} → ${'x'.repeat(201)}
    = ${'x'.repeat(37)}…" (a text) | shorten it to 200 signs
    site.name: hut → [hut]
    = found a list of 1 (a text) | write a text
    site.time_zone: Etc/UTC → UTC-12
    = (an IANA name) | use a place, such as "Europe/Oslo"; for a fixed offset write "Etc/GMT+12"
    site.time_zone: Etc/GMT-1 → "+1"
    = | use a place, such as "Europe/Oslo"; for a fixed offset write "Etc/GMT-1"
    site.time_zone: Etc/UTC → "+05:30"
    = | write a name such as "Europe/Oslo"
    # Conversions by definition: 1 ft is 0.3048 m, 0 °C is 32 °F and 273.15 K, 1 m/s is 3.6 km/h, 1 kWh is 3.6 MJ.
    site.elevation_m: 6000 → 6001
    = site.elevation_m: found 6001 (a number from -430 to 6000) | it looks like feet (multiply by 0.3048: 1830)
    weather.wind_m_s: 40 → 41
    = | it looks like km/h (divide by 3.6: 11.4)
    weather.air_temperature_C: 60 → 61
    = | it looks like °F (subtract 32 and divide by 1.8: 16.1)
    weather.air_temperature_C: -70 → 300
    = | it looks like K (subtract 273.15: 26.9)
    # No day has more than 13 kWh/m²: 46.8 MJ, and 403 in a month of 31; a mean month has 30.4 days.
    with weather: { kind: monthly_means, seed: 1, air_temperature_C: ${ZEROS.slice(0, 35)}], ghi_kWh_m2_day: ${ZEROS.slice(0, 35)}] }
    weather.ghi_kWh_m2_day[5]: 13 → 46.8
    = weather.ghi_kWh_m2_day[5]: found 46.8 (a number from 0 to 13) | it looks like MJ/m² a day (divide by 3.6: 13)
    weather.ghi_kWh_m2_day[5]: 0 → 46.9
    = | it looks like the sum of a month (divide by its days: 1.54) or W/m² (multiply by 0.024: 1.13)
    weather.ghi_kWh_m2_day[5]: 0 → 403
    = | it looks like W/m² (multiply by 0.024: 9.67)
    weather.ghi_kWh_m2_day[5]: 0 → 404
    = | it looks like Wh/m² a day (divide by 1000: 0.404)
  `);
});
