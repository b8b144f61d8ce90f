/** The JSON Schema that editors use says the same of a file as the reader does, but for what it can't say. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import {
  InputError,
  type JsonSchema,
  partsFilesNamed,
  readParts,
  readScenario,
  scenarioJsonSchema,
} from '@longnight/core';
import { partsJsonSchema, scenarioSchema } from '@longnight/core/scenario';
import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { STARTER } from '../../packages/cli/src/commands/init/starter/starter.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const ajv = new Ajv({ strict: true, strictTypes: false, strictRequired: false, allErrors: true });
const isScenario = ajv.compile(scenarioJsonSchema());
const isParts = ajv.compile(partsJsonSchema());

/** What the reader has against a text, as codes with paths; empty if nothing. */
function refusals(text: string, parts: ReadonlyMap<string, string> = new Map()): string[] {
  try {
    readScenario(text, 'x.yaml', parts);
    return [];
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return error.issues.map(({ code, path }) => `${code} ${path}`);
  }
}

/**
 * Codes of what a JSON Schema can't express: names of zones, rules between values, what stands in a parts file. All the
 * rest must be seen by both.
 */
const BEYOND_SCHEMA = [
  'unknown-time-zone',
  'contradiction',
  'duplicate-name',
  'missing-seed',
  'empty-window',
  'overlap',
  'no-year',
  'empty-shape',
  'unknown-part',
  'no-tracker',
];
const isBeyond = (refusal: string): boolean => BEYOND_SCHEMA.includes(refusal.split(' ')[0]!);

/** Every scenario file of a folder. */
const yamlIn = (folder: string): string[] =>
  readdirSync(join(ROOT, folder))
    .filter((file) => file.endsWith('.yaml'))
    .map((file) => join(folder, file));

function partsOf(file: string, text: string): Map<string, string> {
  const folder = dirname(join(ROOT, file));
  return new Map(
    partsFilesNamed(text, file).map((name) => [name, readFileSync(resolve(folder, name), 'utf8')]),
  );
}

