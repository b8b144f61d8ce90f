/** What a report says, in literal words for each branch that chooses them: figures are put in, words are not. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { findings, plantOf, playYear, prepareYear, type Report, readScenario } from '@longnight/core';
import type { StringCheck } from '@longnight/core/array';
import { describe, expect, test } from 'vitest';
import {
  CURTAILED_WORDS,
  LIMIT_WORDS,
  UNMET_WORDS,
  weatherWords,
} from '../../packages/cli/src/render/document/words.ts';
import {
  autonomySection,
  givesOutSection,
  wearSection,
  wearSentence,
} from '../../packages/cli/src/render/report/bank.ts';
import { moneySentence, notPriced } from '../../packages/cli/src/render/report/bill.ts';
import { limitsSection, noticesSection } from '../../packages/cli/src/render/report/plant.ts';
import { loadsSection, plantSection } from '../../packages/cli/src/render/report/played.ts';
import { assumptionsSection } from '../../packages/cli/src/render/report/rests.ts';
import {
  arraySection,
  bankSection,
  generatorSection,
  otherSections,
} from '../../packages/cli/src/render/report/sources.ts';
import { stringSentences, stringsTitle } from '../../packages/cli/src/render/report/strings.ts';
import { verdictSection } from '../../packages/cli/src/render/report/verdict.ts';
import { givesOutSentence, verdictSentence } from '../../packages/cli/src/render/report/verdict-words.ts';
import { daysSentence, seasonsSection } from '../../packages/cli/src/render/report/week.ts';
import { monthsSection, yearSection } from '../../packages/cli/src/render/report/year.ts';
import { yearsBasis, yearsSections } from '../../packages/cli/src/render/report/years.ts';
import { patched } from '../support/patched.ts';
import { DEMO } from './support/process.ts';

const {
  scenario,
  parts: _,
  ...read
} = (() => {
  const made = readScenario(readFileSync(join(DEMO, 'short-of-bank.yaml'), 'utf8'), 's.yaml');
  return { ...made, parts: null };
})();
const ledger = playYear(prepareYear({ scenario, ...read }, 's.yaml', new Map()), plantOf(scenario));
const base = findings(ledger);
const having = (own: unknown): Report => patched(base, own);
/** A year's months, all but some of which are nothing. */
const months = (own: Readonly<Record<number, number>>, others = 0): number[] =>
  Array.from({ length: 12 }, (_, m) => own[m + 1] ?? others);
/** Causes as the report has them, all but some of which are nothing. */
const split = <T extends object>(of: T, own: object): T =>
  ({ ...Object.fromEntries(Object.keys(of).map((key) => [key, 0])), ...own }) as T;

describe('the verdict', () => {
  const year = (held: number, failing: readonly number[], left_out: readonly number[] = []) => ({
    by_year: Array.from({ length: 5 }, (_, k) => ({
      year: 2011 + k,
      unmet_hours: failing.includes(2011 + k) ? 3 : 0,
    })),
    years_held: held,
    held_share: { low: 0.301, high: 0.952 },
    left_out: left_out.map((year) => ({ year, why: 'gaps' })),
  });
  const holds = { load: { wanted_kWh: 1200 }, unmet: { hours: 0 }, run: { year: 2026 }, every_year: null };
  const fails = patched(holds, { unmet: { hours: 2, energy_kWh: 3, share: 0.0025, longest_hours: 1.5 } });
  // biome-ignore format: a table is read by rows
  test.each([
    [{ ...holds, load: { wanted_kWh: 0 } }, 'No load is wanted in 2026: there is nothing to hold.'],
    [holds, 'Holds: all 1200 kWh wanted in 2026 are served.'],
    [fails, 'Does not hold: 3.00 kWh of 1200 kWh wanted in 2026 go unmet (0.25 %), in 2 hours; the longest outage lasts 1.5 h.'],
    [patched(fails, { unmet: { hours: 1, share: 0.00009, longest_hours: 1 } }), 'Does not hold: 3.00 kWh of 1200 kWh wanted in 2026 go unmet (under 0.01 %), in 1 hour; the longest outage lasts 1 h.'],
    [{ ...holds, every_year: year(5, []) }, 'Holds in all 5 years of the weather file (between 30 and 96 % of all such years, 95 % sure). 2026 on its own: holds: all 1200 kWh wanted in 2026 are served.'],
    [{ ...fails, every_year: year(3, [2012, 2013], [2009, 2016]) }, 'Holds in 3 of 5 years of the weather file (between 30 and 96 % of all such years, 95 % sure); not in 2012 to 2013. Not played: 2009, 2016. 2026 on its own: does not hold: 3.00 kWh of 1200 kWh wanted in 2026 go unmet (0.25 %), in 2 hours; the longest outage lasts 1.5 h.'],
  ])('%#', (own, said) => {
    expect(verdictSentence(having(own))).toBe(said);
  });

  test('is shown as good or bad, with the months of what is unmet, the worst four first', () => {
    const section = (own: object) => verdictSection(having(own), []);
    expect(section({ verdict: { holds: true }, unmet: { hours: 0 } })).toMatchObject({ tone: 'good' });
    const { tone, blocks } = section({
      verdict: { holds: false },
      unmet: { hours: 9, by_month_kWh: months({ 1: 5, 2: 1, 3: 0.5, 11: 2, 12: 9 }) },
    });
    expect(tone).toBe('bad');
    expect(blocks[0]).toMatchObject({
      text: 'Unmet by month: Dec 9.00 kWh, Jan 5.00 kWh, Nov 2.00 kWh, Feb 1.00 kWh and 1 more.',
    });
    expect(section({ unmet: { hours: 9, by_month_kWh: months({ 1: 5 }) } }).blocks[0]).toMatchObject({
      text: 'Unmet by month: Jan 5.00 kWh.',
    });
  });
});

