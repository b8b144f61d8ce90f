import { tidy } from '../../basis/rounding.ts';

/** Where the verdict turns as one guess is moved. */

/** What is asked of one value: whether the plant holds with it; null where it can't be played. */
type Holds = (value: number) => boolean | null;

/** The verdict turns between two values. */
export interface Turn {
  /** Nearest value found with which it holds. */ readonly holds_at: number;
  /** Nearest value found with which it does not. */ readonly fails_at: number;
  /** How far off that is, in ranges to that side: above 1 it lies beyond the range. */ readonly reach: number;
}

/** Places between today and an end of the range, and beyond it, that are played. */
const LADDER = [1 / 3, 2 / 3, 1, 1.5, 2, 3];
/** How often what lies between two of them is halved. */
const HALVINGS = 16;

/** One side of a guess: which values were asked, today's first, and where the verdict turns. */
export interface Side {
  /** Farthest value that was played. */ readonly farthest: number;
  readonly turn: Turn | null;
}

/**
 * Goes from today to an end of a range in thirds, and on to three times as far. Where the verdict is another, all from
 * today to there is looked at in eighths, and the first in which it turns is halved: with a generator it may turn and
 * turn back. What turns back between two values that were played is not seen.
 *
 * @param end of the range on this side
 * @param limit nothing beyond it is asked
 */
export function sideOf(today: number, end: number, limit: number, now: boolean, holds: Holds): Side {
  let at = today;
  for (const step of LADDER) {
    const value = tidy(today + step * (end - today));
    const next = end > today ? Math.min(value, limit) : Math.max(value, limit);
    if (next === at) break;
    const held = holds(next);
    // What can't be played is passed by: whole numbers lie among what are none.
    if (held === null) continue;
    if (held !== now) {
      const [same, turned] = firstTurned(today, next, now, holds);
      return { farthest: next, turn: turnWithin(same, turned, today, end, now, holds) };
    }
    at = next;
  }
  return { farthest: at, turn: null };
}

const EIGHTHS = 8;

/** The first of the eighths between today and a value of another verdict in which the verdict turns. */
function firstTurned(today: number, far: number, now: boolean, holds: Holds): readonly [number, number] {
  let same = today;
  for (let k = 1; k < EIGHTHS; k++) {
    const value = tidy(today + (k / EIGHTHS) * (far - today));
    const held = holds(value);
    if (held === null) continue;
    if (held !== now) return [same, value];
    same = value;
  }
  return [same, far];
}

function turnWithin(near: number, far: number, today: number, end: number, now: boolean, holds: Holds): Turn {
  let [same, turned] = [near, far];
  for (let k = 0; k < HALVINGS; k++) {
    const middle = (same + turned) / 2;
    const held = holds(middle);
    if (held === null) break;
    if (held === now) same = middle;
    else turned = middle;
  }
  return {
    holds_at: now ? same : turned,
    fails_at: now ? turned : same,
    reach: (turned - today) / (end - today),
  };
}
