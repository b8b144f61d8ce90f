import type { TriedChange } from '@longnight/core/study';
import { bullets, escaped, table } from '../document/markdown-text.ts';
import { placeWords, weatherWords } from '../document/words.ts';
import { dangerSentence } from '../report/dangers.ts';
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

/** mend.md: every change played, with what to type for it. */
export function mendMarkdown(shown: MendShown): string {
  const { mending, scenario } = shown;
  const seed = scenario.weather.kind === 'normals' ? scenario.weather.seed : null;
  const parts = [
    `# What the next part buys: ${escaped(scenario.site.name)}`,
    `${placeWords(scenario.site)}. ${scenario.run.year}, ${weatherWords({ weather: scenario.weather.kind, seed })}.`,
    ...mending.now.dangers.map((danger) => `**Danger: ${escaped(dangerSentence(danger))}**`),
    `Now: ${escaped(nowWords(mending))}`,
    escaped(answerWords(shown).join(' ')),
  ];
  const sections: readonly [string, readonly TriedChange[]][] = [
    ['One change', mending.helping],
    ['The same again, until it holds or brings no more', mending.repeated],
    ['Pairs of the best', mending.pairs],
    [TOGETHER, mending.together],
    [mending.holds ? 'Changes without gain' : 'Changes that make it worse', mending.harming],
    ['Changes that make no difference', mending.idle],
  ];
  const columns = columnsOf(mending);
  for (const [title, tries] of sections) {
    if (tries.length === 0) continue;
    parts.push(
      `## ${title}`,
      table(
        [
          { title: 'change' },
          ...columns.map((column) => ({ title: escaped(column.title), figures: true as const })),
          { title: 'in the scenario' },
        ],
        tries.map((tried) => [
          escaped(changeWords(tried)),
          ...columns.map((column) => column.cell(tried)),
          escaped(typedWords(tried.values)),
        ]),
      ),
    );
  }
  if (mending.left_out.length > 0)
    parts.push(
      '## Not played',
      bullets(mending.left_out.map(({ change, why }) => escaped(`${change.words}: ${why}`))),
    );
  const cautions = cautionsOf(shownTries(mending));
  const dropped = droppedWords(mending);
  parts.push(
    '## Read with care',
    bullets([
      ...cautions.map(escaped),
      ...(dropped === null ? [] : [escaped(dropped)]),
      'Each change is played over the one year of the scenario, with the models of `longnight run`: other years, or seeds, may rank otherwise.',
      'A part that was made larger without being a part of a parts file has no price here.',
    ]),
    '## Cautions',
    bullets(mending.cautions.map(escaped)),
  );
  return `${parts.join('\n\n')}\n`;
}
