/** What is said of dangers, limits, conflicts and notices, in literal words for each branch that chooses them. */
import type { Danger, Report } from '@longnight/core';
import type { LimitReason, PeakConflict, SurgeConflict } from '@longnight/core/findings';
import type { BankConductor } from '@longnight/core/wiring';
import { describe, expect, test } from 'vitest';
import { checkDocument } from '../../packages/cli/src/render/check/document.ts';
import { conductorSentences, surgeSentences } from '../../packages/cli/src/render/report/conductor.ts';
import { dangerSentence, dangersSection } from '../../packages/cli/src/render/report/dangers.ts';
import { limitWords } from '../../packages/cli/src/render/report/limit-words.ts';
import { noticeText, pricedYears, whyText } from '../../packages/cli/src/render/report/notice-words.ts';
import { peakSentences } from '../../packages/cli/src/render/report/peak.ts';
import { arrayAssumptions } from '../../packages/core/src/array/assumptions.ts';
import { patched } from '../support/patched.ts';

describe('a danger', () => {
  const at = { path: 'x', unit: 'V', limit: 100, figure: 120 };
  const volts = { ...at, id: 'string_voltage', array: 'roof', in_series: 3, air_C: -30 };
  const amps = { ...at, id: 'string_current', array: 'roof', strings: 2, figure: 40, limit: 30 };
  const cable = {
    ...at,
    id: 'cable_current',
    inverter_units: 1,
    cables_parallel: 1,
    cable_size: '50 mm²',
    figure: 200,
    limit: 150,
  };
  // biome-ignore format: a table is read by rows
  test.each([
    [volts, "roof: 3 panels in series can give 120 V at the record cold of -30.0 °C, and the tracker's input stands 100 V. That can destroy it, and start a fire. Hang fewer panels in series, or take a tracker whose input stands more."],
    [{ ...volts, in_series: 1 }, "roof: one panel alone can give 120 V at the record cold of -30.0 °C, and the tracker's input stands 100 V. That can destroy it, and start a fire. Hang fewer panels in series, or take a tracker whose input stands more."],
    [{ ...volts, in_series: null, id: 'voltage_limit_missing' }, "roof: one panel alone can give 120 V at the record cold of -30.0 °C, and the file does not say what the tracker's input stands. More than it stands can destroy it, and start a fire. Give max_input_V of its data sheet."],
    [amps, "roof: 2 strings side by side can give 40.0 A in short circuit (1.25 times the panels' rating, for bright light), and the tracker's input stands 30.0 A. That can destroy it, and start a fire. Put fewer strings on one input, or take a tracker whose input stands more."],
    [{ ...amps, strings: 1 }, "roof: one string can give 40.0 A in short circuit (1.25 times the panels' rating, for bright light), and the tracker's input stands 30.0 A. That can destroy it, and start a fire. Put fewer strings on one input, or take a tracker whose input stands more."],
    [{ ...amps, id: 'current_limit_missing' }, "roof: 2 strings side by side can give 40.0 A in short circuit, and the file does not say what the tracker's input stands. More than it stands can destroy it, and start a fire. Give max_input_A of its data sheet, the short-circuit rating."],
    [{ ...at, id: 'frost_charging', coldest_C: -8, allowed_C: -20 }, 'The lithium bank gets down to -8.0 °C and may be charged down to -20 °C, at all its amps. Charging in frost plates lithium in the cells, which can short them and start a fire. Give the limit of the data sheet; if it does allow that, its amps by temperature as max_charge_A_at_temperature.'],
    [cable, 'The cable between bank and inverter can carry 200.0 A for hours, and 50 mm² may be fused with 150.0 A at most. It overheats, and can start a fire. Take a larger cable: check names one that carries it where the file names none.'],
    [{ ...cable, inverter_units: 2, cables_parallel: 2 }, 'The cable between bank and inverter, of each unit, can carry 200.0 A for hours, and 2 × 50 mm² may be fused with 150.0 A at most. It overheats, and can start a fire. Take a larger cable: check names one that carries it where the file names none.'],
    [{ ...at, id: 'shore_cable', figure: 32, limit: 16 }, 'The socket gives 32.0 A, and the cable to it carries 16.0 A. It overheats, and can start a fire. Take a cable and plugs for the amps of the socket, or a breaker of the amps of the cable.'],
    [{ ...at, id: 'diversion_load', source: 'stream', figure: 500, limit: 400 }, 'stream makes up to 500 W, and its diversion load takes 400 W. With the bank full the rest makes it run away, which can destroy it and what hangs on it. Take a diversion load for all its power, or a brake that does without one.'],
  ] as [unknown, string][])('%#', (danger, said) => {
    expect(dangerSentence(danger as Danger)).toBe(said);
  });
  test('one is "Danger", several are counted, none has no section', () => {
    const titles = (...all: unknown[]) => dangersSection(all as Danger[]).map(({ title }) => title);
    expect([titles(), titles(volts), titles(volts, amps)]).toEqual([[], ['Danger'], ['2 dangers']]);
  });
});

