/** Every quantity of a scenario has bounds that no real plant reaches, and what is beyond them is refused. */

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { InputError, prepareYear, readScenario } from '@longnight/core';
import { scenarioSchema } from '@longnight/core/scenario';
import { describe, expect, it } from 'vitest';
import * as z from 'zod';
import { partsSchema } from '../../packages/core/src/scenario/parts/file.ts';

interface Node {
  readonly type?: string;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly maxItems?: number;
  readonly const?: unknown;
  readonly enum?: unknown;
}

/** Every node of a schema of one type, by the path that leads to it. */
function nodesOf(schema: z.ZodType, types: readonly string[]): [path: string, node: Node][] {
  const found: [string, Node][] = [];
  const look = (node: unknown, path: string): void => {
    if (typeof node !== 'object' || node === null) return;
    if (types.includes((node as Node).type ?? '')) found.push([path, node as Node]);
    for (const [key, inside] of Object.entries(node)) look(inside, `${path}.${key}`);
  };
  look(z.toJSONSchema(schema, { io: 'input' }), '');
  return found;
}

const both = [scenarioSchema, partsSchema] as const;

describe('bounds', () => {
  it('stand at both ends of every number; only codes for missing values are any number', () => {
    const open = both
      .flatMap((schema) => nodesOf(schema, ['number', 'integer']))
      .filter(
        ([, { minimum, maximum, const: only, enum: some }]) =>
          only === undefined &&
          some === undefined &&
          !(
            minimum !== undefined &&
            maximum !== undefined &&
            maximum < Number.MAX_SAFE_INTEGER &&
            minimum > Number.MIN_SAFE_INTEGER
          ),
      );
    expect(open.map(([path]) => path).filter((path) => !path.includes('.missing.'))).toEqual([]);
    expect(nodesOf(scenarioSchema, ['number', 'integer']).length).toBeGreaterThan(200);
  });

  it('stand above nothing where something is divided by it', () => {
    const names = /\.(\w+_V|L_per_h|\w+_L_per_h|rating_kW|capacity_\w*Ah)$/;
    const divisors = nodesOf(scenarioSchema, ['number', 'integer']).filter(([path]) => names.test(path));
    expect(divisors.length).toBeGreaterThan(15);
    expect(divisors.filter(([, { minimum }]) => !(minimum! > 0)).map(([path]) => path)).toEqual([]);
  });

  it('end every list', () => {
    const endless = both
      .flatMap((schema) => nodesOf(schema, ['array']))
      .filter(([, { maxItems }]) => maxItems === undefined);
    expect(endless.map(([path]) => path)).toEqual([]);
  });
});

const DEMO = join(import.meta.dirname, '../../data/demo');
const holds = readFileSync(join(DEMO, 'holds-with-generator.yaml'), 'utf8');
function refused(text: string): InputError {
  try {
    readScenario(text, 'hut.yaml');
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('it was accepted');
}

describe('a scenario', () => {
  it('with more items than a list takes is told how many it takes, and how many to take out', () => {
    const array = /arrays:\n([\s\S]*?)\nbank:/.exec(holds)![1]!;
    const first = array.split(/\n(?= {2}- )/)[0]!;
    const many = holds.replace(array, Array(50).fill(first).join('\n'));
    expect(refused(many).message).toMatch(
      /arrays: found a list of 50; expected a list of 1 to 20 mappings .*\n.*fix: remove 30/,
    );
  });

  it('whose generator makes more of a litre than any fuel holds is refused', () => {
    const rating = Number(/generator:[\s\S]*?rating_kW: ([\d.]+)/.exec(holds)![1]);
    const text = holds
      .replace(/full_load_L_per_h: [\d.]+/, `full_load_L_per_h: ${0.04 * rating}`)
      .replace(/half_load_L_per_h: [\d.]+/, `half_load_L_per_h: ${0.03 * rating}`);
    const { issues } = refused(text);
    expect(issues.map(({ path, code }) => `${code} ${path}`)).toEqual([
      'out-of-range generator.fuel.full_load_L_per_h',
    ]);
    expect(issues[0]!.place!.line).toBeGreaterThan(1);
  });
});

describe('what is wrong with a section', () => {
  it('has the line of its key: a month brighter than any sky', () => {
    const bright = holds.replace(/ghi_kWh_m2_day: \[[\d.]+/, 'ghi_kWh_m2_day: [12.9');
    const act = () => prepareYear(readScenario(bright, 'hut.yaml'));
    expect(act).toThrow(/^hut\.yaml:\d+:\d+: weather\.ghi_kWh_m2_day\[0\]: January: 12\.9/);
  });
});

describe('a long file of another kind', () => {
  const many = (n: number, line: (k: number) => string): string =>
    `${holds}\n${Array.from({ length: n }, (_, k) => line(k)).join('')}`;

  it('names the first keys and counts the rest', () => {
    const error = refused(many(5000, (k) => `k${k}: ${k}\n`));
    expect(error.issues).toHaveLength(200);
    expect(error.more).toBe(4800);
    expect(error.message).toMatch(/k0: unknown key[\s\S]*… and 4800 more$/);
  });

  it('names keys that stand twice, each at its place, and counts the rest', () => {
    const error = refused(many(5000, () => 'k: 1\n'));
    expect(error.issues.every(({ code }) => code === 'duplicate-key')).toBe(true);
    expect([error.issues.length, error.more]).toEqual([200, 4799]);
    const lines = error.issues.map(({ place }) => place!.line!);
    expect(lines).toEqual(lines.toSorted((a, b) => a - b));
  });

  // Each key held against all before it, 40,000 took two minutes; now they take one second.
  it.each([
    ['keys', (k: number) => `k${k}: 1\n`],
    ['aliases of nothing', (k: number) => (k === 0 ? 'x:\n' : `  - *b${k}\n`)],
  ])('of 40,000 %s is refused', (_, line) => {
    expect(refused(many(40_000, line)).issues.length).toBeGreaterThan(0);
  });
});
