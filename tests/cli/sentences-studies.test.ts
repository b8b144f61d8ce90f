/** What compare, improve, size, sway, sweep and week answer, in literal words for each branch that chooses them. */
import type { Comparison } from '@longnight/core';
import type { Judge, PossibleYears, TriedChange } from '@longnight/core/study';
import { describe, expect, test } from 'vitest';
import { judgedWords, judgeSentences } from '../../packages/cli/src/render/check/judge-words.ts';
import { boundLine, missedText, requiredText } from '../../packages/cli/src/render/check/requirements.ts';
import { dearerSentences } from '../../packages/cli/src/render/compare/dearer-words.ts';
import { compareDocument } from '../../packages/cli/src/render/compare/document.ts';
import { judgedSections } from '../../packages/cli/src/render/compare/over-years.ts';
import { listed, runsOf } from '../../packages/cli/src/render/document/words.ts';
import { keptWords, statisticWords, yearsWords } from '../../packages/cli/src/render/document/year-words.ts';
import { unplayedWords, whatWords } from '../../packages/cli/src/render/improve/change-words.ts';
import {
  answerWords,
  cautionsOf,
  changeWords,
  droppedWords,
  nowWords,
  typedWords,
} from '../../packages/cli/src/render/improve/words.ts';
import * as size from '../../packages/cli/src/render/size/answers.ts';
import { choiceSection } from '../../packages/cli/src/render/size/designs.ts';
import * as sway from '../../packages/cli/src/render/sway/words.ts';
import { growthSections } from '../../packages/cli/src/render/sweep/growth.ts';
import * as sweep from '../../packages/cli/src/render/sweep/words.ts';
import { weatherDocument } from '../../packages/cli/src/render/weather/document.ts';
import { askedText, weekAnswers } from '../../packages/cli/src/render/week/answers.ts';
import { patched } from '../support/patched.ts';

const drawn = (count: number) => Array.from({ length: count }, (_, k) => ({ kind: 'drawn', seed: 92 + k }));
const NO_YEARS: PossibleYears = { years: [], left_out: [], assumptions: [] };
const hold = (own: object = {}) => ({
  text: 'unmet.hours<=9',
  name: 'unmet.hours',
  statistic: null,
  relation: '<=',
  bound: 9,
  ...own,
});
/** Nothing unmet in its own year, unless asked otherwise. */
const judge = (own: object = {}): Judge =>
  ({
    years: [],
    years_to_hold: 1,
    requirements: [hold({ bound: 0 })],
    all_served: true,
    ...own,
  }) as unknown as Judge;

describe('words that all share', () => {
  test.each([
    [hold(), 'unmet hours at most 9 h'],
    [hold({ relation: '<' }), 'unmet hours below 9 h'],
    [hold({ name: 'bank.lowest_soc', relation: '>=', bound: 0.2 }), 'lowest SoC at least 0.2'],
    [hold({ name: 'money.capital', relation: '>', bound: 5000 }), 'capital above 5000'],
    [hold({ statistic: 'p95' }), 'unmet hours, 95th percentile of the years, at most 9 h'],
    [hold({ statistic: 'worst' }), 'unmet hours, worst of the years, at most 9 h'],
  ])('required %j', (one, said) => {
    expect(requiredText(one as never)).toBe(said);
  });
  // biome-ignore format: a table is read by rows
  test.each([
    [hold(), 9, 'unmet.hours<=9: kept, 9'],
    [hold(), 9.5, 'unmet.hours<=9: missed, 9.5'],
    [hold(), 9.0001, 'unmet.hours<=9: missed, 9.0001'],
    [hold({ text: 'generator.run_hours<=9', name: 'generator.run_hours' }), null, 'generator.run_hours<=9: kept, n/a (the plant has none: counts as 0)'],
    [hold({ text: 'money.capital<=9', name: 'money.capital' }), null, 'money.capital<=9: missed, n/a (not known: a price is missing)'],
    [hold({ text: 'x>=9', name: 'bank.wear.years_to_end_of_life', relation: '>=' }), null, 'x>=9: missed, n/a (not known: nothing stated or played tells it)'],
  ] as [never, number | null, string][])('bound %#', (one, figure, said) => {
    expect(boundLine({ hold: one, figure })).toBe(said);
  });
  test('what is missed is named with what is required', () => {
    const missed = [
      { hold: hold(), figure: 12 },
      { hold: hold({ statistic: 'mean' }), figure: 9.5 },
    ];
    expect(missedText(missed as never)).toBe(
      'missed: unmet.hours is 12, required is <= 9\nmissed: unmet.hours.mean is 9.5, required is <= 9',
    );
  });
  test('percentiles, runs of years and lists', () => {
    expect(
      ['mean', 'worst', 'p50', 'p1', 'p2', 'p3', 'p4', 'p11', 'p12', 'p13', 'p21', 'p90'].map((name) =>
        statisticWords(name as never),
      ),
    ).toEqual([
      'mean',
      'worst',
      'median',
      '1st percentile',
      '2nd percentile',
      '3rd percentile',
      '4th percentile',
      '11th percentile',
      '12th percentile',
      '13th percentile',
      '21st percentile',
      '90th percentile',
    ]);
    expect([[2010], [2010, 2011], [2010, 2011, 2012, 2014]].map(runsOf)).toEqual([
      '2010',
      '2010 to 2011',
      '2010 to 2012, 2014',
    ]);
    expect([[], ['a'], ['a', 'b'], ['a', 'b', 'c']].map(listed)).toEqual(['', 'a', 'a and b', 'a, b and c']);
  });
  // Limits of Clopper & Pearson 1934: all or none of n leave 0.025^(1/n) or 1 - 0.025^(1/n) open: of 20 83.2 and 16.8 %.
  // biome-ignore format: a table is read by rows
  test.each([
    [0, 20, 20, '0 of 20 years: between 0 and 17 % of all such years, 95 % sure. That settles it: the share asked for, 20 of 20, lies outside that range.'],
    [20, 20, 20, 'no number of years shows that it is all of them.'],
    [10, 20, 10, 'That does not settle whether it is 10 of 20 of all such years: it is held in just as many years as asked.'],
    [9, 20, 10, "That does not settle whether it is 10 of 20 of all such years: at today's share about "],
    [9999, 20_000, 10_000, 'That does not settle whether it is 10000 of 20000 of all such years: it would take more than 100,000 years.'],
  ])('%d of %d held, %d asked', (held, years, asked, said) => {
    expect(keptWords(held, years, asked)).toContain(said);
  });
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, []],
    [{ years: drawn(2) }, [expect.stringMatching(/^Drawn years 92 to 93\. Plants chosen for 90 of 100 drawn years/)]],
    [{ years: [{ kind: 'measured', year: 2010, repeated: ['l.csv'] }, { kind: 'measured', year: 2012, repeated: ['l.csv'] }], left_out: [{ year: 2011, why: 'gaps' }, { year: 2013, why: 'no rows' }] }, ['Years of the weather file: 2010, 2012.', 'Not played: 2011 (gaps); 2013 (no rows).', 'Rows of l.csv are used again, date for date, in years that it does not hold.']],
    [{ assumptions: [{ kind: 'model', why: 'means are those of the file' }, { kind: 'default', path: 'a', value: 1 }, { kind: 'default', path: 'b', value: 2 }] }, ['Means are those of the file. By default: a 1, b 2.']],
  ] as [object, unknown[]][])('years %#', (own, said) => {
    expect(yearsWords({ ...NO_YEARS, ...own })).toEqual(said);
  });
  // biome-ignore format: a table is read by rows
  test.each([
    [judge(), []],
    [judge({ years: drawn(3), years_to_hold: 2 }), ['Required: nothing unmet in 2 of 3 years.']],
    [judge({ all_served: false, requirements: [hold(), hold({ statistic: 'mean' })] }), ['Required: unmet hours at most 9 h; unmet hours, mean of the years, at most 9 h.']],
    [judge({ all_served: false, years: drawn(3), years_to_hold: 3, requirements: [hold({ statistic: 'mean' })] }), ['Required: unmet hours, mean of the years, at most 9 h.']],
    [judge({ all_served: false, years: drawn(3), years_to_hold: 3, requirements: [hold({ statistic: 'mean' }), hold()] }), ['Required: unmet hours at most 9 h in 3 of 3 years; unmet hours, mean of the years, at most 9 h.']],
  ])('judged by %#', (by, said) => {
    expect(judgeSentences(by, NO_YEARS)).toEqual(said);
  });
  // biome-ignore format: a table is read by rows
  test.each([
    [judge(), ''],
    [judge({ all_served: false, requirements: [hold()] }), 'unmet hours at most 9 h: kept, 4.'],
    [judge({ years: drawn(20), years_to_hold: 20 }), 'nothing is unmet in 0 of 20 years: between'],
    [judge({ all_served: false, years: drawn(20), years_to_hold: 20, requirements: [hold()] }), 'all that is required of each year is kept in 0 of 20 years: between'],
    [judge({ all_served: false, years: drawn(20), years_to_hold: 20, requirements: [hold()] }), 'Unmet hours at most 9 h: kept, 4. Figures that are required of each year are those that 20 of 20 years keep to.'],
  ])('fared %#', (by, said) => {
    const words = judgedWords({ years_held: 0, bounds: [4], keeps: false, missed: 0 }, by);
    expect(said === '' ? words : words.includes(said)).toBe(said === '' ? '' : true);
  });
});

