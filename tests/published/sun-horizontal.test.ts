/** Irradiation above the air on the horizontal, against printed tables and examples. */
import { describe, expect, it } from 'vitest';
import { buildClock } from '../../packages/core/src/clock/clock.ts';
import { type LitPart, lightInterval, sunsetHourAngle } from '../../packages/core/src/sun/day-arc.ts';
import { extraterrestrialNormal_W_m2 } from '../../packages/core/src/sun/extraterrestrial.ts';
import { sunCoordinates } from '../../packages/core/src/sun/position.ts';
import { sunYear } from '../../packages/core/src/sun/year.ts';

const RAD = Math.PI / 180;
/** Duffie & Beckman eq. 1.6.1a and 1.4.1a: the handbook's own sun, so that its tables test our integration alone. */
const declination = (n: number): number => 23.45 * RAD * Math.sin((360 * RAD * (284 + n)) / 365);
const handbookNormal_W_m2 = (n: number): number => 1367 * (1 + 0.033 * Math.cos((360 * RAD * n) / 365));

/** MJ/m² between two hour angles (degrees), by our closed form. */
function between(latitude_deg: number, n: number, from_deg: number, to_deg: number): number {
  const lit: LitPart = { width: 0, middle: 0, sineIntegral: 0 };
  const phi = latitude_deg * RAD;
  const delta = declination(n);
  lightInterval(
    from_deg * RAD,
    to_deg * RAD,
    Math.sin(phi) * Math.sin(delta),
    Math.cos(phi) * Math.cos(delta),
    lit,
  );
  return (handbookNormal_W_m2(n) * lit.sineIntegral * 43_200) / Math.PI / 1e6;
}

/** MJ/m² of a day, added up over its 24 hours, most of which hold no horizon and two of which do. */
function day(latitude_deg: number, n: number): number {
  let sum = 0;
  for (let hour = 0; hour < 24; hour++) sum += between(latitude_deg, n, 15 * hour - 180, 15 * hour - 165);
  return sum;
}

const MONTH_DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** Duffie & Beckman, Solar Engineering of Thermal Processes, table 1.10.1: monthly mean of daily H0, MJ/m². */
// biome-ignore format: a table is read by rows
const H0: readonly [number, readonly number[]][] = [
  [85, [0, 0, 2.2, 19.2, 37.0, 44.7, 41.0, 26.4, 6.4, 0, 0, 0]],
  [45, [12.2, 17.4, 25.1, 33.2, 39.2, 41.7, 40.4, 35.3, 27.8, 19.6, 13.3, 10.7]],
  [30, [21.3, 25.7, 31.5, 36.8, 40, 41.1, 40.4, 37.8, 33.2, 27.4, 22.2, 19.9]],
  [15, [29.6, 32.6, 35.9, 38, 38.5, 38.4, 38.3, 38, 36.4, 33.4, 30.1, 28.5]],
  [0, [36.2, 37.4, 37.8, 36.7, 34.8, 33.5, 34.0, 35.7, 37.2, 37.3, 36.3, 35.7]],
  [-10, [39.5, 39.3, 37.7, 34.5, 31.1, 29.2, 29.9, 32.9, 36.3, 38.5, 39.3, 39.4]],
  [-45, [42.8, 37.1, 28.6, 19.6, 12.9, 10, 11.3, 16.6, 24.9, 34, 41.2, 44.5]],
  [-60, [41, 32.4, 21.2, 10.9, 4.5, 2.2, 3.1, 8, 17, 28.4, 38.7, 43.7]],
  [-90, [43.3, 27.8, 6.2, 0, 0, 0, 0, 0, 1.4, 20.4, 39.4, 47.8]],
];

describe('Duffie & Beckman table 1.10.1', () => {
  it.each(H0)('latitude %d, with the handbook’s declination: within 0.055 MJ/m²', (latitude, printed) => {
    let n = 0;
    for (const [m, days] of MONTH_DAYS.entries()) {
      let sum = 0;
      for (let d = 0; d < days; d++) sum += day(latitude, ++n);
      expect(Math.abs(sum / days - printed[m]!)).toBeLessThan(0.055);
    }
  });
});

