/** Where the sun stands, against printed positions, an independent evaluation of the SPA, and a second ephemeris. */
import * as Astronomy from 'astronomy-engine';
import { describe, expect, it } from 'vitest';
import { buildClock } from '../../packages/core/src/clock/clock.ts';
import { airMass, pressureShare } from '../../packages/core/src/sun/air-mass.ts';
import { sunDistance_AU } from '../../packages/core/src/sun/extraterrestrial.ts';
import { apparentAltitude_deg, sunCoordinates, sunPosition } from '../../packages/core/src/sun/position.ts';
import { sunYear } from '../../packages/core/src/sun/year.ts';

const at = (utc: string): number => Date.parse(utc);
/** Smallest turn from one azimuth to another, degrees. */
const apart = (a: number, b: number): number => Math.abs(((a - b + 540) % 360) - 180);

describe('Reda & Andreas 2003 (rev. 2008), NREL/TP-560-34302, worked example (table A5.1)', () => {
  const time = at('2003-10-17T12:30:30-07:00');
  const sun = sunPosition(time, 39.742476, -105.1786);
  it('airless topocentric elevation e0 39.872046 and azimuth 194.340241 degrees', () => {
    expect(Math.abs(sun.altitude_deg - 39.872046)).toBeLessThan(0.005);
    expect(Math.abs(sun.azimuth_deg - 194.340241)).toBeLessThan(0.01);
  });
  it('declination -9.31434 degrees and distance 0.996542 AU', () => {
    expect(Math.abs(sunCoordinates(time).declination_deg + 9.31434)).toBeLessThan(0.005);
    expect(Math.abs(sunDistance_AU(time) - 0.996542)).toBeLessThan(0.0001);
  });
});

/**
 * SPA evaluated for us at fourteen places; agrees with ERFA/astropy 5.2.1 and libastro/ephem 4.1.4 to 0.5 arcsec.
 * Airless altitude, azimuth, declination, degrees; distance, AU.
 */
// biome-ignore format: a table is read by rows
const SPA: readonly [string, string, number, number, number, number, number, number][] = [
  ['Quito, near noon at the equinox', '2024-03-20T17:00:00Z', -0.1807, -78.4678, 84.7044, 85.5666, 0.2288, 0.996022],
  ['Singapore, morning', '2024-09-22T01:30:00Z', 1.3521, 103.8198, 38.1405, 90.8304, 0.1821, 1.003712],
  ['Honolulu, near overhead', '2024-05-27T22:25:00Z', 21.3069, -157.8583, 89.1172, 77.543, 21.4948, 1.013338],
  ['Nairobi, evening', '2025-01-15T14:30:00Z', -1.2921, 36.8219, 17.2984, 248.3778, -21.0037, 0.983657],
  ['Alice Springs, winter noon', '2025-06-21T03:00:00Z', -23.698, 133.8807, 42.8374, 1.956, 23.4384, 1.016205],
  ['Cape Town, morning', '2025-12-21T06:00:00Z', -33.9249, 18.4241, 27.948, 100.706, -23.4377, 0.983827],
  ['Ushuaia, afternoon', '2025-12-21T21:00:00Z', -54.8019, -68.303, 32.0563, 274.2239, -23.438, 0.983784],
  ['Longyearbyen, midnight sun', '2025-06-21T23:00:00Z', 78.2232, 15.6267, 11.6568, 0.1286, 23.4359, 1.016263],
  ['Tromso, spring', '2026-03-20T10:00:00Z', 69.6492, 18.9553, 19.7341, 166.2691, -0.0784, 0.995863],
  ['Berlin, morning', '2025-04-15T07:15:00Z', 52.52, 13.405, 27.0815, 110.4866, 9.8864, 1.003243],
  ['Phoenix, noon', '2025-06-21T19:30:00Z', 33.4484, -112.074, 79.9878, 179.7071, 23.4367, 1.016254],
  ['Madison, morning', '2025-02-13T16:30:00Z', 43.0731, -89.4012, 29.1753, 151.3725, -13.1139, 0.987434],
  ['Delhi, below the horizon', '2025-08-01T16:00:00Z', 28.6139, 77.209, -26.7888, 311.7709, 17.8311, 1.014876],
  ['Tokyo, 2000', '2000-01-01T03:00:00Z', 35.6762, 139.6503, 31.1456, 184.1649, -23.0617, 0.983331],
];

describe('Solar Position Algorithm at fourteen places', () => {
  it.each(SPA)('%s', (_place, utc, latitude, longitude, altitude, azimuth, declination, distance) => {
    const sun = sunPosition(at(utc), latitude, longitude);
    expect(Math.abs(sun.altitude_deg - altitude)).toBeLessThan(0.02);
    // An error of the sun's place on the sky turns the azimuth the more the higher it stands.
    const onTheSky = apart(sun.azimuth_deg, azimuth) * Math.cos((altitude * Math.PI) / 180);
    expect(onTheSky).toBeLessThan(0.02);
    expect(Math.abs(sunCoordinates(at(utc)).declination_deg - declination)).toBeLessThan(0.01);
    expect(Math.abs(sunDistance_AU(at(utc)) - distance)).toBeLessThan(0.0001);
  });
});

