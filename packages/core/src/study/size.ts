import { front } from './front.ts';
import { type Hold, holds } from './hold.ts';
import type { FigureName, Figures } from './play.ts';

/** One played design of a sizing question. */
export interface Candidate {
  readonly index: number;
  /**
   * Its figures; with an ensemble those of every seeded year, in the order of the seeds. Null if the values of the
   * design contradict each other.
   */
  readonly figures: readonly Figures[] | null;
}

/** What a sizing question asks for. */
export interface SizeAsk {
  readonly holds: readonly Hold[];
  /** The figure that shall be least among the designs that hold. */
  readonly least: FigureName;
  /** In how many of the seeded years every bound must be kept; 1 without an ensemble. */
  readonly years_to_hold: number;
}

export interface SizeAnswer {
  /** Index of the design that holds with the least figure; ties go to the smaller index. Null if none holds. */
  readonly best: number | null;
  readonly holding: number;
  readonly played: number;
  readonly contradictory: number;
  /** Indices that no other design beats in both cost and unmet energy, cheapest first. */
  readonly front: readonly number[];
}

/** In how many of its years a design keeps every bound. */
export const yearsHeld = (figures: readonly Figures[], bounds: readonly Hold[]): number =>
  figures.reduce(
    (held, year) => held + (bounds.every((hold) => holds(hold, year[hold.name as FigureName])) ? 1 : 0),
    0,
  );

/** The largest value of a figure that `years` of the years do not exceed: the 95th of 100, the only one of 1. */
export function figureAtRank(figures: readonly Figures[], name: FigureName, years: number): number | null {
  const values = figures.map((year) => year[name]).filter((value) => value !== null);
  if (values.length < figures.length) return null;
  return values.sort((a, b) => a - b)[Math.min(years, values.length) - 1] ?? null;
}

/**
 * Picks the design that holds with the least figure, from designs that were all played: exact on what it is given.
 * In an ensemble, cost and unmet energy of a design are those at the rank that must hold.
 */
export function chooseDesign(candidates: readonly Candidate[], ask: SizeAsk): SizeAnswer {
  let best: { index: number; value: number } | null = null;
  let holding = 0;
  let contradictory = 0;
  const cost: (number | null)[] = [];
  const unmet: number[] = [];
  for (const { index, figures } of candidates) {
    if (figures === null) {
      contradictory++;
      cost.push(null);
      unmet.push(0);
      continue;
    }
    const value = figureAtRank(figures, ask.least, ask.years_to_hold);
    cost.push(value);
    unmet.push(figureAtRank(figures, 'unmet.energy_kWh', ask.years_to_hold)!);
    if (yearsHeld(figures, ask.holds) < ask.years_to_hold) continue;
    holding++;
    if (value === null) continue;
    if (best === null || value < best.value || (value === best.value && index < best.index))
      best = { index, value };
  }
  return {
    best: best?.index ?? null,
    holding,
    played: candidates.length - contradictory,
    contradictory,
    front: front(cost, unmet).map((k) => candidates[k]!.index),
  };
}