test('check calls a file free of errors only where it found no danger', () => {
  const report = (dangers: readonly unknown[]) =>
    checkDocument({
      // Only what stands at its head is read.
      report: {
        site: { name: 'hut' },
        dangers,
        strings: [],
        load: { mean_kWh_day: 0, peak_kW: 0 },
        run: { step_min: 60 },
        cautions: [],
        limits: LIMITS,
        peak: PEAK,
        surge: SURGE,
      } as unknown as Report,
      scenarioName: 'hut.yaml',
      filesRead: dangers.length,
      money: null,
      unknownPanels: [],
    }).about;
  const danger = { id: 'shore_cable', path: 'shore', figure: 32, limit: 16, unit: 'A' };
  expect(report([])).toEqual(['hut.yaml: no error found.']);
  expect(report([danger])).toEqual(['hut.yaml and 1 file it names: read without error.']);
  expect(report([danger, danger])).toEqual(['hut.yaml and 2 files it names: read without error.']);
});

describe('a limit', () => {
  const amps = {
    modules: 1,
    older_modules: 0,
    current_modules: 1,
    amps_A: 100,
    voltage_V: 51.2,
    half_charged: false,
  };
  const at = { amps_A: 60, voltage_V: 51.2 };
  // biome-ignore format: a table is read by rows
  test.each([
    ['bank_discharge_current', amps, 'bank discharge current: 1 module × 100 A at 51.2 V'],
    ['bank_charge_current', { ...amps, modules: 2, half_charged: true, voltage_V: 52.04 }, 'bank charge current: 2 modules × 100 A at 52.0 V, half charged'],
    ['bank_peak_current', { ...amps, older_modules: 3, current_modules: 3.25 }, 'bank peak current: 1 module and 3 older, which carry as 3.25 × 100 A at 51.2 V'],
    ['bank_peak_unknown', amps, "bank discharge current: 1 module × 100 A at 51.2 V, continuous; the modules' peak is not in the file"],
    ['inverter_rating', { units: 1, unit_kW: 5 }, 'inverter rating'],
    ['inverter_rating', { units: 2, unit_kW: 5 }, 'inverter rating: 2 × 5 kW'],
    ['inverter_surge', {}, 'inverter surge rating'],
    ['all_in_one_current', { ...at, beside: false }, 'all charging of the all-in-one: 60 A at 51.2 V'],
    ['all_in_one_current', { ...at, beside: true }, 'all charging of the all-in-one: 60 A at 51.2 V, and what charges beside it'],
    ['all_trackers_current', { ...at, beside: true }, 'current of all trackers of the all-in-one: 60 A at 51.2 V, and what charges beside them'],
    ['all_trackers_power', { power_kW: 6, beside: false }, 'input power of all trackers of the all-in-one: 6 kW, after conversion'],
    ['tracker_current', { amps_A: [60, 40], voltage_V: 51.2, from_ac_kW: null }, 'tracker current: 60 A + 40 A at 51.2 V'],
    ['tracker_power', { from_ac_kW: 1.5 }, 'tracker input power, after conversion, and 1.5 kW of the AC side through the charger'],
    ['tracker_power', { from_ac_kW: null }, 'tracker input power, after conversion'],
    ['operating_current', { inputs: [{ amps_A: 10, voltage_V: 120 }, { amps_A: 9, voltage_V: 80 }], from_ac_kW: null }, 'operating current of tracker inputs: 10 A at 120 V + 9 A at 80 V, after conversion'],
    ['array_size', { from_ac_kW: null }, 'array size, after conversion'],
    ['ac_arrays_size', {}, 'arrays on the AC side, through the charger'],
    ['array_by_array', {}, 'arrays and trackers, one by one'],
    ['charger_current', at, 'charger current: 60 A at 51.2 V'],
    ['generator_rating', {}, 'generator rating, after the charger, with no load on it'],
    ['generator_circuit', {}, 'what the charger draws on the circuit of the generator, after conversion'],
    ['socket_current', {}, 'amps of the socket, after the charger, with no load on it'],
    ['socket_circuit', {}, 'what the charger draws on the circuit of the socket, after conversion'],
    ['ac_arrays', {}, 'arrays on the AC side, after the charger, with no load on them'],
  ] as [string, object, string][])('%s %j', (id, own, said) => {
    expect(limitWords({ by: { id, ...own } as LimitReason, limit_kW: 1 })).toBe(said);
  });
});

