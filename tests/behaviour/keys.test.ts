/** Every key says once what it means, beside the schema that checks it; the reference page is made from that. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { partsKeys, scenarioKeys, scenarioSchema } from '@longnight/core/scenario';
import { describe, expect, it } from 'vitest';
import * as z from 'zod';
import { scenarioReference } from '../../packages/core/docs/scenario.ts';
import { KEY_TEXTS } from '../../packages/core/src/scenario/schema/key.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const keys = [...scenarioKeys(), ...partsKeys()];

interface Node {
  readonly properties?: Readonly<Record<string, Node>>;
  readonly default?: unknown;
  readonly meaning?: string;
  readonly why?: string;
}

/** Every property of the JSON Schema and every node that is none, another way to the keys than the table's own. */
function nodesOf(schema: z.ZodType): {
  paths: Set<string>;
  others: Node[];
  defaults: Map<string, unknown[]>;
} {
  const paths = new Set<string>();
  const others: Node[] = [];
  const defaults = new Map<string, unknown[]>();
  const look = (node: unknown, path: string): void => {
    if (typeof node !== 'object' || node === null) return;
    const { properties, ...rest } = node as Node;
    for (const [name, field] of Object.entries(properties ?? {})) {
      const at = path === '' ? name : `${path}.${name}`;
      paths.add(at);
      if (field.default !== undefined && field.properties === undefined)
        defaults.set(at, [...(defaults.get(at) ?? []), field.default]);
      look(field, at);
    }
    for (const [keyword, inside] of Object.entries(rest)) {
      const below = keyword === 'items' ? `${path}[]` : path;
      for (const one of [inside].flat())
        if (typeof one === 'object' && one !== null) {
          others.push(one as Node);
          look(one, below);
        }
    }
  };
  look(z.toJSONSchema(schema, { io: 'input', metadata: KEY_TEXTS }), '');
  return { paths, others, defaults };
}

