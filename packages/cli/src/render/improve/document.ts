import type { Improvement } from '@longnight/core';
import type { TriedChange } from '@longnight/core/study';
import { isAsked, judgeOptions, judgeSentences, yearsWanted } from '../check/judge-words.ts';
import { againSection, type ReadFrom } from '../document/again.ts';
import {
  type Answer,
  type Block,
  type ColumnOf,
  type Document,
  FILES,
  figures,
  present,
  type Section,
  tableOf,
  textsOf,
} from '../document/document.ts';
import { counted } from '../document/figures.ts';
import { fileWord } from '../document/shell.ts';
import { overWords } from '../document/words.ts';
import { cautionSection, dangersSection } from '../report/dangers.ts';
import { unplayedWords, whatWords } from './change-words.ts';
import {
  answerWords,
  cautionsOf,
  changeWords,
  columnsOf,
  droppedWords,
  type ImproveShown,
  nowWords,
  shownTries,
  TOGETHER,
  typedWords,
} from './words.ts';

/** Most pairs where there is little room. */
const FEW_PAIRS = 5;

/** What `longnight improve` says: what the next part buys, with what to type for it. */
export function improveDocument(shown: ImproveShown, name: string, from: ReadFrom): Document {
  const { improvement, scenario, possible } = shown;
  const { judge, holds_with, helping, repeated, pairs, together, harming, idle } = improvement;
  const typed = textsOf([holds_with && `In the scenario: ${typedWords(holds_with.values)}`]);
  const few = `The best ${FEW_PAIRS} of ${pairs.length} pairs`;
  const section = (
    id: string,
    title: string,
    tries: readonly TriedChange[],
    on?: Section['on'],
  ): Section => ({
    ...triesSection(shown, id, title, tries),
    ...(on === undefined ? {} : { on }),
  });
  const tables: readonly Section[] = [
    section('one', 'One change', helping),
    section(
      'again-and-again',
      `The same again, until it ${isAsked(judge) ? 'is enough' : 'holds'} or brings no more`,
      repeated,
    ),
    ...(pairs.length > FEW_PAIRS ? [section('pairs', few, pairs.slice(0, FEW_PAIRS), ['screen'])] : []),
    section('pairs', 'Pairs of the best', pairs, pairs.length > FEW_PAIRS ? FILES : undefined),
    section('together', TOGETHER, together),
    section(
      'harm',
      improvement.holds ? 'Changes without gain' : 'Changes that make it worse',
      harming,
      FILES,
    ),
    section('idle', 'Changes that make no difference', idle, FILES),
  ];
  return {
    title: `${scenario.site.name}: what the next part buys`,
    dangers: dangersSection(improvement.now.dangers),
    about: [overWords(scenario, judge.years.length > 0), ...judgeSentences(judge, possible)],
    sections: [
      { id: 'now', title: 'As it stands', label: 'Now', sentence: nowWords(improvement), blocks: [] },
      {
        id: 'answer',
        title: `What makes it ${judge.all_served ? `hold${yearsWanted(judge)}` : 'keep what is required'}`,
        sentence: answerWords(shown).join(' '),
        blocks: typed,
      },
      ...tables.filter(({ blocks }) => blocks.length > 0),
      careSection(shown),
      ...cautionSection(improvement.cautions),
      againSection(
        `longnight improve ${fileWord(name)}${judgeOptions(judge)} --out DIR`,
        from,
        'improve.json and improve.csv hold every change that was played.',
      ),
    ],
    foot: `Made by Longnight ${from.version} from ${name}.`,
  };
}

/** Changes with their figures; on a terminal what to type for each stands under it. No blocks if there are none. */
function triesSection(
  { improvement }: ImproveShown,
  id: string,
  title: string,
  tries: readonly TriedChange[],
): Section {
  if (tries.length === 0) return { id, title, blocks: [] };
  const columns = columnsOf(improvement);
  const head: readonly ColumnOf<TriedChange>[] = [
    ['change', changeWords],
    ...columns.map(({ title, cell }): ColumnOf<TriedChange> => [figures(title), cell]),
  ];
  const screen = tableOf(title, tries, head);
  const under = ({ values }: TriedChange) => [`    ${typedWords(values)}`, ...columns.map(() => '')];
  return {
    id,
    title,
    blocks: [
      { ...screen, on: ['screen'], rows: tries.flatMap((tried, k) => [screen.rows[k]!, under(tried)]) },
      {
        ...tableOf(title, tries, [
          ...head,
          [{ title: 'in the scenario', holds: 'code' }, ({ values }) => typedWords(values)],
        ]),
        on: FILES,
      },
    ],
  };
}

const yearsPlayed = ({ judge, played_plants, played_years }: Improvement): string =>
  judge.years.length === 0
    ? 'one year and the models of `longnight run`: other years may rank otherwise.'
    : `${counted(judge.years.length, 'year')} and the models of \`longnight run\`. ${counted(played_plants, 'plant')} were played in each of them, ${counted(played_years, 'year')} in all. ` +
      'Unmet energy and generator hours are means of the years, the lowest charge is that of all of them. Each year begins with the state it ends with, or with run.initial_soc: these are possible years, not years in a row.';

/** What was tried without a row, and what the rows leave out. */
function careSection({ improvement }: ImproveShown): Section {
  const { harming, idle, holds, left_out } = improvement;
  const names = (tries: readonly TriedChange[]): string => tries.map(changeWords).join('; ');
  const dropped = droppedWords(improvement);
  const aside = present<Answer>([
    harming.length > 0 && [holds ? 'No gain' : 'Makes it worse', names(harming)],
    idle.length > 0 && ['No difference', names(idle)],
  ]);
  const answers = present<Answer>([
    ...left_out.map(
      ({ change, why }): Answer => ['Not played', `${whatWords(change)}: ${unplayedWords(why)}`],
    ),
    dropped !== null && ['Dropped', dropped],
    ...cautionsOf(shownTries(improvement)).map((caution): Answer => ['Not in it', caution]),
    [
      'Rests on',
      `${yearsPlayed(improvement)} A part that was made larger without being a part of a parts file has no price here.`,
    ],
  ]);
  const blocks: Block[] = [{ kind: 'answers', answers }];
  if (aside.length > 0) blocks.unshift({ kind: 'answers', answers: aside, on: ['screen'] });
  return { id: 'care', title: 'Read with care', blocks };
}
