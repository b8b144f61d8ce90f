import * as z from 'zod';
import { expectArgument } from '../../basis/arguments.ts';
import { InputError, type Issue, inFileOrder, issue } from '../../basis/errors.ts';
import { meantKey } from '../../basis/nearest.ts';
import { firstFound } from '../schema/issues.ts';
import { assumed, key, list, optional, whole } from '../schema/key.ts';
import { parseText, type SourceDocument } from '../text/document.ts';
import { expectedText } from '../text/expected.ts';
import { fixFor, foundText } from '../text/hints.ts';
import { type Path, pathText, valueAt } from '../text/path.ts';
import { fieldsOf, schemaAt, variantOf } from '../text/shape.ts';

/** Kinds of parts; each fills one section of a scenario. */
export const PART_KINDS = ['panel', 'module', 'inverter', 'charger', 'tracker', 'generator'] as const;
/** Kind of a part: which section of a scenario it fills. */
export type PartKind = (typeof PART_KINDS)[number];

export type Mapping = Readonly<Record<string, unknown>>;

/** A part as its file has it: values are checked with the scenario that names it. */
export interface Part {
  /** By which a scenario asks for it. */ readonly name: string;
  /** What it can stand in for. */ readonly kind: PartKind;
  /** What its file says about it; null if nothing. */ readonly about: string | null;
  /** Keys that it lends. */ readonly values: Mapping;
  /** Built into an all-in-one: used where the scenario names none. */
  readonly brings: {
    /** Charger of an all-in-one. */ readonly charger?: Mapping | undefined;
    /** Each of its trackers; one array hangs on each. */ readonly tracker?: Mapping | undefined;
    /** How many an all-in-one has. */ readonly trackers: number;
  };
  /** Its file. */ readonly source: SourceDocument;
  /** Path of the part within its file. */ readonly path: Path;
}

const mapping = () => z.record(z.string(), z.unknown());
const word = (most = 100) => z.string().trim().min(1).max(most);
const brings = z.strictObject({
  charger: optional(mapping())`The AC charger of each unit, used where the scenario has none`,
  tracker: optional(mapping())`Each of its trackers, for arrays without one`,
  trackers: assumed(whole(1, 20), 1)`How many trackers each unit has; one array hangs on each | one tracker,
    where it brings any`,
});
const part = z.strictObject({
  name: key(word())`Name by which a scenario asks for it`,
  kind: key(z.enum(PART_KINDS))`Which section of a scenario it fills in`,
  about: optional(word(500))`A word on it, for whoever chooses`,
  values: key(mapping())`Keys of that section; what a scenario says itself wins`,
  brings: key(brings.prefault({}))`What is built into an all-in-one inverter`,
});
export const partsSchema = z.strictObject({
  parts: key(list(part, 1, 1000))`Parts that a scenario may name`,
});

/**
 * Reads one parts file.
 *
 * @param file its name as the scenario writes it, for messages
 * @throws InputError with a place for every issue. What stands under `values` and `brings` is checked later, as part of
 *   the scenario that uses it: it must fit what is written there
 */
export function readParts(text: string, file: string): readonly Part[] {
  expectArgument('readParts', 'text', text, 'text');
  expectArgument('readParts', 'file', file, 'text');
  const source = asPartsFile(() => parseText(text, file));
  const parsed = partsSchema.safeParse(source.data);
  if (!parsed.success) {
    const { told, more } = firstFound(parsed.error.issues);
    throw new InputError(inFileOrder(told.flatMap((issue) => partIssues(issue, source))), more);
  }
  return parsed.data.parts.map((part, i) => ({
    ...part,
    about: part.about ?? null,
    source,
    path: ['parts', i],
  }));
}

const BEGIN = 'begin with parts: and, below it, "- name: …" for each part';

/** The parser takes every text for a scenario; a parts file is begun otherwise. */
function asPartsFile<T>(read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(
      error.issues.map((issue) =>
        issue.code === 'empty-file' || issue.code === 'not-a-mapping'
          ? { ...issue, message: issue.message.replace('not a scenario', 'not parts'), fix: BEGIN }
          : issue,
      ),
    );
  }
}

function partIssues(found: z.core.$ZodIssue, source: SourceDocument): Issue[] {
  const path = found.path as Path;
  const value = valueAt(source.data, path);
  const schema = schemaAt(partsSchema, source.data, path) ?? partsSchema;
  if (found.code === 'unrecognized_keys') {
    const variant = variantOf(schema, value);
    const allowed = variant instanceof z.ZodObject ? Object.keys(fieldsOf(variant)) : [];
    return found.keys.map((key) => {
      const at = [...path, key];
      const guess = meantKey(key, allowed);
      const fix = guess
        ? `did you mean "${guess.key}"?`
        : 'put the values of the part under values:, or remove the key';
      const also = { expected: `one of ${allowed.join(', ')}`, place: source.keyPlace(at) };
      return issue('unknown-key', pathText(at), also)`unknown key | ${fix}`;
    });
  }
  const also = { expected: expectedText(schema), place: source.valuePlace(path) };
  const key = String(path.findLast((step) => typeof step === 'string') ?? '');
  return [
    value === undefined
      ? issue('missing-key', pathText(path), also)`missing | ${path.length < 2 ? BEGIN : `add "${key}: …"`}`
      : issue('wrong-value', pathText(path), also)`found ${foundText(value)} | ${fixFor(value, schema, key)}`,
  ];
}
