import {
  BESIDE_COLUMNS,
  FIGURES,
  type Figure,
  LEDGER_COLUMNS,
  nearestFigure,
  refusal,
  TIME_COLUMNS,
  tierColumn,
} from '@longnight/core';
import type { Paint } from './paint.ts';
import { wrapped } from './plain-text.ts';

const WIDTH = 80;

/** One thing that can be explained: a figure of report.json or a column of hours.csv. */
export interface Term extends Pick<Figure, 'name' | 'unit' | 'meaning' | 'formula' | 'source'> {
  readonly where: 'report.json' | 'hours.csv';
}

const KIND_WORDS = {
  start: 'the start of a row: a step, or what --every asks for',
  sum: 'the sum over a row: a step, or what --every asks for',
  state: 'the state at the end of a row',
  mean: 'the mean over a row',
};

type Column = Pick<Figure, 'name' | 'unit' | 'meaning'> & { readonly kind: keyof typeof KIND_WORDS };

const ofColumn = ({ name, unit, kind, meaning }: Column): Term => ({
  where: 'hours.csv',
  name,
  unit,
  meaning,
  formula: KIND_WORDS[kind],
  source: null,
});

/** All that can be explained, in the order of the files. */
export const TERMS: readonly Term[] = [
  ...FIGURES.map(
    ({ name, unit, meaning, formula, source }): Term => ({
      name,
      unit,
      meaning,
      formula,
      source,
      where: 'report.json',
    }),
  ),
  ...TIME_COLUMNS.map(ofColumn),
  ...BESIDE_COLUMNS.map(ofColumn),
  ...LEDGER_COLUMNS.map(ofColumn),
];

/** `unmet.spells[3].hours` is explained as `unmet.spells.hours` is. */
const withoutPlaces = (name: string): string => name.replace(/\[\d*\]/g, '');

/**
 * What somebody asks for by name: one term by its whole name; else all that end with it or begin with it, section by
 * section.
 *
 * @throws InputError with the nearest name if there is none
 */
export function termsNamed(asked: string): readonly Term[] {
  const name = withoutPlaces(asked.trim());
  const tier = /^load_tier_(\d+)_wanted_kWh$/.exec(name);
  if (tier !== null) return [ofColumn(tierColumn(Number(tier[1])))];
  const whole = TERMS.filter((term) => term.name === name);
  if (whole.length > 0) return whole;
  const parts = TERMS.filter((term) => term.name.endsWith(`.${name}`) || term.name.startsWith(`${name}.`));
  if (parts.length > 0) return parts;
  const near = nearestFigure(
    name,
    TERMS.map((term) => term.name),
  );
  throw refusal(
    'unknown-term',
    `explain ${asked}`,
    `there is no figure or column "${asked}"`,
    near === undefined
      ? 'longnight explain lists all there are'
      : `did you mean "${near}"? longnight explain lists all there are`,
    'a dotted name of report.json or a column of hours.csv',
  );
}

/** Name, unit, meaning, formula and source, in 80 columns. */
export const explained = (terms: readonly Term[], paint: Paint): string =>
  terms
    .map(({ where, name, unit, meaning, formula, source }) =>
      [
        `${paint.heading(name)}${unitWords(unit)}, ${where}`,
        ...indented(meaning),
        ...(formula === null ? [] : indented(`= ${formula}`)),
        ...(source === null ? [] : indented(`Source: ${source}`)),
      ].join('\n'),
    )
    .join('\n\n')
    .concat('\n');

const indented = (text: string): string[] => wrapped(text, WIDTH - 2).map((line) => `  ${line}`);

function unitWords(unit: string): string {
  switch (unit) {
    case '1':
    case 'text':
    case 'time':
    case 'flag':
      return '';
    case 'C':
      return ' (°C)';
    default:
      return ` (${unit.replace('m2', 'm²').replace('money', 'money of the scenario')})`;
  }
}

/** Every name with what it means, on as many lines as that takes. */
export function allTerms(paint: Paint): string {
  const indent = 4;
  const lines: string[] = [];
  let where = '';
  for (const term of TERMS) {
    if (term.where !== where) {
      if (where !== '') lines.push('');
      lines.push(paint.heading(term.where));
      where = term.where;
    }
    lines.push(`  ${term.name}`);
    for (const line of wrapped(term.meaning, WIDTH - indent)) lines.push(' '.repeat(indent) + line);
  }
  return `${lines.join('\n')}\n`;
}
