/** What core exports says what it is: docstrings are read from the sources, which are where they stand. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { hovered, REPORT } from '../../packages/core/docs/hover.ts';

const SRC = resolve(import.meta.dirname, '../../packages/core/src');

interface Export {
  /** File and name, for messages. */
  readonly at: string;
  readonly kind: 'function' | 'const' | 'class' | 'interface' | 'type';
  /** The comment right above it, or empty. */
  readonly doc: string;
  /** From its first line to the next declaration at the left margin. */
  readonly text: string;
}

const DECLARATION = /^export (?:async )?(function\*?|const|class|interface|type) (\w+)/gm;

/** Every declaration that a file exports, with the comment above it. */
function declared(file: string): Map<string, Export> {
  const text = readFileSync(file, 'utf8').replaceAll('\r\n', '\n');
  const found = new Map<string, Export>();
  for (const match of text.matchAll(DECLARATION)) {
    const before = text.slice(0, match.index);
    const doc = before.endsWith('*/\n') ? before.slice(before.lastIndexOf('/**')) : '';
    const rest = text.slice(match.index);
    const end = rest.slice(1).search(/^(?:export |function |const |class |interface |type |\/\*\*)/m);
    found.set(match[2]!, {
      at: `${file.slice(SRC.length + 1)} ${match[2]}`,
      kind: match[1]!.replace('*', '') as Export['kind'],
      doc,
      text: end < 0 ? rest : rest.slice(0, end + 1),
    });
  }
  return found;
}

/** Every export of a file, looked up where it is declared. */
function exportsOf(file: string): Map<string, Export> {
  const found = declared(file);
  const text = readFileSync(file, 'utf8');
  for (const [, names, from] of text.matchAll(/^export (?:type )?(\*|\{[\s\S]*?\}) from '(\..+?)';/gm)) {
    const source = exportsOf(resolve(dirname(file), from!));
    const wanted = names === '*' ? source.keys() : names!.match(/\w+/g)!.filter((word) => word !== 'type');
    for (const name of wanted) {
      const one = source.get(name);
      if (one === undefined) throw new Error(`${name} is not declared in ${from}`);
      found.set(name, one);
    }
  }
  return found;
}

const root = exportsOf(join(SRC, 'index.ts'));
const subpaths = readdirSync(join(SRC, 'entries')).map((file) => exportsOf(join(SRC, 'entries', file)));
const exports = [
  ...new Map(
    [root, ...subpaths].flatMap((names) => [...names.values()].map((one) => [one.at, one])),
  ).values(),
];
const functions = exports.filter(
  ({ kind, text }) => kind === 'function' || (kind === 'const' && /^[^=]*=\s*(?:<[^(]*>)?\(/.test(text)),
);

/** Parameters that are numbers or columns of them, by name. */
function numericParameters({ text }: Export): string[] {
  const list = text.slice(text.indexOf('(') + 1, text.search(/\)(?::|\s*=>)/));
  return [...list.matchAll(/(\w+)\??: (?:number|Float64Array|readonly number\[\])/g)].map(
    ([, name]) => name!,
  );
}

/** `tilt_deg`, `capacity_kWh`, `floor_soc`: the unit is in the name. Counts and places in a list have none. */
const carriesUnit = (name: string): boolean =>
  /_[A-Za-z0-9_]+$/.test(name) || ['step', 'steps', 'index', 'year', 'years', 'month', 'soc'].includes(name);

/** A function without its comments, and without moduli: `2 ** 32` is no physics. */
const formulaOf = ({ text }: Export): string =>
  text.replace(/\/\*[\s\S]*?\*\/|\/\/.*/g, '').replace(/\b(?:2|10) \*\* /g, '');

/**
 * Properties of a type without a comment above or beside them. Pairs that share a line are told by the comment above it;
 * keys of a scenario have theirs from its schema.
 */
function bareProperties({ at, text }: Export): string[] {
  const lines = text.split('\n');
  return lines.flatMap((line, k) => {
    const [, comment, name] = /^ +(\/\*\*.*\*\/ )?(?:readonly )?(\w+)\??: /.exec(line) ?? [];
    const isTold = comment !== undefined || (lines[k - 1] ?? '').trimEnd().endsWith('*/');
    return name === undefined || isTold ? [] : [`${at}.${name}`];
  });
}

describe('what core exports', () => {
  it('is found, all of it', () => {
    expect(exports.length).toBeGreaterThan(150);
    expect(functions.length).toBeGreaterThan(50);
  });

  it('has a docstring each', () => {
    expect(exports.filter(({ doc }) => doc.length < 15).map(({ at }) => at)).toEqual([]);
  });

  it('has a hover text on every property of what the root exports', () => {
    const types = [...root.values()].filter(({ kind }) => kind === 'interface' || kind === 'type');
    expect(types.length).toBeGreaterThan(70);
    expect(types.flatMap(bareProperties)).toEqual([]);
  });

  it('says of the figures of a report what the table of figures says', () => {
    const text = readFileSync(REPORT, 'utf8').replaceAll('\r\n', '\n');
    expect(hovered(text)).toBe(text);
    expect(text.match(/\/\*\* .* \*\/ readonly/g)!.length).toBeGreaterThan(150);
  });

  it('says what it throws', () => {
    const silent = functions.filter(({ text, doc }) => /\bthrow /.test(text) && !doc.includes('@throws'));
    expect(silent.map(({ at }) => at)).toEqual([]);
  });

  it('has units in the names of its numbers, or says in words what they are', () => {
    const unsaid = functions.flatMap((one) =>
      numericParameters(one)
        .filter((name) => !carriesUnit(name) && !new RegExp(`@param ${name}\\b`).test(one.doc))
        .map((name) => `${one.at}: ${name}`),
    );
    expect(unsaid).toEqual([]);
  });

  it('names the source of a formula', () => {
    const FORMULA = /\*\*|Math\.(?:exp|log|log10|pow|sqrt|sin|cos|tan|atan2|acos|asin)\(/;
    const unsourced = functions.filter(
      (one) =>
        FORMULA.test(formulaOf(one)) &&
        !/source:|common\s+(?:\*\s+)?practice,\s+(?:\*\s+)?no\s+(?:\*\s+)?source/i.test(one.doc),
    );
    expect(unsourced.map(({ at }) => at)).toEqual([]);
  });
});
