import { cautions, plantOf, type SpellAnswer } from '@longnight/core';
import { jsonText } from '../document/json.ts';
import type { SpellShown } from './answers.ts';

/** spell.json: the answer as plain data; its hours are in spell.csv. */
export function spellJson({ ask, answer, alone, years }: SpellShown): string {
  const { site, weather } = answer.year.scenario;
  return jsonText('spell.json', {
    longnight: { format: 1 },
    site: { name: site.name },
    run: {
      year: answer.year.clock.year,
      weather: weather.kind,
      seed: weather.kind === 'normals' ? weather.seed : null,
    },
    asked: ask,
    spell: figuresOf(answer),
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

type Figures = Omit<SpellAnswer, 'year' | 'ledger' | 'state' | 'played_end'>;

function figuresOf({ year: _, ledger: __, state: ___, played_end: ____, ...figures }: SpellAnswer): Figures {
  return figures;
}
