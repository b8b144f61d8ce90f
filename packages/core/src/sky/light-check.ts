import { type Issue, issue, placeText } from '../basis/errors.ts';
import { type Notice, notice } from '../basis/notices.ts';
import { rounded } from '../basis/rounding.ts';
import { HOUR_ms } from '../basis/units.ts';
import { placeOf, type Series } from '../series/types.ts';
import type { SunYear } from '../sun/year.ts';
import { cosineOf, later_min, sineOf } from './middle.ts';

/** How the light in a file compares with the light from space over the same rows. */
export interface LightComparison {
  /** Global irradiation over the extraterrestrial one, both on the horizontal; 0 if the file is dark. */
  readonly clearness: number;
  /** How much later in the solar day the file's light comes than the sun's on its clearest days, minutes. */
  readonly late_min: number;
  /** Factor by which the values seem too large (3.6, 1000, …), or undefined if they look right. */
  readonly factor: number | undefined;
  /** Days with light from space that the file covers. */
  readonly days: number;
  /** True if its light is more than any sky lets through, whatever the unit might be. */
  readonly isTooBright: boolean;
  /** Where the file's clock is set, for the words. */
  readonly clockKeys: string;
}

/**
 * Clearness of a long period lies here, at any place on Earth; common practice, no source. Four years of stations used
 * in the tests give 0.45 to 0.56.
 */
const USUAL = { least: 0.2, most: 0.85 };

/**
 * Clear days are even about noon: on theirs, the stations used in the tests are within 2 minutes of the sun, with the
 * clouds of all days in it 11. Half of the half hour that stamps in the middle of an hour are off by.
 */
const USUAL_SHIFT_min = 15;

/** A format states its own clock: beyond this the statement is wrong, and a note would not do. */
const WRONG_CLOCK_min = 45;

/** Share of the days that count as clear, the clearest first; fewer than this many days are all counted. */
const CLEAR_share = 0.1;
const FEW_days = 30;

/**
 * A year as dark as this is in another unit. One that is 3.6 times too dark is only noted: somebody may have halved the
 * light of a dull place on purpose.
 */
const IMPOSSIBLE_clearness = 0.02;

/** No sky gives more than this of the light from space over a file; offsets and twilight add a few W/m² a row. Our own. */
const MOST_clearness = 1.2;
const NOISE_W_m2 = 5;

/** A file shorter than this may be dark for its season. */
const WHOLE_YEAR_days = 300;

/** Errors of unit that happen: J for Wh, k for none, and both. */
const FACTORS = [3.6, 1000, 3600, 1 / 3.6, 1 / 1000, 1 / 3600];

/**
 * Compares the global column with the sun, to tell wrong units and shifted clocks from wrong rows.
 *
 * @param series with `ghi` in W/m²; missing rows are left out
 * @param longitude_deg east positive
 * @param clockKeys what sets the file's clock, for messages
 */
export function compareLight(
  series: Series,
  sun: SunYear,
  longitude_deg: number,
  clockKeys = 'weather.time.label, weather.time.zone',
): LightComparison {
  const ghi = series.values.get('ghi')!;
  const n = ghi.length;
  const solar_h = (r: number): number =>
    (series.start_ms[r]! + series.end_ms[r]!) / 2 / HOUR_ms + longitude_deg / 15;
  const firstDay = n === 0 ? 0 : Math.floor(solar_h(0) / 24);
  const days = n === 0 ? 0 : Math.floor(solar_h(n - 1) / 24) - firstDay + 1;
  // Of each solar day: light and its hours, the same of the light from space, and rows without a value.
  const column = () => new Float64Array(days);
  const [got, gotCosine, gotSine] = [column(), column(), column()];
  const [sent, sentCosine, sentSine] = [column(), column(), column()];
  const isWhole = new Uint8Array(days).fill(1);
  let rows = 0;
  for (let r = 0; r < n; r++) {
    const at = solar_h(r);
    const day = Math.floor(at / 24) - firstDay;
    const value = ghi[r]!;
    const above = sun.extraterrestrial_horizontal_W_m2[r]!;
    if (Number.isNaN(value)) {
      if (above > 0) isWhole[day] = 0;
      continue;
    }
    rows++;
    const [cosine, sine] = [cosineOf(at), sineOf(at)];
    got[day]! += Math.max(0, value);
    gotCosine[day]! += Math.max(0, value) * cosine;
    gotSine[day]! += Math.max(0, value) * sine;
    sent[day]! += above;
    sentCosine[day]! += above * cosine;
    sentSine[day]! += above * sine;
  }
  const light = sum(got, got.keys());
  const above = sum(sent, sent.keys());
  const lit = [...sent.keys()].filter((d) => sent[d]! > 0);
  const none = { clearness: 0, late_min: 0, factor: undefined, days: 0, isTooBright: false, clockKeys };
  if (above === 0) return none;
  const clear = clearDays(
    lit.filter((d) => isWhole[d] === 1),
    (d) => got[d]! / sent[d]!,
  );
  const of = (cosine: Float64Array, sine: Float64Array) => ({
    cosine: sum(cosine, clear),
    sine: sum(sine, clear),
  });
  const late_min = sum(got, clear) === 0 ? 0 : later_min(of(gotCosine, gotSine), of(sentCosine, sentSine));
  const clearness = light / above;
  const usual = (k: number): boolean => k >= USUAL.least && k <= USUAL.most;
  const factor =
    clearness > 0.95 || clearness < USUAL.least ? FACTORS.find((f) => usual(clearness / f)) : undefined;
  const isTooBright = light > MOST_clearness * above + NOISE_W_m2 * rows;
  return { clearness, late_min, factor, days: lit.length, isTooBright, clockKeys };
}

