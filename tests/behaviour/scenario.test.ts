/** Reading a scenario file: what it accepts, and where and how it says what is wrong. */
import { filesNamed, InputError, type Issue, readScenario } from '@longnight/core';
import { scenarioSchema } from '@longnight/core/scenario';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as yaml from 'yaml';
import * as z from 'zod';
import { meantKey, nearest } from '../../packages/core/src/basis/nearest.ts';
import { bankAssumption } from '../../packages/core/src/scenario/rules/bank-assumption.ts';
import { KEY_TEXTS } from '../../packages/core/src/scenario/schema/key.ts';

/** An invented mountain hut; line numbers of the tables below count from its first line. */
const HUT = `site:
  name: Kaldhytta (invented)
  latitude_deg: 61.5
  longitude_deg: 9.2
  elevation_m: 900
  time_zone: Europe/Oslo
weather:
  kind: clear-sky
  turbidity_linke: 3
  air_temperature_C: [-8, -7, -4, 1, 7, 11, 13, 12, 7, 2, -4, -7]
arrays:
  - name: south wall
    size_kWp: 4
    tilt_deg: 70
    azimuth_deg: 180
    power_temperature_coefficient_per_K: -0.0035
    mounting: open_rack
    tracker:
      max_power_kW: 5
      max_charge_A: 100
bank:
  chemistry: lfp
  modules_parallel: 2
  module:
    nominal_voltage_V: 48
    capacity_Ah: 100
    max_charge_A: 50
    max_discharge_A: 100
  round_trip_efficiency_share: 0.94
  floor_soc: 0.1
  min_charge_temperature_C: 0
  temperature: { kind: indoors, temperature_C: 5 }
inverter:
  rating_kW: 3
  surge_kW: 6
  idle_W: 20
  efficiency: { loss_linear: 0.02, loss_quadratic: 0.03 }
loads:
  - kind: appliance
    name: lamps
    power_W: 60
    windows: ["17:30-22:30"]
run:
  year: 2025
`;

function edited(from: string, to: string): string {
  expect(HUT.split(from).length, `"${from}" stands once in the hut`).toBe(2);
  return HUT.replace(from, () => to);
}

function issuesOf(text: string): readonly Issue[] {
  try {
    readScenario(text, 'hut.yaml');
  } catch (error) {
    if (error instanceof InputError) return error.issues;
    throw error;
  }
  return [];
}

/** `code line:column path` of each issue, in the order given. */
const brief = (text: string): string[] =>
  issuesOf(text).map((i) => `${i.code} ${i.place?.line}:${i.place?.column} ${i.path}`.trim());

const GENERATOR = `generator:
  rating_kW: 4
  fuel: { full_load_L_per_h: 1.7, half_load_L_per_h: 1.05 }
  start_soc: 0.3
  stop_soc: 0.8
run:`;
const PAIR = 'full_load_L_per_h: 1.7, half_load_L_per_h: 1.05';
const generator = (from: string, to: string): string =>
  edited(
    'run:',
    GENERATOR.replace(from, () => to),
  );

describe('a scenario that is right', () => {
  it('reads the same as YAML, as JSON, with a byte order mark and with any line ending', () => {
    const { scenario } = readScenario(HUT, 'hut.yaml');
    const json = JSON.stringify(yaml.parse(HUT), null, '\t');
    for (const text of [
      json,
      JSON.stringify(yaml.parse(HUT)),
      `\uFEFF${HUT}`,
      HUT.replaceAll('\n', '\r\n'),
      HUT.replaceAll('\n', '\r'),
    ])
      expect(readScenario(text, 'hut.json').scenario).toEqual(scenario);
    expect(scenario.bank.module.capacity_Ah).toBe(100);
  });

  it('may use anchors, and says the place of a value behind one', () => {
    const text = HUT.replace('  module:\n', '  module: &m\n').replace(
      'run:\n',
      'charger: { max_charge_A: 20 }\nrun: ',
    );
    expect(
      readScenario(text.replace('run:   year: 2025', 'run: { year: 2025 }'), 'hut.yaml').scenario.charger,
    ).toBeDefined();
    const twoArrays = HUT.replace('  - name: south wall', '  - &wall\n    name: south wall').replace(
      'bank:',
      '  - *wall\nbank:',
    );
    expect(brief(twoArrays)).toEqual(['duplicate-name 13:11 arrays[1].name']);
  });

  it('knows where a path stands, or its nearest parent', () => {
    const { place } = readScenario(HUT, 'hut.yaml');
    expect(place('bank.module.capacity_Ah')).toEqual({ file: 'hut.yaml', line: 26, column: 18 });
    expect(place('arrays[0].tracker.efficiency_share')).toEqual({ file: 'hut.yaml', line: 18, column: 5 });
    expect(place('loads[0].windows[0]')).toEqual({ file: 'hut.yaml', line: 42, column: 15 });
  });

  it('names the files it reads from, each once', () => {
    const series = (file: string, name: string) =>
      `  - { kind: series, name: ${name}, file: ${file}, time: { column: t, zone: UTC, label: start }, power: { column: p, unit: W } }`;
    const text = edited(
      'run:',
      `${series('a.csv', 'one')}\n${series('b.csv', 'two')}\n${series('a.csv', 'three')}\nrun:`,
    );
    expect(filesNamed(readScenario(text, 'hut.yaml').scenario)).toEqual(['a.csv', 'b.csv']);
    expect(filesNamed(readScenario(HUT, 'hut.yaml').scenario)).toEqual([]);
  });
});

