import type { Mapping, Part, PartKind } from '../../../scenario/parts/file.ts';
import type { Shelf } from '../../../scenario/parts/parts.ts';
import type { Scenario } from '../../../scenario/schema/schema.ts';

/** One key of the scenario and what to write there. */
export interface ChangedValue {
  /** As in the file: `bank.modules_parallel`. */
  readonly path: string;
  readonly value: unknown;
}

/** A change to one part of a plant. */
export interface Change {
  /** The same for the same change made to another plant: `arrays[0] more`. */
  readonly id: string;
  /** What it turns: of two changes that turn the same knob only one can be made, or the same one twice. */
  readonly knob: string;
  readonly words: string;
  readonly values: readonly ChangedValue[];
  /** Whether something is bought for it, something set otherwise, or less is asked of the plant. */
  readonly kind: 'part' | 'setting' | 'loads';
  /** True if the bill of the changed scenario says what it costs: not so for a part that was only made larger. */
  readonly priced: boolean;
  /** True if it may be made again and again, as buying one more of something. */
  readonly repeats: boolean;
  /** What the played year does not show of it. */
  readonly caution: string | null;
  /** Why it is not played: an input does not take it; null if it is. */
  readonly refused: string | null;
}

/** A plant that is to be changed. */
export interface Changeable {
  /** The file as it stands, parts not filled in. */
  readonly written: Mapping;
  readonly scenario: Scenario;
  readonly shelf: Shelf;
  /** Coldest that the bank gets in the year, °C. */
  readonly coldest_bank_C: number;
}

/** By how much a part grows of which no next larger one is known; common practice, no source: sizes go up in such steps. */
export const LARGER = 1.5;

/** Without the dust of binary fractions: 0.1 + 0.2 is 0.3. */
export const tidy = (value: number): number => Number(value.toPrecision(12));

/** A change with what most have; the rest as given. */
export const change = (
  own: Pick<Change, 'id' | 'words' | 'values'> & Partial<Omit<Change, 'id' | 'words' | 'values'>>,
): Change => ({
  knob: own.id,
  kind: 'part',
  priced: true,
  repeats: false,
  caution: null,
  refused: null,
  ...own,
});

/** A section as the file writes it; empty if it is not there. */
export const sectionOf = (data: unknown, key: string | number): Mapping => {
  const value = (data as Readonly<Record<string | number, unknown>> | undefined)?.[key];
  return typeof value === 'object' && value !== null ? (value as Mapping) : {};
};

/** A figure of a part; not a number if it has none of that name. */
export const figureOf = (part: Part, key: string): number => {
  const value = part.values[key];
  return typeof value === 'number' ? value : Number.NaN;
};

/**
 * The smallest part of a kind that is larger than what there is.
 *
 * @param isLarger judges a part
 * @param key the figure by which the smallest is found
 */
export function nextPart(
  shelf: Shelf,
  kind: PartKind,
  key: string,
  isLarger: (part: Part) => boolean,
): Part | undefined {
  return [...shelf.values()]
    .filter((part) => part.kind === kind && isLarger(part))
    .sort((a, b) => figureOf(a, key) - figureOf(b, key))[0];
}
