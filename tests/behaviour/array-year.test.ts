/** One array over a year, through `prepareArray`. */
import { describe, expect, it } from 'vitest';
import type { ArrayYear } from '../../packages/core/src/array/prepare.ts';
import { prepareArray } from '../../packages/core/src/array/prepare.ts';
import { buildClock } from '../../packages/core/src/clock/clock.ts';
import type { ArraySpec, Site } from '../../packages/core/src/scenario/schema/schema.ts';
import { prepareSky } from '../../packages/core/src/sky/prepare.ts';
import type { SkyYear } from '../../packages/core/src/sky/types.ts';
import { sunYear } from '../../packages/core/src/sun/year.ts';

const NO_LOSSES = { soiling_share: 0, snow_share: 0, mismatch_share: 0, wiring_share: 0, ageing_share: 0 };
const spec = (extra: Partial<ArraySpec> = {}): ArraySpec =>
  ({
    name: 'roof',
    size_kWp: 3,
    tilt_deg: 35,
    azimuth_deg: 180,
    power_temperature_coefficient_per_K: -0.0035,
    mounting: 'open_rack',
    losses: NO_LOSSES,
    albedo: 0.2,
    tracker: { max_power_kW: 5, max_charge_A: 100, efficiency_share: 0.97 },
    ...extra,
  }) as ArraySpec;

function yearAt(latitude_deg: number, longitude_deg = 0, kind: 'clear' | 'drawn' = 'clear') {
  const site: Site = { name: 'test', latitude_deg, longitude_deg, elevation_m: 0, time_zone: 'Etc/UTC' };
  const clock = buildClock(2025, 'Etc/UTC', 60);
  const sun = sunYear(clock, site);
  const common = { daily_swing_K: 0, wind_m_s: 1 };
  const sky = prepareSky(
    kind === 'clear'
      ? { kind: 'clear-sky', turbidity_linke: 3, air_temperature_C: 15, ...common }
      : {
          kind: 'monthly_means',
          ghi_kWh_m2_day: [0.8, 1.5, 2.7, 4, 5, 5.3, 5.1, 4.4, 3, 1.7, 0.9, 0.6],
          air_temperature_C: Array<number>(12).fill(15),
          turbidity_linke: 3,
          seed: 5,
          ...common,
        },
    site,
    clock,
    sun,
    new Map(),
    'test.yaml',
  );
  return {
    site,
    clock,
    sun,
    sky,
    array: (extra?: Partial<ArraySpec>) => prepareArray(spec(extra), site, clock, sun, sky),
  };
}
const sum = (x: Float64Array): number => x.reduce((s, v) => s + v, 0);
const farthest = (a: Float64Array, b: Float64Array): number =>
  a.reduce((most, x, i) => Math.max(most, Math.abs(x - b[i]!)), 0);

describe('a plane of tilt 0', () => {
  it.each(['clear', 'drawn'] as const)('gets the horizontal irradiance in every step, %s sky', (kind) => {
    const { sky, array } = yearAt(51, 0, kind);
    expect(farthest(array({ tilt_deg: 0 }).plane_W_m2, sky.ghi_W_m2)).toBeLessThan(1e-9);
    expect(farthest(array({ tilt_deg: 0, azimuth_deg: 77 }).plane_W_m2, sky.ghi_W_m2)).toBeLessThan(1e-9);
  });
});

