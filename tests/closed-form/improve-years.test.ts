/** A change judged over many years is held to the same plants played one year at a time, and to sums made here. */

import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import {
  type Improvement,
  improvePlant,
  type JudgeAsk,
  plantOf,
  playYear,
  prepareYear,
  readScenario,
} from '@longnight/core';
import { DESIGN_FIGURES, type PossibleYear, readRequirement, type TriedChange } from '@longnight/core/study';
import { describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';
import { answerWords, nowWords } from '../../packages/cli/src/render/improve/words.ts';
import { isUnmet } from '../../packages/core/src/findings/figures/unmet.ts';
import { parsePath } from '../../packages/core/src/scenario/text/path.ts';
import { setAt } from '../../packages/core/src/study/designs/designer.ts';

const FILE = 'data/demo/short-of-bank.yaml';
const TEXT = readFileSync(resolve(import.meta.dirname, '../..', FILE), 'utf8');
const NO_TEXTS = new Map<string, string>();
const SEEDS = [92, 93, 94, 95, 96];
const years: readonly PossibleYear[] = SEEDS.map((seed) => ({ kind: 'drawn', seed }));
const improve = (ask: JudgeAsk): Improvement =>
  improvePlant({ text: TEXT, file: FILE, partsTexts: NO_TEXTS }, NO_TEXTS, ask);
const shownOf = (improvement: Improvement) => ({
  improvement,
  scenario: readScenario(TEXT, FILE).scenario,
  possible: { years, left_out: [], assumptions: [] },
});
const said = (improvement: Improvement): string => answerWords(shownOf(improvement)).join(' ');
const NAMES = DESIGN_FIGURES.map(({ name }) => name);
const bound = (text: string) => readRequirement(text, NAMES, NAMES);

const sum = (column: Float64Array): number => column.reduce((all, value) => all + value, 0);

interface Year {
  readonly unmet_kWh: number;
  readonly unmet_hours: number;
  readonly short: boolean;
  readonly lowest_soc: number;
}

/** What one plant leaves unmet in each drawn year, each read from its own text and played alone. */
function alone(values: TriedChange['values']): Year[] {
  const data = values.reduce<unknown>((at, v) => setAt(at, parsePath(v.path), v.value), parse(TEXT));
  return SEEDS.map((seed) => {
    const read = readScenario(stringify(setAt(data, ['weather', 'seed'], seed)), FILE);
    const { columns } = playYear(prepareYear(read, FILE, NO_TEXTS), plantOf(read.scenario));
    return {
      unmet_kWh: sum(columns.unmet_kWh),
      unmet_hours: columns.unmet_kWh.filter(isUnmet).length,
      short: columns.unmet_kWh.some(isUnmet),
      lowest_soc: Math.min(...columns.bank_soc),
    };
  });
}
const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

const all = improve({ years });
const most = improve({ years, years_to_hold: 4 });

describe('over five drawn years', () => {
  it('a change does what its plant does in each of them alone', () => {
    const tries = [...all.helping, ...all.repeated, ...all.pairs.slice(0, 2), ...all.harming.slice(0, 2)];
    expect(tries.length).toBeGreaterThan(8);
    for (const { values, outcome, holds_then, unmet_removed_kWh } of tries) {
      const played = alone(values);
      const unmet = mean(played.map((year) => year.unmet_kWh));
      expect(outcome.unmet_kWh).toBeCloseTo(unmet, 9);
      expect(unmet_removed_kWh).toBeCloseTo(mean(alone([]).map((year) => year.unmet_kWh)) - unmet, 9);
      expect(outcome.lowest_soc).toBe(Math.min(...played.map((year) => year.lowest_soc)));
      expect(outcome.years_held).toBe(played.filter(({ short }) => !short).length);
      expect(holds_then).toBe(outcome.years_held === 5);
    }
    const removed = all.helping.map((tried) => tried.unmet_removed_kWh);
    expect(removed.slice(0, 3)).toEqual(removed.slice(0, 3).sort((a, b) => b - a));
  });

  it('what makes it hold is the fewest modules that do, in all years or in as many as asked for', () => {
    for (const [improvement, wanted] of [
      [all, 5],
      [most, 4],
    ] as const) {
      const { values, outcome } = improvement.holds_with!;
      expect(values.map(({ path }) => path)).toEqual(['bank.modules_parallel']);
      const held = (modules: number): number =>
        alone([{ path: 'bank.modules_parallel', value: modules }]).filter(({ short }) => !short).length;
      const modules = values[0]!.value as number;
      expect(held(modules)).toBe(outcome.years_held);
      expect(held(modules)).toBeGreaterThanOrEqual(wanted);
      expect(held(modules - 1)).toBeLessThan(wanted);
    }
    expect(most.holds_with!.values[0]!.value).toBeLessThan(all.holds_with!.values[0]!.value as number);
  });

  it('every plant is played in every year', () => {
    expect(all.played_years).toBe(5 * all.played_plants);
    expect(improve({ years })).toEqual(all);
  });

  it('one drawn year is the year of its seed', () => {
    const one = improve({ years: [{ kind: 'drawn', seed: 92 }] });
    const own = improve({});
    expect(one.helping).toEqual(own.helping);
    expect(one.holds_with).toEqual(own.holds_with);
  });
});

describe('bounds in the place of nothing unmet', () => {
  it('of each year and over all of them', () => {
    const require = [bound('unmet.energy_kWh.mean<=3'), bound('unmet.hours<=60')];
    const improvement = improve({ years, years_to_hold: 4, requirements: require });
    expect(improvement.ranked_by).toBe('requirement');
    expect(improvement.holds).toBe(false);
    const { values, outcome } = improvement.holds_with!;
    const kept = (played: ReturnType<typeof alone>): boolean =>
      mean(played.map((year) => year.unmet_kWh)) <= 3 &&
      played.filter((year) => year.unmet_hours <= 60).length >= 4;
    expect(kept(alone(values))).toBe(true);
    expect(outcome.bounds[0]).toBeCloseTo(mean(alone(values).map((year) => year.unmet_kWh)), 9);
    const modules = values[0]!.value as number;
    expect(kept(alone([{ path: 'bank.modules_parallel', value: modules - 1 }]))).toBe(false);
    // Nearer by the shares that each bound is missed by.
    const [, hours] = improvement.now.bounds;
    expect(improvement.now.missed).toBeCloseTo((improvement.now.unmet_kWh - 3) / 3 + (hours! - 60) / 60, 9);
  });

  it('that are kept leave nothing to improve, and what goes unmet comes first then', () => {
    const improvement = improve({ years, requirements: [bound('unmet.share<=0.5')] });
    expect([improvement.holds, improvement.ranked_by, improvement.holds_with]).toEqual([
      true,
      'margin',
      null,
    ]);
    const removed = improvement.helping.map((tried) => tried.unmet_removed_kWh);
    expect(removed).toEqual([...removed].sort((a, b) => b - a));
    expect(said(improvement)).toBe(
      'Nothing to improve: the plant keeps what is required. Changes are ranked by the unmet energy they take away, then by the generator hours they save, then by the lowest charge they leave.',
    );
  });
});

describe('what is said', () => {
  it('of the plant as it stands', () => {
    expect(nowWords(all)).toMatch(
      /^In the mean of the years [\d.]+ kWh unmet in [\d.]+ h; no generator; lowest state of charge 10 %\. Nothing is unmet in 0 of 5 years: between 0 and 53 % of all such years, 95 % sure\. /,
    );
    expect(nowWords(improve({ requirements: [bound('unmet.hours<=9')] }))).toBe(
      '33.7 kWh unmet in 157 h; no generator; lowest state of charge 10 %. Unmet hours at most 9 h: missed, 157.',
    );
  });

  it('of what makes it hold, with its years', () => {
    expect(said(most)).toContain(
      `This does: one more module, ${most.holds_with!.changes.length} times. Nothing is unmet in 4 of 5 years: between 28 and 100 % of all such years, 95 % sure.`,
    );
    expect(said(most)).toMatch(/The best pair, .* kWh; nothing is unmet in \d of 5 years\./);
  });
});
