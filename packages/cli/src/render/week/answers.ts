import type { WeekAnswer, WeekAsk } from '@longnight/core';
import { WEEK_ROUNDS, type WeekYears } from '@longnight/core/study';
import { type Answer, present } from '../document/document.ts';
import { clockTime, counted, fixed, hours, kWh, percent, socPercent } from '../document/figures.ts';
import { fileWord } from '../document/shell.ts';
import { daysWords, sentenceCase } from '../document/words.ts';

/** What the answer to `longnight week` shows. */
export interface WeekShown {
  /** Name of the scenario file, without its folder. */
  readonly scenarioName: string;
  readonly ask: WeekAsk;
  readonly answer: WeekAnswer;
  /** The same days with the generator left out; null where the answer is without one. */
  readonly alone: WeekAnswer | null;
  /** Every year of the weather file; null if only one was asked. `answer` is then that of the worst. */
  readonly years: WeekYears | null;
}

/** Which days, from what state of charge. */
export function askedText({ ask, answer, years }: WeekShown): string {
  const year = answer.year.clock.year;
  const which =
    ask.start !== null
      ? `${counted(answer.days, 'day')} from ${answer.start}`
      : `The leanest ${daysWords(answer.days)} of ${year}: ${answer.days === 1 ? answer.start : `${answer.days} days from ${answer.start}`}`;
  const hardest = years === null ? '' : `, the hardest of ${counted(years.years.length, 'year')}`;
  return `${which}${hardest}. ${beginsText(ask, answer)}`;
}

function beginsText(ask: WeekAsk, answer: WeekAnswer): string {
  const played = `the played year comes to these days with ${socPercent(answer.played_initial_soc)} %`;
  const empty = answer.begins_empty ? ': the bank begins empty' : '';
  if (ask.soc === null)
    return `It begins as the played year comes to it, at ${socPercent(answer.initial_soc)} %${empty}.`;
  return ask.soc === 1
    ? `It begins with a full bank; ${played}.`
    : `It begins at ${socPercent(ask.soc)} %, as asked${empty}; ${played}.`;
}

/**
 * Question and answer, in the order in which they are asked. Where a generator rides it out, the questions about bank
 * and load are put to the plant without it: with it one module would do.
 */
export function weekAnswers({ answer, alone }: WeekShown): readonly Answer[] {
  const asked = alone !== null && isRidden(answer) ? alone : answer;
  const condition = asked === alone ? 'Without the generator: ' : '';
  const first = riddenOut(answer) + (answer.generator ? ` ${generatorText(answer)}` : '');
  return present<Answer>([
    ['Ridden out?', first],
    alone && ['No generator', aloneText(alone)],
    ['Sun', sunText(answer)],
    ['Such days', sentenceCase(condition + suchDays(asked))],
    ['More bank', sentenceCase(condition + moreBank(asked))],
    ['Less load', sentenceCase(condition + lessLoad(asked))],
  ]);
}

export const isRidden = (answer: WeekAnswer): boolean => answer.first_unmet === null;

function riddenOut(answer: WeekAnswer): string {
  if (answer.wanted_kWh === 0) return 'No load is wanted in these days.';
  return isRidden(answer)
    ? `Yes: all ${kWh(answer.wanted_kWh)} wanted are served; the bank comes down to ${socPercent(answer.lowest_soc)} %.`
    : `No: ${kWh(answer.unmet_kWh)} of ${kWh(answer.wanted_kWh)} wanted go unmet, in ${hours(answer.unmet_hours)}, ` +
        `the first at ${clockTime(answer.first_unmet!)}.`;
}

const generatorText = (answer: WeekAnswer): string =>
  answer.generator_run_hours === 0
    ? 'The generator never runs.'
    : `The generator runs ${hours(answer.generator_run_hours)}.`;

/** The same without the generator, in one sentence. */
function aloneText(alone: WeekAnswer): string {
  return isRidden(alone)
    ? `Would ride it out without the generator, down to ${socPercent(alone.lowest_soc)} %.`
    : `Without the generator ${kWh(alone.unmet_kWh)} go unmet, in ${hours(alone.unmet_hours)}, the first at ` +
        `${clockTime(alone.first_unmet!)}.`;
}

const sunText = (answer: WeekAnswer): string =>
  answer.sun_to_load === null
    ? 'No load is wanted.'
    : `The array offers ${kWh(answer.available_kWh)}, ${percent(answer.sun_to_load)} of what the loads want.`;

function suchDays(answer: WeekAnswer): string {
  if (answer.rides_days === null)
    return `played ${WEEK_ROUNDS} times in a row, ${WEEK_ROUNDS * answer.days} days, nothing goes unmet.`;
  return `if such days follow each other, the loads are carried for ${fixed(answer.rides_days, 1)} days, to the first unmet hour.`;
}

function moreBank(answer: WeekAnswer): string {
  const { modules_to_ride: needed, modules_parallel: has, modules_unsteady: unsteady, begins_empty } = answer;
  const have = counted(has, 'module');
  const but =
    unsteady === null
      ? ''
      : ` But more modules do not help steadily: ${fixed(unsteady.holds, 0)} would ride it out and ${fixed(unsteady.fails, 0)} not.`;
  if (needed === null && begins_empty)
    return (
      'no number of modules rides it out: the bank begins empty, at its floor, and more modules begin as empty. ' +
      `Ask from a charge that it could have, with --soc.${but}`
    );
  if (needed === null)
    return `no number of modules from ${fixed(has, 0)} up rides it out: it is not energy in the bank that is short.${but}`;
  if (needed > has)
    return `${counted(needed, 'module')} instead of ${fixed(has, 0)} would ride it out, beginning at the same state of charge.${but}`;
  const none =
    needed === has
      ? `none needed; ${has === 1 ? 'the module is' : `all ${have} are`}.`
      : `none needed: ${fixed(needed, 0)} of the ${have} would do.`;
  return none + but;
}

function lessLoad(answer: WeekAnswer): string {
  const { load_share_to_ride: share } = answer;
  if (share === null) return 'no share of the load would be ridden out.';
  return share === 1
    ? 'none need go.'
    : `${fixed(100 * share, 1)} % of the load would be ridden out: ${fixed(100 * (1 - share), 1)} % less in every hour.`;
}

/** The command that asks the same again. */
export function weekCommand({ scenarioName, ask, years }: WeekShown): string {
  const options = present([
    `--days ${ask.days}`,
    ask.start !== null && `--start ${ask.start}`,
    `--soc ${ask.soc ?? 'played'}`,
    !ask.generator && '--without-generator',
    years !== null && '--every-year',
  ]);
  return `longnight week ${fileWord(scenarioName)} ${options.join(' ')} --out DIR`;
}