describe('compare', () => {
  const plant = (label: string, own: object = {}) => ({
    label,
    report: {
      verdict: { holds: true },
      cautions: [],
      load: { wanted_kWh: 9 },
      unmet: { hours: 0 },
      run: { year: 2026 },
      every_year: null,
    },
    limits: { ac_output: { limits: [] }, solar_charging: { limits: [] }, ac_charging: { limits: [] } },
    bill: { lines: [], capital: 100, unpriced: [] },
    judged: { keeps: true, years_held: 0, bounds: [0], missed: 0 },
    dangers: [],
    terms: null,
    ...own,
  });
  const scenario = {
    site: { name: 'hut', latitude_deg: 61, longitude_deg: -7.5 },
    run: { year: 2026 },
    weather: { kind: 'monthly_means', seed: 92 },
  };
  const fails = {
    report: {
      verdict: { holds: false },
      cautions: [],
      load: { wanted_kWh: 9 },
      unmet: { hours: 2, energy_kWh: 1 },
      run: { year: 2026 },
      every_year: null,
    },
  };
  const compared = (plants: readonly object[], own: object = {}): Comparison =>
    ({
      plants,
      judge: judge(),
      rows: [],
      over_years: null,
      asked: { kind: 'plant', rows: [] },
      currency: null,
      dearer: [],
      notices: [],
      ...own,
    }) as unknown as Comparison;
  const sectionOf = (comparison: Comparison, id: string) =>
    compareDocument(
      { comparison, scenario, possible: NO_YEARS } as never,
      { version: '0', read: [], set: [] } as never,
      ['a.yaml'],
    ).sections.find((one) => one.id === id)!;
  const [a, b, c] = [plant('a'), plant('b'), plant('c')];
  const [x, y] = [plant('x', fails), plant('y', fails)];

  test.each([
    [[a, b], 'Both plants hold: no load goes unmet in any.', 'good'],
    [[a, b, c], 'All 3 plants hold: no load goes unmet in any.', 'good'],
    [[x, y], 'Neither plant holds: load goes unmet in each.', 'bad'],
    [[x, y, { ...x, label: 'z' }], 'None of 3 plants holds: load goes unmet in each.', 'bad'],
    [[x, b], 'B holds; load goes unmet in x.', 'bad'],
    [[a, x, c, y], 'A and c hold; load goes unmet in x and y.', 'bad'],
  ])('verdict %#', (plants, sentence, tone) => {
    expect(sectionOf(compared(plants), 'verdict')).toMatchObject({ sentence, tone, title: 'Which holds?' });
  });
  test.each([
    ['monthly_means', 'Which holds in drawn year 92 alone?'],
    ['tmy3', 'Which holds in 2026 alone?'],
  ])('over years, %s: the own year is told as such', (kind, title) => {
    const over_years = {
      years: drawn(2),
      rows: [],
      short_years: [0, 0],
      short_alone: [
        [0, 0],
        [0, 0],
      ],
      by_year: [
        [{}, {}],
        [{}, {}],
      ],
    };
    const { sections } = compareDocument(
      {
        comparison: compared([a, b], { over_years, judge: judge({ years: drawn(2) }) }),
        scenario: { ...scenario, weather: { kind, seed: 92 } },
        possible: NO_YEARS,
      } as never,
      { version: '0', read: [], set: [] } as never,
      [],
    );
    expect(sections.find(({ id }) => id === 'verdict')!.title).toBe(title);
  });

  const misses = { judged: { keeps: false, years_held: 0, bounds: [12], missed: 3 } };
  const kept = { judged: { keeps: true, years_held: 0, bounds: [4], missed: 0 } };
  const p = (label: string, own: object) => plant(label, own);
  // biome-ignore format: a table is read by rows
  test.each([
    [[p('a', kept), p('b', kept)], 'Both plants keep what is required.', 'good'],
    [[p('a', kept), p('b', kept), p('c', kept)], 'All 3 plants keep what is required.', 'good'],
    [[p('a', misses), p('b', misses)], 'Neither plant keeps what is required.', 'bad'],
    [[p('a', misses), p('b', misses), p('c', misses)], 'None of 3 plants keeps what is required.', 'bad'],
    [[p('a', misses), p('b', kept)], 'B keeps what is required; a does not.', 'bad'],
    [[p('a', kept), p('b', misses), p('c', kept), p('d', misses)], 'A and c keep what is required; b and d do not.', 'bad'],
  ])('what is required %#', (plants, sentence, tone) => {
    const by = judge({ all_served: false, requirements: [hold()] });
    expect(judgedSections(compared(plants, { judge: by }))[0]).toMatchObject({ sentence, tone });
    expect(judgedSections(compared(plants))).toEqual([]);
  });
  // biome-ignore format: a table is read by rows
  test.each([
    [[0, 0], [[0, 0], [0, 0]], ['No plant goes short in any of 7 years.']],
    [[3, 1], [[0, 2], [0, 0]], ['In 2 of 7 years a goes short and b does not; in none the other way round.']],
    [[3, 2], [[0, 2], [1, 0]], ['In 2 of 7 years a goes short and b does not; in 1 the other way round.']],
    [[2, 2], [[0, 0], [0, 0]], ['In each of 7 years b and a both go short, or neither does.']],
    [[1, 3, 1], [[0, 0, 0], [2, 0, 2], [0, 0, 0]], ['In 2 of 7 years b goes short and a does not; in none the other way round.', 'In each of 7 years c and a both go short, or neither does.']],
    [[1, 1], [[0, 1], [0, 0]], ['In 1 of 7 years a goes short and b does not; in none the other way round.']],
  ] as [number[], number[][], string[]][])('who goes short %#', (short_years, short_alone, said) => {
    const plants = ['a', 'b', 'c'].slice(0, short_years.length).map((label) => plant(label));
    const year = plants.map(() => ({ 'unmet.energy_kWh': 0 }));
    const over_years = {
      years: drawn(7),
      rows: [],
      short_years,
      short_alone,
      by_year: Array.from({ length: 7 }, () => year),
    };
    const [section] = judgedSections(compared(plants, { over_years, judge: judge({ years: drawn(7) }) }));
    const texts = section!.blocks.flatMap((block) => (block.kind === 'text' ? [block.text] : []));
    expect(
      texts.slice(0, said.length),
    ).toEqual(said);
  });

  const priced = (label: string, capital: number | null, own: object = {}) =>
    plant(label, { bill: { lines: [], capital, unpriced: ['bank'] }, ...own });
  const danger = { dangers: [{ id: 'shore_cable', path: 'shore', figure: 32, limit: 16, unit: 'A' }] };
  // biome-ignore format: a table is read by rows
  test.each([
    [[priced('a', 300), priced('b', 200)], 'B costs least to buy of those that hold: 200 crowns.'],
    [[priced('a', 200), priced('b', 200), priced('c', 300)], 'A and b cost least to buy of those that hold: 200 crowns.'],
    [[priced('a', null), priced('b', 200)], 'Of those that hold only b has all its prices: 200 crowns.'],
    [[priced('a', null), priced('b', null)], 'No plant that holds has a price for everything in it.'],
    [[priced('a', 300), priced('b', 200, misses), priced('c', 250)], 'C costs least to buy of those that hold: 250 crowns.'],
    [[priced('a', 300), priced('b', 200, danger), priced('c', 250)], 'C costs least to buy of those that hold and are no danger: 250 crowns.'],
    [[priced('a', 300), priced('b', 200, danger)], 'Of those that hold and are no danger only a has all its prices: 300 crowns.'],
    [[priced('a', 300, misses), priced('b', 200, danger)], 'No plant that holds and is no danger has a price for everything in it.'],
  ])('bills %#', (plants, said) => {
    expect(sectionOf(compared(plants, { currency: 'crowns' }), 'bills').blocks[0]).toMatchObject({
      text: said,
    });
  });
  test('where bounds were given, holding is keeping what is required', () => {
    const by = judge({ all_served: false, requirements: [hold()] });
    const bills = (plants: object[]) =>
      sectionOf(compared(plants, { currency: 'crowns', judge: by }), 'bills').blocks[0];
    expect(bills([priced('a', 3), priced('b', 2)])).toMatchObject({
      text: 'B costs least to buy of those that keep what is required: 2 crowns.',
    });
    expect(bills([priced('a', null), priced('b', null)])).toMatchObject({
      text: 'No plant that keeps what is required has a price for everything in it.',
    });
  });

  const row = { name: 'plant.cost_per_served_kWh', per: 'kWh', values: [0.5, 0.7], winners: [0] };
  // biome-ignore format: a table is read by rows
  test.each([
    [{ kind: 'plant', rows: [row] }, {}, 'Whole plants are compared by their cost over the years per kWh served. A costs least per kWh served: 0.50 crowns.'],
    [{ kind: 'plant', rows: [{ ...row, winners: [] }] }, {}, 'Whole plants are compared by their cost over the years per kWh served. No two that could be the best differ in it.'],
    [{ kind: 'store', rows: [{ ...row, name: 'bank.price_per_usable_kWh', winners: [1] }] }, {}, 'The plants differ in their banks alone, which are compared per usable kWh. B costs least per usable kWh: 0.70 crowns.'],
    [{ kind: 'power', rows: [{ ...row, name: 'power.price_per_output_kW' }, { ...row, name: 'power.price_per_solar_charging_kW', winners: [1] }] }, {}, 'The plants differ in inverter, charger and trackers alone, which are compared per kW. A costs least per kW of AC output: 0.50 crowns; b costs least per kW of solar charging: 0.70 crowns.'],
  ])('what differs %#', (asked, own, sentence) => {
    expect(sectionOf(compared([a, b], { asked, currency: 'crowns', ...own }), 'asked').sentence).toBe(
      sentence,
    );
  });

  const dearer = {
    label: 'b',
    than: 'a',
    more_to_buy: 200,
    more_share: 0.5,
    per_unmet_kWh: null,
    exchanged: [],
    over_years: null,
  };
  const exchanged = (...all: [string, number][]) => all.map(([name, ahead]) => ({ name, ahead }));
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, 'b costs 200 crowns more to buy than a (50 % more). It buys nothing of what is compared here.'],
    [{ more_share: null }, 'b costs 200 crowns more to buy than a. It buys nothing of what is compared here.'],
    [{ more_to_buy: 0 }, 'b costs as much to buy as a. It buys nothing of what is compared here.'],
    [{ per_unmet_kWh: 40, exchanged: exchanged(['unmet.energy_kWh', 5], ['generator.run_hours', 9], ['generator.fuel_L', -3]) }, 'b costs 200 crowns more to buy than a (50 % more). It buys 5.00 kWh a year less unmet (40.0 crowns to buy for each of them) and 9.00 h a year less of generator running. It gives up 3.00 L a year more fuel.'],
    [{ exchanged: exchanged( ['generator.fuel_L', 3], ['shore.energy_kWh', 4], ['bank.usable_kWh', 5], ['limits.ac_output.after_inverter_loss_kW', 1], ['limits.solar_charging.figure_kW', 2], ) }, 'b costs 200 crowns more to buy than a (50 % more). It buys 3.00 L a year less fuel, 4.00 kWh a year less shore power, 5.00 kWh more usable bank, 1.00 kW more AC output and 2.00 kW more solar charging.'],
    [{ exchanged: exchanged( ['unmet.energy_kWh', -5], ['generator.run_hours', -9], ['shore.energy_kWh', -4], ['bank.usable_kWh', -5], ['limits.ac_output.after_inverter_loss_kW', -1], ['limits.solar_charging.figure_kW', -2], ) }, 'b costs 200 crowns more to buy than a (50 % more). It buys nothing of what is compared here. It gives up 5.00 kWh a year more unmet, 9.00 h a year more of generator running, 4.00 kWh a year more shore power, 5.00 kWh of usable bank, 1.00 kW of AC output and 2.00 kW of solar charging.'],
    [{ over_years: { years: 1, more: 0, even_at_fuel_price_per_L: null } }, 'b costs 200 crowns more to buy than a (50 % more). It buys nothing of what is compared here. Over one year both cost the same.'],
    [{ over_years: { years: 20, more: 50, even_at_fuel_price_per_L: null } }, 'b costs 200 crowns more to buy than a (50 % more). It buys nothing of what is compared here. Over 20 years it costs 50.0 crowns more.'],
    [{ over_years: { years: 20, more: -50, even_at_fuel_price_per_L: 1.5 } }, 'b costs 200 crowns more to buy than a (50 % more). It buys nothing of what is compared here. Over 20 years it costs 50.0 crowns less; both would cost the same with fuel at 1.50 crowns a litre.'],
  ])('the dearer one %#', (own, said) => {
    expect(
      dearerSentences(compared([a, b], { currency: 'crowns', dearer: [{ ...dearer, ...own }] })),
    ).toEqual([said]);
  });
});

