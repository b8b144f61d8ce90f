import { expectArguments } from '../basis/arguments.ts';
import { SOLAR_CONSTANT_W_m2 } from '../basis/constants.ts';
import { DAY_ms, degrees, MINUTE_ms, radians } from '../basis/units.ts';
import { expectColumn, expectWithin, FINITE } from '../basis/within.ts';
import type { Clock } from '../clock/clock.ts';
import { airMass } from './air-mass.ts';
import { type LitPart, lightInterval } from './day-arc.ts';
import { extraterrestrialNormal_W_m2 } from './extraterrestrial.ts';
import { apparentAltitude_deg, sunCoordinates } from './position.ts';

/**
 * Where the sun is in each step of a clock. All arrays have `clock.steps` entries. A step in which the sun is up for
 * a part only is described at the middle of that part, so that the hours of sunrise and sunset are right.
 */
export interface SunYear {
  /** Share of the step with the sun's centre above the geometric horizon (no refraction), 0 to 1. */
  readonly up_share: Float64Array;
  /** Altitude without refraction at the middle of the sun-up part (of the step, if the sun is down), degrees. */
  readonly altitude_deg: Float64Array;
  /** Azimuth clockwise from north at the same instant, degrees. */
  readonly azimuth_deg: Float64Array;
  /** Extraterrestrial irradiance on a plane facing the sun, W/m². */
  readonly extraterrestrial_normal_W_m2: Float64Array;
  /** Extraterrestrial irradiance on the horizontal, mean over the whole step, W/m²; 0 at night. */
  readonly extraterrestrial_horizontal_W_m2: Float64Array;
  /** Relative optical air mass at the middle of the sun-up part; 0 at night. */
  readonly air_mass: Float64Array;
}

/** A place on Earth, as far as the sun is concerned. */
interface Place {
  readonly latitude_deg: number;
  readonly longitude_deg: number;
}

/**
 * The sun over the steps of a clock.
 *
 * @param site latitude north positive and longitude east positive, degrees
 * @param solarConstant_W_m2 irradiance at one astronomical unit
 * @returns columns of `clock.steps` entries
 *
 * Source: see `sunOverIntervals`.
 */
export function sunYear(
  clock: Clock,
  site: Place,
  solarConstant_W_m2: number = SOLAR_CONSTANT_W_m2,
): SunYear {
  expectArguments('sunYear', { clock, site });
  const step_ms = clock.step_min * MINUTE_ms;
  const end_ms = new Float64Array(clock.steps);
  for (let i = 0; i < clock.steps; i++) end_ms[i] = clock.start_ms[i]! + step_ms;
  return sunOverIntervals(clock.start_ms, end_ms, site, solarConstant_W_m2);
}

/**
 * The sun over any intervals: the steps of a clock, or the rows of a measured series.
 *
 * The ephemeris is asked once a day, and declination, equation of time and distance are straight lines in between
 * (off by less than 0.001 degrees). Within an interval everything is closed form: the moment of sunrise, the lit share
 * and the mean irradiance on the horizontal. An hour that holds a sunrise is described at the middle of its lit part.
 *
 * @param start_ms starts, UTC epoch ms, ascending
 * @param end_ms ends, same length, each after its start by less than 12 hours
 * @param site latitude north positive and longitude east positive, degrees
 * @param solarConstant_W_m2 irradiance at one astronomical unit
 * @returns columns of `start_ms.length` entries
 * @throws RangeError for intervals that do not ascend or are longer than that, and a place that is none
 *
 * Source: positions as `sunCoordinates`; horizon and means as `lightInterval`; altitude and azimuth from hour angle and
 * declination: Meeus 1998, Astronomical Algorithms, eq. 13.5 and 13.6.
 */
