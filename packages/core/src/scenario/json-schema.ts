import * as z from 'zod';
import { unitOf } from './keys.ts';
import { PART_KINDS, type PartKind, partsSchema } from './parts/file.ts';
import { KEY_TEXTS } from './schema/key.ts';
import { scenarioSchema } from './schema/schema.ts';

/** A node of a JSON Schema, as far as it is looked into here. */
export interface JsonSchema {
  [keyword: string]: unknown;
  /** What the key means. */ description?: string;
  /** Keys that must be there. */ required?: readonly string[];
  /** Keys of an object. */ properties?: Record<string, JsonSchema>;
}

/** Sections that may name a part, with the kind of it. */
const SECTIONS: Readonly<Record<PartKind, string>> = {
  panel: 'arrays[]',
  module: 'bank',
  inverter: 'inverter',
  charger: 'charger',
  tracker: 'arrays[].tracker',
  generator: 'generator',
};

/**
 * JSON Schema (draft 7) of a scenario file as it is written: for editors, which complete keys, show what they mean and
 * mark what is wrong. It is made from the schema that `readScenario` checks by. Where a section names a part, the keys
 * that the part may lend are not required.
 *
 * What a JSON Schema can't say is left to `readScenario`: names of time zones, rules between values, and whatever
 * stands in a parts file.
 */
export function scenarioJsonSchema(): JsonSchema {
  const schema = described(scenarioSchema);
  for (const path of Object.values(SECTIONS)) {
    if (path === 'arrays[].tracker') continue;
    mayLend(nodeAt(schema, path));
  }
  const array = nodeAt(schema, 'arrays[]');
  mayLend(array.properties!.tracker!);
  return {
    ...schema,
    title: 'Scenario of longnight',
    // An all-in-one brings trackers, so that arrays need none of their own.
    if: { properties: { inverter: { not: { required: ['part'] } } } },
    // biome-ignore lint/suspicious/noThenProperty: it is a keyword of JSON Schema
    then: {
      properties: {
        arrays: {
          items: {
            if: { not: { required: ['part'] } },
            // biome-ignore lint/suspicious/noThenProperty: it is a keyword of JSON Schema
            then: { required: ['tracker'] },
          },
        },
      },
    },
  };
}

/**
 * JSON Schema (draft 7) of a parts file. `values` and `brings` are held against the section that the part fills in, as
 * they are when a scenario names the part: every key is known there, none is required.
 */
export function partsJsonSchema(): JsonSchema {
  const schema = described(partsSchema);
  const scenario = described(scenarioSchema);
  const lendable = (kind: PartKind): JsonSchema => {
    const section = structuredClone(nodeAt(scenario, SECTIONS[kind]));
    takeRequired(section);
    delete section.properties!.part;
    return section;
  };
  const part = nodeAt(schema, 'parts[]');
  const { charger, tracker } = part.properties!.brings!.properties!;
  Object.assign(charger!, { ...lendable('charger'), description: charger!.description });
  Object.assign(tracker!, { ...lendable('tracker'), description: tracker!.description });
  part.allOf = PART_KINDS.map((kind) => ({
    if: { properties: { kind: { const: kind } }, required: ['kind'] },
    // biome-ignore lint/suspicious/noThenProperty: it is a keyword of JSON Schema
    then: { properties: { values: lendable(kind) } },
  }));
  return { ...schema, title: 'Parts of longnight' };
}

/** The JSON Schema of a zod schema, with what is said of each key as its description. */
function described(schema: z.ZodType): JsonSchema {
  return z.toJSONSchema(schema, {
    io: 'input',
    target: 'draft-7',
    override: ({ zodSchema, jsonSchema, path }) => {
      // Names are trimmed before they are measured: one of blanks alone is empty. Short texts are signs, kept as they are.
      if (jsonSchema.type === 'string' && jsonSchema.minLength === 1 && Number(jsonSchema.maxLength) >= 100)
        jsonSchema.pattern = '\\S';
      const text = KEY_TEXTS.get(zodSchema);
      if (text === undefined) return;
      const unit = unitOf(String(path.at(-1)));
      // A mapping with defaults of its own inside says them there.
      const hasDefault = jsonSchema.default !== undefined && jsonSchema.properties === undefined;
      jsonSchema.description = [
        `${text.meaning}${unit === null || unit === '1' ? '' : ` (${unit})`}.`,
        ...(hasDefault ? [`Default ${JSON.stringify(jsonSchema.default)}: ${text.why}.`] : []),
        ...(text.without === undefined ? [] : [`Left out: ${text.without}.`]),
      ].join(' ');
    },
  }) as JsonSchema;
}

/** The node at a path of mappings and lists. */
function nodeAt(schema: JsonSchema, path: string): JsonSchema {
  return path.split('.').reduce((node, step) => {
    const field = node.properties![step.replace('[]', '')]!;
    return step.endsWith('[]') ? (field.items as JsonSchema) : field;
  }, schema);
}

/** Lets a section leave out what a part may lend, once it names one. */
function mayLend(section: JsonSchema): void {
  const asked = takeRequired(section);
  const { required = [] } = asked;
  const counted = { anyOf: [{ required: ['size_kWp'] }, { required: ['panels', 'panel_kWp'] }] };
  section.if = { not: { required: ['part'] } };
  // Whether an array needs a tracker hangs on the inverter, which only the whole file shows.
  // biome-ignore lint/suspicious/noThenProperty: it is a keyword of JSON Schema
  section.then = {
    ...asked,
    required: required.filter((key) => key !== 'size_kWp' && key !== 'tracker'),
    ...(required.includes('size_kWp') ? counted : {}),
  };
}

/**
 * Takes the required keys out of a mapping and the mappings within it, and returns them as a schema of their own. Lists
 * and keys of several forms stay whole: a part lends those whole or not at all.
 */
function takeRequired(node: JsonSchema): JsonSchema {
  const taken: JsonSchema = {};
  if (node.required !== undefined) taken.required = node.required;
  delete node.required;
  const inside = Object.entries(node.properties ?? {})
    // What a tracker asks for is a part's own matter.
    .filter(([key, field]) => key !== 'tracker' && field.properties !== undefined)
    .map(([key, field]) => [key, takeRequired(field)] as const)
    .filter(([, asked]) => Object.keys(asked).length > 0);
  if (inside.length > 0) taken.properties = Object.fromEntries(inside);
  return taken;
}