describe('the JSON Schema of a scenario', () => {
  it.each([...yamlIn('data/demo'), ...yamlIn('data/plants')])('accepts %s, as the reader does', (file) => {
    const text = readFileSync(join(ROOT, file), 'utf8');
    expect(refusals(text, partsOf(file, text))).toEqual([]);
    isScenario(parse(text));
    expect(isScenario.errors ?? []).toEqual([]);
  });

  it('accepts the starter', () => {
    expect(isScenario(parse(STARTER))).toBe(true);
  });

  it.each(yamlIn('tests/cli/bad'))('says of %s what the reader says', (file) => {
    const text = readFileSync(join(ROOT, file), 'utf8');
    const refused = refusals(text, partsOf(file, text));
    expect(isScenario(parse(text))).toBe(refused.every(isBeyond));
  });

  it('agrees with the schema of the reader on every value of whole scenarios, changed one at a time', () => {
    for (const whole of wholes()) expect(refusals(JSON.stringify(whole))).toEqual([]);
    const differing: string[] = [];
    let [accepted, refused] = [0, 0];
    for (const [name, changed] of wholes().flatMap((whole, i) => [...changes(whole, i)])) {
      const issues = scenarioSchema.safeParse(changed).error?.issues ?? [];
      const isAccepted = isScenario(changed);
      // Refinements, which are of no other code, are all that JSON Schema can't say.
      const isBeyond = issues.every((issue) => issue.code === 'custom');
      if (isAccepted !== isBeyond)
        differing.push(`${name}: ${isAccepted}, ${issues.map(({ message }) => message).join('; ')}`);
      if (isAccepted) accepted++;
      else refused++;
    }
    expect(differing).toEqual([]);
    expect(accepted).toBeGreaterThan(500);
    expect(refused).toBeGreaterThan(2000);
  });

  it('lets the reader alone see what lies between values', () => {
    const edited = (from: string, to: string) => {
      expect(STARTER).toContain(from);
      return STARTER.replace(from, to);
    };
    const cases: [text: string, refusal: string][] = [
      [edited('Europe/Vienna', 'Europe/Viena'), 'unknown-time-zone site.time_zone'],
      [edited('rating_kW: 5', 'rating_kW: 50'), 'contradiction inverter.surge_kW'],
      [edited('name: lights', 'name: refrigerator'), 'duplicate-name loads[1].name'],
      [edited('"06:30-08:00"', '"06:30-06:30"'), 'empty-window loads[1].windows[0]'],
      [edited('chemistry: lfp', 'part: nobody'), 'unknown-part bank.part'],
    ];
    for (const [text, refusal] of cases) {
      expect(refusals(text)).toContain(refusal);
      expect(isScenario(parse(text)), refusal).toBe(true);
    }
  });

  it('asks for what no part lends: lists, and everything where no part is named', () => {
    const plant = () => parse(readFileSync(join(ROOT, 'data/demo/parts-with-generator.yaml'), 'utf8'));
    const without = (edit: (plant: Record<string, Record<string, unknown>>) => void): boolean => {
      const data = plant();
      edit(data);
      return isScenario(data);
    };
    expect(without(() => {})).toBe(true);
    expect(without((p) => delete p.bank!.part)).toBe(false);
    expect(without((p) => delete p.inverter!.part)).toBe(false);
    expect(without((p) => delete (p.arrays as unknown as Record<string, unknown>[])[0]!.panels)).toBe(true);
    expect(without((p) => delete p.site)).toBe(false);
  });

  it('says what every key means', () => {
    const unsaid: string[] = [];
    const look = (node: JsonSchema, path: string): void => {
      for (const [key, field] of Object.entries(node.properties ?? {})) {
        const said = field.description ?? '';
        // A default has its reason as description already: a meaning stands before it.
        if (!/^[^.]+.*\.$/.test(said) || said.length < 8) unsaid.push(`${path}.${key}`);
        if (field.default !== undefined && field.properties === undefined && !said.includes('Default '))
          unsaid.push(`${path}.${key} (default)`);
        look(field, `${path}.${key}`);
      }
      for (const list of [node.oneOf, node.anyOf])
        for (const option of (list ?? []) as JsonSchema[]) look(option, path);
      if (node.items) look(node.items as JsonSchema, `${path}[]`);
    };
    look(scenarioJsonSchema(), '');
    look(partsJsonSchema(), '');
    expect([...new Set(unsaid)], 'say it where the key stands, in core/src/scenario/schema').toEqual([]);
  });

  it('leaves the reasons of defaults as they are in the report', () => {
    const { assumptions } = readScenario(STARTER, 'x.yaml');
    expect(assumptions.find(({ path }) => path === 'bank.taper_end_share')?.why).toBe(
      'share of the charge current left when full, the tail current at which chargers stop; common practice, no source',
    );
  });
});

describe('the JSON Schema of a parts file', () => {
  it.each(yamlIn('data/parts'))('accepts %s, as the reader does', (file) => {
    const text = readFileSync(join(ROOT, file), 'utf8');
    expect(readParts(text, file).length).toBeGreaterThan(0);
    isParts(parse(text));
    expect(isParts.errors ?? []).toEqual([]);
  });

  it('knows the keys of each kind', () => {
    const part = (kind: string, values: object) => ({ parts: [{ name: 'p', kind, values }] });
    expect(isParts(part('module', { capacity_kWh: 5 }))).toBe(false);
    expect(isParts(part('module', { module: { capacity_Ah: 100 } }))).toBe(true);
    expect(isParts(part('module', { module: { capacity_Ah: -100 } }))).toBe(false);
    expect(isParts(part('panel', { panel_kWp: 0.4 }))).toBe(true);
    expect(isParts(part('inverter', { panel_kWp: 0.4 }))).toBe(false);
    expect(isParts(part('turbine', {}))).toBe(false);
    expect(isParts({ parts: [] })).toBe(false);
  });
});

