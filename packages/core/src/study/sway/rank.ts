import { SWUNG, type Swayed } from './swayed.ts';

/** Swings as near as this are equal: below it is the rounding of sums. */
const SAME = 1e-6;

/** How near the verdict turns, in ranges; infinite where it does not. */
export const nearest = ({ turns, turned_by }: Swayed): number =>
  turned_by.length > 0 ? 1 : Math.min(Number.POSITIVE_INFINITY, ...turns.map(({ reach }) => reach));

/**
 * Who comes first: whose verdict turns within a smaller part of the range; then who moves more unmet energy, more
 * run-hours, more money, the lowest state of charge more. Equal ones stay as they are.
 */
export function compareSways(a: Swayed, b: Swayed): number {
  const [reachA, reachB] = [nearest(a), nearest(b)];
  if (reachA !== reachB) return reachA - reachB;
  for (const name of SWUNG) {
    const more = (b.swing[name] ?? 0) - (a.swing[name] ?? 0);
    if (Math.abs(more) > SAME) return more;
  }
  return 0;
}

/** True if it moves none of the figures by more than rounding. */
export const movesNothing = (swayed: Swayed): boolean =>
  nearest(swayed) === Number.POSITIVE_INFINITY && SWUNG.every((name) => (swayed.swing[name] ?? 0) <= SAME);
