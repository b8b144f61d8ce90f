import { cautions, dangersOf, plantOf } from '@longnight/core';
import { againSection, type ReadFrom } from '../document/again.ts';
import { type Document, figureColumns, type Section } from '../document/document.ts';
import { counted, fixed, percent, socPercent } from '../document/figures.ts';
import { placeWords, weatherWords } from '../document/words.ts';
import { cautionSection, dangersSection } from '../report/dangers.ts';
import { daysSentence, hourBlocks } from '../report/week.ts';
import { askedText, isRidden, type WeekShown, weekAnswers, weekCommand } from './answers.ts';
import { daysTable } from './days.ts';

/** What `longnight week` says: the answers, the years they are the worst of, the days. */
export function weekDocument(shown: WeekShown, from: ReadFrom): Document {
  const { answer, years } = shown;
  const { scenario } = answer.year;
  const { site, weather } = scenario;
  const plant = plantOf(scenario);
  const seed = weather.kind === 'monthly_means' ? weather.seed : null;
  return {
    title: `${site.name}: ${answer.days === 1 ? 'a day' : `${answer.days} days`} from ${answer.start}`,
    dangers: dangersSection(dangersOf(answer.year, plant)),
    about: [
      `${placeWords(site)}, ${site.time_zone}. Weather: ${weatherWords({ weather: weather.kind, seed })}.`,
      askedText(shown),
    ],
    sections: [
      answersSection(shown),
      ...(years === null ? [] : [yearsSection(shown)]),
      {
        id: 'hours',
        title: 'Day by day',
        blocks: [
          { kind: 'text', text: daysSentence(answer), on: ['page'] },
          ...hourBlocks('panels', answer.ledger, answer),
          daysTable(answer.by_day, answer),
        ],
      },
      ...cautionSection(cautions(plant)),
      againSection(
        weekCommand(shown),
        from,
        'week.csv holds every hour of these days, week.json every figure and assumption.',
      ),
    ],
    foot: `Made by Longnight ${from.version} from ${shown.scenarioName}.`,
  };
}

function answersSection(shown: WeekShown): Section {
  const [[title, sentence], ...answers] = weekAnswers(shown) as [
    readonly [string, string],
    ...(readonly [string, string])[],
  ];
  return {
    id: 'answers',
    title,
    sentence,
    tone: isRidden(shown.answer) ? 'good' : 'bad',
    blocks: [{ kind: 'answers', answers }],
  };
}

function yearsSection({ years }: WeekShown): Section {
  const all = years!.years;
  const unridden = all.filter(({ answer }) => !isRidden(answer)).length;
  const ridden = unridden === 0 ? 'ridden out in all' : `not ridden out in ${unridden}`;
  return {
    id: 'years',
    title: 'Year by year',
    sentence: `Its leanest days are ${ridden} of ${counted(all.length, 'year')}; hardest is ${all[years!.worst]!.year}, whose days are below.`,
    blocks: [
      {
        kind: 'table',
        caption: 'The leanest days of each year',
        columns: [
          { title: 'year' },
          { title: 'from' },
          ...figureColumns(
            ['sun to load'],
            ['unmet', 'kWh'],
            ['for', 'hours'],
            ['lowest SoC', '%'],
            ['rides', 'days'],
            ['modules', 'needed'],
          ),
        ],
        rows: all.map(({ year, answer }) => [
          `${year}`,
          answer.start,
          percent(answer.sun_to_load),
          fixed(answer.unmet_kWh, 2),
          fixed(answer.unmet_hours, Number.isInteger(answer.unmet_hours) ? 0 : 1),
          socPercent(answer.lowest_soc),
          answer.rides_days === null ? 'all' : fixed(answer.rides_days, 1),
          answer.modules_to_ride === null ? 'none' : fixed(answer.modules_to_ride, 0),
        ]),
      },
      ...(years!.left_out.length === 0
        ? []
        : [
            {
              kind: 'list' as const,
              items: years!.left_out.map(({ year, why }) => `${year} is left out: ${why}.`),
            },
          ]),
    ],
  };
}
