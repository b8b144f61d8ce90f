/** Parts files: what they lend, what they refuse, and that the ones we ship can be used. */
import { readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import {
  InputError,
  partsFilesNamed,
  plantOf,
  prepareYear,
  readParts,
  readScenario,
  type Scenario,
} from '@longnight/core';
import { PART_KINDS } from '@longnight/core/scenario';
import { openStudy, readAxis } from '@longnight/core/study';
import { describe, expect, it } from 'vitest';

const ROOT = resolve(import.meta.dirname, '../..');
const FILE = 'data/demo/parts-with-generator.yaml';
const TEXT = readFileSync(resolve(ROOT, FILE), 'utf8');
const FOLDER = resolve(ROOT, 'data/parts');
const SHIPPED = new Map(
  readdirSync(FOLDER).map((name) => [`../parts/${name}`, readFileSync(resolve(FOLDER, name), 'utf8')]),
);

const messageOf = (act: () => unknown): string => {
  try {
    act();
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
  throw new Error('nothing was refused');
};
const swap = (text: string, from: string | RegExp, to: string): string => {
  const swapped = text.replace(from, to);
  expect(swapped).not.toBe(text);
  return swapped;
};
const read = (text: string, parts: ReadonlyMap<string, string> = SHIPPED): Scenario =>
  readScenario(text, 'plant.yaml', parts).scenario;
/** The shipped files with one of them changed. */
const withFile = (name: string, from: string | RegExp, to: string): ReadonlyMap<string, string> =>
  new Map([...SHIPPED, [`../parts/${name}`, swap(SHIPPED.get(`../parts/${name}`)!, from, to)]]);

describe('a part', () => {
  it('stands in for what the scenario leaves out', () => {
    const { arrays, bank, inverter, charger, generator } = read(TEXT);
    expect(arrays[0]).toMatchObject({ panels: 14, panel_kWp: 0.43, size_kWp: 6.02, price: 112 });
    expect(bank).toMatchObject({ chemistry: 'lfp', module: { capacity_Ah: 100 }, life_cycles: 5000 });
    expect(inverter).toMatchObject({ rating_kW: 5, idle_W: 30 });
    expect(charger).toMatchObject({ max_charge_A: 60 });
    expect(arrays[0]!.tracker).toMatchObject({ max_power_kW: 6, max_charge_A: 110 });
    expect(generator).toMatchObject({ rating_kW: 4, start_soc: 0.25, service: { every_h: 200 } });
  });

  it('lends no fuel of one form to fuel of the other', () => {
    const points = '[{ load_share: 0.4, L_per_h: 0.9 }, { load_share: 1, L_per_h: 1.8 }]';
    const own = TEXT.replace('\ngenerator:\n', `\ngenerator:\n  fuel: { points: ${points} }\n`);
    expect(own).not.toBe(TEXT);
    expect(read(own).generator!.fuel).toEqual({
      points: [
        { load_share: 0.4, L_per_h: 0.9 },
        { load_share: 1, L_per_h: 1.8 },
      ],
    });
    const half = TEXT.replace('\ngenerator:\n', '\ngenerator:\n  fuel: { half_load_L_per_h: 1.1 }\n');
    expect(read(half).generator!.fuel).toMatchObject({ half_load_L_per_h: 1.1, full_load_L_per_h: 1.7 });
  });

  it('gives way to what the scenario says itself, key by key', () => {
    const own = swap(
      TEXT,
      '  part: module-5kWh\n',
      '  part: module-5kWh\n  floor_soc: 0.2\n  module: { capacity_Ah: 90 }\n',
    );
    expect(read(own).bank).toMatchObject({
      floor_soc: 0.2,
      module: { capacity_Ah: 90, nominal_voltage_V: 51.2, max_charge_A: 50 },
    });
    const curve = swap(
      TEXT,
      /( {2}part: all-in-one-5kW.*\n)/,
      '$1  efficiency: { loss_linear: 0.02, loss_quadratic: 0.03 }\n',
    );
    expect(read(curve).inverter.efficiency).toEqual({ loss_linear: 0.02, loss_quadratic: 0.03 });
  });

  it('makes the very plant that typing its values makes', () => {
    const typed = swap(
      TEXT,
      '  part: module-5kWh\n',
      [
        '  chemistry: lfp\n  module: { nominal_voltage_V: 51.2, capacity_Ah: 100, max_charge_A: 50, max_discharge_A: 100 }',
        '  round_trip_efficiency_share: 0.94\n  floor_soc: 0.1\n  min_charge_temperature_C: 0\n  life_years: 15\n  life_cycles: 5000\n',
      ].join('\n'),
    );
    expect(plantOf(read(typed))).toEqual(plantOf(read(TEXT)));
  });

  it('is changed in one line, and varied by name', () => {
    const large = read(swap(TEXT, 'part: module-5kWh', 'part: module-10kWh'));
    expect(large.bank).toMatchObject({ price: 2060, module: { capacity_Ah: 200 } });
    const study = openStudy({ text: TEXT, file: FILE, partsTexts: SHIPPED }, [
      readAxis('bank.part=module-5kWh,module-10kWh,lead-string-29kWh'),
      readAxis('inverter.part=all-in-one-5kW,all-in-one-8kW'),
    ]);
    const designs = [0, 1, 2, 3].map((k) => study.design(k).scenario!);
    expect(designs[2]).toEqual(read(swap(TEXT, 'part: module-5kWh', 'part: module-10kWh')));
    expect(designs.map((d) => d.charger!.max_charge_A)).toEqual([60, 120, 60, 120]);
    // The engine of this plant starts at a charge to which the lead-acid string is never drawn.
    expect(study.design(4).contradiction).toMatch(
      /generator\.start_soc: 0\.25 is below the bank's floor of 0\.5/,
    );
  });

  it('brings no more trackers than it has', () => {
    const row = TEXT.match(/ {2}- name: ground row, south\n( {4}.*\n)+/)![0];
    const rows = (count: number): string =>
      Array.from({ length: count }, (_, k) => row.replace('ground row, south', `row ${k + 1}`)).join('');
    expect(read(swap(TEXT, row, rows(2))).arrays.map((a) => a.tracker.part)).toEqual([
      'all-in-one-5kW',
      'all-in-one-5kW',
    ]);
    const refused = messageOf(() => read(swap(TEXT, row, rows(3))));
    expect(refused).toMatch(
      /^plant\.yaml:\d+:\d+: arrays\[2\]: "all-in-one-5kW" brings 2 trackers, and none is left/,
    );
    expect(refused).toMatch(/fix: /);
    const own = rows(3).replace(/(row 3\n)/, '$1    tracker: { part: tracker-5kW }\n');
    expect(read(swap(TEXT, row, own)).arrays[2]!.tracker).toMatchObject({ max_power_kW: 5, price: 430 });
  });
});

describe('a stack of all-in-ones', () => {
  const stack = (units: number): string =>
    swap(TEXT, /( {2}part: all-in-one-5kW.*\n)/, `$1  units: ${units}\n`);

  it('brings the charger and the trackers of each unit', () => {
    const row = TEXT.match(/ {2}- name: ground row, south\n( {4}.*\n)+/)![0];
    const rows = (count: number): string =>
      Array.from({ length: count }, (_, k) => row.replace('ground row, south', `row ${k + 1}`)).join('');
    const { charger, all_in_one } = plantOf(read(stack(2)));
    expect([charger!.max_charge_A, plantOf(read(TEXT)).charger!.max_charge_A]).toEqual([120, 60]);
    expect([all_in_one!.max_charge_A, all_in_one!.max_tracker_input_kW]).toEqual([280, 20]);
    expect(read(swap(stack(2), row, rows(4))).arrays.map((a) => a.tracker.built_in)).toEqual(
      Array(4).fill(true),
    );
    expect(messageOf(() => read(swap(stack(2), row, rows(5))))).toMatch(
      /arrays\[4\]: 2 of "all-in-one-5kW" bring 4 trackers, and none is left/,
    );
  });

  it('says what its limits rest on', () => {
    const why = (text: string): string[] => {
      const year = prepareYear(readScenario(text, 'plant.yaml', SHIPPED), 'plant.yaml', new Map());
      return year.assumptions.filter(({ path }) => path.startsWith('inverter.')).map(({ path }) => path);
    };
    expect(why(TEXT)).not.toContain('inverter.max_total_charge_A');
    expect(why(stack(2)).filter((path) => path === 'inverter.units')).toHaveLength(1);
    const engine = '\nalternator: { max_charge_A: 20, windows: ["08:00-09:00"] }\n\ngenerator:\n';
    expect(why(swap(TEXT, '\ngenerator:\n', engine))).toContain('inverter.max_total_charge_A');
  });

  it('counts a charger in a case of its own once', () => {
    const own = swap(stack(2), '\ngenerator:\n', '\ncharger: { part: charger-60A }\n\ngenerator:\n');
    expect(plantOf(read(own)).charger!.max_charge_A).toBe(60);
  });

  it('follows the number of units that a study varies', () => {
    const study = openStudy({ text: TEXT, file: FILE, partsTexts: SHIPPED }, [
      readAxis('inverter.units=1,3'),
    ]);
    const amps = [0, 1].map((k) => plantOf(study.design(k).scenario!).charger!.max_charge_A);
    expect(amps).toEqual([60, 180]);
  });
});

describe('a refusal points to where the fault is', () => {
  it('a bad value in a part: to its line and column in the parts file', () => {
    const parts = withFile('modules.yaml', 'capacity_Ah: 100', 'capacity_Ah: -100');
    const line =
      parts
        .get('../parts/modules.yaml')!
        .split('\n')
        .findIndex((l) => l.includes('-100')) + 1;
    expect(messageOf(() => read(TEXT, parts))).toMatch(
      new RegExp(
        `^\\.\\./parts/modules\\.yaml:${line}:22: bank\\.module\\.capacity_Ah: found -100; expected`,
      ),
    );
  });

  it('an unknown key in a part: to the key, with the likely one', () => {
    const refused = messageOf(() => read(TEXT, withFile('inverters.yaml', 'rating_kW: 5 ', 'rating_W: 5 ')));
    expect(refused).toMatch(/^\.\.\/parts\/inverters\.yaml:\d+:7: inverter\.rating_W: unknown key/m);
    expect(refused).toContain('did you mean "rating_kW"?');
  });

  it('a bad value in what an all-in-one brings: into its part', () => {
    const parts = withFile(
      'inverters.yaml',
      '{ max_charge_A: 60, efficiency_share',
      '{ max_charge_A: none, efficiency_share',
    );
    expect(messageOf(() => read(TEXT, parts))).toMatch(
      /^\.\.\/parts\/inverters\.yaml:\d+:\d+: charger\.max_charge_A: found the text "none"/,
    );
  });

  it('a value that the scenario says itself: into the scenario', () => {
    const own = swap(TEXT, 'modules_parallel: 4', 'modules_parallel: 0');
    expect(messageOf(() => read(own))).toMatch(/^plant\.yaml:\d+:\d+: bank\.modules_parallel: found 0/);
  });

  it('a name that no file has: to the name, with the nearest', () => {
    const refused = messageOf(() => read(swap(TEXT, 'module-5kWh', 'modul-5kWh')));
    expect(refused).toMatch(/^plant\.yaml:\d+:9: bank\.part: no part is named "modul-5kWh"/);
    expect(refused).toContain('did you mean "module-5kWh"?');
    expect(messageOf(() => read(swap(TEXT, 'part: module-5kWh', 'part: diesel-4kW')))).toContain(
      '"diesel-4kW" is a part of kind generator; expected one of module-5kWh',
    );
    expect(messageOf(() => read(swap(TEXT, /parts_files.*\n/, ''), new Map()))).toContain(
      'no parts_files are named',
    );
  });

  it('parts_files that is no list', () => {
    const refused = messageOf(() =>
      read(swap(TEXT, /parts_files: .*/, 'parts_files: ../parts/panels.yaml'), new Map()),
    );
    expect(refused).toMatch(
      /^plant\.yaml:\d+:\d+: parts_files: found the text "\.\.\/parts\/panels\.yaml"; expected a list/,
    );
    expect(partsFilesNamed(TEXT, FILE)).toHaveLength(4);
  });
});

describe('a parts file', () => {
  const good = 'parts:\n  - name: a\n    kind: panel\n    values: { panel_kWp: 0.4 }\n';
  it.each([
    ['', /^p\.yaml:1:1: the file is empty\n {4}fix: begin with parts:/],
    ['- a\n', /^p\.yaml:1:1: the file holds a list, not parts/],
    ['site: {}\n', /p\.yaml:1:1: site: unknown key; expected one of parts/],
    ['parts: []\n', /^p\.yaml:1:8: parts: found an empty list/],
    [
      swap(good, 'panel\n', 'pannel\n'),
      /^p\.yaml:3:11: parts\[0\]\.kind: found the text "pannel".*\n {4}fix: did you mean "panel"\?/,
    ],
    [swap(good, 'kind: panel', 'sort: panel'), /^p\.yaml:3:5: parts\[0\]\.sort: unknown key/m],
    [swap(good, '    values: { panel_kWp: 0.4 }\n', ''), /parts\[0\]\.values: missing/],
    [
      `${good}    price: 3\n`,
      /^p\.yaml:5:5: parts\[0\]\.price: unknown key.*\n {4}fix: put the values of the part under values:/,
    ],
    [`${good}    brings: { trackers: 0 }\n`, /^p\.yaml:5:25: parts\[0\]\.brings\.trackers: found 0/],
    [`${good}  - name: a\n    name: b\n`, /^p\.yaml:6:5: .*second time/],
  ])('is refused with a place and a way out: %j', (text, expected) => {
    const refused = messageOf(() => readParts(text, 'p.yaml'));
    expect(refused).toMatch(expected);
    expect(refused).toMatch(/fix: /);
  });

  // Lengths of our own choice, no source.
  it.each([
    ['name: NAME', 100, /parts\[0\]\.name: found the text "x+…".*\n.*shorten it to 100 signs/],
    ['name: a, about: NAME', 500, /parts\[0\]\.about: found the text "x+…".*\n.*shorten it to 500 signs/],
  ])('takes a text of "%s" of %i signs and none longer', (keys, most, said) => {
    const partOf = (signs: number) =>
      readParts(
        `parts: [{ ${keys.replace('NAME', 'x'.repeat(signs))}, kind: module, values: {} }]`,
        'p.yaml',
      );
    expect(partOf(most)).toHaveLength(1);
    expect(messageOf(() => partOf(most + 1))).toMatch(said);
  });

  it('brings as many as twenty trackers', () => {
    const bringing = (trackers: number) =>
      readParts(
        `parts: [{ name: a, kind: inverter, values: {}, brings: { trackers: ${trackers} } }]`,
        'p.yaml',
      );
    expect(bringing(20)[0]!.brings.trackers).toBe(20);
    expect(messageOf(() => bringing(21))).toMatch(/brings\.trackers: found 21; .* from 1 to 20/);
    expect(messageOf(() => bringing(0))).toMatch(/brings\.trackers: found 0/);
  });

  it('may not give two parts one name, be they in two files', () => {
    const twice = new Map([...SHIPPED, ['more.yaml', good.replace('name: a', 'name: panel-430W')]]);
    expect(messageOf(() => read(TEXT, twice))).toMatch(
      /^more\.yaml:2:11: parts\[0\]\.name: a part named "panel-430W" stands in \.\.\/parts\/panels\.yaml:\d+ already/,
    );
  });
});

describe('the parts that come with Longnight', () => {
  const shelf = [...SHIPPED].flatMap(([file, text]) => readParts(text, file));

  it('are of every kind, and each can be used', () => {
    expect([...new Set(shelf.map((part) => part.kind))].sort()).toEqual([...PART_KINDS].sort());
    for (const { name, kind } of shelf) {
      const text = {
        panel: TEXT.replace('panel-430W', name),
        module: TEXT.replace('module-5kWh', name).replace('start_soc: 0.25', 'start_soc: 0.55'),
        inverter: TEXT.replace('all-in-one-5kW', name),
        generator: TEXT.replace('diesel-4kW', name),
        charger: TEXT.replace('\ngenerator:', `\ncharger: { part: ${name} }\n\ngenerator:`),
        tracker: TEXT.replace('    losses:', `    tracker: { part: ${name} }\n    losses:`),
      }[kind];
      expect(text).toContain(`part: ${name}`);
      expect(() => read(text), name).not.toThrow();
    }
  });

  it('say of every price and size that it is invented, or where it is from', () => {
    for (const [file, text] of SHIPPED) {
      const bare = text
        .split('\n')
        .filter((line) => /^ {6,}\S*: .*\d/.test(line) && !line.includes('#'))
        // Wholes whose comment stands above or below: a chemistry, sixteen cells, the number of trackers.
        .filter((line) => !/^\s+(trackers|nominal_voltage_V|floor_soc): /.test(line));
      expect(bare, file).toEqual([]);
      expect(text).toMatch(/^# Invented and generic: no make, no model, no shop/m);
      expect(text).toMatch(/crowns, a currency of no country/);
    }
  });
});
