import { cautions, plantOf } from '@longnight/core';
import type { WeekYears } from '@longnight/core/study';
import { againSection, type ReadFrom } from '../document/again.ts';
import {
  type Answer,
  type Block,
  type Document,
  figures,
  present,
  type Section,
  tableOf,
  textsOf,
} from '../document/document.ts';
import { counted, fixed, hourCount, percent, socPercent } from '../document/figures.ts';
import { placeWords, seedOf, weatherWords } from '../document/words.ts';
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
  return {
    title: `${site.name}: ${answer.days === 1 ? 'a day' : `${answer.days} days`} from ${answer.start}`,
    dangers: dangersSection((years ?? answer).dangers),
    about: [
      `${placeWords(site)}, ${site.time_zone}. Weather: ${weatherWords({ weather: weather.kind, seed: seedOf(weather) })}.`,
      askedText(shown),
    ],
    sections: present([
      answersSection(shown),
      years && yearsSection(years),
      {
        id: 'hours',
        title: 'Day by day',
        blocks: [
          ...textsOf([daysSentence(answer)], ['page']),
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
    ]),
    foot: `Made by Longnight ${from.version} from ${shown.scenarioName}.`,
  };
}

function answersSection(shown: WeekShown): Section {
  const [[title, sentence], ...answers] = weekAnswers(shown) as readonly [Answer, ...Answer[]];
  const tone = isRidden(shown.answer) ? 'good' : 'bad';
  return { id: 'answers', title, sentence, tone, blocks: [{ kind: 'answers', answers }] };
}

function yearsSection({ years: all, worst, left_out }: WeekYears): Section {
  const unridden = all.filter(({ answer }) => !isRidden(answer)).length;
  const ridden = unridden === 0 ? 'ridden out in all' : `not ridden out in ${unridden}`;
  const items = left_out.map(({ year, why }) => `${year} is left out: ${why}.`);
  return {
    id: 'years',
    title: 'Year by year',
    sentence: `Its leanest days are ${ridden} of ${counted(all.length, 'year')}; hardest is ${all[worst]!.year}, whose days are below.`,
    blocks: present<Block>([
      tableOf('The leanest days of each year', all, [
        ['year', ({ year }) => `${year}`],
        ['from', ({ answer }) => answer.start],
        [figures('sun to load'), ({ answer }) => percent(answer.sun_to_load)],
        [figures('unmet', 'kWh'), ({ answer }) => fixed(answer.unmet_kWh, 2)],
        [figures('for', 'hours'), ({ answer }) => hourCount(answer.unmet_hours)],
        [figures('lowest SoC', '%'), ({ answer }) => socPercent(answer.lowest_soc)],
        [
          figures('rides', 'days'),
          ({ answer: { rides_days: days } }) => (days === null ? 'all' : fixed(days, 1)),
        ],
        [
          figures('modules', 'needed'),
          ({ answer: { modules_to_ride: count } }) => (count === null ? 'none' : fixed(count, 0)),
        ],
      ]),
      items.length > 0 && { kind: 'list', items },
    ]),
  };
}
