import type { Issue } from '../../basis/errors.ts';
import { rounded } from '../../basis/rounding.ts';
import type { ArraySpec, Scenario } from '../schema/schema.ts';
import { broken } from './rule.ts';
import { horizon, twice } from './site.ts';

/** Sizes, panels, strings and trackers of the arrays. */
export function* arrayRules({ arrays }: Scenario): Generator<Issue> {
  yield* twice(arrays, 'arrays');
  for (const [i, array] of arrays.entries()) {
    const at = `arrays[${i}]`;
    yield* panels(array, at);
    yield* horizon(array.horizon, `${at}.horizon`);
    // The test behind a nominal cell temperature is made on an open rack.
    if (array.cell_model.kind === 'noct' && array.mounting !== 'open_rack')
      yield broken(`${at}.cell_model.kind`)`noct_C is measured on an open rack, and this array is a
        ${array.mounting}, which runs hotter | take cell_model: { kind: faiman }, or mounting: open_rack if
        air passes behind the panels`;
    yield* dataSheet(array, at);
    yield* strings(array, at);
    yield* trackerInput(array, at);
  }
}

const isSameSize = (kWp: number, size_kWp: number): boolean =>
  Math.abs(kWp - size_kWp) <= 1e-9 * Math.max(1, size_kWp);

/** Counted panels and a size typed beside them must say the same. */
function* panels({ panels, panel_kWp, size_kWp }: ArraySpec, at: string): Generator<Issue> {
  if (panels === undefined) return;
  if (panel_kWp === undefined)
    yield broken(`${at}.panels`)`${panels} panels of unknown size | add panel_kWp, or a part of kind panel, or
      leave panels out`;
  else if (!isSameSize(panels * panel_kWp, size_kWp))
    yield broken(`${at}.panels`)`${panels} panels of ${panel_kWp} kWp are ${rounded(panels * panel_kWp)} kWp,
      not ${size_kWp} | leave size_kWp out, or leave panels out`;
}

/** Power off by more than this is not rounding of a data sheet. */
const SAME_POWER_share = 0.03;

/** A panel gives its power below its open voltage and its short-circuit current. */
function* dataSheet({ panel, panel_kWp }: ArraySpec, array: string): Generator<Issue> {
  if (panel === undefined) return;
  const { voc_V, vmp_V, isc_A, imp_A } = panel;
  const at = `${array}.panel`;
  if (vmp_V >= voc_V)
    yield broken(`${at}.vmp_V`)`${vmp_V} V is not below voc_V ${voc_V} | check both against the data sheet`;
  if (imp_A >= isc_A)
    yield broken(`${at}.imp_A`)`${imp_A} A is not below isc_A ${isc_A} | check both against the data sheet`;
  const power_kW = (vmp_V * imp_A) / 1000;
  if (panel_kWp !== undefined && Math.abs(power_kW / panel_kWp - 1) > SAME_POWER_share)
    yield broken(`${at}.vmp_V`)`${vmp_V} V × ${imp_A} A is ${rounded(power_kW)} kW, and panel_kWp is
      ${panel_kWp} | give the figures of one panel at standard test conditions`;
}

/** Strings are of panels that are known, and all panels hang in them; panels not counted, they add up to the size. */
function* strings(array: ArraySpec, at: string): Generator<Issue> {
  const { panel, panels, panel_kWp, size_kWp, panels_in_series: each, strings_parallel: count } = array;
  const path = `${at}.panels_in_series`;
  if (each === undefined) {
    if (count !== undefined)
      yield broken(`${at}.strings_parallel`)`${count} strings of how many panels each? | add
        panels_in_series`;
  } else if (panel === undefined)
    yield broken(path)`strings of panels with unknown voltage | add panel: { voc_V, vmp_V, … } from its data
      sheet, or leave panels_in_series out`;
  else if (panels !== undefined && count === undefined) {
    if (panels % each !== 0)
      yield broken(path)`${panels} panels make no whole strings of ${each} | count ${each} panels or a
        multiple of it`;
  } else if (panels !== undefined && count !== undefined) {
    if (panels !== each * count)
      yield broken(path)`${count} strings of ${each} are ${count * each} panels, not ${panels} | leave
        strings_parallel out, or correct panels`;
  } else if (
    panel_kWp !== undefined &&
    count !== undefined &&
    !isSameSize(count * each * panel_kWp, size_kWp)
  )
    yield broken(path)`${count} strings of ${each} panels are ${rounded(count * each * panel_kWp)} kWp, not
      ${size_kWp} | count panels instead of size_kWp, or correct the strings`;
}

/** A tracker works between its voltages and below the current that its input stands, and puts out amps or AC power. */
function* trackerInput({ tracker, coupling }: ArraySpec, array: string): Generator<Issue> {
  const { min_input_V, max_input_V, max_input_A, max_operating_A, max_charge_A, max_output_kW, built_in } =
    tracker;
  const at = `${array}.tracker`;
  if (min_input_V !== undefined && max_input_V !== undefined && min_input_V >= max_input_V)
    yield broken(`${at}.min_input_V`)`${min_input_V} V is not below max_input_V ${max_input_V} | check both
      against the data sheet of the tracker`;
  if (max_operating_A !== undefined && max_input_A !== undefined && max_operating_A > max_input_A)
    yield broken(`${at}.max_operating_A`)`${max_operating_A} A is above max_input_A ${max_input_A} | check
      both against the data sheet of the tracker`;
  if (coupling === 'ac') {
    if (built_in === true)
      yield broken(`${at}.built_in`)`an array on the AC side has an inverter of its own | leave it out, or put
        the array on the DC side with coupling: dc`;
    if (max_output_kW === undefined)
      yield broken(at, 'missing')`an array on the AC side needs max_output_kW | add max_output_kW, the AC
        power of its inverter`;
    if (max_charge_A !== undefined)
      yield broken(`${at}.max_charge_A`)`an array on the AC side has no max_charge_A | leave it out, or set
        arrays[].coupling to dc`;
  } else {
    if (max_charge_A === undefined)
      yield broken(at, 'missing')`a tracker on the DC side needs max_charge_A | add max_charge_A, or set
        arrays[].coupling to ac`;
    if (max_output_kW !== undefined)
      yield broken(`${at}.max_output_kW`)`a tracker on the DC side has no max_output_kW | leave it out, or set
        arrays[].coupling to ac`;
  }
}
