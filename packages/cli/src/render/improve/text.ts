import type { TriedChange } from '@longnight/core/study';
import type { Paint } from '../document/paint.ts';
import { LABEL, plain, WIDTH, wrapped } from '../document/plain-text.ts';
import { placeWords, weatherWords } from '../document/words.ts';
import { dangerSentence, dangersTitle, PARTS_CAUTION } from '../report/dangers.ts';
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

/** Most rows of pairs on the terminal; the files have all. */
const SHOWN_PAIRS = 5;

/** What the next part buys, on a terminal. */
export function mendText(
  shown: MendShown,
  written: { readonly folder: string; readonly names: readonly string[] } | null,
  paint: Paint,
): string {
  const { mending, scenario } = shown;
  const seed = scenario.weather.kind === 'normals' ? scenario.weather.seed : null;
  const lines: string[] = [
    ...wrapped(`${plain(scenario.site.name)}, ${placeWords(scenario.site)}`, WIDTH).map(paint.heading),
    `${scenario.run.year}, ${weatherWords({ weather: scenario.weather.kind, seed })}`,
    '',
    ...(mending.now.dangers.length === 0
      ? []
      : labelled(
          dangersTitle(mending.now.dangers),
          plain(mending.now.dangers.map(dangerSentence).join(' ')),
        ).map(paint.bad)),
    ...labelled('Now', nowWords(mending)),
    ...labelled('What mends it', answerWords(shown).join(' ')),
  ];
  const pairs = mending.pairs.slice(0, SHOWN_PAIRS);
  const pairsTitle =
    pairs.length < mending.pairs.length
      ? `The best ${pairs.length} of ${mending.pairs.length} pairs`
      : 'Pairs of the best';
  const sections: readonly [string, readonly TriedChange[]][] = [
    ['One change', mending.helping],
    ['The same again, until it holds or brings no more', mending.repeated],
    [pairsTitle, pairs],
    [TOGETHER, mending.together],
  ];
  for (const [title, tries] of sections) {
    if (tries.length > 0) lines.push('', ...tableLines(shown, title, tries, paint));
  }
  const names = (tries: readonly TriedChange[]): string => plain(tries.map(changeWords).join('; '));
  lines.push('');
  if (mending.harming.length > 0)
    lines.push(...labelled(mending.holds ? 'No gain' : 'Makes it worse', names(mending.harming)));
  if (mending.idle.length > 0) lines.push(...labelled('No difference', names(mending.idle)));
  for (const { change, why } of mending.left_out)
    lines.push(...labelled('Not played', plain(`${change.words}: ${why}`)));
  const dropped = droppedWords(mending);
  if (dropped !== null) lines.push(...labelled('Dropped', dropped));
  const cautions = cautionsOf(shownTries(mending));
  cautions.forEach((caution, k) => {
    lines.push(...labelled(k === 0 ? 'Not in it' : '', plain(caution)));
  });
  lines.push(
    ...labelled(
      'Rests on',
      'one year and the models of `longnight run`: other years, or seeds, may rank otherwise.',
    ),
  );
  lines.push(...labelled('Caution', PARTS_CAUTION));
  if (written !== null) lines.push(...labelled('Files', `${written.names.join(', ')} in ${written.folder}`));
  return `${lines.join('\n').replace(/\n{3,}/g, '\n\n')}\n`;
}

const labelled = (label: string, text: string): string[] =>
  wrapped(text, WIDTH - LABEL).map((line, k) => (k === 0 ? label : '').padEnd(LABEL) + line);

/** Two lines or more a change: its words with the figures, then what to type. */
function tableLines(
  { mending }: MendShown,
  title: string,
  tries: readonly TriedChange[],
  paint: Paint,
): string[] {
  const columns = columnsOf(mending);
  const cells = tries.map((tried) => columns.map((column) => column.cell(tried)));
  const titles = columns.map((column) => wrapped(plain(column.title), 10));
  const height = Math.max(...titles.map((words) => words.length));
  const widths = columns.map(
    (_, c) => 2 + Math.max(...titles[c]!.map((word) => word.length), ...cells.map((row) => row[c]!.length)),
  );
  const wide = WIDTH - widths.reduce((sum, width) => sum + width, 0);
  const heads = Array.from({ length: height }, (_, k) =>
    titles.map((words, c) => (words[k - (height - words.length)] ?? '').padStart(widths[c]!)).join(''),
  );
  const lines = heads.map((head, k) =>
    paint.heading(((k === height - 1 ? title : '').padEnd(wide) + head).trimEnd()),
  );
  tries.forEach((tried, r) => {
    const words = wrapped(plain(changeWords(tried)), wide - 2);
    const figures = cells[r]!.map((cell, c) => cell.padStart(widths[c]!)).join('');
    const first = `  ${words[0]!}`.padEnd(wide) + figures;
    lines.push(tried.mends && !mending.holds ? paint.good(first) : first);
    lines.push(...words.slice(1).map((line) => `  ${line}`));
    lines.push(...wrapped(plain(typedWords(tried.values)), WIDTH - 6).map((line) => `      ${line}`));
  });
  return lines;
}
