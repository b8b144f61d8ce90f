import type { DesignFigureName, Requirement } from '@longnight/core';
import { figureNamed, type Lack } from '@longnight/core/findings';
import { holds } from '@longnight/core/study';
import { figureText as shownText, titleOf, wordsOf } from '../document/figure-words.ts';
import { valueText } from '../document/key-words.ts';
import { statisticWords } from '../document/year-words.ts';

/** A bound and the figure it is on. */
export interface Bounded {
  readonly hold: Requirement;
  /** Null where the plant has no such figure. */
  readonly figure: number | null;
}

/** The figure as it was typed, its statistic behind it. */
export const figureName = ({ name, statistic }: Requirement): string =>
  statistic === null ? name : `${name}.${statistic}`;

export const isKept = ({ hold, figure }: Bounded): boolean => holds(hold, figure);

/**
 * The figure in as few digits as don't turn the verdict around: 0.0010004 is not "0.001" beside a bound of 0.001 that
 * it misses.
 */
function figureText({ hold, figure }: Bounded): string {
  if (figure === null) return 'n/a';
  const isMet = holds(hold, figure);
  for (const digits of [4, 6, 9, 12]) {
    const rounded = Number(figure.toPrecision(digits));
    if (holds(hold, rounded) === isMet) return String(rounded);
  }
  return String(figure);
}

const LACK_WORDS: Readonly<Record<Lack, string>> = {
  none: 'the plant has none: counts as 0',
  unpriced: 'not known: a price is missing',
  unknown: 'not known: nothing stated or played tells it',
};

/** Why a figure that isn't there keeps or misses its bound. */
const lack = ({ hold, figure }: Bounded): string =>
  figure !== null ? '' : ` (${LACK_WORDS[figureNamed(hold.name)?.lack ?? 'unknown']})`;

/** A requirement as people say it: `unmet hours at most 9 h`. */
export function requiredText({ name, statistic, relation, bound }: Requirement): string {
  const figure = name as DesignFigureName;
  const over = statistic === null ? '' : `, ${statisticWords(statistic)} of the years,`;
  const unit = figureNamed(figure).unit;
  const relations = { '<=': 'at most', '>=': 'at least', '<': 'below', '>': 'above' } as const;
  return `${wordsOf(figure)}${over} ${relations[relation]} ${valueText(bound)}${/^(1|money.*)$/.test(unit) ? '' : ` ${unit}`}`;
}

/** The figure of a bound in words, its statistic behind it: `unmet energy, p95`. */
export const figureWords = ({ name, statistic }: Requirement): string =>
  `${titleOf(name as DesignFigureName)}${statistic === null ? '' : `, ${statistic}`}`;

/** The figure of a bound in a table. */
export const boundText = ({ name }: Requirement, figure: number | null): string =>
  figure === null ? 'n/a' : shownText(name as DesignFigureName, figure);

/** What is asked, and whether it is kept, the figure beside it. */
export const boundSaid = (asked: string, bounded: Bounded): string =>
  `${asked}: ${isKept(bounded) ? 'kept' : 'missed'}, ${figureText(bounded)}${lack(bounded)}`;

/** The same with the bound as it was typed. */
export const boundLine = (bounded: Bounded): string => boundSaid(bounded.hold.text, bounded);

/** What standard error says of the bounds that are missed, one line each. */
export const missedText = (missed: readonly Bounded[]): string =>
  missed
    .map(
      (bounded) =>
        `missed: ${figureName(bounded.hold)} is ${figureText(bounded)}${lack(bounded)}, required is ` +
        `${bounded.hold.relation} ${bounded.hold.bound}`,
    )
    .join('\n');
