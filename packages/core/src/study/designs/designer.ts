import { InputError, type Issue } from '../../basis/errors.ts';
import { memo } from '../../basis/memo.ts';
import { type Shelf, withParts } from '../../scenario/parts/parts.ts';
import { checkedScenario } from '../../scenario/read.ts';
import { checkScenario } from '../../scenario/rules/check.ts';
import { type Scenario, scenarioSchema } from '../../scenario/schema/schema.ts';
import type { SourceDocument } from '../../scenario/text/document.ts';
import type { Path } from '../../scenario/text/path.ts';

/** One design of a study: a scenario, or the reason why its values contradict each other. */
export type Design =
  | { readonly scenario: Scenario; readonly contradiction: null }
  | { readonly scenario: null; readonly contradiction: string };

/** A value put in the place of another, as if the file said so. */
export interface PathValue {
  readonly path: Path;
  readonly value: unknown;
}

/**
 * Makes designs of one scenario file by putting values into it. Sections that were checked before are not checked
 * again.
 *
 * @param written the file as it stands, parts not filled in: what is put in goes before what a part lends
 */
export function newDesigner(written: SourceDocument, shelf: Shelf): (values: readonly PathValue[]) => Design {
  const read = newSectionReader();
  return (values) => {
    try {
      const filled = withParts(withValues(written, values), shelf);
      // The slow way says what is wrong and where.
      const scenario = read(filled) ?? checkedScenario(filled, new Map()).scenario;
      const issues = checkScenario(scenario);
      return issues.length === 0
        ? { scenario, contradiction: null }
        : { scenario: null, contradiction: sentence(issues) };
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      return { scenario: null, contradiction: sentence(error.issues) };
    }
  };
}

/** A document with values put into it, as if its file said so. */
export const withValues = (written: SourceDocument, values: readonly PathValue[]): SourceDocument => ({
  ...written,
  data: values.reduce((data, { path, value }) => setAt(data, path, value), written.data),
});

const sentence = (issues: readonly Issue[]): string =>
  issues.map((issue) => `${issue.path}: ${issue.message}`).join('; ');

/** A section that was checked; null if it can't be. */
type Parsed = { readonly data: unknown } | null;

/**
 * Reads scenarios section by section, each distinct section once: a study changes few of them at a time, and reading
 * them all costs more than playing the year. Sections that no value touches are the very same objects in every design;
 * others are known again by their text.
 *
 * @returns a function from a document, parts filled in, to its scenario; null if a section is not what it may be
 */
export function newSectionReader(): (document: SourceDocument) => Scenario | null {
  const byText = memo<{ readonly parsed: Parsed }>(4096);
  const last = new Map<string, { readonly value: unknown; readonly parsed: Parsed }>();
  const parsedOf = (key: string, schema: Section, value: unknown): Parsed => {
    const before = last.get(key);
    if (before !== undefined && before.value === value) return before.parsed;
    const { parsed } = byText(`${key} ${JSON.stringify(value)}`, () => {
      const result = schema.safeParse(value);
      return { parsed: result.success ? { data: result.data } : null };
    });
    last.set(key, { value, parsed });
    return parsed;
  };
  return (document) => {
    const data = document.data as Readonly<Record<string, unknown>>;
    const scenario: Record<string, unknown> = {};
    // Every section of the schema, not of the file: one that is left out may have a default.
    for (const [key, schema] of Object.entries<Section>(scenarioSchema.shape)) {
      const parsed = parsedOf(key, schema, data[key]);
      if (parsed === null) return null;
      if (parsed.data !== undefined) scenario[key] = parsed.data;
    }
    return scenario as unknown as Scenario;
  };
}

type Section = (typeof scenarioSchema.shape)[keyof typeof scenarioSchema.shape];

/**
 * Plain data with one value replaced, or a key taken out by undefined; everything beside the path is shared with the original.
 *
 * @throws RangeError if the path leads through something that is neither a mapping nor a list, or past a list's end
 */
export function setAt(data: unknown, path: Path, value: unknown): unknown {
  const [step, ...rest] = path;
  if (step === undefined) return value;
  if (typeof step === 'number') {
    if (!Array.isArray(data) || step >= data.length) throw new RangeError(`setAt: no item ${step}`);
    return data.map((item: unknown, k) => (k === step ? setAt(item, rest, value) : item));
  }
  if (data !== undefined && (typeof data !== 'object' || data === null || Array.isArray(data))) {
    throw new RangeError(`setAt: no key ${step} in a plain value or a list`);
  }
  const mapping = (data ?? {}) as Readonly<Record<string, unknown>>;
  const changed = { ...mapping, [step]: setAt(mapping[step], rest, value) };
  if (changed[step] === undefined) delete changed[step];
  return changed;
}