const CABLE: BankConductor = {
  units: 1,
  lowest_voltage_V: 44.8,
  lowest_voltage_given: true,
  currents: [
    { by: { id: 'inverter' }, current_A: 120 },
    { by: { id: 'chargers', ac_charger: false }, current_A: 80 },
  ],
  continuous_A: 120,
  needed_A: 150,
  cable: {
    size: '50 mm²',
    parallel: 1,
    given: false,
    metric: false,
    ampacity_A: 160,
    resistance_ohm_per_km: 0.4,
  },
  voltage_drop: null,
  overcurrent: { least_A: 150, most_A: 175, standard_A: [150, 175] },
  conflicts: [],
};
const figure = { figure_kW: null, limits: [] };
const LIMITS = {
  bank_conductor: CABLE,
  ac_output: { ...figure, after_inverter_loss_kW: 0 },
  surge: figure,
  solar_charging: figure,
  ac_charging: figure,
  inverter_efficiency: {},
};
const SURGE: Report['surge'] = {
  running_kW: 3,
  running_time: '2026-01-01T18:00:00+01:00',
  peak_kW: 5,
  peak_time: '2026-01-02T19:00:00+01:00',
  start: null,
  conflicts: [],
};
const PEAK = { conflicts: [], rows: null, hottest: null } as unknown as Report['peak'];

