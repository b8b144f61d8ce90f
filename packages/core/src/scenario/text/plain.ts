import { InputError, type Place } from '../../basis/errors.ts';
import { kindOf } from '../../basis/kind.ts';
import type { SourceDocument } from './document.ts';
import { foundText } from './hints.ts';
import { type Path, pathText } from './path.ts';

/** Nothing in a scenario nests deeper than about ten levels; what does is a cycle. */
const DEEPEST = 64;

/**
 * A scenario given as an object, in the form of a parsed text. It is copied: what the caller does to the object later
 * changes nothing. A key whose value is undefined counts as left out.
 *
 * @param name what messages call the object; they have the path of a value instead of its line
 * @throws InputError if it is no mapping, or holds what no text of a scenario could: dates, functions, cycles, …
 */
export function plainDocument(input: unknown, name: string): SourceDocument {
  const place: Place = { file: name };
  const refuse = (code: string, path: Path, message: string, fix: string): never => {
    throw new InputError([{ code, path: pathText(path), message, fix, place }]);
  };
  const copy = (value: unknown, path: Path): unknown => {
    if (
      value === null ||
      typeof value === 'string' ||
      typeof value === 'number' ||
      typeof value === 'boolean'
    )
      return value;
    if (path.length > DEEPEST)
      refuse('syntax', path.slice(0, 1), 'far too many levels', 'take out what refers to itself');
    if (Array.isArray(value)) return Array.from(value, (item, k) => copy(item, [...path, k]));
    if (!isPlain(value)) {
      const fix = 'give a text, a number, true or false, a list or a plain object';
      return refuse('not-plain-data', path, `found ${kindOf(value)}`, fix);
    }
    return Object.fromEntries(
      Object.entries(value)
        .filter(([, inside]) => inside !== undefined)
        .map(([key, inside]) => [key, copy(inside, [...path, key])]),
    );
  };
  if (Array.isArray(input) || !isPlain(input)) {
    const found = Array.isArray(input) || typeof input !== 'object' ? foundText(input) : kindOf(input);
    refuse('not-a-mapping', [], `found ${found}, not a scenario`, 'give an object with keys such as site');
  }
  return { data: copy(input, []), keyPlace: () => place, valuePlace: () => place, place: () => place };
}

function isPlain(value: unknown): value is object {
  if (typeof value !== 'object' || value === null) return false;
  const prototype = Object.getPrototypeOf(value);
  // An object of another page or thread has another Object, which is the end of its chain as well.
  return prototype === null || Object.getPrototypeOf(prototype) === null;
}
