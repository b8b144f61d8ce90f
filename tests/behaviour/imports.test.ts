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
  'sky',
  'array',
  'loads',
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

describe('import directions of core', () => {
  it('every folder has its place in the order', () => {
    expect(files.length).toBeGreaterThan(30);
    expect([...new Set(files.map(room))].filter((r) => !ORDER.includes(r))).toEqual([]);
  });

  it('nothing imports from a later folder', () => {
    const wrong: string[] = [];
    for (const file of files) {
      for (const match of readFileSync(join(SRC, file), 'utf8').matchAll(/from '(\.[^']+)'/g)) {
        const target = relative(SRC, resolve(SRC, dirname(file), match[1]!));
        if (ORDER.indexOf(room(target)) > ORDER.indexOf(room(file))) wrong.push(`${file} -> ${target}`);
      }
    }
    expect(wrong).toEqual([]);
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