describe('a cable between bank and inverter', () => {
  const by = (reason: object) => ({ currents: [{ by: reason, current_A: 120 }] });
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, 'set by inverter at its rating, bank at 44.8 V: 120 A'],
    [{}, 'then trackers: 80.0 A'],
    [{ units: 2 }, 'set by each of the 2 inverters at its rating, bank at 44.8 V: 120 A'],
    [{ units: 2, ...by({ id: 'chargers', ac_charger: true }) }, 'set by trackers and AC charger together, shared by 2 units: 120 A'],
    [by({ id: 'modules', ac_charger: true, chargers_A: 200 }), 'set by charge current of the modules; trackers and AC charger could give 200 A: 120 A'],
    [{ units: 3, ...by({ id: 'modules', ac_charger: false, chargers_A: 200 }) }, 'set by charge current of the modules, shared by 3 units; trackers could give 200 A: 120 A'],
    [{}, '150 A is 125 % of it. The smallest copper that carries it and has a standard fuse: 50 mm², 160 A at 75 °C.'],
    [{ cable: { given: true, parallel: 2 } }, '150 A is 125 % of it. The cable of the file is 2 × 50 mm², 160 A at 75 °C.'],
    [{}, 'No length is given, so no voltage drop.'],
    [{ voltage_drop: { length_m: 2, drop_V: 0.192, drop_share: 0.0043 } }, 'Over 2.00 m and back it drops 0.19 V, 0.4 %.'],
    [{}, 'Fuse or breaker, for DC: from 150 A to 175 A; standard ratings in it: 150, 175 A.'],
    [{ overcurrent: { standard_A: [] } }, 'Fuse or breaker, for DC: from 150 A to 175 A; no standard rating in it.'],
    [{ overcurrent: { most_A: 125 } }, 'Fuse or breaker: none of 150 A or more, as the cable allows 125 A.'],
    [{}, 'No conflict found.'],
    [{ conflicts: ['ampacity'] }, 'Conflict: 50 mm² carries 160 A, less than the 150 A needed.'],
    [{ conflicts: ['no_standard_rating'] }, 'Conflict: No standard fuse or breaker lies between 150 A and the 175 A that 50 mm² allows: a larger cable opens the window.'],
    [{ conflicts: ['parallel_size'] }, 'Conflict: 50 mm² is laid in parallel, which the code allows from 1/0 AWG (53.5 mm²) up.'],
    [{ units: 2 }, 'A cable, and a fuse or breaker, for each of the 2 units: they are taken to share all currents evenly. What all of them draw together flows where their cables meet, at the bank.'],
    [{ lowest_voltage_given: false }, 'Lowest bank voltage 0.875 of the nominal one; common practice, no source.'],
    [{ cable: { metric: true } }, 'Metric cable: resistance of IEC 60228 class 2; ampacity of the largest AWG size with no more copper.'],
  ] as [object, string][])('%j', (own, said) => {
    const sentences = conductorSentences(patched(CABLE, own));
    expect(sentences).toContain(said);
    expect(sentences.includes('No conflict found.')).toBe(
      !sentences.some((text) => text.startsWith('Conflict')),
    );
  });
  test('what does not concern it is not said', () => {
    expect(conductorSentences(CABLE).join()).not.toMatch(/0\.875|Metric cable|for each of/);
  });
});

describe('all at once, and the worst start', () => {
  const conflict = (own: object) => ({ conflicts: [{ asked_kW: 6, gives_kW: 4, ...own } as SurgeConflict] });
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, ['3.00 kW if every appliance whose window touches the step at 2026-01-01 18:00 is on at once.', 'No appliance has start_W, so starts are not looked at.', 'No conflict found.']],
    [{ start: { name: 'saw', start_W: 2000 } }, ['3.00 kW if every appliance whose window touches the step at 2026-01-01 18:00 is on at once.', '5.00 kW when saw starts beside what may run at 2026-01-02 19:00 (2000 W).', 'No conflict found.']],
    [conflict({ id: 'running_over_output' }), ['Conflict: All of it at once is 6.00 kW; bank and inverter give 4.00 kW all the time, without sun.']],
    [conflict({ id: 'start_over_inverter' }), ['Conflict: With the start it is 6.00 kW; the inverter gives 4.00 kW for moments.']],
    [conflict({ id: 'start_over_bank', for_moments: true }), ['Conflict: With the start it asks the bank for 6.00 kW; its modules give 4.00 kW for moments.']],
    [conflict({ id: 'start_over_bank', for_moments: false }), ['Conflict: With the start it asks the bank for 6.00 kW; its modules give 4.00 kW all the time; their peak is not in the file.']],
    [conflict({ id: 'running_over_leg', leg: 2 }), ['Conflict: On leg 2 all of it at once is 6.00 kW; the leg gives 4.00 kW all the time.']],
    [conflict({ id: 'start_over_leg', leg: 1 }), ['Conflict: On leg 1 with the start it is 6.00 kW; the leg gives 4.00 kW for moments.']],
  ] as [object, string[]][])('%j', (own, said) => {
    expect(surgeSentences({ ...SURGE, ...own }).slice(-said.length)).toEqual(said);
    expect(surgeSentences({ ...SURGE, ...own })).toHaveLength(3);
  });
});

