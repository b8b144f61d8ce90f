/** Series handed over as numbers: what their CSV would give, and messages that name the argument and the index. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  findings,
  type GivenSeries,
  InputError,
  LEDGER_COLUMNS,
  type Ledger,
  newVariantMaker,
  plantOf,
  playEveryYear,
  playYear,
  prepareYear,
  readScenario,
  type ScenarioInput,
  scenarioOf,
} from '@longnight/core';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';

const demo: ScenarioInput = parse(
  readFileSync(join(import.meta.dirname, '../../data/demo/short-of-bank.yaml'), 'utf8'),
);
const YEAR = demo.run.year;
/** In the site's own time, Central European without its summer. */
const START = Date.UTC(YEAR - 1, 11, 31, 23);
const HOURS = 8760;

/** The drawn sky of the demo as if it had been measured, in awkward units. */
const drawn = prepareYear(scenarioOf(demo)).sky;
const sky = {
  ghi: drawn.ghi_W_m2.map((W_m2) => 3.6 * W_m2),
  dhi: drawn.dhi_W_m2.slice(),
  air_temperature: drawn.air_temperature_C.map((C) => C + 273.15),
};
const weatherKeys = {
  kind: 'series',
  ghi: { unit: 'kJ_m2' },
  dhi: { unit: 'W_m2' },
  air_temperature: { unit: 'K' },
  wind_m_s: 2,
} as const;
/** Invented: a quarter of an hour's energy that never repeats, Wh. */
const QUARTERS = 4 * HOURS;
const meter = Float64Array.from({ length: QUARTERS }, (_, i) => 60 + 50 * Math.sin(i) + (i % 96));
const loadKeys = { kind: 'series', name: 'meter', tier: 2, power: { unit: 'Wh' } } as const;

const stamp = (step_min: number, i: number): string => new Date(START + i * step_min * 60_000).toISOString();
/** The same as a CSV, each figure as exact as it is. */
const csv = (step_min: number, columns: Readonly<Record<string, Float64Array>>): string => {
  const names = Object.keys(columns);
  const rows = columns[names[0]!]!.length;
  const cell = (value: number): string => (Number.isNaN(value) ? '' : `${value}`);
  return [
    ['t', ...names].join(),
    ...Array.from({ length: rows }, (_, i) =>
      [stamp(step_min, i), ...names.map((name) => cell(columns[name]![i]!))].join(),
    ),
  ].join('\n');
};
const time = { column: 't', zone: 'UTC', label: 'start' } as const;

const given = (own: {
  weather?: Partial<GivenSeries>;
  load?: Partial<GivenSeries>;
  gaps?: { fill: 'interpolate'; longest_h: number };
}): ScenarioInput => ({
  ...demo,
  weather: {
    ...weatherKeys,
    ...(own.gaps ? { gaps: own.gaps } : {}),
    series: { start_utc_ms: START, step_min: 60, values: sky, ...own.weather },
  },
  loads: [
    ...demo.loads,
    {
      ...loadKeys,
      ...(own.gaps ? { gaps: own.gaps } : {}),
      series: { start_utc_ms: START, step_min: 15, values: meter, ...own.load },
    },
  ],
});
const AT = demo.loads.length;
const LOAD = `loads[${AT}].series`;

const played = (year: ReturnType<typeof prepareYear>): Ledger => playYear(year, plantOf(year.scenario));
const bytes = ({ buffer, byteOffset, byteLength }: Float64Array) =>
  Buffer.from(buffer, byteOffset, byteLength);
function sameColumns(a: Ledger, b: Ledger): void {
  const other = LEDGER_COLUMNS.filter(({ name }) => !bytes(a.columns[name]).equals(bytes(b.columns[name])));
  expect(other).toEqual([]);
}
function issuesOf(input: ScenarioInput) {
  try {
    prepareYear(scenarioOf(input, 'hut'));
  } catch (error) {
    if (error instanceof InputError) return error.issues.map((issue) => ({ ...issue, text: error.message }));
    throw error;
  }
  return [];
}
const spoiled = (column: Float64Array, at: Readonly<Record<number, number>>): Float64Array => {
  const copy = column.slice();
  for (const [i, value] of Object.entries(at)) copy[Number(i)] = value;
  return copy;
};

