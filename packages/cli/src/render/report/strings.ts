import type { StringCheck, StringConflict } from '@longnight/core/array';
import { present } from '../document/document.ts';
import { A, C, clockTime, fixed, V } from '../document/figures.ts';

const ELECTRICIAN =
  'Voltages of this kind kill. Local code and a licensed electrician decide strings, switches and breakers.';

/** What is said of an array whose panels are not known. */
export const NO_PANEL_DATA =
  'No data of its panels (panel: voc_V, vmp_V, isc_A …) is given: voltage and current of its strings were not checked.';

/** `4 to 9`, `at least 4`, `at most 9`. */
function range({ min_in_series: least, max_in_series: most }: StringCheck): string {
  if (least === null && most === null) return 'no limit of the tracker is in the file';
  if (least === null) return `at most ${most} panels in series`;
  if (most === null) return `at least ${least} panels in series`;
  return least > most
    ? 'no number of panels in series'
    : least === most
      ? `${least} panels in series`
      : `${least} to ${most} panels in series`;
}

/** The heading of an array's strings. */
export const stringsTitle = (check: StringCheck): string => `Strings of ${check.array}: ${range(check)}`;

/** Panels in series and strings side by side, with the figures behind them. */
export function stringSentences(check: StringCheck): readonly string[] {
  const { max_in_series: most, max_in_series_table: byTable, min_in_series: least } = check;
  const { in_series, strings, string_cold_V, string_hot_V, max_current_A, needed_A, short_circuit_A } = check;
  const says = (count: number | null, words: string): string => (count === null ? '' : `: ${words} ${count}`);
  const stands = (volts: number | null): string => (volts === null ? '' : `, the tracker stands ${V(volts)}`);
  const table =
    check.panel_cold_table_V === null
      ? 'below -40 °C the table of the code has no factor'
      : `${V(check.panel_cold_table_V)} by the table of the code (factor ${check.table_factor}${says(byTable, 'at most')})`;
  return present([
    `Cold, ${C(check.coldest_air_C)}: a panel gives ${V(check.panel_cold_V)} at open circuit${stands(check.max_input_V)}${says(most, 'at most')}; ${table}.`,
    `Heat, cells of ${C(check.hottest_cell_C)}: a panel works at ${V(check.panel_hot_V)}${
      check.min_input_V === null ? '' : `, the tracker needs ${V(check.min_input_V)}`
    }${says(least, 'at least')}.`,
    in_series !== null &&
      string_cold_V !== null &&
      string_hot_V !== null &&
      `The file has ${in_series} in series: ${V(string_cold_V)} in the cold, ${V(string_hot_V)} in the heat.`,
    short_circuit_A !== null &&
      max_current_A !== null &&
      needed_A !== null &&
      `${strings} ${strings === 1 ? 'string' : 'strings'}: ${A(short_circuit_A)} in short circuit, ${A(max_current_A)} with 1.25 for bright light${
        check.max_input_A === null ? '' : `; the tracker stands ${A(check.max_input_A)}`
      }. Conductors and fuses of them: ${A(needed_A)}, with 1.25 × 1.25.`,
    check.operating_A !== null &&
      check.max_operating_A !== null &&
      `They work at ${A(check.operating_A)} in full sun; the tracker works at ${A(check.max_operating_A)} at most.`,
    ...check.conflicts.map((conflict) => `Conflict: ${CONFLICTS[conflict](check)}`),
    // Nothing was held against the limits where the file does not count the panels of a string.
    check.conflicts.length === 0 && in_series !== null && 'No conflict found.',
    `Coldest air: ${coldestFrom(check)}.`,
    `Hottest cell: ${hottestFrom(check)}.`,
    ...basis(check),
    ELECTRICIAN,
  ]);
}

const stringsThat = (count: number | null, verb: 'give' | 'work'): string =>
  count === 1 ? `1 string ${verb}s` : `${count} strings ${verb}`;

const CONFLICTS: Readonly<Record<StringConflict, (check: StringCheck) => string>> = {
  one_panel: (c) =>
    `One panel alone gives ${V(c.panel_cold_V)} in the cold; the tracker stands ${V(c.max_input_V!)}.`,
  no_number_of_panels: (c) =>
    `No number of panels in series suits this tracker: heat asks for ${c.min_in_series} or more, cold allows ${c.max_in_series}.`,
  cold_voltage: (c) =>
    `${c.in_series} panels in series give ${V(c.string_cold_V!)} at ${C(c.coldest_air_C)}, and the tracker stands ${V(c.max_input_V!)}: that can destroy it, and start a fire.`,
  hot_voltage: (c) =>
    `${c.in_series} panels in series work at ${V(c.string_hot_V!)} with cells of ${C(c.hottest_cell_C)}, and the tracker needs ${V(c.min_input_V!)}: it stops in the heat.`,
  short_circuit_current: (c) =>
    `${stringsThat(c.strings, 'give')} ${A(c.short_circuit_A!)} in short circuit, ${A(c.max_current_A!)} with 1.25 for bright light, and the tracker stands ${A(c.max_input_A!)}.`,
  operating_current: (c) =>
    `${stringsThat(c.strings, 'work')} at ${A(c.operating_A!)} in full sun, and the tracker at ${A(c.max_operating_A!)} at most: it holds them back to ${fixed(100 * (c.max_operating_A! / c.operating_A!), 0)} % of that.`,
};

function coldestFrom({ coldest_air_from: from }: StringCheck): string {
  if (from.id === 'record') return 'site.record_low_C';
  const year = from.of_means ? 'a year made from monthly means' : 'one year';
  return `the coldest step of the weather, ${C(from.step_C)} at ${clockTime(from.time)}, less ${from.margin_K} K for what a record is colder than ${year} (common practice, no source); site.record_low_C takes its place`;
}

const hottestFrom = ({ hottest_cell_from: from }: StringCheck): string =>
  from.id === 'no_light'
    ? 'standard test conditions: no light falls on this array'
    : `the hottest cells of the year, ${C(from.step_C)} at ${clockTime(from.time)}, and ${from.margin_K} K for moments and hotter summers (common practice, no source)`;

/** What the figures rest on. */
function basis(check: StringCheck): readonly string[] {
  const { in_series, strings } = check;
  const missing = present([
    check.max_input_V === null && 'tracker.max_input_V',
    check.min_input_V === null && 'tracker.min_input_V',
    check.max_input_A === null && 'tracker.max_input_A',
    in_series === null && 'panels_in_series',
    in_series !== null && strings === null && 'strings_parallel',
    check.max_operating_A === null && 'tracker.max_operating_A',
  ]);
  return present([
    missing.length > 0 && `Not in the file, so not checked against: ${missing.join(', ')}.`,
    'Open voltage: linear in temperature by the coefficient of the data sheet, cells as cold as the air (NEC 690.7(A)); beside it the factor of NEC Table 690.7(A) for crystalline silicon.',
    check.has_vmp_coefficient
      ? 'Working voltage: linear in temperature by the coefficient of the data sheet.'
      : 'Working voltage: as many volts per kelvin as at open circuit (common practice, no source).',
    "Current: the tracker's rating is an absolute maximum, so it is held against the short-circuit current × 1.25, for light above 1000 W/m² (NEC 690.8(A)); × 1.25 × 1.25 is for conductors and fuses (NEC 690.8(B)).",
    strings !== null &&
      strings > 2 &&
      'Three strings or more side by side: what the others give flows back into one that fails. Each needs a fuse of its own, for DC (NEC 690.9, IEC 60364-7-712).',
  ]);
}
