/**
 * Share of the light that passes the glass of a panel, against light that falls straight on. Losses of reflection at
 * normal incidence are part of the panel's rating.
 */

/** Fall of the transmitted share with the angle. Source: Souka & Safwat 1966, Solar Energy 10, 170-174 (recalled). */
const GLASS_B0 = 0.05;

/**
 * Share of light passed at an angle of incidence, against normal incidence.
 *
 * @param cosine of the angle of incidence; the share is 0 from 87.3 degrees on
 * @param b0 fall with the angle
 * @returns 0 to 1
 *
 * Source: Souka & Safwat 1966, Solar Energy 10, 170-174, as ASHRAE Standard 93 uses it.
 */
export function passedShare(cosine: number, b0: number = GLASS_B0): number {
  if (cosine <= 0) return 0;
  return Math.min(1, Math.max(0, 1 - b0 * (1 / cosine - 1)));
}

/**
 * Angle of incidence of beam that passes the glass as an even sky does.
 *
 * @param tilt_deg of the plane from horizontal
 * @returns degrees
 *
 * Source: Brandemuehl & Beckman 1980, Solar Energy 24, 511-513, as Duffie & Beckman eq. 5.4.2 (recalled).
 */
export const skyAngle_deg = (tilt_deg: number): number => 59.7 - 0.1388 * tilt_deg + 0.001497 * tilt_deg ** 2;

/**
 * Angle of incidence of beam that passes the glass as light from an even ground does.
 *
 * @param tilt_deg of the plane from horizontal
 * @returns degrees
 *
 * Source: Brandemuehl & Beckman 1980, Solar Energy 24, 511-513, as Duffie & Beckman eq. 5.4.1 (recalled).
 */
export const groundAngle_deg = (tilt_deg: number): number =>
  90 - 0.5788 * tilt_deg + 0.002693 * tilt_deg ** 2;
