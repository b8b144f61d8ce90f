import type { TriedChange } from '@longnight/core/study';
import { againSection, type ReadFrom } from '../document/again.ts';
import { type Block, type Document, figureColumns, type Section } from '../document/document.ts';
import { placeWords, weatherWords } from '../document/words.ts';
import { cautionSection, dangersSection } from '../report/dangers.ts';
import { unplayedWords, whatWords } from './change-words.ts';
import {
  answerWords,
  cautionsOf,
  changeWords,
  columnsOf,
  droppedWords,
  type MendShown,
  nowWords,
  shownTries,
  TOGETHER,
  typedWords,
} from './words.ts';

/** Most pairs where there is little room. */
const FEW_PAIRS = 5;

/** What `longnight mend` says: what the next part buys, with what to type for it. */
export function improveDocument(shown: MendShown, name: string, from: ReadFrom): Document {
  const { mending, scenario } = shown;
  const { site, weather, run } = scenario;
  const seed = weather.kind === 'normals' ? weather.seed : null;
  const pairs = mending.pairs.slice(0, FEW_PAIRS);
  const few = `The best ${pairs.length} of ${mending.pairs.length} pairs`;
  const tables: readonly Section[] = [
    triesSection(shown, 'one', 'One change', mending.helping),
    triesSection(
      shown,
      'again-and-again',
      'The same again, until it holds or brings no more',
      mending.repeated,
    ),
    ...(pairs.length < mending.pairs.length
      ? [
          { ...triesSection(shown, 'pairs', few, pairs), on: ['screen'] as const },
          {
            ...triesSection(shown, 'pairs', 'Pairs of the best', mending.pairs),
            on: ['markdown', 'page'] as const,
          },
        ]
      : [triesSection(shown, 'pairs', 'Pairs of the best', pairs)]),
    triesSection(shown, 'together', TOGETHER, mending.together),
    {
      ...triesSection(
        shown,
        'harm',
        mending.holds ? 'Changes without gain' : 'Changes that make it worse',
        mending.harming,
      ),
      on: ['markdown', 'page'],
    },
    {
      ...triesSection(shown, 'idle', 'Changes that make no difference', mending.idle),
      on: ['markdown', 'page'],
    },
  ];
  return {
    title: `${site.name}: what the next part buys`,
    dangers: dangersSection(mending.now.dangers),
    about: [`${placeWords(site)}. ${run.year}, ${weatherWords({ weather: weather.kind, seed })}.`],
    sections: [
      { id: 'now', title: 'As it stands', label: 'Now', sentence: nowWords(mending), blocks: [] },
      { id: 'answer', title: 'What mends it', sentence: answerWords(shown).join(' '), blocks: [] },
      ...tables.filter(({ blocks }) => blocks.length > 0),
      careSection(shown),
      ...cautionSection(mending.cautions),
      againSection(
        `longnight mend ${name} --out DIR`,
        from,
        'mend.json and mend.csv hold every change that was played.',
      ),
    ],
    foot: `Made by Longnight ${from.version} from ${name}.`,
  };
}

/** Changes with their figures; on a terminal what to type for each stands under it. No blocks if there are none. */
function triesSection(
  { mending }: MendShown,
  id: string,
  title: string,
  tries: readonly TriedChange[],
): Section {
  if (tries.length === 0) return { id, title, blocks: [] };
  const columns = columnsOf(mending);
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
function careSection({ mending }: MendShown): Section {
  const names = (tries: readonly TriedChange[]): string => tries.map(changeWords).join('; ');
  const dropped = droppedWords(mending);
  const aside: readonly (readonly [string, string])[] = [
    ...(mending.harming.length === 0
      ? []
      : [[mending.holds ? 'No gain' : 'Makes it worse', names(mending.harming)] as const]),
    ...(mending.idle.length === 0 ? [] : [['No difference', names(mending.idle)] as const]),
  ];
  const answers: readonly (readonly [string, string])[] = [
    ...mending.left_out.map(
      ({ change, why }) => ['Not played', `${whatWords(change)}: ${unplayedWords(why)}`] as const,
    ),
    ...(dropped === null ? [] : [['Dropped', dropped] as const]),
    ...cautionsOf(shownTries(mending)).map((caution) => ['Not in it', caution] as const),
    [
      'Rests on',
      'one year and the models of `longnight run`: other years, or seeds, may rank otherwise. A part that was made larger without being a part of a parts file has no price here.',
    ],
  ];
  const blocks: Block[] = [{ kind: 'answers', answers }];
  if (aside.length > 0) blocks.unshift({ kind: 'answers', answers: aside, on: ['screen'] });
  return { id: 'care', title: 'Read with care', blocks };
}
