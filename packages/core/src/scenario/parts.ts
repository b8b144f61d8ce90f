import * as z from 'zod';
import { InputError, type Issue } from '../basis/errors.ts';
import { parseText, type SourceDocument } from './document.ts';
import { nearest } from './nearest.ts';
import { type Path, parsePath, pathText } from './path.ts';

/**
 * Parts: what a scenario may name instead of typing a data sheet. A part's values stand in for keys that the scenario
 * leaves out; what the scenario says itself wins.
 */

/** Kinds of parts and the section of a scenario that each fills. */
export const PART_KINDS = ['panel', 'module', 'inverter', 'charger', 'tracker', 'generator'] as const;
export type PartKind = (typeof PART_KINDS)[number];

type Mapping = Readonly<Record<string, unknown>>;

export interface Part {
  readonly name: string;
  readonly kind: PartKind;
  readonly about: string | null;
  readonly values: Mapping;
  /** Built into an all-in-one: used where the scenario names none. */
  readonly brings: { readonly charger?: Mapping | undefined; readonly tracker?: Mapping | undefined };
  readonly source: SourceDocument;
  /** Path of the part within its file. */
  readonly path: Path;
}

const mapping = z.record(z.string(), z.unknown());
const partsSchema = z.strictObject({
  parts: z
    .array(
      z.strictObject({
        name: z.string().trim().min(1).max(100),
        kind: z.enum(PART_KINDS),
        about: z.string().optional(),
        values: mapping,
        brings: z.strictObject({ charger: mapping.optional(), tracker: mapping.optional() }).optional(),
      }),
    )
    .min(1),
});

/**
 * Reads one parts file.
 *
 * @throws InputError with a place for every issue; values are checked later, as part of the scenario that uses them
 */
export function readParts(text: string, file: string): readonly Part[] {
  const source = parseText(text, file);
  const parsed = partsSchema.safeParse(source.data);
  if (!parsed.success) {
    throw new InputError(
      parsed.error.issues.map((issue): Issue => {
        const unknown = issue.code === 'unrecognized_keys';
        const path = unknown ? [...(issue.path as Path), issue.keys[0]!] : (issue.path as Path);
        return {
          code: unknown ? 'unknown-key' : 'wrong-value',
          path: pathText(path),
          message: unknown ? 'unknown key' : issue.message.replace(/^Invalid input: /, ''),
          fix: `a part has name, kind (${PART_KINDS.join(', ')}), values and, if it wants, about and brings`,
          place: unknown ? source.keyPlace(path) : source.valuePlace(path),
        };
      }),
    );
  }
  return parsed.data.parts.map((part, i) => ({
    name: part.name,
    kind: part.kind,
    about: part.about ?? null,
    values: part.values,
    brings: part.brings ?? {},
    source,
    path: ['parts', i],
  }));
}

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
        throw new InputError([
          {
            code: 'duplicate-name',
            path: pathText([...part.path, 'name']),
            message: `a part named "${part.name}" stands in ${there.file}:${there.line} already`,
            fix: 'give each part its own name',
            place: part.source.valuePlace([...part.path, 'name']),
          },
        ]);
      }
      shelf.set(part.name, part);
    }
  }
  return shelf;
}

/** True if a value stands at the path. */
function has(data: unknown, path: Path): boolean {
  let value = data;
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return false;
    value = (value as Record<string | number, unknown>)[step];
  }
  return true;
}

const isMapping = (value: unknown): value is Mapping =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** The first where it says something, the second elsewhere; mappings within mappings alike. */
function over(own: Mapping, lent: Mapping): Mapping {
  const merged: Record<string, unknown> = { ...lent };
  for (const [key, value] of Object.entries(own)) {
    const below = lent[key];
    merged[key] = isMapping(value) && isMapping(below) ? over(value, below) : value;
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
 * Fills in what parts lend and what panels add up to: `arrays[k].size_kWp` from `panels` × `panel_kWp`.
 *
 * @returns a document whose places point to the parts file for lent values
 * @throws InputError for a part that no file has, or one of the wrong kind
 */
export function withParts(document: SourceDocument, shelf: Shelf): SourceDocument {
  const root = document.data;
  if (!isMapping(root)) return document;
  const loans: Loan[] = [];
  const issues: Issue[] = [];

  const borrow = (
    section: Mapping,
    at: Path,
    kind: PartKind,
  ): { filled: Mapping; part: Part | undefined } => {
    const name = section.part;
    if (typeof name !== 'string') return { filled: section, part: undefined };
    const part = shelf.get(name);
    if (part === undefined || part.kind !== kind) {
      const names = [...shelf.values()].filter((p) => p.kind === kind).map((p) => p.name);
      const near = nearest(name, names);
      issues.push({
        code: 'unknown-part',
        path: pathText([...at, 'part']),
        message:
          part === undefined ? `no part is named "${name}"` : `"${name}" is a part of kind ${part.kind}`,
        expected:
          names.length === 0
            ? `a part of kind ${kind}, but the files in parts_files hold none`
            : `one of ${names.join(', ')}`,
        fix: near === undefined ? 'name the file that holds it under parts_files' : `did you mean "${near}"?`,
        place: document.valuePlace([...at, 'part']),
      });
      return { filled: section, part: undefined };
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
  if (root.charger !== undefined) fill('charger', 'charger');
  else if (allInOne?.brings.charger) {
    filled.charger = allInOne.brings.charger;
    loans.push({ at: ['charger'], part: allInOne, within: [...allInOne.path, 'brings', 'charger'] });
  }
  if (Array.isArray(root.arrays)) {
    filled.arrays = root.arrays.map((item: unknown, k): unknown => {
      if (!isMapping(item)) return item;
      const at = ['arrays', k];
      const array: Record<string, unknown> = { ...borrow(item, at, 'panel').filled };
      if (isMapping(array.tracker))
        array.tracker = borrow(array.tracker, [...at, 'tracker'], 'tracker').filled;
      else if (array.tracker === undefined && allInOne?.brings.tracker) {
        array.tracker = allInOne.brings.tracker;
        loans.push({
          at: [...at, 'tracker'],
          part: allInOne,
          within: [...allInOne.path, 'brings', 'tracker'],
        });
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
