/**
 * Figures of site and weather that are typed with the wrong sign or in another unit: each rule just within and just
 * beyond its limit.
 */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../packages/core/src/basis/errors.ts';
import { readScenario } from '../../packages/core/src/scenario/read.ts';
import { prepareYear } from '../../packages/core/src/year.ts';

const PLANT = readFileSync(resolve(import.meta.dirname, '../../data/demo/holds.yaml'), 'utf8');
const FILES = new Map<string, string>();

const changed = (...changes: readonly (readonly [RegExp, string])[]): string =>
  changes.reduce((text, [from, to]) => {
    expect(text).toMatch(from);
    return text.replace(from, to);
  }, PLANT);
const placed = (longitude_deg: number, zone: string, latitude_deg = 45): string =>
  changed(
    [/latitude_deg: \S+/, `latitude_deg: ${latitude_deg}`],
    [/longitude_deg: \S+/, `longitude_deg: ${longitude_deg}`],
    [/time_zone: \S+/, `time_zone: ${zone}`],
    [/ghi_kWh_m2_day: \[.*\]/, 'ghi_kWh_m2_day: [1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1]'],
  );
const monthly = (key: string, values: readonly number[]): string =>
  changed([new RegExp(`${key}: \\[.*\\]`), `${key}: [${values.join(', ')}]`]);

function issuesOf(text: string) {
  try {
    prepareYear(readScenario(text, 'x.yaml'), 'x.yaml', FILES);
  } catch (error) {
    if (error instanceof InputError) return error.issues;
    throw error;
  }
  return [];
}
const noticesOf = (text: string): readonly string[] =>
  prepareYear(readScenario(text, 'x.yaml'), 'x.yaml', FILES)
    .notices.filter(({ id }) => id === 'clock-off-sun' || id === 'air-too-warm')
    .map(({ message }) => message);

describe('a longitude whose noon is far from the clock', () => {
  it.each([
    ['as the zone is', 15, 'Europe/Berlin'],
    ['3 h off, summer time left out of it', -30, 'Europe/Berlin'],
    ['Kashgar by the time of Beijing, 2.9 h', 76, 'Asia/Shanghai'],
    ['Spain in the west, 1.6 h', -9.2, 'Europe/Madrid'],
    ['across the date line: Kiritimati is 14 h ahead and stands at 157 west', -157.4, 'Pacific/Kiritimati'],
    ['a half hour: Adelaide', 138.6, 'Australia/Adelaide'],
  ])('%s: nothing is said', (_about, longitude_deg, zone) => {
    expect(noticesOf(placed(longitude_deg, zone))).toEqual([]);
  });

  it.each([
    ['just beyond 3 h', -30.1, 'Europe/Berlin', /highest at 15:00 .*3\.0 h from noon/],
    ['just within 6 h', -74.9, 'Europe/Berlin', /highest at 18:00 .*6\.0 h from noon/],
    ['the far west of China', 73.5, 'Asia/Shanghai', /highest at 15:06 .*3\.1 h from noon/],
    ['a wrong sign', -23, 'Africa/Maputo', /did you mean 23\?/],
  ])('%s: noted', (_about, longitude_deg, zone, words) => {
    const notices = noticesOf(placed(longitude_deg, zone));
    expect(notices).toHaveLength(1);
    expect(notices[0]).toMatch(words);
  });

  it('beyond 6 h it is refused, with the sign that fits', () => {
    const issues = issuesOf(placed(107.4, 'America/Denver'));
    expect(issues.map(({ path }) => path)).toEqual(['site.longitude_deg']);
    expect(issues[0]!.place?.line).toBeGreaterThan(1);
    expect(issues[0]!.message).toContain(
      'highest at 21:50 by standard time of America/Denver, 9.8 h from noon',
    );
    expect(issues[0]!.fix).toContain('did you mean -107.4?');
    expect(issuesOf(placed(-75.1, 'Europe/Berlin')).map(({ path }) => path)).toEqual(['site.longitude_deg']);
  });

  it('near a pole clocks follow whoever supplies the station', () => {
    const south = (latitude_deg: number) =>
      readScenario(placed(0, 'Pacific/Auckland', latitude_deg), 'x.yaml').scenario.site.latitude_deg;
    expect(south(-90)).toBe(-90);
    expect(() => south(-84)).toThrow(InputError);
  });
});

