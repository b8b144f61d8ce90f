/** data/appliances.yaml: every line of it can be copied into a scenario, and says where its watts come from. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { InputError, readScenario } from '@longnight/core';
import { scenarioSchema } from '@longnight/core/scenario';
import { describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';

const root = resolve(import.meta.dirname, '../..');
const text = readFileSync(resolve(root, 'data/appliances.yaml'), 'utf8');
const { loads } = parse(text) as { loads: Record<string, unknown>[] };
const demo = parse(readFileSync(resolve(root, 'data/demo/holds.yaml'), 'utf8'));
const read = (entries: readonly unknown[]) =>
  readScenario(stringify({ ...demo, loads: entries }), 'copied.yaml').scenario;
/** The text of each entry, its comments with it, the headings between them without. */
const entries = text
  .slice(text.indexOf('loads:\n') + 'loads:\n'.length)
  .split(/^(?= {2}- )/m)
  .map((entry) => entry.replace(/^ *#.*$/gm, ''))
  .filter((entry) => entry.trim() !== '');

describe('the list of appliances', () => {
  it('has some forty, each with a name of its own and some power', () => {
    expect(loads.length).toBeGreaterThanOrEqual(40);
    expect(entries).toHaveLength(loads.length);
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

  it('says of every wattage where it comes from, within its entry', () => {
    for (const entry of entries) expect(entry).toMatch(/# (invented|common practice, no source)/);
  });

  it('can be copied entry by entry as text', () => {
    for (const entry of entries) {
      const [copied] = parse(`loads:\n${entry}`).loads;
      expect(read([copied]).loads[0]!.name).toBe(copied.name);
    }
  });
});
