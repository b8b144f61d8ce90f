import type { Axis } from '@longnight/core';
import type { DesignList } from '../workers/designs.ts';

/**
 * Places of an even thinning of a list, both ends included; the middle if there is room for one only.
 *
 * @param count length of the list
 * @param most places that are wanted at most
 */
export function evenly(count: number, most: number): readonly number[] {
  if (count <= most) return Array.from({ length: count }, (_, k) => k);
  if (most === 1) return [Math.floor((count - 1) / 2)];
  return Array.from({ length: most }, (_, k) => Math.round((k * (count - 1)) / (most - 1)));
}

/** Indices of at most `most` designs, spread evenly over the values of each key; over the list if it is no grid. */
export function spreadDesigns(axes: readonly Axis[], list: DesignList, most: number): ReadonlySet<number> {
  if (list.count <= most || list.part !== null || !isGrid(axes, list))
    return new Set(evenly(list.count, most).map(list.at));
  const taken = axes.map(() => 1);
  const product = (): number => taken.reduce((whole, n) => whole * n, 1);
  // One value more for the key that has the fewest so far, as long as there is room.
  for (;;) {
    const room = axes
      .map((_, k) => k)
      .filter((k) => taken[k]! < axes[k]!.values.length && (product() / taken[k]!) * (taken[k]! + 1) <= most);
    const next = room.reduce((least, k) => (least < 0 || taken[k]! < taken[least]! ? k : least), -1);
    if (next < 0) break;
    taken[next]!++;
  }
  let indices = [0];
  axes.forEach((axis, k) => {
    const digits = evenly(axis.values.length, taken[k]!);
    indices = indices.flatMap((index) => digits.map((digit) => index * axis.values.length + digit));
  });
  return new Set(indices);
}

/** True if every combination is played. */
export const isGrid = (axes: readonly Axis[], list: DesignList): boolean =>
  list.whole === axes.reduce((count, axis) => count * axis.values.length, 1);
