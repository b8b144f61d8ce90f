/** Years drawn from monthly normals. */
import { describe, expect, it } from 'vitest';
import { InputError } from '../../packages/core/src/basis/errors.ts';
import { buildClock, type Clock } from '../../packages/core/src/clock/clock.ts';
import type { MonthlyMeansWeather, Site } from '../../packages/core/src/scenario/schema/schema.ts';
import { drawDays, spreadOfMean } from '../../packages/core/src/sky/persistence.ts';
import { prepareSky } from '../../packages/core/src/sky/prepare.ts';
import { sunYear } from '../../packages/core/src/sun/year.ts';

const RAD = Math.PI / 180;
const NONE = new Map<string, string>();
const site = (latitude_deg: number, longitude_deg: number, time_zone: string, elevation_m = 50): Site => ({
  name: 'test',
  latitude_deg,
  longitude_deg,
  elevation_m,
  time_zone,
});
const BERLIN = site(52.52, 13.41, 'Europe/Berlin');
const BERLIN_GHI = [0.6, 1.2, 2.5, 4, 5, 5.3, 5.1, 4.4, 3, 1.6, 0.8, 0.45];
const SVALBARD = site(78.22, 15.63, 'Arctic/Longyearbyen');
const SVALBARD_GHI = [0, 0.02, 0.9, 3, 4.8, 5.2, 4, 2.3, 0.9, 0.06, 0, 0];
const PUNTA = site(-53.15, -70.92, 'America/Punta_Arenas');
const PUNTA_GHI = [5.3, 4.3, 3, 1.8, 0.9, 0.6, 0.7, 1.3, 2.5, 3.9, 5, 5.6];

const means = (
  ghi_kWh_m2_day: number[],
  seed = 1,
  known: Partial<MonthlyMeansWeather> = {},
): MonthlyMeansWeather => ({
  kind: 'monthly_means',
  ghi_kWh_m2_day,
  air_temperature_C: [0, 1, 5, 9, 14, 17, 19, 19, 14, 10, 5, 1],
  daily_swing_K: 8,
  wind_m_s: 1,
  turbidity_linke: 3,
  seed,
  ...known,
});

function draw(
  place: Site,
  ghi: number[],
  seed = 1,
  step_min = 60,
  year = 2025,
  known: Partial<MonthlyMeansWeather> = {},
) {
  const clock = buildClock(year, place.time_zone, step_min);
  const sun = sunYear(clock, place);
  return { clock, sun, sky: prepareSky(means(ghi, seed, known), place, clock, sun, NONE, 'test.yaml') };
}

/** Monthly means of the daily sums, kWh/m². */
function monthly(clock: Clock, column: Float64Array): number[] {
  const sums = new Float64Array(12);
  const days = Array.from({ length: 12 }, () => new Set<number>());
  for (let i = 0; i < clock.steps; i++) {
    sums[clock.month[i]! - 1]! += (column[i]! * clock.step_h) / 1000;
    days[clock.month[i]! - 1]!.add(clock.day[i]!);
  }
  return [...sums].map((sum, m) => sum / days[m]!.size);
}

function daily(clock: Clock, column: Float64Array): Float64Array {
  const out = new Float64Array(clock.days);
  for (let i = 0; i < clock.steps; i++) out[clock.day[i]!]! += (column[i]! * clock.step_h) / 1000;
  return out;
}

function lagOne(x: Float64Array): number {
  let top = 0;
  let bottom = 0;
  for (let i = 0; i < x.length; i++) {
    if (i > 0) top += x[i]! * x[i - 1]!;
    bottom += x[i]! * x[i]!;
  }
  return top / bottom;
}

describe.each([
  ['Berlin', BERLIN, BERLIN_GHI],
  ['Longyearbyen, with polar night', SVALBARD, SVALBARD_GHI],
  ['Punta Arenas', PUNTA, PUNTA_GHI],
  [
    'La Paz, 3640 m',
    site(-16.5, -68.15, 'America/La_Paz', 3640),
    [5.6, 5.4, 5.4, 5.4, 5, 4.7, 4.9, 5.4, 5.8, 6.2, 6.4, 6],
  ],
] as const)('%s', (_name, place, ghi) => {
  it.each([60, 15])(
    'without a spread of months keeps each mean, and closes, in steps of %d min',
    (step_min) => {
      const { clock, sun, sky } = draw(place, [...ghi], 3, step_min, 2024, { month_spread_share: 0 });
      const drawn = monthly(clock, sky.ghi_W_m2);
      for (let m = 0; m < 12; m++) expect(Math.abs(drawn[m]! - ghi[m]!)).toBeLessThan(1e-9);
      const { ghi_W_m2, dni_W_m2, dhi_W_m2 } = sky;
      let open = 0;
      let beyond = 0;
      for (let i = 0; i < clock.steps; i++) {
        const beam = dni_W_m2[i]! * Math.sin(Math.max(0, sun.altitude_deg[i]!) * RAD);
        open = Math.max(open, Math.abs(ghi_W_m2[i]! - dhi_W_m2[i]! - beam));
        const physical =
          ghi_W_m2[i]! >= 0 &&
          ghi_W_m2[i]! <= 0.96 * sun.extraterrestrial_horizontal_W_m2[i]! + 1e-9 &&
          dhi_W_m2[i]! >= 0 &&
          dni_W_m2[i]! >= 0 &&
          dni_W_m2[i]! <= sun.extraterrestrial_normal_W_m2[i]! * sun.up_share[i]!;
        if (!physical) beyond++;
      }
      expect(open).toBeLessThan(1e-9);
      expect(beyond).toBe(0);
    },
  );
});

