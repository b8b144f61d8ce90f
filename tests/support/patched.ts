/** Something found, with some of it replaced: mappings go into each other, all else takes the place of what was there. */
export function patched<T>(found: T, own: unknown): T {
  const isMapping = (value: unknown): value is Readonly<Record<string, unknown>> =>
    typeof value === 'object' && value !== null && !Array.isArray(value);
  if (!isMapping(found) || !isMapping(own)) return own as T;
  const merged: Record<string, unknown> = { ...found };
  for (const [key, value] of Object.entries(own)) merged[key] = patched(merged[key], value);
  return merged as T;
}
