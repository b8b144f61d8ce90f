import { NEW_GENERATOR } from './changes/machines.ts';
import type { Outcome } from './outcome.ts';
import type { TriedChange } from './tried.ts';

/** What the best change comes first by. */
export type RankedBy = 'unmet' | 'requirement' | 'margin';

/** Differences below these are the dust of sums. */
const SAME_kWh = 1e-6;
const SAME_soc = 1e-9;
/** Of `Outcome.missed`, which is in kWh or a share. */
export const SAME_missed = SAME_kWh;

const isMore = (difference: number, dust: number): boolean => difference > dust;

const saved_h = (tried: TriedChange): number => tried.generator_saved_h ?? 0;

/**
 * True if loads and generator don't notice a change, nor what is required; nor the bank's lowest SoC and the fuel, for a
 * plant that holds: while energy is missing they are no merit.
 */
export function isNoChange(tried: TriedChange, now: Outcome, holds: boolean): boolean {
  const { outcome, unmet_removed_kWh, nearer } = tried;
  if (Math.abs(unmet_removed_kWh) > SAME_kWh || Math.abs(nearer) > SAME_missed || saved_h(tried) !== 0)
    return false;
  if (!holds) return true;
  return (
    Math.abs((outcome.fuel_L ?? 0) - (now.fuel_L ?? 0)) <= SAME_kWh &&
    Math.abs(outcome.lowest_soc - now.lowest_soc) <= SAME_soc
  );
}

/**
 * True if a change is worth a line: it brings the plant nearer to what is required, or no further from it and takes
 * unmet energy away, also if only from the tiers that matter more, or saves generator hours and adds none; or, for a
 * plant that holds and goes on holding, it saves generator hours, takes unmet energy away or raises the lowest SoC.
 */
export function helps(tried: TriedChange, now: Outcome, holds: boolean): boolean {
  const { outcome, unmet_removed_kWh, nearer } = tried;
  const higher = (now.unmet_higher_tiers_kWh ?? 0) - (outcome.unmet_higher_tiers_kWh ?? 0);
  if (!holds && (isMore(nearer, SAME_missed) || isMore(higher, SAME_kWh))) return true;
  const isNoLoss =
    isMore(unmet_removed_kWh, -SAME_kWh) && (holds ? tried.holds_then : isMore(nearer, -SAME_missed));
  const isGain = isMore(unmet_removed_kWh, SAME_kWh) || saved_h(tried) > 0;
  return isNoLoss && (isGain || (holds && isMore(outcome.lowest_soc - now.lowest_soc, SAME_soc)));
}

/** True if an engine comes with it that was not there. */
export const bringsEngine = ({ changes }: TriedChange): boolean =>
  changes.some(({ id }) => id === NEW_GENERATOR);

/** True if a pair brings the plant nearer to what is required than either of the two alone. */
export const outdoes = (pair: TriedChange, one: TriedChange, other: TriedChange): boolean =>
  isMore(pair.nearer - Math.max(0, one.nearer, other.nearer), SAME_missed);

/** The larger first, what differs by dust counting as equal. */
const descending = (a: number, b: number, dust: number): number => (Math.abs(a - b) <= dust ? 0 : b - a);

/** How much nearer a unit of money brings it: what costs nothing before all else, what has no known price last. */
function nearerPerMoney({ nearer, extra_money }: TriedChange): number {
  if (extra_money === null) return Number.NEGATIVE_INFINITY;
  return extra_money > 0 ? nearer / extra_money : Number.MAX_VALUE;
}

/**
 * Order of changes, best first. For a plant that goes short: unmet energy removed, generator hours saved, energy removed
 * per money. For one that misses bounds that were given: the same behind how much nearer it comes to them. For one that
 * holds: unmet energy removed if there is any, generator hours saved, then the highest lowest SoC, then the least extra
 * money. Equal ones stay as they are listed.
 *
 * @param now the plant before it was changed
 */
export const compareTries =
  (ranked_by: RankedBy, now: Pick<Outcome, 'unmet_hours'>) =>
  (a: TriedChange, b: TriedChange): number => {
    const byUnmet = descending(a.unmet_removed_kWh, b.unmet_removed_kWh, SAME_kWh);
    const bySaved = saved_h(b) - saved_h(a);
    if (ranked_by !== 'margin')
      return (
        descending(a.nearer, b.nearer, SAME_missed) ||
        byUnmet ||
        bySaved ||
        Math.sign(nearerPerMoney(b) - nearerPerMoney(a)) ||
        0
      );
    const money = (tried: TriedChange): number => tried.extra_money ?? Number.MAX_VALUE;
    return (
      (now.unmet_hours > 0 ? byUnmet : 0) ||
      bySaved ||
      descending(a.outcome.lowest_soc, b.outcome.lowest_soc, SAME_soc) ||
      Math.sign(money(a) - money(b))
    );
  };

/**
 * The one that mends for the least money; of those that cost the same, or whose price isn't known, the one of the
 * fewest changes, then the first. Asking less of a plant is no improvement of it: that comes only where nothing else does.
 * Nor is an engine the cheapest for its price alone, as it goes on burning fuel: it comes where no other part does.
 */
export function cheapest(improvement: readonly TriedChange[]): TriedChange | null {
  const asksLess = (tried: TriedChange): boolean => tried.changes.some((change) => change.kind === 'loads');
  const more = improvement.filter((tried) => !asksLess(tried));
  const lasting = more.filter((tried) => !bringsEngine(tried));
  const whole = lasting.length > 0 ? lasting : more;
  const money = (tried: TriedChange): number => tried.extra_money ?? Number.MAX_VALUE;
  const sorted = [...(whole.length > 0 ? whole : improvement)].sort(
    (a, b) => Math.sign(money(a) - money(b)) || a.changes.length - b.changes.length,
  );
  return sorted[0] ?? null;
}
