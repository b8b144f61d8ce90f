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

/**
 * The same for a function of one object that never changes: it is known again by identity, and what was made goes when
 * the object goes. A study asks the same of one section thousands of times.
 */
export function ofObject<K extends object, V>(make: (key: K) => V): (key: K) => V {
  const made = new WeakMap<K, V>();
  return (key) => {
    let value = made.get(key);
    if (value === undefined) {
      value = make(key);
      made.set(key, value);
    }
    return value;
  };
}

/**
 * Short names for plain values: equal ones have the same name, so that it can stand for them in a key. An object is
 * written out once.
 */
export function newNames(): (value: object) => string {
  const names = memo<string>(4096);
  let given = 0;
  return ofObject((value) => names(JSON.stringify(value), () => String(++given)));
}

/**
 * Keeps one result: it stands as long as all that it was made from is the very same, number by number and object
 * by object. `make` may fill columns that are at hand, which then stand as long.
 */
export function lastOf<V>(): (from: readonly unknown[], make: () => V) => V {
  let known: { readonly from: readonly unknown[]; readonly value: V } | null = null;
  return (from, make) => {
    const before = known?.from;
    if (before?.length !== from.length || from.some((part, k) => part !== before[k]))
      known = { from, value: make() };
    return known!.value;
  };
}
