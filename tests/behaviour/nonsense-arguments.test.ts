/** Whatever the functions of the library are handed, they say which argument is wrong and what makes a right one. */

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import * as core from '@longnight/core';
import * as array from '@longnight/core/array';
import * as bank from '@longnight/core/bank';
import * as clock from '@longnight/core/clock';
import * as figures from '@longnight/core/findings';
import * as columns from '@longnight/core/ledger';
import * as machines from '@longnight/core/machines';
import * as money from '@longnight/core/money';
import * as place from '@longnight/core/place';
import * as scenario from '@longnight/core/scenario';
import * as sky from '@longnight/core/sky';
import * as study from '@longnight/core/study';
import * as sun from '@longnight/core/sun';
import * as wiring from '@longnight/core/wiring';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { plantWith } from '../support/plant.ts';
import { yearOf } from '../support/year.ts';

const NONSENSE: readonly unknown[] = [
  ...[undefined, null, {}, Number.NaN, -1, 1e308, '', 'x', [], [null], new Map(), () => 1],
  ...[new Float64Array(3), new Float64Array(1_000_000), Array(10_000).fill(0), true, Symbol('x')],
];

const text = readFileSync(join(import.meta.dirname, '../../data/demo/holds.yaml'), 'utf8');
const read = core.readScenario(text, 'hut.yaml');
const year = core.prepareYear(read);
const plant = core.plantOf(read.scenario);
const ledger = core.playYear(year, plant);
const source = { text, file: 'hut.yaml', partsTexts: new Map() };
const parts = readFileSync(join(import.meta.dirname, '../../data/parts/modules.yaml'), 'utf8');
const { site } = read.scenario;
const { steps } = year.clock;
const axes = [study.readAxis('bank.modules_parallel=1:3:1')];
const bound = study.readRequirement('unmet.share<=0.001', ['unmet.share']);
const ask = { holds: [bound], least: 'unmet.share', years_to_hold: 1 };
const panel = {
  ...{ voc_V: 50, vmp_V: 42, isc_A: 10, imp_A: 9.5 },
  ...{ voc_temperature_coefficient_per_K: -0.0027 },
};
const generator = scenario.scenarioSchema.shape.generator.unwrap().parse({
  rating_kW: 4,
  fuel: { half_load_L_per_h: 1, full_load_L_per_h: 1.6 },
  start_soc: 0.3,
  stop_soc: 0.8,
});
const life = [
  { depth_share: 0.2, cycles: 4000 },
  { depth_share: 0.8, cycles: 1200 },
];
const terms = {
  ...{ years: 20, discount_share_per_year: 0.03, residual_share: 0, service: null },
  ...{ fuel_price_per_L: 1.5, fuel_price_growth_share_per_year: 0.02 },
  ...{ shore_price_per_kWh: null, shore_price_growth_share_per_year: 0 },
};
const use = {
  ...{ served_kWh: 2000, equivalent_full_cycles: 100, generator_run_h: 50, fuel_L: 60, shore_kWh: 0 },
};
const bill = { lines: [], capital: 1000, unpriced: [] };
const grown = (size_kWp: number) => ({
  ...{ size_kWp, run_hours: 100 / size_kWp, fuel_L: 80 / size_kWp, unmet_kWh: 1 },
  ...{ capital: 1000 * size_kWp, total: 2000 * size_kWp },
});

