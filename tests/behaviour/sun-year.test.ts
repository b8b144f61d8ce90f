/** The sun's columns over a year: what they must be whatever the place. */
import { describe, expect, it } from 'vitest';
import { buildClock } from '../../packages/core/src/clock/clock.ts';
import { type LitPart, lightInterval } from '../../packages/core/src/sun/day-arc.ts';
import { sunPosition } from '../../packages/core/src/sun/position.ts';
import type { SunYear } from '../../packages/core/src/sun/year.ts';
import { sunOverIntervals, sunYear } from '../../packages/core/src/sun/year.ts';

const RAD = Math.PI / 180;
const PLACES: readonly [string, number, number, string][] = [
  ['Longyearbyen', 78.22, 15.63, 'Arctic/Longyearbyen'],
  ['Berlin', 52.52, 13.41, 'Europe/Berlin'],
  ['Quito', -0.18, -78.47, 'America/Guayaquil'],
  ['Suva, by the date line', -18.14, 178.44, 'Pacific/Fiji'],
  ['Ushuaia', -54.8, -68.3, 'America/Argentina/Ushuaia'],
  ['north pole', 90, 0, 'Etc/UTC'],
  ['south pole', -90, 0, 'Etc/UTC'],
];
const columns = (sun: SunYear): Float64Array[] => [
  sun.up_share,
  sun.altitude_deg,
  sun.azimuth_deg,
  sun.extraterrestrial_normal_W_m2,
  sun.extraterrestrial_horizontal_W_m2,
  sun.air_mass,
];

describe.each(PLACES)('%s', (_name, latitude_deg, longitude_deg, zone) => {
  const clock = buildClock(2024, zone, 60);
  const sun = sunYear(clock, { latitude_deg, longitude_deg });

  it('has finite columns of the clock, with light exactly where the sun is up', () => {
    for (const column of columns(sun)) {
      expect(column.length).toBe(clock.steps);
      expect(column.every(Number.isFinite)).toBe(true);
    }
    let wrong = 0;
    for (let i = 0; i < clock.steps; i++) {
      const up = sun.up_share[i]!;
      const fits =
        up >= 0 &&
        up <= 1 &&
        sun.extraterrestrial_horizontal_W_m2[i]! > 0 === up > 0 &&
        sun.air_mass[i]! > 0 === up > 0 &&
        sun.altitude_deg[i]! > 0 === up > 0 &&
        sun.azimuth_deg[i]! >= 0 &&
        sun.azimuth_deg[i]! < 360;
      if (!fits) wrong++;
    }
    expect(wrong).toBe(0);
  });

  it('agrees with the sun asked minute by minute', () => {
    for (let i = 3; i < clock.steps; i += 97) {
      let up = 0;
      let horizontal = 0;
      for (let minute = 0; minute < 60; minute++) {
        const t = clock.start_ms[i]! + (minute + 0.5) * 60_000;
        const sine = Math.sin(sunPosition(t, latitude_deg, longitude_deg).altitude_deg * RAD);
        if (sine > 0) up += 1 / 60;
        horizontal += (Math.max(0, sine) * sun.extraterrestrial_normal_W_m2[i]!) / 60;
      }
      // A minute that holds the horizon is counted whole or not at all.
      expect(Math.abs(sun.up_share[i]! - up)).toBeLessThan(1.1 / 60);
      expect(Math.abs(sun.extraterrestrial_horizontal_W_m2[i]! - horizontal)).toBeLessThan(0.1);
    }
  });

  it('steps of five minutes add up to the hours', () => {
    const fine = sunYear(buildClock(2024, zone, 5), { latitude_deg, longitude_deg });
    let upApart = 0;
    let lightApart = 0;
    for (let i = 0; i < clock.steps; i++) {
      let up = 0;
      let horizontal = 0;
      for (let k = 12 * i; k < 12 * i + 12; k++) {
        up += fine.up_share[k]! / 12;
        horizontal += fine.extraterrestrial_horizontal_W_m2[k]! / 12;
      }
      upApart = Math.max(upApart, Math.abs(sun.up_share[i]! - up));
      lightApart = Math.max(lightApart, Math.abs(sun.extraterrestrial_horizontal_W_m2[i]! - horizontal));
    }
    // The hour holds the declination still: where the sun grazes the horizon for hours that is felt.
    const grazing = Math.abs(latitude_deg);
    expect(upApart).toBeLessThan(grazing === 90 ? 0.5 : grazing > 70 ? 0.02 : 0.001);
    expect(lightApart).toBeLessThan(0.12);
  });
});

