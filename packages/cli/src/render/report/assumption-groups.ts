import type { Assumption } from '@longnight/core';

/**
 * Assumptions as they are listed. The same default in several items of a list is one row that names them all, as in
 * `loads[0, 1, 4].days`: a plant with forty loads would otherwise hide the rest in rows that say the same.
 */
export function grouped(list: readonly Assumption[]): readonly Pick<Assumption, 'path' | 'value' | 'why'>[] {
  const groups = new Map<string, { first: Assumption; items: string[] }>();
  for (const assumption of list) {
    const key = JSON.stringify([assumption.path.replace(ITEM, '[]'), assumption.value, assumption.why]);
    const group = groups.get(key) ?? { first: assumption, items: [] };
    group.items.push(assumption.path.match(ITEM)?.[1] ?? '');
    groups.set(key, group);
  }
  return [...groups.values()].map(({ first: { path, value, why }, items }) => ({
    path: path.replace(ITEM, `[${items.join(', ')}]`),
    value,
    why,
  }));
}

/** The first place in a list that a path goes through. */
const ITEM = /\[(\d+)\]/;
