import { FIGURES, type Figure, LEDGER_COLUMNS } from '@longnight/core';
import { BESIDE_COLUMNS, TIME_COLUMNS, tierColumn } from '@longnight/core/ledger';
import { type Key, type KeyRule, partsKeys, refusal, scenarioKeys } from '@longnight/core/scenario';
import { nearestFigure } from '@longnight/core/study';
import type { Paint } from '../document/paint.ts';
import { wrapped } from '../document/plain-text.ts';

const WIDTH = 80;

/** One thing that can be explained: a figure of report.json, a column of hours.csv or a key of a file. */
interface Term extends Pick<Figure, 'name' | 'meaning' | 'formula' | 'source'> {
  readonly where: 'report.json' | 'hours.csv' | 'scenario' | 'parts file';
  readonly unit: string | null;
  /** Of a key: what may be written, where, and what holds where it is left out. */
  readonly key?: KeyRule;
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

const ofKey =
  (where: Term['where']) =>
  ({ path: name, unit, meaning, rule: key }: Key): Term => ({
    where,
    name,
    unit,
    meaning,
    formula: null,
    source: null,
    key,
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
  ...scenarioKeys().map(ofKey('scenario')),
  ...partsKeys().map(ofKey('parts file')),
];

/** `unmet.outages[3].hours` is explained as `unmet.outages.hours` is, `arrays[0].tilt_deg` as `arrays[].tilt_deg`. */
export const withoutPlaces = (name: string): string => name.replace(/\[\d*\]/g, '');

/**
 * What somebody asks for by name: what has the whole name, with what lies below it; else all that end with it or begin
 * with it, section by section.
 *
 * @throws InputError with the nearest name if there is none
 */
export function termsNamed(asked: string): readonly Term[] {
  const name = withoutPlaces(asked.trim());
  const tier = /^load_tier_(\d+)_wanted_kWh$/.exec(name);
  if (tier !== null) return [ofColumn(tierColumn(Number(tier[1])))];
  const named = TERMS.map((term) => [withoutPlaces(term.name), term] as const);
  const isWhole = named.some(([whole]) => whole === name);
  const found = named.filter(
    ([whole]) => whole === name || whole.startsWith(`${name}.`) || (!isWhole && whole.endsWith(`.${name}`)),
  );
  if (found.length > 0) return found.map(([, term]) => term);
  const names = [...new Set(named.map(([whole]) => whole))];
  const last = (dotted: string): string => dotted.slice(dotted.lastIndexOf('.') + 1);
  // A last word that stands in several sections is a name that explain takes as well.
  const near = nearestFigure(name, names) ?? nearestFigure(last(name), [...new Set(names.map(last))]);
  throw refusal(
    'unknown-term',
    `explain ${asked}`,
    `there is no figure, column or key "${asked}"`,
    near === undefined
      ? 'longnight explain lists all there are'
      : `did you mean "${near}"? longnight explain lists all there are`,
    'a dotted name of report.json, a column of hours.csv or a key of a scenario',
  );
}

/** Name, unit, meaning and what else is known of each, in 80 columns. */
export const explained = (terms: readonly Term[], paint: Paint): string =>
  terms
    .map((term) =>
      [
        `${paint.heading(titleOf(term))}${unitWords(term.unit)}, ${term.where}`,
        ...indented(term.meaning),
        ...(term.formula === null ? [] : indented(`= ${term.formula}`)),
        ...(term.source === null ? [] : indented(`Source: ${term.source}`)),
        ...(term.key === undefined ? [] : keyLines(term.key)),
      ].join('\n'),
    )
    .join('\n\n')
    .concat('\n');

/** The name of a term; of a key that only some kinds have, with those kinds. */
export const titleOf = ({ name, key }: Term): string =>
  key === undefined || key.kinds.length === 0 ? name : `${name} (${key.kinds.join(', ')})`;

function keyLines({ takes, required, default: value, why, without }: KeyRule): string[] {
  const leftOut =
    value !== undefined
      ? `Default ${typeof value === 'string' ? value : JSON.stringify(value)}: ${why}`
      : required
        ? 'Required'
        : without === undefined
          ? 'May be left out'
          : `Left out: ${without}`;
  return [...indented(`Takes ${takes}`), ...indented(leftOut)];
}

const indented = (text: string): string[] => wrapped(text, WIDTH - 2).map((line) => `  ${line}`);

function unitWords(unit: string | null): string {
  switch (unit) {
    case null:
    case '1':
    case 'text':
    case 'time':
    case 'flag':
    case 'reason':
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
    lines.push(...indented(titleOf(term)));
    for (const line of wrapped(term.meaning, WIDTH - indent)) lines.push(' '.repeat(indent) + line);
  }
  return `${lines.join('\n')}\n`;
}
