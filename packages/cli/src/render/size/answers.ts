import {
  type Bill,
  cautions,
  type DesignFigureName,
  type Figures,
  type Harder,
  plantOf,
  type SizeAnswer,
} from '@longnight/core';
import {
  type DarkSeasons,
  type Neighbour,
  studyNotices,
  type Tried,
  type WeakestPoint,
} from '@longnight/core/study';
import type { SizeQuestion } from '../../commands/size/question.ts';
import { evenly } from '../../sweep/spread.ts';
import { type Bounded, boundSaid, isKept, requiredText } from '../check/requirements.ts';
import { present } from '../document/document.ts';
import { titleOf, wordsOf } from '../document/figure-words.ts';
import { amount, counted, price } from '../document/figures.ts';
import { axesText, designText, varyOptions } from '../document/key-words.ts';
import { plain } from '../document/plain-text.ts';
import { fileWord, quoted } from '../document/shell.ts';
import { listed, sentenceCase } from '../document/words.ts';
import { yearOptions } from '../document/year-words.ts';
import { noticeText } from '../report/notice-words.ts';

/** How the answer moves in a year made harder. */
export interface HarderShown {
  readonly name: string;
  readonly words: string;
  readonly harder: Harder;
  /** How often such a winter is drawn; null where nothing is drawn or it is no winter. */
  readonly often: DarkSeasons | null;
  /** The chosen design then. */
  readonly same: Tried;
  /** The cheapest design that holds then; null if none does. */
  readonly cheapest: Tried | null;
}

/** What the answer to `longnight size` shows. */
export interface SizeShown {
  readonly question: SizeQuestion;
  readonly designs: number;
  readonly answer: SizeAnswer;
  /** The first designs that can be chosen, each with where it gives out, or would, in its hardest year. */
  readonly choice: readonly { readonly tried: Tried; readonly weakest: WeakestPoint }[];
  /** Years of the best design, or of the nearest if none holds. */
  readonly years: readonly Figures[];
  /** Its bill; null without prices. */
  readonly bill: Bill | null;
  /** `tried` is null where values contradict each other. */
  readonly beside: readonly (Neighbour & { readonly tried: Tried | null })[];
  readonly harder: readonly HarderShown[];
}

export const currencyOf = ({ files }: SizeQuestion): string =>
  plain(files.read.scenario.money?.currency ?? '');

interface LeastWords {
  readonly name: string;
  /** What stands behind an amount of it. */
  readonly behind: string;
}

/** What the figure that is to be least is called. */
export function leastWords({ ask, files }: SizeQuestion): LeastWords {
  const span = `over ${counted(files.read.scenario.money?.years ?? 0, 'year')}`;
  const known: Readonly<Partial<Record<DesignFigureName, LeastWords>>> = {
    'money.capital': { name: 'price of the plant', behind: 'to buy' },
    'money.total': { name: 'cost of the plant', behind: span },
    'money.per_served_kWh': { name: 'cost per kWh served', behind: 'per kWh served' },
  };
  return known[ask.least] ?? { name: titleOf(ask.least), behind: wordsOf(ask.least) };
}

export const leastText = (question: SizeQuestion, value: number | null): string =>
  question.ask.least.startsWith('money.') ? price(value) : amount(value);

/** The figure with what it is counted in: `22,447 crowns over 20 years`, `generator run time, h: 85`. */
export function leastSentence(question: SizeQuestion, value: number | null): string {
  const text = leastText(question, value);
  return question.ask.least.startsWith('money.')
    ? `${text} ${currencyOf(question)} ${leastWords(question).behind}`
    : `${leastWords(question).name}: ${text}`;
}

const lineOf = (bounded: Bounded): string => boundSaid(requiredText(bounded.hold), bounded);

const boundsOf = ({ ask }: SizeQuestion, design: Tried): readonly Bounded[] =>
  ask.holds.map((hold, k) => ({ hold, figure: design.bounds[k]! }));

export const boundLines = (question: SizeQuestion, design: Tried): readonly string[] =>
  boundsOf(question, design).map(lineOf);

