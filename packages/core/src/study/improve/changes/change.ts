import type { OneOf } from '../../../basis/notices.ts';
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
  array: string | null;
}

/** What is changed, and to what. */
export type ChangeReason = OneOf<{
  one_more_string: OfArray & { in_series: number };
  one_more_panel: OfArray;
  a_tenth_more_array: OfArray;
  tracker_part: OfArray & { part: string };
  tracker: OfArray & { power_kW: number; amps_A: number };
  array_inverter: OfArray & { output_kW: number };
  steeper: { array: string; tilt_deg: number };
  flatter: { array: string; tilt_deg: number };
  /** Tilts by month, from 0 to 90. */
  steeper_by: { array: string; by_deg: number };
  flatter_by: { array: string; by_deg: number };
  inverter_part: { part: string; brings_others: boolean };
  inverter: { units: number; rating_kW: number; now_kW: number };
  one_more_inverter: { on_each_leg: boolean };
  load_leg: { load: string; leg: number };
  charger_part: { part: string };
  charger: { amps_A: number; separate: boolean };
  generator_part: { part: string };
  generator: { rating_kW: number };
  generator_hour: object;
  no_quiet_hours: object;
  generator_earlier: object;
  generator_tank: { capacity_L: number };
  side_by_side: { source: 'generator' | 'shore' };
  /** Null where no part carries as much; null where there is a charger. */
  new_generator: { part: string | null; rating_kW: number; charger_A: number | null };
  socket: { amps_A: number };
  engine_charger: { amps_A: number };
  one_more_module: object;
  lower_floor: object;
  bank_heated: { temperature_C: number };
  loads_a_tenth_smaller: object;
  loads_wait_less: object;
  tier_shed: { tier: number };
}>;

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
export type OverTracker = OneOf<{ over_tracker: { size_kWp: number; power_kW: number; times: number } }>;

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
