import type { Figures } from '../designs/play.ts';
import type { Guess } from './guess.ts';
import type { Turn } from './turn.ts';

/** Figures whose swing is told, in the order in which they rank, after the verdict. */
export const SWUNG = ['unmet.energy_kWh', 'generator.run_hours', 'money.total', 'bank.lowest_soc'] as const;
/** Name of one. */
export type SwungName = (typeof SWUNG)[number];

/** The year with one guess at another value. */
export interface SwayPlay {
  readonly value: number | string;
  readonly holds: boolean;
  readonly figures: Figures;
}

/** A guess and what hangs on it. */
export interface Swayed extends Guess {
  /** At the values of `to`, in their order; those that contradict the rest of the scenario are not among them. */
  readonly plays: readonly SwayPlay[];
  /** Largest less smallest of a figure at these values and today's; null where the plant has no such figure. */
  readonly swing: Readonly<Record<SwungName, number | null>>;
  /** Where the verdict turns, at most once to each side, the nearest first; of named values none. */
  readonly turns: readonly Turn[];
  /** Named values with which the verdict is another. */
  readonly turned_by: readonly (number | string)[];
  /** Least and greatest value that was played; null for named values. */
  readonly span: readonly [number, number] | null;
}