describe('the keys', () => {
  const { paths, others, defaults } = nodesOf(scenarioSchema);

  it('are all there, each with a meaning', () => {
    expect(paths.size).toBeGreaterThan(200);
    expect(new Set(scenarioKeys().map(({ path }) => path))).toEqual(paths);
    expect(partsKeys().map(({ path }) => path)).toContain('parts[].brings.trackers');
    // A sentence without its full stop, begun in capitals: those who show it put more behind it.
    const unsaid = keys.filter(({ meaning }) => !/^["\dA-Z].{3,}[^.;: ]$/.test(meaning));
    expect(unsaid.map(({ path, meaning }) => `${path}: ${meaning}`)).toEqual([]);
  });

  it('say a default as the schema has it, and why', () => {
    const told = new Map<string, unknown[]>();
    for (const { path, rule } of scenarioKeys())
      if (rule.default !== undefined) told.set(path, [...(told.get(path) ?? []), rule.default]);
    expect([...told.keys()].sort()).toEqual([...defaults.keys()].sort());
    for (const [path, values] of told)
      for (const value of values) expect(defaults.get(path), path).toContainEqual(value);
    for (const { path, rule } of keys)
      expect(rule.default === undefined, path).toBe((rule.why?.length ?? 0) < 5);
  });

  it('are required, have a default or may be left out, never two of them', () => {
    const twice = keys.filter(
      ({ rule: { required, default: value, without } }) =>
        [required, value !== undefined, without !== undefined].filter(Boolean).length > 1,
    );
    expect(twice.map(({ path }) => path)).toEqual([]);
    const one = (path: string) => scenarioKeys().filter((key) => key.path === path);
    expect(one('arrays[].tilt_deg')[0]!.rule).toMatchObject({ required: true, kinds: [] });
    // A rule for each kind that has its own.
    expect(
      one('weather.turbidity_linke').map(({ rule }) => [rule.kinds, rule.required, rule.default]),
    ).toEqual([
      [['clear-sky'], true, undefined],
      [['monthly_means'], false, 3],
    ]);
  });

  it('have the unit that their names carry', () => {
    const unit = (path: string) => scenarioKeys().find((key) => key.path === path)!.unit;
    expect(unit('arrays[].tilt_deg')).toBe('°');
    expect(unit('bank.module.capacity_Ah')).toBe('Ah');
    expect(unit('weather.ghi_kWh_m2_day')).toBe('kWh/m² a day');
    expect(unit('bank.floor_soc')).toBe('1');
    expect(unit('bank.self_discharge_share_per_month')).toBe('1 a month');
    expect(unit('loads[].days')).toBeNull();
    expect(unit('site.name')).toBeNull();
    // An ending in capitals or of figures is a unit, which the table must know.
    const unknown = keys.filter(
      ({ path, unit }) => unit === null && /_(?:[A-Z]\w*|deg|m|h|min|m_s|mm2|share|soc)$/.test(path),
    );
    expect(unknown.map(({ path }) => path)).toEqual([]);
  });

  it('alone carry a text: what stands within lists and kinds has none of its own', () => {
    const said = others.filter(({ meaning, why }) => meaning !== undefined || why !== undefined);
    expect(said).toEqual([]);
  });

  it('say nothing twice: a text that two keys share is one constant', () => {
    const folder = join(ROOT, 'packages/core/src/scenario');
    const files = [...readdirSync(join(folder, 'schema')).map((name) => `schema/${name}`), 'parts/file.ts'];
    const text = files
      .map((name) => readFileSync(join(folder, name), 'utf8'))
      .join('\n')
      .replace(/\s+/g, ' ');
    const doubled = [...new Set(keys.map(({ meaning }) => meaning))]
      // Short ones are words of the trade, such as "Capacity".
      .filter((meaning) => meaning.length > 20)
      // Behind a check it ends with its template, or at the bar before its reason.
      .filter((meaning) => text.split(`\`${meaning}\``).length + text.split(`\`${meaning} | `).length > 3);
    expect(doubled).toEqual([]);
  });
});

describe('the losses of an array', () => {
  const losses = scenarioKeys().filter(({ path }) => path.startsWith('arrays[].losses.'));

  it('stand by cause on the way of the light: light, years, panels, wires', () => {
    const causes = losses.map(({ meaning }) => meaning.split(':')[0]);
    expect([...new Set(causes)]).toEqual(['Light', 'Years', 'Panels', 'Wires']);
    expect(causes.toSorted((a, b) => causes.indexOf(a) - causes.indexOf(b))).toEqual(causes);
  });

  it('each have a printed source beside the default; snow, which is none, says that no rule is built in', () => {
    const yearly = scenarioKeys().find(({ path }) => path === 'arrays[].ageing_share_per_year')!;
    for (const { path, rule } of [...losses, yearly])
      expect(rule.why, path).toMatch(
        path.endsWith('.snow_share')
          ? /no rule of it is built in/
          : /[A-Z]\w+ (?:et al\. |& \w+ )?\d{4}, \w+/,
      );
  });
});

describe('the reference page', () => {
  it('is what the schema says today: `pnpm run docs` writes it', () => {
    const page = readFileSync(join(ROOT, 'packages/core/docs/scenario.md'), 'utf8').replaceAll('\r\n', '\n');
    expect(page).toBe(scenarioReference());
  });

  it('has a row for each key, in the section of its own', () => {
    const page = scenarioReference();
    const rows = page.split('\n').filter((line) => line.startsWith('| `'));
    expect(rows).toHaveLength(keys.length);
    expect(rows.filter((row) => row.replaceAll('\\|', '').split('|').length !== 7)).toEqual([]);
    const bank = page.slice(page.indexOf('\n## `bank`'), page.indexOf('\n## `inverter`'));
    expect(bank).toContain(
      '| `floor_soc` | 1 | State of charge below which nothing is drawn | a number from 0 to 0.99 | required |',
    );
    expect(bank).toContain('| `model.resistance_mOhm` (resistive) | mΩ |');
    expect(bank).toMatch(/\| `taper_end_share` \|.*\| `0\.05`: share of the charge current left/);
  });
});
