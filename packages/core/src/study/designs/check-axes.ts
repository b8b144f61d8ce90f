import { InputError, refusal } from '../../basis/errors.ts';
import { withParts } from '../../scenario/parts/parts.ts';
import { checkedScenario, type ReadScenario } from '../../scenario/read.ts';
import type { SourceDocument } from '../../scenario/text/document.ts';
import { parsePath, pathText } from '../../scenario/text/path.ts';
import { type Axis, factorOf } from './axes.ts';
import { newSectionReader, type PathValue, withValues } from './designer.ts';
import { canStand, checkPath } from './paths.ts';
import { multiplies, putsOf, type Target, targetOf } from './places.ts';

const refuse = refusal.bind(null, 'axis');

/** What is put where in a design, by which of its values each axis takes. */
export function newPuts(
  { scenario, source: { written, shelf } }: ReadScenario,
  axes: readonly Axis[],
): (digits: readonly number[]) => readonly PathValue[] {
  const { data } = withParts(written, shelf);
  const targets = axes.map(({ path }) => targetOf(data, parsePath(path)));
  return (digits) => {
    const values = axes.map((axis, k) => axis.values[digits[k]!]!);
    return [
      ...targets.flatMap((target, k) => target.before(values[k]!)),
      ...targets.flatMap((target, k) => putsOf(target, scenario, values[k]!)),
    ];
  };
}

/** A file, and what an axis changes in it. */
interface Base {
  readonly document: SourceDocument;
  readonly target: Target;
}

/**
 * Checks each axis by itself: its path, then each of its values. What one key alone can't say, it may say beside the
 * first values of the others: a section comes into being by several keys.
 *
 * @param option what the axes were given by, for messages
 * @throws InputError for an unknown path, with the nearest; a path twice; a value that the key can't take
 */
export function checkAxes(read: ReadScenario, axes: readonly Axis[], option: string): void {
  const { scenario } = read;
  const { written, shelf } = read.source;
  const reader = newSectionReader();
  const isSet = option === '--set';
  const taken = new Set<string>();
  for (const axis of axes) {
    const asked = `${option} ${axis.path}`;
    const others = axes.filter((other) => other !== axis && stands(read, other));
    const beside = withValues(written, newPuts(read, others)(others.map(() => 0)));
    const tried = (others.length === 0 ? [written] : [written, beside]).map((document) =>
      attempt((): Base => {
        checkPath(document, shelf, axis.path, asked);
        return { document, target: targetOf(withParts(document, shelf).data, parsePath(axis.path)) };
      }),
    );
    const bases = tried.filter((one): one is Base => !(one instanceof InputError));
    const [base] = bases;
    if (base === undefined) throw tried[0];
    for (const place of base.target.places.map(pathText)) {
      if (taken.has(place))
        throw isSet
          ? refuse(asked, 'is set twice', 'give it one value')
          : refuse(asked, 'varies twice', 'give all its values in one list');
      taken.add(place);
    }
    /** Why the key can't take a value, whatever the other axes do; null if it can. Rules between keys are left to the designs. */
    const wrong = (value: Axis['values'][number]): InputError | null => {
      let first: InputError | null = null;
      for (const { document, target } of bases) {
        const error = attempt(() => {
          const puts = [...target.before(value), ...putsOf(target, scenario, value)];
          const changed = withValues(document, puts);
          if (reader(withParts(changed, shelf)) === null) checkedScenario(changed, shelf);
          return null;
        });
        if (error === null) return null;
        first ??= error;
      }
      return first;
    };
    const found = axis.values.map((value) => ({ value, error: wrong(value) }));
    // Half of five panels is no number of panels, and twice as many is: a product is a matter of its design.
    const all = found.every(({ error }) => error !== null);
    for (const { value, error } of found)
      if (error !== null && (all || !multiplies(base.target, scenario, value)))
        throw refusedValue(axis.path, asked, value, error);
  }
}

const stands = ({ source: { written, shelf } }: ReadScenario, { path }: Axis): boolean => {
  const { data } = withParts(written, shelf);
  return targetOf(data, parsePath(path)).places.every((place) => canStand(data, place));
};

function attempt<T>(act: () => T): T | InputError {
  try {
    return act();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
}

function refusedValue(
  path: string,
  asked: string,
  value: number | string,
  { issues }: InputError,
): InputError {
  const missing = issues.filter(({ code }) => code === 'missing-key').map((issue) => issue.path);
  if (missing.length === issues.length)
    return refuse(
      asked,
      `can't be ${value}: needs ${missing.join(', ')} too, which the file leaves out`,
      `write what is missing into the scenario, or give it beside by ${asked.split(' ')[0]} PATH=VALUE`,
    );
  const issue = issues[0]!;
  const said = issue.path === path ? issue.message : `${issue.path}: ${issue.message}`;
  const expected = issue.expected === undefined ? '' : `; expected ${issue.expected}`;
  const nothing = factorOf(value) !== null && issue.message.includes(`"${value}"`);
  return refuse(
    asked,
    nothing
      ? `can't be ${value}: ${issue.path} is no single number here to multiply`
      : `can't be ${value}: ${said}${expected}`,
    nothing ? 'give the value itself' : (issue.fix ?? 'take values that this key may have'),
  );
}
