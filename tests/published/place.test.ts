/**
 * The table of the whole Earth against stations: typical years of the National Solar Radiation Data Base (TMY3, public
 * domain; one of the open EPW archive), and decades of days of the Dutch weather service. Both lie beside the project.
 */
import { readFileSync } from 'node:fs';
import { prepareYear, scenarioOf } from '@longnight/core';
import { firstGuess, landHeight_m } from '@longnight/core/place';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { judged, normalsThere, TABLE, tableText } from '../../packages/core/docs/place.ts';
import { aboveAir_kWh_m2, guessedSun_kWh_m2_day } from '../../packages/core/src/place/first-guess.ts';
import { dailyYears, PLACES, seriesThere } from '../support/daily-series.ts';

const MODELS = readFileSync(new URL('../../packages/core/docs/models.md', import.meta.url), 'utf8');
const DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

test('light above the air is that of printed tables', () => {
  // Duffie & Beckman, Solar Engineering of Thermal Processes, table 1.10.1 (recalled): MJ/m² a day at the month's mean
  // day, 45° N and the equator.
  const printed: [number, number, number][] = [
    [45, 0, 12.2],
    [45, 5, 41.9],
    [45, 11, 10.2],
    [0, 2, 37.8],
    [-45, 11, 44.7],
  ];
  for (const [latitude, m, MJ] of printed)
    expect(Math.abs((3.6 * aboveAir_kWh_m2(latitude, m)) / MJ - 1)).toBeLessThan(0.04);
  expect(aboveAir_kWh_m2(80, 11)).toBe(0);
});

test('around the world and at the poles a guess is continuous and can be', () => {
  const near = (a: readonly number[], b: readonly number[]) =>
    a.forEach((value, m) => {
      expect(Math.abs(value - b[m]!)).toBeLessThan(0.02);
    });
  for (const latitude of [-60, 0, 35, 66]) {
    near(guessedSun_kWh_m2_day(latitude, 180), guessedSun_kWh_m2_day(latitude, -180));
    near(guessedSun_kWh_m2_day(latitude, 179.999), guessedSun_kWh_m2_day(latitude, -179.999));
  }
  for (const latitude of [-90, 90])
    for (const value of Object.values(firstGuess(latitude, 0, 0)).flat())
      expect(value).toSatisfy(Number.isFinite);
  // Seasons turn at the equator; 1,000 m up is 6.5 K colder.
  expect(firstGuess(-40, 145, 0).ghi_kWh_m2_day[0]).toBeGreaterThan(
    2 * firstGuess(40, 145, 0).ghi_kWh_m2_day[0]!,
  );
  expect(
    firstGuess(10, 40, 0).air_temperature_C[6]! - firstGuess(10, 40, 1000).air_temperature_C[6]!,
  ).toBeCloseTo(6.5, 1);
  expect(landHeight_m(32, 88)).toBeGreaterThan(4000);
  expect(landHeight_m(0, -30)).toBe(0);
});

test('a year can be drawn from it wherever somebody may live', () => {
  const file = new URL('../../data/demo/holds.yaml', import.meta.url);
  const plain = parse(readFileSync(file, 'utf8'));
  const refused: string[] = [];
  for (let latitude = -85; latitude <= 85; latitude += 10)
    for (let longitude = -180; longitude < 180; longitude += 90) {
      const elevation_m = landHeight_m(latitude, longitude);
      const site = {
        ...plain.site,
        latitude_deg: latitude,
        longitude_deg: longitude,
        elevation_m,
        time_zone: zone(longitude),
      };
      const weather = { ...plain.weather, ...firstGuess(latitude, longitude, elevation_m) };
      try {
        prepareYear(scenarioOf({ ...plain, site, weather }), 'x', new Map());
      } catch (error) {
        refused.push(`${latitude}, ${longitude}: ${error}`);
      }
    }
  expect(refused).toEqual([]);
}, 60_000);

/** Etc/GMT-3 is three hours east. */
const zone = (longitude: number): string => {
  const hours = Math.round(longitude / 15);
  return hours === 0 ? 'UTC' : `Etc/GMT${hours > 0 ? '-' : '+'}${Math.abs(hours)}`;
};
describe.skipIf(!normalsThere)('with the published figures beside the project', () => {
  test('the table is what its script makes', () => {
    expect(readFileSync(TABLE, 'utf8').replaceAll('\r\n', '\n')).toBe(tableText());
  });

  test('it strays from 143 stations as the models say, and less with the factor than without', () => {
    const rows = judged();
    for (const { region, months, year } of rows) {
      const all = months.at(-1)!;
      expect(all.with_factor.rms, region).toBeLessThan(all.without.rms);
      expect(year.with_factor.rms).toBeLessThan(6);
    }
    const said = ({ mean, rms }: { mean: number; rms: number }, digits = 0) =>
      `${mean.toFixed(digits)} (${rms.toFixed(digits)})`.replace('-0 ', '0 ').replace('-0.0 ', '0.0 ');
    const table = [
      `| | ${rows.map(({ region, stations }) => `${region}: ${stations}`).join(' | ')} | air, all |`,
      `| --- |${' --- |'.repeat(rows.length + 1)}`,
      ...rows[0]!.months.map(
        ({ month, air_K }, k) =>
          `| ${month} | ${rows.map(({ months }) => `${said(months[k]!.with_factor)}; ${said(months[k]!.without)}`).join(' | ')} | ${said(air_K, 1)} |`,
      ),
      `| years | ${rows.map(({ year }) => `${said(year.with_factor)}; ${said(year.without)}`).join(' | ')} | |`,
    ].join('\n');
    expect(MODELS).toContain(table);
  });
});

describe.skipIf(!seriesThere)('against decades of measured days in the Netherlands', () => {
  test.each(PLACES.filter(({ source }) => source !== PLACES[2].source))(
    '$name: months within 8 %',
    (place) => {
      const { latitude_deg, longitude_deg, years } = dailyYears(place);
      const apart = (hasFactor: boolean) => {
        const guess = guessedSun_kWh_m2_day(latitude_deg, longitude_deg, hasFactor);
        let first = 0;
        return DAYS.map((days, m) => {
          const means = years.map(
            ({ ghi_kWh_m2 }) => ghi_kWh_m2.slice(first, first + days).reduce((a, b) => a + b) / days,
          );
          first += days;
          return guess[m]! / (means.reduce((a, b) => a + b) / means.length) - 1;
        });
      };
      for (const off of apart(true)) expect(Math.abs(off)).toBeLessThan(0.085);
      // What the factor is for: November to January, as the satellites have them.
      for (const m of [10, 11, 0]) expect(apart(false)[m]).toBeGreaterThan(0.08);
    },
  );
});
