import { ofObject } from '../../basis/memo.ts';
import { localTime } from '../../clock/clock.ts';
import { openVoltage_V, type PanelString, workingVoltage_V } from '../../plant/panel-string.ts';
import type { Plant, Tracked } from '../../plant/plant.ts';
import {
  coldVoltageFactor,
  MAXIMUM_CURRENT_FACTOR,
  SHORT_CIRCUIT_FACTOR,
} from '../../wiring/cold-voltage.ts';
import type { PreparedYear } from '../../year.ts';

/** Panels in series on one tracker: what its voltages and amps allow. Null where the scenario does not say. */
export interface StringCheck {
  readonly array: string;
  /** Coldest air that the open voltage is worked out at. */
  readonly coldest_air_C: number;
  readonly coldest_air_from: string;
  /** Hottest cell that the working voltage is worked out at. */
  readonly hottest_cell_C: number;
  readonly hottest_cell_from: string;
  /** Of one panel at open circuit in the cold, by its own coefficient. */
  readonly panel_cold_V: number;
  /** The same by the table of the code for crystalline silicon; null below -40 °C. */
  readonly panel_cold_table_V: number | null;
  readonly table_factor: number | null;
  /** Of one panel at its point of most power at the hottest cell. */
  readonly panel_hot_V: number;
  readonly most_in_series: number | null;
  /** By the table of the code. */
  readonly most_in_series_table: number | null;
  readonly least_in_series: number | null;
  readonly in_series: number | null;
  readonly string_cold_V: number | null;
  readonly string_hot_V: number | null;
  readonly max_input_V: number | null;
  readonly min_input_V: number | null;
  readonly strings: number | null;
  /** Short-circuit current of all strings. */
  readonly short_circuit_A: number | null;
  /** 1.25 times that, for light above 1000 W/m²: what the tracker's input is held against. */
  readonly max_current_A: number | null;
  /** 1.25 times that again: what conductors and fuses of the array have to carry. */
  readonly needed_A: number | null;
  readonly max_input_A: number | null;
  /** Current of all strings at their point of most power. */
  readonly operating_A: number | null;
  /** What the tracker's input works at: what the strings could give beyond it is lost, and played as lost. */
  readonly max_operating_A: number | null;
  /** Empty if no conflict was found, which is no proof that there is none. */
  readonly conflicts: readonly string[];
  readonly rests_on: readonly string[];
}

/**
 * How far the coldest hour of a year is above the record, K: years made from monthly means know no cold spell.
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
export const stringFindings = (year: PreparedYear, plant: Plant): readonly StringCheck[] =>
  plant.arrays.flatMap((tracked, a) =>
    tracked.string === null ? [] : [checkOf(year, tracked, tracked.string, a)],
  );

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
    most_in_series: most(panel_cold_V),
    most_in_series_table: most(panel_cold_table_V),
    // Cells so hot that a panel has no voltage left need more panels than there are.
    least_in_series: min_V === null || panel_hot_V === 0 ? null : Math.ceil(min_V / panel_hot_V - 1e-9),
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
  };
  return { ...check, conflicts: conflicts(check), rests_on: restsOn(string, tracked) };
}

function conflicts(c: Omit<StringCheck, 'conflicts' | 'rests_on'>): string[] {
  const found: string[] = [];
  const { most_in_series: most, least_in_series: least, max_input_V: max_V, min_input_V: min_V } = c;
  if (most !== null && least !== null && least > most) {
    found.push(
      most === 0
        ? `One panel alone gives ${V(c.panel_cold_V)} in the cold; the tracker stands ${V(max_V!)}.`
        : `No number of panels in series suits this tracker: heat asks for ${least} or more, cold allows ${most}.`,
    );
  }
  if (c.string_cold_V !== null && max_V !== null && c.string_cold_V > max_V + 1e-9) {
    found.push(
      `${c.in_series} panels in series give ${V(c.string_cold_V)} at ${C(c.coldest_air_C)}, and the tracker stands ${V(max_V)}: that can destroy it, and start a fire.`,
    );
  }
  if (c.string_hot_V !== null && min_V !== null && c.string_hot_V < min_V - 1e-9) {
    found.push(
      `${c.in_series} panels in series work at ${V(c.string_hot_V)} with cells of ${C(c.hottest_cell_C)}, and the tracker needs ${V(min_V)}: it stops in the heat.`,
    );
  }
  if (c.max_current_A !== null && c.max_input_A !== null && c.max_current_A > c.max_input_A + 1e-9) {
    found.push(
      `${c.strings} ${c.strings === 1 ? 'string gives' : 'strings give'} ${A(c.short_circuit_A!)} in short circuit, ${A(c.max_current_A)} with 1.25 for bright light, and the tracker stands ${A(c.max_input_A)}.`,
    );
  }
  if (c.operating_A !== null && c.max_operating_A !== null && c.operating_A > c.max_operating_A + 1e-9) {
    found.push(
      `${c.strings} ${c.strings === 1 ? 'string works' : 'strings work'} at ${A(c.operating_A)} in full sun, and the tracker at ${A(c.max_operating_A)} at most: it holds them back to ${(100 * (c.max_operating_A / c.operating_A)).toFixed(0)} % of that.`,
    );
  }
  return found;
}

const V = (value: number): string => `${value.toFixed(value < 100 ? 1 : 0)} V`;
const A = (value: number): string => `${value.toFixed(1)} A`;
const C = (value: number): string => `${value.toFixed(1)} °C`;

/** Step of the lowest temperature of a year, the first of equal ones; a study asks it of one year for many designs. */
export const coldestStep = ofObject((temperature_C: Float64Array): number => {
  let at = 0;
  for (let i = 1; i < temperature_C.length; i++) if (temperature_C[i]! < temperature_C[at]!) at = i;
  return at;
});

