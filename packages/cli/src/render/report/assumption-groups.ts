import type { Assumption, Report } from '@longnight/core';
import { whyText } from './notice-words.ts';

/**
 * Assumptions as they are listed. The same default in several items of a list is one row that names them all, as in
 * `loads[0, 1, 4].days`: a plant with forty loads would otherwise hide the rest in rows that say the same.
 */
export function grouped(list: Report['assumptions']): readonly Pick<Assumption, 'path' | 'value' | 'why'>[] {
  const groups = new Map<string, { first: Pick<Assumption, 'path' | 'value' | 'why'>; items: string[] }>();
  for (const assumption of list) {
    const { path, value } = assumption;
    const why = whyText(assumption);
    const key = JSON.stringify([path.replace(ITEM, '[]'), value, why]);
    const group = groups.get(key) ?? { first: { path, value, why }, items: [] };
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