describe('what gives out first', () => {
  /** Each cause as the first sentence has it, as the table has it. */
  const CAUSES = {
    bank_floor: ['the bank ran down to its floor', 'bank down to its floor'],
    bank_cold: ['the cold kept back what the bank held', 'cold keeps back what the bank holds'],
    bank_current: ["the modules' discharge amps were too few", 'modules give no more amps'],
    inverter_rating: ['the inverter was too small', 'inverter gives no more power'],
    leg: ['one leg of the inverters was full while another was not', 'one leg of the inverters is full'],
    inverter_asleep: [
      'the loads were too small to wake the inverter',
      'loads too small to wake the inverter',
    ],
    inverter_cut_off: ['the inverter cut off to spare the bank', 'inverter cut off to spare the bank'],
    generator_rating: ['the generator that carried the loads was too small', 'generator gives no more power'],
    generator_barred: [
      'the generator was not allowed to run, did not start or was warming up',
      'generator may not run, did not start or was warming up',
    ],
    fuel: ['the generator was out of fuel', 'generator out of fuel'],
    shore_rating: ['the socket that carried the loads gave too few amps', 'socket gives no more amps'],
    shed: ['loads were shed on purpose', 'loads shed on purpose'],
  } as const;
  const found = { bank_current_by: 'modules', shed_by: 'rules', asleep_sun_kWh: 0 };
  const first = (first_cause: string, main_cause: string, own: object = {}, unmet: object = {}): string =>
    givesOutSentence(
      having({
        gives_out_first: {
          first_cause,
          first_time: '2026-01-03T17:00:00+01:00',
          main_cause,
          ...found,
          ...own,
        },
        unmet: { energy_kWh: 4, by_cause_kWh: split(base.unmet.by_cause_kWh, { [main_cause]: 3 }), ...unmet },
      }),
    );

  test('every cause has its words, alone and beside another', () => {
    expect(Object.keys(CAUSES).sort()).toEqual(Object.keys(base.unmet.by_cause_kWh).sort());
    for (const [cause, [words, short]] of Object.entries(CAUSES)) {
      const capital = words[0]!.toUpperCase() + words.slice(1);
      expect(first(cause, cause)).toBe(
        `${capital}, from 2026-01-03 17:00 on. That is behind 75 % of the unmet energy.`,
      );
      const other = cause === 'fuel' ? 'shed' : 'fuel';
      expect(first(other, cause)).toBe(
        `${other === 'fuel' ? 'The generator was out of fuel' : 'Loads were shed on purpose'}, from 2026-01-03 17:00 on. Behind most of the unmet energy (75 %): ${words}.`,
      );
      expect(UNMET_WORDS[cause as keyof typeof CAUSES]).toBe(short);
    }
  });

  // biome-ignore format: a table is read by rows
  test.each([
    ['bank_current', { bank_current_by: 'kinetics' }, 'The bank could not give what it held fast enough, '],
    ['shed', { shed_by: 'min_soc' }, 'Flexible loads went without on purpose, the bank being below their min_soc, '],
  ])('%s for another reason', (cause, own, words) => {
    expect(first(cause, cause, own)).toContain(words);
  });

  test('sun that stood still is told from a tenth of the unmet energy on', () => {
    const still =
      ' In these hours 0.40 kWh of sun on the AC side stood still, because the inverter was down: only sun on the DC side, a generator or somebody starts it again.';
    expect(first('bank_floor', 'bank_floor', { asleep_sun_kWh: 0.4 }).endsWith(still)).toBe(true);
    expect(first('bank_floor', 'bank_floor', { asleep_sun_kWh: 0.39 })).not.toContain('stood still');
  });

  test.each([
    ['bank_energy', "the bank's energy", 'energy in the bank, down to its floor'],
    ['bank_current', "the modules' discharge amps", 'discharge current of the modules'],
    ['inverter_rating', "the inverter's rating", 'inverter rating'],
    ['generator_rating', "the generator's rating", 'generator rating'],
  ] as const)('nothing: closest came %s', (limit, words, short) => {
    const near = { limit, used_share: 0.614, time: '2026-02-01T07:30:00+01:00' };
    const report = having({
      gives_out_first: { first_cause: null, first_time: null, main_cause: null, closest: [near] },
    });
    expect(givesOutSentence(report)).toBe(
      `Nothing gave out. Closest to it came ${words}, 61 % used at 2026-02-01 07:30.`,
    );
    expect(LIMIT_WORDS[limit]).toBe(short);
  });

  test('sun that is not used, by what kept it back', () => {
    const CURTAILED = {
      bank_full: 'bank full, or tapering close to full',
      charge_current: 'modules take no more amps',
      bank_cold: 'bank too cold to be charged',
      charger: 'charger takes no more sun from the AC side',
      inverter_off: 'inverter down, cut off or asleep, arrays on the AC side with it',
      tracker_voltage: 'strings outside the voltages of their tracker',
      tracker_power: 'tracker takes no more power',
      tracker_current: 'tracker gives no more amps',
      other_power: 'controller of another source lets no more through',
    };
    expect(CURTAILED_WORDS).toEqual(CURTAILED);
    const by = split(base.array.curtailed_by_cause_kWh, { bank_full: 2, bank_cold: 5 });
    const curtailed = having({
      array: { curtailed_by_cause_kWh: by, curtailed_share: 0.25, available_kWh: 28 },
    });
    const none = having({ array: { curtailed_by_cause_kWh: split(by, {}), curtailed_share: 0 } });
    expect(givesOutSection(curtailed).blocks[0]).toMatchObject({
      text: 'Of the sun offered 25 % is curtailed, most of it because: bank too cold to be charged.',
    });
    expect(givesOutSection(none).blocks[0]).toMatchObject({ text: 'All sun offered is used.' });
    expect(arraySection(curtailed).sentence).toContain(
      ' 25 % curtailed (most: bank too cold to be charged). ',
    );
    expect(arraySection(none).sentence).toContain(' used, nothing curtailed. ');
  });
});

