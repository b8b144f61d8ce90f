import * as z from 'zod';
import type { Assumption } from '../../basis/notices.ts';
import { KEY_TEXTS, type KeyText } from '../schema/key.ts';
import { scenarioSchema } from '../schema/schema.ts';
import { fieldsOf, variantOf } from '../text/shape.ts';

/**
 * Every default that a scenario rests on, in the order of the schema: one entry per plain value, a list being one.
 *
 * @param data the file's content as written, already accepted by the schema
 */
export function defaultsUsed(data: unknown): Assumption[] {
  const used: Assumption[] = [];
  collect(scenarioSchema, data, '', used);
  return used;
}

/** One thing that a scenario says itself, or that a part says for it. */
export interface Stated {
  /** Section, or item of a list of them: `bank`, `arrays[0]`. */ readonly section: string;
  /** What stands within it, by key: `module.capacity_Ah`. */
  readonly values: readonly (readonly [key: string, value: string])[];
}

/**
 * All that is stated, section by section as it is written, lists within a section in one value.
 *
 * @param data the file's content, parts filled in
 */
export function statedIn(data: object): Stated[] {
  return Object.entries(data).flatMap(([section, value]) => {
    const items: [string, unknown][] =
      Array.isArray(value) && typeof value[0] === 'object'
        ? value.map((item, k) => [`${section}[${k}]`, item])
        : [[section, value]];
    return items.map(([name, item]) => ({
      section: name,
      values: [...leaves(item, '')].map(([key, leaf]) => [key, String(leaf)] as const),
    }));
  });
}

function collect(schema: z.ZodType, given: unknown, path: string, used: Assumption[]): void {
  if (schema instanceof z.ZodDefault && given === undefined) {
    // The schema's own test makes sure that every default says why.
    const { why = '', moves = 'verdict' }: Partial<KeyText> = KEY_TEXTS.get(schema) ?? {};
    for (const [leaf, value] of leaves(schema.def.defaultValue, path))
      used.push({ path: leaf, value, why, kind: 'default', moves });
    return;
  }
  if (schema instanceof z.ZodPrefault || schema instanceof z.ZodDefault) {
    collect(schema.unwrap() as z.ZodType, given ?? {}, path, used);
    return;
  }
  if (schema instanceof z.ZodOptional) {
    if (given !== undefined) collect(schema.unwrap() as z.ZodType, given, path, used);
    return;
  }
  const variant = variantOf(schema, given);
  if (variant instanceof z.ZodObject) {
    const values = given as Readonly<Record<string, unknown>>;
    for (const [key, field] of Object.entries(fieldsOf(variant))) {
      // A measured wind leaves nothing to assume.
      if (key === 'wind_m_s' && values.wind !== undefined) continue;
      // Nor do measured beam or diffuse light leave anything to split.
      if (key === 'decomposition' && (values.dni !== undefined || values.dhi !== undefined)) continue;
      collect(field, values[key], path === '' ? key : `${path}.${key}`, used);
    }
  } else if (variant instanceof z.ZodArray) {
    for (const [index, item] of (given as readonly unknown[]).entries())
      collect(variant.element as z.ZodType, item, `${path}[${index}]`, used);
  }
}

function* leaves(value: unknown, path: string): Generator<readonly [string, number | string | boolean]> {
  if (Array.isArray(value)) yield [path, value.length === 0 ? 'none' : value.map(inOne).join(', ')];
  else if (typeof value === 'object' && value !== null)
    for (const [key, inside] of Object.entries(value))
      yield* leaves(inside, path === '' ? key : `${path}.${key}`);
  else yield [path, value as number | string | boolean];
}

/** An item of a list: `(load_share 0.5, efficiency_share 0.95)` of a point. */
const inOne = (item: unknown): string =>
  typeof item === 'object' && item !== null
    ? `(${[...leaves(item, '')].map(([key, value]) => `${key} ${value}`).join(', ')})`
    : String(item);
