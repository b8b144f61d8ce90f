/**
 * Numbers, words and nulls of a report by their path, `unmet.hours`, in its order.
 *
 * @param aside paths that are left out, with all below them
 */
export function figuresOf(value: unknown, aside: RegExp, path = ''): [string, unknown][] {
  if (aside.test(path)) return [];
  if (value === null || typeof value !== 'object') return [[path, value]];
  return Object.entries(value).flatMap(([key, inner]) =>
    figuresOf(inner, aside, path === '' ? key : `${path}.${key}`),
  );
}
