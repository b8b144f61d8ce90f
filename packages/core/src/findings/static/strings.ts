import { expectArguments } from '../../basis/arguments.ts';
import { ofObject } from '../../basis/memo.ts';
import type { OneOf } from '../../basis/notices.ts';
import { localTime } from '../../clock/clock.ts';
import { expectSound } from '../../plant/expect-sound.ts';
import { openVoltage_V, type PanelString, workingVoltage_V } from '../../plant/panel-string.ts';
import type { Plant, Tracked } from '../../plant/plant.ts';
import { coldestStep as coldestOf } from '../../sky/temperature.ts';
import {
  coldVoltageFactor,
  MAXIMUM_CURRENT_FACTOR,
  SHORT_CIRCUIT_FACTOR,
} from '../../wiring/cold-voltage.ts';
import type { PreparedYear } from '../../year.ts';

/** Panels in series on one tracker: what its voltages and amps allow. Null where the scenario does not say. */
export interface StringCheck {
  /** The array whose panels in series these figures are of. */ readonly array: string;
  /** Coldest air that the open voltage is worked out at. */
  readonly coldest_air_C: number;
  /** Where it comes from. */ readonly coldest_air_from: ColdestFrom;
  /** Hottest cell that the working voltage is worked out at. */
  readonly hottest_cell_C: number;
  /** Where it comes from. */ readonly hottest_cell_from: HottestFrom;
  /** Of one panel at open circuit in the cold, by its own coefficient. */
  readonly panel_cold_V: number;
  /** The same by the table of the code for crystalline silicon; null below -40 °C. */
  readonly panel_cold_table_V: number | null;
  /** The table's factor on the open voltage. */ readonly table_factor: number | null;
  /** Of one panel at its point of most power at the hottest cell. */
  readonly panel_hot_V: number;
  /** Most panels in series that stay under the highest input voltage in the cold. */ readonly max_in_series:
    | number
    | null;
  /** By the table of the code. */
  readonly max_in_series_table: number | null;
  /** Fewest panels in series that stay above the lowest input voltage in the heat. */ readonly min_in_series:
    | number
    | null;
  /** Panels in series of the scenario. */ readonly in_series: number | null;
  /** Open voltage of the string in the cold. */ readonly string_cold_V: number | null;
  /** Working voltage of the string in the heat. */ readonly string_hot_V: number | null;
  /** Highest input voltage of the tracker. */ readonly max_input_V: number | null;
  /** Lowest at which it tracks. */ readonly min_input_V: number | null;
  /** Strings in parallel. */ readonly strings: number | null;
  /** Short-circuit current of all strings. */
  readonly short_circuit_A: number | null;
  /** 1.25 times that, for light above 1000 W/m²: what the tracker's input is held against. */
  readonly max_current_A: number | null;
  /** 1.25 times that again: what conductors and fuses of the array have to carry. */
  readonly needed_A: number | null;
  /** Highest short-circuit current that the input of the tracker stands. */ readonly max_input_A:
    | number
    | null;
  /** Current of all strings at their point of most power. */
  readonly operating_A: number | null;
  /** What the tracker's input works at: what the strings could give beyond it is lost, and played as lost. */
  readonly max_operating_A: number | null;
  /** True if the working voltage goes by a coefficient of its own; else by that of the open voltage. */
  readonly has_vmp_coefficient: boolean;
  /** What of the figures above is against what the tracker takes. Empty is no proof that there is no conflict. */
  readonly conflicts: readonly StringConflict[];
}

/** What of a string is against what its tracker takes. */
export type StringConflict =
  /** One panel alone is too much in the cold. */
  | 'one_panel'
  /** Heat asks for more panels than cold allows. */
  | 'no_number_of_panels'
  | 'cold_voltage'
  | 'hot_voltage'
  | 'short_circuit_current'
  /** No danger: what the strings give beyond it is lost. */
  | 'operating_current';

/** A step's temperature, its local time, and what is taken for how much further it goes. */
interface ExtremeStep {
  step_C: number;
  time: string;
  margin_K: number;
}

/** Where the coldest air comes from: `site.record_low_C`, or a step of weather that may be made of monthly means. */
export type ColdestFrom = OneOf<{ record: object; coldest_step: ExtremeStep & { of_means: boolean } }>;

/** Where the hottest cell comes from; where no light falls on the array, from standard test conditions. */
export type HottestFrom = OneOf<{ no_light: object; hottest_step: ExtremeStep }>;

/**
 * How far the coldest hour of a year is above the record, K: the mean year has no cold spell.
 * Common practice, no source: the figures are ours and lean to the cold side.
 */
const RECORD_MARGIN_K = { means: 25, hours: 10 } as const;
/** How far the hottest cell of a year of hourly means is below the hottest moment. Common practice, no source. */
const HOT_MARGIN_K = 10;

/**
 * Checks the strings of each array whose panels are known. Open voltage at the coldest air with cells as cold as it,
 * as at daybreak; working voltage at the hottest cell; short-circuit current × 1.25 against the tracker, and once more
 * × 1.25 for conductors and fuses.
 *
 * Source: NEC 690.7(A), its first method (data sheet coefficient) and its table, and 690.8. What the data sheet of a
 * tracker gives as its short-circuit rating is an absolute maximum under the worst light, not the sum of the panels'
 * ratings under test conditions (definition of the PV input's rated short-circuit current in IEC 62109, read in the
 * glossary of IEC): so it is held against the maximum current of NEC 690.8(A). Left out: fall of voltage
 * with weak light and age, bifacial gain, local rules on the highest voltage of a building.
 */
