/** Folders import one way only: the order of the data's way through the house. Types count as imports too. */
import { readdirSync, readFileSync } from 'node:fs';
import { isBuiltin } from 'node:module';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const SRC = resolve(import.meta.dirname, '../../packages/core/src');

/** A file may import from its own folder and from folders before it. `year.ts` stands as a folder of its own. */
const ORDER = [
  'basis',
  'clock',
  'scenario',
  'series',
  'sun',
  'place',
  'sky',
  'array',
  'loads',
  'others',
  'year.ts',
  'plant',
  'ledger',
  'wear',
  'wiring',
  'hours',
  'money',
  'findings',
  'study',
  'entries',
  'index.ts',
];

const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' }).filter((f) => f.endsWith('.ts'));
const room = (file: string): string => file.split(/[\\/]/)[0]!;

/** Files of core by the files of core that they import. */
const imported = new Map(
  files.map((file) => [
    file,
    [...readFileSync(join(SRC, file), 'utf8').matchAll(/(?:from |import\(?)'(\.[^']+)'/g)].map((match) =>
      relative(SRC, resolve(SRC, dirname(file), match[1]!)),
    ),
  ]),
);

/** One way round, if there is any: a depth-first walk that meets a node it still stands on. */
function circleIn(graph: ReadonlyMap<string, readonly string[]>): string | null {
  const done = new Set<string>();
  const walk = (node: string, path: readonly string[]): string | null => {
    if (path.includes(node)) return [...path.slice(path.indexOf(node)), node].join(' -> ');
    if (done.has(node)) return null;
    for (const next of graph.get(node) ?? []) {
      const circle = walk(next, [...path, node]);
      if (circle !== null) return circle;
    }
    done.add(node);
    return null;
  };
  for (const node of graph.keys()) {
    const circle = walk(node, []);
    if (circle !== null) return circle;
  }
  return null;
}

const foldersOf = (file: string): readonly string[] => file.split(/[\\/]/).slice(0, -1);

/**
 * Folders as they import each other, where their ways part: a folder and what lies in it are one place, its sub-folders
 * are separate among themselves.
 */
function placesOf(imports: typeof imported): Map<string, string[]> {
  const graph = new Map<string, string[]>();
  for (const [file, targets] of imports) {
    const from = foldersOf(file);
    for (const target of targets) {
      const to = foldersOf(target);
      const parting = from.findIndex((name, k) => name !== to[k]);
      // One lies within the other, or both are in one.
      if (parting < 0 || parting >= to.length) continue;
      const place = (path: readonly string[]): string => path.slice(0, parting + 1).join('/');
      graph.set(place(from), [...(graph.get(place(from)) ?? []), place(to)]);
    }
  }
  return graph;
}

describe('import directions of core', () => {
  it('every folder has its place in the order', () => {
    expect(files.length).toBeGreaterThan(30);
    expect([...new Set(files.map(room))].filter((r) => !ORDER.includes(r))).toEqual([]);
  });

  it('nothing imports from a later folder', () => {
    const wrong: string[] = [];
    for (const [file, targets] of imported) {
      for (const target of targets)
        if (ORDER.indexOf(room(target)) > ORDER.indexOf(room(file))) wrong.push(`${file} -> ${target}`);
    }
    expect(wrong).toEqual([]);
  });

  it('no files import in a circle, and no folders', () => {
    expect([...imported.values()].flat().filter((target) => !imported.has(target))).toEqual([]);
    expect(circleIn(imported)).toBeNull();
    expect(circleIn(placesOf(imported))).toBeNull();
  });

  it('a circle is found, of files and of folders', () => {
    const circle = new Map([
      ['a.ts', ['b/c.ts']],
      ['b/c.ts', ['b/d/e.ts']],
      ['b/d/e.ts', ['b/f/g.ts']],
      ['b/f/g.ts', ['b/d/h.ts']],
      ['b/d/h.ts', []],
    ]);
    expect(circleIn(circle)).toBeNull();
    expect(circleIn(placesOf(circle))).toBe('b/d -> b/f -> b/d');
    circle.set('b/d/h.ts', ['b/c.ts']);
    expect(circleIn(circle)).toBe('b/c.ts -> b/d/e.ts -> b/f/g.ts -> b/d/h.ts -> b/c.ts');
  });

  it('nothing comes from Node, and from elsewhere only what package.json names', () => {
    const { dependencies } = JSON.parse(readFileSync(join(SRC, '../package.json'), 'utf8'));
    const wrong: string[] = [];
    for (const file of files) {
      const text = readFileSync(join(SRC, file), 'utf8');
      for (const [, name] of text.matchAll(/(?:from |import\(?)'([^.'][^']*)'/g)) {
        const parts = name!.split('/').slice(0, name!.startsWith('@') ? 2 : 1);
        if (isBuiltin(name!) || !Object.hasOwn(dependencies, parts.join('/')))
          wrong.push(`${file} -> ${name}`);
      }
      for (const [global] of text.matchAll(/\b(?:Buffer|process|require|setImmediate|__dirname)\b(?=[.([])/g))
        wrong.push(`${file}: ${global}`);
    }
    expect(wrong).toEqual([]);
  });

  it('what findings and studies return is not rounded: that belongs to whoever says it', () => {
    const rounds = /\.toFixed\(|\.toPrecision\(|\.toLocaleString\(/;
    const saying = files.filter((file) => ['findings', 'study', 'wiring'].includes(room(file)));
    expect(saying.length).toBeGreaterThan(50);
    expect(saying.filter((file) => rounds.test(readFileSync(join(SRC, file), 'utf8')))).toEqual([]);
  });

  it('core reads no file, clock, environment or unseeded random number, and prints nothing', () => {
    const wrong: string[] = [];
    for (const file of files) {
      const text = readFileSync(join(SRC, file), 'utf8');
      for (const bad of [/Math\.random\(/, /Date\.now\(/, /new Date\(\)/, /console\./]) {
        if (bad.test(text)) wrong.push(`${file}: ${bad}`);
      }
    }
    expect(wrong).toEqual([]);
  });
});
