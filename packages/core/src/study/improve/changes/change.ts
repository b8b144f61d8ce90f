import type { Mapping, Part, PartKind } from '../../../scenario/parts/file.ts';
import type { Shelf } from '../../../scenario/parts/parts.ts';
import type { Scenario } from '../../../scenario/schema/schema.ts';

/** One key of the scenario and what to write there. */
export interface ChangedValue {
  /** As in the file: `bank.modules_parallel`. */
  readonly path: string;
  readonly value: unknown;
}

/** An array among several, which its name tells; null where it is the only one. */
interface OfArray {
  readonly array: string | null;
}

/** What is changed, and to what. */
export type ChangeReason =
  | ({ readonly id: 'one_more_string'; readonly in_series: number } & OfArray)
  | ({ readonly id: 'one_more_panel' | 'a_tenth_more_array' } & OfArray)
  | ({ readonly id: 'tracker_part'; readonly part: string } & OfArray)
  | ({ readonly id: 'tracker'; readonly power_kW: number; readonly amps_A: number } & OfArray)
  | ({ readonly id: 'array_inverter'; readonly output_kW: number } & OfArray)
  | { readonly id: 'steeper' | 'flatter'; readonly array: string; readonly tilt_deg: number }
  /** Tilts by month, from 0 to 90. */
  | { readonly id: 'steeper_by' | 'flatter_by'; readonly array: string; readonly by_deg: number }
  | { readonly id: 'inverter_part'; readonly part: string; readonly brings_others: boolean }
  | {
      readonly id: 'inverter';
      readonly units: number;
      readonly rating_kW: number;
      readonly now_kW: number;
    }
  | { readonly id: 'one_more_inverter'; readonly on_each_leg: boolean }
  | { readonly id: 'load_leg'; readonly load: string; readonly leg: number }
  | { readonly id: 'charger_part' | 'generator_part'; readonly part: string }
  | { readonly id: 'charger'; readonly amps_A: number; readonly separate: boolean }
  | { readonly id: 'generator'; readonly rating_kW: number }
  | { readonly id: 'generator_tank'; readonly capacity_L: number }
  | { readonly id: 'side_by_side'; readonly source: 'generator' | 'shore' }
  | {
      readonly id: 'new_generator';
      /** Null where no part carries as much. */
      readonly part: string | null;
      readonly rating_kW: number;
      /** Of a charger bought with it; null where there is one. */
      readonly charger_A: number | null;
    }
  | { readonly id: 'socket' | 'engine_charger'; readonly amps_A: number }
  | { readonly id: 'bank_heated'; readonly temperature_C: number }
  | { readonly id: 'tier_shed'; readonly tier: number }
  | {
      readonly id:
        | 'generator_hour'
        | 'no_quiet_hours'
        | 'generator_earlier'
        | 'one_more_module'
        | 'lower_floor'
        | 'loads_a_tenth_smaller'
        | 'loads_wait_less';
    };

/** What the played year does not show of a change. */
export type ChangeCaution =
  | 'stackable'
  | 'side_by_side'
  | 'rack'
  | 'engine'
  | 'deep_discharge'
  | 'heat'
  | 'drained_by_waiting'
  | 'shed_is_unmet';

/** More array than a tracker takes by so many times: it needs another one. */
export interface OverTracker {
  readonly id: 'over_tracker';
  readonly size_kWp: number;
  readonly power_kW: number;
  readonly times: number;
}

/** A change to one part of a plant. */
export interface Change {
  /** The same for the same change made to another plant: `arrays[0] more`. */
  readonly id: string;
  /** What it turns: of two changes that turn the same knob only one can be made, or the same one twice. */
  readonly knob: string;
  readonly what: ChangeReason;
  readonly values: readonly ChangedValue[];
  /** Whether something is bought for it, something set otherwise, or less is asked of the plant. */
  readonly kind: 'part' | 'setting' | 'loads';
  /** True if the bill of the changed scenario says what it costs: not so for a part that was only made larger. */
  readonly priced: boolean;
  /** True if it may be made again and again, as buying one more of something. */
  readonly repeats: boolean;
  /** What the played year does not show of it. */
  readonly caution: ChangeCaution | null;
  /** Why it is not played; null if it is. */
  readonly refused: OverTracker | null;
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

/** A change with what most have; the rest as given. */
export const change = (
  own: Pick<Change, 'id' | 'what' | 'values'> & Partial<Omit<Change, 'id' | 'what' | 'values'>>,
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
