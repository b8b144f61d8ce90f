import { cautions, plantOf } from '@longnight/core';
import { fixed, percent, socPercent } from './figures.ts';
import { bullets, escaped, table } from './markdown-text.ts';
import { askedText, type SpellShown, spellAnswers, spellCommand } from './spell-answers.ts';
import { weatherWords } from './words.ts';

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
  const titles = [
    'wanted, kWh',
    'sun offered, kWh',
    'generator, kWh',
    'unserved, kWh',
    'lowest SoC, %',
    'SoC at midnight, %',
  ];
  return table(
    [{ title: 'day' }, ...titles.map((title) => ({ title, figures }))],
    answer.by_day.map((day) => [
      day.date,
      fixed(day.wanted_kWh, 2),
      fixed(day.available_kWh, 2),
      fixed(day.generator_kWh, 2),
      fixed(day.unmet_kWh, 2),
      socPercent(day.lowest_soc),
      socPercent(day.end_soc),
    ]),
  );
}

function yearTable({ years }: SpellShown): string {
  const titles = ['sun to load', 'unserved, kWh', 'hours', 'lowest SoC, %', 'rides, days', 'modules to ride'];
  const rows = years!.years.map(({ year, answer }) => [
    `${year}`,
    answer.start,
    percent(answer.sun_to_load),
    fixed(answer.unmet_kWh, 2),
    fixed(answer.unmet_hours, 1),
    socPercent(answer.lowest_soc),
    answer.rides_days === null ? 'all' : fixed(answer.rides_days, 1),
    answer.modules_to_ride === null ? 'none' : fixed(answer.modules_to_ride, 0),
  ]);
  const out = years!.left_out.map(({ year, why }) => escaped(`${year} is left out: ${why}.`));
  return [
    table([{ title: 'year' }, { title: 'from' }, ...titles.map((title) => ({ title, figures }))], rows),
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