describe('the peak against what the plant gives', () => {
  const time = '2026-07-02T15:00:00+02:00';
  const conflict = (own: object) => ({
    conflicts: [{ wanted_kW: 6, gives_kW: 4, time, ...own } as PeakConflict],
  });
  const rows = { row_min: 5, peak_kW: 6, time, step_min: 5 };
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, ['No conflict found in means over 60 min; appliances that start together can ask for more.']],
    [{ rows }, ['Rows of 5 min in load files bring the loads to 6.00 kW at 2026-07-02 15:00; run.step_min: 5 would play them.', 'No conflict found in means over 60 min and in rows of 5 min in load files; appliances that start together can ask for more.']],
    [{ rows: { ...rows, row_min: 1 } }, ['Rows of 1 min in load files bring the loads to 6.00 kW at 2026-07-02 15:00; run.step_min: 5 comes closest to playing them.', 'No conflict found in means over 60 min and in rows of 1 min in load files; appliances that start together can ask for more.']],
    [{ hottest: { rating_kW: 4.5, time } }, ['Heat leaves 4.50 kW of the rating in the hottest step, 2026-07-02 15:00.', 'No conflict found in means over 60 min; appliances that start together can ask for more.']],
    [conflict({ id: 'over_output', row_min: null }), ['Conflict: The loads want 6.00 kW in a step, bank and inverter give 4.00 kW without sun.']],
    [conflict({ id: 'over_output', row_min: 5 }), ['Conflict: The loads want 6.00 kW in a row of 5 min at 2026-07-02 15:00, bank and inverter give 4.00 kW without sun.']],
    [conflict({ id: 'over_hot_rating' }), ["Conflict: The loads want 6.00 kW at 2026-07-02 15:00, when heat leaves 4.00 kW of the inverter's rating."]],
    [conflict({ id: 'over_leg', leg: 2 }), ['Conflict: Leg 2 is asked for 6.00 kW at 2026-07-02 15:00; it gives 4.00 kW.']],
  ] as [object, string[]][])('%j', (own, said) => {
    expect(peakSentences({ peak: { ...PEAK, ...own }, run: { step_min: 60 } } as never)).toEqual(said);
  });
});

