import { expectArguments } from '../basis/arguments.ts';
import { kindOf } from '../basis/kind.ts';
import { radians } from '../basis/units.ts';
import { expectColumn } from '../basis/within.ts';
import type { Clock } from '../clock/clock.ts';
import type { SunYear } from '../sun/year.ts';

/** Beam and diffuse light of a sky, means over whole steps. */
export interface Split {
  /** Beam on a plane that faces the sun, W/m². */
  readonly dni_W_m2: Float64Array;
  /** Diffuse on the horizontal, W/m². */
  readonly dhi_W_m2: Float64Array;
}

/**
 * Share of diffuse light in the global irradiance of an hour.
 *
 * @param clearness global over extraterrestrial irradiance, both on the horizontal
 * @returns 0.165 to 1
 *
 * Source: Erbs, Klein & Duffie 1982, Solar Energy 28, 293-302, eq. 1.
 */
export function diffuseShare(clearness: number): number {
  const k = clearness;
  if (k <= 0.22) return 1 - 0.09 * Math.max(0, k);
  if (k > 0.8) return 0.165;
  return 0.9511 + k * (-0.1604 + k * (4.388 + k * (-16.638 + k * 12.336)));
}

/**
 * The same by another fit, of straight lines: mostly less diffuse light up to a clearness of 0.57, more above it.
 *
 * @param clearness global over extraterrestrial irradiance, both on the horizontal
 * @returns 0.177 to 1
 *
 * Source: Orgill & Hollands 1977, Solar Energy 19, 357-359. At 0.35 its pieces miss each
 * other by 0.0002.
 */
export function diffuseShareOrgillHollands(clearness: number): number {
  const k = clearness;
  if (k < 0.35) return 1 - 0.249 * Math.max(0, k);
  return k > 0.75 ? 0.177 : 1.557 - 1.84 * k;
}

/**
 * Share of diffuse light in the global irradiation of a day.
 *
 * @param clearness global over extraterrestrial irradiation of the day, both on the horizontal
 * @param sunset_deg hour angle of sunset: half the length of the day, 15 degrees an hour
 * @returns 0.143 to 1
 *
 * Source: Erbs, Klein & Duffie 1982, Solar Energy 28, 293-302, as Duffie & Beckman eq. 2.11.1.
 */
export function diffuseShareOfDay(clearness: number, sunset_deg: number): number {
  const k = Math.max(0, clearness);
  if (sunset_deg <= 81.4)
    return k < 0.715 ? 1 + k * (-0.2727 + k * (2.4495 + k * (-11.9514 + k * 9.3879))) : 0.143;
  return k < 0.722 ? 1 + k * (0.2832 + k * (-2.5557 + k * 0.8448)) : 0.175;
}

/**
 * Splits the global irradiance of days of which only the sum is known: each day's diffuse light by its sum, over the
 * hours as the light above the air is. An hour's split would take a day of sun and clouds for an evenly dull one.
 *
 * @param ghi_W_m2 global on the horizontal, mean of each step
 *
 * Source: `diffuseShareOfDay`; hours of a day Liu & Jordan 1960, Solar Energy 4(3), 1-19, as Duffie & Beckman eq. 2.13.4.
 */
export function splitDays(ghi_W_m2: Float64Array, sun: SunYear, clock: Clock): Split {
  const above = sun.extraterrestrial_horizontal_W_m2;
  const diffuseOverAbove = new Float64Array(clock.days);
  for (let d = 0; d < clock.days; d++) {
    let [global, sent, lit_h] = [0, 0, 0];
    for (let i = clock.day_start[d]!; i < clock.day_start[d + 1]!; i++) {
      global += ghi_W_m2[i]!;
      sent += above[i]!;
      lit_h += sun.up_share[i]! * clock.step_h;
    }
    if (sent > 0) diffuseOverAbove[d] = (global / sent) * diffuseShareOfDay(global / sent, 7.5 * lit_h);
  }
  return splitByDiffuse(
    ghi_W_m2,
    ghi_W_m2.map((ghi, i) => Math.min(ghi, diffuseOverAbove[clock.day[i]!]! * above[i]!)),
    sun,
  );
}