/** The record that the scenario gives, or the coldest step of its weather with a margin. */
export function coldestAir({ scenario, sky, clock }: PreparedYear): { air_C: number; from: string } {
  const { record_low_C } = scenario.site;
  if (record_low_C !== undefined) return { air_C: record_low_C, from: 'site.record_low_C' };
  const air = sky.air_temperature_C;
  const at = coldestStep(air);
  const { kind } = scenario.weather;
  const isMeans = kind === 'normals' || kind === 'clear-sky';
  const margin_K = RECORD_MARGIN_K[isMeans ? 'means' : 'hours'];
  return {
    air_C: air[at]! - margin_K,
    from: `the coldest step of the weather, ${C(air[at]!)} at ${readable(localTime(clock, at))}, less ${margin_K} K for what a record is colder than ${isMeans ? 'a year made from monthly means' : 'one year'} (common practice, no source); site.record_low_C takes its place`,
  };
}

/** The hottest step with light on the array, with a margin. */
function hottestCell({ arrays, clock }: PreparedYear, a: number): { cell_C: number; from: string } {
  const { cell_temperature_C, plane_W_m2 } = arrays[a]!;
  let at = -1;
  for (let i = 0; i < cell_temperature_C.length; i++) {
    if (plane_W_m2[i]! > 0 && (at < 0 || cell_temperature_C[i]! > cell_temperature_C[at]!)) at = i;
  }
  // An array that never sees light has cells as warm as at standard test conditions, for want of another figure.
  if (at < 0) return { cell_C: 25, from: 'standard test conditions: no light falls on this array' };
  const hottest = cell_temperature_C[at]!;
  return {
    cell_C: hottest + HOT_MARGIN_K,
    from: `the hottest cells of the year, ${C(hottest)} at ${readable(localTime(clock, at))}, and ${HOT_MARGIN_K} K for moments and hotter summers (common practice, no source)`,
  };
}

/** `2025-12-04T06:00:00+01:00` as `2025-12-04 06:00`. */
const readable = (time: string): string => `${time.slice(0, 10)} ${time.slice(11, 16)}`;

function restsOn({ panel, in_series, strings }: PanelString, { input }: Tracked): string[] {
  const missing = [
    ...(input.max_V === null ? ['tracker.max_input_V'] : []),
    ...(input.min_V === null ? ['tracker.min_input_V'] : []),
    ...(input.max_A === null ? ['tracker.max_input_A'] : []),
    ...(in_series === null ? ['panels_in_series'] : []),
    ...(in_series !== null && strings === null ? ['strings_parallel'] : []),
    ...((input.max_operating_A ?? null) === null ? ['tracker.max_operating_A'] : []),
  ];
  return [
    ...(missing.length === 0 ? [] : [`Not in the file, so not checked against: ${missing.join(', ')}.`]),
    'Open voltage: linear in temperature by the coefficient of the data sheet, cells as cold as the air (NEC 690.7(A)); beside it the factor of NEC Table 690.7(A) for crystalline silicon.',
    panel.vmp_temperature_coefficient_per_K === undefined
      ? 'Working voltage: as many volts per kelvin as at open circuit (common practice, no source).'
      : 'Working voltage: linear in temperature by the coefficient of the data sheet.',
    "Current: the tracker's rating is an absolute maximum, so it is held against the short-circuit current × 1.25, for light above 1000 W/m² (NEC 690.8(A)); × 1.25 × 1.25 is for conductors and fuses (NEC 690.8(B)).",
    ...(strings !== null && strings > 2
      ? [
          'Three strings or more side by side: what the others give flows back into one that fails. Each needs a fuse of its own, for DC (NEC 690.9, IEC 60364-7-712).',
        ]
      : []),
  ];
}
