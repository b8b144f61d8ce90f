import { SOLAR_CONSTANT_W_m2 } from '../basis/constants.ts';
import { radians } from '../basis/units.ts';

const J2000_ms = Date.UTC(2000, 0, 1, 12);
const CENTURY_ms = 36_525 * 86_400_000;

/**
 * Distance to the sun.
 *
 * @param time_ms UTC epoch ms
 * @returns astronomical units, 0.983 in January to 1.017 in July; within 0.0001 of an ephemeris
 *
 * Source: Meeus 1998, Astronomical Algorithms, 2nd ed., eq. 25.3 to 25.5 (constants recalled; checked in the tests
 * against printed distances). Universal time stands in for terrestrial time: a minute changes nothing here.
 */
export function sunDistance_AU(time_ms: number): number {
  const t = (time_ms - J2000_ms) / CENTURY_ms;
  const anomaly = radians(357.52911 + t * (35999.05029 - 0.0001537 * t));
  const eccentricity = 0.016708634 - t * (0.000042037 + 0.0000001267 * t);
  const centre = radians(
    (1.914602 - t * (0.004817 + 0.000014 * t)) * Math.sin(anomaly) +
      (0.019993 - 0.000101 * t) * Math.sin(2 * anomaly) +
      0.000289 * Math.sin(3 * anomaly),
  );
  return (1.000001018 * (1 - eccentricity ** 2)) / (1 + eccentricity * Math.cos(anomaly + centre));
}

/**
 * Irradiance above the air on a plane that faces the sun.
 *
 * @param time_ms UTC epoch ms
 * @param solarConstant_W_m2 irradiance at one astronomical unit
 * @returns W/m²
 *
 * Source: inverse square of `sunDistance_AU`.
 */
export const extraterrestrialNormal_W_m2 = (
  time_ms: number,
  solarConstant_W_m2: number = SOLAR_CONSTANT_W_m2,
): number => solarConstant_W_m2 / sunDistance_AU(time_ms) ** 2;