describe('symmetry', () => {
  it('east and west on the equator at longitude 0 mirror each other about solar noon', () => {
    const { array } = yearAt(0);
    const east = sum(array({ azimuth_deg: 90 }).plane_W_m2);
    const west = sum(array({ azimuth_deg: 270 }).plane_W_m2);
    expect(Math.abs(east / west - 1)).toBeLessThan(0.002);
  });
  it('north and south on the equator get the same year, to the ellipse of the orbit', () => {
    const { array } = yearAt(0);
    const north = sum(array({ azimuth_deg: 0 }).plane_W_m2);
    const south = sum(array({ azimuth_deg: 180 }).plane_W_m2);
    expect(Math.abs(north / south - 1)).toBeLessThan(0.02);
  });
  it('facing the equator is best on both sides of it, and as good', () => {
    const north = yearAt(40);
    const south = yearAt(-40);
    const a = sum(north.array({ azimuth_deg: 180 }).dc_kW_per_kWp);
    const b = sum(south.array({ azimuth_deg: 0 }).dc_kW_per_kWp);
    expect(Math.abs(a / b - 1)).toBeLessThan(0.02);
    expect(sum(north.array({ azimuth_deg: 0 }).dc_kW_per_kWp)).toBeLessThan(0.7 * a);
    expect(sum(south.array({ azimuth_deg: 180 }).dc_kW_per_kWp)).toBeLessThan(0.7 * b);
  });
  it('steep planes favour winter, flat ones summer', () => {
    const { clock, array } = yearAt(48);
    const month = (year: ArrayYear, m: number): number =>
      year.plane_W_m2.reduce((s, x, i) => s + (clock.month[i] === m ? x : 0), 0);
    const steep = array({ tilt_deg: 70 });
    const flat = array({ tilt_deg: 10 });
    expect(month(steep, 12)).toBeGreaterThan(1.5 * month(flat, 12));
    expect(month(steep, 6)).toBeLessThan(month(flat, 6));
  });
});

describe('power', () => {
  const { array, sky, clock } = yearAt(45, 0, 'drawn');
  it('is finite, never negative, dark at night, and near the light on the plane', () => {
    const year = array();
    let wrong = 0;
    for (let i = 0; i < clock.steps; i++) {
      const p = year.dc_kW_per_kWp[i]!;
      if (!(p >= 0 && p < 1.2 && (sky.ghi_W_m2[i]! > 0 || p === 0))) wrong++;
      if (!(year.plane_W_m2[i]! >= 0 && year.cell_temperature_C[i]! >= sky.air_temperature_C[i]!)) wrong++;
    }
    expect(wrong).toBe(0);
    const ratio = (1000 * sum(year.dc_kW_per_kWp)) / sum(year.plane_W_m2);
    expect(ratio).toBeGreaterThan(0.85);
    expect(ratio).toBeLessThan(1);
  });
  it('losses multiply, each by its share', () => {
    const losses = {
      soiling_share: 0.03,
      snow_share: 0,
      mismatch_share: 0.02,
      wiring_share: 0.05,
      ageing_share: 0.1,
    };
    const kept = 0.97 * 0.98 * 0.95 * 0.9;
    const bare = array().dc_kW_per_kWp;
    expect(
      farthest(
        array({ losses }).dc_kW_per_kWp,
        bare.map((p) => p * kept),
      ),
    ).toBeLessThan(1e-12);
  });
  it('is hotter and weaker close to a roof, and not weaker without a temperature coefficient', () => {
    const rack = array();
    const roof = array({ mounting: 'close_roof' });
    expect(Math.max(...roof.cell_temperature_C)).toBeGreaterThan(Math.max(...rack.cell_temperature_C) + 8);
    expect(sum(roof.dc_kW_per_kWp)).toBeLessThan(0.99 * sum(rack.dc_kW_per_kWp));
    const flat = { power_temperature_coefficient_per_K: 0 };
    expect(
      farthest(array(flat).dc_kW_per_kWp, array({ ...flat, mounting: 'close_roof' }).dc_kW_per_kWp),
    ).toBe(0);
    expect(roof.assumptions.map((a) => a.path)).toContain('model.array.cell.close_roof');
  });
  it('albedo of the months counts in its month, on a tilted plane only', () => {
    const snow = [0.7, 0.7, ...Array<number>(10).fill(0.2)];
    const bare = array({ tilt_deg: 60 }).plane_W_m2;
    const white = array({ tilt_deg: 60, albedo: snow }).plane_W_m2;
    let worst = 0;
    for (let i = 0; i < clock.steps; i++) {
      const gain = clock.month[i]! <= 2 ? (0.5 * sky.ghi_W_m2[i]! * (1 - 0.5)) / 2 : 0;
      worst = Math.max(worst, Math.abs(white[i]! - bare[i]! - gain));
    }
    expect(worst).toBeLessThan(1e-9);
    const level = array({ tilt_deg: 0 });
    expect(farthest(level.plane_W_m2, array({ tilt_deg: 0, albedo: snow }).plane_W_m2)).toBe(0);
  });
});

