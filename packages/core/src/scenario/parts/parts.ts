import { InputError, type Issue, issue } from '../../basis/errors.ts';
import { nearest } from '../../basis/nearest.ts';
import type { SourceDocument } from '../text/document.ts';
import { foundText } from '../text/hints.ts';
import { type Path, parsePath, pathText, valueAt } from '../text/path.ts';
import { type Mapping, type Part, type PartKind, readParts } from './file.ts';

/**
 * Parts: what a scenario may name instead of typing a data sheet. A part's values stand in for keys that the scenario
 * leaves out; what the scenario says itself wins.
 */

/** All parts of some files by name. */
export type Shelf = ReadonlyMap<string, Part>;

/** @throws InputError if two parts have one name */
export function shelve(texts: ReadonlyMap<string, string>): Shelf {
  const shelf = new Map<string, Part>();
  for (const [file, text] of texts) {
    for (const part of readParts(text, file)) {
      const other = shelf.get(part.name);
      if (other !== undefined) {
        const there = other.source.valuePlace([...other.path, 'name']);
        const at = [...part.path, 'name'];
        throw new InputError([
          issue('duplicate-name', pathText(at), { place: part.source.valuePlace(at) })`a part named
            "${part.name}" stands in ${there.file}:${there.line} already | give each part its own name`,
        ]);
      }
      shelf.set(part.name, part);
    }
  }
  return shelf;
}

/** True if a value stands at the path: data read from a file holds no undefined. */
const has = (data: unknown, path: Path): boolean => valueAt(data, path) !== undefined;

const isMapping = (value: unknown): value is Mapping =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Keys whose value has one of several forms: two half ones don't make a whole one. */
const TAKEN_WHOLE = new Set(['efficiency', 'temperature', 'model', 'starts', 'cell_model']);
/** Fuel by points and fuel by two named loads are two forms as well; within one of them keys may be lent. */
const isOtherForm = (a: Mapping, b: Mapping): boolean => 'points' in a !== 'points' in b;

/** The first where it says something, the second elsewhere; mappings within mappings alike. */
function over(own: Mapping, lent: Mapping): Mapping {
  const merged: Record<string, unknown> = { ...lent };
  for (const [key, value] of Object.entries(own)) {
    const below = lent[key];
    const isBoth =
      isMapping(value) && isMapping(below) && !TAKEN_WHOLE.has(key) && !isOtherForm(value, below);
    merged[key] = isBoth ? over(value, below) : value;
  }
  return merged;
}

/** Where a value that a part lent stands. */
interface Loan {
  readonly at: Path;
  readonly part: Part;
  readonly within: Path;
}

/**
 * Fills in what parts lend and what panels add up to: `arrays[k].size_kWp` from `panels` × `panel_kWp`. What an
 * all-in-one brings is marked `built_in`, once for each unit, and gets the all-in-one's name as its `part`, so that the
 * bill knows it is paid for.
 *
 * @returns a document whose places point to the parts file for lent values
 * @throws InputError for a part that no file has, one of the wrong kind, or an array too many for the trackers
 */
