/** size over many years: its answer is that of playing every design in every year apart, and counting by hand. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { findings, plantOf, playYear, prepareYear, type Report, readScenario } from '@longnight/core';
import { possibleYears, yearsToTell } from '@longnight/core/study';
import { parse } from 'csv-parse/sync';
import { afterAll, describe, expect, test } from 'vitest';
import { epwRows, inventedSky } from '../support/weather-files.ts';
import { longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const SITE = { name: 'x', latitude_deg: 50, longitude_deg: 10, elevation_m: 200, time_zone: 'Etc/GMT-1' };
/** Invented: the share of the clear sky in each year, one of them dull, one a leap year. */
const SHARES: Readonly<Record<number, number>> = { 2022: 0.6, 2023: 0.25, 2024: 0.4, 2025: 0.5 };
const CALENDAR = Object.keys(SHARES).map(Number);
const texts = CALENDAR.map((year) => epwRows(inventedSky(SITE, 1, year, SHARES[year]!), () => year));
const epw = [...texts[0]!.slice(0, 8), ...texts.flatMap((rows) => rows.slice(8))].join('\n');
writeFileSync(join(folder, 'years.epw'), epw);

const PANELS = [2, 3, 4, 6];
const MODULES = [1, 2, 3];
const [PANEL, MODULE] = [100, 130];
const scenario = (
  panels = 2,
  modules = 1,
  year = 2022,
  weather = 'kind: epw\n  file: years.epw\n  years: own',
) => `
site: { name: x, latitude_deg: 50, longitude_deg: 10, elevation_m: 200, time_zone: Etc/GMT-1 }
weather:
  ${weather}
arrays:
  - name: a
    panels: ${panels}
    panel_kWp: 0.2
    price: ${PANEL}
    tilt_deg: 60
    azimuth_deg: 180
    power_temperature_coefficient_per_K: -0.0035
    mounting: open_rack
    tracker: { max_power_kW: 900, max_charge_A: 90000, efficiency_share: 0.97, price: 0 }
bank:
  chemistry: lfp
  modules_parallel: ${modules}
  price: ${MODULE}
  module: { nominal_voltage_V: 48, capacity_Ah: 30, max_charge_A: 20, max_discharge_A: 40 }
  round_trip_efficiency_share: 0.9
  floor_soc: 0.1
  temperature: { kind: indoors, temperature_C: 20 }
inverter: { rating_kW: 9, surge_kW: 9, idle_W: 0, price: 0, efficiency: { loss_linear: 0.06, loss_quadratic: 0 } }
money: { currency: coins, years: 1, discount_share_per_year: 0 }
loads: [{ kind: daily, name: all, energy_kWh_day: 1.2, shape: flat }]
run: { year: ${year} }
`;
writeFileSync(join(folder, 'x.yaml'), scenario());
const files = new Map([['years.epw', epw]]);
const read = readScenario(scenario(), 'x.yaml');
const drawnMeans = (seeds: number) => {
  const { years } = possibleYears(read, 'x.yaml', files, { seeds });
  return years.map((year) => {
    if (year.kind !== 'drawn') throw new Error('drawn years were asked for');
    const { ghi_kWh_m2_day: ghi, air_temperature_C: air } = year.means!;
    return `kind: monthly_means\n  ghi_kWh_m2_day: [${ghi}]\n  air_temperature_C: [${air}]\n  seed: ${year.seed}`;
  });
};

/** A year on its own: the scenario typed anew. */
function alone(text: string): Report {
  const read = readScenario(text, 'alone.yaml');
  return findings(playYear(prepareYear(read, 'alone.yaml', files), plantOf(read.scenario)));
}
const DRAWN = drawnMeans(3);
const grid = PANELS.flatMap((panels) =>
  MODULES.map((modules) => ({
    panels,
    modules,
    capital: panels * PANEL + modules * MODULE,
    measured: CALENDAR.map((year) => alone(scenario(panels, modules, year))),
    drawn: DRAWN.map((weather) => alone(scenario(panels, modules, 2022, weather))),
  })),
);
type Tried = (typeof grid)[number];
const cheapest = (keeps: (one: Tried) => boolean): Tried | undefined =>
  grid.filter(keeps).sort((a, b) => a.capital - b.capital)[0];

/** Definition 7 of Hyndman & Fan 1996 (recalled). */
function quantile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  const at = (sorted.length - 1) * share;
  const low = sorted[Math.floor(at)]!;
  return low + (sorted[Math.ceil(at)]! - low) * (at - Math.floor(at));
}
const size = (...args: string[]) =>
  longnight(
    [
      'size',
      'x.yaml',
      ...['--vary', `arrays[0].panels=${PANELS}`, '--vary', `bank.modules_parallel=${MODULES}`],
      ...['--least', 'money.capital', ...args],
    ],
    folder,
  );