describe('glass', () => {
  const { site, clock, sun, sky } = yearAt(50);
  const none = new Float64Array(clock.steps);
  /** Light that makes power over light on the plane, in the first hour of full sun of July, with cells at any heat. */
  function passed(light: Partial<SkyYear>, extra: Partial<ArraySpec>): { share: number; cosine: number } {
    const i = sun.up_share.findIndex(
      (up, s) => up === 1 && clock.month[s] === 7 && clock.local_minute[s] === 900,
    );
    const year = prepareArray(spec({ power_temperature_coefficient_per_K: 0, ...extra }), site, clock, sun, {
      ...sky,
      ghi_W_m2: none,
      dni_W_m2: none,
      dhi_W_m2: none,
      ...light,
    });
    const beam = light.dni_W_m2?.[i] ?? Number.NaN;
    return {
      share: (1000 * year.dc_kW_per_kWp[i]!) / year.plane_W_m2[i]!,
      cosine: year.plane_W_m2[i]! / beam,
    };
  }
  const all = new Float64Array(clock.steps).fill(100);
  it('beam passes by its angle of incidence', () => {
    for (const extra of [
      { tilt_deg: 35, azimuth_deg: 180 },
      { tilt_deg: 80, azimuth_deg: 180 },
      { tilt_deg: 60, azimuth_deg: 90 },
    ]) {
      const { share, cosine } = passed({ ghi_W_m2: all, dni_W_m2: all }, { albedo: 0, ...extra });
      if (cosine > 0) expect(share).toBeCloseTo(1 - 0.05 * (1 / cosine - 1), 9);
    }
  });
  it('light of an even sky passes as beam at 59.7 degrees on the flat: 95.1 %', () => {
    const share = passed({ ghi_W_m2: all, dhi_W_m2: all }, { tilt_deg: 0 }).share;
    // Part of it comes from around the sun, which stands higher than that.
    expect(share).toBeGreaterThan(1 - 0.05 * (1 / Math.cos((59.7 * Math.PI) / 180) - 1) - 1e-9);
    expect(share).toBeLessThan(0.985);
  });
  it('light of the ground passes as beam at 75.06 degrees at a tilt of 30: 85.6 %', () => {
    const angle = 90 - 0.5788 * 30 + 0.002693 * 900;
    const share = passed({ ghi_W_m2: all }, { tilt_deg: 30 }).share;
    expect(share).toBeCloseTo(1 - 0.05 * (1 / Math.cos((angle * Math.PI) / 180) - 1), 9);
  });
});

describe('odd light', () => {
  const { site, clock, sun, sky } = yearAt(60);
  const play = (odd: Partial<SkyYear>): ArrayYear =>
    prepareArray(spec(), site, clock, sun, { ...sky, ...odd });
  it('diffuse light with the sun down comes evenly from the sky', () => {
    const night = sun.up_share.indexOf(0);
    const light = new Float64Array(clock.steps);
    light[night] = 8;
    const year = play({ ghi_W_m2: light, dhi_W_m2: light, dni_W_m2: new Float64Array(clock.steps) });
    const tilt = Math.cos((35 * Math.PI) / 180);
    expect(year.plane_W_m2[night]).toBeCloseTo((8 * (1 + tilt)) / 2 + (0.2 * 8 * (1 - tilt)) / 2, 9);
  });
  it('diffuse light beyond the sun’s is not lost: a flat plane gets all of it in every step', () => {
    const all = new Float64Array(clock.steps).fill(200);
    const dark = new Float64Array(clock.steps);
    const odd = { ...sky, ghi_W_m2: all, dhi_W_m2: all, dni_W_m2: dark };
    const flat = prepareArray(spec({ tilt_deg: 0 }), site, clock, sun, odd);
    expect(farthest(flat.plane_W_m2, all)).toBeLessThan(1e-9);
  });
  it('beam above the sun’s in a step with little sun is cut, and diffuse light there stays finite', () => {
    const beam = new Float64Array(clock.steps).fill(1300);
    const diffuse = new Float64Array(clock.steps).fill(200);
    const year = play({ ghi_W_m2: diffuse, dhi_W_m2: diffuse, dni_W_m2: beam });
    let wrong = 0;
    for (let i = 0; i < clock.steps; i++) {
      const most = sun.extraterrestrial_normal_W_m2[i]! * sun.up_share[i]! + 2 * 200;
      if (!(year.plane_W_m2[i]! > 0 && year.plane_W_m2[i]! <= most)) wrong++;
    }
    expect(wrong).toBe(0);
  });
});
