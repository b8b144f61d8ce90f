import { howSure, type Judge, type Judged, type PossibleYears, yearsToTell } from '@longnight/core/study';
import { present } from '../document/document.ts';
import { yearJson } from '../document/json.ts';
import { sentenceCase } from '../document/words.ts';
import { keptWords, yearOptions, yearsWords } from '../document/year-words.ts';
import { boundSaid, boundText, figureWords, requiredText } from './requirements.ts';

/** True if somebody asked for years or bounds: without, a plant is played in its own year, and nothing may go unmet. */
export const isAsked = ({ years, all_served }: Judge): boolean => years.length > 0 || !all_served;

/** True if it counts in how many years something is kept. */
export const countsYears = ({ years, requirements }: Judge): boolean =>
  years.length > 0 && requirements.some(({ statistic }) => statistic === null);

/** ` in 18 of 20 years`; empty where no years are counted. */
export const yearsWanted = (judge: Judge): string =>
  countsYears(judge) ? ` in ${judge.years_to_hold} of ${judge.years.length} years` : '';

/** What is required, in so many years, and which these are, in sentences; none where nobody asked. */
export function judgeSentences(judge: Judge, possible: PossibleYears): readonly string[] {
  if (!isAsked(judge)) return [];
  const { requirements, all_served } = judge;
  const said = (over: boolean): readonly string[] =>
    requirements.filter(({ statistic }) => (statistic !== null) === over).map(requiredText);
  const yearly = all_served ? ['nothing unmet'] : said(false);
  const asked = [
    ...(yearly.length === 0 ? [] : [`${yearly.join('; ')}${yearsWanted(judge)}`]),
    ...said(true),
  ];
  return [`Required: ${asked.join('; ')}.`, ...yearsWords(possible)];
}

/** What is counted year by year. */
const yearlyWords = ({ all_served }: Judge): string =>
  all_served ? 'nothing is unmet' : 'all that is required of each year is kept';

/** In how many years a plant keeps what is required, and each figure that was bound; nothing where nobody asked. */
export function judgedWords(judged: Judged, judge: Judge): string {
  const { years, years_to_hold, requirements, all_served } = judge;
  const bounds = requirements.map((hold, k) =>
    boundSaid(requiredText(hold), { hold, figure: judged.bounds[k]! }),
  );
  if (!countsYears(judge)) return all_served ? '' : `${bounds.join('; ')}.`;
  const yearly = `${yearlyWords(judge)} in ${keptWords(judged.years_held, years.length, years_to_hold)}`;
  const rank = ` Figures that are required of each year are those that ${years_to_hold} of ${years.length} years keep to.`;
  return all_served ? yearly : `${yearly} ${sentenceCase(bounds.join('; '))}.${rank}`;
}

/** The same in few words, `nothing is unmet in 7 of 20 years`. */
export function judgedBriefly(judged: Judged, judge: Judge): string {
  const { years, requirements, all_served } = judge;
  return present([
    ...(all_served
      ? []
      : requirements.map((hold, k) => `${figureWords(hold)}: ${boundText(hold, judged.bounds[k]!)}`)),
    countsYears(judge) && `${yearlyWords(judge)} in ${judged.years_held} of ${years.length} years`,
  ]).join('; ');
}

/** The options that ask the same. */
export const judgeOptions = (judge: Judge): string =>
  present([
    ...(judge.all_served ? [] : judge.requirements.map(({ text }) => `--require '${text}'`)),
    ...yearOptions(judge.years),
    countsYears(judge) && `--in ${judge.years_to_hold}`,
  ])
    .map((option) => ` ${option}`)
    .join('');

/** What was asked, as plain data. */
export const judgeJson = ({ years, years_to_hold, requirements }: Judge, possible: PossibleYears) => ({
  years: years.map(yearJson),
  years_to_hold,
  require: requirements.map(({ text }) => text),
  left_out: possible.left_out,
  assumptions: possible.assumptions,
});

/** How a plant fared by it, as plain data. */
export const judgedJson = ({ years_held, keeps, bounds }: Judged, judge: Judge) => ({
  keeps,
  years_held,
  ...(countsYears(judge) && {
    held_share: howSure(years_held, judge.years.length),
    years_to_tell: yearsToTell(years_held, judge.years.length, judge.years_to_hold),
  }),
  requirements: judge.requirements.map(({ text }, k) => ({ requirement: text, figure: bounds[k]! })),
});