describe('improve', () => {
  const change = (id: string, own: object = {}) => ({
    id,
    what: { id: 'one_more_module' },
    caution: null,
    kind: 'part',
    ...own,
  });
  const tried = (id: string, own: object = {}): TriedChange =>
    patched(
      {
        changes: [change(id)],
        values: [],
        outcome: { unmet_kWh: 0, generator_run_h: null, years_held: 0, bounds: [0] },
        extra_money: null,
        holds_then: true,
      },
      own,
    ) as unknown as TriedChange;
  const module = tried('m', { extra_money: 900 });
  const floor = tried('f', {
    changes: [change('f', { what: { id: 'lower_floor' }, caution: 'deep_discharge' })],
    extra_money: 0,
  });
  const engine = tried('e', {
    changes: [
      change('e', {
        what: { id: 'new_generator', part: null, rating_kW: 5, charger_A: 60 },
        caution: 'engine',
      }),
    ],
    outcome: { generator_run_h: 50 },
  });
  const less = tried('l', {
    changes: [change('l', { what: { id: 'loads_a_tenth_smaller' }, kind: 'loads' })],
    extra_money: 0,
  });
  const [unknown, cheaper] = [tried('u'), tried('m', { extra_money: -5 })];
  const short = (one: TriedChange, unmet_kWh: number): TriedChange =>
    patched(one, { holds_then: false, outcome: { unmet_kWh } });
  const improvement = {
    holds: false,
    helping: [],
    pairs: [],
    repeated: [],
    together: [],
    holds_with: null,
    currency: 'crowns',
    judge: judge(),
    dropped_dangerous: 0,
    now: {
      unmet_hours: 5,
      unmet_kWh: 20,
      generator_run_h: null,
      lowest_soc: 0.1,
      years_held: 0,
      bounds: [0],
    },
  };
  const answer = (own: object): string =>
    answerWords({ improvement: patched(improvement, own) } as never).join(' ');
  const holds = { holds: true, now: { unmet_hours: 0 } };

  // biome-ignore format: a table is read by rows
  test.each([
    [{ ...holds }, 'Nothing to improve: the plant holds, and no change here saves generator hours or leaves more in the bank.'],
    [{ ...holds, helping: [module] }, 'Nothing to improve: the plant holds. Changes are ranked by the generator hours they save, then by the lowest charge they leave.'],
    [{ holds: true, judge: { all_served: false } }, 'Nothing to improve: the plant keeps what is required, and no change here takes unmet energy away, saves generator hours or leaves more in the bank.'],
    [{ holds: true, judge: { all_served: false }, helping: [module] }, 'Nothing to improve: the plant keeps what is required. Changes are ranked by the unmet energy they take away, then by the generator hours they save, then by the lowest charge they leave.'],
    [{ helping: [module], holds_with: module }, 'This does: one more module. It costs 900 crowns more.'],
    [{ helping: [module], holds_with: module, currency: null }, 'This does: one more module.'],
    [{ helping: [floor], holds_with: floor }, 'This does: a lower floor. It costs nothing on the bill. Deeper discharge costs cycle life, and no reserve is left for what the year did not bring.'],
    [{ helping: [cheaper], holds_with: cheaper }, 'This does: one more module. It costs 5.00 crowns less.'],
    [{ helping: [unknown], holds_with: unknown }, 'This does: one more module. No price is known for it.'],
    [{ helping: [module, floor], holds_with: floor }, 'The cheapest of those that do: a lower floor. It costs nothing on the bill. Deeper discharge costs cycle life, and no reserve is left for what the year did not bring. So would one more module.'],
    [{ helping: [engine, module], holds_with: module }, 'The cheapest to have a price of those that do: one more module. It costs 900 crowns more. So would a generator of 5 kW and a charger of 60 A.'],
    [{ helping: [less, module], holds_with: module }, 'This does: one more module. It costs 900 crowns more. So would all loads a tenth smaller.'],
    [{ helping: [engine], holds_with: engine, currency: null }, 'This does: a generator of 5 kW and a charger of 60 A. Fuel, service, noise and exhaust come with it and are in no price here; it needs a transfer switch, or an inverter made to take it in.'],
    [{ helping: [engine, short(module, 3)], holds_with: module, repeated: [module] }, 'No single change but a generator does. The cheapest to have a price of those that do: one more module. It costs 900 crowns more. So would a generator of 5 kW and a charger of 60 A.'],
    [{ helping: [short(module, 3)], holds_with: floor, pairs: [floor] }, 'No single change does. This does: a lower floor. It costs nothing on the bill. Deeper discharge costs cycle life, and no reserve is left for what the year did not bring.'],
    [{ helping: [short(module, 3)], pairs: [short(floor, 2)], holds_with: less, together: [less] }, 'No single change does. This does: all loads a tenth smaller. It costs nothing on the bill. The best pair, a lower floor, leaves 2.00 kWh of 20.0 kWh.'],
    [{}, 'Nothing here does: no change alone, none made again and again, no two together, no array and bank together.'],
    [{ helping: [short(module, 3)] }, 'Nothing here does: no change alone, none made again and again, no two together, no array and bank together. The most that one does: one more module leaves 3.00 kWh.'],
    [{ helping: [short(module, 3)], pairs: [short(floor, 2)] }, 'Nothing here does: no change alone, none made again and again, no two together, no array and bank together. The best pair, a lower floor, leaves 2.00 kWh of 20.0 kWh.'],
  ])('answer %#', (own, said) => {
    expect(answer(own)).toBe(said);
  });

  // biome-ignore format: a table is read by rows
  test.each([
    [{}, '20.0 kWh unmet in 5 h; no generator; lowest state of charge 10 %.'],
    [{ now: { unmet_hours: 0, generator_run_h: 12 } }, 'nothing is unmet; the generator runs 12 h; lowest state of charge 10 %.'],
  ])('now %#', (own, said) => {
    expect(nowWords(patched(improvement, own) as never)).toBe(said);
  });
  test('of several years the mean is told', () => {
    expect(nowWords(patched(improvement, { judge: judge({ years: drawn(2) }) }) as never)).toMatch(
      /^In the mean of the years 20\.0 kWh unmet in 5 h; .* Nothing is unmet in 0 of 2 years: /,
    );
  });

  test.each([
    [0, null],
    [1, '1 change, alone or with others, was dropped: the plant would be a danger.'],
    [2, '2 changes, alone or with others, were dropped: the plant would be a danger.'],
  ])('%d dropped', (dropped_dangerous, said) => {
    expect(droppedWords({ dropped_dangerous } as never)).toBe(said);
  });

  const scale = (k: number, value = 0.9) => ({ path: `loads[${k}].scale`, value });
  // biome-ignore format: a table is read by rows
  test.each([
    [[{ path: 'bank.modules_parallel', value: 5 }], 'bank.modules_parallel: 5'],
    [[scale(0)], 'scale: 0.9 under the load'],
    [[scale(0), scale(1)], 'scale: 0.9 under each of the 2 loads'],
    [[scale(0), scale(1, 1.8)], 'scale × 0.9 under each of the 2 loads'],
    [[{ path: 'a', value: [1, 'b'] }, scale(0), { path: 'c', value: { d: 1, e: '2 x', f: 'name' } }], 'a: [1, b], c: { d: 1, e: "2 x", f: name }, scale: 0.9 under the load'],
  ])('typed %#', (values, said) => {
    expect(typedWords(values)).toBe(said);
  });
  test('the same change is counted, others are listed', () => {
    const [one] = module.changes;
    expect(changeWords({ changes: [one!, one!, one!] })).toBe('one more module, 3 times');
    expect(changeWords({ changes: [one!, floor.changes[0]!] })).toBe('one more module and a lower floor');
  });
  test('each caution stands once, behind all that it is of', () => {
    const tilt = (id: string, array: string) =>
      change(id, { what: { id: 'steeper', array, tilt_deg: 50 }, caution: 'rack' });
    const shown = [
      tried('s', { changes: [tilt('s', 'roof'), change('m')] }),
      floor,
      tried('t', { changes: [tilt('t', 'wall')] }),
    ];
    expect(cautionsOf(shown)).toEqual([
      'steeper: another rack may cost more; the bill does not know it',
      'a lower floor: deeper discharge costs cycle life, and no reserve is left for what the year did not bring',
    ]);
  });

  test.each([
    ['one_more_string', { in_series: 4, array: null }, 'one more string of 4'],
    ['one_more_panel', { array: 'roof' }, 'one more panel on roof'],
    ['a_tenth_more_array', { array: null }, 'a tenth more array'],
    ['tracker_part', { part: 't', array: 'roof' }, 'tracker t on roof'],
    ['tracker', { power_kW: 3, amps_A: 60, array: null }, 'a tracker of 3 kW, 60 A'],
    ['array_inverter', { output_kW: 3, array: null }, 'an inverter of 3 kW for the array on the AC side'],
    ['steeper', { array: 'roof', tilt_deg: 70 }, 'steeper: roof at 70°'],
    ['flatter', { array: 'roof', tilt_deg: 10 }, 'flatter: roof at 10°'],
    ['steeper_by', { array: 'roof', by_deg: 10 }, 'steeper: roof by 10° in every month, from 0 to 90°'],
    ['flatter_by', { array: 'roof', by_deg: 10 }, 'flatter: roof by 10° in every month, from 0 to 90°'],
    ['inverter_part', { part: 'i', brings_others: false }, 'inverter i'],
    ['inverter_part', { part: 'i', brings_others: true }, 'inverter i with what it brings'],
    ['inverter', { units: 1, rating_kW: 3, now_kW: 2 }, 'an inverter of 3 kW'],
    ['inverter', { units: 2, rating_kW: 3, now_kW: 2 }, '2 inverters of 3 kW instead of 2 kW'],
    ['one_more_inverter', { on_each_leg: false }, 'one more inverter'],
    ['one_more_inverter', { on_each_leg: true }, 'one more inverter on each leg'],
    ['load_leg', { load: 'pump', leg: 2 }, 'pump on leg 2'],
    ['charger_part', { part: 'c' }, 'charger c'],
    ['charger', { amps_A: 60, separate: false }, 'a charger of 60 A'],
    ['charger', { amps_A: 60, separate: true }, 'a charger of 60 A in a case of its own'],
    ['generator_part', { part: 'g' }, 'generator g'],
    ['generator', { rating_kW: 4 }, 'a generator of 4 kW'],
    ['generator_hour', {}, 'an hour more of the generator a day'],
    ['no_quiet_hours', {}, 'no quiet hours for the generator'],
    ['generator_earlier', {}, 'the generator starts earlier'],
    ['generator_tank', { capacity_L: 30 }, 'a tank of 30 L'],
    ['side_by_side', { source: 'generator' }, 'inverter and generator carry loads side by side'],
    ['side_by_side', { source: 'shore' }, 'inverter and socket carry loads side by side'],
    ['new_generator', { part: 'g', rating_kW: 5, charger_A: null }, 'a generator g'],
    ['socket', { amps_A: 16 }, 'a socket of 16 A'],
    ['engine_charger', { amps_A: 45 }, 'a charger at the engine of 45 A'],
    ['bank_heated', { temperature_C: 0 }, 'a bank kept at 0 °C'],
    ['loads_wait_less', {}, 'flexible loads draw at any charge of the bank'],
    ['tier_shed', { tier: 3 }, 'tier 3 shed at a low bank'],
  ])('%s %j', (id, own, said) => {
    expect(whatWords({ what: { id, ...own } as never })).toBe(said);
  });
  // biome-ignore format: a table is read by rows
  test.each([
    [{ id: 'over_tracker', size_kWp: 9.75, power_kW: 6, times: 1.5 }, '9.75 kWp on a tracker that takes 6 kW is more than 1.5 times its power: it needs another tracker, on an input of its own'],
    [{ id: 'danger', danger: { id: 'shore_cable', path: 'shore', figure: 32, limit: 16, unit: 'A' } }, 'it would be a danger. The socket gives 32.0 A, and the cable to it carries 16.0 A.'],
    [{ id: 'contradiction', message: 'floor above start' }, 'floor above start'],
  ])('not played %#', (why, said) => {
    expect(unplayedWords(why as never)).toBe(said);
  });
});

