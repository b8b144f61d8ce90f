/** What must be true of light that was split into beam and diffuse, whatever the place, the hour and the measurement. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Split,
  splitByBeam,
  splitByDiffuse,
  splitGlobal,
} from '../../packages/core/src/sky/decompose.ts';
import type { SunYear } from '../../packages/core/src/sun/year.ts';
import { sunOverIntervals } from '../../packages/core/src/sun/year.ts';

const RAD = Math.PI / 180;
const MINUTE = 60_000;

/** Two days of light anywhere on Earth: values up to 1.5 times what the sun sends, and some in the night. */
const days = fc.record({
  latitude_deg: fc.double({ min: -90, max: 90, noNaN: true }),
  longitude_deg: fc.double({ min: -180, max: 180, noNaN: true }),
  day: fc.integer({ min: 0, max: 365 }),
  step_min: fc.constantFrom(5, 10, 15, 30, 60),
  clearness: fc.array(fc.double({ min: 0, max: 1.5, noNaN: true }), { minLength: 7, maxLength: 7 }),
  stray_W_m2: fc.constantFrom(0, 3, 40),
});

type Splitting = (ghi: Float64Array, other: Float64Array, sun: SunYear) => Split;
const SPLITTINGS: [string, Splitting][] = [
  ['erbs', (ghi, _, sun) => splitGlobal(ghi, sun, 'erbs')],
  ['orgill_hollands', (ghi, _, sun) => splitGlobal(ghi, sun, 'orgill_hollands')],
  ['measured beam', splitByBeam],
  ['measured diffuse light', splitByDiffuse],
];

describe.each(SPLITTINGS)('a split by %s', (_name, split) => {
  it('never gives beam above the sun’s own above the air, at the horizon least of all, and loses no light', () => {
    let horizon = 0;
    fc.assert(
      fc.property(days, ({ day, step_min, clearness, stray_W_m2, ...place }) => {
        const steps = (2 * 24 * 60) / step_min;
        const first_ms = Date.UTC(2025, 0, 1) + day * 24 * 60 * MINUTE;
        const start_ms = Float64Array.from({ length: steps }, (_, i) => first_ms + i * step_min * MINUTE);
        const sun = sunOverIntervals(
          start_ms,
          start_ms.map((t) => t + step_min * MINUTE),
          place,
        );
        const ghi = sun.extraterrestrial_horizontal_W_m2.map((x, i) => x * clearness[i % 7]! + stray_W_m2);
        const other = ghi.map((x, i) => x * clearness[(i + 3) % 7]!);
        const { dni_W_m2, dhi_W_m2 } = split(ghi, other, sun);
        let beyond = 0;
        let lost = 0;
        for (let i = 0; i < steps; i++) {
          const up = sun.up_share[i]!;
          if (up > 0 && sun.altitude_deg[i]! < 3) horizon++;
          const most = up * sun.extraterrestrial_normal_W_m2[i]!;
          if (!(dni_W_m2[i]! >= 0 && dni_W_m2[i]! <= most + 1e-9)) beyond++;
          const horizontal = dni_W_m2[i]! * Math.sin(Math.max(0, sun.altitude_deg[i]!) * RAD);
          lost = Math.max(lost, Math.abs(dhi_W_m2[i]! + horizontal - ghi[i]!));
        }
        expect(beyond).toBe(0);
        expect(lost).toBeLessThan(1e-9);
      }),
      { seed: 20_250_621, numRuns: 200 },
    );
    // The property is about these: it must have met many.
    expect(horizon).toBeGreaterThan(500);
  });
});
