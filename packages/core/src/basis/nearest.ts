/**
 * The candidate that a mistyped name most likely means: upper and lower case, `-` and `_` count as the same letter.
 *
 * @returns undefined if none is near: more than a third of the letters would have to change
 */
export function nearest(name: string, candidates: readonly string[]): string | undefined {
  const wanted = plain(name);
  const reach = Math.max(1, Math.floor(wanted.length / 3));
  let best: string | undefined;
  let fewest = reach + 1;
  for (const candidate of candidates) {
    const edits = editDistance(wanted, plain(candidate), fewest);
    if (edits < fewest) {
      best = candidate;
      fewest = edits;
    }
  }
  if (best !== undefined) return best;
  // `monday` for `mon`, `lead` for `lead_acid`: three letters in common at the front are a fair guess if only one has them.
  const kin = candidates.filter(
    (c) =>
      Math.min(c.length, wanted.length) >= 3 && (wanted.startsWith(plain(c)) || plain(c).startsWith(wanted)),
  );
  return kin.length === 1 ? kin[0] : undefined;
}

const plain = (name: string): string => name.trim().toLowerCase().replaceAll('-', '_');

/** Letters to insert, drop, change or swap with their neighbour; stops counting at `limit`. */
function editDistance(a: string, b: string, limit: number): number {
  if (Math.abs(a.length - b.length) >= limit) return limit;
  let before: number[] = [];
  let above = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      let edits = Math.min(row[j - 1]! + 1, above[j]! + 1, above[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        edits = Math.min(edits, before[j - 2]! + 1);
      row.push(edits);
    }
    before = above;
    above = row;
  }
  return Math.min(limit, above[b.length]!);
}

/** Unit endings of keys, longest first. The scenario's own ones and those that people write instead of them. */
const UNITS = [
  'kWh_m2_day',
  'percent_per_K',
  'share_per_month',
  'per_month',
  'kWh_day',
  'Wh_day',
  'kWh_m2',
  'L_per_h',
  'per_K',
  'per_C',
  'percent',
  'share',
  'km_h',
  'm_s',
  'kWh',
  'MWh',
  'kWp',
  'deg',
  'rad',
  'mph',
  'pct',
  'min',
  'kW',
  'MW',
  'Wh',
  'Wp',
  'Ah',
  'mA',
  'mV',
  'km',
  'ft',
  'kV',
  'W',
  'A',
  'V',
  'C',
  'F',
  'K',
  'm',
  'h',
  's',
  'L',
] as const;

/** A key without its unit, and the unit: `capacity_Ah` is `capacity` in `Ah`. */
export function splitUnit(key: string): { readonly stem: string; readonly unit: string | undefined } {
  const unit = UNITS.find((u) => key.length > u.length + 1 && key.endsWith(`_${u}`));
  return unit === undefined ? { stem: key, unit } : { stem: key.slice(0, -unit.length - 1), unit };
}

/**
 * What an unknown key may have meant.
 *
 * @param key the key as written
 * @param allowed the keys that may stand there
 */
export function meantKey(
  key: string,
  allowed: readonly string[],
): { readonly key: string; readonly otherUnit: boolean } | undefined {
  const { stem, unit } = splitUnit(key);
  const sameStem = allowed.filter(
    (a) => splitUnit(a).unit !== undefined && splitUnit(a).stem === plain(stem),
  );
  if (sameStem.length === 1) {
    const meant = sameStem[0]!;
    // A unit in the wrong case (`capacity_ah`) is a slip of the pen, not another unit.
    const otherUnit =
      unit?.toLowerCase() !== splitUnit(meant).unit!.toLowerCase() && plain(key) !== plain(meant);
    return { key: meant, otherUnit };
  }
  const meant = nearest(key, allowed);
  return meant === undefined ? undefined : { key: meant, otherUnit: false };
}
