import type { StringCheck } from '@longnight/core/array';
import { fixed } from '../document/figures.ts';

const ELECTRICIAN =
  'Voltages of this kind kill. Local code and a licensed electrician decide strings, switches and breakers.';

/** What is said of an array whose panels are not known. */
export const NO_PANEL_DATA =
  'No data of its panels (panel: voc_V, vmp_V, isc_A …) is given: voltage and current of its strings were not checked.';

const V = (value: number): string => `${fixed(value, value < 100 ? 1 : 0)} V`;
const C = (value: number): string => `${fixed(value, 1)} °C`;
const A = (value: number): string => `${fixed(value, 1)} A`;

/** `4 to 9`, `at least 4`, `at most 9`. */
function range({ least_in_series: least, most_in_series: most }: StringCheck): string {
  if (least === null && most === null) return 'no limit of the tracker is in the file';
  if (least === null) return `at most ${most} panels in series`;
  if (most === null) return `at least ${least} panels in series`;
  return least > most ? 'no number of panels in series' : `${least} to ${most} panels in series`;
}

/** The heading of an array's strings. */
export const stringsTitle = (check: StringCheck): string => `Strings of ${check.array}: ${range(check)}`;

/** Panels in series and strings side by side, with the figures behind them. */
export function stringSentences(check: StringCheck): readonly string[] {
  const { most_in_series: most, most_in_series_table: byTable, least_in_series: least } = check;
  const { in_series, strings, string_cold_V, string_hot_V, max_current_A, needed_A, short_circuit_A } = check;
  const says = (count: number | null, words: string): string => (count === null ? '' : `: ${words} ${count}`);
  const stands = (volts: number | null): string => (volts === null ? '' : `, the tracker stands ${V(volts)}`);
  const table =
    check.panel_cold_table_V === null
      ? 'below -40 °C the table of the code has no factor'
      : `${V(check.panel_cold_table_V)} by the table of the code (factor ${check.table_factor}${says(byTable, 'at most')})`;
  return [
    `Cold, ${C(check.coldest_air_C)}: a panel gives ${V(check.panel_cold_V)} at open circuit${stands(check.max_input_V)}${says(most, 'at most')}; ${table}.`,
    `Heat, cells of ${C(check.hottest_cell_C)}: a panel works at ${V(check.panel_hot_V)}${
      check.min_input_V === null ? '' : `, the tracker needs ${V(check.min_input_V)}`
    }${says(least, 'at least')}.`,
    ...(in_series === null || string_cold_V === null || string_hot_V === null
      ? []
      : [
          `The file has ${in_series} in series: ${V(string_cold_V)} in the cold, ${V(string_hot_V)} in the heat.`,
        ]),
    ...(short_circuit_A === null || max_current_A === null || needed_A === null
      ? []
      : [
          `${strings} ${strings === 1 ? 'string' : 'strings'}: ${A(short_circuit_A)} in short circuit, ${A(max_current_A)} with 1.25 for bright light${
            check.max_input_A === null ? '' : `; the tracker stands ${A(check.max_input_A)}`
          }. Conductors and fuses of them: ${A(needed_A)}, with 1.25 × 1.25.`,
        ]),
    ...(check.operating_A === null || check.max_operating_A === null
      ? []
      : [
          `They work at ${A(check.operating_A)} in full sun; the tracker works at ${A(check.max_operating_A)} at most.`,
        ]),
    ...check.conflicts.map((text) => `Conflict: ${text}`),
    // Nothing was held against the limits where the file does not count the panels of a string.
    ...(check.conflicts.length === 0 && in_series !== null ? ['No conflict found.'] : []),
    `Coldest air: ${check.coldest_air_from}.`,
    `Hottest cell: ${check.hottest_cell_from}.`,
    ...check.rests_on,
    ELECTRICIAN,
  ];
}