/** Scenarios that between them use every kind and most keys. */
function wholes(): Record<string, unknown>[] {
  const starter = () => parse(STARTER) as Record<string, Record<string, unknown>>;
  const time = { column: 't', zone: 'UTC', label: 'start', format: 'yyyy-MM-dd HH:mm', year: 2025 };
  const csv = {
    file: 'f.csv',
    delimiter: ';',
    comment: '#',
    missing: [-999],
    time,
    gaps: { fill: 'interpolate', longest_h: 3 },
  };
  const { arrays, bank, generator, loads } = starter() as unknown as Record<
    string,
    Record<string, unknown>
  > & {
    arrays: object[];
    loads: object[];
  };
  return [
    {
      ...starter(),
      arrays: [{ ...arrays[0], losses: { soiling_share: 0.1 }, albedo: Array(12).fill(0.3), price: 900 }],
      bank: {
        ...bank,
        cycle_life: [
          { depth_share: 0.5, cycles: 8000 },
          { depth_share: 0.9, cycles: 4000 },
        ],
        capacity_at_temperature: [{ temperature_C: 0, share: 0.9 }],
        temperature: { kind: 'outdoors' },
        heater: { keep_C: 5, loss_W_per_K: 4 },
      },
      generator: {
        ...generator,
        service: { every_h: 100, price: 20 },
        tank: { capacity_L: 60, refill_every_days: 30 },
        start_failure: { share: 0.02, seed: 1 },
        quiet_windows: ['22:00-07:00'],
      },
      shore: { max_A: 16, voltage_V: 230, days: ['fri'], months: [6, 7] },
      alternator: { max_charge_A: 40, windows: ['09:00-11:00'] },
      other_sources: [
        { kind: 'constant', name: 'beck', power_W: Array.from({ length: 12 }, () => 90), diversion_W: 200 },
      ],
      shedding: [{ tier: 2, shed_soc: 0.3, restore_soc: 0.5 }],
      wiring: { bank_cable_length_m: 1.5, cable_AWG: '2/0', bank_lowest_voltage_V: 44.8 },
      money: {
        currency: 'crowns',
        years: 20,
        discount_share_per_year: 0.04,
        lines: [{ name: 'mounting', price: 42, per: 'panel' }],
      },
    },
    {
      ...starter(),
      weather: {
        kind: 'series',
        ...csv,
        ghi: { column: 'ghi', unit: 'W_m2' },
        air_temperature: { column: 'a', unit: 'C' },
        wind: { column: 'w', unit: 'm_s' },
      },
      inverter: {
        rating_kW: 5,
        surge_kW: 10,
        idle_W: 45,
        efficiency: { loss_linear: 0.02, loss_quadratic: 0.04 },
      },
      loads: [
        ...loads,
        { kind: 'series', name: 'metered', ...csv, power: { column: 'p', unit: 'kW' } },
        {
          kind: 'temperature',
          name: 'heat pump',
          side: 'heating',
          base_temperature_C: 15,
          slope_W_per_K: 60,
          max_power_W: 1500,
        },
      ],
      wiring: { cable_mm2: 70 },
    },
    { ...starter(), weather: { kind: 'clear-sky', turbidity_linke: 3, air_temperature_C: 5 } },
  ];
}

/** Sections that the scenarios after the first have otherwise than it. */
const OTHERWISE = ['weather', 'inverter', 'loads', 'wiring'];

/** Other values for every place of a scenario, with the name of what was done. */
function* changes(data: unknown, index: number): Generator<readonly [string, unknown]> {
  for (const path of pathsOf(data)) {
    if (index > 0 && !OTHERWISE.includes(String(path[0]))) continue;
    const at = path.join('.');
    for (const value of [
      -1,
      0,
      0.5,
      1,
      1.5,
      7,
      1e12,
      '',
      'x',
      ' ',
      '12:00-13:00',
      null,
      true,
      [],
      [1],
      Array(12).fill(3),
      {},
    ])
      yield [`${at} = ${JSON.stringify(value)}`, withValue(data, path, value)];
    yield [`${at} gone`, withValue(data, path, undefined)];
    const here = path.reduce<unknown>((value, step) => (value as never)[step], data);
    if (typeof here === 'object' && here !== null && !Array.isArray(here))
      yield [`${at} with a key more`, withValue(data, [...path, 'odd_key'], 1)];
  }
}

function* pathsOf(value: unknown, path: (string | number)[] = []): Generator<(string | number)[]> {
  if (path.length > 0) yield path;
  if (typeof value !== 'object' || value === null) return;
  const keys = Array.isArray(value) ? value.keys() : Object.keys(value);
  for (const key of keys) yield* pathsOf((value as never)[key], [...path, key]);
}

function withValue(data: unknown, path: readonly (string | number)[], value: unknown): unknown {
  const copy = structuredClone(data) as Record<string | number, unknown>;
  const parent = path
    .slice(0, -1)
    .reduce<Record<string | number, unknown>>((at, step) => at[step] as never, copy);
  const last = path.at(-1)!;
  if (value === undefined && Array.isArray(parent)) parent.splice(last as number, 1);
  else if (value === undefined) delete parent[last];
  else parent[last] = value;
  return copy;
}