export function sunOverIntervals(
  start_ms: Float64Array,
  end_ms: Float64Array,
  site: Place,
  solarConstant_W_m2: number = SOLAR_CONSTANT_W_m2,
): SunYear {
  expectColumn('sunOverIntervals', 'start_ms', start_ms);
  expectColumn('sunOverIntervals', 'end_ms', end_ms, start_ms.length);
  expectArguments('sunOverIntervals', { site });
  expectWithin('sunOverIntervals', 'site.latitude_deg', site.latitude_deg, -90, 90);
  expectWithin('sunOverIntervals', 'site.longitude_deg', site.longitude_deg, -180, 180);
  expectWithin('sunOverIntervals', 'solarConstant_W_m2', solarConstant_W_m2, 0, FINITE);
  const n = start_ms.length;
  for (let i = 0; i < n; i++)
    if (
      !(
        end_ms[i]! > start_ms[i]! &&
        end_ms[i]! <= start_ms[i]! + DAY_ms / 2 &&
        !(start_ms[i - 1]! > start_ms[i]!)
      )
    )
      throw new RangeError(
        `sunOverIntervals: interval ${i} is from ${start_ms[i]} to ${end_ms[i]} ms; expected starts that ascend, and ends within 12 hours after them`,
      );
  const up_share = new Float64Array(n);
  const altitude_deg = new Float64Array(n);
  const azimuth_deg = new Float64Array(n);
  const extraterrestrial_normal_W_m2 = new Float64Array(n);
  const extraterrestrial_horizontal_W_m2 = new Float64Array(n);
  const air_mass = new Float64Array(n);
  const { first_ms, days } = sampleDays(start_ms[0] ?? 0, end_ms[n - 1] ?? 0);
  const sinLatitude = Math.sin(radians(site.latitude_deg));
  const cosLatitude = Math.cos(radians(site.latitude_deg));
  const longitude = radians(site.longitude_deg);
  const toDegrees = degrees(1);
  const lit: LitPart = { width: 0, middle: 0, sineIntegral: 0 };

  // A day's values; the hour angle is turned by rotation instead of by a sine and a cosine at each step.
  let day = days[0]!;
  let k = -1;
  let length_ms = 0;
  let width = 0;
  let sinHalf = 0;
  let cosHalf = 1;
  let edge_ms = Number.NaN;
  let sinTo = 0;
  let cosTo = 1;
  for (let i = 0; i < n; i++) {
    const start = start_ms[i]!;
    const length = end_ms[i]! - start;
    const along = (start + length / 2 - first_ms) / DAY_ms;
    if (along < k || along >= k + 1 || length !== length_ms) {
      k = Math.floor(along);
      day = days[k]!;
      length_ms = length;
      width = (day.turn * length) / DAY_ms;
      sinHalf = Math.sin(width / 2);
      cosHalf = Math.cos(width / 2);
      edge_ms = Number.NaN;
    }
    const part = along - k;
    const from = day.hourAngle + longitude + part * day.turn - width / 2;
    const sinFrom = start === edge_ms ? sinTo : Math.sin(from);
    const cosFrom = start === edge_ms ? cosTo : Math.cos(from);
    let sinMiddle = sinFrom * cosHalf + cosFrom * sinHalf;
    let cosMiddle = cosFrom * cosHalf - sinFrom * sinHalf;
    sinTo = sinMiddle * cosHalf + cosMiddle * sinHalf;
    cosTo = cosMiddle * cosHalf - sinMiddle * sinHalf;
    edge_ms = start + length;

    // Second order in a change of less than 0.5 degrees: exact to 1e-7.
    const moved = part * day.declinationChange;
    const square = (moved * moved) / 2;
    const sinDeclination = day.sinDeclination * (1 - square) + day.cosDeclination * moved;
    const cosDeclination = day.cosDeclination * (1 - square) - day.sinDeclination * moved;
    const a = sinLatitude * sinDeclination;
    const b = cosLatitude * cosDeclination;

    let litWidth = 0;
    let sineIntegral = 0;
    const upFrom = a + b * cosFrom > 0;
    if (sinFrom * sinTo > 0 && upFrom === a + b * cosTo > 0) {
      // Neither noon nor midnight inside, so the altitude runs one way and can't cross the horizon and come back.
      if (upFrom) {
        litWidth = width;
        sineIntegral = a * width + b * (sinTo - sinFrom);
      }
    } else {
      lightInterval(from, from + width, a, b, lit);
      litWidth = lit.width;
      sineIntegral = lit.sineIntegral;
      sinMiddle = Math.sin(lit.middle);
      cosMiddle = Math.cos(lit.middle);
    }

    const sinAltitude = a + b * cosMiddle;
    const altitude =
      Math.abs(sinAltitude) < 1 ? toDegrees * Math.asin(sinAltitude) : 90 * Math.sign(sinAltitude);
    const fromSouth = Math.atan2(
      sinMiddle * cosDeclination,
      cosMiddle * cosDeclination * sinLatitude - sinDeclination * cosLatitude,
    );
    const normal = solarConstant_W_m2 * (day.nearness + part * day.nearnessChange);
    altitude_deg[i] = altitude;
    azimuth_deg[i] = (toDegrees * fromSouth + 540) % 360;
    extraterrestrial_normal_W_m2[i] = normal;
    if (litWidth > 0) {
      const share = litWidth / width;
      // Rounding must not make an hour of full sun a part of one.
      up_share[i] = share > 1 - 1e-9 ? 1 : share;
      extraterrestrial_horizontal_W_m2[i] = Math.max(0, (normal * sineIntegral) / width);
      air_mass[i] = airMass(apparentAltitude_deg(Math.max(0, altitude)));
    }
  }
  return {
    up_share,
    altitude_deg,
    azimuth_deg,
    extraterrestrial_normal_W_m2,
    extraterrestrial_horizontal_W_m2,
    air_mass,
  };
}

/** The sun's slow motions over 24 hours from an instant: value at its beginning and change until its end. */
interface SunDay {
  readonly sinDeclination: number;
  readonly cosDeclination: number;
  /** Radians. */
  readonly declinationChange: number;
  /** Greenwich hour angle, radians. */
  readonly hourAngle: number;
  /** Turn of the hour angle, nearly a full circle, radians. */
  readonly turn: number;
  /** Extraterrestrial normal irradiance as a multiple of the solar constant. */
  readonly nearness: number;
  readonly nearnessChange: number;
}

/** Days that cover a span of instants. */
function sampleDays(first_ms: number, end_ms: number): { first_ms: number; days: SunDay[] } {
  const days: SunDay[] = [];
  const circle = 2 * Math.PI;
  let now = sunCoordinates(first_ms);
  let nearness = extraterrestrialNormal_W_m2(first_ms, 1);
  for (let t = first_ms; t < end_ms || days.length === 0; t += DAY_ms) {
    const next = sunCoordinates(t + DAY_ms);
    const nextNearness = extraterrestrialNormal_W_m2(t + DAY_ms, 1);
    const excess = radians(next.greenwich_hour_angle_deg - now.greenwich_hour_angle_deg);
    days.push({
      sinDeclination: Math.sin(radians(now.declination_deg)),
      cosDeclination: Math.cos(radians(now.declination_deg)),
      declinationChange: radians(next.declination_deg - now.declination_deg),
      hourAngle: radians(now.greenwich_hour_angle_deg),
      turn: circle + excess - circle * Math.round(excess / circle),
      nearness,
      nearnessChange: nextNearness - nearness,
    });
    now = next;
    nearness = nextNearness;
  }
  return { first_ms, days };
}
