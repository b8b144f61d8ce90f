import { type Issue, issue } from '../basis/errors.ts';
import { type Notice, notice } from '../basis/notices.ts';
import { HOUR_ms } from '../basis/units.ts';
import { otherUnit } from '../scenario/text/other-unit.ts';
import { placeOf, type Series } from '../series/types.ts';
import type { Quantity } from '../series/weather-file.ts';
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

/** Rows of one column that can't be true. */
export interface Fault {
  readonly code: 'negative-irradiance' | 'above-extraterrestrial' | 'out-of-range';
  readonly quantity: Quantity;
  readonly column: string;
  /** Ascending, one at least. */
  readonly rows: readonly number[];
  /** What a row shows, and what it might have shown. */
  readonly message: (row: number) => string;
  readonly expected: (row: number) => string;
  readonly fix: string;
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
): Fault[] {
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
  const hint =
    lightHint(light) || 'check the row, the unit, the time zone and label of the stamps, and the site';
  const faults: Fault[] = [
    {
      code: 'negative-irradiance',
      quantity,
      column,
      rows: low,
      message: (r) => `${figure(values[r]!)} W/m² is below zero by more than an instrument's night offset`,
      expected: () => `at least ${NIGHT_OFFSET_W_m2} W/m²`,
      fix: leftOut(series),
    },
    {
      code: 'above-extraterrestrial',
      quantity,
      column,
      rows: high,
      message: (r) =>
        `${figure(values[r]!)} W/m² is more than the sun can give at this place in these minutes, standing at ${figure(sun.altitude_deg[r]!)} degrees`,
      expected: (r) => `at most ${figure(limit(r))} W/m²`,
      fix: hint,
    },
  ];
  return faults.filter(({ rows }) => rows.length > 0);
}

/** Units of rows as they are shown, and as keys write them. */
const UNITS = { '°C': 'C', 'm/s': 'm_s' } as const;

/**
 * Rows outside a plain range, in the unit the range is given in; NaN is skipped.
 *
 * @param written the unit that the rows are said to be in: another is only guessed where they were not converted
 */
export function outOfRange(
  quantity: 'air_temperature' | 'wind',
  values: Float64Array,
  series: Series,
  column: string,
  least: number,
  most: number,
  unit: keyof typeof UNITS,
  written: string,
): Fault[] {
  const rows: number[] = [];
  for (let r = 0; r < values.length; r++) if (values[r]! < least || values[r]! > most) rows.push(r);
  if (rows.length === 0) return [];
  const looks = written === UNITS[unit] ? otherUnit(values[rows[0]!]!, written, least, most) : undefined;
  return [
    {
      code: 'out-of-range',
      quantity,
      column,
      rows,
      message: (r) => `${figure(values[r]!)} ${unit} can't be`,
      expected: () => `${least} to ${most} ${unit}`,
      fix: `${looks ?? 'check the unit'} in weather.${quantity}.unit, and ${leftOut(series)}`,
    },
  ];
}

/** Spans of rows that an issue names; the rest is only counted. */
const MOST_SPANS = 30;

/** An issue for each fault, which names its first row by value and the others by line; each fix is said once. */
export function faultIssues(faults: readonly Fault[], series: Series): Issue[] {
  return faults.map(({ code, quantity, column, rows, message, expected, fix }, k) => {
    const [first] = rows as [number];
    const isSaid = faults.slice(0, k).some((before) => before.fix === fix);
    const all =
      rows.length === 1 ? '' : `; ${rows.length.toLocaleString('en')} rows like it: ${spans(rows, series)}`;
    return {
      code,
      path: `weather.${quantity}`,
      message: message(first) + all,
      expected: expected(first),
      ...(isSaid ? {} : { fix }),
      place: placeOf(series, first, column),
    };
  });
}

/** `lines 8, 12 to 19 and 31`, or places in numbers that were handed over. */
function spans(rows: readonly number[], series: Series): string {
  const all: string[] = [];
  let named = 0;
  for (let from = 0; from < rows.length; ) {
    let to = from;
    while (to + 1 < rows.length && rows[to + 1] === rows[to]! + 1) to++;
    const at = (k: number): string => `${series.line[rows[k]!]}`;
    if (all.length < MOST_SPANS) {
      all.push(from === to ? at(from) : `${at(from)} to ${at(to)}`);
      named = to + 1;
    }
    from = to + 1;
  }
  const rest = rows.length - named;
  return `${series.given ? 'places' : 'lines'} ${all.join(', ')}${rest > 0 ? ` and ${rest.toLocaleString('en')} more` : ''}`;
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
