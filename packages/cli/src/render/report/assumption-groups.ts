import type { Assumption, Report } from '@longnight/core';
import { counted } from '../document/figures.ts';
import { whyText } from './notice-words.ts';

/** An assumption as a person counts it: once, however many parts or loads it is made for. */
export interface Counted extends Pick<Assumption, 'path' | 'moves'> {
  /** The value, and for how many it is. */
  readonly value: string;
  readonly why: string;
}

/** What an item of the list is called in which a path lies. */
export const itemNoun = (path: string): string =>
  ({ arrays: 'array', loads: 'load' })[path.slice(0, path.indexOf('['))] ?? 'item';

/** The same default in several items of a list is one, as `loads[].days` for 9 loads. */
export function countedOnce(list: Report['assumptions']): readonly Counted[] {
  const groups = new Map<string, { first: Report['assumptions'][number]; count: number }>();
  for (const assumption of list) {
    const key = JSON.stringify([assumption.path.replace(ITEM, '[]'), assumption.value, whyText(assumption)]);
    const group = groups.get(key);
    groups.set(key, { first: group?.first ?? assumption, count: (group?.count ?? 0) + 1 });
  }
  return [...groups.values()].map(({ first, count }) => {
    const { path, value, moves } = first;
    const many = count === 1 ? '' : `for ${counted(count, itemNoun(path))}`;
    return {
      path: count === 1 ? path : path.replace(ITEM, '[]'),
      moves,
      value: [...(value === null ? [] : [String(value)]), ...(many === '' ? [] : [many])].join(', '),
      why: whyText(first),
    };
  });
}

/** The first place in a list that a path goes through. */
const ITEM = /\[\d+\]/;