const answer = (...args: string[]) => JSON.parse(size(...args, '--json').stdout);
const picked = (told: { best: { values: object } | null }) => told.best && Object.values(told.best.values);
const wanted = (one: Tried | undefined) => (one === undefined ? null : [one.panels, one.modules]);

describe('the cheapest of twelve designs', () => {
  test.each([2, 3, 4])('in %i of the four years of the file', (count) => {
    const most = 0.02;
    const held = ({ measured }: Tried) => measured.filter(({ unmet }) => unmet.share! <= most).length;
    const told = answer('--every-year', '--require', `unmet.share<=${most}`, '--in', `${count}`);
    const expected = cheapest((one) => held(one) >= count);
    expect(picked(told)).toEqual(wanted(expected));
    expect(told.holding).toBe(grid.filter((one) => held(one) >= count).length);
    const chosen = told.best ?? told.nearest;
    expect(chosen.years.map((year: { calendar_year: number }) => year.calendar_year)).toEqual(CALENDAR);
    expect(chosen.years_to_tell).toEqual(yearsToTell(chosen.years_held, 4, count));
  });

  test('by a statistic of the years, and jointly with a count of them', () => {
    const energies = (one: Tried) => one.measured.map(({ unmet }) => unmet.energy_kWh);
    const limits = grid.map((one) => quantile(energies(one), 0.75)).sort((a, b) => a - b);
    const limit = Math.ceil(limits[5]!);
    const keeps = (one: Tried) => quantile(energies(one), 0.75) <= limit;
    const told = answer('--every-year', '--require', `unmet.energy_kWh.p75<=${limit}`);
    expect(picked(told)).toEqual(wanted(cheapest(keeps)));
    expect(told.holding).toBe(grid.filter(keeps).length);
    expect(told.holding).toBeLessThan(grid.length);
    expect(told.best.requirements[0].figure).toBeCloseTo(quantile(energies(cheapest(keeps)!), 0.75), 6);
    const outage = (one: Tried) => one.measured.filter(({ unmet }) => unmet.longest_hours <= 48).length >= 3;
    const both = answer(
      ...['--every-year', '--require', `unmet.energy_kWh.p75<=${limit}`],
      ...['--require', 'unmet.longest_hours<=48', '--in', '3'],
    );
    expect(picked(both)).toEqual(wanted(cheapest((one) => keeps(one) && outage(one))));
  });

  test('over years of the file and drawn ones of its means together', () => {
    const shares = (one: Tried) => [...one.measured, ...one.drawn].map(({ unmet }) => unmet.share!);
    const keeps = (one: Tried) => shares(one).filter((share) => share <= 0.03).length >= 5;
    const out = join(folder, 'both');
    const ended = size(
      ...['--every-year', '--seeds', '3', '--require', 'unmet.share<=0.03', '--in', '5', '--out', out],
    );
    const told = JSON.parse(readFileSync(join(out, 'size.json'), 'utf8'));
    expect(picked(told)).toEqual(wanted(cheapest(keeps)));
    expect(told.holding).toBe(grid.filter(keeps).length);
    const rows: Record<string, string>[] = parse(readFileSync(join(out, 'size.csv'), 'utf8'), {
      columns: true,
    });
    expect(rows.length).toBe(7 * grid.length);
    expect(rows.slice(0, 7).map(({ year }) => year)).toEqual([
      ...CALENDAR.map(String),
      ...['drawn year 1', 'drawn year 2', 'drawn year 3'],
    ]);
    grid.forEach((one, k) => {
      const played = rows.slice(7 * k, 7 * k + 7).map((row) => Number(row['unmet.share']));
      for (const [y, share] of shares(one).entries()) expect(played[y]).toBeCloseTo(share, 9);
    });
    const said = ended.stdout.replace(/\s+/g, ' ');
    expect(said).toContain('Years of the weather file: 2022 to 2025. Drawn years 1 to 3.');
    expect(said).toContain('monthly means of global light and air temperature of years.epw, over 4 years');
    expect(said).toContain('weather.daily_swing_K 8');
  });
});

test.each([
  [['--require', 'unmet.share.p95<=0.1'], /is over many years, and one is played|"p95" is over many years/],
  [
    ['--require', 'unmet.share.p95<=0.1', '--every-year', '--in', '3'],
    /every requirement is over all of them/,
  ],
  [['--require', 'unmet.share<=0.1', '--every-year', '--in', '5'], /5 years are asked for, and there are 4/],
])('%j is refused', (args, message) => {
  expect(size(...args)).toMatchObject({ status: 2, stdout: '', stderr: expect.stringMatching(message) });
});