/** `yes`, or the last words of what is missed: the bounds are told in full elsewhere. */
export function keepsText(question: SizeQuestion, design: Tried | null): string {
  if (design === null) return 'not played: contradictory';
  if (design.dangers > 0) return 'no: a danger';
  if (design.holds) return 'yes';
  const missed = boundsOf(question, design).filter((bounded) => !isKept(bounded));
  if (missed.length === 0) return `no: ${yearsText(question, design)}`;
  return `no: ${missed.map(({ hold }) => wordsOf(hold.name as DesignFigureName)).join(', ')}`;
}

/** True if any requirement is kept year by year, in so many of them. */
export const countsYears = ({ ask, possible }: SizeQuestion): boolean =>
  possible.years.length > 0 && ask.holds.some(({ statistic }) => statistic === null);

/** In how many of the years all bounds are kept that have no statistic; empty where none is counted. */
export const yearsText = (question: SizeQuestion, design: Tried): string =>
  countsYears(question) ? `${design.years_held} of ${question.possible.years.length} years` : '';

/** `in 19 of 20 years`; empty where none is counted. */
const wantedYears = (question: SizeQuestion): string =>
  countsYears(question) ? ` in ${question.ask.years_to_hold} of ${question.possible.years.length} years` : '';

/** What was asked, in a sentence. */
export function askedText(question: SizeQuestion): string {
  const { ask } = question;
  const { name, behind } = leastWords(question);
  // The count of years stands behind those that it is of.
  const bounds = [
    ...ask.holds.filter(({ statistic }) => statistic !== null),
    ...ask.holds.filter(({ statistic }) => statistic === null),
  ].map(requiredText);
  const rests = [ask.least, ...ask.holds.map(({ name }) => name)].filter((name) => name !== 'money.capital');
  const notes = rests.some((name) => /^(money|generator)\./.test(name))
    ? studyNotices(question.files.read.scenario)
    : [];
  return [
    `Asked: the least ${name}${ask.least === 'money.total' ? ` ${behind}` : ''}, with ${listed(bounds)}${wantedYears(question)}.`,
    ...notes.map((notice) => `${sentenceCase(noticeText(notice))}.`),
  ].join(' ');
}

/** What the age of the plant rests on; empty where it is new. */
export const ageText = ({ age_years, ask }: SizeQuestion): string =>
  age_years === 0
    ? ''
    : `Played is each plant ${counted(age_years, 'year')} on, with loads grown to then. Bank and arrays are what is left of ` +
      'them, or at the end of their life where that ends before. Every year is taken to wear the bank as the first does, ' +
      'in which it is new. ' +
      (ask.least.startsWith('money.') && ask.least !== 'money.capital'
        ? 'Costs take every year to use as much as this one.'
        : '');

/** What was looked at, in a sentence or two. */
export function playedText({ question, designs, answer }: SizeShown): string {
  const { played, contradictory, holding, unranked, dangerous } = answer;
  const how =
    contradictory === 0
      ? 'All played'
      : `${played} played, the values of ${contradictory} contradict each other`;
  const kept = holding === 0 ? 'none keeps' : holding === 1 ? '1 keeps' : `${holding} keep`;
  return present([
    `${counted(designs, 'design')}: ${axesText(question.axes)}.`,
    `${how}; ${kept} the requirements.`,
    unranked > 0 &&
      `${counted(unranked, 'design')} of them ${unranked === 1 ? 'has' : 'have'} no price and can't be chosen.`,
    dangerous > 0 &&
      `${counted(dangerous, 'design')} ${dangerous === 1 ? 'is a danger and was' : 'are dangers and were'} dropped: check says of each what it can destroy.`,
  ]).join(' ');
}

/** How often a winter as dark as that comes, in brackets. */
export const oftenText = ({ often }: HarderShown): string =>
  often === null
    ? ''
    : ` (${often.as_dark} of ${often.years} drawn years ${often.as_dark === 1 ? 'has' : 'have'} one as dark)`;