describe('the seed', () => {
  it('same seed, same bytes', () => {
    const a = draw(BERLIN, BERLIN_GHI, 42).sky;
    const b = draw(BERLIN, BERLIN_GHI, 42).sky;
    for (const name of ['ghi_W_m2', 'dni_W_m2', 'dhi_W_m2', 'air_temperature_C'] as const)
      expect(Buffer.from(a[name].buffer).equals(Buffer.from(b[name].buffer))).toBe(true);
  });
  it('every seed its own days, from the first on, and small seeds are no worse than large ones', () => {
    const first = new Set<number>();
    for (const seed of [0, 1, 2, 3, 4, 5, 6, 7, 2_147_483_648, 4_294_967_295])
      first.add(drawDays(new Float64Array(3), seed).sky[0]!);
    expect(first.size).toBe(10);
    expect(Math.max(...first) > 0.3 && Math.min(...first) < -0.3).toBe(true);
    expect(draw(BERLIN, BERLIN_GHI, 1).sky.ghi_W_m2).not.toEqual(draw(BERLIN, BERLIN_GHI, 2).sky.ghi_W_m2);
  });
});

describe('dull days keep together', () => {
  it.each([0, 0.15, 0.4, 0.8])('with a persistence of %d, variance 1 and mean 0', (persistence) => {
    const days = 400_000;
    const { sky, air } = drawDays(new Float64Array(days).fill(persistence), 11);
    const mean = sky.reduce((s, x) => s + x, 0) / days;
    const square = sky.reduce((s, x) => s + x * x, 0) / days;
    expect(Math.abs(mean)).toBeLessThan(0.03);
    expect(Math.abs(square - 1)).toBeLessThan(0.03);
    // The season alone remembers 0.97 of its 0.04.
    expect(Math.abs(lagOne(sky) - Math.max(persistence, 0.0388))).toBeLessThan(0.01);
    expect(Math.abs(lagOne(air) - 0.8)).toBeLessThan(0.01);
    let both = 0;
    for (let d = 0; d < days; d++) both += sky[d]! * air[d]!;
    expect(Math.abs(both / days)).toBeLessThan(0.03);
    // Means of 30 days stray as the closed form of their correlations says.
    let squares = 0;
    for (let from = 0; from + 30 <= days; from += 30)
      squares += (sky.slice(from, from + 30).reduce((s, x) => s + x, 0) / 30) ** 2;
    const strays = Math.sqrt(squares / Math.floor(days / 30));
    expect(Math.abs(strays / spreadOfMean(persistence, 30) - 1)).toBeLessThan(0.03);
  });

  it('a stated spread of months is the spread that many drawn years have', () => {
    const decembers = Array.from({ length: 150 }, (_, seed) => {
      const { clock, sky } = draw(BERLIN, BERLIN_GHI, seed, 60, 2025, { month_spread_share: 0.25 });
      return monthly(clock, sky.ghi_W_m2)[11]! / BERLIN_GHI[11]!;
    });
    const mean = decembers.reduce((s, x) => s + x, 0) / decembers.length;
    const sd = Math.sqrt(decembers.reduce((s, x) => s + (x - mean) ** 2, 0) / (decembers.length - 1));
    expect(Math.abs(mean - 1)).toBeLessThan(0.06);
    expect(Math.abs(sd - 0.25)).toBeLessThan(0.04);
  });

  it('a stated least clearness is the dullest day', () => {
    const { clock, sun, sky } = draw(BERLIN, BERLIN_GHI, 5, 60, 2025, { least_clearness: 0.15 });
    const above = daily(clock, sun.extraterrestrial_horizontal_W_m2);
    const least = Math.min(...daily(clock, sky.ghi_W_m2).map((day, d) => day / above[d]!));
    expect(least).toBeGreaterThan(0.13);
    expect(least).toBeLessThan(0.17);
  });
});