describe('the same numbers from a CSV and handed over', () => {
  const holes = { 100: Number.NaN, 101: Number.NaN, 8000: Number.NaN };
  for (const [name, values, load] of [
    ['whole', sky, meter],
    ['with gaps', { ...sky, ghi: spoiled(sky.ghi, holes) }, spoiled(meter, holes)],
  ] as const)
    it(`give the same year: ${name}`, () => {
      const gaps = { fill: 'interpolate', longest_h: 3 } as const;
      const ofFiles = scenarioOf({
        ...demo,
        weather: {
          kind: 'series',
          wind_m_s: 2,
          gaps,
          file: 'sky.csv',
          delimiter: ',',
          time,
          ghi: { column: 'ghi', unit: 'kJ_m2' },
          dhi: { column: 'dhi', unit: 'W_m2' },
          air_temperature: { column: 'air_temperature', unit: 'K' },
        },
        loads: [
          ...demo.loads,
          {
            ...loadKeys,
            gaps,
            file: 'meter.csv',
            delimiter: ',',
            time,
            power: { column: 'power', unit: 'Wh' },
          },
        ],
      });
      const texts = new Map([
        ['sky.csv', csv(60, values)],
        ['meter.csv', csv(15, { power: load })],
      ]);
      const read = prepareYear(ofFiles, 'hut', texts);
      const own = { ghi: values.ghi.slice(), load: load.slice() };
      const handed = prepareYear(scenarioOf(given({ weather: { values }, load: { values: load }, gaps })));
      sameColumns(played(handed), played(read));
      expect(handed.sky.ghi_W_m2).toEqual(read.sky.ghi_W_m2);
      expect(handed.loads.row_peaks).toEqual(read.loads.row_peaks);
      expect(handed.assumptions).toEqual(read.assumptions);
      const said = handed.notices.map(({ message }) =>
        message.replaceAll('weather.series', 'sky.csv').replaceAll(LOAD, 'meter.csv'),
      );
      expect(said).toEqual(read.notices.map(({ message }) => message));
      // What was handed over is as it was.
      expect(values.ghi).toEqual(own.ghi);
      expect(load).toEqual(own.load);

      // The file named in a text may be numbers as well.
      const numbers = new Map<string, GivenSeries>([
        ['sky.csv', { start_utc_ms: START, step_min: 60, values }],
        ['meter.csv', { start_utc_ms: START, step_min: 15, values: { power: load } }],
      ]);
      const text = JSON.stringify(ofFiles.scenario);
      sameColumns(played(prepareYear(readScenario(text, 'hut'), 'hut', numbers)), played(read));
    });

  it('are read anew each time: an array may be filled again', () => {
    const values = { ...sky, ghi: sky.ghi.slice() };
    const read = scenarioOf(given({ weather: { values } }));
    const before = findings(played(prepareYear(read))).array.available_kWh;
    values.ghi.forEach((W, i) => {
      values.ghi[i] = W / 2;
    });
    values.dhi = new Float64Array(HOURS);
    expect(findings(played(prepareYear(read))).array.available_kWh).toBeLessThan(before);
  });

  it('are varied, and played year by year, like those of files', () => {
    const read = scenarioOf(given({}));
    const larger = newVariantMaker(read)({ 'bank.modules_parallel': 7, [`loads[${AT}].scale`]: 2 });
    expect(larger.plant.bank.modules_parallel).toBe(7);
    const wanted = (year: typeof larger.year) => year.loads.tier_kW[1]!.reduce((sum, kW) => sum + kW, 0);
    expect(wanted(larger.year)).toBeGreaterThan(wanted(prepareYear(read)));
    expect(playEveryYear(read, 'hut', read.series, prepareYear(read))).toBeNull();
  });
});

