/** Plants side by side: winners, shared hours and terms, and the sentence that says what the dearer one buys. */

import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import {
  billOfScenario,
  type Comparison,
  comparePlants,
  findings,
  InputError,
  plantOf,
  playYear,
  prepareYear,
  readScenario,
  type Scenario,
} from '@longnight/core';
import { describe, expect, it } from 'vitest';
import { dearerSentences } from '../../packages/cli/src/render/compare/dearer-words.ts';
import { noticeText } from '../../packages/cli/src/render/report/notice-words.ts';
import { winnersAmong } from '../../packages/core/src/study/compare/winners.ts';
import { noticesSaid } from '../support/words.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const parts = new Map(
  ['panels', 'modules', 'inverters', 'generators'].map((name) => [
    `../parts/${name}.yaml`,
    readFileSync(resolve(ROOT, `data/parts/${name}.yaml`), 'utf8'),
  ]),
);
const textOf = (name: string): string => readFileSync(resolve(ROOT, `data/demo/${name}.yaml`), 'utf8');
const scenarioOf = (text: string): Scenario => readScenario(text, 'plant.yaml', parts).scenario;
const [ENGINE, SUN] = [textOf('parts-with-generator'), textOf('parts-sun-alone')];
const compared = (...plants: readonly (readonly [string, Scenario])[]): Comparison =>
  comparePlants(
    plants.map(([label, scenario]) => ({ label, scenario })),
    new Map(),
  );