describe('one wrong line', () => {
  it.each<[from: string, to: string, issue: string, fix: RegExp]>([
    // Keys.
    [
      'capacity_Ah: 100',
      'capacity_kWh: 5',
      'unknown-key 26:5 bank.module.capacity_kWh',
      /"capacity_Ah".*give the value in Ah/,
    ],
    [
      'capacity_Ah: 100',
      'capacity: 100',
      'unknown-key 26:5 bank.module.capacity',
      /"capacity_Ah".*give the value in Ah/,
    ],
    [
      'capacity_Ah: 100',
      'capacity_ah: 100',
      'unknown-key 26:5 bank.module.capacity_ah',
      /^did you mean "capacity_Ah"\?$/,
    ],
    ['tilt_deg: 70', 'titl_deg: 70', 'unknown-key 14:5 arrays[0].titl_deg', /"tilt_deg"/],
    ['latitude_deg: 61.5', 'latitude: 61.5', 'unknown-key 3:3 site.latitude', /"latitude_deg"/],
    ['run:', 'capacity_Ah: 5\nrun:', 'unknown-key 43:1 capacity_Ah', /move it to bank\.module/],
    ['  year: 2025', '  year: 2025\n  colour: red', 'unknown-key 45:3 run.colour', /remove it/],
    ['  year: 2025', '  <<: { a: 1 }\n  year: 2025', 'unknown-key 44:3 run.<<', /merge keys/],
    ['  year: 2025', '  __proto__: { a: 1 }\n  year: 2025', 'unknown-key 44:3 run.__proto__', /remove it/],
    [
      '    capacity_Ah: 100\n',
      '',
      'missing-key 24:3 bank.module.capacity_Ah',
      /add "capacity_Ah: …" to bank\.module/,
    ],
    ['    name: lamps\n', '', 'missing-key 39:5 loads[0].name', /add "name: …" to loads\[0\]/],
    ['run:\n  year: 2025\n', '', 'missing-key 1:1 run', /left margin/],
    ['capacity_Ah: 100', 'capacity_Ah: 100\n    capacity_Ah: 100', 'duplicate-key 27:5', /keep one/],
    // Numbers.
    [
      'capacity_Ah: 100',
      'capacity_Ah: "100"',
      'wrong-type 26:18 bank.module.capacity_Ah',
      /remove the quotes: 100/,
    ],
    [
      'capacity_Ah: 100',
      'capacity_Ah: 100 Ah',
      'wrong-type 26:18 bank.module.capacity_Ah',
      /bare number: 100/,
    ],
    [
      'capacity_Ah: 100',
      'capacity_Ah: 1.2.3 Ah',
      'wrong-type 26:18 bank.module.capacity_Ah',
      /plain number, without quotes or unit/,
    ],
    [
      'capacity_Ah: 100',
      'capacity_Ah: 5 kWh',
      'wrong-type 26:18 bank.module.capacity_Ah',
      /the unit is in the key.*in Ah/,
    ],
    [
      'capacity_Ah: 100',
      'capacity_Ah: 100,5',
      'wrong-type 26:18 bank.module.capacity_Ah',
      /decimal point: 100\.5/,
    ],
    ['capacity_Ah: 100', 'capacity_Ah: 012,5', 'wrong-type 26:18 bank.module.capacity_Ah', /decimal point/],
    ['capacity_Ah: 100', 'capacity_Ah:', 'wrong-type 26:5 bank.module.capacity_Ah', /after the colon/],
    ['capacity_Ah: 100', 'capacity_Ah: ~', 'wrong-type 26:18 bank.module.capacity_Ah', /after the colon/],
    ['capacity_Ah: 100', 'capacity_Ah: .nan', 'not-finite 26:18 bank.module.capacity_Ah', /finite/],
    ['capacity_Ah: 100', 'capacity_Ah: -.inf', 'not-finite 26:18 bank.module.capacity_Ah', /finite/],
    [
      'capacity_Ah: 100',
      'capacity_Ah: 0',
      'out-of-range 26:18 bank.module.capacity_Ah',
      /raise it to 0\.001 or more/,
    ],
    ['capacity_Ah: 100', 'capacity_Ah: [100]', 'wrong-type 26:18 bank.module.capacity_Ah', /plain number/],
    ['tilt_deg: 70', 'tilt_deg: 95', 'out-of-range 14:15 arrays[0].tilt_deg', /lower it to 90/],
    ['tilt_deg: 70', 'tilt_deg: -5', 'out-of-range 14:15 arrays[0].tilt_deg', /raise it to 0/],
    ['modules_parallel: 2', 'modules_parallel: 2.5', 'not-whole 23:21 bank.modules_parallel', /write 3/],
    [
      'share: 0.94',
      'share: 94',
      'out-of-range 29:32 bank.round_trip_efficiency_share',
      /a share, not a percentage: write 0\.94/,
    ],
    [
      'share: 0.94',
      'share: 94 %',
      'wrong-type 29:32 bank.round_trip_efficiency_share',
      /write the share: 0\.94/,
    ],
    [
      'per_K: -0.0035',
      'per_K: -0.35',
      'out-of-range 16:42 arrays[0].power_temperature_coefficient_per_K',
      /-0\.0035/,
    ],
    ['year: 2025', 'year: 2025\n  step_min: 20', 'wrong-value 45:13 run.step_min', /these numbers/],
    // Texts, words, zones, windows.
    ['name: lamps', 'name: 5', 'wrong-type 40:11 loads[0].name', /quotes: "5"/],
    ['name: lamps', 'name: ""', 'wrong-length 40:11 loads[0].name', /write a text/],
    ['chemistry: lfp', 'chemistry: LFP', 'wrong-value 22:14 bank.chemistry', /"lfp"/],
    ['chemistry: lfp', 'chemistry: lead-acid', 'wrong-value 22:14 bank.chemistry', /"lead_acid"/],
    ['chemistry: lfp', 'chemistry: true', 'wrong-type 22:14 bank.chemistry', /write lfp/],
    ['["17:30-22:30"]', '["17:30-22:30"]\n    days: [monday]', 'wrong-value 43:12 loads[0].days[0]', /"mon"/],
    ['Europe/Oslo', 'Europe/Olso', 'unknown-time-zone 6:14 site.time_zone', /"Europe\/Oslo"/],
    ['Europe/Oslo', 'Oslo', 'unknown-time-zone 6:14 site.time_zone', /"Europe\/Oslo"/],
    ['Europe/Oslo', '+01:00', 'unknown-time-zone 6:14 site.time_zone', /Etc\/GMT-1/],
    ['Europe/Oslo', 'Mars/Base', 'unknown-time-zone 6:14 site.time_zone', /such as/],
    ['"17:30-22:30"', '"8:00-10"', 'wrong-format 42:15 loads[0].windows[0]', /write "08:00-10:00"/],
    ['"17:30-22:30"', '"17.30 – 22.15"', 'wrong-format 42:15 loads[0].windows[0]', /write "17:30-22:15"/],
    ['"17:30-22:30"', '"24:00-06:00"', 'wrong-format 42:15 loads[0].windows[0]', /write "00:00-06:00"/],
    ['"17:30-22:30"', '"25:00-27:00"', 'wrong-format 42:15 loads[0].windows[0]', /from 00:00 to 24:00/],
    ['"17:30-22:30"', 'evening', 'wrong-format 42:15 loads[0].windows[0]', /like "17:30-23:00"/],
    // Variants.
    ['kind: clear-sky', 'kind: clear_sky', 'wrong-value 8:9 weather.kind', /"clear-sky"/],
    ['  kind: clear-sky\n', '', 'missing-key 7:1 weather.kind', /add "kind: clear-sky"/],
    ['kind: appliance', 'kind: aplliance', 'wrong-value 39:11 loads[0].kind', /"appliance"/],
    ['kind: indoors', 'kind: cellar', 'wrong-value 32:24 bank.temperature.kind', /one of these words/],
    [', temperature_C: 5', '', 'missing-key 32:3 bank.temperature.temperature_C', /add "temperature_C/],
    ['loss_linear: 0.02, ', '', 'missing-key 37:3 inverter.efficiency.loss_linear', /add "loss_linear/],
    [
      'loss_linear: 0.02',
      'loss_linear: 2',
      'out-of-range 37:30 inverter.efficiency.loss_linear',
      /write 0\.02/,
    ],
    [
      '{ loss_linear: 0.02, loss_quadratic: 0.03 }',
      '0.94',
      'wrong-type 37:15 inverter.efficiency',
      /keys on the lines below/,
    ],
    [
      'turbidity_linke: 3',
      'turbidity_linke: 30',
      'out-of-range 9:20 weather.turbidity_linke',
      /lower it to 12/,
    ],
    [
      'turbidity_linke: 3',
      'turbidity_linke: hazy',
      'wrong-type 9:20 weather.turbidity_linke',
      /plain number/,
    ],
    [
      'turbidity_linke: 3',
      'turbidity_linke: { jan: 3 }',
      'wrong-type 9:20 weather.turbidity_linke',
      /plain number/,
    ],
    // Lists.
    ['2, -4, -7]', '2, -4]', 'wrong-length 10:22 weather.air_temperature_C', /add 1/],
    ['2, -4, -7]', '2, -4, -7, -8, -9]', 'wrong-length 10:22 weather.air_temperature_C', /remove 2/],
    [
      '2, -4, -7]',
      '2, -4, 70]',
      'out-of-range 10:63 weather.air_temperature_C[11]',
      /it looks like °F \(.*: 21\.1\)/,
    ],
    [
      '["17:30-22:30"]',
      '"17:30-22:30"',
      'wrong-type 42:14 loads[0].windows',
      /write a list: \["17:30-22:30"\]/,
    ],
    ['["17:30-22:30"]', '[]', 'wrong-length 42:14 loads[0].windows', /at least one/],
    ['loads:\n  - kind', 'loads:\n    kind', 'wrong-type 39:5 loads', /"- "/],
    [
      '  - kind: appliance',
      '  - lamps\n  - kind: appliance',
      'wrong-type 39:5 loads[0]',
      /keys on the lines below/,
    ],
    ['run:', 'generator:\nrun:', 'wrong-type 43:1 generator', /or remove the key/],
    // Syntax.
    ['  elevation_m: 900', '  elevation_m: 900\n\tmore: 1', 'syntax 6:1', /spaces/],
    ['name: Kaldhytta (invented)', 'name: "Kaldhytta', 'syntax 2:9', /close the quotes/],
    ['name: Kaldhytta (invented)', 'name: Kaldhytta: invented', 'syntax 2:9', /in quotes/],
    ['name: Kaldhytta (invented)', 'name: @hut', 'syntax 2:9', /quotes/],
    ['name: Kaldhytta (invented)', 'name: "C:\\plants"', 'syntax 2:12', /single quotes/],
    ['year: 2025', 'year: !this 2025', 'syntax 44:9', /remove the tag/],
    ['year: 2025', 'year: *then', 'syntax 44:9', /&then/],
    ['-4, -7]\n', '-4, -7\n', 'syntax 11:1', /close the bracket/],
    ['run:', '---\nrun:', 'multiple-documents 43:1', /one scenario/],
  ])('%j → %j', (from, to, issue, fix) => {
    const text = edited(from, to);
    expect(brief(text)).toEqual([issue]);
    const [{ message, fix: said }] = issuesOf(text) as [Issue];
    expect(said).toMatch(fix);
    expect(message).not.toMatch(/invalid|zod|undefined|\[object|at line/i);
    expect(message.length).toBeLessThan(160);
  });

  it('reads as one would say it', () => {
    expect(() => readScenario(edited('capacity_Ah: 100', 'capacity_kWh: 5'), 'hut.yaml')).toThrow(
      'hut.yaml:26:5: bank.module.capacity_kWh: unknown key; ' +
        'expected one of nominal_voltage_V, capacity_Ah, max_charge_A, max_discharge_A, peak_discharge_A\n' +
        '    fix: did you mean "capacity_Ah"? The unit is in the key: give the value in Ah',
    );
    expect(() => readScenario(edited('floor_soc: 0.1', 'floor_soc: 10'), 'hut.yaml')).toThrow(
      'hut.yaml:30:14: bank.floor_soc: found 10; expected a number from 0 to 0.99\n' +
        '    fix: this is a share, not a percentage: write 0.1',
    );
  });
});

describe('what a mistyped name may mean', () => {
  const names = ['appliance', 'daily', 'series', 'lead_acid', 'mon', 'tue', 'Europe/Oslo'];
  it.each([
    ['aplliance', 'appliance'],
    ['APPLIANCE', 'appliance'],
    ['applaince', 'appliance'],
    ['lead-acid', 'lead_acid'],
    ['Europe/Olso', 'Europe/Oslo'],
    ['monday', 'mon'],
    ['dialy', 'daily'],
    ['dayly', 'daily'],
    ['weekly', undefined],
    ['sri', undefined],
    ['', undefined],
  ])('%s', (name, meant) => expect(nearest(name, names)).toBe(meant));

  it('swapping two letters is one slip, changing two is two', () => {
    expect(nearest('abdc', ['abcd'])).toBe('abcd');
    expect(nearest('abxy', ['abcd'])).toBeUndefined();
    expect(nearest('badcfe', ['abcdef'])).toBeUndefined();
  });

  it.each([
    ['capacity_kWh', 'capacity_Ah', true],
    ['capacity', 'capacity_Ah', true],
    ['capacity_ah', 'capacity_Ah', false],
    ['max_charge_kW', 'max_charge_A', true],
    ['capacty_Ah', 'capacity_Ah', false],
    ['W', undefined, undefined],
  ])('%s among keys with units', (key, meant, otherUnit) => {
    const guess = meantKey(key, ['capacity_Ah', 'max_charge_A', 'max_discharge_A', 'nominal_voltage_V']);
    expect([guess?.key, guess?.otherUnit]).toEqual([meant, otherUnit]);
  });
});

describe('rules between values', () => {
  it.each<[text: string, issues: string[], fix: RegExp]>([
    [generator('start_soc: 0.3', 'start_soc: 0.9'), ['contradiction 46:14 generator.start_soc'], /lower soc/],
    [generator('start_soc: 0.3', 'start_soc: 0.8'), ['contradiction 46:14 generator.start_soc'], /lower soc/],
    [
      generator('start_soc: 0.3', 'start_soc: 0.05'),
      ['contradiction 46:14 generator.start_soc'],
      /0\.1 or more/,
    ],
    [
      generator('start_soc: 0.3\n  stop_soc: 0.8', 'start_soc: 0.05\n  stop_soc: 0.1'),
      ['contradiction 46:14 generator.start_soc', 'contradiction 47:13 generator.stop_soc'],
      /0\.1 or more/,
    ],
    [
      edited(
        'floor_soc: 0.1',
        'floor_soc: 0.1\n  cycle_life: [{ depth_share: 0.5, cycles: 6000 }, { depth_share: 0.5, cycles: 3000 }]',
      ),
      ['contradiction 31:67 bank.cycle_life[1].depth_share'],
      /lowest first/,
    ],
    [
      edited(
        'floor_soc: 0.1',
        'floor_soc: 0.1\n  cycle_life: [{ depth_share: 0.5, cycles: 6000 }, { depth_share: 0.8, cycles: 6000 }]',
      ),
      ['contradiction 31:80 bank.cycle_life[1].cycles'],
      /deeper cycle wears more/,
    ],
    [
      edited('run:', 'wiring: { cable_AWG: 2/0, cable_mm2: 70, bank_lowest_voltage_V: 60 }\nrun:'),
      ['contradiction 43:38 wiring.cable_mm2', 'contradiction 43:65 wiring.bank_lowest_voltage_V'],
      /size of the cable once/,
    ],
    [
      edited('max_discharge_A: 100', 'max_discharge_A: 100\n    peak_discharge_A: 90'),
      ['contradiction 29:23 bank.module.peak_discharge_A'],
      /for moments/,
    ],
    [
      edited('power_W: 60', 'power_W: 60\n    start_W: 50'),
      ['contradiction 42:14 loads[0].start_W'],
      /at the moment it starts/,
    ],
    [generator('1.05', '1.7'), ['contradiction 45:54 generator.fuel.half_load_L_per_h'], /data sheet/],
    [
      generator('1.05', '0.8'),
      ['contradiction 45:54 generator.fuel.half_load_L_per_h'],
      /0\.85 L\/h or more/,
    ],
    [
      generator(PAIR, 'points: [{ load_share: 0.5, L_per_h: 1 }, { load_share: 0.5, L_per_h: 1.2 }]'),
      ['contradiction 45:67 generator.fuel.points[1].load_share'],
      /lowest first/,
    ],
    [
      generator(PAIR, 'points: [{ load_share: 0.5, L_per_h: 1 }, { load_share: 1, L_per_h: 1 }]'),
      ['contradiction 45:79 generator.fuel.points[1].L_per_h'],
      /data sheet/,
    ],
    [
      generator(PAIR, 'points: [{ load_share: 0.25, L_per_h: 0.4 }, { load_share: 0.5, L_per_h: 1 }]'),
      ['contradiction 45:49 generator.fuel.points[0].L_per_h'],
      /litres an hour, not litres a kWh/,
    ],
    [
      generator('  start_soc: 0.3\n', ''),
      ['missing-key 43:1 generator.start_soc'],
      /state of charge at which it starts/,
    ],
    [
      generator('start_soc: 0.3', 'starts: { kind: before_night }'),
      ['missing-key 43:1 generator.start_soc'],
      /keep through the night/,
    ],
    [
      generator('start_soc: 0.3', 'start_soc: 0.3\n  min_run_h: 0\n  warm_up_min: 5'),
      ['contradiction 48:16 generator.warm_up_min'],
      /min_run_h be above 0\.0833/,
    ],
    [
      edited('year: 2025', 'year: 2025\n  initial_soc: 0.05'),
      ['contradiction 45:16 run.initial_soc'],
      /0\.1 or more/,
    ],
    [edited('surge_kW: 6', 'surge_kW: 2'), ['contradiction 35:13 inverter.surge_kW'], /give the rating/],
    [edited('"17:30-22:30"', '"17:30-17:30"'), ['empty-window 42:15 loads[0].windows[0]'], /"00:00-24:00"/],
    [edited('"17:30-22:30"', '"17:30-22:30", "22:00-23:00"'), ['overlap 42:30 loads[0].windows[1]'], /join/],
    [edited('"17:30-22:30"', '"22:00-06:00", "05:00-07:00"'), ['overlap 42:30 loads[0].windows[1]'], /join/],
    [
      edited('run:', '  - { kind: appliance, name: lamps, power_W: 5 }\nrun:'),
      ['duplicate-name 43:30 loads[1].name'],
      /own name/,
    ],
    [
      edited(
        'run:',
        `  - { kind: daily, name: house, energy_kWh_day: 2, shape: [${Array(24).fill(0)}] }\nrun:`,
      ),
      ['empty-shape 43:59 loads[1].shape'],
      /above zero/,
    ],
  ])('case %#', (text, issues, fix) => {
    expect(brief(text)).toEqual(issues);
    expect(issuesOf(text)[0]!.fix).toMatch(fix);
  });

  it('ask for the year of stamps that have none', () => {
    const meter = (time: string) =>
      brief(
        edited(
          'run:',
          `  - { kind: series, name: m, file: m.csv, power: { column: p, unit: W }, time: { column: t, zone: UTC, label: end${time} } }\nrun:`,
        ),
      );
    expect(meter(', format: MM/dd HH:mm')).toEqual(['no-year 43:124 loads[1].time.format']);
    expect(meter(', format: MM/dd HH:mm, year: 2025')).toEqual([]);
    expect(meter(", format: MM/dd/yyyy HH 'd'")).toEqual([]);
    expect(meter(", format: MM/dd HH 'y'")).toEqual(['no-year 43:124 loads[1].time.format']);
    expect(meter('')).toEqual([]);
  });

  const points = (...pairs: [load: number, efficiency: number][]): string[] =>
    brief(
      edited(
        '{ loss_linear: 0.02, loss_quadratic: 0.03 }',
        `{ points: [${pairs.map(([l, e]) => `{ load_share: ${l}, efficiency_share: ${e} }`).join(', ')}] }`,
      ),
    ).map((text) => text.replace(/ \d+:\d+ inverter\.efficiency\.points/, ' '));

  it('hold efficiency points in order and above the idle draw', () => {
    expect(points([0.1, 0.9], [0.5, 0.95], [1, 0.93])).toEqual([]);
    expect(points([0.5, 0.95], [0.1, 0.9])).toEqual(['contradiction [1].load_share']);
    expect(points([0.5, 0.95], [0.5, 0.94])).toEqual(['contradiction [1].load_share']);
    // 10 % of 3 kW at 0.94 loses 19.1 W, and 20 W stand all the time; at 0.9375 it is 20 W sharp.
    expect(points([0.1, 0.94])).toEqual(['contradiction [0].efficiency_share']);
    expect(points([0.1, 0.9375])).toEqual([]);
    // 1.5 kW out of 3 kW in, then 1.8 kW out of 1.9 kW in.
    expect(points([0.5, 0.5], [0.6, 0.95])).toEqual(['contradiction [1].efficiency_share']);
  });

  it('let windows touch, meet over midnight, and miss each other on single days', () => {
    for (const windows of [
      '["08:00-12:00", "12:00-14:00"]',
      '["22:00-06:00", "06:00-07:00"]',
      '["22:00-06:00", "05:00-07:00"]\n    days: [mon, wed, fri]',
    ])
      expect(brief(edited('["17:30-22:30"]', windows)), windows).toEqual([]);
    const week = '["22:00-06:00", "05:00-07:00"]\n    days: [sun, mon]';
    expect(brief(edited('["17:30-22:30"]', week))).toEqual(['overlap 42:30 loads[0].windows[1]']);
  });
});

it('a doubled key is named', () => {
  const [issue] = issuesOf(edited('capacity_Ah: 100', 'capacity_Ah: 100\n    "capacity_Ah": 100'));
  expect(issue!.message).toBe('"capacity_Ah" stands here for the second time');
});

describe('a file that is no scenario', () => {
  it.each([
    ['', 'empty-file 1:1'],
    ['# nothing yet\n', 'empty-file 1:1'],
    ['---\n', 'empty-file 1:1'],
    ['- site\n', 'not-a-mapping 1:1'],
    ['just words', 'not-a-mapping 1:1'],
    ['{"site": 1 "run": 2}', 'syntax 1:10'],
    ['{"site": 1, "site": 2}', 'duplicate-key 1:13'],
    ['%YAML 1.1\n---\nsite: yes\n', 'syntax 1:1'],
    // Without a guard the parser takes the whole process down with these.
    [`site: ${'['.repeat(30_000)}`, 'syntax 1:71'],
    ['- '.repeat(30_000), 'syntax 1:129'],
    [Array.from({ length: 300 }, (_, depth) => `${' '.repeat(depth)}a:\n`).join(''), 'syntax 202:1'],
    [
      'a: &a [1,1,1,1,1,1,1,1,1]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b,*b,*b,*b,*b,*b]\nd: [*c,*c,*c,*c,*c]\n',
      'syntax 1:1',
    ],
  ])('%# is refused with a way out', (text, expected) => {
    expect(brief(text)).toEqual([expected]);
    expect(issuesOf(text)[0]!.fix).toMatch(/\w{4}/);
  });
});

it('whatever is typed into a file, it is read or every issue has a place, a sentence and a way out', () => {
  const slips = [
    '\t',
    '[',
    '}',
    ': ',
    '- ',
    '"',
    '&a ',
    '*a ',
    '!x ',
    '\n',
    '\n  ',
    '.nan',
    '-1',
    '1e999',
    'null',
    '<<: ',
    '|',
    '\u0000',
    '---\n',
    '{}',
    '? ',
    '__proto__: 1\n',
    '\uFEFF',
  ];
  const edit = fc.record({ at: fc.nat(HUT.length), drop: fc.nat(9), put: fc.constantFrom(...slips) });
  fc.assert(
    fc.property(fc.array(edit, { minLength: 1, maxLength: 3 }), (edits) => {
      const text = edits.reduce((t, { at, drop, put }) => t.slice(0, at) + put + t.slice(at + drop), HUT);
      for (const issue of issuesOf(text)) {
        expect(issue.place!.line).toBeGreaterThan(0);
        expect(`${issue.message} ${issue.fix} ${issue.expected ?? ''}`).not.toMatch(/undefined|NaN|\[object/);
        expect(issue.fix!.length).toBeGreaterThan(4);
      }
    }),
    { numRuns: 300, seed: 20250101 },
  );
});

describe('several issues', () => {
  it('are all reported, in the order of the file', () => {
    const text = HUT.replace('tilt_deg: 70', 'tilt_deg: 700')
      .replace('Europe/Oslo', 'Europe/Olso')
      .replace('power_W: 60', 'power_w: 60')
      .replace('chemistry: lfp', 'chemistry: tin')
      .replace('  floor_soc: 0.1\n', '');
    expect(brief(text)).toEqual([
      'unknown-time-zone 6:14 site.time_zone',
      'out-of-range 14:15 arrays[0].tilt_deg',
      'missing-key 21:1 bank.floor_soc',
      'wrong-value 22:14 bank.chemistry',
      'unknown-key 40:5 loads[0].power_w',
    ]);
    expect(issuesOf(text).every((issue) => issue.fix)).toBe(true);
  });
});

describe('defaults', () => {
  const time = { column: 't', zone: 'UTC', label: 'start' };
  const csv = { file: 'f.csv', time };
  const hut = () => yaml.parse(HUT) as Record<string, unknown>;
  /** Scenarios that between them leave out everything that has a default, in every variant. */
  const SPARSE: Record<string, unknown>[] = [
    {
      ...hut(),
      charger: { max_charge_A: 20 },
      shore: { max_A: 16, voltage_V: 230 },
      alternator: { max_charge_A: 30, windows: ['08:00-09:00'] },
      other_sources: [
        { kind: 'constant', name: 'stream', power_W: 100 },
        { kind: 'series', name: 'turbine', ...csv, power: { column: 'p', unit: 'W' }, max_power_W: 900 },
      ],
      generator: yaml.parse(GENERATOR.replace('run:', '')).generator,
    },
    {
      ...hut(),
      generator: {
        ...yaml.parse(GENERATOR.replace('run:', '')).generator,
        starts: { kind: 'before_night' },
      },
    },
    {
      ...hut(),
      weather: {
        kind: 'series',
        ...csv,
        ghi: { column: 'g', unit: 'W_m2' },
        air_temperature: { column: 'a', unit: 'C' },
      },
      loads: [
        { kind: 'appliance', name: 'lamps', power_W: 60 },
        { kind: 'daily', name: 'house', energy_kWh_day: 2, shape: 'flat' },
        { kind: 'series', name: 'meter', ...csv, power: { column: 'p', unit: 'W' } },
        { kind: 'flexible', name: 'car', energy_kWh: 3, max_power_W: 1000, window: '08:00-18:00' },
        { kind: 'surplus', name: 'boiler', max_power_W: 1000 },
      ],
      inverter: {
        ...(hut().inverter as object),
        derating: { temperature: { kind: 'outdoors' }, points: [{ temperature_C: 40, share: 1 }] },
      },
    },
    {
      ...hut(),
      bank: {
        ...(hut().bank as object),
        round_trip_efficiency_share: undefined,
        model: {
          kind: 'resistive',
          open_circuit: [
            { soc: 0, voltage_V: 44 },
            { soc: 1, voltage_V: 52 },
          ],
          resistance_mOhm: 10,
        },
      },
      wiring: { bank_cable_length_m: 2 },
      money: { currency: 'crowns', years: 20, discount_share_per_year: 0.03 },
      weather: {
        kind: 'monthly_means',
        ghi_kWh_m2_day: Array(12).fill(3),
        air_temperature_C: Array(12).fill(5),
        seed: 1,
      },
    },
    { ...hut(), weather: { kind: 'tmy3', file: 'w.csv' } },
    { ...hut(), weather: { kind: 'epw', file: 'w.epw' } },
  ];
  const defaultsOf = (data: unknown) =>
    readScenario(JSON.stringify(data), 'hut.json').assumptions.filter((a) => a.kind === 'default');

  /** Every default of the JSON Schema by path, list positions left out: another way to them than the reader's own. */
  function schemaDefaults(): { path: string; why: string | undefined }[] {
    type Part = Record<string, unknown> & { properties?: Record<string, Part>; items?: Part };
    const found: { path: string; why: string | undefined }[] = [];
    const look = (part: Part, path: string): void => {
      if ('default' in part && path !== '') {
        const leaves = typeof part.default === 'object' && part.default && !Array.isArray(part.default);
        for (const leaf of leaves
          ? Object.keys(part.default as object).map((key) => `${path}.${key}`)
          : [path])
          found.push({ path: leaf, why: part.why as string | undefined });
      }
      for (const option of [...((part.oneOf ?? []) as Part[]), ...((part.anyOf ?? []) as Part[])])
        look(option, path);
      if (part.items) look(part.items, `${path}[]`);
      for (const [key, field] of Object.entries(part.properties ?? {}))
        look(field, path === '' ? key : `${path}.${key}`);
    };
    look(z.toJSONSchema(scenarioSchema, { io: 'input', metadata: KEY_TEXTS }) as Part, '');
    return found;
  }

  it('all say why, and show up when they are used', () => {
    const inSchema = schemaDefaults();
    expect(inSchema.length).toBeGreaterThan(30);
    expect(inSchema.filter(({ why }) => !why || why.length < 5)).toEqual([]);
    const used = SPARSE.flatMap(defaultsOf);
    expect(used.every(({ why, value }) => why.length > 4 && value !== null)).toBe(true);
    const paths = (all: string[]) => [...new Set(all.map((path) => path.replace(/\[\d+\]/g, '[]')))].sort();
    expect(paths(used.map(({ path }) => path))).toEqual(paths(inSchema.map(({ path }) => path)));
  });

  it('are not listed once they are written out', () => {
    for (const data of SPARSE) {
      const { scenario } = readScenario(JSON.stringify(data), 'hut.json');
      // The checked scenario has every default filled in.
      expect(defaultsOf(scenario)).toEqual([]);
    }
  });

  it('are listed leaf by leaf, with the value used', () => {
    const data = hut();
    (data.arrays as Record<string, unknown>[])[0]!.losses = { soiling_share: 0.1 };
    const used = defaultsOf(data);
    const of = (path: string) => used.find((a) => a.path === path)?.value;
    expect(of('arrays[0].albedo')).toBe(0.2);
    expect(of('arrays[0].losses.soiling_share')).toBeUndefined();
    expect(of('arrays[0].losses.ageing_share')).toBe(0.05);
    expect(of('loads[0].days')).toBe('mon, tue, wed, thu, fri, sat, sun');
    expect(of('run.step_min')).toBe(60);
    expect(readScenario(JSON.stringify(data), 'x').scenario.arrays[0]!.losses).toEqual({
      snow_share: 0,
      soiling_share: 0.1,
      ageing_share: 0.05,
      mismatch_share: 0.01,
      wiring_share: 0.03,
    });
  });

  it('leave out the wind that a measured one replaces', () => {
    const series = SPARSE.find((data) => (data.weather as { kind: string }).kind === 'series');
    const weather = { ...(series!.weather as object), wind: { column: 'w', unit: 'm_s' } };
    expect(defaultsOf({ ...series, weather }).map((a) => a.path)).not.toContain('weather.wind_m_s');
  });

  it('leave out the split where beam or diffuse light is measured', () => {
    const series = SPARSE.find((data) => (data.weather as { kind: string }).kind === 'series');
    const paths = (extra: object) =>
      defaultsOf({ ...series, weather: { ...(series!.weather as object), ...extra } }).map((a) => a.path);
    expect(paths({})).toContain('weather.decomposition');
    expect(paths({ dhi: { column: 'd', unit: 'W_m2' } })).not.toContain('weather.decomposition');
    expect(paths({ dni: { column: 'b', unit: 'W_m2' } })).not.toContain('weather.decomposition');
  });

  it('come with a word on a generator that has no charger, and a charger that has no generator', () => {
    const parts = (text: string) =>
      readScenario(text, 'hut.yaml')
        .assumptions.filter((a) => a.kind === 'model')
        .map((a) => a.path);
    expect(parts(generator('', ''))).toEqual(['generator']);
    expect(parts(edited('run:', 'charger: { max_charge_A: 20 }\nrun:'))).toEqual(['charger']);
    expect(parts(generator('generator:', 'charger: { max_charge_A: 20 }\ngenerator:'))).toEqual([]);
    expect(parts(HUT)).toEqual([]);
  });
});

describe('models of a bank', () => {
  const SHARE = '  round_trip_efficiency_share: 0.94\n';
  const LEVEL = '[{ soc: 0, voltage_V: 46 }, { soc: 1, voltage_V: 52 }]';
  const resistive = (open_circuit = LEVEL, more = ''): string =>
    `  model: { kind: resistive, resistance_mOhm: 20, open_circuit: ${open_circuit}${more} }\n`;
  const kinetic = (c20: number, c10: number, c5: number): string =>
    `  model: { kind: kinetic, capacity_20h_Ah: ${c20}, capacity_10h_Ah: ${c10}, capacity_5h_Ah: ${c5} }\n`;
  const first = (lines: string): [issue: string, message: string, fix: string] => {
    const text = edited(SHARE, lines);
    const [issue] = issuesOf(text);
    return [
      brief(text)
        .map((line) => line.replace(/ \d+:\d+ /, ' '))
        .join('; '),
      issue?.message ?? '',
      issue?.fix ?? '',
    ];
  };

  it('are accepted with what they need', () => {
    expect(first(SHARE)[0]).toBe('');
    expect(first(`${SHARE}  model: { kind: fixed_efficiency }\n`)[0]).toBe('');
    expect(first(resistive())[0]).toBe('');
    expect(first(SHARE + kinetic(100, 90, 78))[0]).toBe('');
    expect(first(`${SHARE}  older: [{ modules: 1, capacity_share: 0.8 }]\n`)[0]).toBe('');
    const old = '  older: [{ modules: 1, capacity_share: 0.8, resistance_factor: 1.4 }]\n';
    expect(first(resistive() + old)[0]).toBe('');
    expect(first(`${SHARE}  max_charge_A_at_temperature: [{ temperature_C: 0, max_charge_A: 5 }]\n`)[0]).toBe(
      '',
    );
  });

  it.each<[lines: string, issue: string, fix: RegExp]>([
    ['', 'missing-key bank.round_trip_efficiency_share', /add "round_trip_efficiency_share.*resistive/],
    [
      kinetic(100, 90, 78),
      'missing-key bank.round_trip_efficiency_share',
      /add "round_trip_efficiency_share/,
    ],
    [SHARE + resistive(), 'contradiction bank.round_trip_efficiency_share', /leave it out/],
    [`${SHARE}  model: { kind: resistve }\n`, 'wrong-value bank.model.kind', /"resistive"/],
    [`${SHARE}  model: kinetic\n`, 'wrong-type bank.model', /./],
    [
      resistive('[{ soc: 0.1, voltage_V: 46 }, { soc: 1, voltage_V: 52 }]'),
      'contradiction bank.model.open_circuit[0].soc',
      /soc 0/,
    ],
    [
      resistive('[{ soc: 0, voltage_V: 46 }, { soc: 0.9, voltage_V: 52 }]'),
      'contradiction bank.model.open_circuit[1].soc',
      /soc 1/,
    ],
    [
      resistive('[{ soc: 0, voltage_V: 52 }, { soc: 1, voltage_V: 46 }]'),
      'contradiction bank.model.open_circuit[1].voltage_V',
      /rises with charge/,
    ],
    [
      resistive('[{ soc: 0, voltage_V: 3 }, { soc: 1, voltage_V: 3.4 }]'),
      'contradiction bank.model.open_circuit',
      /cells_series: 15/,
    ],
    [
      resistive(LEVEL).replace('20', '300'),
      'contradiction bank.model.resistance_mOhm',
      /thousandths of an ohm/,
    ],
    [
      `${resistive(LEVEL, ', end_of_life_resistance_factor: 15')}  life_years: 10\n`,
      'contradiction bank.model.end_of_life_resistance_factor',
      /the factor that it is worn at/,
    ],
    [
      resistive(LEVEL, ', end_of_life_resistance_factor: 0.5'),
      'out-of-range bank.model.end_of_life_resistance_factor',
      /./,
    ],
    [SHARE + kinetic(78, 90, 100), 'contradiction bank.model', /data sheet/],
    [SHARE + kinetic(100, 95, 80), 'contradiction bank.model', /data sheet/],
    [SHARE + kinetic(110, 99, 85), 'contradiction bank.module.capacity_Ah', /one of the three/],
    [
      `${resistive()}  older: [{ modules: 1, capacity_share: 0.8 }]\n`,
      'missing-key bank.older[0].resistance_factor',
      /such as 1\.3/,
    ],
    [
      `${SHARE}  older: [{ modules: 1, capacity_share: 0.8, resistance_factor: 1.4 }]\n`,
      'contradiction bank.older[0].resistance_factor',
      /leave it out/,
    ],
    [
      `${SHARE}  max_charge_A_at_temperature: [{ temperature_C: 5, max_charge_A: 5 }, { temperature_C: 0, max_charge_A: 9 }]\n`,
      'contradiction bank.max_charge_A_at_temperature[1].temperature_C',
      /coldest first/,
    ],
    [
      `${SHARE}  max_charge_A_at_temperature: [{ temperature_C: 5, max_charge_A: 70 }]\n`,
      'contradiction bank.max_charge_A_at_temperature[0].max_charge_A',
      /one module takes/,
    ],
  ])('are refused with a fix: case %#', (lines, issue, fix) => {
    const [found, message, said] = first(lines);
    expect(found).toBe(issue);
    expect(said).toMatch(fix);
    expect(message).not.toMatch(/invalid|zod|undefined|NaN/i);
  });

  it('say in the report what they rest on', () => {
    const why = (lines: string): string =>
      bankAssumption(readScenario(edited(SHARE, lines), 'hut.yaml').scenario.bank).why;
    expect(why(SHARE)).toMatch(/efficiency does not vary with current/);
    expect(why(resistive())).toMatch(/open-circuit voltage is that of its start/);
    expect(why(SHARE + kinetic(100, 90, 78))).toMatch(/113 Ah.*49\.3 % are ready.*0\.393 an hour/);
  });
});
