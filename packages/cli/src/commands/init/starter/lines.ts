/** Edits to the text of the starter, before its keys are explained. */

/** The first line of a section and the line after its last; comments between sections belong to neither. */
function bounds(lines: readonly string[], section: string): readonly [from: number, to: number] {
  const from = lines.findIndex((line) => line.startsWith(`${section}:`));
  if (from < 0) throw new Error(`the starter has no ${section}`);
  const next = lines.findIndex((line, k) => k > from && /^\S/.test(line));
  return [from, next < 0 ? lines.length : next];
}

/** The line of a key that is in use, the first of that name in its section, and the line after its value. */
function keyAt(
  lines: readonly string[],
  section: string,
  key: string,
): readonly [at: number, to: number] | null {
  const [from, to] = bounds(lines, section);
  const at = lines.findIndex((line, k) => k > from && k < to && new RegExp(`^ +(- )?${key}:`).test(line));
  if (at < 0) return null;
  const depth = lines[at]!.search(/\S/);
  const end = lines.findIndex((line, k) => k > at && (k >= to || line.search(/\S/) <= depth));
  return [at, end < 0 ? lines.length : end];
}

/** Where comments begin, unless the key with its value is longer. */
export const COLUMN = 32;

/** Gives a key another value, and the reason for it as a comment. */
export function setKey(
  lines: readonly string[],
  section: string,
  key: string,
  value: string,
  why?: string,
): string[] {
  const found = keyAt(lines, section, key);
  if (found === null) throw new Error(`the starter has no ${section}.${key}`);
  const [at] = found;
  const line = lines[at]!.replace(/:.*$/, () => `: ${value}`);
  return lines.with(at, why === undefined ? line : `${line.padEnd(COLUMN - 2)}  # ${why}`);
}

/** Puts lines of keys into a section, behind its first line or behind the line of a key. */
export function addKeys(
  lines: readonly string[],
  section: string,
  keys: readonly string[],
  behind?: string,
): string[] {
  const at = behind === undefined ? bounds(lines, section)[0] : keyAt(lines, section, behind)![0];
  return lines.toSpliced(at + 1, 0, ...keys);
}

/** Turns a key with its whole value into comments; what is not there is left as it is. */
export function dropKey(lines: readonly string[], section: string, key: string): string[] {
  const found = keyAt(lines, section, key);
  return found === null ? [...lines] : commented(lines, found[0], found[1]);
}

/** Turns what a section holds into comments, and the section itself unless only its content is meant. */
export function dropSection(lines: readonly string[], section: string, contentOnly = false): string[] {
  const [from, to] = bounds(lines, section);
  return commented(lines, contentOnly ? from + 1 : from, to);
}

function commented(lines: readonly string[], from: number, to: number): string[] {
  const depth = lines[from]!.search(/\S/);
  return lines.map((line, k) =>
    k < from || k >= to || line.trim() === '' ? line : `${line.slice(0, depth)}# ${line.slice(depth)}`,
  );
}
