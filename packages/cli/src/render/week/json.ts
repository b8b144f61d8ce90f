import { cautions, plantOf, type WeekAnswer } from '@longnight/core';
import { headJson, jsonText } from '../document/json.ts';
import type { WeekShown } from './answers.ts';

/** week.json: the answer as plain data; its hours are in week.csv. */
export function weekJson({ ask, answer, alone, years }: WeekShown): string {
  const { scenario, clock, notices, assumptions } = answer.year;
  const head = headJson(scenario);
  return jsonText('week.json', {
    ...head,
    run: { ...head.run, year: clock.year },
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
    cautions: cautions(plantOf(scenario)),
    notices,
    assumptions,
  });
}

type Figures = Omit<WeekAnswer, 'year' | 'ledger' | 'state' | 'played_end'>;

function figuresOf({ year: _, ledger: __, state: ___, played_end: ____, ...figures }: WeekAnswer): Figures {
  return figures;
}
