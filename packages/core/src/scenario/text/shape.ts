import * as z from 'zod';
import type { Path } from './path.ts';

/**
 * Walking the scenario's schema along a path of the file, through defaults, optional parts and the variant that the
 * value has chosen.
 */

/** A schema without its default and without `optional`. */
export function inner(schema: z.ZodType): z.ZodType {
  if (schema instanceof z.ZodDefault || schema instanceof z.ZodOptional || schema instanceof z.ZodPrefault)
    return inner(schema.unwrap() as z.ZodType);
  return schema;
}

const isMapping = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Fields of a mapping's schema. */
export const fieldsOf = (schema: z.ZodObject): Readonly<Record<string, z.ZodType>> =>
  schema.shape as Readonly<Record<string, z.ZodType>>;

/**
 * The plain schema that a value is held against: the variant with the value's `kind` (or `fill`), or else the one
 * whose form the value has. Undefined if the value's kind is none of them.
 */
export function variantOf(schema: z.ZodType, value: unknown): z.ZodType | undefined {
  const plain = inner(schema);
  if (plain instanceof z.ZodDiscriminatedUnion) {
    const key = plain.def.discriminator;
    const kind = isMapping(value) ? value[key] : undefined;
    return (plain.options as z.ZodObject[]).find((option) => fieldsOf(option)[key]?.safeParse(kind).success);
  }
  if (!(plain instanceof z.ZodUnion)) return plain;
  const options = plain.options as z.ZodType[];
  if (Array.isArray(value)) return options.find((o) => inner(o) instanceof z.ZodArray);
  if (isMapping(value)) {
    // Mappings without a kind (`inverter.efficiency`): the variant that knows most of the keys is meant.
    const known = (o: z.ZodType) =>
      Object.keys(value).filter((k) => o instanceof z.ZodObject && Object.hasOwn(o.shape, k));
    return options
      .filter((o) => o instanceof z.ZodObject)
      .reduce<z.ZodType | undefined>((a, b) => (a && known(a).length >= known(b).length ? a : b), undefined);
  }
  return options.find((o) => !(inner(o) instanceof z.ZodArray) && !(inner(o) instanceof z.ZodObject));
}

/** The schema at a path, defaults and unions still around it; undefined if the path leads nowhere. */
export function schemaAt(root: z.ZodType, data: unknown, path: Path): z.ZodType | undefined {
  let schema: z.ZodType = root;
  let value = data;
  for (const step of path) {
    const plain = inner(schema);
    // The key that chooses the variant has no place in any one of them.
    if (plain instanceof z.ZodDiscriminatedUnion && step === plain.def.discriminator) return plain;
    const variant = variantOf(schema, value);
    if (variant instanceof z.ZodObject) {
      const fields = fieldsOf(variant);
      const field = Object.hasOwn(fields, step) ? fields[step] : undefined;
      if (!field) return undefined;
      schema = field;
      value = isMapping(value) ? value[step] : undefined;
      // What is left out stands at its default: its kind decides which keys there are.
      if (value === undefined && field instanceof z.ZodDefault) value = field.def.defaultValue;
    } else if (variant instanceof z.ZodArray) {
      schema = variant.element as z.ZodType;
      value = Array.isArray(value) ? value[Number(step)] : undefined;
    } else return undefined;
  }
  return schema;
}

/** What chooses an option of a union by kind: `series` of `kind: series`. */
export const kindOf = (option: z.ZodObject, key: string): string =>
  String((fieldsOf(option)[key] as z.ZodLiteral).value);

/** A key wherever it may stand, list positions left out. */
export interface Field {
  /** `arrays[].tracker`; empty at the root. */
  readonly home: string;
  readonly name: string;
  readonly schema: z.ZodType;
  /** The option of the innermost union by kind around it, and how many options that one has. */
  readonly kind: string | undefined;
  readonly kinds: number;
}

/** Every key of a schema, in its order; once for each option of a union. */
export function* everyField(
  schema: z.ZodType,
  home = '',
  among: Pick<Field, 'kind' | 'kinds'> = { kind: undefined, kinds: 0 },
): Generator<Field> {
  const plain = inner(schema);
  if (plain instanceof z.ZodDiscriminatedUnion) {
    const options = plain.options as z.ZodObject[];
    for (const option of options)
      yield* everyField(option, home, {
        kind: kindOf(option, plain.def.discriminator),
        kinds: options.length,
      });
  } else if (plain instanceof z.ZodUnion) {
    for (const option of plain.options) yield* everyField(option as z.ZodType, home, among);
  } else if (plain instanceof z.ZodArray) {
    yield* everyField(plain.element as z.ZodType, `${home}[]`, among);
  } else if (plain instanceof z.ZodObject) {
    for (const [name, field] of Object.entries(fieldsOf(plain))) {
      yield { home, name, schema: field, ...among };
      yield* everyField(field, home === '' ? name : `${home}.${name}`, among);
    }
  }
}

/** Paths at which a key may stand, list positions left out: `start_soc` in `generator` and in `run`. */
export const homesOf = (root: z.ZodType, key: string): string[] => [
  ...new Set(
    [...everyField(root)].filter(({ home, name }) => home !== '' && name === key).map(({ home }) => home),
  ),
];