describe('a notice', () => {
  const rowPeak = {
    row_min: 5,
    peak_kW: 6,
    time: '2026-07-02T15:00:00Z',
    played_step_min: 60,
    played_peak_kW: 4,
    step_min: 5,
  };
  const soc = { begins_soc: 0.5, ends_soc: 0.4, gained_kWh: -1 };
  const pole = { path: 'arrays[0].azimuth_deg', array: 'roof', azimuth_deg: 0, latitude_deg: 61 };
  const shared = { label: 'b', used: 'a' };
  // biome-ignore format: a table is read by rows
  test.each([
    ['year-not-closed', { rounds: 9, ...soc }, 'run: the year does not close: after 9 such years in a row the bank still begins it at 50 % and ends it at 40 %, 1 kWh less than it held; figures of the year hold that much too much or too little'],
    ['year-not-closed', { rounds: 9, begins_soc: 0.5, ends_soc: 0.5, gained_kWh: 0 }, 'run: the year does not close: after 9 such years in a row the bank still begins it at 50 % and ends it at 50 %, it holds what it held, with the generator, a tank or a load in another state; figures of the year hold that much too much or too little'],
    ['row-peak', rowPeak, 'rows of 5 min in load files bring the loads to 6.00 kW at 2026-07-02 15:00; played in means over 60 min they reach 4.00 kW: run.step_min: 5 would play them'],
    ['row-peak', { ...rowPeak, row_min: 1 }, 'rows of 1 min in load files bring the loads to 6.00 kW at 2026-07-02 15:00; played in means over 60 min they reach 4.00 kW: run.step_min: 5, the shortest, would come closer'],
    ['generator-step', { times: [{ what: 'warm_up', minutes: 10 }], step_min: 60, finer_step_min: 10 }, "the generator's warm-up of 10 min is played in steps of 60 min, at whose edges it starts and stops: its run-hours and fuel come out other, as a rule higher. Tune them with run.step_min: 10"],
    ['generator-step', { times: [{ what: 'warm_up', minutes: 10 }, { what: 'min_run', minutes: 90 }], step_min: 60, finer_step_min: 10 }, "the generator's warm-up of 10 min and shortest run of 90 min are played in steps of 60 min, at whose edges it starts and stops: its run-hours and fuel come out other, as a rule higher. Tune them with run.step_min: 10"],
    ['growth-not-priced', { years: 20 }, 'loads grow by growth_share_per_year, and only the first year is played: money.total prices every year by the use of the first. longnight run --years 20 plays them and prices each by its own'],
    ['faces-the-pole', pole, 'arrays[0].azimuth_deg: roof at 0° faces north, away from the sun at latitude 61°; azimuths are clockwise from north, so that 180 is south'],
    ['faces-the-pole', { ...pole, azimuth_deg: 180, latitude_deg: -33 }, 'arrays[0].azimuth_deg: roof at 180° faces south, away from the sun at latitude -33°; azimuths are clockwise from north, so that 0 is north'],
    ['array-too-large', { size_kWp: 4000, load_kWh_day: 5, size_meant_kWp: 4, load_meant_kWh_day: null }, '4000 kWp of array for 5 kWh a day is far more than any season asks for; it looks like W, which would be 4 kWp'],
    ['array-too-large', { size_kWp: 400, load_kWh_day: 0.005, size_meant_kWp: null, load_meant_kWh_day: 5 }, '400 kWp of array for 0.005 kWh a day is far more than any season asks for; so is the bank: the loads look like kW, which would be 5 kWh a day'],
    ['array-too-small', { size_kWp: 0.1, load_kWh_day: 5, load_meant_kWh_day: null }, "0.1 kWp of array for 5 kWh a day can't serve it in any climate, and there is no other source"],
    ['array-too-small', { size_kWp: 4, load_kWh_day: 5000, load_meant_kWh_day: 5 }, "4 kWp of array for 5000 kWh a day can't serve it in any climate, and there is no other source; the loads look like Wh, which would be 5 kWh a day"],
    ['operating-amps-unplayed', { path: 'p', array: 'roof' }, 'p cuts nothing: without panel and panels_in_series the voltage of the strings of roof is not known'],
    ['built-in-limits-nothing', { key: 'max_total_charge_A' }, 'inverter.max_total_charge_A limits nothing: no tracker and no charger is built_in: true'],
    ['built-in-limits-nothing', { key: 'max_total_pv_A' }, 'inverter.max_total_pv_A limits nothing: no tracker is built_in: true'],
    ['one-charger-for-a-stack', { max_charge_A: 60, units: 2 }, 'charger.max_charge_A: 60 A are counted once for 2 stacked inverters; if each brings such a charger say built_in: true, if not built_in: false'],
    ['compare-shared-hours', { ...shared, differing: ['site', 'weather', 'run'] }, 'b: its own site, weather and run not used; all plants are played with those of a'],
    ['compare-shared-terms', { ...shared, differing: ['years', 'discount_share_per_year', 'fuel_price_per_L', 'shore_price_per_kWh', 'fuel_price_growth_share_per_year', 'shore_price_growth_share_per_year', 'residual_share'] }, 'b: its own years of costs, discount, price of fuel, price of shore power, growth of the price of fuel, growth of the price of shore power and worth of what is left not used; costs are added up as a says'],
    ['compare-misfit', { label: 'b', loads_of: 'a', issues: [{ path: 'x', message: 'one' }, { path: 'y', message: 'two' }] }, 'b does not fit the loads of a, and is played as if it did: x: one; y: two'],
  ] as [string, object, string][])('%s %#', (id, values, said) => {
    expect(noticeText({ id, values } as never)).toBe(said);
  });

  // biome-ignore format: a table is read by rows
  test.each([
    [{ id: 'year_closes', ...soc }, 'the year closes: bank, generator, tank and loads begin it in the state in which they end it, the bank at 50 %'],
    [{ id: 'year_begins_as_given', ...soc, gained_kWh: 2 }, 'the year begins with a bank at 50 % and ends with one at 40 %: 2 kWh more than it held'],
    [{ id: 'year_does_not_close', ...soc, rounds: 5 }, 'the year does not close: after 5 such years in a row the bank still begins it at 50 % and ends it at 40 %, 1 kWh less than it held'],
  ])('rests on %j', (why, said) => {
    expect(whyText({ why } as never)).toBe(said);
  });

  // biome-ignore format: a table is read by rows
  test.each([
    [1, 1, 'One year is played and priced.'],
    [20, 1, 'Only year 1 is played: years 2 to 20 are used as year 1 is.'],
    [2, 1, 'Only year 1 is played: year 2 is used as year 1 is.'],
    [20, 20, 'Years 1 to 20 are played, and each is priced by its own use.'],
    [20, 19, 'Years 1 to 19 are played, and each is priced by its own use; year 20 is used as year 19 is.'],
    [20, 5, 'Years 1 to 5 are played, and each is priced by its own use; years 6 to 20 are used as year 5 is.'],
  ])('%d years, %d priced', (years, years_priced, said) => {
    expect(pricedYears({ years, years_priced })).toBe(said);
  });
});

