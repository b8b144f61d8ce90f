import { billOfScenario, type DesignFigureName, type SizeAsk } from '@longnight/core';
import { refused } from '@longnight/core/scenario';
import { nearestFigure, type PossibleYears, readAxes, refuseCircumstances } from '@longnight/core/study';
import { readStudy, type StudyFiles } from '../../files/study.ts';
import { present } from '../../render/document/document.ts';
import { type NamedAxis, namedAxes } from '../../render/document/key-words.ts';
import { type JudgeGiven, NAMES, readJudge } from '../judge.ts';
import type { Given } from '../tell.ts';

export interface SizeGiven extends Given, JudgeGiven {
  readonly vary: readonly string[];
  /** A figure, or "cost". */
  readonly least: string;
  /** How old the plant is in which they are kept; new unless said. */
  readonly atAge?: number;
  /** What is worth it unless said. */
  readonly threads?: number;
}

const refuse = refused.bind(null, 'size');

/** What `longnight size` was asked, read and found to make sense. */
export interface SizeQuestion {
  readonly files: StudyFiles;
  readonly axes: readonly NamedAxis[];
  readonly ask: SizeAsk;
  /** True if the user wrote "cost" and we chose the figure. */
  readonly isCost: boolean;
  /** Years that each design is played in; none for the scenario's own. */
  readonly possible: PossibleYears;
  /** 0 for a new plant. */
  readonly age_years: number;
}

/**
 * Reads the question.
 *
 * @throws InputError if an axis, a bound, the figure or the ensemble is wrong, or a price is missing that is asked about
 */
export function readQuestion(cwd: string, file: string, given: SizeGiven): SizeQuestion {
  const axes = readAxes(given.vary);
  refuseCircumstances(axes);
  const isCost = given.least === 'cost';
  if (!isCost && !NAMES.includes(given.least)) {
    const near = nearestFigure(given.least, NAMES);
    throw refuse(`--least ${given.least}`)`there is no figure "${given.least}" here |
      ${near === undefined ? `take one of ${NAMES.join(', ')}` : `did you mean "${near}"?`} |
      ${near === undefined ? 'cost, or a figure of a design' : 'cost, or a figure by its dotted name'}`;
  }
  const files = readStudy(cwd, file, axes, given.set);
  const least = isCost ? costOf(files) : (given.least as DesignFigureName);
  if (least.startsWith('money.')) requirePrices(files, least);
  if (least.startsWith('generator.') && files.read.scenario.generator === undefined)
    throw refuse('--least')`the plant has no generator, and so no ${least} | take another figure`;
  const { possible, ask } = readJudge(files, given);
  return {
    files,
    axes: namedAxes(axes, files.read.scenario),
    ask: { holds: ask.requirements, least, years_to_hold: ask.years_to_hold },
    isCost,
    possible,
    age_years: given.atAge ?? 0,
  };
}

/** Costs over the years where they can be known in every design: a price is only wanted where something may be used. */
const costOf = (files: StudyFiles): DesignFigureName =>
  unpricedUse(files).length > 0 ? 'money.capital' : 'money.total';

/** Keys of `money` that are missing for what the plant may use. */
function unpricedUse({ read: { scenario } }: StudyFiles): readonly string[] {
  const { money, generator, shore } = scenario;
  if (money === undefined) return [];
  return present([
    generator && money.fuel_price_per_L === undefined && 'fuel_price_per_L',
    shore && money.shore_price_per_kWh === undefined && 'shore_price_per_kWh',
  ]);
}

/** Prices may be missing in some designs, which are then left out; but not in all of them. */
function requirePrices(files: StudyFiles, least: string): void {
  const { study, read } = files;
  if (read.scenario.money === undefined)
    throw refuse('--least')`${least} needs prices, and the scenario has no money section | add money: with
      currency, years and discount_share_per_year, and a price to each part; or take another figure, such as
      --least bank.usable_kWh`;
  const used = unpricedUse(files);
  if (least !== 'money.capital' && used.length > 0)
    throw refuse('--least')`${least} needs money.${used.join(' and money.')} | add
      ${used.length === 1 ? 'it' : 'them'}, or take --least money.capital`;
  const unpriced = firstUnpriced(study);
  if (unpriced === null) return;
  throw refuse('--least')`${least} needs prices, and no design has all of them; without a price:
    ${unpriced.join(', ')} | give each a price; 0 for what is paid for with another part`;
}

function firstUnpriced(study: StudyFiles['study']): readonly string[] | null {
  let first: readonly string[] | null = null;
  for (let index = 0; index < Math.min(study.designs, MOST_LOOKED_AT); index++) {
    const { scenario } = study.design(index);
    if (scenario === null) continue;
    const { capital, unpriced } = billOfScenario(scenario);
    if (capital !== null) return null;
    first ??= unpriced;
  }
  return first;
}

/** Prices depend on the parts named, and these are few: looking further would only cost time. */
const MOST_LOOKED_AT = 10_000;
