import { refusal } from '../../basis/errors.ts';
import { nearest } from '../../basis/nearest.ts';
import { type Shelf, withParts } from '../../scenario/parts/parts.ts';
import { scenarioSchema } from '../../scenario/schema/schema.ts';
import type { SourceDocument } from '../../scenario/text/document.ts';
import { type Path, parsePath, pathText, valueAt } from '../../scenario/text/path.ts';
import { everyField, schemaAt } from '../../scenario/text/shape.ts';
import { placesOf } from './places.ts';

const refuse = refusal.bind(null, 'axis');

/**
 * Where a path leads, if the scenario may have such a key: several places where it says `[*]`. Sections that are left
 * out may come into being by it, items of a list may not.
 *
 * @param asked what asks for it, for messages
 * @throws InputError for an unknown path, with the nearest
 */
export function checkPath(
  written: SourceDocument,
  shelf: Shelf,
  text: string,
  asked: string,
): readonly Path[] {
  const path = parsePath(text);
  if (path[0] === 'parts_files')
    throw refuse(
      asked,
      'parts files are all read at once and do not vary',
      'list every file under parts_files and vary the name of the part',
      'a key that names a part: bank.part, arrays[0].part, inverter.part',
    );
  const { data } = withParts(written, shelf);
  const places = placesOf(data, path);
  // What a path can't be read as is left out of it: `arrays[` would be all arrays.
  if (pathText(path) === text && places.length > 0 && places.every((place) => isKey(data, place))) {
    const missing = places.flatMap((place) => missingList(written.data, place));
    if (missing.length === 0) return places;
    const lent = valueAt(data, missing) !== undefined;
    throw refuse(
      asked,
      `is an item of a list that ${lent ? 'a part brings' : 'the file leaves out'}`,
      `write the list into the scenario to vary its items${lent ? ', or vary the name of the part' : ''}`,
    );
  }
  refuseOpenList(data, path, asked);
  refuseOtherKind(text, asked);
  const near = nearest(text, [...leafPaths(data), ...unlisted()]);
  throw refuse(
    asked,
    'is no key of this scenario',
    near === undefined
      ? 'write the path as in the file: arrays[0].size_kWp, bank.modules_parallel'
      : `did you mean "${near}"?`,
  );
}

const isKey = (data: unknown, path: Path): boolean =>
  path.length > 0 && schemaAt(scenarioSchema, data, path) !== undefined && canStand(data, path);

/** True if nothing on the way to a key is anything else than a mapping, or a list above a number that it has. */
export function canStand(data: unknown, path: Path): boolean {
  let value = data;
  for (const step of path) {
    if (value === undefined) continue;
    if (typeof value !== 'object' || value === null) return false;
    if (Array.isArray(value) ? typeof step !== 'number' || step >= value.length : typeof step !== 'string')
      return false;
    value = Object.hasOwn(value, step) ? (value as Record<string | number, unknown>)[step] : undefined;
  }
  return true;
}

/** The list of which a path names an item, where it is not written; else nothing. */
function missingList(data: unknown, path: Path): Path {
  const item = path.findLastIndex((step) => typeof step === 'number');
  return item < 0 || valueAt(data, path.slice(0, item + 1)) !== undefined ? [] : path.slice(0, item);
}

/** @throws InputError if the path passes by a list without saying which of its items */
function refuseOpenList(data: unknown, path: Path, asked: string): void {
  const { list, meant } = intoItem(data, path);
  if (list === null) return;
  const place = pathText(list.path);
  throw refuse(
    asked,
    `${place} is a list of ${list.items}, and the path doesn't say which of them`,
    isKey(data, meant)
      ? `did you mean "${pathText(meant)}"?${list.items > 1 ? ` The items are ${place}[0] to ${place}[${list.items - 1}], and ${place}[*] is all of them.` : ''}`
      : `write ${place}[0] for the first of them`,
  );
}

/** @throws InputError if the key is one of another kind than its section is of */
function refuseOtherKind(text: string, asked: string): void {
  const listless = text.replace(/\[(?:\d+|\*)\]/g, '[]');
  const kinds = [...everyField(scenarioSchema)]
    .filter(({ home, name, kind }) => `${home}.${name}` === listless && kind !== undefined)
    .map(({ kind }) => kind!);
  if (kinds.length === 0) return;
  const [section] = /^.*(?=\.)/.exec(text)!;
  throw refuse(
    asked,
    `is a key of ${section} only where its kind is ${kinds.join(' or ')}`,
    section!.endsWith('[*]')
      ? 'name the items that have it, as in loads[0].tier'
      : `give ${section}.kind too, or write the section into the scenario`,
  );
}

/** A path with the first item of each list that it passes by without saying which; and the first such list. */
function intoItem(
  data: unknown,
  path: Path,
): { readonly list: { readonly path: Path; readonly items: number } | null; readonly meant: Path } {
  let list: { path: Path; items: number } | null = null;
  const meant: (string | number)[] = [];
  let value = data;
  for (const step of path) {
    if (Array.isArray(value) && typeof step === 'string' && step !== '*') {
      list ??= { path: [...meant], items: value.length };
      meant.push(0);
      value = value[0];
    }
    meant.push(step);
    value =
      typeof value === 'object' && value !== null
        ? (value as Record<string | number, unknown>)[step]
        : undefined;
  }
  return { list, meant };
}

function leafPaths(data: unknown, under = ''): string[] {
  if (Array.isArray(data)) return data.flatMap((item, k) => leafPaths(item, `${under}[${k}]`));
  if (typeof data === 'object' && data !== null) {
    return Object.entries(data).flatMap(([key, value]) =>
      leafPaths(value, under === '' ? key : `${under}.${key}`),
    );
  }
  return [under];
}

/** Keys that no list is above, whether the file has them or not. */
const unlisted = (): string[] =>
  [...everyField(scenarioSchema)]
    .filter(({ home }) => home !== '' && !home.includes('[]'))
    .map(({ home, name }) => `${home}.${name}`);