const engineAndSun = compared(['engine', scenarioOf(ENGINE)], ['sun', scenarioOf(SUN)]);
const rowOf = ({ rows }: Comparison, name: string) => rows.find((row) => row.name === name)!;
const messageOf = (act: () => unknown): string => {
  try {
    act();
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
  throw new Error('nothing was refused');
};
const reportOf = (text: string) => {
  const read = readScenario(text, 'plant.yaml', parts);
  const year = prepareYear(read, 'plant.yaml', new Map());
  const plant = plantOf(read.scenario);
  return findings(playYear(year, plant));
};
const swap = (text: string, from: string | RegExp, to: string): string => {
  const swapped = text.replace(from, to);
  expect(swapped).not.toBe(text);
  return swapped;
};

describe('the rows', () => {
  it('are what the report of each plant says, name by name', () => {
    [ENGINE, SUN].forEach((text, k) => {
      const report = reportOf(text) as unknown as Record<string, unknown>;
      for (const { name, values } of engineAndSun.rows) {
        if (name.startsWith('limits.')) continue;
        const told = name
          .split('.')
          .reduce<unknown>((at, key) => (at as Record<string, unknown> | null)?.[key] ?? null, report);
        if (told === null) expect(values[k], name).toBeNull();
        else expect(values[k], name).toBeCloseTo(told as number, 6);
      }
    });
    const { limits } = reportOf(ENGINE);
    expect(rowOf(engineAndSun, 'limits.ac_output.after_inverter_loss_kW').values[0]).toBe(
      limits.ac_output.after_inverter_loss_kW,
    );
    expect(rowOf(engineAndSun, 'limits.solar_charging.figure_kW').values[0]).toBe(
      limits.solar_charging.figure_kW,
    );
    expect(rowOf(engineAndSun, 'limits.ac_charging.figure_kW').values[0]).toBe(limits.ac_charging.figure_kW);
  });

  it('mark the best: less or more, as the figure goes; none where neither end is better or all are alike', () => {
    const winners = (name: string) => rowOf(engineAndSun, name).winners;
    expect(winners('money.capital')).toEqual([0]);
    expect(winners('bank.usable_kWh')).toEqual([1]);
    expect(winners('unmet.energy_kWh')).toEqual([]);
    expect(winners('array.curtailed_share')).toEqual([]);
    // A plant without a generator is not the best at running one little.
    expect(rowOf(engineAndSun, 'generator.run_hours').values[1]).toBeNull();
    expect(winners('generator.run_hours')).toEqual([]);
  });

  it('mark every plant that shares the best, and none for a figure that only one has', () => {
    const three = compared(
      ['short', scenarioOf(textOf('short-of-bank'))],
      ['holds', scenarioOf(textOf('holds'))],
      ['engine', scenarioOf(textOf('holds-with-generator'))],
    );
    const { hours } = reportOf(textOf('short-of-bank')).unmet;
    expect(hours).toBeGreaterThan(0);
    expect(rowOf(three, 'unmet.hours')).toMatchObject({ values: [hours, 0, 0], winners: [1, 2] });
    expect(rowOf(three, 'limits.ac_charging.figure_kW').winners).toEqual([]);
    const priced = compared(['engine', scenarioOf(ENGINE)], ['holds', scenarioOf(textOf('holds'))]);
    expect(rowOf(priced, 'money.capital').winners).toEqual([]);
  });
});

describe('a plant is no best at what it can not do', () => {
  const bare = scenarioOf(swap(ENGINE, 'panels: 14', 'panels: 0'));
  const short = scenarioOf(swap(ENGINE, /^generator:\n(?: .*\n)+/m, ''));
  const four = compared(
    ['engine', scenarioOf(ENGINE)],
    ['sun', scenarioOf(SUN)],
    ['bare', bare],
    ['short', short],
  );
  const winners = (name: string) => rowOf(four, name).winners;

  it('without an array it curtails nothing, without a generator it runs none, and neither has the star', () => {
    expect(four.plants.map(({ report }) => report.verdict.holds)).toEqual([true, true, true, false]);
    expect(rowOf(four, 'array.curtailed_share').values[2]).toBeNull();
    expect(winners('array.curtailed_share')).toEqual([]);
    expect(winnersAmong([0.66, null, 0.87], 'less', [true, true, true])).toEqual([0]);
    expect(winnersAmong([0.66, 0.5, 0.87], 'less', [true, false, true])).toEqual([0]);
    expect(winners('generator.run_hours')).toEqual([0]);
    expect(winners('limits.ac_charging.figure_kW')).toEqual([]);
  });

  it('one that leaves load unmet is cheaper for that, and not the best in cost', () => {
    const capital = rowOf(four, 'money.capital').values;
    // The generator is 1650 crowns.
    expect(capital[3]).toBe(capital[0]! - 1650);
    expect(winners('money.capital')).toEqual([2]);
    expect(winners('money.total')).toEqual([0]);
    const two = compared(['engine', scenarioOf(ENGINE)], ['short', short]);
    expect(rowOf(two, 'money.capital').winners).toEqual([]);
    expect(two.asked.rows[0]).toMatchObject({ name: 'plant.cost_per_served_kWh', winners: [] });
  });
});

describe('plants are compared by what they differ in', () => {
  it('banks alone by their price per usable kWh', () => {
    const large = swap(
      swap(ENGINE, 'module-5kWh', 'module-10kWh'),
      'modules_parallel: 4',
      'modules_parallel: 2',
    );
    const { asked } = compared(['small', scenarioOf(ENGINE)], ['large', scenarioOf(large)]);
    expect(asked.kind).toBe('store');
    expect(asked.rows).toMatchObject([{ name: 'bank.price_per_usable_kWh', per: 'kWh', winners: [1] }]);
    // Modules with their place in the rack over nine tenths of 20.48 kWh: 4 at 1150 + 65, or 2 at 2060 + 65.
    expect(asked.rows[0]!.values).toEqual([
      expect.closeTo((4 * 1215) / 18.432, 9),
      expect.closeTo((2 * 2125) / 18.432, 9),
    ]);
  });

  it('inverters with charger and trackers alone by their price per kW of output and of solar charging', () => {
    // So many panels that trackers are the limit, not the array.
    const weak = swap(ENGINE, 'panels: 14', 'panels: 30');
    const strong = swap(weak, 'all-in-one-5kW', 'all-in-one-8kW');
    const { asked } = compared(['weak', scenarioOf(weak)], ['strong', scenarioOf(strong)]);
    expect(asked.kind).toBe('power');
    // 980 crowns for 5 kW, and for 110 A at 51.2 V; 1740 for 8 kW, and for 180 A.
    expect(asked.rows).toEqual([
      { name: 'power.price_per_output_kW', per: 'kW', values: [980 / 5, 1740 / 8], winners: [0] },
      {
        name: 'power.price_per_solar_charging_kW',
        per: 'kW',
        values: [expect.closeTo(980 / (110 * 0.0512), 9), expect.closeTo(1740 / (180 * 0.0512), 9)],
        winners: [0],
      },
    ]);
  });

  it('an inverter alone, or a charger alone, is power too', () => {
    const bare = swap(ENGINE, 'part: all-in-one-5kW', 'part: all-in-one-5kW\n  rating_kW: 4');
    expect(compared(['a', scenarioOf(ENGINE)], ['b', scenarioOf(bare)]).asked.kind).toBe('power');
  });

  it('whole plants by their cost over the years per kWh served', () => {
    const { asked, plants } = engineAndSun;
    expect(asked.kind).toBe('plant');
    expect(asked.rows).toEqual([
      {
        name: 'plant.cost_per_served_kWh',
        per: 'kWh',
        values: plants.map(({ report }) => report.money!.per_served_kWh),
        winners: [0],
      },
    ]);
    const unpriced = compared(['a', scenarioOf(textOf('holds'))], ['b', scenarioOf(textOf('short-of-bank'))]);
    expect(unpriced.asked.rows).toEqual([]);
  });
});

describe('what the dearer plant buys', () => {
  it('is said with its price, what it gains, and what it comes to over the years', () => {
    const [sentence, ...others] = dearerSentences(engineAndSun);
    expect(others).toEqual([]);
    // 32 panels at 112 + 42 + 24 and 8 modules at 1150 + 65 more, 1740 for 980 crowns of inverter, no engine of 1650.
    const more = 32 * 178 + 8 * 1215 + (1740 - 980) - 1650;
    const share = Math.round((100 * more) / billOfScenario(scenarioOf(ENGINE)).capital!);
    expect(
      sentence!.startsWith(
        `sun costs ${more.toLocaleString('en-US')} crowns more to buy than engine (${share} % more). It buys `,
      ),
    ).toBe(true);
    const { generator } = reportOf(ENGINE);
    expect(sentence).toContain(`${generator!.run_hours.toPrecision(3)} h a year less of generator running`);
    expect(sentence).toContain(`${Math.round(generator!.fuel_L)} L a year less fuel`);
    expect(sentence).toContain('36.9 kWh more usable bank');
    expect(sentence).not.toContain('gives up');
    const [engine, sun] = [reportOf(ENGINE).money!.total!, reportOf(SUN).money!.total!];
    const over = Math.round(sun - engine).toLocaleString('en-US');
    expect(sentence).toContain(`Over 20 years it costs ${over} crowns more`);
  });

  it('names the price of fuel at which both cost the same', () => {
    const price = Number(/with fuel at ([\d.]+) crowns a litre/.exec(dearerSentences(engineAndSun)[0]!)![1]);
    const at = (fuel: number): number =>
      reportOf(swap(ENGINE, 'fuel_price_per_L: 2.4', `fuel_price_per_L: ${fuel}`)).money!.total!;
    const sun = reportOf(SUN).money!.total!;
    expect(at(price - 0.006)).toBeLessThan(sun);
    expect(at(price + 0.006)).toBeGreaterThan(sun);
  });

  it('names unmet energy first, with what each kWh costs, and what is given up', () => {
    const short = swap(SUN, 'modules_parallel: 12', 'modules_parallel: 4');
    const [sentence] = dearerSentences(compared(['short', scenarioOf(short)], ['sun', scenarioOf(SUN)]));
    const unmet = reportOf(short).unmet.energy_kWh;
    // Eight modules at 1150 + 65.
    expect(sentence).toMatch(/^sun costs 9720 crowns more to buy than short/);
    const each = 9720 / unmet;
    expect(sentence).toContain(
      `It buys ${unmet.toFixed(1)} kWh a year less unmet (${Math.round(each)} crowns to buy for each of them)`,
    );
    const weaker = swap(
      swap(SUN, 'modules_parallel: 12', 'modules_parallel: 14'),
      'all-in-one-8kW',
      'all-in-one-5kW',
    );
    expect(dearerSentences(compared(['sun', scenarioOf(SUN)], ['weaker', scenarioOf(weaker)]))[0]).toMatch(
      /It gives up 3\.00 kW of AC output and [\d.]+ kW of solar charging\./,
    );
  });

  it('is one sentence for each plant above the cheapest, and names what has no price', () => {
    const middle = swap(ENGINE, 'modules_parallel: 4', 'modules_parallel: 6');
    const unpriced = swap(
      ENGINE,
      '    losses:',
      '    tracker: { max_power_kW: 6, max_charge_A: 110 }\n    losses:',
    );
    const sentences = dearerSentences(
      compared(
        ['sun', scenarioOf(SUN)],
        ['odd', scenarioOf(unpriced)],
        ['middle', scenarioOf(middle)],
        ['engine', scenarioOf(ENGINE)],
      ),
    );
    expect(sentences.map((s) => s.split(' ')[0])).toEqual(['middle', 'sun', 'odd']);
    expect(sentences[1]).toContain('than engine');
    expect(sentences[2]).toBe('odd has no total: no price for tracker: ground row, south.');
    expect(
      dearerSentences(
        compared(['a', scenarioOf(textOf('holds'))], ['b', scenarioOf(textOf('short-of-bank'))]),
      ),
    ).toEqual([]);
  });
});

describe('the same hours for all', () => {
  const harsher = scenarioOf(
    swap(
      swap(ENGINE, 'seed: 92', 'seed: 14'),
      /name: sample freezer, power_W: 85, start_W: \d+/,
      'name: sample freezer, power_W: 850',
    ),
  );

  it('are those of the first plant, and a notice names what of the others is not used', () => {
    const { rows, notices } = compared(['sun', scenarioOf(SUN)], ['harsher', harsher]);
    const engine = compared(['sun', scenarioOf(SUN)], ['engine', scenarioOf(ENGINE)]);
    expect(rows).toEqual(engine.rows);
    expect(notices).toEqual([
      {
        id: 'compare-shared-hours',
        values: { label: 'harsher', differing: ['weather', 'loads'], used: 'sun' },
      },
    ]);
    expect(noticeText(notices[0]!)).toBe(
      'harsher: its own weather and loads not used; all plants are played with those of sun',
    );
    expect(engine.notices).toEqual([]);
    // The other way round the harsher hours are played.
    expect(compared(['harsher', harsher], ['sun', scenarioOf(SUN)]).rows).not.toEqual(engine.rows);
  });

  it('do not mind another name of the same site, but another year or place', () => {
    const renamed = scenarioOf(swap(SUN, 'Tolvmyr field station (invented)', 'Elsewhere'));
    expect(compared(['engine', scenarioOf(ENGINE)], ['sun', renamed]).notices).toEqual([]);
    const moved = scenarioOf(
      swap(swap(SUN, 'latitude_deg: 61.3', 'latitude_deg: 60'), 'year: 2026', 'year: 2027'),
    );
    expect(noticeText(compared(['engine', scenarioOf(ENGINE)], ['sun', moved]).notices[0]!)).toContain(
      'its own site and run not used',
    );
  });

  it('begin no bank below its own floor', () => {
    const lead = scenarioOf(
      swap(
        swap(SUN, 'part: module-5kWh', 'part: lead-string-29kWh'),
        'year: 2026',
        'year: 2026\n  initial_soc: 0.7',
      ),
    );
    const low = scenarioOf(swap(ENGINE, 'year: 2026', 'year: 2026\n  initial_soc: 0.2'));
    expect(rowOf(compared(['low', low], ['lead', lead]), 'bank.lowest_soc').values[1]).toBeGreaterThanOrEqual(
      0.5,
    );
  });

  it('add up money on the terms of the first that has any', () => {
    const slow = scenarioOf(swap(SUN, 'years: 20', 'years: 10'));
    const { notices, plants } = compared(['engine', scenarioOf(ENGINE)], ['sun', slow]);
    expect(plants.map((plant) => plant.terms!.years)).toEqual([20, 20]);
    expect(noticeText(notices[0]!)).toBe(
      'sun: its own years of costs not used; costs are added up as engine says',
    );
    expect(plants[1]!.report.money!.total).toBeCloseTo(reportOf(SUN).money!.total!, 6);
  });
});

it('there is nothing to compare with fewer than two plants, one twice, or prices in two currencies', () => {
  const engine = scenarioOf(ENGINE);
  expect(messageOf(() => compared(['engine', engine]))).toMatch(/nothing to compare with\n {4}fix: name two/);
  expect(messageOf(() => compared(['a', engine], ['a', engine]))).toMatch(/"a" stands twice\n {4}fix: /);
  const shells = scenarioOf(swap(SUN, 'currency: crowns', 'currency: shells'));
  expect(messageOf(() => compared(['engine', engine], ['sun', shells]))).toMatch(
    /money\.currency: prices are in crowns and in shells\n {4}fix: .*nothing is converted/,
  );
});

describe('a plant that does not fit the loads it is compared over', () => {
  const plantText = (name: string): string => readFileSync(resolve(ROOT, `data/plants/${name}.yaml`), 'utf8');
  const misfits = (one: string, other: string): readonly string[] =>
    noticesSaid(
      compared(['one', scenarioOf(plantText(one))], ['other', scenarioOf(plantText(other))]).notices,
      'compare-misfit',
    );

  it('is named with what it does not give: 240 V of stacked.yaml from an inverter of 120 V', () => {
    expect(misfits('stacked', 'portable')).toEqual([
      "other does not fit the loads of one, and is played as if it did: loads[0].voltage_V: needs 240 V; the inverter gives 120 V: it can't be served",
    ]);
    expect(misfits('stacked', 'both-sides')[0]).toMatch(/does not say what the inverter gives/);
  });

  it('is not invented where it does fit', () => {
    expect(misfits('portable', 'stacked')).toEqual([]);
    expect(misfits('one-module', 'three-modules')).toEqual([]);
  });
});
