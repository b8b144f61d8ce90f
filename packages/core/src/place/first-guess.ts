import { SOLAR_CONSTANT_W_m2 } from '../basis/constants.ts';
import { radians } from '../basis/units.ts';
import { expectWithin } from '../basis/within.ts';
import { sunsetHourAngle } from '../sun/day-arc.ts';
import { extraterrestrialNormal_W_m2 } from '../sun/extraterrestrial.ts';
import { sunCoordinates } from '../sun/position.ts';
import { AIR_C, CLEARNESS, DIGITS, type Grid, LAND_HEIGHT_m } from './table.ts';

/** What a place on Earth may get in a mean year, read off a coarse table: twelve values each, January first. */
export interface FirstGuess {
  /** Global horizontal irradiation of a mean day. */
  readonly ghi_kWh_m2_day: readonly number[];
  /** Mean air temperature at the height of the place. */
  readonly air_temperature_C: readonly number[];
}

/** Air that is so much higher is so much colder: the standard atmosphere, ISO 2533:1975. */
export const LAPSE_K_per_m = 0.0065;

/**
 * Satellite figures read high where the sun is low: factor on the month's irradiation by the irradiation of the day above
 * the air, straight lines between, level beyond. Fitted on typical years of stations in the United States, and it takes
 * 13 to 16 % too much light in Dutch and Swiss winters down to 0 to 7 %, which it was not fitted on.
 */
const LOW_SUN: readonly (readonly [above_kWh_m2: number, factor: number])[] = [
  [3, 0.874],
  [4, 0.956],
  [5, 0.989],
  [6.5, 0.961],
  [8, 0.984],
  [10, 1],
];

/**
 * A first guess of the sun and air of a place, for who has no figures of it yet: long-term means from satellites
 * (sun, July 1983 to June 2005) and from a reanalysis of the weather (air, 1981 to 2010), on a coarse grid.
 *
 * @param latitude_deg north positive, -90 to 90
 * @param longitude_deg east positive
 * @param elevation_m of the place above the sea
 * @returns twelve means of each; how far they stray from stations stands in the models
 *
 * Source: `table.ts` names them; between the middles of cells bilinear; day's irradiation above the air of mid-month by
 * Duffie & Beckman eq. 1.10.3. The grid sees no valley, lake or small island.
 */
export function firstGuess(latitude_deg: number, longitude_deg: number, elevation_m: number): FirstGuess {
  expectPlace('firstGuess', latitude_deg, longitude_deg);
  expectWithin('firstGuess', 'elevation_m', elevation_m, -430, 6000);
  const hundredths = (value: number): number => Math.round(100 * value) / 100;
  return {
    ghi_kWh_m2_day: guessedSun_kWh_m2_day(latitude_deg, longitude_deg).map(hundredths),
    air_temperature_C: AIR_C.map((grid) => {
      const air_C = valueAt(grid, latitude_deg, longitude_deg) - LAPSE_K_per_m * elevation_m;
      return Math.round(10 * air_C) / 10;
    }),
  };
}

/** The irradiation of a first guess, not rounded; without the factor for low sun as the satellites have it. */
export const guessedSun_kWh_m2_day = (
  latitude_deg: number,
  longitude_deg: number,
  hasFactor = true,
): readonly number[] =>
  CLEARNESS.map((grid, m) => {
    const above_kWh_m2 = aboveAir_kWh_m2(latitude_deg, m);
    const factor = hasFactor ? lowSunFactor(above_kWh_m2) : 1;
    return above_kWh_m2 * factor * valueAt(grid, latitude_deg, longitude_deg);
  });

/** Mean height of the land around a place, from a grid too coarse for hills; metres, 0 at sea. */
export function landHeight_m(latitude_deg: number, longitude_deg: number): number {
  expectPlace('landHeight_m', latitude_deg, longitude_deg);
  return Math.round(valueAt(LAND_HEIGHT_m, latitude_deg, longitude_deg) / 10) * 10;
}

function expectPlace(where: string, latitude_deg: number, longitude_deg: number): void {
  expectWithin(where, 'latitude_deg', latitude_deg, -90, 90);
  expectWithin(where, 'longitude_deg', longitude_deg, -180, 180);
}

/**
 * Irradiation of the middle day of a month above the air, on the horizontal.
 *
 * @param m month, 0 to 11
 * @returns kWh/m², 0 in polar night
 *
 * Source: Duffie & Beckman eq. 1.10.3.
 */
export function aboveAir_kWh_m2(latitude_deg: number, m: number): number {
  // Any year will do: declinations of the same date differ by less than 0.3 degrees.
  const noon_ms = Date.UTC(2001, m, 16, 12);
  const declination = radians(sunCoordinates(noon_ms).declination_deg);
  const latitude = radians(latitude_deg);
  const a = Math.sin(latitude) * Math.sin(declination);
  const b = Math.max(1e-12, Math.cos(latitude) * Math.cos(declination));
  const sunset = sunsetHourAngle(a, b);
  const normal_W_m2 = extraterrestrialNormal_W_m2(noon_ms, SOLAR_CONSTANT_W_m2);
  return ((24 / Math.PI) * normal_W_m2 * (a * sunset + b * Math.sin(sunset))) / 1000;
}

function lowSunFactor(above_kWh_m2: number): number {
  const next = LOW_SUN.findIndex(([above]) => above > above_kWh_m2);
  if (next <= 0) return LOW_SUN.at(next)![1];
  const [[x0, y0], [x1, y1]] = [LOW_SUN[next - 1]!, LOW_SUN[next]!];
  return y0 + ((y1 - y0) * (above_kWh_m2 - x0)) / (x1 - x0);
}

/** Bilinear between the middles of cells; around the world in longitude, level beyond the last rows. */
function valueAt({ rows, least, step }: Grid, latitude_deg: number, longitude_deg: number): number {
  const cells = rows[0]!.length;
  const within = (low: number, value: number, most: number): number => Math.min(most, Math.max(low, value));
  const north = within(0, ((latitude_deg + 90) * rows.length) / 180 - 0.5, rows.length - 1);
  const east = ((longitude_deg + 180) * cells) / 360 - 0.5;
  const [j, i] = [Math.min(Math.floor(north), rows.length - 2), Math.floor(east)];
  const cell = (row: string, k: number): number => DIGITS.indexOf(row[(k + cells) % cells]!);
  const along = (row: string): number => cell(row, i) + (east - i) * (cell(row, i + 1) - cell(row, i));
  const [south, beyond] = [along(rows[j]!), along(rows[j + 1]!)];
  return least + step * (south + (north - j) * (beyond - south));
}