/** Arguments that each function takes; what stands beside nonsense is sound. A text says why it is not put to it. */
const SOUND: Readonly<Record<string, readonly unknown[] | string>> = {
  BalanceError: 'a class',
  InputError: 'a class',
  issueText: [{ code: 'x', path: '', message: 'm' }],
  scenarioJsonSchema: [],
  readParts: [parts, 'p.yaml'],
  partsFilesNamed: [text, 'hut.yaml'],
  readScenario: [text, 'hut.yaml', new Map()],
  scenarioOf: [parse(text), 'hut', new Map()],
  filesNamed: [read.scenario],
  newYearPreparer: ['hut.yaml', new Map()],
  prepareYear: [read, 'hut.yaml', new Map()],
  agedPlant: [plant, 0.9, plant.arrays.map(() => 1)],
  plantOf: [read.scenario],
  newReusedColumns: [24],
  playYear: [year, plant, core.newReusedColumns(year.clock.steps)],
  audit: [ledger],
  overPeriods: [ledger.columns.fuel_L, 'sum', core.periodStarts(year.clock, 'month')],
  periodStarts: [year.clock, 'day'],
  findings: [ledger, 7],
  cautions: [plant],
  dangersOf: [year, plant],
  staticLimits: [plant],
  billOfScenario: [read.scenario],
  headline: [ledger, 10],
  comparePlants: [['a', 'b'].map((label) => ({ label, scenario: read.scenario })), new Map()],
  newVariantMaker: [read, 'hut.yaml', new Map()],
  improvePlant: [source, new Map()],
  sizePlant: [source, [], { holds: [], least: 'unmet_share', years_to_hold: 1 }, {}],
  varyPlant: [source, [], {}],
  swayPlant: [source, new Map()],
  askWeek: [year, plant, { days: 7, start: null, soc: 0.7, generator: true }],
  playEnsemble: [
    { scenario: read.scenario, plant, years: [{ kind: 'drawn', seed: 1 }], prepare: () => year },
  ],
  playEveryYear: [read, 'hut.yaml', new Map(), year],
  playYears: [
    { years: 1, plant, yearOf: () => year, array_ageing_share_per_year: plant.arrays.map(() => 0) },
  ],

  openVoltage_V: [panel, -20],
  workingVoltage_V: [panel, 70],
  stringFindings: [year, plant],
  buildBank: [read.scenario.bank],
  withModules: [plant.bank, 3],
  sunlessHours: [year, plant],
  fitKinetic: [100, 88, 74],
  rainflow: [ledger.columns.bank_soc],
  cycleLifeUsed_share: [bank.rainflow(ledger.columns.bank_soc), life],
  buildClock: [2025, 'Etc/UTC', 60],
  localDate: [year.clock, 12],
  localTime: [year.clock, 12],
  utcTime: [year.clock, 12],
  figureNamed: ['unmet.share'],
  figuresOfReport: [core.findings(ledger, 7)],
  isUnmet: 'asked of every step: it compares, and what is no number is not unmet',
  dayOf: [ledger, 3],
  tierColumn: [1],
  buildGenerator: [generator],
  buildInverter: [read.scenario.inverter],
  weightedEfficiency: [plant.inverter, machines.EUROPEAN_WEIGHTS],
  annuity: [20, 0.03, 0.01],
  lifetimeCost: [bill, terms, [use]],
  termsOf: [read.scenario],
  firstGuess: [47, 8, 500],
  landHeight_m: [47, 8],
  siteOfFile: ['hour,W', 'x.csv'],
  zoneNotices: [site, 'Etc/UTC', 2025],
  partsJsonSchema: [],
  partsKeys: [],
  scenarioKeys: [],
  refused: 'takes a text behind it: an error of the program, not of a user',
  refusal: 'makes an error: of the program, not of a user',
  sunPosition: [0, 47, 8],
  sunYear: [year.clock, site, 1361],
  sunOverIntervals: [
    year.clock.start_ms.slice(0, 3),
    year.clock.start_ms.slice(1, 4),
    { latitude_deg: 47, longitude_deg: 8 },
    1361,
  ],
  clearSkyGlobalYear: [year.sun, new Float64Array(steps).fill(3), 500],
  splitGlobal: [year.sky.ghi_W_m2, year.sun, 'erbs'],
  weatherFindings: [year, place.firstGuess(47, 8, 500)],
  bankConductor: [plant],
  coldVoltageFactor: [-12],

  readAxis: ['bank.modules_parallel=1:3:1'],
  readAxes: [['bank.modules_parallel=1:3:1']],
  readSetting: ['run.load_factor=1.2'],
  readRequirement: ['unmet.share<=0.001', ['unmet.share'], ['unmet.share']],
  readSource: [source],
  openStudy: [source, axes],
  newChunkPlayer: [{ source, texts: new Map(), axes, years: [] }],
  newChooser: [ask],
  newWeakestFinder: ['hut.yaml', new Map(), study.NOT_HARDER],
  combinations: [axes],
  digitsOf: [axes, 1],
  neighboursOf: [axes, 1],
  factorOf: ['x1.5'],
  sampleDesigns: [axes, 2],
  refuseYearAxes: [axes, read.scenario, []],
  refuseCircumstances: [axes],
  studyNotices: [read.scenario],
  growthSteps: [[grown(1), grown(2)], terms, 2],
  darkSeasonsBelow: [{ ...read.scenario, weather: { kind: 'clear-sky' } }, 0.9, false],
  holds: [bound, 0.5],
  nearestFigure: ['unmet.shar', ['unmet.share']],
  howSure: [3, 10],
  yearsToTell: [3, 10, 9],
  percentile: [95],
  overYears: ['unmet.share', 'p95', [0.1, 0.2]],
  possibleYears: [read, 'hut.yaml', new Map(), { seeds: 2 }],
  hoursByYear: [year, () => year],
  askEveryYear: [read, 'hut.yaml', new Map(), { days: 7, start: null, soc: null, generator: true }],
  figuresOf: 'takes a chunk that newChunkPlayer gave',
  figureOfRow: 'takes a row of what playEveryYear gave',
  triedDesign: 'takes figures that figuresOf gave',
  statisticOf: 'takes what readRequirement and figureOfRow gave',
  inYear: 'takes a year of possibleYears',
  nearest: 'takes a key that swayPlant gave',
  withEveryYear: 'takes what findings and playEveryYear gave',
};