describe('numbers that can not stand', () => {
  it('are named by argument and index', () => {
    const negative = issuesOf(given({ load: { values: spoiled(meter, { 17: -3 }) } }));
    expect(negative).toMatchObject([
      {
        code: 'negative-load',
        place: { file: LOAD, field: 'power', index: 17 },
        message: '-3 Wh is negative',
      },
    ]);
    expect(negative[0]!.text).toMatch(`${LOAD} column "power" index 17: -3 Wh is negative`);
    for (const value of [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])
      expect(issuesOf(given({ load: { values: spoiled(meter, { 5: value }) } }))).toMatchObject([
        { code: 'not-a-number', place: { file: LOAD, field: 'power', index: 5 } },
      ]);
    const six = Object.fromEntries([1, 2, 3, 4, 5, 6].map((i) => [i, -1]));
    expect(issuesOf(given({ load: { values: spoiled(meter, six) } })).map(({ message }) => message)).toEqual([
      ...Array(5).fill('-1 Wh is negative'),
      '1 more like these, 6 in all',
    ]);
  });

  it('are held against the sun, and against what air can be', () => {
    // More than one row in two hundred.
    const many = (value: number) =>
      Object.fromEntries(Array.from({ length: 60 }, (_, k) => [12 + 24 * k, value]));
    const bright = { ...sky, ghi: spoiled(sky.ghi, many(3.6 * 900)) };
    expect(issuesOf(given({ weather: { values: bright } }))).toMatchObject([
      { code: 'above-extraterrestrial', place: { file: 'weather.series', field: 'ghi', index: 12 } },
    ]);
    const hot = { ...sky, air_temperature: spoiled(sky.air_temperature, many(400)) };
    expect(issuesOf(given({ weather: { values: hot } }))).toMatchObject([
      { code: 'out-of-range', place: { index: 12 }, fix: expect.stringMatching(/give NaN/) },
    ]);
    const late = new Map([
      ['weather.series', { start_utc_ms: START + 3 * 3_600_000, step_min: 60, values: sky }],
    ]);
    expect(() =>
      prepareYear(scenarioOf(given({})), 'hut', new Map([...scenarioOf(given({})).series, ...late])),
    ).toThrow(/check weather\.series\.start_utc_ms/);
  });

  it('leave no gap unsaid', () => {
    expect(issuesOf(given({ load: { values: spoiled(meter, { 40: Number.NaN }) } }))).toMatchObject([
      {
        code: 'gap',
        path: `loads[${AT}]`,
        place: { file: LOAD, index: 39 },
        message: expect.stringMatching(/0\.25 h missing in one gap/),
        fix: expect.stringMatching(/complete the series/),
      },
    ]);
    expect(issuesOf(given({ load: { values: meter.subarray(0, QUARTERS - 96) } }))).toMatchObject([
      { code: 'gap', message: expect.stringMatching(/^24 h missing/) },
    ]);
    expect(issuesOf(given({ load: { start_utc_ms: Date.UTC(YEAR + 2, 0, 1) } }))).toMatchObject([
      { code: 'wrong-year', message: expect.stringMatching(/^the series covers/) },
    ]);
  });

  it('have a start, a step and columns of one length', () => {
    const code = (load: object) => issuesOf(given({ load })).map((issue) => [issue.code, issue.path]);
    expect(code({ start_utc_ms: Number.NaN })).toEqual([['not-a-series', `${LOAD}.start_utc_ms`]]);
    expect(code({ start_utc_ms: '2026-01-01' })).toEqual([['not-a-series', `${LOAD}.start_utc_ms`]]);
    for (const step_min of [0, -60, Number.NaN, undefined])
      expect(code({ step_min })).toEqual([['not-a-series', `${LOAD}.step_min`]]);
    expect(code({ values: [1, 2] })).toEqual([['not-a-series', `${LOAD}.values.power`]]);
    expect(code({ values: null })).toEqual([['not-a-series', `${LOAD}.values.power`]]);
    expect(code({ values: { watts: meter } })).toEqual([['not-a-series', `${LOAD}.values.power`]]);
    expect(code({ values: new Float64Array(1) })).toEqual([['not-a-series', `${LOAD}.values`]]);
    const values = { ...sky, dhi: sky.dhi.subarray(1) };
    expect(issuesOf(given({ weather: { values } }))).toMatchObject([
      { code: 'not-a-series', path: 'weather.series.values.dhi' },
    ]);
    expect(issuesOf(given({ weather: { step_min: 240 } }))).toMatchObject([
      { code: 'row-too-long', place: { file: 'weather.series', index: 0 } },
    ]);
  });

  it('are numbers, and not the name of some', () => {
    const load = { ...loadKeys, series: 'meter' };
    expect(issuesOf({ ...demo, loads: [load as never] }).map(({ path }) => path)).toContain(
      'loads[0].series',
    );
  });

  it('are not asked how a text is read, nor may they say it', () => {
    const series = { start_utc_ms: START, step_min: 15, values: meter };
    for (const key of ['time', 'file', 'delimiter', 'missing']) {
      const load = { ...loadKeys, series, [key]: ',' };
      expect(issuesOf({ ...demo, loads: [load as never] })).toMatchObject([
        { code: 'unknown-key', path: `loads[0].${key}` },
      ]);
    }
    const tmy3 = { ...demo, weather: { kind: 'tmy3', file: 'w', wind_m_s: 1 } } as const;
    const texts = new Map([['w', series]]);
    expect(() => prepareYear(scenarioOf(tmy3), 'hut', texts)).toThrow(/tmy3 is a format of texts/);
  });
});