export function withParts(document: SourceDocument, shelf: Shelf): SourceDocument {
  const root = document.data;
  if (!isMapping(root)) return document;
  if (root.parts_files !== undefined && !Array.isArray(root.parts_files)) {
    throw new InputError([notAList(root.parts_files, document)]);
  }
  const loans: Loan[] = [];
  const issues: Issue[] = [];

  const borrow = (section: Mapping, at: Path, kind: PartKind): { filled: Mapping; part?: Part } => {
    const name = section.part;
    if (typeof name !== 'string') return { filled: section };
    const part = shelf.get(name);
    if (part === undefined || part.kind !== kind) {
      const names = [...shelf.values()].filter((p) => p.kind === kind).map((p) => p.name);
      const near = nearest(name, names);
      const why =
        root.parts_files === undefined ? 'no parts_files are named' : 'the files in parts_files hold none';
      const expected =
        names.length === 0 ? `a part of kind ${kind}, but ${why}` : `one of ${names.join(', ')}`;
      const also = { expected, place: document.valuePlace([...at, 'part']) };
      const found = part ? `"${name}" is a part of kind ${part.kind}` : `no part is named "${name}"`;
      const fix = near ? `did you mean "${near}"?` : 'name the file that holds it under parts_files';
      issues.push(issue('unknown-part', pathText([...at, 'part']), also)`${found} | ${fix}`);
      return { filled: section };
    }
    loans.push({ at, part, within: [...part.path, 'values'] });
    return { filled: over(section, part.values), part };
  };

  const filled: Record<string, unknown> = { ...root };
  const fill = (key: string, kind: PartKind): Part | undefined => {
    const section = root[key];
    if (!isMapping(section)) return undefined;
    const { filled: whole, part } = borrow(section, [key], kind);
    filled[key] = whole;
    return part;
  };
  fill('bank', 'module');
  fill('generator', 'generator');
  const allInOne = fill('inverter', 'inverter');
  const units = unitsOf(filled.inverter);
  if (root.charger !== undefined) fill('charger', 'charger');
  else if (allInOne?.brings.charger) {
    filled.charger = { built_in: true, ...allInOne.brings.charger, part: allInOne.name };
    loans.push({ at: ['charger'], part: allInOne, within: [...allInOne.path, 'brings', 'charger'] });
  }
  if (Array.isArray(root.arrays)) {
    let trackersLeft = allInOne?.brings.tracker ? allInOne.brings.trackers * units : 0;
    filled.arrays = root.arrays.map((item: unknown, k): unknown => {
      if (!isMapping(item)) return item;
      const at = ['arrays', k];
      const array: Record<string, unknown> = { ...borrow(item, at, 'panel').filled };
      if (isMapping(array.tracker))
        array.tracker = borrow(array.tracker, [...at, 'tracker'], 'tracker').filled;
      else if (array.tracker === undefined && allInOne?.brings.tracker) {
        if (trackersLeft === 0) issues.push(noTrackerLeft(allInOne, units, at, document));
        else trackersLeft--;
        array.tracker = { built_in: true, ...allInOne.brings.tracker, part: allInOne.name };
        const within = [...allInOne.path, 'brings', 'tracker'];
        loans.push({ at: [...at, 'tracker'], part: allInOne, within });
      }
      const { panels, panel_kWp } = array;
      if (array.size_kWp === undefined && typeof panels === 'number' && typeof panel_kWp === 'number') {
        array.size_kWp = Number((panels * panel_kWp).toPrecision(12));
      }
      return array;
    });
  }
  if (issues.length > 0) throw new InputError(issues);
  return loans.length === 0 ? { ...document, data: filled } : lent(document, filled, loans);
}

function notAList(value: unknown, document: SourceDocument): Issue {
  const also = { expected: 'a list of files', place: document.valuePlace(['parts_files']) };
  return issue('wrong-type', 'parts_files', also)`found ${foundText(value)} | write parts_files: ${
    typeof value === 'string' ? `["${value}"]` : '[parts.yaml]'
  }`;
}

/** Of a stack each unit brings what its part says; a number that the schema will refuse counts as one. */
function unitsOf(inverter: unknown): number {
  const units = isMapping(inverter) ? inverter.units : undefined;
  return typeof units === 'number' && units >= 1 ? units : 1;
}

function noTrackerLeft({ name, brings }: Part, units: number, at: Path, document: SourceDocument): Issue {
  const count = brings.trackers * units;
  const who = units === 1 ? `"${name}" brings` : `${units} of "${name}" bring`;
  const also = { expected: 'an array for each tracker', place: document.valuePlace(at) };
  return issue(
    'no-tracker',
    pathText(at),
    also,
  )`${who} ${count === 1 ? 'one tracker' : `${count} trackers`}, and
    none is left for this array | give this array a tracker of its own, or put panels that face alike into one
    array`;
}

/** A document that finds a lent value in the file of the part that lent it. */
function lent(document: SourceDocument, data: Mapping, loans: readonly Loan[]): SourceDocument {
  const loanOf = (path: Path): Loan | undefined =>
    has(document.data, path)
      ? undefined
      : loans.find(
          ({ at, part, within }) =>
            at.every((step, k) => step === path[k]) &&
            has(part.source.data, [...within, ...path.slice(at.length)]),
        );
  const at = (kind: 'keyPlace' | 'valuePlace') => (path: Path) => {
    const loan = loanOf(path);
    return loan === undefined
      ? document[kind](path)
      : loan.part.source[kind]([...loan.within, ...path.slice(loan.at.length)]);
  };
  const valuePlace = at('valuePlace');
  return { data, keyPlace: at('keyPlace'), valuePlace, place: (text) => valuePlace(parsePath(text)) };
}