/** MJ/m² of each day of 2025 from the columns of `sunYear`, with 1367 W/m². */
function realDays(latitude_deg: number): Float64Array {
  const clock = buildClock(2025, 'Etc/UTC', 60);
  const sun = sunYear(clock, { latitude_deg, longitude_deg: 0 }, 1367);
  const days = new Float64Array(clock.days);
  for (let i = 0; i < clock.steps; i++)
    days[clock.day[i]!]! += sun.extraterrestrial_horizontal_W_m2[i]! * 0.0036;
  return days;
}

/**
 * With the real declination the printed table is missed by up to 1.8 MJ/m² (at the pole in October, when the
 * handbook's declination is 1.1 degrees too far south): the year's columns are held against its formula instead.
 */
describe('Duffie & Beckman eq. 1.10.3, the day in one formula', () => {
  it.each([-90, -66.5, -45, 0, 23, 52, 67, 78, 90])(
    'latitude %d: the hours of sunYear add up to it, with the sun of each noon, within 0.08 MJ/m²',
    (latitude) => {
      const days = realDays(latitude);
      const phi = latitude * RAD;
      for (const [d, sum] of days.entries()) {
        const noon = Date.UTC(2025, 0, 1 + d, 12);
        const delta = sunCoordinates(noon).declination_deg * RAD;
        const ws = Math.acos(Math.min(1, Math.max(-1, -Math.tan(phi) * Math.tan(delta))));
        const daily =
          ((extraterrestrialNormal_W_m2(noon, 1367) * 86_400) / Math.PI / 1e6) *
          (Math.cos(phi) * Math.cos(delta) * Math.sin(ws) + ws * Math.sin(phi) * Math.sin(delta));
        // The declination moves 0.2 degrees from noon to midnight, which the formula does not see.
        expect(Math.abs(sum - daily)).toBeLessThan(0.08);
      }
    },
  );
});

describe('Duffie & Beckman, worked examples', () => {
  it('1.10.1: H0 at 43 N on April 15 is 33.8 MJ/m²', () => {
    expect(Math.abs(day(43, 105) - 33.8)).toBeLessThan(0.05);
  });
  it('1.10.2: I0 from 10 to 11 h that day is 3.79 MJ/m² (recalled)', () => {
    expect(Math.abs(between(43, 105, -30, -15) - 3.79)).toBeLessThan(0.005);
  });
  it('2.12.1: H0 at 43 N on June 11 is 41.8 MJ/m²', () => {
    expect(Math.abs(day(43, 162) - 41.8)).toBeLessThan(0.05);
  });
  it('2.19.1: H0 on the mean days at Madison', () => {
    const meanDays = [17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344];
    const printed = [13.37, 18.81, 26.03, 33.78, 39.42, 41.78, 40.56, 35.92, 28.8, 20.9, 14.62, 11.91];
    for (const [m, n] of meanDays.entries()) expect(Math.abs(day(43, n) - printed[m]!)).toBeLessThan(0.01);
  });
  it('1.6.3 form: sunset where cos ws = -tan(latitude) tan(declination), at the poles all or nothing', () => {
    const a = (phi: number, delta: number) => Math.sin(phi * RAD) * Math.sin(delta * RAD);
    const b = (phi: number, delta: number) => Math.cos(phi * RAD) * Math.cos(delta * RAD);
    const sunset = (phi: number, delta: number) => sunsetHourAngle(a(phi, delta), b(phi, delta)) / RAD;
    expect(sunset(43, 0)).toBeCloseTo(90, 10);
    expect(sunset(43, -14)).toBeCloseTo(76.55, 1);
    expect(sunset(90, 10)).toBe(180);
    expect(sunset(90, -10)).toBe(0);
    expect(sunset(-90, 10)).toBe(0);
  });
});
