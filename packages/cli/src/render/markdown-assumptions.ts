import type { Assumption } from '@longnight/core';
import { counted } from './figures.ts';
import { escaped, table } from './markdown-text.ts';

/**
 * Every assumption. The same default in several items of a list is one row that names them all, as in
 * `loads[0, 1, 4].days`: a plant with forty loads would otherwise hide the rest in rows that say the same.
 */
export function assumptions(list: readonly Assumption[]): string {
  const groups = new Map<string, { first: Assumption; items: string[] }>();
  for (const assumption of list) {
    const key = JSON.stringify([assumption.path.replace(ITEM, '[]'), assumption.value, assumption.why]);
    const group = groups.get(key) ?? { first: assumption, items: [] };
    group.items.push(assumption.path.match(ITEM)?.[1] ?? '');
    groups.set(key, group);
  }
  const rows = [...groups.values()].map(({ first, items }) => [
    `\`${first.path.replace(ITEM, `[${items.join(', ')}]`).replaceAll('`', '')}\``,
    first.value === null ? '' : escaped(String(first.value)),
    escaped(first.why),
  ]);
  return [
    `${counted(list.length, 'assumption')}: defaults that the scenario left open, and what the model leaves out.`,
    table([{ title: 'what' }, { title: 'value' }, { title: 'why' }], rows),
  ].join('\n\n');
}

/** The first place in a list that a path goes through. */
const ITEM = /\[(\d+)\]/;
