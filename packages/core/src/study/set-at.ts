import type { Path } from '../scenario/path.ts';

/**
 * Plain data with one value replaced; everything beside the path is shared with the original.
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
  return { ...mapping, [step]: setAt(mapping[step], rest, value) };
}
