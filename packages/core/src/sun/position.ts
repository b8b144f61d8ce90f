import { getPosition } from 'suncalc';
import { degrees, radians } from '../basis/units.ts';
import { expectWithin } from '../basis/within.ts';

/** Where the sun's centre stands for an observer, without the bending of light by the air. */
export interface SunPosition {
  /** Above the geometric horizon, degrees; negative by night. */
  readonly altitude_deg: number;
  /** Clockwise from north, 0 to 360 degrees. */
  readonly azimuth_deg: number;
}

/** Where the sun stands among the stars' coordinates that turn with the Earth. */
export interface SunCoordinates {
  /** North of the equator, degrees. */
  readonly declination_deg: number;
  /** Hour angle at the Greenwich meridian, 0 at its solar noon, growing 15 degrees an hour; -180 to 180. */
  readonly greenwich_hour_angle_deg: number;
}

/**
 * Position of the sun for a place and an instant, without refraction.
 *
 * Irradiance needs the geometric altitude: refraction lifts the sun by half a degree at the horizon, which would put
 * beam on a plane that sees none.
 *
 * @param time_ms UTC epoch ms
 * @param latitude_deg north positive
 * @param longitude_deg east positive
 * @returns altitude (airless) and azimuth from north, degrees; within 0.012 degrees of an ephemeris in altitude
 *
 * Source: suncalc 2.0.2, after Meeus 1998, Astronomical Algorithms, 2nd ed., ch. 12, 13, 22, 25 (as its source says).
 */
export function sunPosition(time_ms: number, latitude_deg: number, longitude_deg: number): SunPosition {
  expectWithin('sunPosition', 'time_ms', time_ms, -8.64e15, 8.64e15);
  expectWithin('sunPosition', 'latitude_deg', latitude_deg, -90, 90);
  expectWithin('sunPosition', 'longitude_deg', longitude_deg, -180, 180);
  const apparent = getPosition(new Date(time_ms), latitude_deg, longitude_deg);
  return {
    altitude_deg: degrees(airlessAltitude(radians(apparent.altitude))),
    azimuth_deg: apparent.azimuth,
  };
}

/**
 * Declination and Greenwich hour angle of the sun: what every place on Earth shares at one instant.
 *
 * They are read off the sky of the north pole, where by definition the altitude of the sun is its declination and its
 * azimuth from south its hour angle.
 *
 * @param time_ms UTC epoch ms
 * @returns both angles in degrees
 *
 * Source: as `sunPosition`.
 */
export function sunCoordinates(time_ms: number): SunCoordinates {
  const atPole = sunPosition(time_ms, 90, 0);
  return { declination_deg: atPole.altitude_deg, greenwich_hour_angle_deg: atPole.azimuth_deg - 180 };
}

/**
 * Altitude at which the sun is seen, refraction included.
 *
 * @param altitude_deg airless altitude; below the horizon the refraction of the horizon is held
 * @returns degrees, 0.48 above the airless one at the horizon
 *
 * Source: as `refraction`.
 */
export const apparentAltitude_deg = (altitude_deg: number): number =>
  altitude_deg + degrees(refraction(radians(altitude_deg)));

/**
 * Refraction that suncalc adds to the true altitude h, both in radians; it holds the value of the horizon below it.
 * Source: Saemundsson 1986 as Meeus 1998 eq. 16.4, with suncalc's rounding of the constants to radians.
 */
function refraction(trueAltitude: number): number {
  const h = Math.max(0, trueAltitude);
  return 0.0002967 / Math.tan(h + 0.00312536 / (h + 0.08901179));
}

/**
 * True altitude from the apparent one, radians: solves h + refraction(h) = apparent. The refraction falls with h by
 * less than 0.15 per unit, so the fixed-point step gains nearly a digit each time and can't diverge.
 */
function airlessAltitude(apparent: number): number {
  const atHorizon = refraction(0);
  if (apparent <= atHorizon) return apparent - atHorizon;
  let h = apparent - refraction(apparent);
  for (let i = 0; i < 16; i++) {
    const next = apparent - refraction(h);
    if (Math.abs(next - h) < 1e-12) return next;
    h = next;
  }
  return h;
}
