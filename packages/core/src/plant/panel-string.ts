import { expectArguments } from '../basis/arguments.ts';
import { STC_CELL_TEMPERATURE_C } from '../basis/constants.ts';
import { expectWithin, FINITE } from '../basis/within.ts';
import type { ArraySpec, PanelSpec } from '../scenario/schema/schema.ts';

/** Panels as they hang on a tracker, as far as the scenario says. */
export interface PanelString {
  readonly panel: PanelSpec;
  /** Null where the scenario does not count them. */
  readonly in_series: number | null;
  readonly strings: number | null;
}

/** Voltages and current that a tracker's input stands; null where the scenario does not say. */
export interface TrackerInput {
  readonly max_V: number | null;
  readonly min_V: number | null;
  readonly max_A: number | null;
  /** Current that it works at, not that of a short circuit. */
  readonly max_operating_A?: number | null;
}

/** Cell temperatures between which a string's voltage is one that the tracker takes power at. */
export interface WorkingRange {
  readonly from_C: number;
  readonly to_C: number;
}

const ANY_TEMPERATURE: WorkingRange = {
  from_C: Number.NEGATIVE_INFINITY,
  to_C: Number.POSITIVE_INFINITY,
};

/**
 * Voltage of a panel at open circuit.
 *
 * @param cell_C cell temperature, °C
 *
 * Source: linear in temperature with the data sheet's coefficient, the first method of NEC 690.7(A); the fall with weak
 * light is left out.
 */
export function openVoltage_V(panel: PanelSpec, cell_C: number): number {
  expectPanel('openVoltage_V', panel, cell_C);
  return panel.voc_V * (1 + panel.voc_temperature_coefficient_per_K * (cell_C - STC_CELL_TEMPERATURE_C));
}

/** Colder or hotter is no cell. */
function expectPanel(where: string, panel: PanelSpec, cell_C: number): void {
  expectArguments(where, { panel });
  expectWithin(where, 'cell_C', cell_C, -273.15, 1000);
  expectWithin(where, 'panel.voc_V', panel.voc_V, 0, FINITE);
  expectWithin(where, 'panel.vmp_V', panel.vmp_V, 0, FINITE);
  const { voc_temperature_coefficient_per_K: voc, vmp_temperature_coefficient_per_K: vmp = 0 } = panel;
  expectWithin(where, 'panel.voc_temperature_coefficient_per_K', voc, -1, 1);
  expectWithin(where, 'panel.vmp_temperature_coefficient_per_K', vmp, -1, 1);
}

/**
 * Change of a panel's voltage at its point of most power with cell temperature, as a share of it: the data sheet's
 * figure, or else as many volts per kelvin as at open circuit (common practice, no source).
 */
export const workingCoefficient_per_K = (panel: PanelSpec): number =>
  panel.vmp_temperature_coefficient_per_K ??
  (panel.voc_temperature_coefficient_per_K * panel.voc_V) / panel.vmp_V;

/** Voltage of a panel at its point of most power, by cell temperature in °C; never negative. */
export function workingVoltage_V(panel: PanelSpec, cell_C: number): number {
  expectPanel('workingVoltage_V', panel, cell_C);
  return Math.max(0, panel.vmp_V * (1 + workingCoefficient_per_K(panel) * (cell_C - STC_CELL_TEMPERATURE_C)));
}

/** The panels of an array; null if the scenario does not give their data sheet. */
export function panelString(array: ArraySpec): PanelString | null {
  const { panel, panels, panels_in_series = null, strings_parallel } = array;
  if (panel === undefined) return null;
  const counted = panels === undefined || panels_in_series === null ? null : panels / panels_in_series;
  return { panel, in_series: panels_in_series, strings: strings_parallel ?? counted };
}

/**
 * Cell temperatures at which the string works within the tracker's voltages: any, where string or limits are not known;
 * none (from above to) where it never does.
 */
export function workingRange(string: PanelString | null, { min_V, max_V }: TrackerInput): WorkingRange {
  if (string === null || string.in_series === null) return ANY_TEMPERATURE;
  const { panel, in_series } = string;
  const rated_V = in_series * panel.vmp_V;
  const coefficient = workingCoefficient_per_K(panel);
  // With a coefficient of zero the voltage is the same at every temperature: it fits all of them or none.
  if (coefficient === 0) {
    const fits = (min_V === null || rated_V >= min_V) && (max_V === null || rated_V <= max_V);
    return fits ? ANY_TEMPERATURE : { from_C: Number.POSITIVE_INFINITY, to_C: Number.NEGATIVE_INFINITY };
  }
  const at = (volts: number): number => STC_CELL_TEMPERATURE_C + (volts / rated_V - 1) / coefficient;
  return {
    from_C: max_V === null ? Number.NEGATIVE_INFINITY : at(max_V),
    to_C: min_V === null ? Number.POSITIVE_INFINITY : at(min_V),
  };
}