describe('air of a drawn year', () => {
  const air = (seed: number, known: Partial<MonthlyMeansWeather> = {}) =>
    draw(BERLIN, BERLIN_GHI, seed, 60, 2025, known);
  const meanOfDays = ({ clock, sky }: ReturnType<typeof air>): Float64Array => {
    const out = new Float64Array(clock.days);
    for (let i = 0; i < clock.steps; i++) out[clock.day[i]!]! += sky.air_temperature_C[i]! / 24;
    return out;
  };
  const seeds = Array.from({ length: 60 }, (_, seed) => seed);
  const still = meanOfDays(air(0, { day_to_day_K: 0 }));

  it('strays from its monthly means by the stated kelvins, and not at all at 0', () => {
    expect(meanOfDays(air(9, { day_to_day_K: 0 }))).toEqual(still);
    let squares = 0;
    for (const seed of seeds)
      meanOfDays(air(seed, { day_to_day_K: 5 })).forEach((day, d) => {
        squares += (day - still[d]!) ** 2;
      });
    // Lines from noon to noon take off a little.
    const sd = Math.sqrt(squares / (365 * seeds.length));
    expect(sd).toBeGreaterThan(4.3);
    expect(sd).toBeLessThan(5);
  });

  it('clear days are cold in December and warm in June', () => {
    const link = (from: number, to: number): number => {
      let [top, a, b] = [0, 0, 0];
      for (const seed of seeds) {
        const year = air(seed);
        const days = meanOfDays(year);
        const light = daily(year.clock, year.sky.ghi_W_m2);
        const mean = light.slice(from, to).reduce((s, x) => s + x, 0) / (to - from);
        for (let d = from; d < to; d++) {
          top += (days[d]! - still[d]!) * (light[d]! - mean);
          a += (days[d]! - still[d]!) ** 2;
          b += (light[d]! - mean) ** 2;
        }
      }
      return top / Math.sqrt(a * b);
    };
    // Days of Hoogeveen and Hupsel (KNMI, CC BY 4.0): -0.34 to -0.36 in December, 0.43 to 0.45 in June.
    expect(link(334, 365)).toBeLessThan(-0.2);
    expect(link(334, 365)).toBeGreaterThan(-0.45);
    expect(link(151, 181)).toBeGreaterThan(0.3);
    expect(link(151, 181)).toBeLessThan(0.5);
  });
});

describe('what can not be', () => {
  const issuesOf = (place: Site, ghi: number[]) => {
    try {
      draw(place, ghi);
    } catch (error) {
      expect(error).toBeInstanceOf(InputError);
      return (error as InputError).issues;
    }
    return [];
  };
  it('a month above the cleanest sky is refused with the most that is possible, each month on its own', () => {
    const ghi = [...BERLIN_GHI];
    ghi[11] = 1.9;
    ghi[5] = 10;
    const issues = issuesOf(BERLIN, ghi);
    expect(issues.map((issue) => issue.path)).toEqual([
      'weather.ghi_kWh_m2_day[5]',
      'weather.ghi_kWh_m2_day[11]',
    ]);
    expect(issues[1]!.message).toContain('December');
    const most = Number(/at most ([\d.]+)/.exec(issues[1]!.expected!)![1]);
    ghi[11] = most;
    ghi[5] = 5;
    expect(issuesOf(BERLIN, ghi)).toEqual([]);
    ghi[11] = most + 0.06;
    expect(issuesOf(BERLIN, ghi)).toHaveLength(1);
  });
  it('MJ instead of kWh is found', () => {
    expect(
      issuesOf(
        BERLIN,
        BERLIN_GHI.map((x) => x * 3.6),
      ).length,
    ).toBeGreaterThan(6);
  });
  it('a northern table on a southern site is found', () => {
    expect(issuesOf(site(-52.52, 13.41, 'Africa/Johannesburg'), BERLIN_GHI).length).toBeGreaterThan(2);
  });
  it('light in the polar night is refused; twilight within the rounding of tables is cut with a notice', () => {
    const ghi = [...SVALBARD_GHI];
    ghi[11] = 0.5;
    expect(issuesOf(SVALBARD, ghi).map((issue) => issue.path)).toEqual(['weather.ghi_kWh_m2_day[11]']);
    ghi[11] = 0.02;
    const { clock, sky } = draw(SVALBARD, ghi);
    expect(sky.notices.map((notice) => notice.id)).toEqual(['month-cut-to-possible']);
    expect(monthly(clock, sky.ghi_W_m2)[11]).toBe(0);
  });
});

describe('hemispheres', () => {
  it('the same table half a year later at the mirrored latitude has the same light, to the ellipse of the orbit', () => {
    const south = site(-52.52, 13.41, 'Etc/UTC');
    const turned = [...BERLIN_GHI.slice(6), ...BERLIN_GHI.slice(0, 6)];
    const a = draw(site(52.52, 13.41, 'Etc/UTC'), BERLIN_GHI);
    const b = draw(south, turned);
    const diffuse = monthly(a.clock, a.sky.dhi_W_m2);
    const mirrored = monthly(b.clock, b.sky.dhi_W_m2);
    for (let m = 0; m < 12; m++) expect(mirrored[(m + 6) % 12]! / diffuse[m]!).toBeCloseTo(1, 0);
    for (let i = 0; i < b.clock.steps; i++)
      if (b.sun.up_share[i] === 1 && Math.abs(b.sun.altitude_deg[i]!) > 55)
        expect(Math.cos(b.sun.azimuth_deg[i]! * RAD)).toBeGreaterThan(0.5);
  });
});
