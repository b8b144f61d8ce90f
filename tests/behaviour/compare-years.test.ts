/** Plants over the same years: held to each plant's own run over them, and to quantiles worked out here. */

import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import {
  type Comparison,
  comparePlants,
  type JudgeAsk,
  newYearPreparer,
  plantOf,
  playEnsemble,
  readScenario,
  type Scenario,
} from '@longnight/core';
import { DESIGN_FIGURES, type PossibleYear, readRequirement } from '@longnight/core/study';
import { describe, expect, it } from 'vitest';
import { dearerSentences } from '../../packages/cli/src/render/compare/dearer-words.ts';
import { judgedSections, noneKeeps } from '../../packages/cli/src/render/compare/over-years.ts';

const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
/** Straight lines between the values, n - 1 of them (Hyndman & Fan 1996, definition 7, recalled). */
function quantile(sorted: readonly number[], share: number): number {
  const at = (sorted.length - 1) * share;
  const [low, high] = [sorted[Math.floor(at)]!, sorted[Math.ceil(at)]!];
  return low + (high - low) * (at % 1);
}

const ROOT = resolve(import.meta.dirname, '../..');
const parts = new Map(
  ['panels', 'modules', 'inverters', 'generators'].map((name) => [
    `../parts/${name}.yaml`,
    readFileSync(resolve(ROOT, `data/parts/${name}.yaml`), 'utf8'),
  ]),
);
const plant = (name: string, swap: readonly [string, string] = ['', '']): Scenario =>
  readScenario(
    readFileSync(resolve(ROOT, `data/demo/${name}.yaml`), 'utf8').replace(...swap),
    'plant.yaml',
    parts,
  ).scenario;
/** The sun's plant with less and less bank: what is dearer goes short more seldom. */
const PLANTS: Readonly<Record<string, Scenario>> = {
  small: plant('parts-sun-alone', ['modules_parallel: 12', 'modules_parallel: 5']),
  middle: plant('parts-sun-alone', ['modules_parallel: 12', 'modules_parallel: 8']),
  engine: plant('parts-with-generator'),
};
const SEEDS = [92, 93, 94, 95, 96, 97, 98];
const years: readonly PossibleYear[] = SEEDS.map((seed) => ({ kind: 'drawn', seed }));
const compared = (ask: JudgeAsk): Comparison =>
  comparePlants(
    Object.entries(PLANTS).map(([label, scenario]) => ({ label, scenario })),
    new Map(),
    ask,
  );
const NAMES = DESIGN_FIGURES.map(({ name }) => name);
const require = (text: string) => [readRequirement(text, NAMES, NAMES)];

const prepare = newYearPreparer('plant.yaml', new Map());
const runs = Object.values(PLANTS).map((own) => {
  const scenario = { ...own, loads: PLANTS.small!.loads, site: PLANTS.small!.site, run: PLANTS.small!.run };
  return playEnsemble({ scenario, plant: plantOf(scenario), years, prepare });
});
const over = compared({ years });
const rowOf = (name: string) => over.over_years!.rows.find((row) => row.name === name)!;