/** How the answer moves in a harder year. */
export function harderText(shown: SizeShown, { same, cheapest }: HarderShown): string {
  const { question, answer } = shown;
  const { axes } = question;
  const design = `Design ${same.index + 1}`;
  const then = boundsOf(question, same).filter((bounded) => !isKept(bounded));
  if (same.holds) {
    const still = cheapest !== null && cheapest.index !== answer.best;
    return (
      `${design} still keeps the requirements${yearsClause(question, same)}, at ${leastSentence(question, same.least)}.` +
      (still ? ` Cheapest then is ${cheapestText(question, cheapest)}.` : '')
    );
  }
  const missed =
    then.length === 0
      ? `keeps them in ${yearsText(question, same)}`
      : `misses ${then.map((bounded) => lineOf(bounded).replace(': missed, ', ': ')).join('; ')}${yearsClause(question, same)}`;
  const rescue =
    cheapest === null
      ? 'No design of the grid keeps them then.'
      : `Cheapest then is ${cheapestText(question, cheapest)} (${designText(axes, cheapest.index)}).`;
  return `${design} ${missed}. ${rescue}`;
}

const yearsClause = (question: SizeQuestion, design: Tried): string =>
  countsYears(question) ? ` (${yearsText(question, design)})` : '';

const cheapestText = (question: SizeQuestion, design: Tried): string =>
  `design ${design.index + 1} at ${leastSentence(question, design.least)}`;

/** What standard error says when no design can be chosen; null if one was. */
export function nothingHolds({ question, answer, designs }: SizeShown): string | null {
  if (answer.best !== null) return null;
  if (answer.holding > 0)
    return `missed: ${counted(answer.holding, 'design')} of ${designs} ${answer.holding === 1 ? 'keeps every requirement, and it has no' : 'keep every requirement, and none of them has a'} ${leastWords(question).name}`;
  const start = `missed: no design of ${designs} keeps every requirement${wantedYears(question)}`;
  const nearest = answer.nearest === null ? undefined : answer.tried(answer.nearest);
  if (nearest === undefined)
    return `${start}; ${answer.dangerous > 0 ? 'all that could be played are dangers' : 'none could be played'}`;
  const missed = boundsOf(question, nearest).filter((bounded) => !isKept(bounded));
  const by =
    missed.length === 0
      ? `keeps them in ${yearsText(question, nearest)}`
      : missed.map((bounded) => lineOf(bounded)).join('; ');
  return `${start}; nearest is design ${nearest.index + 1} (${designText(question.axes, nearest.index)}): ${by}`;
}

/** What the rows of the front have in common. */
export function frontWords({ answer }: SizeShown, rows: number): string {
  const all = answer.front.length;
  const of = rows < all ? `${rows} of the ${counted(all, 'design')}` : counted(rows, 'design');
  return (
    `${of} that no other beats: every cheaper one leaves ` +
    'more unmet, or as much with more generator hours'
  );
}

/** Designs of the front that fit a table: the ends, the chosen one and an even choice between. */
export function frontShown({ answer }: SizeShown, most: number): readonly Tried[] {
  const all = answer.front.map((index) => answer.tried(index)!);
  if (all.length <= most) return all;
  const kept = new Set(evenly(all.length, most));
  const best = all.findIndex((design) => design.index === answer.best);
  if (best >= 0 && !kept.has(best)) {
    // In place of the one beside it, so that the table stays as long.
    const nearest = [...kept]
      .slice(1, -1)
      .reduce((a, b) => (Math.abs(b - best) < Math.abs(a - best) ? b : a));
    kept.delete(nearest);
    kept.add(best);
  }
  return [...kept].sort((a, b) => a - b).map((k) => all[k]!);
}

/** The cautions of the plant that is shown, or of that of the file where none is. */
export function cautionsOfSize({ question, answer }: SizeShown): readonly string[] {
  const { study, read } = question.files;
  const pick = answer.best ?? answer.nearest;
  const chosen = pick === null ? null : study.design(pick).scenario;
  return cautions(plantOf(chosen ?? read.scenario));
}

/** The command that asks the same again. */
export function sizeCommand(question: SizeQuestion): string {
  const { axes, ask, possible, age_years, files } = question;
  const options = present([
    ...varyOptions(axes),
    ...ask.holds.map((hold) => `--require ${quoted(hold.text)}`),
    `--least ${ask.least}`,
    ...yearOptions(possible.years),
    countsYears(question) && `--in ${ask.years_to_hold}`,
    age_years > 0 && `--at-age ${age_years}`,
  ]);
  return `longnight size ${fileWord(files.name)} ${options.join(' ')} --out DIR`;
}
