import { radians } from '../basis/units.ts';
import type { HorizonPoint } from '../scenario/schema/schema.ts';

/** Height of the line around a place, by azimuth. */
export type HorizonLine = (azimuth_deg: number) => number;

/**
 * The line through some points, straight between neighbours in azimuth and closed around the compass.
 *
 * @param points ascending in azimuth, at least one; a single one is a line of even height
 * @returns height above the horizontal by azimuth clockwise from north, both in degrees
 */
export function horizonLine(points: readonly HorizonPoint[]): HorizonLine {
  const count = points.length;
  return (azimuth_deg) => {
    const at = ((azimuth_deg % 360) + 360) % 360;
    let next = 0;
    while (next < count && points[next]!.azimuth_deg <= at) next++;
    const from = points[(next + count - 1) % count]!;
    const to = points[next % count]!;
    const width = (to.azimuth_deg - from.azimuth_deg + 360) % 360;
    if (width === 0) return from.height_deg;
    const along = ((at - from.azimuth_deg + 360) % 360) / width;
    return from.height_deg + along * (to.height_deg - from.height_deg);
  };
}

/** What a plane still sees of the sky above a horizon line. */
export interface SkyLeft {
  /** Of the light that the plane would get from an even sky, 0 to 1. */
  readonly even: number;
  /** Of the light that it would get from a band along the horizon, 0 to 1. */
  readonly band: number;
}

export const OPEN_SKY: SkyLeft = { even: 1, band: 1 };

/** Height of the band that brightens a clear sky's horizon. Source: Perez et al. 1987, Solar Energy 39, 221-231 (recalled). */
const BAND_deg = 6.5;

/** Slices of the compass over which the view is summed. */
const SLICES = 1440;

/**
 * The sky that a plane sees above a line, as shares of what it would see above a flat horizon. In altitude the
 * integral of the cosine of incidence is exact, around the compass it is a sum over quarters of a degree.
 *
 * @param tilt_deg of the plane from horizontal
 * @param azimuth_deg that it faces, clockwise from north
 */
export function skyLeft(line: HorizonLine, tilt_deg: number, azimuth_deg: number): SkyLeft {
  const cosTilt = Math.cos(radians(tilt_deg));
  const sinTilt = Math.sin(radians(tilt_deg));
  let seen = 0;
  let all = 0;
  let bandSeen = 0;
  let band = 0;
  for (let k = 0; k < SLICES; k++) {
    const azimuth = ((k + 0.5) * 360) / SLICES;
    const cosAway = Math.cos(radians(azimuth - azimuth_deg));
    const across = sinTilt * cosAway;
    // Below this altitude the slice lies behind the plane.
    const behind = Math.max(0, Math.atan2(-across, cosTilt));
    const height_deg = line(azimuth);
    const upFrom = (altitude: number): number =>
      (cosTilt * Math.cos(altitude) ** 2) / 2 +
      across * (Math.PI / 4 - altitude / 2 - Math.sin(2 * altitude) / 4);
    all += upFrom(behind);
    seen += upFrom(Math.max(behind, radians(height_deg)));
    if (cosAway <= 0) continue;
    band += cosAway;
    bandSeen += cosAway * Math.max(0, 1 - height_deg / BAND_deg);
  }
  return { even: seen / all, band: bandSeen / band };
}
