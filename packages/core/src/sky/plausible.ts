import { type Issue, issue } from '../basis/errors.ts';
import { type Notice, notice } from '../basis/notices.ts';
import { HOUR_ms } from '../basis/units.ts';
import { otherUnit } from '../scenario/text/other-unit.ts';
import { placeOf, type Series } from '../series/types.ts';
import type { SunYear } from '../sun/year.ts';
import { type LightComparison, lightHint } from './light-check.ts';

/** Rows of weather longer than this smear the sun into the night; our own limit, no source. */
const LONGEST_ROW_h = 3;

/** Thermopiles that cool to the night sky read slightly below zero; common practice, no source. */
const NIGHT_OFFSET_W_m2 = -20;

/**
 * Slack of a mean over half an hour or more above the light from space. At sunrise in the tropics ten minutes of clock
 * error move that mean by 55 W/m²; refraction and twilight add under 10. Four station years used in the tests stay
 * within 32 W/m², and each has over a hundred rows above 50 when its clock is set wrong by an hour.
 */
const SLACK_W_m2 = 50;

const SHOWN = 5;

/** One issue for the first row that is longer than weather may be, if there is one. */
export function longRows(series: Series): Issue | undefined {
  const r = series.start_ms.findIndex((start, row) => series.end_ms[row]! - start > LONGEST_ROW_h * HOUR_ms);
  if (r < 0) return undefined;
  const length_h = (series.end_ms[r]! - series.start_ms[r]!) / HOUR_ms;
  return issue('row-too-long', 'weather.file', {
    expected: `weather rows of at most ${LONGEST_ROW_h} hours`,
    place: placeOf(series, r),
  })`a row covers ${length_h} hours | use hourly weather, or weather of kind monthly_means with the monthly means`;
}

/**
 * Rows of irradiance that can't be true.
 *
 * Global: above the limit of the Baseline Surface Radiation Network, and, for means of half an hour or more, above the
 * light from space by more than the slack (bright cloud edges lift shorter ones above it). Beam: above the light from
 * space in the row's sun-up share, with the same slack. Diffuse: above the network's limit. All: below -20 W/m².
 *
 * @param values W/m², one a row; NaN is skipped
 *
 * Source: Long & Dutton 2002, BSRN Global Network recommended QC tests v2.0, physically possible limits (recalled).
 */
export function unphysicalLight(
  quantity: 'ghi' | 'dni' | 'dhi',
  values: Float64Array,
  series: Series,
  column: string,
  sun: SunYear,
  light: LightComparison,
): Issue[] {
  const limit = (r: number): number => {
    const above = sun.extraterrestrial_normal_W_m2[r]!;
    const horizontal = sun.extraterrestrial_horizontal_W_m2[r]!;
    const mu = horizontal / above;
    if (quantity === 'dni') return above * sun.up_share[r]! + SLACK_W_m2;
    if (quantity === 'dhi') return 0.95 * above * mu ** 1.2 + 50;
    const network = 1.5 * above * mu ** 1.2 + 100;
    const long = series.end_ms[r]! - series.start_ms[r]! >= HOUR_ms / 2;
    return long ? Math.min(network, horizontal + SLACK_W_m2) : network;
  };
  const low: number[] = [];
  const high: number[] = [];
  for (let r = 0; r < values.length; r++) {
    if (values[r]! < NIGHT_OFFSET_W_m2) low.push(r);
    else if (values[r]! > 0 && values[r]! > limit(r)) high.push(r);
  }
  const path = `weather.${quantity}`;
  const at = (r: number, expected: string) => ({ expected, place: placeOf(series, r, column) });
  const hint =
    lightHint(light) || 'check the row, the unit, the time zone and label of the stamps, and the site';
  const tooLow = (r: number): Issue =>
    issue('negative-irradiance', path, at(r, `at least ${NIGHT_OFFSET_W_m2} W/m²`))`${figure(values[r]!)} W/m²
      is below zero by more than an instrument's night offset | ${leftOut(series)}`;
  const tooHigh = (r: number): Issue =>
    issue('above-extraterrestrial', path, at(r, `at most ${figure(limit(r))} W/m²`))`${figure(values[r]!)}
      W/m² is more than the sun can give at this place in these minutes, standing at
      ${figure(sun.altitude_deg[r]!)} degrees | ${hint}`;
  return [...firstRows(low, tooLow), ...firstRows(high, tooHigh)];
}

/** Units of rows as they are shown, and as keys write them. */
const UNITS = { '°C': 'C', 'm/s': 'm_s' } as const;

/**
 * Rows outside a plain range, in the unit the range is given in; NaN is skipped.
 *
 * @param written the unit that the rows are said to be in: another is only guessed where they were not converted
 */
export function outOfRange(
  path: string,
  values: Float64Array,
  series: Series,
  column: string,
  least: number,
  most: number,
  unit: keyof typeof UNITS,
  written: string,
): Issue[] {
  const rows: number[] = [];
  for (let r = 0; r < values.length; r++) if (values[r]! < least || values[r]! > most) rows.push(r);
  const looks = (r: number): string =>
    (written === UNITS[unit] ? otherUnit(values[r]!, written, least, most) : undefined) ?? 'check the unit';
  const expected = `${least} to ${most} ${unit}`;
  const outside = (r: number): Issue =>
    issue('out-of-range', path, { expected, place: placeOf(series, r, column) })`${figure(values[r]!)} ${unit}
      can't be | ${looks(r)} in ${path}.unit, and ${leftOut(series)}`;
  return firstRows(rows, outside);
}

/** How a missing value is written. */
const leftOut = ({ given }: Series): string =>
  given ? 'give NaN if the value is missing' : 'leave the cell empty if the value is missing';

/** Warmer than the air of any place over a year: 34.4 °C in the Danakil depression (recalled), and a little on top. */
const WARMEST_YEAR_C = 36;

/** A notice for a year of air that is warm beyond any place, though each of its figures might be. */
export function warmthNotices(air_temperature_C: Float64Array): Notice[] {
  const mean_C = air_temperature_C.reduce((sum, air) => sum + air, 0) / air_temperature_C.length;
  if (mean_C <= WARMEST_YEAR_C) return [];
  const unit = otherUnit(mean_C, 'C', -WARMEST_YEAR_C, WARMEST_YEAR_C);
  const looks = unit === undefined ? '' : `: ${unit}`;
  return [
    notice('air-too-warm')`weather: the air is ${figure(mean_C)} °C on the mean of the year, warmer than
      anywhere on Earth${looks}`,
  ];
}

const figure = (value: number): string => `${Math.round(value * 10) / 10}`;

/** Issues of the first few rows, and one more with their number if there are others. */
function firstRows(rows: readonly number[], issueOf: (row: number) => Issue): Issue[] {
  const issues = rows.slice(0, SHOWN).map(issueOf);
  if (rows.length <= SHOWN) return issues;
  const { code, path, fix, place } = issues[0]!;
  const message = `${(rows.length - SHOWN).toLocaleString('en')} more like these, ${rows.length.toLocaleString('en')} in all`;
  return [...issues, { code, path, message, fix: fix!, place: { file: place!.file } }];
}