describe('weather in another unit', () => {
  const GHI = [0.28, 0.92, 2.23, 3.74, 4.83, 5.21, 4.81, 3.71, 2.3, 1.11, 0.37, 0.15];
  const DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
  const fixesOf = (text: string): readonly (string | undefined)[] => issuesOf(text).map(({ fix }) => fix);

  it('sums of a month and means of power', () => {
    const sums = GHI.map((day, m) => Number((day * DAYS[m]!).toFixed(1)));
    const fixes = fixesOf(monthly('ghi_kWh_m2_day', sums));
    // 13 and less pass the schema: December's 4.7 does, June's 156.3 does not.
    expect(fixes).toHaveLength(sums.filter((sum) => sum > 13).length);
    expect(fixes).toContain(
      'it looks like the sum of a month (divide by its days: 5.14) or W/m² (multiply by 0.024: 3.75)',
    );
    const powers = GHI.map((day) => Number((day / 0.024).toFixed(1)));
    expect(fixesOf(monthly('ghi_kWh_m2_day', powers)).at(4)).toMatch(/W\/m² \(multiply by 0\.024: 5\.21\)/);
  });

  it('megajoules: above the range, and within it', () => {
    const high = fixesOf(
      monthly(
        'ghi_kWh_m2_day',
        GHI.map((day) => Number((3.6 * day).toFixed(2))),
      ),
    );
    expect(high).toContain('it looks like MJ/m² a day (divide by 3.6: 5.21)');
    // A place so dull that no month is above 13.
    const dull = fixesOf(
      monthly(
        'ghi_kWh_m2_day',
        GHI.map((day) => Number((2.4 * day).toFixed(2))),
      ),
    );
    expect(dull.length).toBeGreaterThan(0);
    expect(
      dull.every((fix) => /divided by 3\.6 every month is possible: if they are MJ\/m²/.test(fix!)),
    ).toBe(true);
    // One month alone that is too bright is no other unit.
    const one = fixesOf(
      monthly(
        'ghi_kWh_m2_day',
        GHI.map((day, m) => (m === 11 ? 3 : day)),
      ),
    );
    expect(one).toHaveLength(1);
    expect(one[0]).not.toContain('divided by 3.6 every month is possible');
  });

  it('watt-hours', () => {
    expect(
      fixesOf(
        monthly(
          'ghi_kWh_m2_day',
          GHI.map((day) => 1000 * day),
        ),
      ).at(5),
    ).toBe('it looks like Wh/m² a day (divide by 1000: 5.21)');
    expect(issuesOf(monthly('ghi_kWh_m2_day', GHI))).toEqual([]);
  });

  it('air in Fahrenheit and in kelvins, by a month above the range or by the mean of the year', () => {
    const warm = [50, 52, 58, 64, 70, 75, 78, 77, 72, 66, 58, 52];
    expect(fixesOf(monthly('air_temperature_C', warm))[0]).toBe(
      'it looks like °F (subtract 32 and divide by 1.8: 17.8)',
    );
    expect(
      fixesOf(
        monthly(
          'air_temperature_C',
          warm.map((f) => (f - 32) / 1.8 + 273.15),
        ),
      )[0],
    ).toMatch(/^it looks like K \(subtract 273\.15: 10\)/);
    // Without days of its own: they would add some kelvins to the mean of one year.
    const level = (mean_C: number) =>
      monthly('air_temperature_C', Array<number>(12).fill(mean_C)).replace(
        'weather:',
        'weather:\n  day_to_day_K: 0',
      );
    expect(issuesOf(level(60))).toEqual([]);
    expect(issuesOf(level(60.5))).toHaveLength(12);
    expect(noticesOf(level(35.9))).toEqual([]);
    expect(noticesOf(level(44))).toEqual([
      'weather: the air is 44 °C on the mean of the year, warmer than anywhere on Earth: it looks like °F (subtract 32 and divide by 1.8: 6.67)',
    ]);
  });

  it('a height in feet', () => {
    const high = (elevation_m: number) => changed([/elevation_m: \S+/, `elevation_m: ${elevation_m}`]);
    expect(fixesOf(high(6001))).toEqual(['it looks like feet (multiply by 0.3048: 1830)']);
    expect(readScenario(high(6000), 'x.yaml').scenario.site.elevation_m).toBe(6000);
    // 30,000 feet are above any ground: no other unit is guessed.
    expect(fixesOf(high(30_000))).toEqual(['lower it to 6000 or less']);
  });

  it('an unknown unit is left at the limit', () => {
    expect(fixesOf(changed([/latitude_deg: \S+/, 'latitude_deg: 95']))).toEqual(['lower it to 90 or less']);
  });
});