describe('over the same seven drawn years', () => {
  it('percentiles and means are those of the rows of each run', () => {
    for (const [name, key] of [
      ['unmet.energy_kWh', 'unmet_kWh'],
      ['unmet.hours', 'unmet_hours'],
      ['bank.lowest_soc', 'lowest_soc'],
      ['generator.run_hours', 'generator_run_hours'],
    ] as const) {
      for (const [p, { by_year }] of runs.entries()) {
        const spread = rowOf(name).spreads[p]!;
        const values = by_year.map((row) => row[key]);
        if (values.includes(null)) {
          expect(spread).toBeNull();
          continue;
        }
        const sorted = (values as number[]).toSorted((a, b) => a - b);
        expect(spread.p5).toBeCloseTo(quantile(sorted, 0.05), 9);
        expect(spread.p50).toBeCloseTo(quantile(sorted, 0.5), 9);
        expect(spread.p95).toBeCloseTo(quantile(sorted, 0.95), 9);
        expect(spread.mean).toBeCloseTo(mean(sorted), 9);
      }
    }
  });

  it('each keeps what it keeps in its own run, and the years in which one goes short alone are counted', () => {
    const short = runs.map(({ by_year }) => by_year.map((row) => row.unmet_hours > 0));
    expect(over.plants.map(({ judged }) => judged.years_held)).toEqual(runs.map((run) => run.years_held));
    expect(over.over_years!.short_years).toEqual(short.map((one) => one.filter(Boolean).length));
    short.forEach((one, p) => {
      short.forEach((other, q) => {
        const alone = one.filter((isShort, y) => isShort && !other[y]).length;
        expect(over.over_years!.short_alone[p]![q]).toBe(alone);
      });
    });
    expect(over.over_years!.short_alone[0]![2]).toBeGreaterThan(over.over_years!.short_alone[1]![2]!);
  });

  it('money has a star only where all that is required is kept', () => {
    expect(over.plants.map(({ judged }) => judged.keeps)).toEqual([false, false, true]);
    expect(rowOf('money.total').winners).toEqual([]);
    // In three of the years the middle one is enough: the cheaper of the two has the star.
    const some = compared({ years, years_to_hold: runs[1]!.years_held });
    expect(some.plants.map(({ judged }) => judged.keeps)).toEqual([false, true, true]);
    const totals = some.plants.map((one) => one.mean['money.total']!);
    const winner = totals[1]! < totals[2]! ? 1 : 2;
    expect(some.over_years!.rows.find(({ name }) => name === 'money.total')!.winners).toEqual([winner]);
    // What a plant has no part in it does not win at.
    expect(rowOf('generator.run_hours').winners).toEqual([]);
    expect(rowOf('unmet.energy_kWh').winners).toEqual([2]);
  });

  it('what the dearer buys is the difference of the means', () => {
    const [cheap, dear] = ['small', 'middle'].map((name) => over.plants.find(({ label }) => label === name)!);
    const comparison = comparePlants(
      [cheap!, dear!].map(({ label }) => ({ label, scenario: PLANTS[label]! })),
      new Map(),
      { years },
    );
    const less =
      mean(runs[0]!.by_year.map((row) => row.unmet_kWh)) - mean(runs[1]!.by_year.map((r) => r.unmet_kWh));
    const [dearer] = comparison.dearer;
    // Three modules at 1150 and their places in the rack at 65.
    expect(dearer!.more_to_buy).toBe(3 * 1215);
    expect(dearer!.per_unmet_kWh).toBeCloseTo((3 * 1215) / less, 6);
    expect(dearerSentences(comparison)[0]).toContain(
      `It buys ${less.toFixed(less < 10 ? 2 : 1)} kWh a year less unmet`,
    );
  });

  it('the same again', () => {
    expect(compared({ years })).toEqual(over);
  });
});

describe('what is said', () => {
  it('who keeps what is required, how sure that is, and who goes short alone', () => {
    const [section] = judgedSections(over);
    expect(section!.sentence).toBe('Engine keeps what is required; small and middle do not.');
    const [list, said] = section!.blocks;
    expect(list).toMatchObject({ kind: 'list' });
    expect(JSON.stringify(list)).toMatch(
      /"engine: nothing is unmet in 7 of 7 years: between 59 and 100 % of all such years, 95 % sure\. /,
    );
    const alone = over.over_years!.short_alone;
    expect(said).toMatchObject({
      text: `In ${alone[0]![2]} of 7 years small goes short and engine does not; in none the other way round.`,
    });
  });

  it('that no plant goes short, that none keeps it, or that all do', () => {
    const engines = comparePlants(
      [
        { label: 'a', scenario: PLANTS.engine! },
        {
          label: 'b',
          scenario: plant('parts-with-generator', ['modules_parallel: 4', 'modules_parallel: 5']),
        },
      ],
      new Map(),
      { years: years.slice(0, 2) },
    );
    const [section] = judgedSections(engines);
    expect(section!.sentence).toBe('Both plants keep what is required.');
    expect(section!.blocks[1]).toMatchObject({ text: 'No plant goes short in any of 2 years.' });
    expect(noneKeeps(engines)).toBeNull();
    const strict = compared({ requirements: require('generator.run_hours>=9000') });
    expect(noneKeeps(strict)).toBe('missed: none of 3 plants keeps every requirement');
    expect(judgedSections(strict)[0]!.sentence).toBe('None of 3 plants keeps what is required.');
    expect(judgedSections(strict)[0]!.blocks[0]).toMatchObject({
      items: [
        'small: generator run time at least 9000 h: missed, n/a (the plant has none: counts as 0).',
        'middle: generator run time at least 9000 h: missed, n/a (the plant has none: counts as 0).',
        expect.stringMatching(/^engine: generator run time at least 9000 h: missed, [\d.]+\.$/),
      ],
    });
  });

  it('nothing of it where nobody asked', () => {
    const own = compared({});
    expect([judgedSections(own), own.over_years, noneKeeps(own)]).toEqual([[], null, null]);
    expect(own.plants.map(({ figures, mean: same }) => figures === same)).toEqual([true, true, true]);
  });
});
