import { cautions, plantOf } from '@longnight/core';
import { counted } from '../document/figures.ts';
import { escaped, list, paragraph, type Section, table } from '../document/html.ts';
import { pageDocument } from '../document/page.ts';
import { placeWords, weatherWords } from '../document/words.ts';
import { stretched } from '../drawing/stretched.ts';
import { dayTable, hourPanels, spellSentence } from '../report/page-week.ts';
import { askedText, type SpellShown, spellAnswers, spellCommand, YEAR_TITLES, yearCells } from './answers.ts';

const figures = true as const;

/** What a page says of the files that it was made from. */
export interface ReadFrom {
  readonly version: string;
  readonly read: readonly { readonly name: string; readonly sha256: string }[];
}

/** spell.html: the answers, then the days hour by hour. */
export function spellPage(shown: SpellShown, from: ReadFrom): string {
  const { answer, years } = shown;
  const { scenario } = answer.year;
  const { site, weather } = scenario;
  const seed = weather.kind === 'normals' ? weather.seed : null;
  return pageDocument({
    title: `${site.name}: ${answer.days === 1 ? 'a day' : `${answer.days} days`} from ${answer.start}`,
    about: [
      `${placeWords(site)}, ${site.time_zone}. Weather: ${weatherWords({ weather: weather.kind, seed })}.`,
      askedText(shown),
    ],
    sections: [
      answersSection(shown),
      ...(years === null ? [] : [yearsSection(shown)]),
      {
        id: 'hours',
        title: 'Hour by hour',
        sentence: spellSentence(answer),
        body: [
          ...hourPanels('panels', stretched(answer.ledger, answer), answer),
          dayTable(answer, answer.generator),
        ],
      },
      {
        id: 'cautions',
        title: 'Cautions',
        sentence: 'The days above are a model; whoever wires a plant needs these as well.',
        body: [list(cautions(plantOf(scenario)))],
      },
      againSection(
        spellCommand(shown),
        from,
        'spell.csv holds every hour of these days, spell.json every figure and assumption.',
      ),
    ],
    foot: `Made by Longnight ${from.version} from ${shown.scenarioName}.`,
  });
}

function answersSection(shown: SpellShown): Section {
  const [[title, first], ...others] = spellAnswers(shown) as [
    readonly [string, string],
    ...(readonly [string, string])[],
  ];
  return {
    id: 'answers',
    title,
    sentence: first,
    tone: shown.answer.first_unmet === null ? 'verdict' : 'verdict fails',
    body: others.map(([asked, told]) => `<h3>${escaped(asked)}</h3>\n${paragraph(told)}`),
  };
}

function yearsSection({ years }: SpellShown): Section {
  const all = years!.years;
  const unridden = all.filter(({ answer }) => answer.first_unmet !== null).length;
  return {
    id: 'years',
    title: 'Year by year',
    sentence:
      unridden === 0
        ? `Its darkest days are ridden out in all of ${counted(all.length, 'year')}; hardest is ${all[years!.worst]!.year}.`
        : `Its darkest days are not ridden out in ${unridden} of ${counted(all.length, 'year')}; hardest is ${all[years!.worst]!.year}.`,
    body: [
      table({
        caption: 'The darkest days of each year',
        columns: [{ title: 'year' }, { title: 'from' }, ...YEAR_TITLES.map((title) => ({ title, figures }))],
        rows: all.map(yearCells),
      }),
      ...(years!.left_out.length === 0
        ? []
        : [list(years!.left_out.map(({ year, why }) => `${year} is left out: ${why}.`))]),
    ],
  };
}

/** How a page is made again; `beside` says what lies beside it. */
export function againSection(command: string, { version, read }: ReadFrom, beside: string): Section {
  return {
    id: 'again',
    title: 'How to make this again',
    sentence: `Longnight ${version} makes the same bytes from the same ${read.length === 1 ? 'file' : `${read.length} files`}, on any machine.`,
    body: [
      `<pre>${escaped(command)}</pre>`,
      table({
        caption: 'What was read, with its SHA-256',
        columns: [{ title: 'file' }, { title: 'SHA-256', code: true }],
        rows: read.map(({ name, sha256 }) => [name, sha256]),
      }),
      paragraph(beside),
    ],
  };
}
