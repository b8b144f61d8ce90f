import type { TriedChange } from '@longnight/core/study';
import { againSection, type ReadFrom } from '../document/again.ts';
import { type Block, type Document, figureColumns, type Section, textsOf } from '../document/document.ts';
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
  const { improvement, scenario } = shown;
  const { holds_with } = improvement;
  const typed = textsOf([holds_with && `In the scenario: ${typedWords(holds_with.values)}`]);
  const pairs = improvement.pairs.slice(0, FEW_PAIRS);
  const few = `The best ${pairs.length} of ${improvement.pairs.length} pairs`;
  const tables: readonly Section[] = [
    triesSection(shown, 'one', 'One change', improvement.helping),
    triesSection(
      shown,
      'again-and-again',
      'The same again, until it holds or brings no more',
      improvement.repeated,
    ),
    ...(pairs.length < improvement.pairs.length
      ? [
          { ...triesSection(shown, 'pairs', few, pairs), on: ['screen'] as const },
          {
            ...triesSection(shown, 'pairs', 'Pairs of the best', improvement.pairs),
            on: ['markdown', 'page'] as const,
          },
        ]
      : [triesSection(shown, 'pairs', 'Pairs of the best', pairs)]),
    triesSection(shown, 'together', TOGETHER, improvement.together),
    {
      ...triesSection(
        shown,
        'harm',
        improvement.holds ? 'Changes without gain' : 'Changes that make it worse',
        improvement.harming,
      ),
      on: ['markdown', 'page'],
    },
    {
      ...triesSection(shown, 'idle', 'Changes that make no difference', improvement.idle),
      on: ['markdown', 'page'],
    },
  ];
  return {
    title: `${scenario.site.name}: what the next part buys`,
    dangers: dangersSection(improvement.now.dangers),
    about: [overWords(scenario)],
    sections: [
      { id: 'now', title: 'As it stands', label: 'Now', sentence: nowWords(improvement), blocks: [] },
      { id: 'answer', title: 'What makes it hold', sentence: answerWords(shown).join(' '), blocks: typed },
      ...tables.filter(({ blocks }) => blocks.length > 0),
      careSection(shown),
      ...cautionSection(improvement.cautions),
      againSection(
        `longnight improve ${name} --out DIR`,
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
  const head = [{ title: 'change' }, ...figureColumns(...columns.map((column) => [column.title] as const))];
  const cells = (tried: TriedChange) => [changeWords(tried), ...columns.map((column) => column.cell(tried))];
  const table = { kind: 'table', caption: title } as const;
  return {
    id,
    title,
    blocks: [
      {
        ...table,
        on: ['screen'],
        columns: head,
        rows: tries.flatMap((tried) => [
          cells(tried),
          [`    ${typedWords(tried.values)}`, ...columns.map(() => '')],
        ]),
      },
      {
        ...table,
        on: ['markdown', 'page'],
        columns: [...head, { title: 'in the scenario', holds: 'code' }],
        rows: tries.map((tried) => [...cells(tried), typedWords(tried.values)]),
      },
    ],
  };
}

/** What was tried without a row, and what the rows leave out. */
function careSection({ improvement }: ImproveShown): Section {
  const names = (tries: readonly TriedChange[]): string => tries.map(changeWords).join('; ');
  const dropped = droppedWords(improvement);
  const aside: readonly (readonly [string, string])[] = [
    ...(improvement.harming.length === 0
      ? []
      : [[improvement.holds ? 'No gain' : 'Makes it worse', names(improvement.harming)] as const]),
    ...(improvement.idle.length === 0 ? [] : [['No difference', names(improvement.idle)] as const]),
  ];
  const answers: readonly (readonly [string, string])[] = [
    ...improvement.left_out.map(
      ({ change, why }) => ['Not played', `${whatWords(change)}: ${unplayedWords(why)}`] as const,
    ),
    ...(dropped === null ? [] : [['Dropped', dropped] as const]),
    ...cautionsOf(shownTries(improvement)).map((caution) => ['Not in it', caution] as const),
    [
      'Rests on',
      'one year and the models of `longnight run`: other years may rank otherwise. A part that was made larger without being a part of a parts file has no price here.',
    ],
  ];
  const blocks: Block[] = [{ kind: 'answers', answers }];
  if (aside.length > 0) blocks.unshift({ kind: 'answers', answers: aside, on: ['screen'] });
  return { id: 'care', title: 'Read with care', blocks };
}
