import * as z from 'zod';
import { InputError, type Issue, inFileOrder, issue } from '../../basis/errors.ts';
import { meantKey, splitUnit } from '../../basis/nearest.ts';
import type { SourceDocument } from '../text/document.ts';
import { expectedText, orList } from '../text/expected.ts';
import { fixFor, foundText, timeZoneFix, wordFix } from '../text/hints.ts';
import { type Path, pathText, valueAt } from '../text/path.ts';
import { fieldsOf, homesOf, inner, kindOf, schemaAt, variantOf } from '../text/shape.ts';
import { scenarioSchema } from './schema.ts';

type ZodIssue = z.core.$ZodIssue;

/** Issues that are told in full: looking up words and places for the keys of another kind of file takes minutes. */
const MOST_TOLD = 200;

/** The first so many of what a schema has found, each unknown key counted on its own, and how many are left. */
export function firstFound(found: readonly ZodIssue[]): { told: readonly ZodIssue[]; more: number } {
  let room = MOST_TOLD;
  let more = 0;
  const told = found.flatMap((issue): ZodIssue[] => {
    const all = issue.code === 'unrecognized_keys' ? issue.keys.length : 1;
    const here = Math.min(all, room);
    room -= here;
    more += all - here;
    if (here === 0) return [];
    return issue.code === 'unrecognized_keys' ? [{ ...issue, keys: issue.keys.slice(0, here) }] : [issue];
  });
  return { told, more };
}

/**
 * What the schema has against a file, in our words and with places, in file order. A key that is only mistyped is
 * reported once: not a second time as missing.
 */
export function schemaError(found: readonly ZodIssue[], document: SourceDocument): InputError {
  const issues: Issue[] = [];
  const meant = new Set<string>();
  const { told, more } = firstFound(flatten(found, document.data));
  for (const issue of told) {
    if (issue.code === 'unrecognized_keys') issues.push(...unknownKeys(issue, document, meant));
    else if (issue.code === 'invalid_union' && issue.errors.length === 0)
      issues.push(wrongKind(issue.path as Path, document));
    else issues.push(wrongValue(issue, document));
  }
  const unmeant = issues.filter((issue) => issue.code !== 'missing-key' || !meant.has(issue.path));
  return new InputError(inFileOrder(unmeant), more);
}

/** Replaces "invalid union" by what is wrong inside the variant that is meant. */
function flatten(found: readonly ZodIssue[], data: unknown, under: Path = []): ZodIssue[] {
  return found.flatMap((issue): ZodIssue[] => {
    const path = [...under, ...(issue.path as Path)];
    const placed = { ...issue, path } as ZodIssue;
    if (placed.code !== 'invalid_union' || placed.errors.length === 0) return [placed];
    const schema = schemaAt(scenarioSchema, data, path);
    const union = schema && inner(schema);
    if (!(union instanceof z.ZodUnion)) return [placed];
    const variant = variantOf(union, valueAt(data, path));
    const inside = placed.errors[(union.options as z.ZodType[]).indexOf(variant as z.ZodType)];
    // No variant takes such a thing at all, as a mapping where a number or a list may stand.
    if (!inside) return [{ ...placed, code: 'invalid_type', expected: 'unknown' } as ZodIssue];
    return flatten(inside, data, path);
  });
}

function unknownKeys(found: ZodIssue & { keys: string[] }, document: SourceDocument, meant: Set<string>) {
  const parent = found.path as Path;
  const value = valueAt(document.data, parent);
  const schema = schemaAt(scenarioSchema, document.data, parent);
  const variant = schema && variantOf(schema, value);
  const allowed = variant instanceof z.ZodObject ? Object.keys(fieldsOf(variant)) : [];
  const isFree = (key: string) => valueAt(document.data, [...parent, key]) === undefined;
  return found.keys.map((key): Issue => {
    const guess = meantKey(key, allowed.filter(isFree));
    if (guess) meant.add(pathText([...parent, guess.key]));
    const at = [...parent, key];
    const also = { expected: `one of ${allowed.join(', ')}`, place: document.keyPlace(at) };
    return issue('unknown-key', pathText(at), also)`unknown key |
      ${unknownKeyFix(key, guess, homeText(parent))}`;
  });
}

/** A place as `homesOf` names it: `loads[]` for `loads[2]`. */
const homeText = (parent: Path): string => pathText(parent).replace(/\[\d+\]/g, '[]');

function unknownKeyFix(key: string, guess: ReturnType<typeof meantKey>, here: string): string {
  if (key === '<<') return 'merge keys are not read: write the keys out';
  if (guess) {
    const unit = splitUnit(guess.key).unit;
    const inUnit = guess.otherUnit ? ` The unit is in the key: give the value in ${unit}` : '';
    return `did you mean "${guess.key}"?${inUnit}`;
  }
  const homes = homesOf(scenarioSchema, key);
  // It stands where it belongs, beside another kind.
  if (homes.includes(here)) return 'remove it, or choose the kind that has it';
  return homes.length === 0 || homes.length > 3 ? 'remove it' : `move it to ${orList(homes)}`;
}

function wrongKind(path: Path, document: SourceDocument): Issue {
  const union = schemaAt(scenarioSchema, document.data, path);
  const kinds =
    union instanceof z.ZodDiscriminatedUnion
      ? (union.options as z.ZodObject[]).map((option) => kindOf(option, union.def.discriminator))
      : [];
  const value = valueAt(document.data, path);
  const also = { expected: orList(kinds), place: document.valuePlace(path) };
  if (value === undefined)
    return issue(
      'missing-key',
      pathText(path),
      also,
    )`missing | add "${path.at(-1)}: ${kinds[0]}" or another of them`;
  const fix = wordFix(typeof value === 'string' ? value : '', kinds);
  return issue('wrong-value', pathText(path), also)`found ${foundText(value)} | ${fix}`;
}

function wrongValue(found: ZodIssue, document: SourceDocument): Issue {
  const path = found.path as Path;
  const value = valueAt(document.data, path);
  const schema = schemaAt(scenarioSchema, document.data, path) ?? scenarioSchema;
  const key = String(path.findLast((step) => typeof step === 'string') ?? '');
  const place = document.valuePlace(path);
  if (found.code === 'custom' && typeof value === 'string' && (key === 'time_zone' || key === 'zone')) {
    const expected = key === 'zone' ? 'an IANA name, UTC or an offset' : 'an IANA name';
    return issue('unknown-time-zone', pathText(path), { expected, place })`no time zone is called "${value}" |
      ${timeZoneFix(value, key === 'zone')}`;
  }
  const also = { expected: expectedText(schema), place };
  if (value === undefined) {
    const parent = pathText(path.slice(0, -1));
    const where = parent === '' ? 'at the left margin' : `to ${parent}`;
    return issue('missing-key', pathText(path), also)`missing | add "${key}: …" ${where}`;
  }
  return issue(codeOf(found, value), pathText(path), also)`found ${foundText(value)} |
    ${fixFor(value, schema, key, valueAt(document.data, path.slice(0, -1)))}`;
}

function codeOf(issue: ZodIssue, value: unknown): string {
  switch (issue.code) {
    case 'invalid_type':
      if (typeof value === 'number' && !Number.isFinite(value)) return 'not-finite';
      return issue.expected === 'int' && typeof value === 'number' ? 'not-whole' : 'wrong-type';
    case 'too_small':
    case 'too_big':
      return typeof value === 'number' ? 'out-of-range' : 'wrong-length';
    case 'invalid_format':
      return 'wrong-format';
    default:
      return typeof value === 'string' || typeof value === 'number' ? 'wrong-value' : 'wrong-type';
  }
}
