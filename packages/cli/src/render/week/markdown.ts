import { cautions, plantOf } from '@longnight/core';
import { bullets, escaped, table } from '../document/markdown-text.ts';
import { weatherWords } from '../document/words.ts';
import {
  askedText,
  dayCells,
  dayTitles,
  type SpellShown,
  spellAnswers,
  spellCommand,
  YEAR_TITLES,
  yearCells,
} from './answers.ts';

const figures = true as const;

/** spell.md: the answers, the days, how to make it again. CommonMark with pipe tables. */
export function spellMarkdown(
  shown: SpellShown,
  read: readonly { readonly name: string; readonly sha256: string }[],
): string {
  const { answer, years } = shown;
  const { site, weather } = answer.year.scenario;
  const seed = weather.kind === 'normals' ? weather.seed : null;
  const sections: [string, string][] = [
    [
      'Answers',
      spellAnswers(shown)
        .map(([asked, told]) => `**${asked}** ${escaped(told)}`)
        .join('\n\n'),
    ],
    ...(years === null ? [] : [['Year by year', yearTable(shown)] as [string, string]]),
    ['Day by day', dayTable(shown)],
    ['Cautions', bullets(cautions(plantOf(answer.year.scenario)).map(escaped))],
    ['How to make this again', again(shown, read)],
  ];
  const head = [
    `# ${escaped(site.name)}: ${answer.days === 1 ? 'a day' : `${answer.days} days`} from ${answer.start}`,
    '',
    `${escaped(askedText(shown))} Weather: ${weatherWords({ weather: weather.kind, seed })}.`,
    '',
  ];
  return `${[...head, ...sections.flatMap(([title, body]) => [`## ${title}`, '', body, ''])].join('\n').trimEnd()}\n`;
}

function dayTable({ answer }: SpellShown): string {
  return table(
    [{ title: 'day' }, ...dayTitles(true).map((title) => ({ title, figures }))],
    answer.by_day.map((day) => dayCells(day, true)),
  );
}

function yearTable({ years }: SpellShown): string {
  const out = years!.left_out.map(({ year, why }) => escaped(`${year} is left out: ${why}.`));
  return [
    table(
      [{ title: 'year' }, { title: 'from' }, ...YEAR_TITLES.map((title) => ({ title, figures }))],
      years!.years.map(yearCells),
    ),
    ...(out.length === 0 ? [] : [bullets(out)]),
  ].join('\n\n');
}

function again(shown: SpellShown, read: readonly { name: string; sha256: string }[]): string {
  return [
    `    ${spellCommand(shown)}`,
    'The same files give the same bytes. spell.csv holds every hour of these days, spell.json every figure and assumption. Read were:',
    table(
      [{ title: 'file' }, { title: 'SHA-256' }],
      read.map((file) => [escaped(file.name), file.sha256]),
    ),
  ].join('\n\n');
}
