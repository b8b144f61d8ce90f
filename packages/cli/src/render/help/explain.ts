import { FIGURES, type Figure, LEDGER_COLUMNS } from '@longnight/core';
import { BESIDE_COLUMNS, TIME_COLUMNS, tierColumn } from '@longnight/core/ledger';
import { type Key, type KeyRule, partsKeys, refused, scenarioKeys } from '@longnight/core/scenario';
import { nearestFigure } from '@longnight/core/study';
import { type Document, type Section, textsOf } from '../document/document.ts';
import { VOCABULARY } from './vocabulary.ts';

/** One thing that can be explained: a word, a figure of report.json, a column of hours.csv or a key of a file. */
interface Term extends Pick<Figure, 'name' | 'meaning' | 'formula' | 'source'> {
  readonly where: 'word' | 'report.json' | 'hours.csv' | 'scenario' | 'parts file';
  readonly unit: string | null;
  /** Of a key: what may be written, where, and what holds where it is left out. */
  readonly key?: KeyRule;
  /** Of a word: names that it is met under. */
  readonly see?: readonly string[];
}

const KIND_WORDS = {
  start: 'the start of a row: a step, or what --every asks for',
  sum: 'the sum over a row: a step, or what --every asks for',
  state: 'the state at the end of a row',
  mean: 'the mean over a row',
};

type Column = Pick<Figure, 'name' | 'unit' | 'meaning'> & { readonly kind: keyof typeof KIND_WORDS };

/** A term with what is known of it; of most there is neither formula nor source. */
const term = (
  where: Term['where'],
  name: string,
  unit: string | null,
  meaning: string,
  more: Partial<Term> = {},
): Term => ({ where, name, unit, meaning, formula: null, source: null, ...more });

const ofColumn = ({ name, unit, kind, meaning }: Column): Term =>
  term('hours.csv', name, unit, meaning, { formula: KIND_WORDS[kind] });

const ofKey =
  (where: Term['where']) =>
  ({ path, unit, meaning, rule: key }: Key): Term =>
    term(where, path, unit, meaning, { key });

const WORDS = Object.entries(VOCABULARY).map(([name, [meaning, see = []]]) =>
  term('word', name, null, meaning, { see }),
);

const NAMES: readonly Term[] = [
  ...FIGURES.map(
    ({ name, unit, meaning, formula, source }): Term => ({
      ...{ name, unit, meaning, formula, source },
      where: 'report.json',
    }),
  ),
  ...[...TIME_COLUMNS, ...BESIDE_COLUMNS, ...LEDGER_COLUMNS].map(ofColumn),
  ...scenarioKeys().map(ofKey('scenario')),
  ...partsKeys().map(ofKey('parts file')),
];

/** All that can be explained: words first, then names in the order of the files. */
export const TERMS: readonly Term[] = [...WORDS, ...NAMES];

/** `unmet.outages[3].hours` is explained as `unmet.outages.hours` is, `arrays[0].tilt_deg` as `arrays[].tilt_deg`. */
export const withoutPlaces = (name: string): string => name.replace(/\[\d*\]/g, '');

/** A word by itself, in the plural or by its abbreviation, in any case. */
const isWord = ({ name }: Term, asked: string): boolean =>
  [name, `${name}s`, VOCABULARY[name]?.[2]].some((word) => word?.toLowerCase() === asked.toLowerCase());

/**
 * What somebody asks for by name: the word, and what has the whole name, with what lies below it; else all that end with
 * it or begin with it, section by section.
 *
 * @throws InputError with the nearest name if there is none
 */
export function termsNamed(asked: string): readonly Term[] {
  const name = withoutPlaces(asked.trim());
  const tier = /^load_tier_(\d+)_wanted_kWh$/.exec(name);
  if (tier !== null) return [ofColumn(tierColumn(Number(tier[1])))];
  const named = NAMES.map((term) => [withoutPlaces(term.name), term] as const);
  const isWhole = named.some(([whole]) => whole === name);
  const found = named.filter(
    ([whole]) => whole === name || whole.startsWith(`${name}.`) || (!isWhole && whole.endsWith(`.${name}`)),
  );
  const terms = [...WORDS.filter((word) => isWord(word, name)), ...found.map(([, term]) => term)];
  if (terms.length > 0) return terms;
  const names = [...new Set([...named.map(([whole]) => whole), ...WORDS.map((word) => word.name)])];
  const last = (dotted: string): string => dotted.slice(dotted.lastIndexOf('.') + 1);
  // A last word that stands in several sections is a name that explain takes as well.
  const near = nearestFigure(name, names) ?? nearestFigure(last(name), [...new Set(names.map(last))]);
  throw refused('unknown-term', `explain ${asked}`)`there is no word, figure, column or key "${asked}" |
    ${near === undefined ? 'longnight explain lists all there are' : `did you mean "${near}"? longnight explain lists all there are`}
    | a word of the reports, a dotted name of report.json, a column of hours.csv or a key of a scenario`;
}

/** Name, unit, meaning and what else is known of each. */
export const termsDocument = (terms: readonly Term[]): Document =>
  documentOf(
    terms.map((term) => ({
      id: term.name,
      title: `${titleOf(term)}${unitWords(term.unit)}, ${term.where}`,
      blocks: textsOf([
        term.meaning,
        term.formula && `= ${term.formula}`,
        term.source && `Source: ${term.source}`,
        ...(term.see?.length ? [`See ${term.see.join(', ')}`] : []),
        ...(term.key === undefined ? [] : [`Takes ${term.key.takes}`, leftOut(term.key)]),
      ]),
    })),
  );

/** Every name with what it means. */
export const allTermsDocument = (): Document =>
  documentOf(
    [...new Set(TERMS.map(({ where }) => where))].map((place) => ({
      id: place,
      title: place === 'word' ? 'words' : place,
      blocks: [
        {
          kind: 'list',
          items: TERMS.filter(({ where }) => where === place).map((t) => `${titleOf(t)}: ${t.meaning}`),
        },
      ],
    })),
  );

const documentOf = (sections: readonly Section[]): Document => ({ title: '', about: [], sections, foot: '' });

/** The name of a term; of a key that only some kinds have, with those kinds. */
export const titleOf = ({ name, key }: Term): string =>
  key === undefined || key.kinds.length === 0 ? name : `${name} (${key.kinds.join(', ')})`;

function leftOut({ required, default: value, why, without }: KeyRule): string {
  if (value !== undefined)
    return `Default ${typeof value === 'string' ? value : JSON.stringify(value)}: ${why}`;
  if (required) return 'Required';
  return without === undefined ? 'May be left out' : `Left out: ${without}`;
}

function unitWords(unit: string | null): string {
  if (unit === null || ['1', 'text', 'time', 'flag', 'reason'].includes(unit)) return '';
  const said = unit === 'C' ? '°C' : unit.replace('m2', 'm²').replace('money', 'money of the scenario');
  return ` (${said})`;
}