describe('an array takes for granted', () => {
  const spec = { sky_model: 'perez', low_light_loss_share: 0, mounting: 'open_rack' };
  // biome-ignore format: a table is read by rows
  test.each([
    ['model.array.horizon', {}, 'no horizon line is given: nothing around hut stands above the horizontal', 'verdict_most'],
    ['model.array.horizon', { horizon: [] }, 'the horizon line hides the sun for a whole step if it stands below the line at the middle of it, and the ring around the sun with it; the even sky counts by the share that the plane still sees, a bright horizon by what stands out of its lowest 6.5 degrees (Perez et al. 1987); what hides the sky is black, and the weather is taken to be that of an open horizon', 'verdict'],
    ['model.array.plane.perez', {}, 'nothing within the array shades it; diffuse light after Perez et al. 1990, ground light even in all directions', 'verdict'],
    ['model.array.plane.hay_davies', { sky_model: 'hay_davies' }, 'nothing within the array shades it; diffuse light after Hay & Davies 1980, ground light even in all directions', 'verdict'],
    ['model.array.low_light', {}, 'no loss of efficiency in weak light: power is proportional to light', 'verdict'],
    ['model.array.low_light', { low_light_loss_share: 0.04 }, 'efficiency falls with the logarithm of the light, through the figure at 200 W/m²; common practice, no source for the form', 'verdict'],
    ['model.array.cell.open_rack', {}, 'cells give off 25 W/(m² K) in still air and 6.84 more per m/s of wind (Faiman 2008), and follow sun and air at once', 'verdict'],
    ['model.array.cell.noct', { cell_model: { kind: 'noct' } }, 'cells are warmer than the air in proportion to the light, as in the test of the data sheet (Ross 1976, IEC 61215) whatever the wind, and follow sun and air at once', 'verdict'],
  ])('%s %j', (path, own, why, moves) => {
    const found = arrayAssumptions({ ...spec, ...own } as never, { name: 'hut' } as never);
    expect(found.find((one) => one.path === path)).toMatchObject({ why, moves });
  });
  test('its site tells of a horizon too, and of a roof no source is claimed', () => {
    const found = arrayAssumptions(
      { ...spec, mounting: 'close_roof' } as never,
      { name: 'hut', horizon: [] } as never,
    );
    expect(found[0]!.why).toMatch(/^the horizon line hides the sun/);
    expect(found.find(({ path }) => path === 'model.array.cell.close_roof')!.why).toContain(
      '(form of Faiman 2008, values common practice, no source), and follow sun and air at once',
    );
  });
});
