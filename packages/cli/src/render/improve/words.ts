import type { Improvement, Scenario } from '@longnight/core';
import type { ChangeCaution, ChangedValue, PossibleYears, TriedChange } from '@longnight/core/study';
import { countsYears, isAsked, judgedBriefly, judgedWords } from '../check/judge-words.ts';
import { boundText, figureWords } from '../check/requirements.ts';
import { present } from '../document/document.ts';
import { amount, counted, fixed, hours, kWh, socPercent } from '../document/figures.ts';
import { sentenceCase } from '../document/words.ts';
import { CAUTION_WORDS, whatWords } from './change-words.ts';

export interface ImproveShown {
  readonly improvement: Improvement;
  /** As it stands, before any change. */
  readonly scenario: Scenario;
  /** Years that were asked for. */ readonly possible: PossibleYears;
}

/** What was changed, in words: `one more module, 6 times`, `one more module and a lower floor`. */
export function changeWords({ changes }: Pick<TriedChange, 'changes'>): string {
  const ids = [...new Set(changes.map((change) => change.id))];
  return ids
    .map((id) => {
      const same = changes.filter((change) => change.id === id);
      return same.length === 1 ? whatWords(same[0]!) : `${whatWords(same[0]!)}, ${same.length} times`;
    })
    .join(' and ');
}

/** What to write into the scenario, as YAML on one line: `bank.modules_parallel: 5`. */
export function typedWords(values: readonly ChangedValue[]): string {
  const scales = values.filter(({ path }) => /^loads\[\d+\]\.scale$/.test(path));
  const rest = values
    .filter((value) => !scales.includes(value))
    .map(({ path, value }) => `${path}: ${yaml(value)}`);
  const [first] = scales;
  if (first === undefined) return rest.join(', ');
  const same = scales.every(({ value }) => value === first.value);
  const under = scales.length === 1 ? 'under the load' : `under each of the ${scales.length} loads`;
  return [...rest, same ? `scale: ${yaml(first.value)} ${under}` : `scale × 0.9 ${under}`].join(', ');
}