/** Of a roof that fits its tracker. */
const check: StringCheck = {
  array: 'roof',
  coldest_air_C: -30,
  coldest_air_from: { id: 'record' },
  hottest_cell_C: 70,
  hottest_cell_from: { id: 'no_light' },
  panel_cold_V: 47.5,
  panel_cold_table_V: 48.4,
  table_factor: 1.21,
  panel_hot_V: 27.5,
  max_in_series: 5,
  max_in_series_table: 5,
  min_in_series: 3,
  in_series: 4,
  string_cold_V: 190,
  string_hot_V: 110,
  max_input_V: 250,
  min_input_V: 80,
  strings: 2,
  short_circuit_A: 20,
  max_current_A: 25,
  needed_A: 31.25,
  max_input_A: 30,
  operating_A: 19,
  max_operating_A: 22,
  has_vmp_coefficient: true,
  conflicts: [],
};

describe('strings', () => {
  const said = (own: Partial<StringCheck>): string => stringSentences({ ...check, ...own }).join('\n');

  test.each([
    [{}, '3 to 5 panels in series'],
    [{ min_in_series: 5 }, '5 panels in series'],
    [{ min_in_series: 6 }, 'no number of panels in series'],
    [{ min_in_series: null }, 'at most 5 panels in series'],
    [{ max_in_series: null }, 'at least 3 panels in series'],
    [{ min_in_series: null, max_in_series: null }, 'no limit of the tracker is in the file'],
  ])('heading of %j', (own, range) => {
    expect(stringsTitle({ ...check, ...own })).toBe(`Strings of roof: ${range}`);
  });

  // biome-ignore format: a table is read by rows
  test.each([
    [{ conflicts: ['one_panel'], max_input_V: 40 }, 'Conflict: One panel alone gives 47.5 V in the cold; the tracker stands 40.0 V.'],
    [{ conflicts: ['no_number_of_panels'], min_in_series: 6 }, 'Conflict: No number of panels in series suits this tracker: heat asks for 6 or more, cold allows 5.'],
    [{ conflicts: ['cold_voltage'], max_input_V: 150 }, 'Conflict: 4 panels in series give 190 V at -30.0 °C, and the tracker stands 150 V: that can destroy it, and start a fire.'],
    [{ conflicts: ['hot_voltage'], min_input_V: 120 }, 'Conflict: 4 panels in series work at 110 V with cells of 70.0 °C, and the tracker needs 120 V: it stops in the heat.'],
    [{ conflicts: ['short_circuit_current'], max_input_A: 18 }, 'Conflict: 2 strings give 20.0 A in short circuit, 25.0 A with 1.25 for bright light, and the tracker stands 18.0 A.'],
    [{ conflicts: ['short_circuit_current'], strings: 1, max_input_A: 18 }, 'Conflict: 1 string gives 20.0 A in short circuit, 25.0 A with 1.25 for bright light, and the tracker stands 18.0 A.'],
    [{ conflicts: ['operating_current'], max_operating_A: 15.2 }, 'Conflict: 2 strings work at 19.0 A in full sun, and the tracker at 15.2 A at most: it holds them back to 80 % of that.'],
    [{ conflicts: ['operating_current'], strings: 1, max_operating_A: 15.2 }, 'Conflict: 1 string works at 19.0 A in full sun, and the tracker at 15.2 A at most: it holds them back to 80 % of that.'],
  ] as [Partial<StringCheck>, string][])('%j', (own, conflict) => {
    const sentences = said(own).split('\n');
    expect(sentences).toContain(conflict);
    expect(sentences).not.toContain('No conflict found.');
  });

  test('"no conflict found" stands only where a string was looked at and nothing was found', () => {
    expect(said({})).toMatch(/^No conflict found\.$/m);
    expect(said({})).not.toContain('Conflict:');
    const unknown = said({ in_series: null, string_cold_V: null, string_hot_V: null });
    expect(unknown).not.toMatch(/onflict/);
    expect(unknown).toContain('Not in the file, so not checked against: panels_in_series.');
    expect(said({ conflicts: ['cold_voltage', 'operating_current'] }).match(/onflict/g)).toHaveLength(2);
  });

  // biome-ignore format: a table is read by rows
  test.each([
    [{}, 'Cold, -30.0 °C: a panel gives 47.5 V at open circuit, the tracker stands 250 V: at most 5; 48.4 V by the table of the code (factor 1.21: at most 5).'],
    [{ max_input_V: null, max_in_series: null, max_in_series_table: null, panel_cold_table_V: null }, 'Cold, -30.0 °C: a panel gives 47.5 V at open circuit; below -40 °C the table of the code has no factor.'],
    [{}, 'Heat, cells of 70.0 °C: a panel works at 27.5 V, the tracker needs 80.0 V: at least 3.'],
    [{ min_input_V: null, min_in_series: null }, 'Heat, cells of 70.0 °C: a panel works at 27.5 V.'],
    [{}, 'The file has 4 in series: 190 V in the cold, 110 V in the heat.'],
    [{}, '2 strings: 20.0 A in short circuit, 25.0 A with 1.25 for bright light; the tracker stands 30.0 A. Conductors and fuses of them: 31.3 A, with 1.25 × 1.25.'],
    [{ strings: 1, max_input_A: null }, '1 string: 20.0 A in short circuit, 25.0 A with 1.25 for bright light. Conductors and fuses of them: 31.3 A, with 1.25 × 1.25.'],
    [{}, 'They work at 19.0 A in full sun; the tracker works at 22.0 A at most.'],
    [{}, 'Coldest air: site.record_low_C.'],
    [{ coldest_air_from: { id: 'coldest_step', step_C: -20, time: '2026-01-05T07:00:00Z', margin_K: 10, of_means: false } }, 'Coldest air: the coldest step of the weather, -20.0 °C at 2026-01-05 07:00, less 10 K for what a record is colder than one year (common practice, no source); site.record_low_C takes its place.'],
    [{ coldest_air_from: { id: 'coldest_step', step_C: -5, time: '2026-01-05T07:00:00Z', margin_K: 25, of_means: true } }, 'Coldest air: the coldest step of the weather, -5.0 °C at 2026-01-05 07:00, less 25 K for what a record is colder than a year made from monthly means (common practice, no source); site.record_low_C takes its place.'],
    [{}, 'Hottest cell: standard test conditions: no light falls on this array.'],
    [{ hottest_cell_from: { id: 'hottest_step', step_C: 60, time: '2026-07-05T13:00:00Z', margin_K: 10 } }, 'Hottest cell: the hottest cells of the year, 60.0 °C at 2026-07-05 13:00, and 10 K for moments and hotter summers (common practice, no source).'],
    [{ max_input_V: null, min_input_V: null, max_input_A: null, strings: null, max_operating_A: null }, 'Not in the file, so not checked against: tracker.max_input_V, tracker.min_input_V, tracker.max_input_A, strings_parallel, tracker.max_operating_A.'],
    [{}, 'Working voltage: linear in temperature by the coefficient of the data sheet.'],
    [{ has_vmp_coefficient: false }, 'Working voltage: as many volts per kelvin as at open circuit (common practice, no source).'],
    [{ strings: 3 }, 'Three strings or more side by side: what the others give flows back into one that fails. Each needs a fuse of its own, for DC (NEC 690.9, IEC 60364-7-712).'],
  ] as [Partial<StringCheck>, string][])('basis %#', (own, sentence) => {
    expect(said(own).split('\n')).toContain(sentence);
  });

  test('two strings need no fuse each, and what the file has is not called missing', () => {
    expect(said({})).not.toMatch(/Three strings|Not in the file/);
  });
});

