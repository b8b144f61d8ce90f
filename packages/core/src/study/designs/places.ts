import * as z from 'zod';
import { tidy } from '../../basis/rounding.ts';
import { type Scenario, scenarioSchema } from '../../scenario/schema/schema.ts';
import { type Path, valueAt } from '../../scenario/text/path.ts';
import { fieldsOf, schemaAt } from '../../scenario/text/shape.ts';
import { type Axis, factorOf } from './axes.ts';
import type { PathValue } from './designer.ts';

type Value = Axis['values'][number];

/** What an axis changes in a file. */
export interface Target {
  /** Where its values go: several where the path says `[*]`. */
  readonly places: readonly Path[];
  /** What must stand before a value is put in: sections that the file leaves out, and no keys of another kind. */
  readonly before: (value: Value) => readonly PathValue[];
}

/** @param data the file's, parts filled in */
export function targetOf(data: unknown, path: Path): Target {
  const places = placesOf(data, path);
  const seeds = places.flatMap((place) => seedsOf(data, place));
  const before = (value: Value) => [...seeds, ...places.flatMap((place) => otherKind(data, place, value))];
  return { places, before };
}

/** A path for each item of the lists that it passes by `*`; none where there is no such list. */
export function placesOf(data: unknown, path: Path): readonly Path[] {
  const at = path.indexOf('*');
  if (at < 0) return [path];
  const list = valueAt(data, path.slice(0, at));
  if (!Array.isArray(list)) return [];
  return list.flatMap((_, k) => placesOf(data, [...path.slice(0, at), k, ...path.slice(at + 1)]));
}

/** The outermost section on the way that is left out, as its default: a value changes one key of it. */
function seedsOf(data: unknown, place: Path): readonly PathValue[] {
  for (let depth = 1; depth < place.length; depth++) {
    const path = place.slice(0, depth);
    if (valueAt(data, path) !== undefined) continue;
    const schema = schemaAt(scenarioSchema, data, path);
    if (schema instanceof z.ZodDefault) return [{ path, value: schema.def.defaultValue }];
  }
  return [];
}

/** What a section of one kind says, and one of the kind that is put in its place can't: it is taken out. */
function otherKind(data: unknown, place: Path, value: Value): readonly PathValue[] {
  const union = schemaAt(scenarioSchema, data, place);
  const key = place.at(-1)!;
  if (!(union instanceof z.ZodDiscriminatedUnion) || union.def.discriminator !== key) return [];
  const option = (union.options as z.ZodObject[]).find((one) => fieldsOf(one)[key]!.safeParse(value).success);
  const section = place.slice(0, -1);
  if (option === undefined) return [];
  return Object.keys((valueAt(data, section) as object | undefined) ?? {})
    .filter((name) => !Object.hasOwn(option.shape, name))
    .map((name) => ({ path: [...section, name], value: undefined }));
}

/**
 * A value of an axis, put into its places.
 *
 * @param scenario as the file stands: `x1.5` is one and a half times what it says
 */
export const putsOf = ({ places }: Target, scenario: Scenario, value: Value): readonly PathValue[] =>
  places.map((path) => {
    const factor = factorOf(value);
    const now = factor === null ? undefined : valueAt(scenario, path);
    return { path, value: typeof now === 'number' ? tidy(now * factor!) : value };
  });

/** True if the value is a factor on numbers that the file, or a default, says. */
export const multiplies = ({ places }: Target, scenario: Scenario, value: Value): boolean =>
  factorOf(value) !== null && places.every((path) => typeof valueAt(scenario, path) === 'number');