/** Names in messages would be of no use: what JavaScript itself says of a field of nothing. */
const RAW =
  /Cannot |is not iterable|is not a function|undefined|Invalid |Reduce of|out of range|Maximum call/;

/** True if a figure is none, anywhere within what was given back. */
function holdsNaN(value: unknown, depth = 0): boolean {
  if (typeof value === 'number') return Number.isNaN(value);
  if (value instanceof Float64Array) return value.some(Number.isNaN);
  if (typeof value !== 'object' || value === null || depth > 3) return false;
  return Object.values(value).some((one) => holdsNaN(one, depth + 1));
}

describe('every function of the library', () => {
  const entries = {
    array,
    bank,
    clock,
    figures,
    columns,
    machines,
    money,
    place,
    scenario,
    sky,
    study,
    sun,
    wiring,
  };
  const functions = Object.entries(Object.assign({}, core, ...Object.values(entries))).filter(
    ([, value]) => typeof value === 'function',
  );
  const named = new Map(functions as [string, (...given: unknown[]) => unknown][]);

  it('is listed here', () => {
    expect(Object.keys(SOUND).sort()).toEqual(functions.map(([name]) => name).sort());
  });

  it.each(
    functions.map(([name]) => name).filter((name) => Array.isArray(SOUND[name]) && SOUND[name].length > 0),
  )('%s, handed nonsense for any argument, refuses it in words or does without', (name) => {
    const work = named.get(name)!;
    const sound = SOUND[name] as readonly unknown[];
    // No file of two years is at hand: the question is refused once its arguments are looked at.
    if (name !== 'askEveryYear') expect(holdsNaN(work(...sound))).toBe(false);
    const wrong: string[] = [];
    for (let k = 0; k < sound.length; k++)
      for (const nonsense of NONSENSE) {
        const said = `argument ${k} as ${String(nonsense).slice(0, 20)}`;
        try {
          const made = work(...sound.with(k, nonsense));
          const result = name === 'varyPlant' ? [...(made as Iterable<unknown>)] : made;
          if (holdsNaN(result) && !holdsNaN(nonsense)) wrong.push(`${said}: NaN`);
        } catch (error) {
          const { message } = error as Error;
          const isOurs = error instanceof core.InputError || message.includes('expected');
          if (!isOurs || RAW.test(message.split(';')[0]!))
            wrong.push(`${said}: ${String(error).slice(0, 160)}`);
        }
      }
    expect(wrong).toEqual([]);
  });

  it('is put to it, or says why not', () => {
    const reasons = Object.values(SOUND).filter((sound) => typeof sound === 'string');
    expect(reasons.filter((reason) => reason.length < 7)).toEqual([]);
    expect(reasons.length).toBeLessThan(15);
  });

  /** What a user writes by hand, and nothing else has checked. */
  const BY_HAND = ['openVoltage_V', 'workingVoltage_V', 'lifetimeCost', 'growthSteps', 'sunOverIntervals'];

  it.each(BY_HAND)(
    '%s, handed nonsense in any field of its arguments, refuses it or does without',
    (name) => {
      const work = named.get(name)!;
      const sound = SOUND[name] as readonly unknown[];
      const wrong: string[] = [];
      for (const [k, argument] of sound.entries()) {
        const inList = Array.isArray(argument);
        const fields: unknown = inList ? argument[0] : argument;
        if (fields === null || typeof fields !== 'object' || ArrayBuffer.isView(fields)) continue;
        for (const field of Object.keys(fields))
          for (const nonsense of [undefined, Number.NaN, -1e9, 'x', {}]) {
            const mangled = { ...fields, [field]: nonsense };
            const said = `argument ${k}.${field} as ${String(nonsense)}`;
            try {
              if (holdsNaN(work(...sound.with(k, inList ? argument.with(0, mangled) : mangled))))
                wrong.push(`${said}: NaN`);
            } catch (error) {
              const { message } = error as Error;
              if (!message.includes('expected') || RAW.test(message.split(';')[0]!))
                wrong.push(`${said}: ${message}`);
            }
          }
      }
      expect(wrong).toEqual([]);
    },
  );
});