describe('what the plant can do before an hour is played', () => {
  const looked = (own: object): string => limitsSection(having(own)).sentence!;
  const none = { peak: { conflicts: [] }, surge: { conflicts: [] }, strings: [] };
  const leg = { id: 'running_over_leg', leg: 1, asked_kW: 2, gives_kW: 1 };
  // biome-ignore format: a table is read by rows
  test.each([
    [none, '; peaks, starts and cable show no conflict in what was looked at.'],
    [{ ...none, strings: [check] }, '; peaks, starts, cable and strings show no conflict in what was looked at.'],
    [{ ...none, surge: { conflicts: [leg] } }, '; peaks, starts and cable show a conflict: see below.'],
    [{ ...none, surge: { conflicts: [leg, leg] } }, '; peaks, starts and cable show 2 conflicts: see below.'],
  ])('%#', (own, said) => {
    const made = having({ limits: { bank_conductor: { conflicts: [] } } });
    expect(limitsSection(patched(made, own)).sentence!.endsWith(said)).toBe(true);
  });
  test('what it can not do is said', () => {
    const absent = { figure_kW: null, limits: [] };
    expect(looked({ limits: { ac_output: absent, solar_charging: absent, ac_charging: absent } })).toMatch(
      /^there is no AC output, there is no array, there is no AC charging; /,
    );
    const by = { id: 'inverter_surge' };
    const there = {
      figure_kW: 3,
      limits: [
        { by, limit_kW: 3 },
        { by: { id: 'ac_arrays' }, limit_kW: 4 },
      ],
    };
    expect(looked({ limits: { ac_output: there, solar_charging: absent, ac_charging: there } })).toMatch(
      /^AC output ends at 3\.00 kW \(inverter surge rating\), there is no array, AC charging ends at 3\.00 kW \(inverter surge rating\); /,
    );
  });
  test('notices, or that there are none', () => {
    expect(noticesSection(having({ notices: [] })).blocks).toEqual([
      { kind: 'text', text: 'None: nothing was filled or clipped on the way in, and nothing looks odd.' },
    ]);
    expect(noticesSection(having({ notices: [{ id: 'x', message: 'Filled.' }] })).blocks).toEqual([
      { kind: 'list', items: ['Filled.'] },
    ]);
  });
});

