/**
 * Designs that no other beats: each next one costs more and leaves less of the second figure. Ties in cost go to the
 * smaller figure, ties in both to the design that stands first.
 *
 * @param cost one number a design; null means no price, and the design is left out
 * @param figure one number a design, smaller is better
 * @returns indices, cheapest first
 */
export function front(cost: readonly (number | null)[], figure: readonly number[]): readonly number[] {
  const order = cost
    .map((_, k) => k)
    .filter((k) => cost[k] !== null)
    .sort((a, b) => cost[a]! - cost[b]! || figure[a]! - figure[b]! || a - b);
  const kept: number[] = [];
  let least = Number.POSITIVE_INFINITY;
  for (const k of order) {
    if (figure[k]! < least) {
      kept.push(k);
      least = figure[k]!;
    }
  }
  return kept;
}