export function stringFindings(year: PreparedYear, plant: Plant): readonly StringCheck[] {
  expectArguments('stringFindings', { year, plant });
  expectSound('stringFindings', plant);
  return plant.arrays.flatMap((tracked, a) =>
    tracked.string === null ? [] : [checkOf(year, tracked, tracked.string, a)],
  );
}

function checkOf(year: PreparedYear, tracked: Tracked, string: PanelString, a: number): StringCheck {
  const { panel, in_series, strings } = string;
  const { max_V, min_V, max_A, max_operating_A = null } = tracked.input;
  const cold = coldestAir(year);
  const hot = hottestCell(year, a);
  const panel_cold_V = openVoltage_V(panel, cold.air_C);
  const table_factor = coldVoltageFactor(cold.air_C);
  const panel_cold_table_V = table_factor === null ? null : panel.voc_V * table_factor;
  const panel_hot_V = workingVoltage_V(panel, hot.cell_C);
  const most = (panel_V: number | null): number | null =>
    max_V === null || panel_V === null ? null : Math.floor(max_V / panel_V + 1e-9);
  const short_circuit_A = strings === null ? null : strings * panel.isc_A;
  const check = {
    array: tracked.name,
    coldest_air_C: cold.air_C,
    coldest_air_from: cold.from,
    hottest_cell_C: hot.cell_C,
    hottest_cell_from: hot.from,
    panel_cold_V,
    panel_cold_table_V,
    table_factor,
    panel_hot_V,
    max_in_series: most(panel_cold_V),
    max_in_series_table: most(panel_cold_table_V),
    // Cells so hot that a panel has no voltage left need more panels than there are.
    min_in_series: min_V === null || panel_hot_V === 0 ? null : Math.ceil(min_V / panel_hot_V - 1e-9),
    in_series,
    string_cold_V: in_series === null ? null : in_series * panel_cold_V,
    string_hot_V: in_series === null ? null : in_series * panel_hot_V,
    max_input_V: max_V,
    min_input_V: min_V,
    strings,
    short_circuit_A,
    max_current_A: short_circuit_A === null ? null : short_circuit_A * MAXIMUM_CURRENT_FACTOR,
    needed_A: short_circuit_A === null ? null : short_circuit_A * SHORT_CIRCUIT_FACTOR,
    max_input_A: max_A,
    operating_A: strings === null ? null : strings * panel.imp_A,
    max_operating_A,
    has_vmp_coefficient: panel.vmp_temperature_coefficient_per_K !== undefined,
  };
  return { ...check, conflicts: conflicts(check) };
}

function conflicts(c: Omit<StringCheck, 'conflicts'>): StringConflict[] {
  const over = (value: number | null, limit: number | null): boolean =>
    value !== null && limit !== null && value > limit + 1e-9;
  const none = over(c.min_in_series, c.max_in_series);
  const found: readonly (readonly [StringConflict, boolean])[] = [
    ['one_panel', none && c.max_in_series === 0],
    ['no_number_of_panels', none && c.max_in_series !== 0],
    ['cold_voltage', over(c.string_cold_V, c.max_input_V)],
    ['hot_voltage', over(c.min_input_V, c.string_hot_V)],
    ['short_circuit_current', over(c.max_current_A, c.max_input_A)],
    ['operating_current', over(c.operating_A, c.max_operating_A)],
  ];
  return found.flatMap(([conflict, isThere]) => (isThere ? [conflict] : []));
}

/** The same step, asked by a study of one year for many designs. */
export const coldestStep = ofObject(coldestOf);

/** The record that the scenario gives, or the coldest step of its weather with a margin. */
export function coldestAir({ scenario, sky, clock }: PreparedYear): { air_C: number; from: ColdestFrom } {
  const { record_low_C } = scenario.site;
  if (record_low_C !== undefined) return { air_C: record_low_C, from: { id: 'record' } };
  const { kind } = scenario.weather;
  const of_means = kind === 'monthly_means' || kind === 'clear-sky';
  const margin_K = RECORD_MARGIN_K[of_means ? 'means' : 'hours'];
  // Cold days that a seed draws are in the margin of means: another seed must be no other danger.
  const at = sky.coldest_mean === undefined ? coldestStep(sky.air_temperature_C) : null;
  const { time, air_C: step_C } =
    at === null ? sky.coldest_mean! : { time: localTime(clock, at), air_C: sky.air_temperature_C[at]! };
  return {
    air_C: step_C - margin_K,
    from: { id: 'coldest_step', step_C, time, margin_K, of_means },
  };
}

/** The hottest step with light on the array, with a margin. */
function hottestCell({ arrays, clock }: PreparedYear, a: number): { cell_C: number; from: HottestFrom } {
  const { cell_temperature_C, plane_W_m2 } = arrays[a]!;
  let at = -1;
  for (let i = 0; i < cell_temperature_C.length; i++) {
    if (plane_W_m2[i]! > 0 && (at < 0 || cell_temperature_C[i]! > cell_temperature_C[at]!)) at = i;
  }
  // An array that never sees light has cells as warm as at standard test conditions, for want of another figure.
  if (at < 0) return { cell_C: 25, from: { id: 'no_light' } };
  const step_C = cell_temperature_C[at]!;
  return {
    cell_C: step_C + HOT_MARGIN_K,
    from: { id: 'hottest_step', step_C, time: localTime(clock, at), margin_K: HOT_MARGIN_K },
  };
}
