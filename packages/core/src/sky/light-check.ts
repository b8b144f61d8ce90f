import type { Notice } from '../basis/notices.ts';
import { HOUR_ms } from '../basis/units.ts';
import type { Series } from '../series/types.ts';
import type { SunYear } from '../sun/types.ts';

/** How the light in a file compares with the light from space over the same rows. */
export interface LightComparison {
  /** Global irradiation over the extraterrestrial one, both on the horizontal; 0 if the file is dark. */
  readonly clearness: number;
  /** How much later in the solar day the file's light comes than the sun's, minutes. */
  readonly late_min: number;
  /** Factor by which the values seem too large (3.6, 1000, …), or undefined if they look right. */
  readonly factor: number | undefined;
}

/**
 * Clearness of a long period lies here, at any place on Earth; common practice, no source. Four years of stations used
 * in the tests give 0.45 to 0.56.
 */
const USUAL = { least: 0.2, most: 0.85 };

/** A file may be later or earlier than the sun by weather: cloudy afternoons shift the test stations by 11 minutes. */
const USUAL_SHIFT_min = 20;

/** Errors of unit that happen: J for Wh, k for none, and both. */
const FACTORS = [3.6, 1000, 3600, 1 / 3.6, 1 / 1000, 1 / 3600];

/**
 * Compares the global column with the sun, to tell wrong units and shifted clocks from wrong rows.
 *
 * @param series with `ghi` in W/m²; missing rows are left out
 * @param sun the sun over the series' rows
 * @param longitude_deg east positive
 */
export function compareLight(series: Series, sun: SunYear, longitude_deg: number): LightComparison {
  const ghi = series.values.get('ghi')!;
  let light = 0;
  let lightHours = 0;
  let above = 0;
  let aboveHours = 0;
  for (let r = 0; r < ghi.length; r++) {
    const value = ghi[r]!;
    if (Number.isNaN(value)) continue;
    const length_h = (series.end_ms[r]! - series.start_ms[r]!) / HOUR_ms;
    const middle_h = series.start_ms[r]! / HOUR_ms + length_h / 2;
    const solar_h = (((middle_h + longitude_deg / 15) % 24) + 24) % 24;
    const got = Math.max(0, value) * length_h;
    const sent = sun.extraterrestrial_horizontal_W_m2[r]! * length_h;
    light += got;
    lightHours += got * solar_h;
    above += sent;
    aboveHours += sent * solar_h;
  }
  if (light === 0 || above === 0) return { clearness: 0, late_min: 0, factor: undefined };
  const clearness = light / above;
  const usual = (k: number): boolean => k >= USUAL.least && k <= USUAL.most;
  const factor = clearness > 0.95 || clearness < 0.1 ? FACTORS.find((f) => usual(clearness / f)) : undefined;
  return { clearness, late_min: 60 * (lightHours / light - aboveHours / above), factor };
}

/** What the comparison says in words, as a fix; empty if the file fits the sun. */
export function lightHint({ clearness, late_min, factor }: LightComparison): string {
  if (factor !== undefined) {
    const times =
      factor > 1 ? `${factor} times too large` : `${Math.round((1 / factor) * 10) / 10} times too small`;
    return `all in all the values look ${times} (${clearness.toPrecision(2)} of the light from space): check the unit`;
  }
  if (Math.abs(late_min) > USUAL_SHIFT_min) {
    const way = late_min > 0 ? 'later' : 'earlier';
    return `the file's light comes ${Math.round(Math.abs(late_min))} min ${way} in the day than the sun: check weather.time.label, weather.time.zone and site.longitude_deg`;
  }
  return '';
}

/** Notices for a file that passes row by row and still does not fit the sun. */
export function lightNotices(light: LightComparison): Notice[] {
  const hint = lightHint(light);
  if (hint === '') return [];
  return [{ id: 'light-off-sun', message: `weather: ${hint}`, count: 1 }];
}