describe('what gives, keeps and takes energy', () => {
  const generator = {
    run_hours: 12.5,
    run_hours_by_month: months({ 1: 2.5, 12: 10 }),
    starts: 1,
    fuel_L: 5,
    energy_kWh: 20,
    mean_load_share: 0.8,
    spilled_kWh: 0,
    services_due: null,
    first_service: null,
  };
  // biome-ignore format: a table is read by rows
  test.each([
    [null, 'None in this plant.'],
    [{ ...generator, run_hours: 0 }, 'Never ran.'],
    [generator, '12.5 h in 1 start, 5.00 L of fuel, 20.0 kWh at 80 % of its rating on average; most in Dec (10 h).'],
    [{ ...generator, starts: 2, services_due: 0 }, '12.5 h in 2 starts, 5.00 L of fuel, 20.0 kWh at 80 % of its rating on average; most in Dec (10 h). No service falls due.'],
    [{ ...generator, services_due: 1, first_service: '2026-05-01' }, '12.5 h in 1 start, 5.00 L of fuel, 20.0 kWh at 80 % of its rating on average; most in Dec (10 h). A service falls due on 2026-05-01.'],
    [{ ...generator, services_due: 3, first_service: '2026-05-01' }, '12.5 h in 1 start, 5.00 L of fuel, 20.0 kWh at 80 % of its rating on average; most in Dec (10 h). 3 services fall due, the first on 2026-05-01.'],
  ])('generator %#', (own, said) => {
    expect(generatorSection({ ...base, generator: own as Report['generator'] }).sentence).toBe(said);
  });
  test('what a generator spills is told, and nothing where it spills none', () => {
    const blocks = (spilled_kWh: number) =>
      generatorSection({
        ...base,
        generator: { ...generator, spilled_kWh } as unknown as Report['generator'],
      }).blocks;
    expect(blocks(0)).toEqual([]);
    expect(blocks(2)).toMatchObject([{ text: '2.00 kWh of it were spilled to keep its least load.' }]);
  });

  const bare = {
    shore: null,
    alternator: null,
    other_sources: null,
    array: { on_ac_side_kWh: null },
    load: { flexible: null, surplus_kWh: null },
  };
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, []],
    [{ shore: { energy_kWh: 0, hours: 0 } }, ['gave nothing.']],
    [{ shore: { energy_kWh: 4, hours: 2 } }, ['4.00 kWh in 2 h.']],
    [{ alternator: { energy_kWh: 0, hours: 0 } }, ['gave nothing through its DC-DC charger.']],
    [{ alternator: { energy_kWh: 4, hours: 2.5 } }, ['4.00 kWh in 2.5 h through its DC-DC charger.']],
    [{ other_sources: { available_kWh: 9, used_kWh: 6, supply_share: 0.5, curtailed_kWh: 3 } }, ['Offered 9.00 kWh; 6.00 kWh used, 50 % of all supply; 3.00 kWh are for a diversion load or a brake.']],
    [{ array: { on_ac_side_kWh: 7 } }, ['7.00 kWh of the sun used came in past the inverter.']],
    [{ load: { flexible: { wanted_kWh: 8, unmet_kWh: 0 } } }, ['8.00 kWh asked for by flexible loads, all of it served.']],
    [{ load: { flexible: { wanted_kWh: 8, unmet_kWh: 1 } } }, ['8.00 kWh asked for by flexible loads, 1.00 kWh of it unmet.']],
    [{ load: { surplus_kWh: 0 } }, ['0 kWh into loads that take what is left over.']],
  ])('others %j', (own, said) => {
    expect(otherSections(patched(having(bare), own)).map(({ sentence }) => sentence)).toEqual(said);
  });

  test('bank: cold, floor and wear only where there is any', () => {
    const bank = (own: object) => bankSection(having({ bank: { wear: null, ...own } }));
    const none = bank({ hours_too_cold_to_charge: 0, hours_at_floor: 0, equivalent_full_cycles: 1 });
    expect(none.sentence).toMatch(/ through it, 1 full cycle\. .*; 0 h at its floor\.$/);
    expect(none.brief).not.toMatch(/floor|cold/);
    const cold = bank({ hours_too_cold_to_charge: 3, hours_at_floor: 2, equivalent_full_cycles: 60 });
    expect(cold.sentence).toMatch(
      / through it, 60 full cycles\. .*; 2 h at its floor, 3 h too cold to charge\.$/,
    );
    expect(cold.brief).toMatch(/, 2 h at its floor, 3 h too cold to charge\.$/);
  });

  const wear = {
    years_to_end_of_life: 12.5,
    worst: 'cycles',
    cycle_life_used_share: 0.08,
    calendar_life_used_share: 0.05,
    cycles_by_depth: [],
  };
  // biome-ignore format: a table is read by rows
  test.each([
    [null, ''],
    [{ ...wear, years_to_end_of_life: null, worst: null }, ' Nothing in this year wears it.'],
    [wear, ' Worn after 12.5 such years, by its cycles (8.0 % of its cycle life, 5.0 % of its calendar life in this one).'],
    [{ ...wear, worst: 'calendar', cycle_life_used_share: null }, ' Worn after 12.5 such years, by its years (5.0 % of its calendar life in this one).'],
    [{ ...wear, calendar_life_used_share: null }, ' Worn after 12.5 such years, by its cycles (8.0 % of its cycle life in this one).'],
  ])('wear %#', (own, said) => {
    expect(wearSentence(own as Parameters<typeof wearSentence>[0])).toBe(said);
  });
  test('wear without a life says that none is stated', () => {
    expect(wearSection(having({ bank: { wear: null, equivalent_full_cycles: 61.4 } })).sentence).toBe(
      'The scenario states no life of the bank, no bank.cycle_life, bank.life_cycles or bank.life_years; in this year it makes 61 full cycles.',
    );
    expect(
      wearSection(having({ bank: { wear, throughput_kWh: 500, equivalent_full_cycles: 61.4 } })).sentence,
    ).toMatch(/^500 kWh go through the bank, 61 full cycles\. Worn after 12\.5 such years/);
  });

  test('autonomy: a bank that outlasts the year has no last hour', () => {
    const dark = (capped: boolean) =>
      autonomySection(
        having({
          autonomy: {
            nominal_days: 2.5,
            sunless_hours: { capped, least: 40, least_start: '2026-01-01T18:00:00Z', median: 60, p05: 45 },
          },
        }),
      );
    expect(dark(false).brief).toBe(
      'With no sun and no generator a full bank carries the loads for 40 h from the worst start (2026-01-01 18:00), for 60 h (2.5 days) from the median start.',
    );
    expect(dark(true).brief).toContain('carries the loads for over a year from the worst start');
    expect(dark(false).blocks[0]).toMatchObject({ text: '45 h or more from 95 % of all starts.' });
    expect(dark(true).blocks[0]).toMatchObject({
      text: '45 h or more from 95 % of all starts. Some starts outlast the year: these are lower bounds.',
    });
  });
});

