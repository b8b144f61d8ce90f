/** What a value is, in a word or two. */
export function kindOf(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (value === null) return 'null';
  if (typeof value === 'object') return `an object of class ${value.constructor?.name ?? 'unknown'}`;
  return typeof value === 'number' ? String(value) : `a ${typeof value}`;
}
