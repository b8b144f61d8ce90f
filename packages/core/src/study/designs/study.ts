import { InputError, refusal } from '../../basis/errors.ts';
import { nearest } from '../../basis/nearest.ts';
import { type Shelf, shelve, withParts } from '../../scenario/parts/parts.ts';
import { checkedScenario } from '../../scenario/read.ts';
import { scenarioSchema } from '../../scenario/schema/schema.ts';
import { parseText, type SourceDocument } from '../../scenario/text/document.ts';
import { type Path, parsePath, pathText } from '../../scenario/text/path.ts';
import { schemaAt } from '../../scenario/text/shape.ts';
import { type Axis, combinations, digitsOf } from './axes.ts';
import { type Design, newDesigner, newSectionReader, setAt } from './designer.ts';

const refuse = refusal.bind(null, 'axis');

/** All text that a study is made from: enough to make it anew in another thread or on another machine. */
export interface StudyText {
  /** The scenario's text and the name of its file. */ readonly text: string;
  /** Name of the scenario's file. */ readonly file: string;
  /** Text of each parts file, by the name the scenario uses. */ readonly partsTexts: ReadonlyMap<
    string,
    string
  >;
}

/** A scenario and the keys of it that vary. */
export interface Study {
  readonly axes: readonly Axis[];
  /** All combinations. */
  readonly designs: number;
  /** Values of the axes in a design, in the order of the axes. */
  readonly valuesOf: (index: number) => readonly (number | string)[];
  readonly design: (index: number) => Design;
}

/**
 * Lays out a study. Each value of each axis is checked on its own here; values that only contradict each other are
 * found when their design is made.
 *
 * @throws InputError for an unknown path (with the nearest), a path twice, or a value that the key can't take
 */
export function openStudy(source: StudyText, axes: readonly Axis[]): Study {
  const written = parseText(source.text, source.file);
  const shelf = shelve(source.partsTexts);
  // The scenario as it stands must be sound: then whatever fails below is the fault of an axis.
  checkedScenario(written, shelf);
  const read = newSectionReader();
  axes.forEach((axis, k) => {
    if (axes.findIndex((other) => other.path === axis.path) < k) {
      throw refuse(`--vary ${axis.path}`, 'varies twice', 'give all its values in one list');
    }
    checkPath(written, shelf, axis.path, `--vary ${axis.path}`);
    for (const value of axis.values) checkValue(written, shelf, axis, value, read);
  });
  return layOut(source, axes);
}

/** The same for a study that was opened before: nothing of it is checked again. */
export function layOut(source: StudyText, axes: readonly Axis[]): Study {
  const designed = newDesigner(parseText(source.text, source.file), shelve(source.partsTexts));
  const paths = axes.map((axis) => parsePath(axis.path));
  const designOf = (index: number): Design => {
    const digits = digitsOf(axes, index);
    return designed(paths.map((path, k) => ({ path, value: axes[k]!.values[digits[k]!] })));
  };
  return {
    axes,
    designs: combinations(axes),
    valuesOf: (index) => digitsOf(axes, index).map((digit, k) => axes[k]!.values[digit]!),
    design: designOf,
  };
}

/**
 * The steps of a path, if the scenario has such a key.
 *
 * @param asked what asks for it, for messages
 * @throws InputError for an unknown path, with the nearest
 */
export function checkPath(written: SourceDocument, shelf: Shelf, text: string, asked: string): Path {
  const path = parsePath(text);
  const { data } = withParts(written, shelf);
  // What a path can't be read as is left out of it: `arrays[` would be all arrays.
  if (pathText(path) === text && leads(data, path)) {
    const item = path.findLastIndex((step) => typeof step === 'number');
    if (reaches(written.data, path.slice(0, item + 1))) return path;
    throw refuse(
      asked,
      'is an item of a list that a part brings',
      'write the list into the scenario to vary its items, or vary the name of the part',
    );
  }
  const { list, meant } = intoItem(data, path);
  if (list !== null) {
    const place = pathText(list.path);
    throw refuse(
      asked,
      `${place} is a list of ${list.items}, and the path doesn't say which of them`,
      leads(data, meant)
        ? `did you mean "${pathText(meant)}"?${list.items > 1 ? ` The items are ${place}[0] to ${place}[${list.items - 1}].` : ''}`
        : `write ${place}[0] for the first of them`,
    );
  }
  const known = leafPaths(data);
  const near = nearest(text, known);
  throw refuse(
    asked,
    'is no key of this scenario',
    near === undefined
      ? 'write the path as in the file: arrays[0].size_kWp, bank.modules_parallel'
      : `did you mean "${near}"?`,
  );
}

const leads = (data: unknown, path: Path): boolean =>
  path.length > 0 && schemaAt(scenarioSchema, data, path) !== undefined && reaches(data, path);

/**
 * True if everything above the last step of a path is there, a mapping above a key and a list above a number: a section
 * that is left out can't be varied into being.
 */
function reaches(data: unknown, path: Path): boolean {
  let value = data;
  for (const [k, step] of path.entries()) {
    if (typeof value !== 'object' || value === null || Array.isArray(value) !== (typeof step === 'number'))
      return false;
    if (!Object.hasOwn(value, step)) return typeof step === 'string' && k === path.length - 1;
    value = (value as Record<string | number, unknown>)[step];
  }
  return true;
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
    if (Array.isArray(value) && typeof step === 'string') {
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

/** A value must be one that the key takes, whatever the other axes do. Rules between keys are left to the designs. */
function checkValue(
  written: SourceDocument,
  shelf: Shelf,
  axis: Axis,
  value: number | string,
  read: ReturnType<typeof newSectionReader>,
): void {
  const path = parsePath(axis.path);
  let message = '';
  let fix = 'take values that this key may have';
  try {
    const data = setAt(written.data, path, value);
    const filled = withParts({ ...written, data }, shelf);
    if (read(filled) !== null) return;
    checkedScenario({ ...written, data }, shelf);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const issue = error.issues[0]!;
    message = issue.path === axis.path ? issue.message : `${issue.path}: ${issue.message}`;
    if (issue.expected !== undefined) message += `; expected ${issue.expected}`;
    fix = issue.fix ?? fix;
  }
  throw refuse(`--vary ${axis.path}`, `can't be ${value}: ${message}`, fix);
}