describe('sway', () => {
  const bank = { bank: {}, arrays: [], loads: [] };
  const guess = (own: object) => ({
    key: 'inverter.idle_W',
    paths: ['inverter.idle_W'],
    scale: 'value',
    today: 50,
    to: [25, 100],
    is_range: true,
    stated: true,
    turns: [],
    turned_by: [],
    plays: [],
    ...own,
  });
  const turn = (holds_at: number, fails_at: number, reach = 0.5) => ({ holds_at, fails_at, reach });
  const said = (holds: boolean, own: object): readonly string[] =>
    sway.turnSentences({ sway: { holds }, scenario: bank, moves: [] } as never, guess(own) as never);
  const factor = { scale: 'factor', today: 1, to: [0.5, 1.5] };
  // biome-ignore format: a table is read by rows
  test.each([
    [true, { turns: [turn(75, 76)] }, 'Idle draw of the inverter: it holds up to 75 W (today 50 W).'],
    [true, { turns: [turn(30, 29)] }, 'Idle draw of the inverter: it holds down to 30 W (today 50 W).'],
    [false, { turns: [turn(30, 31)] }, 'Idle draw of the inverter: it would hold at 30 W (today 50 W).'],
    [true, { turns: [turn(150, 151, 2)], stated: false }, 'Idle draw of the inverter: it holds up to 150 W (today 50 W; a default of ours; beyond its range, 25 W to 100 W).'],
    [true, { turned_by: ['x'] }, 'Idle draw of the inverter: it does not hold at x (today 50 W).'],
    [false, { turned_by: ['x'] }, 'Idle draw of the inverter: it would hold at x (today 50 W).'],
    [true, { ...factor, key: 'load', paths: [], turns: [turn(1.12, 1.13)] }, 'It holds until the loads are 12 % larger.'],
    [false, { ...factor, key: 'load', paths: [], turns: [turn(0.88, 0.89)] }, 'It would hold if the loads were 12 % smaller.'],
    [true, { ...factor, key: 'sun', paths: [], turns: [turn(0.9, 0.89)] }, 'It holds until the sun is 10 % weaker.'],
    [false, { ...factor, key: 'sun', paths: [], turns: [turn(1.1, 1.09)] }, 'It would hold if the sun were 10 % stronger.'],
    [true, { ...factor, key: 'panels', paths: [], turns: [turn(0.9, 0.89)] }, 'It holds until the panels give 10 % less.'],
    [false, { ...factor, key: 'panels', paths: [], turns: [turn(1.6, 1.59, 1.2)] }, 'It would hold if the panels gave 60 % more (beyond its range, −50 % to +50 %).'],
    [true, { scale: 'added', key: 'air', paths: [], today: 0, to: [-3, 3], turns: [turn(-2, -2.1)] }, 'It holds until the air is 2 K colder.'],
    [false, { scale: 'added', key: 'air', paths: [], today: 0, to: [-3, 3], turns: [turn(2, 1.9)] }, 'It would hold if the air were 2 K warmer.'],
  ])('turns, holding %s %j', (holds, own, sentence) => {
    expect(said(holds, own)).toEqual([sentence]);
  });

  const reaching = (...reaches: number[]) =>
    sway.answerWords({
      sway: {
        guesses: reaches.map((reach) => guess(Number.isFinite(reach) ? { turns: [turn(1, 2, reach)] } : {})),
      },
    } as never);
  // biome-ignore format: a table is read by rows
  test.each([
    [[Number.POSITIVE_INFINITY], 'No single guess turns the verdict, in its range or up to three times as far off. Several that are wrong together may.'],
    [[Number.POSITIVE_INFINITY, 2], 'No single guess turns the verdict within its range; some do farther off.'],
    [[1, 2], 'One guess alone turns the verdict within its range.'],
    [[0.4, 1, 3], 'Each of 2 guesses alone turns the verdict within its range.'],
  ])('answer of reaches %j', (reaches, sentence) => {
    expect(reaching(...reaches)).toBe(sentence);
  });

  const now = {
    'unmet.hours': 0,
    'unmet.energy_kWh': 0,
    'generator.run_hours': null,
    'bank.lowest_soc': 0.3,
  };
  // biome-ignore format: a table is read by rows
  test.each([
    [{ holds: true }, {}, 'It holds. Nothing is unmet; no generator; lowest state of charge 30 %.'],
    [{ holds: false }, { 'unmet.hours': 2.5, 'unmet.energy_kWh': 4, 'generator.run_hours': 7 }, 'It does not hold. 4.00 kWh unmet in 2.5 h; the generator runs 7 h; lowest state of charge 30 %.'],
    [{ holds: true, requirements: [hold()] }, {}, 'It keeps what is required (unmet.hours<=9). Nothing is unmet; no generator; lowest state of charge 30 %.'],
    [{ holds: false, requirements: [hold(), hold({ text: 'b>1' })] }, {}, 'It misses what is required (unmet.hours<=9, b>1). Nothing is unmet; no generator; lowest state of charge 30 %.'],
  ])('now %#', (own, figures, sentence) => {
    expect(sway.nowWords({ sway: { requirements: [], ...own, now: { ...now, ...figures } } } as never)).toBe(
      sentence,
    );
  });

  test('a danger that comes with a value is told with that value, and none if it was there before', () => {
    const plays = [
      { value: 25, figures: { dangers: 0 } },
      { value: 100, figures: { dangers: 1 } },
    ];
    const told = (dangers: number) =>
      sway.dangerWords({
        sway: {
          guesses: [guess({ plays })],
          idle: [guess({ key: 'sun', scale: 'factor', plays: [{ value: 1.5, figures: { dangers: 1 } }] })],
          now: { dangers },
        },
        scenario: bank,
      } as never);
    expect(told(1)).toBeNull();
    expect(told(0)).toBe(
      'The plant would be a danger that it is not as described with idle draw of the inverter at 100 W and sun at +50 %. Build it so that it is none with these either; check says which danger it is, with such a value in the file.',
    );
  });
});