/** The published fits by the names that `weather.decomposition` takes. */
const DIFFUSE_SHARES = {
  erbs: diffuseShare,
  orgill_hollands: diffuseShareOrgillHollands,
} as const;

/** Name of a way to split global light. */
export type Decomposition = keyof typeof DIFFUSE_SHARES;

/**
 * Splits global irradiance alone into beam and diffuse by the clearness of each step.
 *
 * What a step has beyond the light from space (twilight, an unsteady clock) is diffuse, and so is all light of a step
 * with the sun down. Beam never passes its value above the air.
 *
 * @param ghi_W_m2 global on the horizontal, mean of each step
 * @param sun the sun over the same steps
 * @param decomposition whose fit; each was made for hours, so finer steps get an hour's split
 * @throws RangeError for a column that does not fit the sun or has a hole, and for a fit that is none
 *
 * Source: `diffuseShare`, `diffuseShareOrgillHollands`.
 */
export function splitGlobal(
  ghi_W_m2: Float64Array,
  sun: SunYear,
  decomposition: Decomposition = 'erbs',
): Split {
  expectArguments('splitGlobal', { sun });
  expectColumn('splitGlobal', 'ghi_W_m2', ghi_W_m2, sun.up_share.length);
  if (!Object.hasOwn(DIFFUSE_SHARES, decomposition))
    throw new RangeError(
      `splitGlobal: decomposition is ${kindOf(decomposition)}; expected ${Object.keys(DIFFUSE_SHARES).join(' or ')}`,
    );
  const share = DIFFUSE_SHARES[decomposition];
  return fill(ghi_W_m2, sun, (i, ghi) => {
    const above = sun.extraterrestrial_horizontal_W_m2[i]!;
    const fromSun = Math.min(ghi, above);
    return above > 0 ? fromSun * (1 - share(fromSun / above)) : 0;
  });
}

/**
 * Completes global and beam: what is not beam is diffuse.
 *
 * @param ghi_W_m2 global on the horizontal, mean of each step
 * @param dni_W_m2 beam facing the sun, mean of each whole step; cut where it would leave diffuse light negative
 * @param sun the sun over the same steps
 */
export const splitByBeam = (ghi_W_m2: Float64Array, dni_W_m2: Float64Array, sun: SunYear): Split =>
  fill(ghi_W_m2, sun, (i, _ghi, sinAltitude) => dni_W_m2[i]! * sinAltitude);

/**
 * Completes global and diffuse: what is not diffuse is beam, up to the beam above the air; the rest stays diffuse.
 *
 * @param ghi_W_m2 global on the horizontal, mean of each step
 * @param dhi_W_m2 diffuse on the horizontal, mean of each step
 * @param sun the sun over the same steps
 */
export const splitByDiffuse = (ghi_W_m2: Float64Array, dhi_W_m2: Float64Array, sun: SunYear): Split =>
  fill(ghi_W_m2, sun, (i, ghi) => ghi - dhi_W_m2[i]!);

/**
 * Lays beam within its limits and gives the rest to diffuse, so that ghi = dhi + dni sin(altitude) in every step.
 * `beamOnHorizontal` is asked while the sun is up and answers in W/m² as a mean over the whole step.
 */
function fill(
  ghi_W_m2: Float64Array,
  sun: SunYear,
  beamOnHorizontal: (step: number, ghi: number, sinAltitude: number) => number,
): Split {
  const n = ghi_W_m2.length;
  const dni_W_m2 = new Float64Array(n);
  const dhi_W_m2 = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const ghi = ghi_W_m2[i]!;
    if (ghi <= 0) continue;
    const up = sun.up_share[i]!;
    const sinAltitude = up > 0 ? Math.sin(radians(sun.altitude_deg[i]!)) : 0;
    if (sinAltitude <= 0) {
      dhi_W_m2[i] = ghi;
      continue;
    }
    const wanted = Math.min(ghi, Math.max(0, beamOnHorizontal(i, ghi, sinAltitude)));
    const dni = Math.min(wanted / sinAltitude, up * sun.extraterrestrial_normal_W_m2[i]!);
    dni_W_m2[i] = dni;
    dhi_W_m2[i] = Math.max(0, ghi - dni * sinAltitude);
  }
  return { dni_W_m2, dhi_W_m2 };
}