/** A value in the flow style of YAML. */
function yaml(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(yaml).join(', ')}]`;
  if (typeof value === 'object' && value !== null)
    return `{ ${Object.entries(value)
      .map(([key, inside]) => `${key}: ${yaml(inside)}`)
      .join(', ')} }`;
  return typeof value === 'string' && !/^[A-Za-z][\w.-]*$/.test(value)
    ? JSON.stringify(value)
    : String(value);
}

/** How the plant stands now. */
export function nowWords({ now, judge }: Improvement): string {
  const generator =
    now.generator_run_h === null ? 'no generator' : `the generator runs ${hours(now.generator_run_h)}`;
  const unmet =
    now.unmet_hours === 0 ? 'nothing is unmet' : `${kWh(now.unmet_kWh)} unmet in ${hours(now.unmet_hours)}`;
  const figures = `${unmet}; ${generator}; lowest state of charge ${socPercent(now.lowest_soc)} %.`;
  const mean = judge.years.length === 0 ? '' : 'In the mean of the years ';
  return present([`${mean}${figures}`, sentenceCase(judgedWords(now, judge))]).join(' ');
}

/** What a change costs, as a sentence without its capital and its stop. */
function costWords({ extra_money: extra }: TriedChange, currency: string): string {
  if (extra === null) return 'no price is known for it';
  if (extra === 0) return 'it costs nothing on the bill';
  return `it costs ${amount(Math.abs(extra))} ${currency} ${extra > 0 ? 'more' : 'less'}`;
}

/** What it is among all that do: an engine, or asking less, may cost less to buy and still not come first. */
function firstOf(among: readonly TriedChange[], { extra_money: extra }: TriedChange): string {
  const prices = among.map(({ extra_money }) => extra_money);
  if (extra === null || prices.length === 1 || prices.some((other) => other !== null && other < extra))
    return 'This does';
  return prices.includes(null)
    ? 'The cheapest to have a price of those that do'
    : 'The cheapest of those that do';
}

/** The answer in sentences: what makes the plant hold, or what comes closest. */
export function answerWords({ improvement }: ImproveShown): string[] {
  const { helping, pairs, repeated, together, holds_with, currency, now, judge } = improvement;
  if (improvement.holds) {
    const nothing = `Nothing to improve: the plant ${isAsked(judge) ? 'keeps what is required' : 'holds'}`;
    const goesShort = now.unmet_hours > 0;
    return [
      helping.length === 0
        ? `${nothing}, and no change here ${goesShort ? 'takes unmet energy away, ' : ''}saves generator hours or leaves more in the bank.`
        : `${nothing}. Changes are ranked by ${goesShort ? 'the unmet energy they take away, then by ' : ''}the generator hours they save, then by the lowest charge they leave.`,
    ];
  }
  const answers: string[] = [];
  const holders = helping.filter((tried) => tried.holds_then);
  if (holds_with !== null) {
    const among = [...helping, ...pairs, ...repeated, ...together].filter((tried) => tried.holds_then);
    const isEngine = ({ outcome }: TriedChange): boolean =>
      now.generator_run_h === null && outcome.generator_run_h !== null;
    if (holders.length === 0) answers.push('No single change does.');
    else if (holders.every(isEngine) && !isEngine(holds_with))
      answers.push('No single change but a generator does.');
    const what = changeWords(holds_with);
    const price = currency === null ? '' : ` ${sentenceCase(costWords(holds_with, currency))}.`;
    answers.push(`${firstOf(among, holds_with)}: ${what}.${price}`);
    answers.push(sentenceCase(judgedWords(holds_with.outcome, judge)));
    const careful = new Set(holds_with.changes.map((change) => change.caution));
    for (const caution of careful)
      if (caution !== null) answers.push(`${sentenceCase(CAUTION_WORDS[caution])}.`);
    const others = among.filter((tried) => tried !== holds_with).slice(0, 3);
    if (others.length > 0) answers.push(`So would ${others.map(changeWords).join('; or ')}.`);
  } else {
    answers.push(
      'Nothing here does: no change alone, none made again and again, no two together, no array and bank together.',
    );
  }
  const [pair] = pairs;
  if (pair !== undefined && pair !== holds_with && !pair.holds_then)
    answers.push(
      `The best pair, ${changeWords(pair)}, leaves ${kWh(pair.outcome.unmet_kWh)} of ${kWh(now.unmet_kWh)}${behind(pair)}.`,
    );
  const [best] = helping;
  if (holds_with === null && pair === undefined && best !== undefined)
    answers.push(
      `The most that one does: ${changeWords(best)} leaves ${kWh(best.outcome.unmet_kWh)}${behind(best)}.`,
    );
  return present(answers);

  function behind({ outcome }: TriedChange): string {
    const judged = judgedBriefly(outcome, judge);
    return judged === '' ? '' : `; ${judged}`;
  }
}

/** Over what array and bank do together. */
export const TOGETHER = 'Array and bank together';

/** How many changes were dropped as dangers; null if none was. */
export const droppedWords = ({ dropped_dangerous: dropped }: Improvement): string | null =>
  dropped === 0
    ? null
    : `${counted(dropped, 'change')}, alone or with others, ${dropped === 1 ? 'was' : 'were'} dropped: the plant would be a danger.`;

/** Every change that is shown with a row of its own. */
export const shownTries = ({ helping, repeated, pairs, together }: Improvement): readonly TriedChange[] => [
  ...helping,
  ...repeated,
  ...pairs,
  ...together,
];

/** Everything that a reader must know about the changes shown, each once. */
export function cautionsOf(shown: readonly TriedChange[]): string[] {
  const by = new Map<ChangeCaution, Set<string>>();
  for (const change of shown.flatMap((tried) => tried.changes)) {
    if (change.caution === null) continue;
    by.set(change.caution, (by.get(change.caution) ?? new Set()).add(whatWords(change).split(':')[0]!));
  }
  return [...by].map(([caution, words]) => `${[...words].join(', ')}: ${CAUTION_WORDS[caution]}`);
}

/** Before and after; what would look alike, though it is not, with the difference. */
function fromTo(before: number, after: number): string {
  const [from, to] = [amount(before), amount(after)];
  const less = before - after;
  if (from !== to || Math.abs(less) < 1e-6) return `${from} → ${to}`;
  return `${from} ${less > 0 ? '−' : '+'} ${amount(Math.abs(less))}`;
}

/** One figure of the table, before and after. */
interface ImproveColumn {
  readonly title: string;
  readonly cell: (tried: TriedChange) => string;
}

/** The columns that say something for this plant. */
export function columnsOf({ now, holds, currency, judge }: Improvement): readonly ImproveColumn[] {
  const lowest = (soc: number): string => fixed(100 * soc, 1);
  return present<ImproveColumn>([
    ...(judge.all_served ? [] : judge.requirements).map(
      (hold, k): ImproveColumn => ({
        title: figureWords(hold),
        cell: ({ outcome }) => `${boundText(hold, now.bounds[k]!)} → ${boundText(hold, outcome.bounds[k]!)}`,
      }),
    ),
    countsYears(judge) && {
      title: 'years kept',
      cell: ({ outcome }) => `${now.years_held} → ${outcome.years_held}`,
    },
    holds && {
      title: 'lowest %',
      cell: ({ outcome }) => `${lowest(now.lowest_soc)} → ${lowest(outcome.lowest_soc)}`,
    },
    (!holds || now.unmet_hours > 0) && {
      title: 'unmet kWh',
      cell: ({ outcome }) => fromTo(now.unmet_kWh, outcome.unmet_kWh),
    },
    now.generator_run_h !== null && {
      title: 'run h',
      cell: ({ outcome }) => `${amount(now.generator_run_h)} → ${amount(outcome.generator_run_h)}`,
    },
    !holds &&
      now.unmet_higher_tiers_kWh !== null && {
        title: 'higher tiers',
        cell: ({ outcome }) => amount(outcome.unmet_higher_tiers_kWh),
      },
    currency !== null && { title: currency, cell: ({ extra_money }) => amount(extra_money) },
    currency !== null &&
      !holds && { title: 'per kWh', cell: ({ money_per_removed_kWh: each }) => amount(each) },
  ]);
}