describe('hours of sunrise and sunset', () => {
  it('are described at the middle of their lit part', () => {
    const clock = buildClock(2025, 'Europe/Berlin', 60);
    const place = { latitude_deg: 52.52, longitude_deg: 13.41 };
    const sun = sunYear(clock, place);
    let checked = 0;
    for (let i = 1; i < clock.steps - 1; i++) {
      const up = sun.up_share[i]!;
      if (up <= 0 || up >= 1) continue;
      const rising = sun.up_share[i + 1]! > sun.up_share[i - 1]!;
      const middle = clock.start_ms[i]! + 3_600_000 * (rising ? 1 - up / 2 : up / 2);
      const there = sunPosition(middle, place.latitude_deg, place.longitude_deg);
      expect(Math.abs(sun.altitude_deg[i]! - there.altitude_deg)).toBeLessThan(0.01);
      expect(Math.abs(sun.azimuth_deg[i]! - there.azimuth_deg)).toBeLessThan(0.01);
      checked++;
    }
    // Two a day, but for the few that fall on a full hour and touch both steps or none.
    expect(Math.abs(checked - 730)).toBeLessThan(3);
  });

  it.each([
    ['noon of December 21', 66.5, 12],
    ['midnight of June 21', 66.5, 6],
    ['noon of June 21 in the south', -66.5, 6],
    ['midnight of December 21 in the south', -66.5, 12],
  ])('at the polar circle the sun that grazes %s inside one step is seen', (_name, latitude_deg, month) => {
    const clock = buildClock(2025, 'Etc/UTC', 60);
    // Solar noon in the middle of a step.
    const place = { latitude_deg, longitude_deg: -7.5 };
    const sun = sunYear(clock, place);
    const first = clock.start_ms.indexOf(Date.UTC(2025, month - 1, 21));
    let ours = 0;
    let parts = 0;
    for (let i = first; i < first + 24; i++) {
      ours += sun.up_share[i]! * 60;
      if (sun.up_share[i]! > 0 && sun.up_share[i]! < 1) parts++;
    }
    let minutes = 0;
    for (let m = 0; m < 1440 * 4; m++) {
      const t = clock.start_ms[first]! + (m + 0.5) * 15_000;
      if (sunPosition(t, place.latitude_deg, place.longitude_deg).altitude_deg > 0) minutes += 0.25;
    }
    expect(parts).toBeGreaterThan(0);
    // A thousandth of a degree is half a minute of an arc this flat.
    expect(Math.abs(ours - minutes)).toBeLessThan(1.5);
  });

  it('the arc that only grazes: up within one step at noon, and down within one at midnight', () => {
    const lit: LitPart = { width: 0, middle: 9, sineIntegral: 0 };
    // sin(altitude) = a + b cos(hour angle): 0.02 rad of sun each side of noon.
    const b = 0.3;
    lightInterval(-0.1, 0.15, -b * Math.cos(0.02), b, lit);
    expect(lit.width).toBeCloseTo(0.04, 10);
    expect(lit.middle).toBeCloseTo(0, 10);
    expect(lit.sineIntegral).toBeCloseTo(-0.04 * b * Math.cos(0.02) + 2 * b * Math.sin(0.02), 12);
    // Down for 0.02 rad each side of midnight: the longer of the two lit pieces is described.
    lightInterval(Math.PI - 0.1, Math.PI + 0.15, b * Math.cos(0.02), b, lit);
    expect(lit.width).toBeCloseTo(0.25 - 0.04, 10);
    expect(lit.middle).toBeCloseTo(Math.PI + (0.02 + 0.15) / 2, 10);
    // Sun that stays up, or down, and night in between.
    lightInterval(3, 3.2, 0.4, 0.3, lit);
    expect(lit.width).toBeCloseTo(0.2, 12);
    lightInterval(0, 0.2, -0.4, 0.3, lit);
    expect(lit).toEqual({ width: 0, middle: 0.1, sineIntegral: 0 });
  });

  it('intervals may be of any length and apart from each other', () => {
    const t = Date.UTC(2025, 5, 1, 3);
    const start = Float64Array.from([t, t + 600_000, t + 7_200_000]);
    const end = Float64Array.from([t + 600_000, t + 3_600_000, t + 10_800_000]);
    const place = { latitude_deg: 48, longitude_deg: 11 };
    const sun = sunOverIntervals(start, end, place);
    for (let i = 0; i < 3; i++) {
      const alone = sunOverIntervals(start.slice(i, i + 1), end.slice(i, i + 1), place);
      expect(sun.altitude_deg[i]).toBeCloseTo(alone.altitude_deg[0]!, 2);
      expect(sun.up_share[i]).toBeCloseTo(alone.up_share[0]!, 3);
    }
    expect(sunOverIntervals(new Float64Array(0), new Float64Array(0), place).up_share.length).toBe(0);
  });
});
