/**
 * The sun's daily arc over one place while its declination stands still: which part of an interval of hour angle is
 * lit, and the sine of the altitude integrated over it, in closed form. Angles are in radians; the hour angle is 0 at
 * solar noon. The arc is sin(altitude) = a + b cos(hour angle) with a = sin(latitude) sin(declination) and
 * b = cos(latitude) cos(declination) (Duffie & Beckman, Solar Engineering of Thermal Processes, eq. 1.6.5).
 */

/**
 * Hour angle at which the sun's centre sets on the geometric horizon.
 *
 * @param a sin(latitude) sin(declination)
 * @param b cos(latitude) cos(declination), above zero
 * @returns 0 where the sun stays down all day, pi where it stays up
 *
 * Source: Duffie & Beckman eq. 1.6.10.
 */
export function sunsetHourAngle(a: number, b: number): number {
  return Math.acos(Math.min(1, Math.max(-1, -a / b)));
}

/** The part of an interval of hour angle with the sun up. */
export interface LitPart {
  /** Hour angle with the sun up, radians. */
  width: number;
  /** Hour angle at the middle of the lit part (of its longer piece, if the sun dips below in between). */
  middle: number;
  /** Integral of sin(altitude) over the lit hour angles. */
  sineIntegral: number;
}

/**
 * Lights an interval of hour angle. If the sun is down throughout, `width` is 0 and `middle` the interval's own.
 *
 * @param from hour angle at the start, of any turn
 * @param to hour angle at the end, above `from`
 * @param a sin(latitude) sin(declination)
 * @param b cos(latitude) cos(declination), above zero
 * @param out overwritten, so that a year of steps allocates nothing
 *
 * Source: Duffie & Beckman eq. 1.10.4, which integrates eq. 1.6.5 over an hour.
 */
export function lightInterval(from: number, to: number, a: number, b: number, out: LitPart): void {
  const sunset = sunsetHourAngle(a, b);
  out.width = 0;
  out.middle = (from + to) / 2;
  out.sineIntegral = 0;
  if (sunset === 0) return;
  if (sunset === Math.PI) {
    out.width = to - from;
    out.sineIntegral = a * out.width + b * (Math.sin(to) - Math.sin(from));
    return;
  }
  const turn = 2 * Math.PI;
  let longest = 0;
  for (let noon = Math.ceil((from - sunset) / turn) * turn; noon - sunset < to; noon += turn) {
    const rise = Math.max(from, noon - sunset);
    const set = Math.min(to, noon + sunset);
    const width = set - rise;
    if (width <= 0) continue;
    out.width += width;
    out.sineIntegral += a * width + b * (Math.sin(set) - Math.sin(rise));
    if (width > longest) {
      longest = width;
      out.middle = (rise + set) / 2;
    }
  }
}
