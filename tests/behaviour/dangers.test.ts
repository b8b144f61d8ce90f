/** What can destroy a part or start a fire is found before an hour is played, and no study recommends it. */

import {
  type Danger,
  dangersOf,
  findings,
  type Improvement,
  improvePlant,
  newYearPreparer,
  plantOf,
  playYear,
  prepareYear,
  readScenario,
} from '@longnight/core';
import { type TriedChange, triedDesign } from '@longnight/core/study';
import { describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';
import { CAUTION_WORDS, unplayedWords } from '../../packages/cli/src/render/improve/change-words.ts';
import { dangerSentence } from '../../packages/cli/src/render/report/dangers.ts';
import { isNewDanger } from '../../packages/core/src/findings/static/dangers.ts';
import { newPlayer } from '../../packages/core/src/study/designs/play.ts';

type Data = Record<string, unknown>;

/** Invented: a panel of 40 V that gives 43.5 V at -10 °C, on a tracker that stands 145 V and 30 A. */
const PANEL = { voc_V: 40, vmp_V: 33, isc_A: 12, imp_A: 11.5, voc_temperature_coefficient_per_K: -0.0025 };
const INPUT = { max_input_V: 145, min_input_V: 60, max_input_A: 30 };
const plant = (own: Data = {}, array: Data = {}, tracker: Data = INPUT): Data => ({
  site: {
    name: 'test hut (invented)',
    latitude_deg: 47,
    longitude_deg: 11,
    elevation_m: 900,
    time_zone: 'Europe/Vienna',
    record_low_C: -10,
  },
  weather: { kind: 'clear-sky', turbidity_linke: 4, air_temperature_C: 5, daily_swing_K: 8 },
  arrays: [
    {
      name: 'roof',
      panels: 3,
      panel_kWp: 0.38,
      panel: PANEL,
      panels_in_series: 3,
      tilt_deg: 50,
      azimuth_deg: 180,
      power_temperature_coefficient_per_K: -0.0035,
      mounting: 'open_rack',
      tracker: { max_power_kW: 20, max_charge_A: 400, ...tracker },
      ...array,
    },
  ],
  bank: bank(),
  inverter: {
    rating_kW: 3,
    surge_kW: 6,
    idle_W: 20,
    efficiency: { loss_linear: 0.03, loss_quadratic: 0.02 },
  },
  loads: [{ kind: 'daily', name: 'house', energy_kWh_day: 6, shape: 'flat' }],
  run: { year: 2025 },
  ...own,
});
const bank = (own: Data = {}): Data => ({
  chemistry: 'lfp',
  modules_parallel: 2,
  module: { nominal_voltage_V: 48, capacity_Ah: 100, max_charge_A: 100, max_discharge_A: 100 },
  round_trip_efficiency_share: 0.94,
  floor_soc: 0.1,
  temperature: { kind: 'indoors', temperature_C: 15 },
  ...own,
});
const text = (data: Data): string => stringify(data, { aliasDuplicateObjects: false });
const yearOf = (data: Data) => {
  const read = readScenario(text(data), 'hut.yaml');
  return prepareYear(read, 'hut.yaml', new Map());
};
const dangers = (data: Data): readonly Danger[] => {
  const year = yearOf(data);
  return dangersOf(year, plantOf(year.scenario));
};
const ids = (data: Data): string[] => dangers(data).map(({ id }) => id);
const reportOf = (data: Data) => {
  const year = yearOf(data);
  const of = plantOf(year.scenario);
  return findings(playYear(year, of));
};

describe('dangers', () => {
  it('four panels of 43.5 V in the cold are 174 V on an input of 145 V (NEC 690.7(A), first method)', () => {
    const [danger, ...others] = dangers(plant({}, { panels: 4, panels_in_series: 4 }));
    expect(others).toEqual([]);
    // 4 × 40 V × (1 + 0.0025 × 35)
    expect(danger).toMatchObject({ id: 'string_voltage', path: 'arrays[0].tracker.max_input_V', limit: 145 });
    expect(danger!.figure).toBeCloseTo(174, 9);
    expect(dangerSentence(danger!)).toMatch(
      /4 panels in series can give 174 V at the record cold of -10\.0 °C.*145 V/,
    );
    expect(dangers(plant())).toEqual([]);
  });
  it('one panel alone that is too much is one too, whatever is said of strings', () => {
    const unsaid = { panels_in_series: undefined };
    expect(ids(plant({}, unsaid, { max_input_V: 40 }))).toEqual(['string_voltage']);
    expect(ids(plant({}, unsaid, { max_input_V: 50 }))).toEqual([]);
    expect(ids(plant({}, unsaid, { max_input_A: 14 }))).toEqual(['string_current']);
  });
  it('short circuit: 1.25 times the amps of all strings against the rating (NEC 690.8(A)), not 1.5625', () => {
    // Two of 12 A: 30 A with 1.25, which an input of 30 A stands; 37.5 A with 1.5625 would not be.
    expect(ids(plant({}, { panels: 6 }))).toEqual([]);
    const [danger] = dangers(plant({}, { panels: 9 }));
    expect(danger).toMatchObject({ id: 'string_current', figure: 45, limit: 30, unit: 'A' });
  });
  it('limits that the file does not say, where strings are counted', () => {
    expect(ids(plant({}, {}, {}))).toEqual(['voltage_limit_missing', 'current_limit_missing']);
    expect(ids(plant({}, { panels: 0 }, {}))).toEqual([]);
  });
  it('a socket stronger than the cable to it', () => {
    const shore = (cable_A?: number): Data => ({ shore: { max_A: 16, voltage_V: 230, cable_A } });
    expect(dangers(plant(shore(10)))).toMatchObject([{ id: 'shore_cable', figure: 16, limit: 10 }]);
    expect(ids(plant(shore(16)))).toEqual([]);
    expect(ids(plant(shore()))).toEqual([]);
  });
  it('a cable of the file whose largest fuse would blow in ordinary service', () => {
    // 3 kW with a loss of 5 % and 20 W at 42 V: 75.5 A; 6 AWG of 65 A may be fused with 70 A, 4 AWG with 90 A.
    const of = (wiring: Data) => dangers(plant({ wiring }, {}, { ...INPUT, max_charge_A: 40 }));
    expect(of({ cable_AWG: 6 })).toMatchObject([
      { id: 'cable_current', path: 'wiring.cable_AWG', limit: 70 },
    ]);
    expect(of({ cable_AWG: 6 })[0]!.figure).toBeCloseTo((3150 + 20) / 42, 9);
    expect(of({ cable_AWG: 4 })).toEqual([]);
    expect(of({ bank_cable_length_m: 2 })).toEqual([]);
  });
  it('a lithium bank that may be charged in frost at all its amps', () => {
    const cold = { temperature: { kind: 'outdoors' }, min_charge_temperature_C: -10 };
    expect(ids(plant({ bank: bank(cold) }))).toEqual([]);
    const winter = {
      weather: { kind: 'clear-sky', turbidity_linke: 4, air_temperature_C: -8, daily_swing_K: 8 },
    };
    const frost = (own: Data) => ids(plant({ ...winter, bank: bank({ ...cold, ...own }) }));
    expect(frost({})).toEqual(['frost_charging']);
    expect(frost({ chemistry: 'lead_acid' })).toEqual([]);
    expect(frost({ min_charge_temperature_C: undefined })).toEqual([]);
    expect(frost({ temperature: { kind: 'indoors', temperature_C: 5 } })).toEqual([]);
    expect(
      frost({
        max_charge_A_at_temperature: [
          { temperature_C: -10, max_charge_A: 5 },
          { temperature_C: 5, max_charge_A: 100 },
        ],
      }),
    ).toEqual([]);
  });
  it('are in the report, counted among its figures, and nobody calls a plant safe', () => {
    const report = reportOf(plant({}, { panels: 4, panels_in_series: 4 }));
    expect(report.dangers).toHaveLength(1);
    expect(JSON.stringify(report)).not.toMatch(/\bsafe\b/i);
  });
  it('are new if they were not there, or are worse', () => {
    const [three] = dangers(plant({}, { panels: 9 }));
    const [four] = dangers(plant({}, { panels: 12 }));
    expect(isNewDanger(three!, [])).toBe(true);
    expect(isNewDanger(three!, [three!])).toBe(false);
    expect(isNewDanger(four!, [three!])).toBe(true);
    expect(isNewDanger(three!, [four!])).toBe(false);
  });
});

describe('studies', () => {
  it('a design that is a danger does not hold, whatever it serves', () => {
    const play = newPlayer(newYearPreparer('hut.yaml', new Map()));
    const of = (panels: number) => play(yearOf(plant({}, { panels })).scenario);
    const ask = { holds: [], least: 'bank.usable_kWh', years_to_hold: 1 } as const;
    expect(of(9).dangers).toBe(1);
    expect(triedDesign(0, [of(9)], ask)).toMatchObject({ holds: false, dangers: 1 });
    expect(triedDesign(0, [of(6)], ask)).toMatchObject({ holds: true, dangers: 0 });
  });
  it('drawn years are alike in what counts: their cold', () => {
    const weather = {
      kind: 'monthly_means',
      ghi_kWh_m2_day: [1.2, 2.1, 3.3, 4.5, 5.3, 5.6, 5.8, 5.0, 3.8, 2.4, 1.3, 0.9],
      air_temperature_C: [-3, -2, 2, 6, 11, 14, 16, 16, 12, 8, 2, -2],
      seed: 1,
    };
    const long = { panels: 4, panels_in_series: 4 };
    const { record_low_C: _, ...site } = plant().site as Data;
    const cold_V = (seed: number): number =>
      dangers(plant({ site, weather: { ...weather, seed } }, long))[0]!.figure;
    expect([2, 3, 7].map(cold_V)).toEqual([cold_V(1), cold_V(1), cold_V(1)]);
  });
});

const mend = (data: Data): Improvement =>
  improvePlant({ text: text(data), file: 'hut.yaml', partsTexts: new Map() }, new Map());
const allOf = ({ helping, repeated, pairs, together, harming, idle }: Improvement): TriedChange[] => [
  ...helping,
  ...repeated,
  ...pairs,
  ...together,
  ...harming,
  ...idle,
];

describe('what the next part buys', () => {
  it('never proposes strings that the input does not stand, and says how many were dropped', () => {
    const loads = [{ kind: 'daily', name: 'house', energy_kWh_day: 8, shape: 'flat' }];
    const improvement = mend(plant({ loads }, { panels: 6 }));
    const strings = allOf(improvement).filter(({ changes }) =>
      changes.some(({ id }) => id === 'arrays[0] more'),
    );
    expect(strings).toEqual([]);
    expect(improvement.dropped_dangerous).toBeGreaterThan(0);
    const { why } = improvement.left_out.find(({ change }) => change.id === 'arrays[0] more')!;
    expect(unplayedWords(why)).toMatch(/it would be a danger.*3 strings side by side can give 45\.0 A/);
    for (const { outcome } of allOf(improvement)) expect(outcome.dangers).toEqual([]);
    // A larger input takes them.
    const wide = mend(plant({ loads }, { panels: 6 }, { ...INPUT, max_input_A: 300 }));
    expect(wide.dropped_dangerous).toBe(0);
    expect(wide.holds_with?.changes[0]?.id).toBe('arrays[0] more');
  });
  it('repeats panels without a data sheet up to 1.5 times the power of the tracker', () => {
    const bare = { panels: undefined, panel_kWp: undefined, panel: undefined, panels_in_series: undefined };
    const loads = [{ kind: 'daily', name: 'house', energy_kWh_day: 30, shape: 'flat' }];
    const improvement = mend(plant({ loads }, { ...bare, size_kWp: 3 }, { max_power_kW: 4 }));
    const sizes = allOf(improvement).flatMap(({ values }) =>
      values.filter(({ path }) => path === 'arrays[0].size_kWp').map(({ value }) => Number(value)),
    );
    expect(Math.max(...sizes)).toBeGreaterThan(5);
    expect(Math.max(...sizes)).toBeLessThanOrEqual(6);
  });
  it('offers an engine where there is none, with a charger, and does not call it the cheapest for its price', () => {
    const loads = [{ kind: 'daily', name: 'house', energy_kWh_day: 12, shape: 'flat' }];
    const improvement = mend(plant({ loads }, { panels: 6 }));
    const engine = improvement.helping.find(({ changes }) => changes[0]!.id === 'generator new');
    expect(engine?.holds_then).toBe(true);
    expect(engine?.values.map(({ path }) => path)).toEqual(['generator', 'charger']);
    expect(CAUTION_WORDS[engine!.changes[0]!.caution!]).toMatch(/fuel, service.*transfer switch/);
    expect(improvement.holds_with).toBe(engine);
    expect(improvement.cautions.join(' ')).toMatch(/carbon monoxide/);
    const others = mend(plant({ loads }, { panels: 6 }, { ...INPUT, max_input_A: 300 }));
    expect(others.holds_with).not.toBeNull();
    expect(others.helping.some(({ changes }) => changes[0]!.id === 'generator new')).toBe(true);
    expect(others.holds_with?.changes.some(({ id }) => id === 'generator new')).toBe(false);
  });
  it('array and bank together where neither alone does', () => {
    const loads = [{ kind: 'daily', name: 'house', energy_kWh_day: 14, shape: 'flat' }];
    // What the input takes is too little without a bank that carries the dull days, and the other way round.
    const improvement = mend(
      plant({ loads, bank: bank({ modules_parallel: 1 }) }, { panels: 6 }, { ...INPUT, max_input_A: 200 }),
    );
    const single = [...improvement.helping, ...improvement.repeated].filter(
      ({ changes }) => new Set(changes.map(({ id }) => id)).size === 1 && changes[0]!.id !== 'generator new',
    );
    expect(single.some(({ holds_then }) => holds_then)).toBe(false);
    const [together] = improvement.together;
    expect(together?.holds_then).toBe(true);
    expect(new Set(together!.changes.map(({ id }) => id))).toEqual(new Set(['arrays[0] more', 'bank more']));
    // What is typed is what was played.
    const typed = parse(
      text(
        plant({ loads, bank: bank({ modules_parallel: 1 }) }, { panels: 6 }, { ...INPUT, max_input_A: 200 }),
      ),
    );
    for (const { path, value } of together!.values) {
      if (path === 'bank.modules_parallel') typed.bank.modules_parallel = value;
      if (path === 'arrays[0].panels') typed.arrays[0].panels = value;
    }
    const play = newPlayer(newYearPreparer('hut.yaml', new Map()));
    expect(play(readScenario(stringify(typed), 'hut.yaml').scenario)['unmet.hours']).toBe(0);
  });
});

describe('chemistry decides', () => {
  const assumed = (own: Data, path: string) =>
    yearOf(plant({ bank: bank(own) })).assumptions.find((one) => one.path === path);

  it('where the charge current falls and how cold a bank may be charged, and the report lists both', () => {
    const of = (own: Data) => plantOf(yearOf(plant({ bank: bank(own) })).scenario).bank;
    expect(of({})).toMatchObject({ taper_start_soc: 0.95, min_charge_temperature_C: 0 });
    expect(of({ chemistry: 'lead_acid' })).toMatchObject({
      taper_start_soc: 0.8,
      min_charge_temperature_C: -20,
    });
    expect(of({ chemistry: 'lead_acid', taper_start_soc: 0.9, min_charge_temperature_C: 5 })).toMatchObject({
      taper_start_soc: 0.9,
      min_charge_temperature_C: 5,
    });
    expect(assumed({ chemistry: 'lead_acid' }, 'bank.taper_start_soc')).toMatchObject({
      value: 0.8,
      kind: 'default',
    });
    expect(assumed({}, 'bank.min_charge_temperature_C')).toMatchObject({ value: 0, kind: 'default' });
    expect(assumed({ taper_start_soc: 0.95 }, 'bank.taper_start_soc')).toBeUndefined();
  });
  it('what is cautioned of: gas and acid of lead-acid, frost and disconnects of lithium', () => {
    const said = (own: Data): string => reportOf(plant({ bank: bank(own) })).cautions.join('\n');
    expect(said({})).toMatch(/BMS/);
    expect(said({})).toMatch(/below freezing plates lithium/);
    expect(said({})).not.toMatch(/hydrogen/);
    expect(said({ chemistry: 'lead_acid' })).toMatch(/hydrogen.*sulphuric acid/);
    expect(said({ chemistry: 'lead_acid' })).not.toMatch(/lithium|BMS/i);
  });
});

describe('cautions', () => {
  const said = (own: Data): string => reportOf(plant(own)).cautions.join('\n');
  const EARTHING = /bond between neutral and earth, and residual-current protection.*Local code/;
  const inverter = {
    rating_kW: 3,
    surge_kW: 6,
    idle_W: 20,
    efficiency: { loss_linear: 0.03, loss_quadratic: 0.02 },
  };

  it('of earthing, bond and residual current: for generator, socket, vehicle and split phase', () => {
    expect(said({})).not.toMatch(EARTHING);
    expect(said({ shore: { max_A: 10, voltage_V: 230 } })).toMatch(EARTHING);
    expect(said({ alternator: { max_charge_A: 30, windows: ['09:00-10:00'] } })).toMatch(EARTHING);
    expect(said({ inverter: { ...inverter, units: 2, legs: 2 } })).toMatch(EARTHING);
    const generator = {
      rating_kW: 3,
      fuel: { full_load_L_per_h: 1.4, half_load_L_per_h: 0.9 },
      start_soc: 0.2,
      stop_soc: 0.7,
    };
    expect(said({ generator })).toMatch(EARTHING);
  });
  it('an inverter that sleeps is not said to be on all year', () => {
    const why = (own: Data): string =>
      yearOf(plant({ inverter: { ...inverter, ...own } })).assumptions.find(
        ({ path }) => path === 'model.inverter',
      )!.why;
    expect(why({})).toMatch(/on all year/);
    const sleeps = why({ sleep: { below_W: 30, search_W: 5 } });
    expect(sleeps).not.toMatch(/on all year/);
    expect(sleeps).toMatch(/sleeps while.*sleep\.below_W/);
  });
});
