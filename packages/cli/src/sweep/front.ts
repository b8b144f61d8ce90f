/** Items kept at most: a longer front is thinned, which a table of some twenty rows does not show. */
const MOST = 4000;

interface Kept<T> {
  readonly cost: number;
  readonly rank: readonly number[];
  readonly item: T;
}

/**
 * Keeps the items that no other beats while they come one by one: each next one costs more and ranks better. Of equals
 * the first stays. `front` of core does the same for a list that is at hand.
 */
export class FrontKeeper<T> {
  /** By cost ascending; then ranks descend. */
  #kept: Kept<T>[] = [];
  #dropped = 0;

  /** @param rank smaller is better, the first number deciding before the second */
  take(cost: number, rank: readonly number[], item: T): void {
    // Everything before `at` costs no more.
    let at = 0;
    for (let end = this.#kept.length; at < end; ) {
      const middle = (at + end) >> 1;
      if (this.#kept[middle]!.cost <= cost) at = middle + 1;
      else end = middle;
    }
    const cheaper = this.#kept[at - 1];
    if (cheaper !== undefined && !better(rank, cheaper.rank)) return;
    const from = cheaper !== undefined && cheaper.cost === cost ? at - 1 : at;
    let to = at;
    while (to < this.#kept.length && !better(this.#kept[to]!.rank, rank)) to++;
    this.#kept.splice(from, to - from, { cost, rank, item });
    if (this.#kept.length > MOST) this.#thin();
  }

  /** Cheapest first. */
  items(): readonly T[] {
    return this.#kept.map(({ item }) => item);
  }

  /** How many there are; those that were thinned out are counted as if nothing had beaten them since. */
  get met(): number {
    return this.#kept.length + this.#dropped;
  }

  #thin(): void {
    const before = this.#kept.length;
    this.#kept = this.#kept.filter((_, k) => k % 2 === 0 || k === before - 1);
    this.#dropped += before - this.#kept.length;
  }
}

function better(a: readonly number[], b: readonly number[]): boolean {
  for (let k = 0; k < a.length; k++) if (a[k] !== b[k]) return a[k]! < b[k]!;
  return false;
}