describe('the year, its months and days', () => {
  const glance = (own: object): string => yearSection(having(own), ledger).sentence!;
  const bank = { lowest_soc: 0.1, lowest_soc_time: '2026-12-20T08:00:00+01:00', hours_at_floor: 5 };
  // biome-ignore format: a table is read by rows
  test.each([
    [{ unmet: { hours: 0 }, bank }, 'No hour of the year goes unmet; the bank is lowest with 10 %, at 2026-12-20 08:00.'],
    [{ unmet: { hours: 7, outages: [{}], by_month_kWh: months({ 1: 2, 12: 1 }) }, bank }, 'Load goes unmet in 1 outage, 7 h in all, in Jan and Dec; the bank first reaches its lowest, 10 %, at 2026-12-20 08:00, and stands at its floor for 5 h.'],
    [{ unmet: { hours: 7, outages: [{}, {}], by_month_kWh: months({}, 1) }, bank }, 'Load goes unmet in 2 outages, 7 h in all, in every month; the bank first reaches its lowest, 10 %, at 2026-12-20 08:00, and stands at its floor for 5 h.'],
  ])('at a glance %#', (own, said) => {
    expect(glance(own)).toBe(said);
  });

  const by_month = Array.from({ length: 12 }, (_, m) => ({
    ...base.by_month[m]!,
    generator_kWh: m === 0 ? 9 : 0,
  }));
  const year = (offered: number[], own: object = {}) => ({
    by_month,
    load: { wanted_kWh: 120, wanted_by_month_kWh: months({}, 10) },
    array: { available_by_month_kWh: offered },
    generator: null,
    unmet: { energy_kWh: 0 },
    ...own,
  });
  // biome-ignore format: a table is read by rows
  test.each([
    [year(months({}, 11)), 'The array offers more than the loads want in every month; nothing goes unmet.'],
    [year(months({}, 9)), 'The array offers less than the loads want in every month; nothing goes unmet.'],
    [year(months({ 1: 9, 11: 9, 12: 9 }, 11)), 'The array offers less than the loads want in Jan, Nov and Dec and more in every other month; nothing goes unmet.'],
    [year(months({ 6: 11, 7: 11 }, 9)), 'The array offers more than the loads want in Jun and Jul only; nothing goes unmet.'],
    [year(months({}), { load: { wanted_kWh: 0, wanted_by_month_kWh: months({}) } }), 'No load is wanted in any month; nothing goes unmet.'],
    [year(months({}, 11), { unmet: { energy_kWh: 3, by_month_kWh: months({ 2: 1, 11: 2 }) } }), 'The array offers more than the loads want in every month; most goes unmet in Nov (2.00 kWh).'],
    [year(months({}, 11), { generator: { energy_kWh: 0 } }), 'The array offers more than the loads want in every month; nothing goes unmet; the generator never runs.'],
    [year(months({}, 11), { generator: { energy_kWh: 9 } }), 'The array offers more than the loads want in every month; nothing goes unmet; the generator gives most in Jan (9.00 kWh).'],
  ])('month by month %#', (own, said) => {
    expect(monthsSection(having(own)).sentence).toBe(said);
  });

  const lean = {
    ...base.leanest_days,
    days: 3,
    start: '2026-12-18',
    initial_soc: 0.8,
    lowest_soc: 0.3,
    unmet_kWh: 0,
  };
  // biome-ignore format: a table is read by rows
  test.each([
    [{ sun_to_load: 0.5 }, 'In the 3 days from 2026-12-18 the array offers 50 % of what the loads want; the bank goes in with 80 %, comes down to 30 %, and nothing goes unmet.'],
    [{ sun_to_load: 1.99, days: 1 }, 'In the 1 day from 2026-12-18 the array offers 199 % of what the loads want; the bank goes in with 80 %, comes down to 30 %, and nothing goes unmet.'],
    [{ sun_to_load: 2, unmet_kWh: 1.5 }, 'In the 3 days from 2026-12-18 the array offers 2.00 times what the loads want; the bank goes in with 80 %, comes down to 30 %, and 1.50 kWh go unmet.'],
    [{ sun_to_load: null }, 'In the 3 days from 2026-12-18 no load is wanted; the bank goes in with 80 %, comes down to 30 %, and nothing goes unmet.'],
  ])('lean days %j', (own, said) => {
    expect(daysSentence({ ...lean, ...own })).toBe(said);
  });

  const week = (first: number, sun_to_load: number | null, unmet_kWh = 0) => ({
    ...lean,
    months: [first, (first % 12) + 1, ((first + 1) % 12) + 1],
    sun_to_load,
    unmet_kWh,
  });
  const ordinary =
    'In an ordinary week the array offers 9.00 times what the loads want in Jun to Aug and 50 % of what they want in Dec to Feb; ';
  // biome-ignore format: a table is read by rows
  test.each([
    [[], 'No season of this year has seven whole days.'],
    [[week(12, null), week(6, null)], 'No load is wanted in any of these weeks.'],
    [[week(12, 0.5), week(3, 3), week(6, 9), week(9, 2)], `${ordinary}in none of the four does load go unmet.`],
    [[week(12, 0.5, 1), week(3, 3), week(6, 9), week(9, 2, 1)], `${ordinary}load goes unmet in that of Dec to Feb and Sep to Nov.`],
    [[week(12, 0.5, 1), week(6, 9, 1)], `${ordinary}load goes unmet in all of them.`],
  ])('seasons %#', (season_weeks, said) => {
    expect(seasonsSection(having({ season_weeks }), ledger).sentence).toBe(said);
  });

  test('seasons have their names by hemisphere, and none between the tropics', () => {
    const names = (latitude_deg: number): string[] => {
      const report = { ...base, site: { ...base.site, latitude_deg } };
      const [drawing] = seasonsSection(report, ledger).blocks;
      const html = drawing!.kind === 'drawing' ? drawing!.draw().join('') : '';
      return [...html.matchAll(/<h3>(.*?)<\/h3>/g)].map(([, name]) => name!);
    };
    const months = ['Dec to Feb', 'Mar to May', 'Jun to Aug', 'Sep to Nov'];
    const called = (...seasons: string[]): string[] => months.map((name, k) => `${name}: ${seasons[k]}`);
    expect(names(61)).toEqual(called('winter', 'spring', 'summer', 'autumn'));
    expect(names(-33)).toEqual(called('summer', 'autumn', 'winter', 'spring'));
    expect(names(23)).toEqual(months);
  });
});

