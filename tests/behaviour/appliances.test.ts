/** data/appliances.yaml: every line of it can be copied into a scenario, and says where its watts come from. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { InputError, readScenario, scenarioSchema } from '@longnight/core';
import { describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';

const root = resolve(import.meta.dirname, '../..');
const text = readFileSync(resolve(root, 'data/appliances.yaml'), 'utf8');
const { loads } = parse(text) as { loads: Record<string, unknown>[] };
const demo = parse(readFileSync(resolve(root, 'data/demo/holds.yaml'), 'utf8'));
const read = (entries: readonly unknown[]) =>
  readScenario(stringify({ ...demo, loads: entries }), 'copied.yaml').scenario;

describe('the list of appliances', () => {
  it('has some forty, each with a name of its own and some power', () => {
    expect(loads.length).toBeGreaterThanOrEqual(40);
    expect(new Set(loads.map((load) => load.name)).size).toBe(loads.length);
    for (const load of loads) {
      const size = load.power_W ?? load.max_power_W ?? load.energy_kWh_day;
      expect(size, String(load.name)).toBeGreaterThan(0);
    }
  });

  it('is a valid list of loads as a whole, and line by line', () => {
    expect(read(loads).loads).toHaveLength(loads.length);
    for (const load of loads) {
      const parsed = scenarioSchema.shape.loads.safeParse([load]);
      expect(parsed.error, String(load.name)).toBeUndefined();
    }
    // A slip would be found: the check can fail.
    expect(() => read([{ ...loads[0], power_kW: 1 }])).toThrow(InputError);
  });

  it('says of every wattage where it comes from, on its own line', () => {
    const lines = text.split('\n').filter((line) => line.startsWith('  - '));
    expect(lines).toHaveLength(loads.length);
    for (const line of lines) expect(line).toMatch(/# (invented|common practice, no source)/);
  });

  it('can be copied line by line as text', () => {
    for (const line of text.split('\n').filter((each) => each.startsWith('  - '))) {
      const [copied] = parse(`loads:\n${line}`).loads;
      expect(read([copied]).loads[0]!.name).toBe(copied.name);
    }
  });
});