describe('a plant and a year that do not fit', () => {
  const sound = plantWith({ size_kWp: 2 });
  const steps = 48;
  const day = yearOf({ dc_kW_per_kWp: [new Float64Array(steps)], load_kW: new Float64Array(steps) });

  it('is told by the argument: nothing for a bank, a column of another length, reused columns of another year', () => {
    const play =
      (made: unknown, of: unknown = day, reused?: unknown) =>
      () =>
        core.playYear(of as never, made as never, reused as never);
    expect(play({ ...sound, bank: null })).toThrow('playYear: plant.bank is null; expected an object');
    expect(play({ ...sound, arrays: 5 })).toThrow('playYear: plant.arrays is 5; expected a list');
    expect(play(sound, { ...day, bank_temperature_C: new Float64Array(3) })).toThrow(
      'playYear: year.bank_temperature_C.length is 3; expected 48 to 48',
    );
    expect(play(sound, day, core.newReusedColumns(24))).toThrow('reused.tracked_kWh.length is 24');
    expect(play({ ...sound, bank: { ...sound.bank, floor_kWh: -100 } })).toThrow('bank.floor_kWh is -100');
  });
});

describe('what once went on without end', () => {
  it('is refused', () => {
    expect(() => money.annuity(1e308, 0.03)).toThrow('annuity: years is 1e+308; expected 0 to 1000');
    expect(() => study.howSure(0, 1e308)).toThrow('howSure: years is 1e+308; expected 1 to 1000000');
    expect(() => place.firstGuess(Number.NaN, 10, 0)).toThrow(/latitude_deg is NaN; expected -90 to 90/);
  });
});
