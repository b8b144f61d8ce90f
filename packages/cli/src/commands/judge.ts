import type { Requirement } from '@longnight/core';
import { refused } from '@longnight/core/scenario';
import {
  DESIGN_FIGURES,
  type Judge,
  type PossibleYears,
  possibleYears,
  readRequirement,
} from '@longnight/core/study';
import type { ReadFiles } from '../files/scenario.ts';

/** In which years plants are judged, and by what, as several commands are asked it. */
export interface JudgeGiven {
  /** How many years to draw. */
  readonly seeds?: number;
  /** Every whole year of the weather file. Without both one year is played. */
  readonly everyYear?: true;
  /** In how many of them every requirement must be kept; all unless said. */
  readonly in?: number;
  readonly require?: readonly string[];
}

/** The same, read and found to make sense. */
export interface JudgeRead {
  readonly possible: PossibleYears;
  readonly ask: Pick<Judge, 'years' | 'years_to_hold' | 'requirements'>;
}

/** Names of the figures that can be bound. */
export const NAMES: readonly string[] = DESIGN_FIGURES.map(({ name }) => name);

/**
 * Reads the question.
 *
 * @throws InputError if a bound is wrong, or the weather has no such years
 */
export function readJudge(
  { read, source, texts }: Pick<ReadFiles, 'read' | 'source' | 'texts'>,
  given: JudgeGiven,
): JudgeRead {
  const { seeds, everyYear: every_year } = given;
  const overYears = seeds !== undefined || every_year === true ? NAMES : [];
  const requirements = (given.require ?? []).map((text) => readRequirement(text, NAMES, overYears));
  const possible = possibleYears(read, source.file, texts, { seeds, every_year });
  const { years } = possible;
  return {
    possible,
    ask: { years, requirements, years_to_hold: yearsToHold(requirements, years.length, given.in) },
  };
}

const refuse = refused.bind(null, 'years');

function yearsToHold(bounds: readonly Requirement[], years: number, wanted: number | undefined): number {
  if (wanted === undefined) return Math.max(1, years);
  if (years === 0)
    throw refuse('--in')`counts years, and there is one | add --seeds N or --every-year, or leave --in out`;
  if (wanted > years)
    throw refuse('--in')`${wanted} years are asked for, and there are ${years} | give ${years} at most`;
  if (bounds.length > 0 && bounds.every(({ statistic }) => statistic !== null))
    throw refuse('--in')`counts years, and every requirement is over all of them | leave --in out, or bound a
      figure without a statistic`;
  return wanted;
}
