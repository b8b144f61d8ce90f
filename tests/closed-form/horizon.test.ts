/** A horizon line around an array, against closed forms of what a plane sees of an even sky. */
import { describe, expect, it } from 'vitest';
import { horizonLine, skyLeft } from '../../packages/core/src/array/horizon.ts';
import { prepareArray } from '../../packages/core/src/array/prepare.ts';
import { buildClock } from '../../packages/core/src/clock/clock.ts';
import type { ArraySpec, HorizonPoint, Site } from '../../packages/core/src/scenario/schema/schema.ts';
import { prepareSky } from '../../packages/core/src/sky/prepare.ts';
import type { SkyYear } from '../../packages/core/src/sky/types.ts';
import { sunYear } from '../../packages/core/src/sun/year.ts';

const RAD = Math.PI / 180;
const even = (height_deg: number): HorizonPoint[] => [{ azimuth_deg: 0, height_deg }];
const seen = (height_deg: number, tilt: number, azimuth = 180) =>
  skyLeft(horizonLine(even(height_deg)), tilt, azimuth);

describe('a line of even height h', () => {
  it.each([0, 5, 20, 45, 70])('of %d degrees leaves cos² h of an even sky to a horizontal plane', (h) => {
    expect(seen(h, 0).even).toBeCloseTo(Math.cos(h * RAD) ** 2, 12);
  });
  it.each([0, 5, 20, 45, 70])('of %d degrees leaves 1 - (2h + sin 2h) / π to a vertical one', (h) => {
    expect(seen(h, 90).even).toBeCloseTo(1 - (2 * h * RAD + Math.sin(2 * h * RAD)) / Math.PI, 5);
  });
  it('leaves a tilted plane what a sum over small pieces of the sky says', () => {
    for (const [tilt, h] of [
      [35, 15],
      [60, 8],
      [75, 30],
    ] as const) {
      let all = 0;
      let left = 0;
      for (let alt = 0.25; alt < 90; alt += 0.5)
        for (let az = 0.5; az < 360; az++) {
          const c =
            Math.sin(alt * RAD) * Math.cos(tilt * RAD) +
            Math.cos(alt * RAD) * Math.sin(tilt * RAD) * Math.cos((az - 180) * RAD);
          if (c <= 0) continue;
          const light = c * Math.cos(alt * RAD);
          all += light;
          if (alt > h) left += light;
        }
      expect(Math.abs(seen(h, tilt).even - left / all)).toBeLessThan(1e-3);
    }
  });
  it('hides a band of 6.5 degrees in proportion', () => {
    expect(seen(0, 40).band).toBe(1);
    expect(seen(3.25, 40).band).toBeCloseTo(0.5, 12);
    expect(seen(10, 40).band).toBe(0);
  });
});

describe('a line through points', () => {
  const line = horizonLine([
    { azimuth_deg: 90, height_deg: 10 },
    { azimuth_deg: 180, height_deg: 30 },
    { azimuth_deg: 350, height_deg: 0 },
  ]);
  it('is straight between them and closed through north', () => {
    expect([90, 135, 180, 265, 350].map(line)).toEqual([10, 20, 30, 15, 0]);
    // From 350 to 90 it is 100 degrees: at north a tenth of the way.
    expect(line(0)).toBeCloseTo(1, 12);
    expect(line(360)).toBeCloseTo(1, 12);
    expect(line(40)).toBeCloseTo(5, 12);
  });
  it('behind a vertical plane takes nothing from it, before it almost all', () => {
    const north = horizonLine([
      { azimuth_deg: 0, height_deg: 80 },
      { azimuth_deg: 89, height_deg: 80 },
      { azimuth_deg: 90, height_deg: 0 },
      { azimuth_deg: 270, height_deg: 0 },
      { azimuth_deg: 271, height_deg: 80 },
    ]);
    expect(skyLeft(north, 90, 180).even).toBeCloseTo(1, 12);
    expect(skyLeft(north, 90, 0).even).toBeLessThan(0.02);
  });
});

