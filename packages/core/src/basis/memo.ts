/**
 * Keeps the latest results of a function by key, oldest out first. The memory lives in the closure that the caller
 * holds: nothing is kept beyond it.
 *
 * @param most results kept
 */
export function memo<V>(most: number): (key: string, make: () => V) => V {
  const kept = new Map<string, V>();
  return (key, make) => {
    const known = kept.get(key);
    if (known !== undefined) {
      kept.delete(key);
      kept.set(key, known);
      return known;
    }
    const made = make();
    kept.set(key, made);
    if (kept.size > most) kept.delete(kept.keys().next().value!);
    return made;
  };
}