describe('years on end', () => {
  const row = {
    year: 1,
    calendar_year: 2026,
    seed: null,
    life_used_share: 0.1,
    resistance_factor: null,
    replaced: [],
  };
  const years = {
    by_year: [row, { ...row, year: 2 }],
    begins: 'closed',
    loads_grow: false,
    end_of_life_share: 0.8,
    first_failure: null,
    bank_end_of_life_years: null,
  };
  const failure = { year: 2, time: '2027-01-09T08:00:00+01:00', winter: '2026/27' };
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, 'All load is served in 2 years. The bank outlasts 2 years.'],
    [{ by_year: [row] }, 'All load is served in 1 year. The bank outlasts 1 year.'],
    [{ first_failure: failure }, 'First fails in year 2, 2027-01-09 08:00: the winter of 2026/27. The bank outlasts 2 years.'],
    [{ first_failure: { ...failure, winter: null } }, 'First fails in year 2, 2027-01-09 08:00, not in winter. The bank outlasts 2 years.'],
    [{ bank_end_of_life_years: 1.5 }, 'All load is served in 2 years. The bank is worn after 1.50 years and bought anew.'],
    [{ by_year: [{ ...row, life_used_share: null }] }, 'All load is served in 1 year. The scenario states no life of the bank: it keeps its capacity.'],
  ])('%j', (own, said) => {
    expect(yearsSections({ ...years, ...own } as never).said[0]!.sentence).toBe(said);
  });
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, 0, 'Every year has the same weather.'],
    [{ by_year: [{ ...row, seed: 92 }, { ...row, seed: 93 }] }, 0, "Each year's weather is drawn anew from the monthly means: drawn years 92 to 93."],
    [{}, 1, 'Loads and calendar are those of the first year, in all of them.'],
    [{ loads_grow: true }, 1, 'Each load grows by its growth_share_per_year a year; the calendar is that of the first year, in all of them.'],
    [{ end_of_life_share: null }, 2, 'The bank keeps its capacity: the scenario states no bank.cycle_life, bank.life_cycles or bank.life_years.'],
    [{}, 2, 'Capacity falls on a straight line to 0.8 when the life of the bank is used up, by cycles or years, whichever took more. Amps, and an efficiency that is stated, stay.'],
    [{ by_year: [{ ...row, resistance_factor: 1 }] }, 2, 'Capacity falls on a straight line to 0.8 when the life of the bank is used up, by cycles or years, whichever took more; its resistance rises to bank.model.end_of_life_resistance_factor times that as new. Amps, and an efficiency that is stated, stay.'],
    [{}, 3, 'The first year begins with the state it would end with; every other begins as the one before it ended.'],
    [{ begins: 'given' }, 3, 'The first year begins with run.initial_soc; every other begins as the one before it ended.'],
  ])('rest on %j, %d', (own, k, said) => {
    expect(yearsBasis({ ...years, ...own } as never)[k]).toBe(said);
  });
});

describe('money', () => {
  const money = {
    currency: 'crowns',
    capital: 12_000,
    total: 15_000,
    years: 20,
    years_priced: 1,
    discount_share_per_year: 0.04,
    per_served_kWh: 0.5,
    unpriced: [] as string[],
  };
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, '12,000 crowns to buy; 15,000 over 20 years, discounted at 4.0 % a year, 0.50 crowns a kWh served.'],
    [{ years_priced: 20 }, '12,000 crowns to buy; 15,000 over 20 years, each by its own use, discounted at 4.0 % a year, 0.50 crowns a kWh served.'],
    [{ years_priced: 5, per_served_kWh: null }, '12,000 crowns to buy; 15,000 over 20 years, 5 of them by their own use, discounted at 4.0 % a year.'],
    [{ capital: null, total: null, unpriced: ['bank'] }, 'No total: this has no price: bank. Give each a price; 0 for what is paid for with another part.'],
    [{ total: null, unpriced: ['fuel', 'service'] }, '12,000 crowns to buy. No sum over the years: these have no price: fuel, service. Give each a price; 0 for what is paid for with another part.'],
  ])('%j', (own, said) => {
    expect(moneySentence({ ...money, ...own } as never)).toBe(said);
  });
  test('all priced needs no word', () => {
    expect(notPriced([])).toBe('');
  });
});

