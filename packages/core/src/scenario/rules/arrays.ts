import type { Issue } from '../../basis/errors.ts';
import { rounded } from '../../basis/rounding.ts';
import type { ArraySpec, HorizonPoint, Scenario } from '../schema/schema.ts';

type Found = Omit<Issue, 'place'>;

const code = 'contradiction';

/** Rules between the values of site and arrays that the schema can't say. */
export const checkArrays = ({ site, arrays }: Scenario): readonly Found[] => [
  ...horizon(site.horizon, 'site.horizon'),
  ...arrays.flatMap((array, i) => {
    const at = `arrays[${i}]`;
    return [
      ...panels(array, at),
      ...horizon(array.horizon, `${at}.horizon`),
      ...heat(array, at),
      ...dataSheet(array, at),
      ...strings(array, at),
      ...trackerInput(array, at),
    ];
  }),
];

/** Counted panels and a size typed beside them must say the same. */
function panels({ panels, panel_kWp, size_kWp }: ArraySpec, at: string): Found[] {
  if (panels === undefined) return [];
  const path = `${at}.panels`;
  if (panel_kWp === undefined) {
    const fix = 'add panel_kWp, or a part of kind panel, or leave panels out';
    return [{ code, path, message: `${panels} panels of unknown size`, fix }];
  }
  if (Math.abs(panels * panel_kWp - size_kWp) <= 1e-9 * Math.max(1, size_kWp)) return [];
  const message = `${panels} panels of ${panel_kWp} kWp are ${rounded(panels * panel_kWp)} kWp, not ${size_kWp}`;
  return [{ code, path, message, fix: 'leave size_kWp out, or leave panels out' }];
}

/** Points go around the compass once; 0 and 360 are the same north. */
function horizon(points: readonly HorizonPoint[] | undefined, at: string): Found[] {
  const found: Found[] = [];
  for (const [i, { azimuth_deg }] of (points ?? []).entries()) {
    const before = points![i - 1]?.azimuth_deg;
    const closes = i > 0 && azimuth_deg === 360 && points![0]!.azimuth_deg === 0;
    if (!closes && (before === undefined || azimuth_deg > before)) continue;
    const message = closes
      ? '360 is north again, which has a height at 0 already'
      : `${azimuth_deg} does not come after ${before}`;
    const fix = 'list each azimuth once, clockwise from north';
    found.push({ code, path: `${at}[${i}].azimuth_deg`, message, fix });
  }
  return found;
}

/** The test behind a nominal cell temperature is made on an open rack. */
function heat({ cell_model, mounting }: ArraySpec, at: string): Found[] {
  if (cell_model.kind !== 'noct' || mounting === 'open_rack') return [];
  const message = `noct_C is measured on an open rack, and this array is a ${mounting}, which runs hotter`;
  const fix = 'take cell_model: { kind: faiman }, or mounting: open_rack if air passes behind the panels';
  return [{ code, path: `${at}.cell_model.kind`, message, fix }];
}

/** Power off by more than this is not rounding of a data sheet. */
const SAME_POWER_share = 0.03;

/** A panel gives its power below its open voltage and its short-circuit current. */
function dataSheet({ panel, panel_kWp }: ArraySpec, at: string): Found[] {
  if (panel === undefined) return [];
  const { voc_V, vmp_V, isc_A, imp_A } = panel;
  const found: Found[] = [];
  const add = (key: string, message: string, fix: string) =>
    found.push({ code, path: `${at}.panel.${key}`, message, fix });
  if (vmp_V >= voc_V) {
    add('vmp_V', `${vmp_V} V is not below voc_V ${voc_V}`, 'check both against the data sheet');
  }
  if (imp_A >= isc_A) {
    add('imp_A', `${imp_A} A is not below isc_A ${isc_A}`, 'check both against the data sheet');
  }
  const power_kW = (vmp_V * imp_A) / 1000;
  if (panel_kWp !== undefined && Math.abs(power_kW / panel_kWp - 1) > SAME_POWER_share) {
    const message = `${vmp_V} V × ${imp_A} A is ${rounded(power_kW)} kW, and panel_kWp is ${panel_kWp}`;
    add('vmp_V', message, 'give the figures of one panel at standard test conditions');
  }
  return found;
}

/** Strings are of panels that are known, and all panels hang in them. */
function strings(array: ArraySpec, at: string): Found[] {
  const { panel, panels, panels_in_series, strings_parallel } = array;
  if (panels_in_series === undefined) {
    if (strings_parallel === undefined) return [];
    const message = `${strings_parallel} strings of how many panels each?`;
    return [{ code, path: `${at}.strings_parallel`, message, fix: 'add panels_in_series' }];
  }
  const path = `${at}.panels_in_series`;
  if (panel === undefined) {
    const fix = 'add panel: { voc_V, vmp_V, … } from its data sheet, or leave panels_in_series out';
    return [{ code, path, message: 'strings of panels with unknown voltage', fix }];
  }
  if (panels === undefined) return sizeOfStrings(array, panels_in_series, path);
  if (strings_parallel === undefined) {
    if (panels % panels_in_series === 0) return [];
    const message = `${panels} panels make no whole strings of ${panels_in_series}`;
    return [{ code, path, message, fix: `count ${panels_in_series} panels or a multiple of it` }];
  }
  if (panels === panels_in_series * strings_parallel) return [];
  const message = `${strings_parallel} strings of ${panels_in_series} are ${strings_parallel * panels_in_series} panels, not ${panels}`;
  return [{ code, path, message, fix: 'leave strings_parallel out, or correct panels' }];
}

/** Where panels are not counted, strings must add up to the size. */
function sizeOfStrings(array: ArraySpec, panels_in_series: number, path: string): Found[] {
  const { panel_kWp, strings_parallel, size_kWp } = array;
  if (panel_kWp === undefined || strings_parallel === undefined) return [];
  const strings_kWp = strings_parallel * panels_in_series * panel_kWp;
  if (Math.abs(strings_kWp - size_kWp) <= 1e-9 * Math.max(1, size_kWp)) return [];
  const message = `${strings_parallel} strings of ${panels_in_series} panels are ${rounded(strings_kWp)} kWp, not ${size_kWp}`;
  return [{ code, path, message, fix: 'count panels instead of size_kWp, or correct the strings' }];
}

/** A tracker works between its voltages and below the current that its input stands; on the AC side it is no tracker of the inverter. */
function trackerInput({ tracker, coupling }: ArraySpec, at: string): Found[] {
  const { min_input_V, max_input_V, max_input_A, max_operating_A, built_in } = tracker;
  const found: Found[] = [];
  const add = (key: string, message: string, fix: string) =>
    found.push({ code, path: `${at}.tracker.${key}`, message, fix });
  const sheet = 'check both against the data sheet of the tracker';
  if (min_input_V !== undefined && max_input_V !== undefined && min_input_V >= max_input_V)
    add('min_input_V', `${min_input_V} V is not below max_input_V ${max_input_V}`, sheet);
  if (max_operating_A !== undefined && max_input_A !== undefined && max_operating_A > max_input_A)
    add('max_operating_A', `${max_operating_A} A is above max_input_A ${max_input_A}`, sheet);
  if (built_in === true && coupling === 'ac') {
    const message = 'an array on the AC side has an inverter of its own';
    add('built_in', message, 'leave it out, or put the array on the DC side with coupling: dc');
  }
  return found;
}