describe('size', () => {
  const axes = [
    {
      path: 'bank.modules_parallel',
      values: [2, 3, 4],
      short: 'battery modules',
      words: 'battery modules',
      unit: '',
    },
  ];
  const question = (own: object = {}) =>
    patched(
      {
        axes,
        age_years: 0,
        ask: { least: 'money.total', holds: [hold()], years_to_hold: 1 },
        possible: NO_YEARS,
        files: {
          name: 'a.yaml',
          read: {
            scenario: {
              site: {},
              weather: {},
              arrays: [],
              bank: {},
              inverter: {},
              run: {},
              loads: [],
              money: { currency: 'crowns', years: 20 },
            },
          },
        },
      },
      own,
    );
  const tried = (own: object = {}) => ({
    index: 0,
    holds: true,
    dangers: 0,
    years_held: 0,
    least: 1500,
    capital: 900,
    unmet_kWh: 0,
    run_hours: null,
    bounds: [4],
    ...own,
  });
  const answer = (own: object = {}) => ({
    best: 0,
    nearest: null,
    holding: 1,
    played: 3,
    contradictory: 0,
    unranked: 0,
    dangerous: 0,
    front: [0],
    candidates: [0],
    tried: () => tried(),
    ...own,
  });
  const shown = (own: { question?: object; answer?: object } = {}) =>
    ({ designs: 3, question: question(own.question), answer: answer(own.answer) }) as never;
  const years = { possible: { years: drawn(20) }, ask: { years_to_hold: 19 } };

  // biome-ignore format: a table is read by rows
  test.each([
    [{ holding: 0 }, '3 designs: battery modules: 2, 3, 4. All played; none keeps the requirements.'],
    [{ holding: 1 }, '3 designs: battery modules: 2, 3, 4. All played; 1 keeps the requirements.'],
    [{ holding: 2, played: 2, contradictory: 1 }, '3 designs: battery modules: 2, 3, 4. 2 played, the values of 1 contradict each other; 2 keep the requirements.'],
    [{ holding: 2, unranked: 1, dangerous: 1 }, "3 designs: battery modules: 2, 3, 4. All played; 2 keep the requirements. 1 design of them has no price and can't be chosen. 1 design is a danger and was dropped: check says of each what it can destroy."],
    [{ holding: 2, unranked: 2, dangerous: 2 }, "3 designs: battery modules: 2, 3, 4. All played; 2 keep the requirements. 2 designs of them have no price and can't be chosen. 2 designs are dangers and were dropped: check says of each what it can destroy."],
  ])('played %#', (own, said) => {
    expect(size.playedText(shown({ answer: own }))).toBe(said);
  });

  // biome-ignore format: a table is read by rows
  test.each([
    [{}, null],
    [{ best: null, holding: 2 }, 'missed: 2 designs of 3 keep every requirement, and none of them has a cost of the plant'],
    [{ best: null, holding: 1 }, 'missed: 1 design of 3 keeps every requirement, and it has no cost of the plant'],
    [{ best: null, holding: 0, dangerous: 3 }, 'missed: no design of 3 keeps every requirement; all that could be played are dangers'],
    [{ best: null, holding: 0 }, 'missed: no design of 3 keeps every requirement; none could be played'],
    [{ best: null, holding: 0, nearest: 2, tried: () => tried({ index: 2, holds: false, bounds: [12] }) }, 'missed: no design of 3 keeps every requirement; nearest is design 3 (battery modules: 4): unmet hours at most 9 h: missed, 12'],
  ])('nothing holds %#', (own, said) => {
    expect(size.nothingHolds(shown({ answer: own }))).toBe(said);
  });
  test('nothing holds in so many years', () => {
    const near = {
      best: null,
      holding: 0,
      nearest: 1,
      tried: () => tried({ index: 1, holds: false, years_held: 12 }),
    };
    expect(size.nothingHolds(shown({ question: years, answer: near }))).toBe(
      'missed: no design of 3 keeps every requirement in 19 of 20 years; nearest is design 2 (battery modules: 3): keeps them in 12 of 20 years',
    );
  });

  test.each([
    [null, 'not played: contradictory'],
    [{ dangers: 1 }, 'no: a danger'],
    [{}, 'yes'],
    [{ holds: false, bounds: [12] }, 'no: unmet hours'],
  ])('keeps %j', (own, said) => {
    expect(size.keepsText(question() as never, own === null ? null : (tried(own) as never))).toBe(said);
  });
  test('keeps it in too few years', () => {
    expect(size.keepsText(question(years) as never, tried({ holds: false, years_held: 12 }) as never)).toBe(
      'no: 12 of 20 years',
    );
  });

  test.each([
    ['money.capital', 'price of the plant', '1500 crowns to buy'],
    ['money.total', 'cost of the plant', '1500 crowns over 20 years'],
    ['money.per_served_kWh', 'cost per kWh served', '1500 crowns per kWh served'],
    ['generator.fuel_L', 'fuel, L', 'fuel, L: 1500'],
  ])('least %s', (least, name, sentence) => {
    const of = question({ ask: { least } }) as never;
    expect([size.leastWords(of).name, size.leastSentence(of, 1500)]).toEqual([name, sentence]);
  });
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, 'Asked: the least cost of the plant over 20 years, with unmet hours at most 9 h.'],
    [{ ask: { least: 'money.capital' } }, 'Asked: the least price of the plant, with unmet hours at most 9 h.'],
    [patched(years, { ask: { holds: [hold(), hold({ statistic: 'mean' })] } }), 'Asked: the least cost of the plant over 20 years, with unmet hours, mean of the years, at most 9 h and unmet hours at most 9 h in 19 of 20 years.'],
  ])('asked %#', (own, said) => {
    expect(size.askedText(question(own) as never)).toBe(said);
  });
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, ''],
    [{ age_years: 1, ask: { least: 'money.capital' } }, 'Played is each plant 1 year on, with loads grown to then. Bank and arrays are what is left of them, or at the end of their life where that ends before. Every year is taken to wear the bank as the first does, in which it is new. '],
    [{ age_years: 10 }, 'Played is each plant 10 years on, with loads grown to then. Bank and arrays are what is left of them, or at the end of their life where that ends before. Every year is taken to wear the bank as the first does, in which it is new. Costs take every year to use as much as this one.'],
  ])('aged %#', (own, said) => {
    expect(size.ageText(question(own) as never)).toBe(said);
  });

  const harder = (same: object, cheapest: object | null, own: object = {}): string =>
    size.harderText(shown(own), { same: tried(same), cheapest: cheapest && tried(cheapest) } as never);
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, {}, {}, 'Design 1 still keeps the requirements, at 1500 crowns over 20 years.'],
    [{}, null, {}, 'Design 1 still keeps the requirements, at 1500 crowns over 20 years.'],
    [{}, { index: 1, least: 1400 }, {}, 'Design 1 still keeps the requirements, at 1500 crowns over 20 years. Cheapest then is design 2 at 1400 crowns over 20 years.'],
    [{ holds: false, bounds: [12] }, null, {}, 'Design 1 misses unmet hours at most 9 h: 12. No design of the grid keeps them then.'],
    [{ holds: false, bounds: [12] }, { index: 2, least: 1900 }, {}, 'Design 1 misses unmet hours at most 9 h: 12. Cheapest then is design 3 at 1900 crowns over 20 years (battery modules: 4).'],
    [{ holds: false, years_held: 12 }, null, { question: years }, 'Design 1 keeps them in 12 of 20 years. No design of the grid keeps them then.'],
    [{ years_held: 20 }, null, { question: years }, 'Design 1 still keeps the requirements (20 of 20 years), at 1500 crowns over 20 years.'],
  ])('harder %#', (same, cheapest, own, said) => {
    expect(harder(same, cheapest, own)).toBe(said);
  });
  test.each([
    [null, ''],
    [{ as_dark: 1, years: 200 }, ' (1 of 200 drawn years has one as dark)'],
    [{ as_dark: 9, years: 200 }, ' (9 of 200 drawn years have one as dark)'],
  ])('often %j', (often, said) => {
    expect(size.oftenText({ often } as never)).toBe(said);
  });
  test('the front says how many of it are shown', () => {
    const front = (rows: number, all: number) =>
      size.frontWords(shown({ answer: { front: Array(all).fill(0) } }), rows);
    const rest =
      ' that no other beats: every cheaper one leaves more unmet, or as much with more generator hours';
    expect([front(1, 1), front(3, 3), front(3, 9)]).toEqual([
      `1 design${rest}`,
      `3 designs${rest}`,
      `3 of the 9 designs${rest}`,
    ]);
  });
  test('what can be chosen, each with its weakest point', () => {
    const closest = { limit: 'inverter_rating', used_share: 0.93, time: '' };
    const choice = [
      { tried: tried(), weakest: { cause: null, unmet_kWh: 0, closest } },
      { tried: tried({ index: 1 }), weakest: { cause: 'bank_cold', unmet_kWh: 2, closest } },
    ];
    const of = (own: object) =>
      choiceSection({
        ...(shown({ question: own, answer: { candidates: [0, 1, 2] } }) as object),
        choice,
      } as never);
    const table = (own: object) => {
      const [text, screen] = of(own).blocks;
      return [
        text!.kind === 'text' && text!.text,
        screen!.kind === 'table'
          ? [screen!.columns.at(-1)!.title, ...screen!.rows.map((row) => row.at(-1))]
          : [],
      ];
    };
    const points = ['inverter rating: 93 % used', 'cold keeps back what the bank holds: 2.00 kWh unmet'];
    expect(table({})).toEqual([
      '2 of the 3 designs that can be chosen, the least cost of the plant first. The weakest point is where it gives out, or would next.',
      ['weakest point', ...points],
    ]);
    expect(table(years)).toEqual([
      '2 of the 3 designs that can be chosen, the least cost of the plant first. The weakest point is that of the hardest of its years.',
      ['weakest point, in its hardest year', ...points],
    ]);
  });
});

