import { cautions, plantOf, type WeekAnswer } from '@longnight/core';
import { jsonText } from '../document/json.ts';
import type { WeekShown } from './answers.ts';

/** week.json: the answer as plain data; its hours are in week.csv. */
export function weekJson({ ask, answer, alone, years }: WeekShown): string {
  const { site, weather } = answer.year.scenario;
  return jsonText('week.json', {
    longnight: { format: 1 },
    site: { name: site.name },
    run: {
      year: answer.year.clock.year,
      weather: weather.kind,
      seed: weather.kind === 'monthly_means' ? weather.seed : null,
    },
    asked: ask,
    week: figuresOf(answer),
    without_generator: alone === null ? null : figuresOf(alone),
    every_year:
      years === null
        ? null
        : {
            years: years.years.map((year) => ({ year: year.year, ...figuresOf(year.answer) })),
            left_out: years.left_out,
            hardest: years.years[years.worst]!.year,
          },
    cautions: cautions(plantOf(answer.year.scenario)),
    notices: answer.year.notices,
    assumptions: answer.year.assumptions,
  });
}

type Figures = Omit<WeekAnswer, 'year' | 'ledger' | 'state' | 'played_end'>;

function figuresOf({ year: _, ledger: __, state: ___, played_end: ____, ...figures }: WeekAnswer): Figures {
  return figures;
}