function clearDays(days: readonly number[], clearness: (day: number) => number): readonly number[] {
  if (days.length < FEW_days) return days;
  const order = days.toSorted((a, b) => clearness(b) - clearness(a) || a - b);
  return order.slice(0, Math.ceil(CLEAR_share * order.length));
}

function sum(column: Float64Array, at: Iterable<number>): number {
  let total = 0;
  for (const k of at) total += column[k]!;
  return total;
}

/** What the comparison says in words, as a fix; empty if the file fits the sun. */
export function lightHint(light: LightComparison): string {
  const { late_min, factor } = light;
  if (factor !== undefined || light.isTooBright) return `${factorWords(light)}: check the unit`;
  if (Math.abs(late_min) > USUAL_SHIFT_min) return `${shiftWords(light)}: ${clockFix(light)}`;
  return '';
}

function factorWords({ clearness, factor, isTooBright }: LightComparison): string {
  if (factor === undefined) {
    const than = isTooBright ? 'more' : 'less';
    return `all in all the values are ${rounded(clearness, 2)} of the light from space, ${than} than any place gets`;
  }
  const times =
    factor > 1 ? `${factor} times too large` : `${Math.round((1 / factor) * 10) / 10} times too small`;
  return `all in all the values look ${times} (${rounded(clearness, 2)} of the light from space)`;
}

/** Beyond this nobody can tell which way a clock was moved. */
const HALF_TURN_min = 360;

function shiftWords({ late_min }: LightComparison): string {
  const [way, other] = late_min > 0 ? ['later', 'earlier'] : ['earlier', 'later'];
  const shift = Math.round(Math.abs(late_min));
  const round = shift > HALF_TURN_min ? `, or ${1440 - shift} min ${other}` : '';
  return `the file's light comes ${shift} min ${way} in the day than the sun${round}`;
}

const clockFix = ({ clockKeys }: LightComparison): string => `check ${clockKeys} and site.longitude_deg`;

/**
 * What can't stand though each row might: a year of values in another unit, and the clock of a format that says what
 * its clock is.
 *
 * @param clockLine line in which the file itself says its zone; null if it doesn't
 */
export function lightIssues(
  light: LightComparison,
  series: Series,
  column: string,
  clockLine: number | null,
): Issue[] {
  const { row, value } = brightest(series);
  const isTooDark = light.days >= WHOLE_YEAR_days && light.clearness < IMPOSSIBLE_clearness;
  if (isTooDark || light.isTooBright)
    return [
      issue('wrong-unit', 'weather.ghi', {
        expected: `${USUAL.least} to ${USUAL.most} of the light from space over a year`,
        place: placeOf(series, row, column),
      })`${factorWords(light)}; the brightest row has ${value} W/m² | check the unit of the column`,
    ];
  if (clockLine !== null && light.factor === undefined && Math.abs(light.late_min) > WRONG_CLOCK_min)
    return [
      issue('light-off-sun', 'weather.ghi', {
        expected: `within ${WRONG_CLOCK_min} min on clear days, by the clock that the file states`,
        place: { file: series.file, line: clockLine, field: 'time zone' },
      })`${shiftWords(light)} | ${clockFix(light)}`,
    ];
  return [];
}

function brightest(series: Series): { row: number; value: number } {
  const ghi = series.values.get('ghi')!;
  const row = ghi.reduce((best, value, r) => (value > (ghi[best] || 0) ? r : best), 0);
  return { row, value: rounded(ghi[row] ?? 0) };
}

/** Notices for a file that passes row by row and still does not fit the sun. */
export function lightNotices(light: LightComparison, series: Series, column: string): Notice[] {
  const hint = lightHint(light);
  if (hint === '') return [];
  const { row, value } = brightest(series);
  const where =
    light.factor === undefined && !light.isTooBright
      ? ''
      : `; the brightest row, ${placeText(placeOf(series, row, column))}, has ${value} W/m²`;
  return [notice('light-off-sun')`weather: ${hint}${where}`];
}