describe('sweep', () => {
  const row = (index: number, figures: Record<string, number> = {}) => ({ index, ...figures });
  const digest = (own: object = {}) => ({
    played: 5,
    holding: 2,
    dangerous: 0,
    cheapest: null,
    leastUnmet: null,
    smallestArray: null,
    smallestBank: null,
    contradictory: 0,
    firstContradiction: null,
    firstDangerous: null,
    range: () => ({ count: 0, least: 0, most: 0 }),
    same: () => true,
    yearsHeld: () => 7,
    ...own,
  });
  const made = (own: object = {}) => ({
    years: null,
    currency: 'crowns',
    axes: [],
    terms: null,
    hour_worth: null,
    ...own,
  });
  const many = { years: { count: 10 } };
  // biome-ignore format: a table is read by rows
  test.each([
    [{ played: 0 }, {}, 'No design could be played.'],
    [{ dangerous: 5 }, {}, 'Every design played is a danger.'],
    [{ holding: 0 }, {}, 'Every design leaves something unmet.'],
    [{ holding: 0, dangerous: 2 }, {}, 'Every design in which no danger was found leaves something unmet.'],
    [{ holding: 0 }, many, 'Every design leaves something unmet in one of 10 years or more.'],
    [{ holding: 0, leastUnmet: row(3) }, many, 'Every design leaves something unmet in one of 10 years or more; design 4 holds in most, 7 of 10.'],
    [{ holding: 5 }, {}, 'No design leaves anything unmet.'],
    [{ holding: 3, dangerous: 2 }, many, 'No design in which no danger was found leaves anything unmet in any of 10 years.'],
    [{ holding: 1 }, {}, '1 of 5 designs leaves nothing unmet.'],
    [{ holding: 2 }, many, '2 of 5 designs leave nothing unmet in any of 10 years.'],
    [{ holding: 2, dangerous: 1 }, {}, '2 of 4 designs in which no danger was found leave nothing unmet.'],
  ])('holds %#', (own, of, said) => {
    expect(sweep.holdingWords(made(of) as never, digest(own) as never)).toBe(said);
  });
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, null],
    [{ dangerous: 1, firstDangerous: row(2) }, '1 of 5 designs played is a danger: it can destroy a part or start a fire. The first is design 3; the column dangers marks them, longnight check says what they are, and no sentence here recommends one.'],
    [{ dangerous: 2, firstDangerous: row(2) }, '2 of 5 designs played are dangers: they can destroy a part or start a fire. The first is design 3; the column dangers marks them, longnight check says what they are, and no sentence here recommends one.'],
  ])('dangers %#', (own, said) => {
    expect(sweep.dangerWords(digest(own) as never)).toBe(said);
  });
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, null],
    [{ contradictory: 1, firstContradiction: { index: 1, contradiction: 'floor above start' } }, '1 design was not played, because its values contradict each other; design 2: floor above start'],
    [{ contradictory: 2, firstContradiction: { index: 1, contradiction: null } }, '2 designs were not played, because their values contradict each other; design 2: '],
  ])('contradictions %#', (own, said) => {
    expect(sweep.contradictionWords(digest(own) as never)).toBe(said);
  });
  // biome-ignore format: a table is read by rows
  test.each([
    [1, 1, '1 of 9 designs is beaten by no other: every one cheaper to buy leaves more unmet, or as much with more generator hours. It is shown.'],
    [3, 3, '3 of 9 designs are beaten by no other: every one cheaper to buy leaves more unmet, or as much with more generator hours. They are shown.'],
    [2, 3, '3 of 9 designs are beaten by no other: every one cheaper to buy leaves more unmet, or as much with more generator hours. 2 of them are shown.'],
  ])('front, %d shown of %d', (rows, of, said) => {
    expect(sweep.frontWords(9, { rows: Array(rows).fill(row(0)), of } as never)).toBe(said);
  });

  // A kWp a step; each saves its hours and litres, and is worth 2 a litre against 30 a step: what is known on paper.
  const axis = {
    path: 'arrays[0].size_kWp',
    values: [1, 2, 3, 4],
    short: 'array',
    words: 'array',
    unit: 'kWp',
  };
  const terms = { years: 1, discount_share_per_year: 0, fuel_price_growth_share_per_year: 0 };
  const design = (k: number, run_hours: number, fuel_L: number, own: object = {}) => ({
    index: k,
    size_kWp: k + 1,
    run_hours,
    fuel_L,
    unmet_kWh: 0,
    capital: 1000 + 30 * k,
    total: 1000 + 30 * k + 2 * fuel_L,
    running: 2 * fuel_L,
    ...own,
  });
  const told = (designs: object[], own: object = {}): string =>
    growthSections(
      made({ axes: [axis], terms, ...own }) as never,
      { dangerous: 0, growing: { rows: () => [{ rule: null, designs }], rule: null, size: 0 } } as never,
    )[0]!.sentence!;
  // biome-ignore format: a table is read by rows
  test.each([
    [[[100, 80], [70, 60], [50, 50], [40, 46]], 'From 1 kWp on a further kWp saves 30.0 h and 20.0 L a year; at 4 kWp it saves 10.0 h and 4.00 L a year.'],
    [[[100, 80], [110, 90]], 'From 1 kWp on a further kWp takes 10.0 h and 10.0 L a year more; at 2 kWp it takes 10.0 h and 10.0 L a year more.'],
    [[[100, 80], [110, 70]], 'From 1 kWp on a further kWp takes 10.0 h a year more and saves 10.0 L; at 2 kWp it takes 10.0 h a year more and saves 10.0 L.'],
    [[[100, 80], [90, 90]], 'From 1 kWp on a further kWp saves 10.0 h a year and takes 10.0 L more; at 2 kWp it saves 10.0 h a year and takes 10.0 L more.'],
  ] as [[number, number][], string][])('a further kWp without prices %#', (figures, said) => {
    expect(
      told(
        figures.map(([h, L], k) => design(k, h, L, { capital: null, total: null })),
        { currency: null, terms: null },
      ),
    ).toBe(said);
  });

  const priced_terms = {
    shore_price_per_kWh: null,
    ...terms,
    fuel_price_per_L: 2,
    service: null,
    shore_price_growth_share_per_year: 0,
    residual_share: 0,
  };
  const size = {
    path: 'arrays[0].size_kWp',
    values: [1, 2, 3, 4],
    short: 'array',
    words: 'array',
    unit: 'kWp',
  };
  const rule = {
    path: 'bank.modules_parallel',
    values: [4, 8],
    short: 'modules',
    words: 'battery modules',
    unit: '',
  };
  /** Each kWp costs 30 crowns and saves 10 h; a litre is 2 crowns. */
  const curve = (litres: readonly number[], own: object = {}) =>
    litres.map((fuel_L, k) => ({
      index: k,
      size_kWp: k + 1,
      run_hours: 100 - 10 * k,
      fuel_L,
      unmet_kWh: 0,
      capital: 30 * k,
      total: 30 * k + 2 * fuel_L,
      ...own,
    }));
  const growth = (curves: readonly (readonly object[])[], own: object = {}) => {
    const several = curves.length > 1;
    const rows = curves.map((designs, k) => ({ rule: several ? rule.values[k] : null, designs }));
    const [section] = growthSections(
      made({ axes: several ? [size, rule] : [size], terms: priced_terms, ...own }) as never,
      { dangerous: 0, growing: { rows: () => rows, rule: several ? 1 : null, size: 0 } } as never,
    );
    return {
      said: section!.sentence!,
      rests: section!.blocks.flatMap((block) => (block.kind === 'text' ? [block.text] : []))[0],
    };
  };
  // biome-ignore format: a table is read by rows
  test.each([
    [[80, 60, 40, 33], {}, 'The array pays up to 3 kWp: each kWp of the last step saves 10.0 h and 20.0 L a year, worth 40 crowns for a cost of 30; one more saves 10.0 h and 7.00 L a year, worth 14 crowns for a cost of 30.'],
    [[80, 75, 40, 33], {}, 'The array pays up to 3 kWp: each kWp of the last step saves 10.0 h and 35.0 L a year, worth 70 crowns for a cost of 30; one more saves 10.0 h and 7.00 L a year, worth 14 crowns for a cost of 30. Steps are uneven: the sum up to there decides.'],
    [[80, 75, 70], {}, 'No array larger than 1 kWp pays, the smallest played: a first kWp more saves 10.0 h and 5.00 L a year, worth 10 crowns for a cost of 30.'],
    [[80, 60, 40], {}, 'The array pays up to 3 kWp, the largest played: each kWp of the last step saves 10.0 h and 20.0 L a year, worth 40 crowns for a cost of 30. A larger one may pay too.'],
    [[80, 75, 70], { unmet_kWh: 5 }, 'No array larger than 1 kWp pays, the smallest played: a first kWp more saves 10.0 h and 5.00 L a year, worth 10 crowns for a cost of 30. Load goes unmet there, 5.00 kWh a year, and that has no price here.'],
  ])('a further kWp of %j L', (litres, own, said) => {
    expect(growth([curve(litres, own)]).said).toBe(said);
  });
  // biome-ignore format: a table is read by rows
  test.each([
    [[[80, 60, 40, 33], [80, 60, 40, 33]], {}, 'The array pays up to 3 kWp, whatever this is: battery modules.'],
    [[[80, 75, 70, 65], [80, 60, 40, 33]], {}, 'The array pays up to between 1 and 3 kWp, and that depends on: battery modules.'],
    [[[80, 75, 70, 65], [80, 60, 40, 33]], { terms: null, currency: null }, 'A line for each value of: battery modules.'],
  ])('several curves %#', (curves, own, said) => {
    expect(
      growth(
        curves.map((litres) => curve(litres)),
        own,
      ).said,
    ).toBe(said);
  });
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, {}, 'Worth is fuel and service at the prices of the file; cost is buying, and parts bought again, spread evenly over 1 year at 0 % a year. One year was played: another may save more or less.'],
    [{ terms: { ...priced_terms, years: 20, discount_share_per_year: 0.04, fuel_price_growth_share_per_year: 0.02 }, years: { count: 10 } }, {}, 'Worth is fuel and service at the prices of the file, fuel as it gets dearer over the years; cost is buying, and parts bought again, spread evenly over 20 years at 4.0 % a year. Hours, fuel and costs are medians of 10 years.'],
    [{ hour_worth: 3 }, {}, 'Worth is fuel and service at the prices of the file, and 3 crowns for each hour saved, as stated; cost is buying, and parts bought again, spread evenly over 1 year at 0 % a year. One year was played: another may save more or less.'],
    [{ hour_worth: 3 }, { total: null }, 'Worth is 3 crowns for each hour saved, as stated; cost is buying alone, spread evenly over 1 year at 0 % a year. One year was played: another may save more or less.'],
    [{ terms: null }, {}, 'No size is marked: that takes a price of every part, and of fuel or of a saved hour (--hour-worth).'],
  ])('it rests on %#', (own, designs, said) => {
    expect(growth([curve([80, 60, 40, 33], designs)], own).rests).toBe(said);
  });
});