describe('what was played', () => {
  const load = {
    ...base.load.by_load[0]!,
    name: 'all',
    mean_kWh_day: 2,
    winter_kWh_day: 3,
    share: 1,
    winter_share: 1,
  };
  // biome-ignore format: a table is read by rows
  test.each([
    [{ wanted_kWh: 0 }, 'No load is wanted.'],
    [{ by_load: [load] }, '1 load asks for 2.00 kWh on a mean day, 3.00 kWh in winter (Dec to Feb); the largest is all, 100 % of the year and 100 % of the winter.'],
    [{ by_load: [{ ...load, name: 'small', wanted_kWh: 1, share: 0.2 }, { ...load, name: 'large', wanted_kWh: 2, share: 0.8 }] }, '2 loads ask for 2.00 kWh on a mean day, 6.00 kWh in winter (Dec to Feb); the largest is large, 80 % of the year and 100 % of the winter.'],
  ])('loads %#', (own, said) => {
    expect(
      loadsSection(having({ load: { wanted_kWh: 700, mean_kWh_day: 2, winter_months: [12, 1, 2], ...own } }))
        .sentence,
    ).toBe(said);
  });

  const [row] = scenario.arrays;
  const plain = { array: { size_kWp: 6 }, bank: { usable_kWh: 9 } };
  const of = (own: object): string =>
    plantSection(
      having(plain),
      patched(scenario, patched({ arrays: [row], inverter: { units: 1, rating_kW: 3 } }, own)),
    ).sentence!;
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, '6.00 kWp in 1 array, a bank of 9.00 kWh usable and 3 kW of inverter; no other source.'],
    [{ arrays: [row, row], inverter: { units: 2 } }, '6.00 kWp in 2 arrays, a bank of 9.00 kWh usable and 6 kW of inverter; no other source.'],
    [{ shore: { max_A: 16, voltage_V: 230, windows: ['00:00-24:00'] }, alternator: { max_charge_A: 30, windows: ['08:00-09:00'] }, other_sources: [{ name: 'stream', kind: 'monthly', bus: 'dc', power_W: 80 }] }, '6.00 kWp in 1 array, a bank of 9.00 kWh usable, 3 kW of inverter, shore power, an alternator and stream.'],
  ])('plant %#', (own, said) => {
    expect(of(own)).toBe(said);
  });

  test.each([
    [1, '1 of them could change the verdict by much and stands first.'],
    [2, '2 of them could change the verdict by much and stand first.'],
  ])('what it rests on: %i that matters most', (most, said) => {
    const assumptions = ['bank.a', 'bank.b', 'bank.c'].map((path, k) => ({
      ...{ path, value: 1, why: 'so', kind: 'default' },
      moves: k < most ? 'verdict_most' : 'verdict',
    }));
    const { sentence } = assumptionsSection({ ...base, assumptions } as Report);
    expect(sentence).toBe(
      `The figures rest on 3 assumptions, each with its source where it has one; ${said}`,
    );
  });

  test('parts in a row each, by what is stated of them', () => {
    const rows = (own: object): Record<string, string> => {
      const [table] = plantSection(
        having({ bank: { capacity_kWh: 10, usable_kWh: 9 } }),
        patched(scenario, own),
      ).blocks;
      return Object.fromEntries(
        table!.kind === 'table' ? table!.rows.map(([what, said]) => [what!, said!]) : [],
      );
    };
    const generator = {
      rating_kW: 4,
      start_soc: 0.2,
      stop_soc: 0.8,
      starts: { kind: 'at_soc' },
      quiet_windows: [] as string[],
    };
    for (const [own, said] of [
      [{}, '4 kW; starts at 20 %, stops at 80 %'],
      [{ starts: { kind: 'before_night' } }, '4 kW; runs in the evening for the night, stops at 80 %'],
      [{ starts: { kind: 'on_shortfall' } }, '4 kW; starts when load would go unmet, stops at 80 %'],
      [{ start_soc: undefined }, '4 kW; starts when load would go unmet, stops at 80 %'],
      [
        { quiet_windows: ['22:00-07:00', '12:00-13:00'] },
        '4 kW; starts at 20 %, stops at 80 %; never from 22:00 to 07:00, 12:00 to 13:00',
      ],
    ] as const)
      expect(rows({ generator: { ...generator, ...own } }).generator).toBe(said);
    for (const [chemistry, words] of [
      ['lfp', 'lithium iron phosphate'],
      ['lead_acid', 'lead-acid'],
    ])
      expect(rows({ bank: { chemistry } }).bank).toContain(
        `(${words}): 10.0 kWh, 9.00 kWh usable above its floor of`,
      );
    expect(rows({ bank: { older: [{ modules: 2 }, { modules: 1 }] } }).bank).toContain(', beside 3 older (');
    expect(rows({ inverter: { units: 2, legs: 2, rating_kW: 3, surge_kW: 6, idle_W: 20 } }).inverter).toBe(
      '2 units of 3 kW, 6 kW for moments, idle draw 20 W, 2 legs',
    );
    const source = { name: 'stream', bus: 'ac', kind: 'monthly', power_W: months({ 3: 90 }, 40) };
    expect(rows({ other_sources: [source] }).stream).toBe('on the AC side, 40 to 90 W by month');
    expect(rows({ other_sources: [{ ...source, bus: 'dc', power_W: 55 }] }).stream).toBe(
      'on the DC side, 55 W',
    );
    expect(rows({ other_sources: [{ ...source, kind: 'series', file: 'wind.csv' }] }).stream).toBe(
      'on the AC side, by wind.csv',
    );
    const array = {
      ...scenario.arrays[0]!,
      name: 'a',
      panels: undefined,
      size_kWp: 2,
      tilt_deg: 30,
      azimuth_deg: 180,
    };
    for (const [own, said] of [
      [{}, '2 kWp, tilt 30°, azimuth 180° (south), open rack'],
      [
        { mounting: 'close_roof', azimuth_deg: 359, coupling: 'ac' },
        '2 kWp, tilt 30°, azimuth 359° (north), close to a roof, on the AC side',
      ],
      [
        { panels: 4, panel_kWp: 0.5, panels_in_series: 2, azimuth_deg: 90 },
        '2 kWp of 4 panels of 0.5 kWp, 2 in series, tilt 30°, azimuth 90° (east), open rack',
      ],
      [
        { panels: 1, panel_kWp: 2, azimuth_deg: 225 },
        '2 kWp of 1 panel of 2 kWp, tilt 30°, azimuth 225° (south-west), open rack',
      ],
    ] as const)
      expect(
        rows({ arrays: [{ ...array, mounting: 'open_rack', coupling: 'dc', ...own }] })['array: a'],
      ).toBe(said);
  });

  test.each([
    ['clear-sky', null, 'a clear sky all year: no forecast, it leaves out every cloud'],
    ['series', null, 'the weather series the scenario names'],
    ['monthly_means', null, 'one year drawn from monthly means'],
    ['monthly_means', 92, 'drawn year 92, from monthly means'],
    ['tmy3', null, 'the TMY3 file the scenario names'],
    ['epw', null, 'the EPW file the scenario names'],
    ['nsrdb', null, 'the NSRDB file the scenario names'],
    ['nasa_power', null, 'the NASA POWER file the scenario names'],
  ] as const)('weather %s %s', (weather, seed, said) => {
    expect(weatherWords({ weather, seed })).toBe(said);
  });
});