describe('conventions that a library update could turn round', () => {
  it('angles are degrees, not radians: the sun overhead in Honolulu is at 89, not 1.6', () => {
    expect(sunPosition(at('2024-05-27T22:25:00Z'), 21.3069, -157.8583).altitude_deg).toBeGreaterThan(88);
  });
  it('azimuth is from north, not from south: Berlin has the morning sun in the east', () => {
    const { azimuth_deg } = sunPosition(at('2025-04-15T07:15:00Z'), 52.52, 13.405);
    expect(azimuth_deg).toBeGreaterThan(90);
    expect(azimuth_deg).toBeLessThan(180);
  });
  it('refraction is taken out: suncalc alone is 0.48 degrees high at the horizon', () => {
    // Meeus eq. 16.4 at h = 0: 1.02 / tan(10.3 / 5.11 degrees) = 29.0 arc minutes.
    expect(apparentAltitude_deg(0) * 60).toBeCloseTo(29, 0);
    const sunset = at('2025-03-20T17:22:00Z');
    const site = new Astronomy.Observer(52.52, 13.405, 0);
    expect(Math.abs(sunPosition(sunset, 52.52, 13.405).altitude_deg - airless(sunset, site))).toBeLessThan(
      0.02,
    );
  });
});

function airless(time_ms: number, observer: Astronomy.Observer): number {
  const time = Astronomy.MakeTime(new Date(time_ms));
  const place = Astronomy.Equator(Astronomy.Body.Sun, time, observer, true, true);
  return Astronomy.Horizon(time, observer, place.ra, place.dec).altitude;
}

describe('astronomy-engine 2.1.19, an independent ephemeris (VSOP87), over 2025', () => {
  it.each([
    ['Longyearbyen', 78.22, 15.63, 'Arctic/Longyearbyen'],
    ['Berlin', 52.52, 13.41, 'Europe/Berlin'],
    ['Phoenix', 33.45, -112.07, 'America/Phoenix'],
    ['Quito', -0.18, -78.47, 'America/Guayaquil'],
    ['Alice Springs', -23.7, 133.88, 'Australia/Darwin'],
    ['Ushuaia', -54.8, -68.3, 'America/Argentina/Ushuaia'],
  ])(
    '%s: altitude in the middle of each step within 0.02 degrees',
    (_name, latitude_deg, longitude_deg, zone) => {
      const clock = buildClock(2025, zone, 60);
      const sun = sunYear(clock, { latitude_deg, longitude_deg });
      const observer = new Astronomy.Observer(latitude_deg, longitude_deg, 0);
      let worst = 0;
      let checked = 0;
      for (let i = 0; i < clock.steps; i += 7) {
        // A step with a sunrise is described elsewhere than in its middle.
        if (sun.up_share[i] !== 0 && sun.up_share[i] !== 1) continue;
        worst = Math.max(
          worst,
          Math.abs(sun.altitude_deg[i]! - airless(clock.start_ms[i]! + 1_800_000, observer)),
        );
        checked++;
      }
      expect(checked).toBeGreaterThan(1000);
      expect(worst).toBeLessThan(0.02);
    },
  );

  it('midsummer and midwinter days have the length between the horizon crossings, to half a minute', () => {
    for (const [latitude_deg, longitude_deg, zone] of [
      [52.52, 13.41, 'Europe/Berlin'],
      [-54.8, -68.3, 'America/Argentina/Ushuaia'],
      [0, 0, 'Etc/UTC'],
      [65.5, 25, 'Europe/Helsinki'],
    ] as const) {
      const clock = buildClock(2025, zone, 60);
      const sun = sunYear(clock, { latitude_deg, longitude_deg });
      const observer = new Astronomy.Observer(latitude_deg, longitude_deg, 0);
      for (const month of [6, 12]) {
        const i = clock.start_ms.findIndex((t) => t >= Date.UTC(2025, month - 1, 21));
        const day = clock.day[i]! + 1;
        const start = Astronomy.MakeTime(new Date(clock.start_ms[clock.day_start[day]!]!));
        const rise = Astronomy.SearchAltitude(Astronomy.Body.Sun, observer, +1, start, 1, 0)!;
        const set = Astronomy.SearchAltitude(Astronomy.Body.Sun, observer, -1, rise, 1, 0)!;
        let hours = 0;
        for (let s = clock.day_start[day]!; s < clock.day_start[day + 1]!; s++) hours += sun.up_share[s]!;
        expect(Math.abs(hours - (set.ut - rise.ut) * 24) * 60).toBeLessThan(0.5);
      }
    }
  });
});

describe('Kasten & Young 1989, Applied Optics 28, 4735-4738', () => {
  it('table II (rays traced through the standard atmosphere) within the error of the fit', () => {
    // The fit is 0.44 % off at 0, 0.19 % at 1, 0.10 % at 5 and 0.03 % at 10 degrees.
    for (const [altitude, printed, within] of [
      [0, 38.0868, 0.17],
      [1, 26.2595, 0.06],
      [5, 10.3164, 0.02],
      [10, 5.5841, 0.01],
    ] as const)
      expect(Math.abs(airMass(altitude) - printed)).toBeLessThan(within);
  });
  it('the fit itself', () => {
    const altitudes = [0, 1, 2, 5, 10, 20, 30, 60, 90];
    const fit = [37.9196, 26.3106, 19.4332, 10.3058, 5.586, 2.9031, 1.9943, 1.154, 0.9997];
    for (const [k, altitude] of altitudes.entries())
      expect(Math.abs(airMass(altitude) - fit[k]!)).toBeLessThan(5.1e-5);
  });
});

it('International Standard Atmosphere: 101,325 Pa at sea level, 89,875 at 1,000 m, 22,632 at 11,000 m', () => {
  // As printed in the documentation of a numerical library's atmosisa().
  for (const [elevation, pressure] of [
    [0, 101_325],
    [1000, 89_875],
    [11_000, 22_632],
  ] as const)
    expect(Math.abs(101_325 * pressureShare(elevation) - pressure)).toBeLessThan(2);
});
