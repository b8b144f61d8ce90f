/** Sums of a year differ by this without meaning anything. */
const ALIKE = 1e-9;

/**
 * Which of some values are best; what isn't known doesn't win, nor what a plant has no part in.
 *
 * @param able false for one that can't be called the best
 * @returns their places; empty where fewer than two can be compared, or all of those are alike
 */
export function winnersAmong(
  values: readonly (number | null)[],
  better: 'less' | 'more' | null,
  able: readonly boolean[],
): readonly number[] {
  if (better === null) return [];
  const known = values.flatMap((value, k) => (value !== null && able[k] ? [{ value, k }] : []));
  if (known.length < 2) return [];
  const all = known.map(({ value }) => value);
  const best = better === 'less' ? Math.min(...all) : Math.max(...all);
  const winners = known.filter(({ value }) => Math.abs(value - best) <= ALIKE * Math.max(1, Math.abs(best)));
  return winners.length === known.length ? [] : winners.map(({ k }) => k);
}