describe('week', () => {
  const answer = {
    year: { clock: { year: 2026 }, scenario: {} },
    days: 7,
    start: '2026-12-18',
    played_initial_soc: 0.6,
    initial_soc: 1,
    begins_empty: false,
    generator: false,
    wanted_kWh: 70,
    unmet_kWh: 0,
    unmet_hours: 0,
    first_unmet: null,
    lowest_soc: 0.25,
    generator_run_hours: 0,
    sun_to_load: 0.4,
    available_kWh: 28,
    rides_days: null,
    modules_parallel: 4,
    modules_to_ride: 3,
    modules_unsteady: null,
    load_share_to_ride: 1,
  };
  const unridden = {
    unmet_kWh: 9,
    unmet_hours: 12,
    first_unmet: '2026-12-22T05:00:00+01:00',
    lowest_soc: 0.1,
    rides_days: 3.25,
    modules_to_ride: 6,
    load_share_to_ride: 0.85,
  };
  const ask = { days: 7, start: null, soc: 1, generator: true };
  const shown = (own: object = {}, more: object = {}) =>
    ({
      scenarioName: 'a.yaml',
      ask,
      answer: { ...answer, ...own },
      alone: null,
      years: null,
      ...more,
    }) as never;
  const answered = (own: object = {}, more: object = {}) =>
    Object.fromEntries(weekAnswers(shown(own, more)).map(([asked, told]) => [asked, told]));

  // biome-ignore format: a table is read by rows
  test.each([
    [{}, {}, 'The leanest week of 2026: 7 days from 2026-12-18. It begins with a full bank; the played year comes to these days with 60 %.'],
    [{ days: 1 }, {}, 'The leanest day of 2026: 2026-12-18. It begins with a full bank; the played year comes to these days with 60 %.'],
    [{ days: 5 }, { ask: { ...ask, start: '2026-12-18' } }, '5 days from 2026-12-18. It begins with a full bank; the played year comes to these days with 60 %.'],
    [{ days: 5 }, { ask: { ...ask, soc: 0.5 }, years: { years: [1, 2, 3] } }, 'The leanest 5 days of 2026: 5 days from 2026-12-18, the hardest of 3 years. It begins at 50 %, as asked; the played year comes to these days with 60 %.'],
    [{ begins_empty: true }, { ask: { ...ask, soc: 0.1 } }, 'The leanest week of 2026: 7 days from 2026-12-18. It begins at 10 %, as asked: the bank begins empty; the played year comes to these days with 60 %.'],
    [{ initial_soc: 0.6 }, { ask: { ...ask, soc: null } }, 'The leanest week of 2026: 7 days from 2026-12-18. It begins as the played year comes to it, at 60 %.'],
    [{ initial_soc: 0.1, begins_empty: true }, { ask: { ...ask, soc: null } }, 'The leanest week of 2026: 7 days from 2026-12-18. It begins as the played year comes to it, at 10 %: the bank begins empty.'],
  ])('asked %#', (own, more, said) => {
    expect(askedText(shown(own, more))).toBe(said);
  });

  // biome-ignore format: a table is read by rows
  test.each([
    ['Ridden out?', {}, 'Yes: all 70.0 kWh wanted are served; the bank comes down to 25 %.'],
    ['Ridden out?', unridden, 'No: 9.00 kWh of 70.0 kWh wanted go unmet, in 12 h, the first at 2026-12-22 05:00.'],
    ['Ridden out?', { wanted_kWh: 0 }, 'No load is wanted in these days.'],
    ['Ridden out?', { generator: true }, 'Yes: all 70.0 kWh wanted are served; the bank comes down to 25 %. The generator never runs.'],
    ['Ridden out?', { generator: true, generator_run_hours: 5 }, 'Yes: all 70.0 kWh wanted are served; the bank comes down to 25 %. The generator runs 5 h.'],
    ['Sun', {}, 'The array offers 28.0 kWh, 40 % of what the loads want.'],
    ['Sun', { sun_to_load: null }, 'No load is wanted.'],
    ['Such days', {}, 'Played 10 times in a row, 70 days, nothing goes unmet.'],
    ['Such days', unridden, 'If such days follow each other, the loads are carried for 3.3 days, to the first unmet hour.'],
    ['More bank', {}, 'None needed: 3 of the 4 modules would do.'],
    ['More bank', { modules_to_ride: 4 }, 'None needed; all 4 modules are.'],
    ['More bank', { modules_to_ride: 1, modules_parallel: 1 }, 'None needed; the module is.'],
    ['More bank', unridden, '6 modules instead of 4 would ride it out, beginning at the same state of charge.'],
    ['More bank', { ...unridden, modules_unsteady: { holds: 6, fails: 8 } }, '6 modules instead of 4 would ride it out, beginning at the same state of charge. But more modules do not help steadily: 6 would ride it out and 8 not.'],
    ['More bank', { ...unridden, modules_to_ride: null }, 'No number of modules from 4 up rides it out: it is not energy in the bank that is short.'],
    ['More bank', { ...unridden, modules_to_ride: null, begins_empty: true }, 'No number of modules rides it out: the bank begins empty, at its floor, and more modules begin as empty. Ask from a charge that it could have, with --soc.'],
    ['Less load', {}, 'None need go.'],
    ['Less load', unridden, '85.0 % of the load would be ridden out: 15.0 % less in every hour.'],
    ['Less load', { load_share_to_ride: null }, 'No share of the load would be ridden out.'],
  ])('%s %#', (asked, own, said) => {
    expect(answered(own)[asked]).toBe(said);
  });

  test('with a generator that rides it out, bank and load are asked about without it', () => {
    const alone = { ...answer, ...unridden };
    const told = answered({ generator: true, generator_run_hours: 5 }, { alone });
    expect(told['No generator']).toBe(
      'Without the generator 9.00 kWh go unmet, in 12 h, the first at 2026-12-22 05:00.',
    );
    expect(told['More bank']).toBe(
      'Without the generator: 6 modules instead of 4 would ride it out, beginning at the same state of charge.',
    );
    expect(answered({ generator: true }, { alone: answer })['No generator']).toBe(
      'Would ride it out without the generator, down to 25 %.',
    );
    // Where even the generator is not enough, the questions are about the plant as it is.
    expect(answered({ ...unridden, generator: true }, { alone })['Less load']).toBe(
      '85.0 % of the load would be ridden out: 15.0 % less in every hour.',
    );
  });
});