describe('the year behind a line', () => {
  const site: Site = {
    name: 'test',
    latitude_deg: 50,
    longitude_deg: 0,
    elevation_m: 0,
    time_zone: 'Etc/UTC',
  };
  const clock = buildClock(2025, 'Etc/UTC', 60);
  const sun = sunYear(clock, site);
  const clear = prepareSky(
    { kind: 'clear-sky', turbidity_linke: 3, air_temperature_C: 10, daily_swing_K: 0, wind_m_s: 1 },
    site,
    clock,
    sun,
    new Map(),
    'test.yaml',
  );
  const spec = (extra: Partial<ArraySpec>): ArraySpec =>
    ({
      name: 'a',
      tilt_deg: 0,
      azimuth_deg: 180,
      sky_model: 'hay_davies',
      cell_model: { kind: 'faiman' },
      incidence_b0: 0,
      low_light_loss_share: 0,
      power_temperature_coefficient_per_K: 0,
      mounting: 'open_rack',
      losses: { soiling_share: 0, snow_share: 0, mismatch_share: 0, wiring_share: 0, ageing_share: 0 },
      albedo: 0.2,
      ...extra,
    }) as ArraySpec;
  const play = (extra: Partial<ArraySpec>, sky: SkyYear = clear, at: Site = site) =>
    prepareArray(spec(extra), at, clock, sun, sky);

  it('an overcast sky gives a flat plane cos² h of it in every step', () => {
    const none = new Float64Array(clock.steps);
    const dull = { ...clear, ghi_W_m2: clear.dhi_W_m2, dni_W_m2: none };
    const { plane_W_m2 } = play({ horizon: even(25) }, dull);
    const left = Math.cos(25 * RAD) ** 2;
    const farthest = plane_W_m2.reduce(
      (most, x, i) => Math.max(most, Math.abs(x - left * dull.ghi_W_m2[i]!)),
      0,
    );
    expect(Math.max(...plane_W_m2)).toBeGreaterThan(50);
    expect(farthest).toBeLessThan(1e-9);
  });

  it('takes beam and the ring around the sun with the sun below it, and leaves both above it', () => {
    const h = 20;
    const open = play({});
    const behind = play({ horizon: even(h) });
    const left = Math.cos(h * RAD) ** 2;
    let below = 0;
    let wrong = 0;
    for (let i = 0; i < clock.steps; i++) {
      const altitude = sun.altitude_deg[i]!;
      if (sun.up_share[i] !== 1 || clear.dni_W_m2[i]! <= 0) continue;
      const ring = clear.dni_W_m2[i]! / sun.extraterrestrial_normal_W_m2[i]!;
      const perSine = ring / Math.max(Math.sin(5 * RAD), Math.sin(altitude * RAD));
      const spread = clear.dhi_W_m2[i]! * (1 - perSine * Math.sin(altitude * RAD));
      if (altitude < h) below++;
      const expected = altitude < h ? spread * left : open.plane_W_m2[i]! - spread * (1 - left);
      if (Math.abs(behind.plane_W_m2[i]! - expected) > 1e-6) wrong++;
    }
    expect(below).toBeGreaterThan(500);
    expect(wrong).toBe(0);
  });

  it('of the site counts for every array, and an array has its own before it', () => {
    const hilly = { ...site, horizon: even(30) };
    const sum = (x: Float64Array): number => x.reduce((s, v) => s + v, 0);
    const own = sum(play({ horizon: even(30) }).plane_W_m2);
    expect(sum(play({}, clear, hilly).plane_W_m2)).toBe(own);
    expect(sum(play({ horizon: even(0) }, clear, hilly).plane_W_m2)).toBeCloseTo(sum(play({}).plane_W_m2), 3);
    expect(own).toBeLessThan(0.9 * sum(play({}).plane_W_m2));
  });

  it('lights the ground by what it leaves', () => {
    const none = new Float64Array(clock.steps);
    const dull = { ...clear, ghi_W_m2: clear.dhi_W_m2, dni_W_m2: none };
    const at = dull.ghi_W_m2.indexOf(Math.max(...dull.ghi_W_m2));
    const lit = (albedo: number) => play({ tilt_deg: 90, albedo, horizon: even(25) }, dull).plane_W_m2[at]!;
    expect(lit(0.6) - lit(0)).toBeCloseTo((0.6 * dull.ghi_W_m2[at]! * Math.cos(25 * RAD) ** 2) / 2, 9);
  });

  it('says in the assumptions whether there is one', () => {
    const why = (extra: Partial<ArraySpec>) =>
      play(extra).assumptions.find(({ path }) => path === 'model.array.horizon')!.why;
    expect(why({})).toMatch(/no horizon line is given/);
    expect(why({ horizon: even(3) })).toMatch(/middle of it/);
  });
});