describe('weather', () => {
  const span = {
    ghi_kWh_m2: 1,
    dni_kWh_m2: 1,
    dhi_kWh_m2: 1,
    clearness: 0.5,
    air_temperature_mean_C: 1,
    air_temperature_least_C: 0,
    air_temperature_most_C: 2,
    wind_mean_m_s: 1,
  };
  const weather = {
    site: { name: 'hut', latitude_deg: -33, longitude_deg: -70.5 },
    run: { year: 2026, weather: 'series', seed: null, steps: 1, step_min: 60 },
    coverage: { hours: 8760, from: '2026-01-01T00:00', to: '2027-01-01T00:00' },
    notices: [],
    assumptions: [],
    quality: [],
    months: Array(12).fill(span),
    year: span,
    beside_guess: null,
    clock: { late_min: 0.2, late_clearest_min: null, clearest_days: 0, is_shifted: false },
  };
  const section = (id: string, own: object = {}) =>
    weatherDocument(patched(weather, own) as never, 'a.yaml').sections.find((one) => one.id === id)!;
  const texts = (id: string, own: object = {}) =>
    section(id, own).blocks.flatMap((block) =>
      block.kind === 'text' ? [block.text] : block.kind === 'list' ? block.items : [],
    );
  const noConflict = 'No conflict found with the label and zone of the stamps and with the longitude.';
  const shifted =
    'Shifted: check the label and the zone of the stamps, and site.longitude_deg. Clouds alone rarely shift a year by more than 20 min, or clear days by more than 15 min.';
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, ['The light comes with the sun over the year; no day is clear enough to be looked at on its own.', noConflict]],
    [{ clock: { late_min: 4.4, late_clearest_min: -3, clearest_days: 1 } }, ['The light comes 4 min later in the day than the sun over the year; 3 min earlier in the day than the sun on the 1 clearest day.', noConflict]],
    [{ clock: { late_min: -30, late_clearest_min: -31, clearest_days: 9, is_shifted: true } }, ['The light comes 30 min earlier in the day than the sun over the year; 31 min earlier in the day than the sun on the 9 clearest days.', shifted]],
    [{ clock: { late_min: null } }, ['There is no light to tell it by.']],
    [{ run: { weather: 'monthly_means' } }, ['The light is made with the sun of the site: it tells nothing of a wrong longitude or zone.']],
    [{ run: { weather: 'clear-sky' } }, ['The light is made with the sun of the site: it tells nothing of a wrong longitude or zone.']],
  ])('clock %#', (own, said) => {
    expect(texts('clock', own)).toEqual(said);
  });
  const failed = { what: 'closure', failed_steps: 3, tested_steps: 900, first_time: '2026-02-03T09:00:00Z' };
  test.each([
    [[], 'Quality tests: no conflict found'],
    [[{ ...failed, failed_steps: 0 }], 'Quality tests: no conflict found'],
    [[failed, { ...failed, failed_steps: 0 }], 'Quality tests: 1 test of 2 found something'],
    [[failed, failed], 'Quality tests: 2 tests of 2 found something'],
  ])('quality %#', (quality, title) => {
    expect(section('quality', { quality }).title).toBe(title);
    if (quality[0]?.failed_steps === 3)
      expect(texts('quality', { quality })[0]).toBe('closure: 3 of 900 steps, first at 2026-02-03 09:00');
  });
  // biome-ignore format: a table is read by rows
  test.each([
    [{}, ['Nothing was filled, cut or left out.']],
    [{ notices: [{ id: 'gap-filled', message: '3 h were filled' }, { id: 'quality-closure', message: 'told elsewhere' }] }, ['3 h were filled']],
    [{ assumptions: [{ kind: 'model', path: 'model.sky.gaps', why: 'gaps are filled' }, { kind: 'model', path: 'other', why: 'x' }, { kind: 'default', path: 'model.sky.wind', why: 'y' }] }, ['Gaps are filled.']],
    [{ beside_guess: { own_share: [0.9, null, 1.2] } }, ['Its monthly means are 0.90 to 1.20 of a first guess for these coordinates, a coarse table from satellites that strays from stations by 12 % in a month, one standard deviation.']],
    [{ beside_guess: { own_share: [0.9] }, assumptions: [{ kind: 'default', path: 'weather.source', why: 'x' }] }, ['Nothing was filled, cut or left out.']],
  ])('on the way in %#', (own, said) => {
    expect(texts('read', own)).toEqual(said);
  });
  test('a place has its side of equator and Greenwich', () => {
    expect(weatherDocument(weather as never, 'a.yaml').title).toBe('hut, 33.00° S, 70.50° W');
    expect(
      weatherDocument(
        patched(weather, { site: { latitude_deg: 61.25, longitude_deg: 7 } }) as never,
        'a.yaml',
      ).title,
    ).toBe('hut, 61.25° N, 7.00° E');
  });
});
